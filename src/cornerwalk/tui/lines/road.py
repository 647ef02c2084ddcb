"""The road test as lines: the heights after it, what is looked for, and the unloaded vehicle with air in."""

from __future__ import annotations

from cornerwalk.assess.compare import moved, to_compare_with
from cornerwalk.session.model import StageKey
from cornerwalk.tui.job import OpenJob
from cornerwalk.tui.lines.air_in import stage_line
from cornerwalk.tui.lines.checks import check_lines
from cornerwalk.tui.lines.line import Line
from cornerwalk.tui.moved_words import moved_paragraphs
from cornerwalk.tui.widgets.prose import Paragraph
from cornerwalk.words import tr


def road_lines(job: OpenJob) -> tuple[Line, ...]:
    """First the heights, then what the road has done, then the empty vehicle."""
    heights = tr("Heights again")
    after = stage_line(
        job,
        "road-test",
        name_in_list=tr("after the road test"),
        group=heights,
        costs=tr("Left out: nobody knows whether it settled on the road."),
    )
    empty = stage_line(
        job,
        "fitted-unloaded",
        name_in_list=tr("fitted, unloaded"),
        group=tr("The empty vehicle, air in"),
        costs=tr("Left out: nobody knows how high it stands empty, with air in."),
    )
    return (after, *check_lines(job, "road"), empty)


def road_panel(job: OpenJob) -> tuple[Paragraph, ...]:
    """What moved on the road."""
    return what_moved(job, ("road-test", 1))


def what_moved(job: OpenJob, key: StageKey) -> tuple[Paragraph, ...]:
    """How the body stands at a stage against the one before it that compares; nothing until it is read."""
    end, start = job.assessment.stage(key), to_compare_with(job.assessment, key)
    if end is None or start is None or end.rear_mm is None:
        return ()
    return moved_paragraphs(moved(start, end, job.session.vehicle.wheelbase_mm), job.wording)
