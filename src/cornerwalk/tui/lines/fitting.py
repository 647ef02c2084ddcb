"""The fitting as lines: the work in its order with each caution at its step, the torques, and when to check again."""

from __future__ import annotations

from cornerwalk.tui.job import OpenJob
from cornerwalk.tui.lines.checks import check_lines
from cornerwalk.tui.lines.facts import fact_lines
from cornerwalk.tui.lines.line import Line
from cornerwalk.tui.lines.torques import torque_lines
from cornerwalk.words import tr


def fitting_lines(job: OpenJob) -> tuple[Line, ...]:
    """The work first, then how tight it was made."""
    again = fact_lines(job, ("service.retorque_distance",), tr("Checked again"))
    return (*check_lines(job, "fitting"), *torque_lines(job), *again)
