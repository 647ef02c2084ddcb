"""Session model: what the events add up to. Units: mm, N, kPa gauge, °C; None is "not stated"."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from cornerwalk.quantity import BareUnit
from cornerwalk.session.events import Answer, LeakMoment, Weighing
from cornerwalk.session.stages import CORNERS, Corner, Direction, JobKind, StageName, walking_order

HeightDatum = Literal["ground to arch lip", "wheel centre to arch lip"]
Levelling = Literal["none", "manual", "automatic", "unknown"]
AirLines = Literal["tee", "separate"]
AirTarget = Literal["unloaded height", "beam level"]
HitchKind = Literal["ball only", "load-distributing"]
GROUND: HeightDatum = "ground to arch lip"
"""Heights from here have the tire in them."""
Approach = Literal["lifting", "pressing"]
BagStiffness = Literal["rigid"]
RearSprings = Literal["coil", "leaf", "two-stage leaf"]

StageKey = tuple[StageName, int]
"""A stage's name and its number among those of that name, from 1."""


@dataclass(frozen=True, slots=True, kw_only=True)
class JobFacts:
    """The job: its title, the people, and how heights are measured."""

    kind: JobKind = "fit"
    title: str = ""
    technician: str = ""
    second_reader: str = ""
    customer: str = ""
    complaint: str = ""
    site: str = ""
    date: str | None = None
    unit: BareUnit = "inch"
    datum: HeightDatum = GROUND
    start_corner: Corner = "LF"
    direction: Direction = "clockwise"

    @property
    def order(self) -> tuple[Corner, ...]:
        """The corners in the order they are walked."""
        return walking_order(self.start_corner, self.direction)


@dataclass(frozen=True, slots=True, kw_only=True)
class Tape:
    """The tape: graduation, and the standard uncertainty of placing it on the same point; None is the default."""

    graduation_mm: float | None = None
    place_mm: float | None = None
    place_freedom: float | None = None
    """Degrees of freedom of `place_mm` where it was pooled from repeats; None where it was judged."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Vehicle:
    """Facts of the vehicle; ratings as forces."""

    description: str = ""
    registration: str = ""
    wheelbase_mm: float | None = None
    arch_width_mm: float | None = None
    lamp_height_mm: float | None = None
    lamp_lower_edge_mm: float | None = None
    lamp_ahead_mm: float | None = None
    ball_overhang_mm: float | None = None
    gawr_front_N: float | None = None
    gawr_rear_N: float | None = None
    gvwr_N: float | None = None
    gcwr_N: float | None = None
    capacity_N: float | None = None
    """What the tire-and-loading label allows for people and cargo together."""
    occupants: float | None = None
    tyre_rating_front_N: float | None = None
    tyre_rating_rear_N: float | None = None
    tyre_size: str = ""
    tyre_pressure: str = ""
    tire_rate_N_per_mm: float | None = None
    """Of one tire."""
    tires_rear: float | None = None
    """On the rear axle: two, or four with dual wheels."""
    rear_springs: RearSprings | None = None
    friction_front_mm: float | None = None
    friction_rear_mm: float | None = None
    """Half of what lifting and pressing the body leave between them, at one corner of the axle."""
    levelling: Levelling = "unknown"


@dataclass(frozen=True, slots=True, kw_only=True)
class Lamps:
    """Distance of the wall, id of the aim rule, and the measured aim when unloaded (down negative)."""

    screen_mm: float | None = None
    rule: str | None = None
    aim_percent: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Kit:
    """Figures of the helper-spring kit, from the sheet that is named."""

    name: str = ""
    sheet: str = ""
    min_kPa: float | None = None
    max_kPa: float | None = None
    rated_support_N: float | None = None
    bag_volume_liters: float | None = None
    """Of one bag at its working height."""
    lines: AirLines = "tee"
    target: AirTarget = "unloaded height"


@dataclass(frozen=True, slots=True, kw_only=True)
class Hitch:
    """The hitch; `restoration_rule` names the front-axle rule of its or the vehicle's maker."""

    kind: HitchKind | None = None
    setting: str = ""
    rating_N: float | None = None
    restoration_rule: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Trailer:
    """The trailer: its weight as towed, its rating, and the share of it that the tongue may carry, in per cent."""

    weight_N: float | None = None
    gvwr_N: float | None = None
    tongue_share_low_percent: float | None = None
    tongue_share_high_percent: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class WeighScale:
    """The scale's smallest step."""

    step_N: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class LeakCriteria:
    """What the hold test is judged against."""

    altitude_m: float | None = None
    barometer_kPa: float | None = None
    gauge_graduation_kPa: float | None = None
    allowed_loss_kPa: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PressureTable:
    """What the glovebox table is made for: tongue loads, and how far the rear may stay below its unloaded height."""

    drop_allowed_mm: float | None = None
    loads_N: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """The shop's own limits in place of the defaults."""

    side_to_side_mm: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class StatedUncertainty:
    """Standard uncertainties stated in place of the program's defaults; zero takes a value as exact."""

    friction_front_mm: float | None = None
    friction_rear_mm: float | None = None
    wheelbase_mm: float | None = None
    places_mm: float | None = None
    """Of loads, ball and lamp."""
    wall_mm: float | None = None
    mark_mm: float | None = None
    """Of seeing the cut-off on the wall."""
    aim_deg: float | None = None
    loads_percent: float | None = None
    scale_N: float | None = None
    tire_rate_percent: float | None = None
    gauge_kPa: float | None = None
    temperature_K: float | None = None
    """Of each end of a leak-down test."""
    weather_kPa: float | None = None
    bag: BagStiffness | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Service:
    """Reminders that go with the vehicle."""

    retorque_distance: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """A load as a force and its distance ahead of the rear axle (behind it is negative)."""

    name: str
    weight_N: float
    ahead_mm: float
    weighed: bool = False
    """A scale was asked; otherwise it is taken as guessed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One height: the text, its value, and the event it comes from."""

    entered: str
    mm: float
    seq: int
    at: str
    after: Approach | None = None
    """How the body came to rest, where it was lifted or pressed by hand for this reading."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CornerRecord:
    """One corner at one stage: its readings, or why there is none."""

    readings: tuple[Reading, ...] = ()
    skipped: str | None = None

    @property
    def read(self) -> bool:
        """It has a height: half of a pair is none."""
        return self.mean_mm is not None

    @property
    def mean_mm(self) -> float | None:
        """The height: the mean of the readings, or of what was read after lifting and after pressing.

        Where the body was lifted and pressed nothing else counts; half of such a pair is no height.
        """
        if all(reading.after is None for reading in self.readings):
            return self.mean_after_mm(None)
        lifted_mm, pressed_mm = self.mean_after_mm("lifting"), self.mean_after_mm("pressing")
        if lifted_mm is not None and pressed_mm is not None:
            return (lifted_mm + pressed_mm) / 2
        return self.mean_after_mm(None)

    def mean_after_mm(self, approach: Approach | None) -> float | None:
        """The mean of the readings after lifting or after pressing, or of those after neither; None without any."""
        heights_mm = [reading.mm for reading in self.readings if reading.after == approach]
        return sum(heights_mm) / len(heights_mm) if heights_mm else None


@dataclass(frozen=True, slots=True, kw_only=True)
class Stage:
    """A stage: the vehicle as it stood to be read."""

    name: StageName
    number: int
    begun_seq: int
    begun_at: str
    pressure_kPa: float | None = None
    left_kPa: float | None = None
    right_kPa: float | None = None
    pressure_entered: str | None = None
    left_entered: str | None = None
    right_entered: str | None = None
    corners: Mapping[Corner, CornerRecord] = field(default_factory=dict)
    mark_mm: float | None = None
    leveller: str | None = None

    @property
    def key(self) -> StageKey:
        """Name and number."""
        return (self.name, self.number)

    def corner(self, corner: Corner) -> CornerRecord:
        """The record of a corner, which may be empty."""
        return self.corners.get(corner, _EMPTY_RECORD)

    @property
    def complete(self) -> bool:
        """All four corners are read or skipped with a reason."""
        return all(self.corner(c).read or self.corner(c).skipped is not None for c in CORNERS)

    @property
    def all_read(self) -> bool:
        """All four corners have a reading."""
        return all(self.corner(c).read for c in CORNERS)


_EMPTY_RECORD = CornerRecord()


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckAnswer:
    """The current answer to a checklist question."""

    check: str
    answer: Answer
    note: str
    stage: StageKey | None
    at: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TorqueRecord:
    """A tightened joint."""

    joint: str
    specified_entered: str
    specified_Nm: float | None
    source: str
    reached_entered: str
    reached_Nm: float | None
    at: str


@dataclass(frozen=True, slots=True, kw_only=True)
class AxleWeights:
    """One pass over the scale."""

    weighing: Weighing
    front_N: float | None
    rear_N: float | None
    trailer_N: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class LeakReading:
    """A gauge reading at the start or the end of a hold test."""

    moment: LeakMoment
    line: Literal["both", "left", "right"]
    pressure_kPa: float
    temperature_C: float | None
    at: str
    hours: float | None
    loaded: bool | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint:
    """A joint checked with soapy water."""

    joint: str
    bubbles: bool
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Note:
    """A note of the technician's."""

    text: str
    stage: StageKey | None
    corner: Corner | None
    at: str
    seq: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Handover:
    """A handover, with the figures as they were shown then."""

    to: str
    figures: Mapping[str, float | str | None]
    program: str
    at: str
    by: str
    seq: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Session:
    """A session as it stands: its events folded. Figures computed from readings belong to `assess`."""

    id: str = ""
    program: str = ""
    opened_at: str = ""
    last_at: str = ""
    last_seq: int = 0
    job: JobFacts = JobFacts()
    tape: Tape = Tape()
    vehicle: Vehicle = Vehicle()
    lamps: Lamps = Lamps()
    kit: Kit = Kit()
    hitch: Hitch = Hitch()
    trailer: Trailer = Trailer()
    scale: WeighScale = WeighScale()
    leak: LeakCriteria = LeakCriteria()
    table: PressureTable = PressureTable()
    limits: Limits = Limits()
    service: Service = Service()
    uncertainty: StatedUncertainty = StatedUncertainty()
    entered: Mapping[str, str] = field(default_factory=dict)
    basis: Mapping[str, str] = field(default_factory=dict)
    loads: tuple[Load, ...] = ()
    stages: tuple[Stage, ...] = ()
    answers: tuple[CheckAnswer, ...] = ()
    torques: tuple[TorqueRecord, ...] = ()
    weighings: Mapping[Weighing, AxleWeights] = field(default_factory=dict)
    leak_readings: tuple[LeakReading, ...] = ()
    joints: tuple[Joint, ...] = ()
    notes: tuple[Note, ...] = ()
    handovers: tuple[Handover, ...] = ()
    open: bool = True

    def stage(self, key: StageKey) -> Stage | None:
        """The stage of that name and number, None if it was not begun."""
        return next((stage for stage in self.stages if stage.key == key), None)

    def fact_text(self, fact: str) -> str:
        """A fact as typed, "" if it is not stated; the kind of job is known from the opening."""
        return self.entered.get(fact, self.job.kind if fact == "job.kind" else "")

    def first_stage(self, name: StageName) -> Stage | None:
        """The first stage of that name."""
        return next((stage for stage in self.stages if stage.name == name), None)

    @property
    def current_stage(self) -> Stage | None:
        """The latest stage."""
        return self.stages[-1] if self.stages else None

    @property
    def trials(self) -> tuple[Stage, ...]:
        """The loaded stages with air in, in the order recorded."""
        return tuple(stage for stage in self.stages if stage.name == "fitted")
