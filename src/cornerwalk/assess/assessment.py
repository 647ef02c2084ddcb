"""Assessment: the types that `assess` returns and that every skin, report and export reads.

Units are in the names. `u_…` is a standard uncertainty in the unit of the figure it belongs to; what is shown is
U = 2u. None is "not known", and then an entry of `not_checked` says what it needs. `check`, `needs` and `title`
texts are plain English and the key of their own translation; findings are codes, worded elsewhere.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal, LiteralString

from cornerwalk.assess.estimate import COVERAGE, Estimate
from cornerwalk.assess.verdict import Verdict
from cornerwalk.session.hold_test import AirLine
from cornerwalk.session.model import StageKey
from cornerwalk.session.stages import Corner, StageName

Overall = Literal["pass", "conditional pass", "not checked", "conditional fail", "fail"]
Level = Literal["note", "caution", "stop"]
Where = Literal["rear", "LR", "RR"]


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingTerms:
    """Standard uncertainty of one reading; `assumed` names what is a default ("graduation", "place")."""

    graduation_mm: float
    u_place_mm: float
    u_read_mm: float
    assumed: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Misread:
    """The warp check's finding: a corner and its likely true reading, where exactly one slip explains it.

    `stage` is where the reading stands: this stage or the unloaded one. `corner` None: it cannot be told
    which of the four.
    """

    stage: StageKey
    corner: Corner | None
    slip: str | None
    likely_mm: float | None
    suspects: tuple[tuple[StageKey, Corner], ...] = ()
    """Every reading it may be, the likeliest first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LampResult:
    """The dipped beam at a stage. Heights up, aim up positive; `reach_m` None with `above_level` means never."""

    rise_mm: float | None
    u_rise_mm: float | None
    shift_mm: float | None
    u_shift_mm: float | None
    wall_mm: float | None
    u_wall_mm: float | None
    aim_deg: float | None
    u_aim_deg: float | None
    aim_percent: float | None
    u_aim_percent: float | None
    reach_m: float | None
    above_level: bool
    prediction_holds: bool | None
    """False with automatic levelling, None where the levelling is not stated."""
    measured_wall_mm: float | None = None
    """Movement of the mark on the wall, unloaded to now, where both were read."""
    u_measured_wall_mm: float | None = None
    measured_aim_deg: float | None = None
    """Aim from the mark at this stage; where there is one it replaces the predicted aim."""
    u_measured_aim_deg: float | None = None
    measured_aim_percent: float | None = None
    u_measured_aim_percent: float | None = None
    nearest_reach_m: float | None = None
    """The cut-off may meet the road as near as this, within U of the aim."""
    k: Mapping[str, float] = field(default_factory=dict)
    """Coverage factors by figure (`rise_mm`), where they are not 2."""

    def U(self, figure: str) -> float | None:
        """Expanded uncertainty of a figure by its name (`aim_deg`), in its unit."""
        return _expanded(self, figure)


@dataclass(frozen=True, slots=True, kw_only=True)
class StageEstimates:
    """What a stage's figures come from, with all that their u is made of; whatever follows from them is correlated.

    Attributes:
        axle: the height at each corner, mm, with the friction that both wheels of an axle share.
        wheel: with each wheel's own share of it instead, for comparing corners of one stage: there the other cancels.
        front, rear: mean change of each axle over the ground; of heights from the wheel center, with what the tires
            gave way taken off. None where that is not known.
    """

    axle: Mapping[Corner, Estimate | None] = field(default_factory=dict)
    wheel: Mapping[Corner, Estimate | None] = field(default_factory=dict)
    front: Estimate | None = None
    rear: Estimate | None = None


NO_ESTIMATES = StageEstimates()


@dataclass(frozen=True, slots=True, kw_only=True)
class StageResult:
    """One stage. Changes are from the unloaded stage; `front_mm` and `rear_mm` are the mean changes of each axle."""

    name: StageName
    number: int
    pressure_kPa: float | None
    left_kPa: float | None
    right_kPa: float | None
    height_mm: Mapping[Corner, float | None]
    u_height_mm: Mapping[Corner, float | None]
    delta_mm: Mapping[Corner, float | None]
    u_delta_mm: Mapping[Corner, float | None]
    front_mm: float | None
    u_front_mm: float | None
    rear_mm: float | None
    u_rear_mm: float | None
    front_height_mm: float | None
    rear_height_mm: float | None
    u_rear_height_mm: float | None
    rake_mm: float | None
    u_rake_mm: float | None
    side_front_mm: float | None
    """Left minus right height at the front axle."""
    side_rear_mm: float | None
    u_side_mm: float | None
    nose_up_deg: float | None
    u_nose_up_deg: float | None
    left_up_deg: float | None
    u_left_up_deg: float | None
    warp_mm: float | None
    u_warp_mm: float | None
    ball_mm: float | None
    u_ball_mm: float | None
    lamp: LampResult | None
    misread: Misread | None
    estimates: StageEstimates = field(default_factory=lambda: NO_ESTIMATES, compare=False, repr=False)
    k: Mapping[str, float] = field(default_factory=dict)
    """Coverage factors by figure (`rear_mm`; of the corners `height_mm`), where they are not 2."""

    @property
    def key(self) -> StageKey:
        """Name and number."""
        return (self.name, self.number)

    def U(self, figure: str) -> float | None:
        """Expanded uncertainty of a figure by its name (`rear_mm`), in its unit."""
        return _expanded(self, figure)


def _expanded(result: StageResult | LampResult | AirResult, figure: str) -> float | None:
    u = getattr(result, f"u_{figure}")
    return None if u is None else result.k.get(figure, COVERAGE) * float(u)


@dataclass(frozen=True, slots=True, kw_only=True)
class AxleResult:
    """What the loads put on each axle by lever, and what the scale tickets say where there are any."""

    rear_gain_N: float | None
    front_gain_N: float | None
    u_rear_gain_N: float | None = None
    u_front_gain_N: float | None = None
    tongue_N: float | None = None
    u_tongue_N: float | None = None
    trailer_N: float | None = None
    tongue_share_percent: float | None = None
    u_tongue_share_percent: float | None = None
    first_limit: str | None = None
    """Which rating is reached first when the tongue load grows."""
    load_until_first_limit_N: float | None = None
    """The whole tongue load at which it is reached, from the unhitched weighing: not what is left beside one that is
    on. Nought where it is over without a trailer already."""
    u_load_until_first_limit_N: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialPoint:
    """A pressure and the rear height it gave."""

    stage: StageKey
    pressure_kPa: float
    height_mm: float
    u_height_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class AirResult:
    """Height against pressure for the rear (tee) or one side (separate lines), and the pressure for the target.

    `reason` says why there is no fit or no recommendation: a code, worded elsewhere. `try_next_kPa` is the trial
    that would narrow the answer most.
    """

    where: Where
    trials: tuple[TrialPoint, ...]
    c0_mm: float | None
    u_c0_mm: float | None
    c1_mm_per_kPa: float | None
    u_c1_mm_per_kPa: float | None
    cov_c0_c1: float | None
    target: str
    target_mm: float | None
    u_target_mm: float | None
    pressure_kPa: float | None
    u_pressure_kPa: float | None
    low_kPa: float | None
    """Lower bound of the pressure (Fieller), which is not midway where the trials are far from the target."""
    high_kPa: float | None
    u_holds: bool
    """False: the slope is too unsure for ± U, and `low_kPa` to `high_kPa` is to be shown instead."""
    recommended_kPa: float | None
    aimed_kPa: float | None
    """The guarded pressure before it is brought to a mark of the gauge within the kit's limits."""
    guard_mm: float | None
    """How far below its target the rear is aimed."""
    held_at: Literal["minimum", "maximum"] | None
    """The limit of the kit that the recommended pressure is at, where the aim lies beyond it."""
    above_mm: float | None
    """How far the kit's minimum lifts the rear above its target, where it does and nothing is recommended."""
    gauge_unit: str
    gauge_step_kPa: float
    left_mm: float | None
    u_left_mm: float | None
    short_of_level_mm: float | None
    """How far below a level beam the rear stays because its unloaded height is not passed."""
    extrapolated: bool
    off_line: bool
    """The trials do not lie on a line within what their readings allow."""
    reason: str | None
    try_next_kPa: float | None
    u_after_next_kPa: float | None
    k: Mapping[str, float] = field(default_factory=dict)
    """Coverage factors by figure (`pressure_kPa`), where they are not 2."""

    def U(self, figure: str) -> float | None:
        """Expanded uncertainty of a figure by its name (`pressure_kPa`), in its unit."""
        return _expanded(self, figure)


@dataclass(frozen=True, slots=True, kw_only=True)
class SidesResult:
    """What separate lines would do for a rear that shares one line: a pressure a side, an estimate.

    `tee_mm` is how far the left rear would stand above the right, each from its own unloaded height, at the pressure
    recommended for both; `separate_mm` at the two.
    """

    left_kPa: float
    right_kPa: float
    tee_mm: float
    u_tee_mm: float
    separate_mm: float
    u_separate_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class TableRow:
    """A row of the glovebox table; `beyond` says that the pressure lies outside the kit's limits."""

    load_N: float
    pressure_kPa: float | None
    u_pressure_kPa: float | None
    recommended_kPa: float | None
    beyond: Literal["below minimum", "above maximum"] | None


@dataclass(frozen=True, slots=True, kw_only=True)
class LeakResult:
    """A hold test of one line."""

    line: AirLine
    hours: float | None
    expected_kPa: float | None
    read_kPa: float | None
    loss_kPa: float | None
    u_loss_kPa: float | None
    rate_kPa_per_h: float | None
    u_rate_kPa_per_h: float | None
    hours_to_minimum: float | None
    hours_to_minimum_at_least: float | None = None
    """The same at the highest rate that the test allows: the minimum is reached no sooner."""
    hours_needed: float | None = None
    """How long this gauge needs to tell, where the test was too short."""
    verdict: Verdict | None = None
    not_judged: str | None = None
    """Why there is no verdict: a code, worded elsewhere."""
    rate_is_known: bool = False
    """The rate is not swallowed by its own U."""
    temperatures_known: bool = True
    raw_loss_kPa: float | None = None
    """The plain difference on the gauge, to show what temperature did."""
    per_day_kPa: float | None = None
    """The loss scaled to the 24 hours that the allowed loss is meant for."""
    u_per_day_kPa: float | None = None
    shorter: bool | None = None
    """The test did not last those 24 hours."""
    reason: str | None = None
    """Why there is no figure: a code, worded elsewhere."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Restoration:
    """Front-axle load restored by a load-distributing hitch, in per cent, as a band of ± U."""

    percent: float
    u_percent: float | None
    by: Literal["weights", "heights"]
    k: float = COVERAGE


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckKind:
    """One kind of check, whatever stage it is made at. Its texts are English, the keys of their own translations.

    Attributes:
        id: its code; it stays when the name is worded anew, and nothing but it tells one check from another.
        name: what is checked.
        needs: what it needs that is missing most often; other things are named where they are missed.
        source, standing: whose limit it is and how well that is known; "" where limits or the user state it.
        by_stage: each stage has a check of its own, which is named with the stage.
        joint: what stands between its name and a stage.
        recorded: what documents and exported tables call it, where that is older than its name.
    """

    id: str
    name: LiteralString
    needs: LiteralString = ""
    source: LiteralString = ""
    standing: str = ""
    by_stage: bool = False
    joint: str = ", "
    recorded: str = ""

    @property
    def code(self) -> str:
        """What documents and exported tables call it, whatever stage it is made at."""
        return self.recorded or self.name

    def named(self, stage: StageKey | None) -> str:
        """What documents call it with its stage: `side to side, front, unloaded 1`."""
        return self.code if stage is None else f"{self.code}{self.joint}{stage[0]} {stage[1]}"


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckResult:
    """One check that was made. `limit` is what the value was held against, `side` which way is good."""

    kind: CheckKind
    value: float
    limit: float
    U: float
    unit: str
    verdict: Verdict
    source: str
    standing: str
    stage: StageKey | None = None

    @property
    def id(self) -> str:
        """The code of its kind."""
        return self.kind.id

    @property
    def check(self) -> str:
        """Its English name."""
        return self.kind.named(self.stage if self.kind.by_stage else None)


@dataclass(frozen=True, slots=True, kw_only=True)
class NotChecked:
    """One check that could not be made, and what it needs; `fact` is where that can be stated, if it is one."""

    kind: CheckKind
    needs: LiteralString
    fact: str | None = None
    stage_missed: StageKey | None = None

    @property
    def id(self) -> str:
        """The code of its kind."""
        return self.kind.id

    @property
    def check(self) -> str:
        """Its English name, with the stage it could not be made at."""
        return self.kind.named(self.stage_missed)


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """Something the technician should know, as a code with its figures; the words stand in one data file."""

    code: str
    level: Level
    fields: Mapping[str, float | str | None] = field(default_factory=dict)
    source: LiteralString = ""
    stage: StageKey | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ComponentRow:
    """A component of uncertainty, in `unit`, and whether it was measured, stated or assumed."""

    component: str
    u: float
    unit: str
    origin: Literal["measured", "stated", "assumed"]


@dataclass(frozen=True, slots=True, kw_only=True)
class BudgetRow:
    """What one source of uncertainty adds to the beam's, mm at the wall: `share` of its variance, from 0 to 1."""

    source: str
    contribution_mm: float
    share: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ShiftBudget:
    """The uncertainty budget of the beam shift at a stage, and what reading each corner twice would give."""

    stage: StageKey
    rows: tuple[BudgetRow, ...]
    u_shift_mm: float
    u_shift_read_twice_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class BeamPer:
    """What the beam does at the wall for this vehicle: per mm of rear height, and per kPa of air where known."""

    shift_mm_per_rear_mm: float | None
    shift_mm_per_kPa: float | None
    u_shift_mm_per_kPa: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Assessment:
    """Everything a session means, for every stage recorded so far."""

    reading: ReadingTerms
    stages: tuple[StageResult, ...]
    axles: AxleResult
    ride_rate_N_per_mm: float | None
    u_ride_rate_N_per_mm: float | None
    carried_N: float | None
    u_carried_N: float | None
    carried_low_N: float | None
    """Its bounds, which are not symmetric; `carried_high_N` None beside a lower one is "no upper bound"."""
    carried_high_N: float | None
    carried_at_least: bool
    """Only the lower bound is known: `carried_N` is at least that much."""
    air: tuple[AirResult, ...]
    sides: SidesResult | None
    pressure_table: tuple[TableRow, ...]
    leak: tuple[LeakResult, ...]
    restoration: Restoration | None
    verdicts: tuple[CheckResult, ...]
    not_checked: tuple[NotChecked, ...]
    findings: tuple[Finding, ...]
    overall: Overall
    components: tuple[ComponentRow, ...]
    """Every component of uncertainty with its size and origin."""
    k: Mapping[str, float]
    """Coverage factors by figure (`carried_N`, `ride_rate_N_per_mm`), where they are not 2."""
    budget: ShiftBudget | None
    beam: BeamPer
    screen_mm: float
    rule: str | None
    rule_title: str | None
    rule_load_state: str
    """How the vehicle is to be loaded where the rule is applied, as far as it says."""
    aim_assumed: bool
    """The aim when unloaded is the rule's nominal: neither stated nor measured."""

    @property
    def stops(self) -> tuple[Finding, ...]:
        """The findings that end the job. While there is one, no customer is told a pressure to set."""
        return tuple(finding for finding in self.findings if finding.level == "stop")

    @property
    def forbids_air(self) -> bool:
        """A load-sensing brake valve was found: the springs are not to be fitted, so that no pressure may be named."""
        return any(finding.code == "brake-valve" for finding in self.findings)

    def stage(self, key: StageKey) -> StageResult | None:
        """The result of one stage."""
        return next((stage for stage in self.stages if stage.key == key), None)
