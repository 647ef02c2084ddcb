"""File report: everything in a session on paper, for those who rely on it later."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cornerwalk.assess.assessment import Assessment
from cornerwalk.report import result_blocks
from cornerwalk.report.document import Block, Bullets, Document, Heading, Paragraph, Table
from cornerwalk.session import RecordedEvent
from cornerwalk.session.checklist import Checklists
from cornerwalk.session.facts import FACTS
from cornerwalk.session.model import Note, Session
from cornerwalk.wording.answers import answer_texts
from cornerwalk.wording.events import history
from cornerwalk.wording.facts import as_stated, fact_name, place_as_stated, understood
from cornerwalk.wording.figures import Wording
from cornerwalk.wording.names import air_place, corner_name, job_name, joint_name, stage_title, weighing_name
from cornerwalk.words import tr


def file_report(
    events: Sequence[RecordedEvent],
    session: Session,
    assessment: Assessment,
    wording: Wording,
    checklists: Checklists | None = None,
) -> Document:
    """All readings as entered, results, checks with sources, budget, and the history with its corrections.

    `session` is the fold of `events`, `assessment` is of that session: both are handed in so that they are made once.
    """
    return Document(
        title=session.job.title or tr("Untitled job"),
        subtitle=tr("{kind}, opened {date}", kind=job_name(session.job.kind), date=session.opened_at),
        blocks=(
            *result_blocks.overall(assessment),
            *result_blocks.findings(assessment, wording),
            *_facts(session, wording),
            *result_blocks.heights(session, assessment, wording),
            *result_blocks.stage_results(session, assessment, wording),
            *_weighings(session, wording),
            *result_blocks.loads(assessment, wording),
            *result_blocks.air(assessment, wording),
            *result_blocks.checks(assessment, wording),
            *result_blocks.uncertainty(assessment, wording),
            *_work(session, checklists),
            *_history(events),
        ),
        footer=tr(
            "Session {session}, written with cornerwalk {program}.",
            session=session.id,
            program=session.program or tr("not known"),
        ),
        dated=session.last_at,
    )


def _facts(session: Session, wording: Wording) -> Iterator[Block]:
    """Every fact stated, as typed and as understood."""
    yield Heading(tr("As entered"))
    stated = [fact for name, fact in FACTS.items() if name in session.entered]
    if not stated:
        yield Paragraph(tr("Nothing was entered for the job, the vehicle or the kit."))
        return
    rows = tuple(
        (
            fact_name(fact.name),
            _as_typed(session, fact.name),
            understood(fact, getattr(getattr(session, fact.part), fact.attribute), wording),
        )
        for fact in stated
    )
    yield Table((tr("fact"), tr("as typed"), tr("understood")), rows)
    if session.loads:
        yield Table(
            (tr("load"), tr("as typed"), tr("understood"), tr("place")),
            tuple(
                (
                    load.name,
                    session.entered.get(f"load.{load.name}.weight", ""),
                    wording.weight(load.weight_N),
                    place_as_stated(session.entered.get(f"load.{load.name}.place", "")),
                )
                for load in session.loads
            ),
        )


def _as_typed(session: Session, name: str) -> str:
    """The text of a fact; where nobody typed it, also its basis."""
    text, basis = as_stated(name, session.entered[name]), session.basis.get(name)
    return tr("{told} ({basis})", told=text, basis=basis) if basis else text


def _weighings(session: Session, wording: Wording) -> Iterator[Block]:
    """Scale tickets, as typed and as understood."""
    if not session.weighings:
        return
    yield Heading(tr("Scale tickets"))
    rows = []
    for weighing, weights in session.weighings.items():
        for where, force_N in (("front", weights.front_N), ("rear", weights.rear_N), ("trailer", weights.trailer_N)):
            if force_N is not None:
                typed = session.entered.get(f"weighing.{weighing}.{where}", "")
                rows.append((weighing_name(weighing), air_place(where), typed, wording.weight(force_N)))
    yield Table((tr("weighing"), tr("axle"), tr("as typed"), tr("understood")), tuple(rows))


def _work(session: Session, checklists: Checklists | None) -> Iterator[Block]:
    """Answers, torques, joints and notes."""
    answers = answer_texts(session, checklists)
    if answers:
        yield Heading(tr("Questions and answers"))
        rows = tuple((a.question, ("! " if a.matters else "") + a.answer, a.stage) for a in answers)
        note = tr("An exclamation mark: not the answer you want.")
        yield Table((tr("question"), tr("answer"), tr("at")), rows, note)
    if session.torques:
        yield Heading(tr("Torque"))
        torques = tuple(
            (joint_name(t.joint), t.specified_entered, t.source, t.reached_entered) for t in session.torques
        )
        yield Table((tr("joint"), tr("spec"), tr("by"), tr("reached")), torques)
    if session.joints:
        yield Heading(tr("Soap test"))
        joints = tuple(
            (joint_name(j.joint), tr("bubbles") if j.bubbles else tr("no bubbles"), j.note) for j in session.joints
        )
        yield Table((tr("joint"), tr("seen"), tr("note")), joints)
    if session.notes:
        yield Heading(tr("Notes"))
        yield Bullets(tuple(_note(note) for note in session.notes))


def _note(note: Note) -> str:
    places = [corner_name(note.corner)] if note.corner else []
    places += [stage_title(note.stage)] if note.stage else []
    return f"{note.text} ({', '.join(places)})" if places else note.text


def _history(events: Sequence[RecordedEvent]) -> Iterator[Block]:
    """The history: who entered what and when, what was taken back, and the chain at the end."""
    yield Heading(tr("History"))
    rows = tuple(
        (str(step.seq), step.at, step.by, step.text if step.counts else tr("({text})", text=step.text))
        for step in history(events)
    )
    note = tr("In brackets: undone entries, and the undo. Nothing is erased.")
    yield Table((tr("no."), tr("when"), tr("by"), tr("what")), rows, note)
    if events:
        yield Paragraph(
            tr(
                "Chain of the last event: {chain}. It shows accidental or casual change; it is no proof against "
                "somebody who recomputes it.",
                chain=events[-1].chain,
            )
        )
