"""Customer's sheet: one page to keep: what was done, before and now, pressure, aim, cautions, what is unchecked."""

from __future__ import annotations

from collections.abc import Iterator

from cornerwalk.assess.assessment import Assessment, StageResult
from cornerwalk.report.document import (
    Alert,
    Blanks,
    Block,
    Bullets,
    Code,
    Document,
    Facts,
    Heading,
    Paragraph,
    Pictures,
    Table,
)
from cornerwalk.report.drawing import side_drawings
from cornerwalk.report.qr import key_figures
from cornerwalk.report.result_blocks import pressure_table
from cornerwalk.session.checklist import Checklists
from cornerwalk.session.model import Session
from cornerwalk.wording.answers import answer_texts
from cornerwalk.wording.checks import unchecked_names
from cornerwalk.wording.facts import choice_label
from cornerwalk.wording.figures import Wording, graduation_label
from cornerwalk.wording.findings import FOR_THE_TECHNICIAN, finding_text
from cornerwalk.wording.names import job_name, overall_sentence
from cornerwalk.wording.results import (
    air_sentences,
    before_and_now,
    body_rows,
    lamp_rows,
    leak_sentence,
    stage_heads,
)
from cornerwalk.words import tr


def customer_sheet(
    session: Session, assessment: Assessment, wording: Wording, checklists: Checklists | None = None
) -> Document:
    """The page that goes with the vehicle."""
    return Document(
        title=tr("Your vehicle's heights, before and now"),
        subtitle=" · ".join(part for part in _subtitle_parts(session) if part),
        blocks=tuple(_blocks(session, assessment, wording, checklists)),
        footer=_footer(session, assessment),
        dated=session.last_at,
        code=Code(key_figures(session, assessment, wording), tr("The key figures, for a telephone")),
        one_page=True,
    )


def _subtitle_parts(session: Session) -> tuple[str, ...]:
    job, vehicle = session.job, session.vehicle
    date = (job.date or session.opened_at)[:10]
    return (job.customer, vehicle.description, vehicle.registration, job.title, date)


def _blocks(
    session: Session, assessment: Assessment, wording: Wording, checklists: Checklists | None
) -> Iterator[Block]:
    stages = before_and_now(assessment)
    yield Facts(tuple(_work_rows(session, assessment)))
    yield from _stops_and_cautions(assessment, wording, "stop")
    yield from _comparison(session, assessment, stages, wording)
    yield from _pressure(session, assessment, wording)
    yield from _stops_and_cautions(assessment, wording, "caution")
    yield from _notes(assessment, wording)
    yield from _problems_left(session, checklists)
    yield from _not_checked(assessment)
    yield Heading(tr("Keep in mind"))
    yield Bullets(tuple(_reminders(session, wording)))
    if not session.handovers:
        yield Blanks((tr("Handed over to, date"), tr("Signed")))


def _work_rows(session: Session, assessment: Assessment) -> Iterator[tuple[str, str]]:
    kit = session.kit
    what = job_name(session.job.kind)
    yield tr("What was done"), f"{what}: {kit.name}" if kit.name else what
    if session.job.complaint:
        yield tr("Asked for"), session.job.complaint
    yield tr("Checks"), overall_sentence(assessment.overall)
    for handover in session.handovers:
        to = handover.to or tr("no name")
        yield tr("Handed over"), tr("{date} to {name} by {by}", date=handover.at[:10], name=to, by=handover.by)


def _stops_and_cautions(assessment: Assessment, wording: Wording, level: str) -> Iterator[Block]:
    for finding in assessment.findings:
        if finding.level == level:
            text = finding_text(finding, wording)
            yield Alert(finding.level, text.level_word, text.heading, (text.text,), text.action)


def _notes(assessment: Assessment, wording: Wording) -> Iterator[Block]:
    notes = [f for f in assessment.findings if f.level == "note" and f.code not in FOR_THE_TECHNICIAN]
    if notes:
        yield Bullets(tuple(finding_text(note, wording).text for note in notes))


def _comparison(
    session: Session, assessment: Assessment, stages: tuple[StageResult, ...], wording: Wording
) -> Iterator[Block]:
    yield Heading(tr("Against the unloaded vehicle"))
    if not stages:
        yield Paragraph(tr("No heights to compare yet."))
        return
    drawings = side_drawings(session, assessment, stages, wording)
    if drawings:
        yield Pictures(drawings)
    rows = (*body_rows(stages, wording), *lamp_rows(stages, assessment, wording))
    yield Table(stage_heads(stages, wording), rows)


def _pressure(session: Session, assessment: Assessment, wording: Wording) -> Iterator[Block]:
    if not assessment.air and not session.trials:
        return
    yield Heading(tr("Air pressure"))
    if assessment.stops:
        yield Paragraph(tr("No pressure is given while a STOP stands: see above."))
        return
    for air in assessment.air:
        yield Paragraph(" ".join(air_sentences(air, wording)))
    kit = session.kit
    limits = tr(
        "Never below {minimum}, never over {maximum}, by the kit's sheet.",
        minimum=wording.pressure(kit.min_kPa),
        maximum=wording.pressure(kit.max_kPa),
    )
    yield Paragraph(f"{limits} " + tr("Set it with the load on, on level ground, tyres cold."))
    if assessment.pressure_table:
        yield pressure_table(assessment.pressure_table, wording)
    for leak in assessment.leak:
        yield Paragraph(leak_sentence(leak, wording))


def _problems_left(session: Session, checklists: Checklists | None) -> Iterator[Block]:
    answers = [answer for answer in answer_texts(session, checklists) if answer.matters]
    if answers:
        yield Heading(tr("Found and left"))
        yield Bullets(tuple(f"{answer.question} {answer.answer}" for answer in answers))


def _not_checked(assessment: Assessment) -> Iterator[Block]:
    yield Heading(tr("Not checked"))
    if not assessment.not_checked:
        yield Paragraph(tr("Nothing that was asked for was left out."))
        return
    yield Paragraph("; ".join(unchecked_names(assessment)) + ".")


def _reminders(session: Session, wording: Wording) -> Iterator[str]:
    if session.job.kind != "load check":
        yield tr("Check the pressure every week and before every trip, cold.")
        if session.kit.min_kPa is not None:
            minimum = wording.pressure(session.kit.min_kPa)
            yield tr("With the load off, let air out to {minimum}. Never drive without air in.", minimum=minimum)
        else:
            yield tr("With the load off, let air out to the kit's minimum. Never drive without air in.")
    if session.vehicle.levelling == "manual":
        yield tr("Set the headlamp leveller by its own table whenever the load changes.")
    yield tr("A level body is not a safe load: the ratings on the door label hold as before.")


def _footer(session: Session, assessment: Assessment) -> str:
    return tr(
        "± is the expanded uncertainty U = 2u (k = 2, about 95 %). Heights: {datum}, tape marks {marks}. "
        "Figures without ± are as stated, or follow from stated loads alone. "
        "Session {session}, made with cornerwalk {program}.",
        datum=choice_label("job.datum", session.job.datum),
        marks=graduation_label(assessment.reading.graduation_mm),
        session=session.id,
        program=session.program or tr("not known"),
    )
