"""Walk: what is due next in a job, and the events that an answer makes.

It writes nothing: it returns the events, and the caller records them.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import LiteralString

from cornerwalk.quantity import Length, QuantityError, read_height, read_pressure
from cornerwalk.session.events import (
    CornerSkipped,
    Event,
    HandedOver,
    HeightRead,
    JobReopened,
    NoteWritten,
    PressureStated,
    ReadingMode,
    StageBegun,
    Undone,
)
from cornerwalk.session.log import RecordedEvent, redoable, undoable
from cornerwalk.session.model import Session, Stage, StageKey
from cornerwalk.session.stages import AIR_STAGES, REQUIRED_STAGES, Corner, StageName


@dataclass(frozen=True, slots=True)
class ReadCorner:
    """A height is due at `corner`; `left` corners of this stage are open, including this one."""

    stage: StageKey
    corner: Corner
    left: int


@dataclass(frozen=True, slots=True)
class BeginStage:
    """The vehicle has to be brought to `stage` before anything can be read."""

    stage: StageKey
    with_air: bool


@dataclass(frozen=True, slots=True)
class StagesDone:
    """Every stage that this kind of job requires is read; more trials, the leak check and the handover are open."""

    last: StageKey


@dataclass(frozen=True, slots=True)
class JobClosed:
    """The vehicle has been handed over."""


Due = ReadCorner | BeginStage | StagesDone | JobClosed


class EntryError(ValueError):
    """An entry that cannot be recorded; `template` is English with {named} `fields`."""

    def __init__(self, template: LiteralString, **fields: object) -> None:
        """Keep the parts; the text is built when it is shown."""
        super().__init__(template, fields)
        self.template = template
        self.fields = fields

    def __str__(self) -> str:
        """The English text."""
        return self.template.format(**self.fields)


def due(session: Session) -> Due:
    """What the walk asks for now.

    The first stage begins with its first reading, so a new session opens on a corner.
    """
    if not session.open:
        return JobClosed()
    current = session.current_stage
    if current is None:
        first = REQUIRED_STAGES[session.job.kind][0]
        return ReadCorner(stage=(first, 1), corner=session.job.order[0], left=len(session.job.order))
    open_corners = [c for c in session.job.order if not _settled(current, c)]
    if open_corners:
        return ReadCorner(stage=current.key, corner=open_corners[0], left=len(open_corners))
    for name in REQUIRED_STAGES[session.job.kind]:
        if session.first_stage(name) is None:
            return BeginStage(stage=(name, 1), with_air=name in AIR_STAGES)
    return StagesDone(last=current.key)


def _settled(stage: Stage, corner: Corner) -> bool:
    record = stage.corner(corner)
    return bool(record.readings) or record.skipped is not None


def next_number(session: Session, stage: StageName) -> int:
    """The number of the next stage of this name."""
    return 1 + max((s.number for s in session.stages if s.name == stage), default=0)


def read_session_height(session: Session, text: str) -> Length:
    """The height that a text means in this session.

    Raises:
        QuantityError: with the reason and, if there is one, a suggestion.
    """
    return read_height(text, session.job.unit)


def record_height(
    session: Session, text: str, *, corner: Corner, stage: StageKey, how: ReadingMode | None = None
) -> tuple[Event, ...]:
    """A height at a corner.

    Without `how`, the corner's first reading is "first", and a later one replaces it ("instead"); pass "repeat" to
    average it with the earlier ones, "lifted" and "pressed" for the two halves of a pair.

    Raises:
        QuantityError: the text is not a height.
        EntryError: the job is closed.
    """
    _require_open(session)
    height = read_session_height(session, text)
    record = session.stage(stage)
    already = record is not None and bool(record.corner(corner).readings)
    reading = HeightRead(
        stage=stage[0],
        number=stage[1],
        corner=corner,
        entered=text.strip(),
        mm=height.mm,
        how=_mode(how, already=already),
    )
    if record is None:
        return (StageBegun(stage=stage[0], number=stage[1]), reading)
    return (reading,)


def _mode(how: ReadingMode | None, *, already: bool) -> ReadingMode:
    if how in ("lifted", "pressed"):
        return how
    return (how or "instead") if already else "first"


def skip_corner(session: Session, *, corner: Corner, stage: StageKey, reason: str) -> tuple[Event, ...]:
    """A corner that cannot be read.

    Raises:
        EntryError: no reason is given, or the job is closed.
    """
    _require_open(session)
    if not reason.strip():
        raise EntryError("a skipped corner needs a reason, for whoever reads this later")
    skipped = CornerSkipped(stage=stage[0], number=stage[1], corner=corner, reason=reason.strip())
    if session.stage(stage) is None:
        return (StageBegun(stage=stage[0], number=stage[1]), skipped)
    return (skipped,)


@dataclass(frozen=True, slots=True)
class PressureInput:
    """Pressures as typed: one for a tee, left and right for separate lines. Empty is not stated."""

    both: str = ""
    left: str = ""
    right: str = ""


def begin_stage(session: Session, stage: StageName, air: PressureInput | None = None) -> tuple[Event, ...]:
    """The beginning of a stage, with its pressures if they were typed.

    Raises:
        QuantityError: a pressure cannot be read.
        EntryError: a pressure is over the kit's maximum, or the job is closed.
    """
    _require_open(session)
    number = next_number(session, stage)
    both, left, right = _pressures(session, air or PressureInput())
    return (
        StageBegun(
            stage=stage,
            number=number,
            pressure_entered=both.entered,
            pressure_kPa=both.kPa,
            left_entered=left.entered,
            left_kPa=left.kPa,
            right_entered=right.entered,
            right_kPa=right.kPa,
        ),
    )


def state_pressure(session: Session, stage: StageKey, air: PressureInput) -> tuple[Event, ...]:
    """The pressure of a stage that has none yet, or its correction.

    Raises:
        QuantityError: a pressure cannot be read.
        EntryError: a pressure is over the kit's maximum, or the job is closed.
    """
    _require_open(session)
    both, left, right = _pressures(session, air)
    return (
        PressureStated(
            stage=stage[0],
            number=stage[1],
            pressure_entered=both.entered,
            pressure_kPa=both.kPa,
            left_entered=left.entered,
            left_kPa=left.kPa,
            right_entered=right.entered,
            right_kPa=right.kPa,
        ),
    )


@dataclass(frozen=True, slots=True)
class _PressureValue:
    """One pressure as typed and its value; None if nothing was typed."""

    entered: str | None = None
    kPa: float | None = None


def _pressures(session: Session, air: PressureInput) -> tuple[_PressureValue, _PressureValue, _PressureValue]:
    return (_pressure(session, air.both), _pressure(session, air.left), _pressure(session, air.right))


def _pressure(session: Session, text: str) -> _PressureValue:
    entered = text.strip()
    if not entered:
        return _PressureValue()
    kPa = read_pressure(entered, bare=bare_pressure(session)).kPa
    _refuse_over_maximum(session, entered, kPa)
    return _PressureValue(entered, kPa)


def bare_pressure(session: Session) -> str:
    """The unit of a pressure typed without one: psi if heights are in inches, kPa if they are metric."""
    return "psi" if session.job.unit == "inch" else "kPa"


def _refuse_over_maximum(session: Session, text: str, kPa: float) -> None:
    maximum = session.kit.max_kPa
    if maximum is not None and kPa > maximum * (1 + 1e-9):
        raise EntryError(
            "{text} is over the kit maximum of {maximum}: bleed down before anything else. It was not saved.",
            text=text,
            maximum=session.entered.get("kit.max") or f"{maximum:.0f} kPa",
        )


def write_note(
    session: Session, text: str, *, stage: StageKey | None = None, corner: Corner | None = None
) -> tuple[Event, ...]:
    """A note about a corner, a stage or the job.

    Raises:
        EntryError: it is empty.
    """
    if not text.strip():
        raise EntryError("an empty note says nothing")
    known = stage is not None and session.stage(stage) is not None
    name, number = stage if stage is not None and known else (None, None)
    return (NoteWritten(text=text.strip(), stage=name, number=number, corner=corner),)


def undo(events: Sequence[RecordedEvent]) -> tuple[Event, ...]:
    """The undo of the latest event; empty if there is none."""
    event = undoable(events)
    return () if event is None else (Undone(undoes=event.seq),)


def redo(events: Sequence[RecordedEvent]) -> tuple[Event, ...]:
    """The undo of the latest undo, as long as nothing else was recorded since."""
    event = redoable(events)
    return () if event is None else (Undone(undoes=event.seq),)


def _require_open(session: Session) -> None:
    if not session.open:
        raise EntryError("the job is handed over; reopen it for a follow-up first")


# ---- handover and reopening ----


def hand_over(
    session: Session,
    to: str,
    figures: Mapping[str, float | str | None],
    program: str,
    decision: str = "",
) -> tuple[Event, ...]:
    """The handover with these figures; `decision` is what was decided about an open STOP.

    Raises:
        EntryError: it is handed over already.
    """
    if not session.open:
        raise EntryError("the job is handed over already; reopen it for a follow-up first")
    handed = HandedOver(to=to.strip(), figures=dict(figures), program=program)
    if not decision.strip():
        return (handed,)
    return (NoteWritten(text=decision.strip()), handed)


def reopen(session: Session, reason: str) -> tuple[Event, ...]:
    """The reopening of a job; the handover stays on the record.

    Raises:
        EntryError: it is open, or no reason is given.
    """
    if session.open:
        raise EntryError("the job is open; nothing needs to be reopened")
    if not reason.strip():
        raise EntryError("write why the job is taken up again, for whoever reads this later")
    return (JobReopened(reason=reason.strip()),)


__all__ = [
    "BeginStage",
    "Due",
    "EntryError",
    "JobClosed",
    "PressureInput",
    "QuantityError",
    "ReadCorner",
    "StagesDone",
    "bare_pressure",
    "begin_stage",
    "due",
    "next_number",
    "read_session_height",
    "record_height",
    "redo",
    "skip_corner",
    "state_pressure",
    "undo",
    "write_note",
]
