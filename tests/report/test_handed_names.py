"""Names of figures handed over, read as words."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from cornerwalk.report.handover import handed_name, handed_over_figures
from tests.support import jobs


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("overall", "overall verdict"),
        ("screen_mm", "wall distance, mm"),
        ("ride_rate_N_per_mm", "rear ride rate, N/mm"),
        ("kit.max_kPa", "kit maximum pressure, kPa"),
        ("axles.rear_gain_N", "rear axle, load gained, N"),
        ("stage.loaded.1.u_front_mm", "loaded, no air: front, moved, standard uncertainty, mm"),
        ("stage.fitted.2.nose_up_deg", "installed, trial 2: pitch, °"),
        ("air.LR.recommended_kPa", "left rear: pressure recommended, kPa"),
        ("table.1824_N.recommended_kPa", "table of loads, 1824 N: pressure recommended, kPa"),
        ("leak.both.u_loss_kPa", "both bags: pressure lost, standard uncertainty, kPa"),
        ("not checked", "not checked"),
        ("stage.nowhere.1.rear_mm", "stage.nowhere.1.rear_mm"),
        ("stage.fitted.x.rear_mm", "stage.fitted.x.rear_mm"),
        ("stage.fitted.1.height_mm", "stage.fitted.1.height_mm"),
        ("u_later_mm", "u_later_mm"),
        ("\x1b[31m", "\\u001b[31m"),
    ],
)
def test_names_of_figures(name: str, words: str) -> None:
    """Read as words, the unit last; a name that is none of ours is shown as it is, without acting on the screen."""
    assert handed_name(name) == words


@pytest.mark.parametrize("job", [jobs.worked_case, jobs.separate_lines, jobs.half_done], ids=lambda job: job.__name__)
def test_every_figure_has_a_name(job: Callable[[], jobs.InventedJob]) -> None:
    """None that this program hands over is shown as the file has it."""
    made = job()
    names = handed_over_figures(made.session, made.assessment)
    assert [
        name for name in names if handed_name(name) == name and name not in ("rule", "findings", "not checked")
    ] == []
