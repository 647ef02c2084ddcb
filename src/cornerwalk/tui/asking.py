"""What the walk asks now. The session says what is due; the user may ask for something else instead.

Each kind of question is one small record; `answering` reads a typed answer against it. Nothing here knows a screen.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from cornerwalk.session.events import How
from cornerwalk.session.model import Session, StageKey
from cornerwalk.session.stages import AIR_STAGES, Corner, StageName, stages_on_offer
from cornerwalk.session.walk import AskedDone, BeginStage, ReadCorner, due, next_number


@dataclass(frozen=True, slots=True)
class HeightAsked:
    """The height at a corner; `how` is what a reading does to one that stands there already."""

    stage: StageKey
    corner: Corner
    how: How = "first"


@dataclass(frozen=True, slots=True)
class StageAsked:
    """Bring the vehicle into the state of a stage; Enter says that it is."""

    stage: StageKey


@dataclass(frozen=True, slots=True)
class PressureAsked:
    """The pressure a stage begins with. With separate lines the left comes first, then the right."""

    stage: StageKey
    line: Literal["both", "left", "right"]
    left: str = ""
    optional: bool = False
    """Everything due is done; another stage may begin, but Enter alone leads to the results."""
    begun: bool = False
    """The stage is begun already; its pressure is stated late, or corrected."""


@dataclass(frozen=True, slots=True)
class NothingDue:
    """Every stage of this kind of job is read, and no pressure is in play."""

    last: StageKey


@dataclass(frozen=True, slots=True)
class StageChoiceAsked:
    """Which stage comes next, by its number in the list; `restate` is a stage whose pressure may be stated instead."""

    stages: tuple[StageName, ...]
    restate: StageKey | None = None


@dataclass(frozen=True, slots=True)
class SeveralAsked:
    """Several readings pasted at once, laid out over the corners for a look before they are kept."""

    stage: StageKey
    readings: tuple[tuple[Corner, str], ...]


@dataclass(frozen=True, slots=True)
class ReasonAsked:
    """Why a corner is skipped."""

    stage: StageKey
    corner: Corner


@dataclass(frozen=True, slots=True)
class NoteAsked:
    """A note, about the corner in hand or the job."""

    stage: StageKey | None
    corner: Corner | None


@dataclass(frozen=True, slots=True)
class HandedOver:
    """Nothing: the job is closed."""


Asked = (
    HeightAsked
    | StageAsked
    | PressureAsked
    | NothingDue
    | StageChoiceAsked
    | SeveralAsked
    | ReasonAsked
    | NoteAsked
    | HandedOver
)


def asked_by(session: Session) -> Asked:
    """What the session itself asks for."""
    match due(session):
        case ReadCorner(stage=stage, corner=corner):
            return HeightAsked(stage, corner)
        case BeginStage(stage=stage):
            return beginning(session, stage)
        case AskedDone(last=last):
            if session.job.kind == "load check":
                return NothingDue(last)
            return PressureAsked(("fitted", next_number(session, "fitted")), first_line(session), optional=True)
        case _:
            return HandedOver()


def beginning(session: Session, stage: StageKey) -> Asked:
    """The question a stage begins with."""
    if stage[0] in AIR_STAGES:
        return PressureAsked(stage, first_line(session))
    return StageAsked(stage)


def first_line(session: Session) -> Literal["both", "left"]:
    """Which pressure is asked first."""
    return "left" if session.kit.lines == "separate" else "both"


def reading_of(session: Session, stage: StageKey, corner: Corner, *, average: bool = False) -> HeightAsked:
    """The question for a corner, whether or not it has a reading."""
    record = session.stage(stage)
    if record is None or not record.corner(corner).readings:
        return HeightAsked(stage, corner)
    return HeightAsked(stage, corner, "repeat" if average else "instead")


def in_hand(session: Session, asked: Asked) -> StageKey:
    """The stage that the question belongs to, or the one last begun."""
    if isinstance(asked, HeightAsked | ReasonAsked | SeveralAsked):
        return asked.stage
    current = session.current
    return current.key if current is not None else ("unloaded", 1)


def corner_in_hand(asked: Asked) -> Corner | None:
    """The corner that is asked about."""
    return asked.corner if isinstance(asked, HeightAsked | ReasonAsked | NoteAsked) else None


def next_corner(session: Session, asked: Asked, step: Literal[1, -1]) -> HeightAsked:
    """The corner after (or before) the one in hand, in walking order; from any other question the last stage's."""
    stage = in_hand(session, asked)
    order = session.job.order
    corner = corner_in_hand(asked)
    if corner is None:
        return reading_of(session, stage, order[0 if step == 1 else -1])
    return reading_of(session, stage, order[(order.index(corner) + step) % len(order)])


def next_stage(session: Session, asked: Asked, step: Literal[1, -1]) -> HeightAsked | None:
    """The same corner one stage later (or earlier); None where there is none."""
    keys = [stage.key for stage in session.stages]
    here = in_hand(session, asked)
    at = keys.index(here) if here in keys else len(keys)
    if isinstance(asked, HeightAsked | ReasonAsked):
        at += step
    else:
        at = len(keys) - 1 if step == -1 else len(keys)
    if not 0 <= at < len(keys):
        return None
    return reading_of(session, keys[at], corner_in_hand(asked) or session.job.order[0])


def last_read(session: Session) -> tuple[StageKey, Corner] | None:
    """Where the latest reading that counts was taken."""
    taken = [
        (reading.seq, stage.key, corner)
        for stage in session.stages
        for corner, record in stage.corners.items()
        for reading in record.readings
    ]
    if not taken:
        return None
    _, key, corner = max(taken, key=lambda reading: reading[0])
    return key, corner


def stage_choice(session: Session) -> StageChoiceAsked:
    """Every stage that makes sense in this kind of job."""
    current = session.current
    with_air = current is not None and current.name in AIR_STAGES
    return StageChoiceAsked(stages_on_offer(session.job.kind), current.key if current and with_air else None)


def several(session: Session, asked: HeightAsked, texts: Sequence[str]) -> SeveralAsked:
    """Pasted texts laid out in walking order from the corner in hand; those beyond the last corner have none."""
    order = session.job.order
    first = order.index(asked.corner)
    ring = order[first:] + order[:first]
    return SeveralAsked(asked.stage, tuple(zip(ring, texts, strict=False)))
