"""The follow-up as lines: why the job is taken up again, the heights once more, and what they are held against."""

from __future__ import annotations

from cornerwalk.session.walk import reopen
from cornerwalk.tui.answers.say_back import Refusal, SayBack, refusal
from cornerwalk.tui.job import OpenJob
from cornerwalk.tui.lines.air_in import stage_line
from cornerwalk.tui.lines.line import Line, Part, Texts, one
from cornerwalk.tui.lines.road import what_moved
from cornerwalk.tui.widgets.prose import Paragraph
from cornerwalk.words import tr


def follow_up_lines(job: OpenJob) -> tuple[Line, ...]:
    """Before the handover nothing; after it the reason; once it is open the heights."""
    session = job.session
    if not session.handovers:
        question = tr("First the handover. A follow-up comes after it, days or months later.")
        return (Line(id="wait", name=tr("not yet"), group=_group(), part=one(Part(question=question))),)
    if not session.open:
        return (_reopening(job),)
    heights = stage_line(
        job,
        "follow-up",
        name_in_list=tr("as it came back"),
        group=_group(),
        costs=tr("Left out: nobody can tell what changed since the handover."),
    )
    return (heights,)


def _group() -> str:
    return tr("When it comes back")


def _reopening(job: OpenJob) -> Line:
    def keeps(texts: Texts) -> SayBack:
        try:
            return SayBack(would=reopen(job.session, texts[0]))
        except Refusal as error:
            return refusal(error)

    told = (tr("Nothing that was handed over changes; what is read now is a stage of its own."),)
    hint = tr("for example sags again; the yearly check")
    return Line(
        id="reopen",
        name=tr("take it up again"),
        group=_group(),
        part=one(Part(question=tr("Why is the job taken up again?"), hint=hint, told=told)),
        keeps=keeps,
    )


def follow_up_panel(job: OpenJob) -> tuple[Paragraph, ...]:
    """What moved since the handover, and what stood on the sheet then."""
    found = [stage.key for stage in job.session.stages if stage.name == "follow-up"]
    told = list(what_moved(job, found[-1])) if found else []
    for handover in job.session.handovers[-1:]:
        text = tr("{date} by {by}; its figures stay as they were.", date=handover.at[:10], by=handover.by)
        told.append(Paragraph(text, tr("Handed over")))
    return tuple(told)
