"""Prompts: what the walk asks now. The session says what is due; the user may ask for something else instead.

Each kind of prompt is one small record; `walk_replies` reads a typed answer against it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from cornerwalk.session.events import CornerSkipped, Event, HeightRead, PressureStated, ReadingMode, StageBegun
from cornerwalk.session.model import Session, StageKey
from cornerwalk.session.stages import AIR_STAGES, CORNERS, REFERENCE_STAGE, Corner, StageName, available_stages
from cornerwalk.session.walk import BeginStage, ReadCorner, StagesDone, due, next_number
from cornerwalk.wording.names import corner_name, stage_title


@dataclass(frozen=True, slots=True)
class HeightPrompt:
    """The height at a corner; `how` is what a reading does to one that stands there already."""

    stage: StageKey
    corner: Corner
    how: ReadingMode = "first"


@dataclass(frozen=True, slots=True)
class StagePrompt:
    """Bring the vehicle into the state of a stage; Enter says that it is."""

    stage: StageKey


@dataclass(frozen=True, slots=True)
class PressurePrompt:
    """The pressure a stage begins with. With separate lines the left comes first, then the right."""

    stage: StageKey
    line: Literal["both", "left", "right"]
    left: str = ""
    optional: bool = False
    """Everything due is done; another stage may begin, but Enter alone leads to the results."""
    begun: bool = False
    """The stage is begun already; its pressure is stated late, or corrected."""


@dataclass(frozen=True, slots=True)
class AllReadPrompt:
    """Every stage of this kind of job is read, and no pressure is in play."""

    last: StageKey


@dataclass(frozen=True, slots=True)
class StageChoicePrompt:
    """Which stage comes next, by its number in the list; `restate` is a stage whose pressure may be stated instead."""

    stages: tuple[StageName, ...]
    restate: StageKey | None = None


@dataclass(frozen=True, slots=True)
class PastePrompt:
    """Several readings pasted at once, laid out over the corners for a look before they are kept."""

    stage: StageKey
    readings: tuple[tuple[Corner, str], ...]


@dataclass(frozen=True, slots=True)
class ReasonPrompt:
    """Why a corner is skipped."""

    stage: StageKey
    corner: Corner


@dataclass(frozen=True, slots=True)
class NotePrompt:
    """A note, about the corner in hand or the job."""

    stage: StageKey | None
    corner: Corner | None


@dataclass(frozen=True, slots=True)
class ClosedPrompt:
    """Nothing: the job is closed."""


Prompt = (
    HeightPrompt
    | StagePrompt
    | PressurePrompt
    | AllReadPrompt
    | StageChoicePrompt
    | PastePrompt
    | ReasonPrompt
    | NotePrompt
    | ClosedPrompt
)


def asked_by(session: Session) -> Prompt:
    """What the session itself asks for."""
    match due(session):
        case ReadCorner(stage=stage, corner=corner):
            return HeightPrompt(stage, corner)
        case BeginStage(stage=stage):
            return beginning(session, stage)
        case StagesDone(last=last):
            if session.job.kind == "load check":
                return AllReadPrompt(last)
            return PressurePrompt(("fitted", next_number(session, "fitted")), first_line(session), optional=True)
        case _:
            return ClosedPrompt()


def beginning(session: Session, stage: StageKey) -> Prompt:
    """The question a stage begins with."""
    if stage[0] in AIR_STAGES:
        return PressurePrompt(stage, first_line(session))
    return StagePrompt(stage)


def first_line(session: Session) -> Literal["both", "left"]:
    """Which pressure is asked first."""
    return "left" if session.kit.lines == "separate" else "both"


def reading_of(session: Session, stage: StageKey, corner: Corner, *, average: bool = False) -> HeightPrompt:
    """The question for a corner, whether or not it has a reading."""
    record = session.stage(stage)
    if record is None or not record.corner(corner).readings:
        return HeightPrompt(stage, corner)
    return HeightPrompt(stage, corner, "repeat" if average else "instead")


def in_hand(session: Session, asked: Prompt) -> StageKey:
    """The stage that the question belongs to, or the one last begun."""
    if isinstance(asked, HeightPrompt | ReasonPrompt | PastePrompt):
        return asked.stage
    current = session.current_stage
    return current.key if current is not None else ("unloaded", 1)


def corner_in_hand(asked: Prompt) -> Corner | None:
    """The corner that is asked about."""
    return asked.corner if isinstance(asked, HeightPrompt | ReasonPrompt | NotePrompt) else None


def next_corner(session: Session, asked: Prompt, step: Literal[1, -1]) -> HeightPrompt:
    """The corner after (or before) the one in hand, in walking order; from any other question the last stage's."""
    stage = in_hand(session, asked)
    order = session.job.order
    corner = corner_in_hand(asked)
    if corner is None:
        return reading_of(session, stage, order[0 if step == 1 else -1])
    return reading_of(session, stage, order[(order.index(corner) + step) % len(order)])


def next_stage(session: Session, asked: Prompt, step: Literal[1, -1]) -> HeightPrompt | None:
    """The same corner one stage later (or earlier); None where there is none."""
    keys = [stage.key for stage in session.stages]
    here = in_hand(session, asked)
    at = keys.index(here) if here in keys else len(keys)
    if isinstance(asked, HeightPrompt | ReasonPrompt):
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


def prompt_answered_by(session: Session, what: Event) -> Prompt | None:
    """The prompt that an event answers, to be answered otherwise; None for what the walk does not ask."""
    match what:
        case HeightRead(stage=stage, number=number, corner=corner, how=how) if session.stage((stage, number)):
            return reading_of(session, (stage, number), corner, average=how == "repeat")
        case CornerSkipped(stage=stage, number=number, corner=corner) if session.stage((stage, number)):
            return HeightPrompt((stage, number), corner)
        case StageBegun(stage=stage) if stage != REFERENCE_STAGE:
            return beginning(session, (stage, next_number(session, stage)))
        case PressureStated(stage=stage, number=number):
            return PressurePrompt((stage, number), first_line(session), begun=True)
        case _:
            return None


def corner_in(session: Session, text: str, here: StageKey) -> tuple[StageKey, Corner] | None:
    """A corner by its letters or its name, in the stage in hand unless one is named after it; None for neither."""
    folded = text.casefold()
    called = {name.casefold(): corner for corner in CORNERS for name in (corner, corner_name(corner))}
    name = next((c for c in sorted(called, key=len, reverse=True) if folded == c or folded.startswith(f"{c} ")), None)
    if name is None:
        return None
    after = folded[len(name) :].strip(" ,")
    named = [s.key for s in session.stages if after in (s.name, f"{s.name} {s.number}", stage_title(s.key).casefold())]
    stage = next(iter(named), None) if after else here
    return None if stage is None else (stage, called[name])


def stage_choice(session: Session) -> StageChoicePrompt:
    """Every stage that makes sense in this kind of job."""
    current = session.current_stage
    with_air = current is not None and current.name in AIR_STAGES
    return StageChoicePrompt(available_stages(session.job.kind), current.key if current and with_air else None)


def several(session: Session, asked: HeightPrompt, texts: Sequence[str]) -> PastePrompt:
    """Pasted texts laid out in walking order from the corner in hand; those beyond the last corner have none."""
    order = session.job.order
    first = order.index(asked.corner)
    ring = order[first:] + order[:first]
    return PastePrompt(asked.stage, tuple(zip(ring, texts, strict=False)))
