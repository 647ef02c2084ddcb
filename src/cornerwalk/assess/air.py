"""Pressure recommendation: what to set so that the rear comes up to its target, on the gauge's own marks.

    P* = (target − c0)/c1        aim  h_aim = min(target − U(ΔR) − g/2, h_unloaded − allowed drop)

P* is where the line meets the target. What is recommended is guarded: whoever sets it and reads what the line predicts
gets a pass, so the aim stays below the target by what the next reading may be off, U of the rear's change and half a
mark of the tape. The pressure for the aim goes down to a mark of the gauge and never above the kit's maximum. Below the
kit's minimum the minimum is recommended if the line does not put it above the target; if it does, the kit is too strong
for this load, and no pressure is recommended. The rear is never sent above its unloaded height; a level body is no sign
that an axle carries less.

The u of P* is the first-order one. Simulated, ± 2u covers 94.5 to 96.7 % where the slope is at least six times its own
u, as two trials a third of the kit's range apart usually make it. Below that (`u_holds` False) it covers as little as
90 % for a pressure outside the trials, and 99 % for one between them. `low_kPa` and `high_kPa` are Fieller's bounds,
exact for a quotient of two normal figures: 95 % throughout, and to be shown instead there.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from cornerwalk.assess.air_line import Line, NoLine, NoLineReason
from cornerwalk.assess.estimate import COVERAGE, Estimate, usable_estimate
from cornerwalk.assess.gauge import Gauge
from cornerwalk.assess.usable import usable

TargetName = Literal["unloaded height", "beam level"]
Forbidden = Literal["level control at work", "air lowered the rear", "kit too strong"]
"""Why no pressure is recommended and no next trial named, whatever the line says."""
NoPressure = (
    NoLineReason
    | Forbidden
    | Literal[
        "air does not raise the rear",
        "pressures too close",
        "target missing",
        "kit limits missing",
        "kit limits crossed",
        "out of all proportion",
    ]
)

SLOPE_FOR_U = 6.0
"""c1/u(c1) from which the first-order u is good for 95 ± 2 %: found by simulation, see the tests of coverage."""

CLOSE_PART_OF_RANGE = 0.25
"""Trials over less of the kit's range than this say little about a slope; assumed, no source."""


@dataclass(frozen=True, slots=True)
class Target:
    """The rear height asked for, mm.

    `short_of_level_mm`: how far below a level beam the rear stays because its unloaded height is not passed. Divided
    by the wheelbase it is the pitch that air does not cure; less tongue load, cargo forward, a load-distributing
    hitch or the lamps' own adjustment does.
    """

    name: TargetName
    height: Estimate
    short_of_level_mm: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class KitLimits:
    """The kit's pressures, None where its sheet was not asked, and the gauge that they are set on.

    Without a gauge any pressure can be set.
    """

    minimum_kPa: float | None = None
    maximum_kPa: float | None = None
    gauge: Gauge | None = None

    @property
    def reason(self) -> Literal["kit limits missing", "kit limits crossed"] | None:
        """Why nothing can be set within them; None where it can."""
        if not usable(self.minimum_kPa) or not usable(self.maximum_kPa):
            return "kit limits missing"
        return "kit limits crossed" if self.minimum_kPa > self.maximum_kPa else None

    @property
    def lowest_kPa(self) -> float:
        """The lowest mark that the kit allows, or its minimum where no mark lies within."""
        minimum_kPa, maximum_kPa = self.minimum_kPa or 0.0, self.maximum_kPa or 0.0
        mark_kPa = self.mark_above_kPa(minimum_kPa)
        return mark_kPa if mark_kPa <= maximum_kPa else minimum_kPa

    @property
    def highest_kPa(self) -> float:
        """The highest mark that the kit allows, or its maximum where no mark lies within."""
        minimum_kPa, maximum_kPa = self.minimum_kPa or 0.0, self.maximum_kPa or 0.0
        mark_kPa = self.mark_below_kPa(maximum_kPa)
        return mark_kPa if mark_kPa >= minimum_kPa else maximum_kPa

    def mark_below_kPa(self, pressure_kPa: float) -> float:
        """The gauge's mark at or below a pressure."""
        return pressure_kPa if self.gauge is None else self.gauge.at_or_below_kPa(pressure_kPa)

    def mark_above_kPa(self, pressure_kPa: float) -> float:
        """The gauge's mark at or above a pressure."""
        return pressure_kPa if self.gauge is None else self.gauge.at_or_above_kPa(pressure_kPa)


@dataclass(frozen=True, slots=True, kw_only=True)
class PressureSetting:
    """The pressure to set for an aim; None with a reason where none is to be set.

    `above_mm`: how far the kit's minimum lifts the rear above its target, where it does.
    """

    pressure_kPa: float | None = None
    held_at: Literal["minimum", "maximum"] | None = None
    reason: NoPressure | None = None
    above_mm: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Recommendation:
    """The pressure for the target, and the one to set.

    `pressure_kPa` is where the line meets the target, whether the kit allows it or not, with its u and k. `aimed_kPa`
    is that of the guarded aim. `recommended_kPa` is on a mark of the gauge within the kit's limits and is None, with a
    `reason`, where nothing should be recommended. `left_mm` is how far the rear stays below the target there (negative:
    above it). `extrapolated`: more than half the tried span outside the trials. `u_holds` False: the slope is too
    unsure for ± U, the bounds `low_kPa` and `high_kPa` are to be shown; None is no bound.
    """

    pressure: Estimate | None = None
    u_holds: bool = False
    low_kPa: float | None = None
    high_kPa: float | None = None
    aimed_kPa: float | None = None
    recommended_kPa: float | None = None
    held_at: Literal["minimum", "maximum"] | None = None
    left: Estimate | None = None
    above_mm: float | None = None
    extrapolated: bool = False
    reason: NoPressure | None = None

    @property
    def pressure_kPa(self) -> float | None:
        """Where the line meets the target."""
        return None if self.pressure is None else self.pressure.value

    @property
    def u_pressure_kPa(self) -> float | None:
        """Its standard uncertainty."""
        return None if self.pressure is None else self.pressure.u

    @property
    def left_mm(self) -> float | None:
        """How far the rear stays below the target at the recommended pressure."""
        return None if self.left is None else self.left.value

    @property
    def u_left_mm(self) -> float | None:
        """Its standard uncertainty."""
        return None if self.left is None else self.left.u


def unloaded_target(unloaded: Estimate | None) -> Target | None:
    """The rear's own unloaded height."""
    unloaded = usable_estimate(unloaded)
    return None if unloaded is None else Target("unloaded height", unloaded)


def level_target(unloaded: Estimate | None, front_change: Estimate | None) -> Target | None:
    """The rear height at which ΔR = ΔF and the beam stands as it did unloaded, but never above the unloaded height.

    `front_change` is ΔF in mm, front mean now less unloaded: where the load lifted the front, level would ask for more
    than the unloaded height, and what is missing is `short_of_level_mm`.

    >>> level_target(Estimate(742.0, 0.6), Estimate(6.35, 0.9)).short_of_level_mm
    6.35
    """
    unloaded, front_change = usable_estimate(unloaded), usable_estimate(front_change)
    if unloaded is None or front_change is None:
        return None
    if front_change.value >= 0:
        return Target("beam level", unloaded, short_of_level_mm=front_change.value)
    return Target("beam level", unloaded + front_change)


def guard_mm(change: Estimate, graduation_mm: float) -> float:
    """How far below its target the rear is aimed: U of its change when it is read again, and half a mark of the tape.

    >>> round(guard_mm(Estimate(0.0, 0.0360844), 1 / 16), 6)          # worked case, inches
    0.103419
    """
    return change.U + graduation_mm / 2


def recommend(
    line: Line | NoLine,
    target: Target | None,
    limits: KitLimits,
    *,
    guard_mm: float = 0.0,
    forbidden: Forbidden | None = None,
) -> Recommendation:
    """The pressure for the target within the kit's limits, or why there is none.

    Nothing is recommended without both of the kit's limits, or where more air did not raise the rear by more than the
    slope's U: that is a leak, a kinked line or a bag not seated, or pressures tried too close together to tell.
    """
    if forbidden is not None:
        return Recommendation(reason=forbidden)
    if isinstance(line, NoLine):
        return Recommendation(reason=line.reason)
    if not line.rises:
        return Recommendation(reason=_why_flat(line, limits))
    height = usable_estimate(target.height) if target is not None else None
    if height is None:
        return Recommendation(reason="target missing")
    pressure = line.pressure(height)
    bounds = fieller_bounds(line, height)
    if usable_estimate(pressure) is None or any(bound is not None and not usable(bound) for bound in bounds):
        return Recommendation(reason="out of all proportion")
    aimed_kPa = line.pressure(Estimate(height.value - guard_mm)).value
    setting = settle_pressure(aimed_kPa, limits, lambda kPa: line.height_mm(kPa) - height.value)
    set_kPa = setting.pressure_kPa
    return Recommendation(
        pressure=pressure,
        u_holds=line.c1_mm_per_kPa >= SLOPE_FOR_U * line.slope.u and line.slope.k == COVERAGE,
        low_kPa=bounds[0],
        high_kPa=bounds[1],
        aimed_kPa=aimed_kPa,
        recommended_kPa=set_kPa,
        held_at=setting.held_at,
        left=height - line.height(set_kPa) if set_kPa is not None else None,
        above_mm=setting.above_mm,
        extrapolated=line.beyond_trials(pressure.value if set_kPa is None else set_kPa),
        reason=setting.reason,
    )


def settle_pressure(aimed_kPa: float, limits: KitLimits, above_mm: Callable[[float], float]) -> PressureSetting:
    """The mark to set for a pressure that was worked out; one rule for every load.

    `above_mm` tells how far a pressure lifts the rear above its target, negative below it.

    >>> limits = KitLimits(minimum_kPa=34.5, maximum_kPa=241.3)
    >>> settle_pressure(246.2, limits, lambda kPa: -1.0).held_at, settle_pressure(20.0, limits, lambda kPa: 2.5).reason
    ('maximum', 'kit too strong')
    """
    if limits.reason is not None or limits.maximum_kPa is None:
        return PressureSetting(reason=limits.reason)
    if aimed_kPa > limits.maximum_kPa * (1 + 1e-9):
        return PressureSetting(pressure_kPa=limits.highest_kPa, held_at="maximum")
    mark_kPa = min(limits.mark_below_kPa(aimed_kPa), limits.highest_kPa)
    if mark_kPa >= limits.lowest_kPa:
        return PressureSetting(pressure_kPa=mark_kPa)
    over_mm = above_mm(limits.lowest_kPa)
    if over_mm > 0:
        return PressureSetting(held_at="minimum", reason="kit too strong", above_mm=over_mm)
    return PressureSetting(pressure_kPa=limits.lowest_kPa, held_at="minimum")


def _why_flat(line: Line, limits: KitLimits) -> NoPressure:
    """A slope that does not stand out: of a fault, or only of trials too near each other for the tape?"""
    minimum_kPa, maximum_kPa = limits.minimum_kPa, limits.maximum_kPa
    falls = line.c1_mm_per_kPa < -COVERAGE * line.slope.u
    if falls or not usable(minimum_kPa) or not usable(maximum_kPa):
        return "air does not raise the rear"
    if line.span_kPa < CLOSE_PART_OF_RANGE * (maximum_kPa - minimum_kPa):
        return "pressures too close"
    return "air does not raise the rear"


def fieller_bounds(line: Line, height: Estimate) -> tuple[float | None, float | None]:
    """The pressures at which the line and a height of other readings agree within U: Fieller's bounds.

    They are the roots of (height − c0 − c1·P)² = k²·[u²(line at P) + u²(height)]. A line that rises by more than
    k·u(c1) gives two; otherwise there is no bound. They lie further out on the side away from the trials. Source:
    E. C. Fieller's theorem (from memory); held against simulated trials in the tests.
    """
    slope = line.slope
    k, center = slope.k, line.u_center_mm
    rise = height.value - line.center_mm
    lead = (slope.value - k * slope.u) * (slope.value + k * slope.u)
    if slope.value <= k * slope.u or lead <= 0:
        return None, None
    spread = (k * slope.u * rise) ** 2 + lead * k * k * (center**2 + height.u**2)
    middle, half = slope.value * rise / lead, math.sqrt(spread) / lead
    return line.center_kPa + middle - half, line.center_kPa + middle + half


@dataclass(frozen=True, slots=True, kw_only=True)
class BeamPerAir:
    """What the beam does on the wall for each kPa of air: mm, up positive, with its standard uncertainty."""

    shift_mm_per_kPa: float
    u_shift_mm_per_kPa: float


def beam_per_air(line: Line | NoLine, shift_mm_per_rear_mm: float | None) -> BeamPerAir | None:
    """The slope of the line times what the beam does per mm of rear height (negative: a rising rear lowers it)."""
    if isinstance(line, NoLine) or not usable(shift_mm_per_rear_mm):
        return None
    return BeamPerAir(
        shift_mm_per_kPa=line.c1_mm_per_kPa * shift_mm_per_rear_mm,
        u_shift_mm_per_kPa=abs(shift_mm_per_rear_mm) * line.slope.u,
    )


# ---- separate lines ----
#
# A tee gives both springs one pressure, but each corner responds with its own line, which tells what pressure would
# bring that corner to its own height. This treats each corner as moved by its own spring alone; an anti-roll bar and a
# stiff body carry part of it across, so the true difference of pressures is larger. It is an estimate that the first
# trial with separate lines replaces.


@dataclass(frozen=True, slots=True, kw_only=True)
class Sides:
    """A pressure for each rear corner, and how far the left then stands above the right, each from its own target.

    `tee` at one pressure for both, `separate` at the two recommended, mm; None where one is missing.
    """

    left: Recommendation
    right: Recommendation
    tee: Estimate | None
    separate: Estimate | None


def per_side(
    left: Line | NoLine,
    right: Line | NoLine,
    left_target: Target | None,
    right_target: Target | None,
    limits: KitLimits,
    *,
    tee_kPa: float | None = None,
    guard_mm: float = 0.0,
) -> Sides:
    """The two pressures, and the side-to-side difference with a common pressure (`tee_kPa`) against that with two.

    `left` and `right` are fitted to the corners' heights: against each side's own pressure where the lines are
    separate, against the common one where they are tee'd.
    """
    left_air = recommend(left, left_target, limits, guard_mm=guard_mm)
    right_air = recommend(right, right_target, limits, guard_mm=guard_mm)
    return Sides(
        left=left_air,
        right=right_air,
        tee=_difference(_above(left, left_target, tee_kPa), _above(right, right_target, tee_kPa)),
        separate=_difference(
            _above(left, left_target, left_air.recommended_kPa), _above(right, right_target, right_air.recommended_kPa)
        ),
    )


def _above(line: Line | NoLine, target: Target | None, pressure_kPa: float | None) -> Estimate | None:
    """A corner's height above its target at a pressure."""
    height = usable_estimate(target.height) if target is not None else None
    if isinstance(line, NoLine) or height is None or not usable(pressure_kPa):
        return None
    return line.height(pressure_kPa) - height


def _difference(left: Estimate | None, right: Estimate | None) -> Estimate | None:
    return None if left is None or right is None else left - right
