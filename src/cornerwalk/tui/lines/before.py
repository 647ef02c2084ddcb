"""Before anything is changed, as lines: what is found on the vehicle, and what its height touches."""

from __future__ import annotations

from cornerwalk.session.chapters import BEFORE_LISTS
from cornerwalk.tui.job import OpenJob
from cornerwalk.tui.lines.checks import check_lines, refused_lists
from cornerwalk.tui.lines.line import Line
from cornerwalk.tui.widgets.prose import Paragraph
from cornerwalk.wording.findings import finding_text
from cornerwalk.wording.names import level_word
from cornerwalk.words import tr


def before_lines(job: OpenJob) -> tuple[Line, ...]:
    """Both lists, what can end the job before what is only good to know."""
    touches, found = (check_lines(job, list_id) for list_id in reversed(BEFORE_LISTS))
    return (*touches, *found)


def stops_told(job: OpenJob) -> tuple[Paragraph, ...]:
    """Every STOP that stands, and what to do about it."""
    words = (finding_text(stop, job.wording) for stop in job.assessment.stops)
    return tuple(
        Paragraph(f"{text.heading}. {text.action}", level_word("stop"), "caution", "caution") for text in words
    )


def stops_panel(job: OpenJob) -> tuple[Paragraph, ...]:
    """Every STOP that stands, and shop lists that could not be read."""
    told = list(stops_told(job))
    told += [Paragraph(text, tr("List"), "caution") for text in refused_lists(job)]
    return tuple(told)
