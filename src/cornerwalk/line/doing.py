"""What the words do that take back, read, note and state; `going` has those that lead elsewhere."""

from __future__ import annotations

from dataclasses import replace

from cornerwalk.line import chapters
from cornerwalk.line.air import PressureAsked, air_at, first_line
from cornerwalk.line.facts import (
    FactAsked,
    LoadAsked,
    facts_of,
    intake_facts,
    load_removed,
    named,
    stated,
)
from cornerwalk.line.facts import intake as first_fact
from cornerwalk.line.heights import HeightAsked, ReasonAsked, skipped, standing
from cornerwalk.line.job import OpenJob
from cornerwalk.line.lists import CheckAsked
from cornerwalk.line.reply import Question, Refusal, Reply, Typed, refused, told
from cornerwalk.line.work import TorqueAsked, WeighAsked
from cornerwalk.session import walk
from cornerwalk.session.conditions import read_mark, set_leveller
from cornerwalk.session.events import ReadingMode, Undone
from cornerwalk.session.facts import FACTS
from cornerwalk.session.log import redoable, undoable
from cornerwalk.session.model import StageKey
from cornerwalk.session.stages import CORNERS, Corner
from cornerwalk.session.statements import SEPARATOR
from cornerwalk.wording.events import event_words
from cornerwalk.wording.facts import as_stated, fact_name
from cornerwalk.wording.names import corner_name, stage_title
from cornerwalk.words import tr

# ---- taking back ----


def undo(at: Typed) -> Reply:
    """Take back what was recorded last, and ask for it again."""
    event = undoable(at.job.events)
    if event is None:
        return Reply(said=(tr("Nothing can be taken back."),), refused=True)
    what = event.payload
    return Reply(
        events=walk.undo(at.job.events),
        kept=tr("TAKEN BACK: {what}.", what=event_words(what)),
        follows=lambda now: chapters.question_for(now, what),
    )


def redo(at: Typed) -> Reply:
    """Bring back what the last undo took."""
    event = redoable(at.job.events)
    if event is None or not isinstance(event.payload, Undone):
        return Reply(said=(tr("Nothing was taken back last."),), refused=True)
    undone = event.payload.undoes
    what = next(each.payload for each in at.job.events if each.seq == undone)
    return Reply(
        events=walk.redo(at.job.events),
        kept=tr("BROUGHT BACK: {what}.", what=event_words(what)),
        follows=lambda now: chapters.after(now, what),
    )


# ---- corners ----


def again(at: Typed) -> Reply:
    """Read a corner again, in place of what stands."""
    return _reading(at.job, at.question, at.rest, "instead")


def repeat(at: Typed) -> Reply:
    """Read a corner once more, to be averaged."""
    return _reading(at.job, at.question, at.rest, "repeat")


def _reading(job: OpenJob, question: Question, rest: str, how: ReadingMode) -> Reply:
    found = _corner(job, question, rest) if rest else _last_read(job)
    if found is None:
        said = tr("Say which corner: {corners}", corners=", ".join(CORNERS)) if rest else tr("Nothing is read yet.")
        return Reply(said=(said,), refused=True)
    stage, corner = found
    return Reply(then=HeightAsked(stage, corner, how if standing(job.session, stage, corner) else "first"))


def _corner(job: OpenJob, question: Question, text: str) -> tuple[StageKey, Corner] | None:
    """A corner by its letters or its name, in the stage in hand unless one is named after it."""
    folded = text.casefold()
    called: dict[str, Corner] = {}
    for corner in CORNERS:
        called |= {corner.casefold(): corner, corner_name(corner).casefold(): corner}
    name = next((c for c in sorted(called, key=len, reverse=True) if folded == c or folded.startswith(f"{c} ")), None)
    if name is None:
        return None
    stage = _stage_named(job, folded[len(name) :].strip(" ,")) if len(folded) > len(name) else _in_hand(job, question)
    return None if stage is None else (stage, called[name])


def _stage_named(job: OpenJob, folded: str) -> StageKey | None:
    for stage in job.session.stages:
        if folded in (stage.name, f"{stage.name} {stage.number}", stage_title(stage.key).casefold()):
            return stage.key
    return None


def _in_hand(job: OpenJob, question: Question) -> StageKey:
    if isinstance(question, HeightAsked | ReasonAsked):
        return question.stage
    current = job.session.current_stage
    return current.key if current is not None else ("unloaded", 1)


def _last_read(job: OpenJob) -> tuple[StageKey, Corner] | None:
    taken = [
        (reading.seq, stage.key, corner)
        for stage in job.session.stages
        for corner, record in stage.corners.items()
        for reading in record.readings
    ]
    return max(taken, key=lambda each: each[0])[1:] if taken else None


def skip(at: Typed) -> Reply:
    """Skip a corner with its reason; any other question is left out as Enter leaves it out."""
    match at.question:
        case HeightAsked(stage=stage, corner=corner):
            return skipped(at.job, stage, corner, at.rest) if at.rest else Reply(then=ReasonAsked(stage, corner))
        case CheckAsked():
            return at.question.answer(at.job, f"- {at.rest}".strip())
        case FactAsked() | LoadAsked() | TorqueAsked() | WeighAsked():
            return at.question.answer(at.job, "")
        case _:
            return Reply(said=(tr("There is nothing to skip here."),), refused=True)


# ---- notes and pressures ----


def note(at: Typed) -> Reply:
    """Keep a note about the corner or the stage in hand."""
    corner = at.question.corner if isinstance(at.question, HeightAsked) else None
    try:
        events = walk.write_note(at.job.session, at.rest, stage=_in_hand(at.job, at.question), corner=corner)
    except Refusal as error:
        return refused(error)
    return Reply(events=events, kept=tr("NOTE: {text}.", text=at.rest.rstrip(".")), then=at.question)


def pressure(at: Typed) -> Reply:
    """State the pressure of the stage in hand, or begin the one that is due with it."""
    asked = _pressure_asked(at)
    if asked is None:
        return Reply(said=(tr("No air is in play at this stage."),), refused=True)
    if not at.rest:
        return Reply(then=asked)
    left, parted, right = at.rest.partition(SEPARATOR)
    separate = at.job.session.kit.lines == "separate"
    if separate != bool(parted):
        wanted = tr("Left and right have a line each: pressure 25; 30") if separate else tr("One pressure: pressure 25")
        return Reply(said=(wanted,), refused=True)
    air = walk.PressureInput(left=left.strip(), right=right.strip()) if separate else walk.PressureInput(both=at.rest)
    return air_at(at.job, asked, air)


def _pressure_asked(at: Typed) -> PressureAsked | None:
    """The question for a pressure that is due now, or that of the stage begun last."""
    line = first_line(at.job.session)
    if isinstance(at.question, PressureAsked):
        return replace(at.question, line=line, left="")
    stage = chapters.air_stage(at.job.session)
    return None if stage is None else PressureAsked(stage, line, begun=True)


# ---- lamps ----


def mark(at: Typed) -> Reply:
    """The mark on the wall at the stage in hand."""
    stage = _in_hand(at.job, at.question)
    try:
        what = read_mark(at.job.session, stage, at.rest)
    except Refusal as error:
        return refused(error)
    return Reply(events=(what,), kept=f"{event_words(what)}.", then=at.question)


def leveller(at: Typed) -> Reply:
    """The dial of a manual leveller at the stage in hand."""
    try:
        what = set_leveller(_in_hand(at.job, at.question), at.rest)
    except Refusal as error:
        return refused(error)
    return Reply(events=(what,), kept=f"{event_words(what)}.", then=at.question)


# ---- facts and loads ----


def fact(at: Typed) -> Reply:
    """State one fact; without one, list what is stated."""
    if not at.rest:
        listed = tuple(
            f"{fact_name(name)}: {as_stated(name, at.job.session.entered[name])}"
            for name in FACTS
            if name in at.job.session.entered
        )
        return told(*(listed or (tr("Nothing is stated yet."),)))
    found = named(at.rest)
    if found is None:
        return Reply(said=(tr("There is no fact of that name; intake asks for all of them."),), refused=True)
    name, value = found
    if not value:
        return Reply(then=FactAsked((name,), 0, again=True))
    reply = stated(at.job, name, value)
    return reply if reply.refused else Reply(events=reply.events, kept=reply.kept, then=at.question)


def intake(at: Typed) -> Reply:
    """The facts one by one, all that are not stated yet, or those of one part."""
    if not at.rest:
        return Reply(then=first_fact(at.job.session))
    names = facts_of(at.rest.casefold())
    if not names:
        parts = ", ".join(dict.fromkeys(FACTS[name].part for name in intake_facts(at.job.session)))
        return Reply(said=(tr("One of: {parts}", parts=parts),), refused=True)
    return Reply(then=FactAsked(names, 0, again=True))


def load(at: Typed) -> Reply:
    """State a load."""
    return Reply(then=LoadAsked(name=at.rest))


def unload(at: Typed) -> Reply:
    """Take a load off the list."""
    return load_removed(at.job, at.rest)
