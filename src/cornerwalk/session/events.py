"""Events: everything that can happen in a session, one dataclass each.

An event says what happened; who, when and in what order is in the log (`log.RecordedEvent`). Values are stored twice:
the text as entered, and its value in the unit at the end of the field's name. `kind` is the event's name in the
session file. The docstrings of the classes are the descriptions in the published JSON Schema.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar, Literal

from cornerwalk.session.stages import Corner, JobKind, StageName

ReadingMode = Literal["first", "repeat", "instead", "lifted", "pressed"]
"""A corner's first reading, a repeat to be averaged with the earlier ones, or one instead of them; or one half of a
pair, read after the body was lifted or pressed by hand and came to rest (version 2)."""

Answer = Literal["yes", "no", "not checked", "not fitted", "referred", "customer declined"]
Weighing = Literal["unhitched", "hitched", "distributed"]
LeakMoment = Literal["start", "end"]
FactValue = float | str | list[float] | None


@dataclass(frozen=True, slots=True, kw_only=True)
class JobOpened:
    """The first event of every session; `program` is the version that wrote it."""

    kind: ClassVar[str] = "job opened"
    session: str
    job: JobKind
    title: str
    program: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FactStated:
    """A fact of the register (`facts.FACTS`): what was typed, and its value in the fact's own unit.

    An empty `entered` with no value takes the fact back. `basis` says how the value came to be known where nobody
    typed it: what was learned from earlier jobs.
    """

    kind: ClassVar[str] = "fact stated"
    name: str
    entered: str
    value: FactValue
    basis: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadStated:
    """A load and where it acts; `ahead_mm` is counted forward from the rear axle, so a tongue load's is negative.

    Stating a load of the same name again replaces it.
    """

    kind: ClassVar[str] = "load stated"
    name: str
    entered: str
    weight_N: float
    place_entered: str
    ahead_mm: float
    weighed: bool = False
    """A scale was asked (version 2)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadRemoved:
    """A load that was stated by mistake or taken off."""

    kind: ClassVar[str] = "load removed"
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StageBegun:
    """The vehicle stands as it is to be read. `number` counts the stages of one name from 1: fitted 1, fitted 2.

    Pressures are gauge. With a tee only the first pair is used; with separate lines the left and right pairs.
    """

    kind: ClassVar[str] = "stage begun"
    stage: StageName
    number: int = 1
    pressure_entered: str | None = None
    pressure_kPa: float | None = None
    left_entered: str | None = None
    left_kPa: float | None = None
    right_entered: str | None = None
    right_kPa: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PressureStated:
    """The pressure of a stage stated or corrected after it was begun; fields as in `StageBegun`."""

    kind: ClassVar[str] = "pressure stated"
    stage: StageName
    number: int = 1
    pressure_entered: str | None = None
    pressure_kPa: float | None = None
    left_entered: str | None = None
    left_kPa: float | None = None
    right_entered: str | None = None
    right_kPa: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class HeightRead:
    """One height at one corner: the text as typed and its exact value."""

    kind: ClassVar[str] = "height read"
    stage: StageName
    corner: Corner
    entered: str
    mm: float
    number: int = 1
    how: ReadingMode = "first"


@dataclass(frozen=True, slots=True, kw_only=True)
class CornerSkipped:
    """A corner that could not be read, and why; a later reading takes its place."""

    kind: ClassVar[str] = "corner skipped"
    stage: StageName
    corner: Corner
    reason: str
    number: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkRead:
    """The cut-off on the wall against the height of the lamp centre when unloaded, up positive."""

    kind: ClassVar[str] = "wall mark read"
    stage: StageName
    entered: str
    above_mm: float
    number: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class LevellerSet:
    """Position of a manual headlamp leveller at a stage, as marked on its dial."""

    kind: ClassVar[str] = "leveller set"
    stage: StageName
    position: str
    number: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckAnswered:
    """A question of a checklist and its answer; `stage` where the same question is asked at several stages."""

    kind: ClassVar[str] = "check answered"
    check: str
    answer: Answer
    note: str = ""
    stage: StageName | None = None
    number: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class TorqueRecorded:
    """A tightened joint: specification and reached value as entered, and whose specification it is."""

    kind: ClassVar[str] = "torque recorded"
    joint: str
    specified_entered: str
    specified_Nm: float | None
    source: str
    reached_entered: str
    reached_Nm: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class WeighingRecorded:
    """One pass over a scale; axle loads as forces, None where the ticket does not say."""

    kind: ClassVar[str] = "weighing recorded"
    weighing: Weighing
    front_entered: str
    front_N: float | None
    rear_entered: str
    rear_N: float | None
    trailer_entered: str
    trailer_N: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class LeakRead:
    """Pressure and temperature at the start or the end of a hold test; `read_at` is when the gauge was read.

    `hours` is stated where the time came from paper; otherwise it follows from the two times. Where the lines are
    separate each has its own test: `line` is "both", "left" or "right".
    """

    kind: ClassVar[str] = "leak read"
    moment: LeakMoment
    line: Literal["both", "left", "right"]
    pressure_entered: str
    pressure_kPa: float
    temperature_entered: str
    temperature_C: float | None
    read_at: str
    hours: float | None = None
    loaded: bool | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class JointSoaped:
    """A joint wetted with soapy water, and whether bubbles were seen."""

    kind: ClassVar[str] = "joint soaped"
    joint: str
    bubbles: bool
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class NoteWritten:
    """Words of the technician's, about a corner, a stage or the job."""

    kind: ClassVar[str] = "note written"
    text: str
    stage: StageName | None = None
    number: int | None = None
    corner: Corner | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Undone:
    """Event `seq` no longer counts. Undoing an undo brings the earlier event back. Nothing is erased."""

    kind: ClassVar[str] = "undone"
    undoes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class HandedOver:
    """The vehicle went back to the customer, with the figures exactly as they were shown then."""

    kind: ClassVar[str] = "handed over"
    to: str
    figures: dict[str, float | str | None]
    program: str


@dataclass(frozen=True, slots=True, kw_only=True)
class JobReopened:
    """A handed-over job taken up again; the reason is the technician's."""

    kind: ClassVar[str] = "job reopened"
    reason: str


Event = (
    JobOpened
    | FactStated
    | LoadStated
    | LoadRemoved
    | StageBegun
    | PressureStated
    | HeightRead
    | CornerSkipped
    | MarkRead
    | LevellerSet
    | CheckAnswered
    | TorqueRecorded
    | WeighingRecorded
    | LeakRead
    | JointSoaped
    | NoteWritten
    | Undone
    | HandedOver
    | JobReopened
)

EVENTS: tuple[type[Event], ...] = (
    JobOpened,
    FactStated,
    LoadStated,
    LoadRemoved,
    StageBegun,
    PressureStated,
    HeightRead,
    CornerSkipped,
    MarkRead,
    LevellerSet,
    CheckAnswered,
    TorqueRecorded,
    WeighingRecorded,
    LeakRead,
    JointSoaped,
    NoteWritten,
    Undone,
    HandedOver,
    JobReopened,
)
EVENT_TYPES: dict[str, type[Event]] = {cls.kind: cls for cls in EVENTS}
