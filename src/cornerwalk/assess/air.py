"""Pressure recommendation: the pressure that brings the rear to its target, and what is left at the kit's limits.

    P* = (target − c0)/c1        u²(P*) = [u²(line at P*) + u²(target)]/c1²

with u²(line) = u²(1/n + (P* − p̄)²/Sxx) for equally sure trials. The rear is never sent above its unloaded height, nor
a spring outside its kit's limits; a level body is no sign that an axle carries less.

The u above is the first-order one. Simulated, ± 2u covers 94.5 to 96.7 % where the slope is at least six times its own
u, as two trials a third of the kit's range apart usually make it. Below that (`u_holds` False) it covers as little as
90 % for a pressure outside the trials, and 99 % for one between them. `low_kPa` and `high_kPa` are Fieller's bounds,
exact for a quotient of two normal figures: 95 % throughout, and to be shown instead there.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from cornerwalk.assess.air_line import Line, NoLine, NoLineReason
from cornerwalk.assess.uncertainty import COVERAGE
from cornerwalk.assess.usable import root_sum_square, usable

TargetName = Literal["unloaded height", "beam level"]
NoPressure = (
    NoLineReason
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Target:
    """The rear height asked for, mm, and its standard uncertainty.

    `short_of_level_mm`: how far below a level beam the rear stays because its unloaded height is not passed. Divided
    by the wheelbase it is the pitch that air does not cure; less tongue load, cargo forward, a load-distributing
    hitch or the lamps' own adjustment does.
    """

    name: TargetName
    height_mm: float
    u_mm: float
    short_of_level_mm: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Recommendation:
    """The pressure for the target, and the one to set.

    `pressure_kPa` is where the line meets the target, whether the kit allows it or not; `recommended_kPa` lies within
    the kit's limits and is None, with a `reason`, where nothing should be recommended. `left_mm` is how far the rear
    stays below the target there (negative: above it). `extrapolated`: more than half the tried span outside the trials.
    `u_holds` False: the slope is too unsure for ± 2u, the bounds `low_kPa` and `high_kPa` are to be shown.
    """

    pressure_kPa: float | None = None
    u_pressure_kPa: float | None = None
    u_holds: bool = False
    low_kPa: float | None = None
    high_kPa: float | None = None
    recommended_kPa: float | None = None
    held_at: Literal["minimum", "maximum"] | None = None
    left_mm: float | None = None
    u_left_mm: float | None = None
    extrapolated: bool = False
    reason: NoPressure | None = None


def unloaded_target(unloaded_mm: float | None, u_unloaded_mm: float | None) -> Target | None:
    """The rear's own unloaded height."""
    if not usable(unloaded_mm) or not usable(u_unloaded_mm):
        return None
    return Target(name="unloaded height", height_mm=unloaded_mm, u_mm=u_unloaded_mm)


def level_target(
    unloaded_mm: float | None,
    u_unloaded_mm: float | None,
    front_change_mm: float | None,
    u_front_change_mm: float | None,
) -> Target | None:
    """The rear height at which ΔR = ΔF and the beam stands as it did unloaded, but never above the unloaded height.

    `front_change_mm` is ΔF, front mean now less unloaded: where the load lifted the front, level would ask for more
    than the unloaded height, and what is missing is `short_of_level_mm`.

    >>> level_target(742.0, 0.6, 6.35, 0.9).short_of_level_mm
    6.35
    """
    if not usable(unloaded_mm) or not usable(u_unloaded_mm):
        return None
    if not usable(front_change_mm) or not usable(u_front_change_mm):
        return None
    if front_change_mm >= 0:
        return Target(name="beam level", height_mm=unloaded_mm, u_mm=u_unloaded_mm, short_of_level_mm=front_change_mm)
    u_mm = root_sum_square(u_unloaded_mm, u_front_change_mm)
    return Target(name="beam level", height_mm=unloaded_mm + front_change_mm, u_mm=u_mm)


def recommend(
    line: Line | NoLine, target: Target | None, *, minimum_kPa: float | None, maximum_kPa: float | None
) -> Recommendation:
    """The pressure for the target within the kit's limits, or why there is none.

    Nothing is recommended without both of the kit's limits, or where more air did not raise the rear by more than the
    slope's U: that is a leak, a kinked line or a bag not seated, or pressures tried too close together to tell.
    """
    if isinstance(line, NoLine):
        return Recommendation(reason=line.reason)
    if not line.rises:
        return Recommendation(reason=_why_flat(line, minimum_kPa, maximum_kPa))
    if target is None or not usable(target.height_mm) or not usable(target.u_mm):
        return Recommendation(reason="target missing")
    pressure_kPa = pressure_for(line, target.height_mm)
    u_kPa = u_of_pressure(line, pressure_kPa, target.u_mm)
    low_kPa, high_kPa = fieller_bounds(line, target.height_mm, target.u_mm)
    if not (usable(pressure_kPa) and usable(u_kPa) and usable(low_kPa) and usable(high_kPa)):
        return Recommendation(reason="out of all proportion")
    limits = limit_pressure(pressure_kPa, minimum_kPa, maximum_kPa)
    set_kPa = limits.pressure_kPa if limits.pressure_kPa is not None else pressure_kPa
    return Recommendation(
        pressure_kPa=pressure_kPa,
        u_pressure_kPa=u_kPa,
        u_holds=line.c1_mm_per_kPa >= SLOPE_FOR_U * line.u_c1_mm_per_kPa,
        low_kPa=low_kPa,
        high_kPa=high_kPa,
        recommended_kPa=limits.pressure_kPa,
        held_at=limits.held_at,
        left_mm=target.height_mm - line.height_mm(set_kPa) if limits.pressure_kPa is not None else None,
        u_left_mm=root_sum_square(target.u_mm, line.u_height_mm(set_kPa)) if limits.pressure_kPa is not None else None,
        extrapolated=line.beyond_trials(set_kPa),
        reason=limits.reason,
    )


def _why_flat(line: Line, minimum_kPa: float | None, maximum_kPa: float | None) -> NoPressure:
    """A slope that does not stand out: of a fault, or only of trials too near each other for the tape?"""
    falls = line.c1_mm_per_kPa < -COVERAGE * line.u_c1_mm_per_kPa
    if falls or not usable(minimum_kPa) or not usable(maximum_kPa):
        return "air does not raise the rear"
    if line.span_kPa < CLOSE_PART_OF_RANGE * (maximum_kPa - minimum_kPa):
        return "pressures too close"
    return "air does not raise the rear"


def pressure_for(line: Line, height_mm: float) -> float:
    """The pressure, kPa, at which the line gives this height; the line must rise."""
    return line.centre_kPa + (height_mm - line.centre_mm) / line.c1_mm_per_kPa


def u_of_pressure(line: Line, pressure_kPa: float, u_height_mm: float) -> float:
    """First-order standard uncertainty, kPa, of the pressure for a height that has its own; the line must rise."""
    return root_sum_square(line.u_height_mm(pressure_kPa), u_height_mm) / line.c1_mm_per_kPa


def fieller_bounds(line: Line, height_mm: float, u_height_mm: float) -> tuple[float, float]:
    """The pressures at which the line and the height agree within U: Fieller's bounds; the line must rise.

    They are the roots of (height − c0 − c1·P)² = k²·[u²(line at P) + u²(height)]. A rising line (c1 > k·u(c1)) gives
    two. They lie further out on the side away from the trials. Source: E. C. Fieller's theorem (from memory); held
    against simulated trials in the tests.
    """
    k = COVERAGE
    slope, u_slope = line.c1_mm_per_kPa, line.u_c1_mm_per_kPa
    rise = height_mm - line.centre_mm
    lead = (slope - k * u_slope) * (slope + k * u_slope)
    spread = (k * u_slope * rise) ** 2 + lead * k * k * (line.u_centre_mm**2 + u_height_mm**2)
    middle, half = slope * rise / lead, math.sqrt(spread) / lead
    return line.centre_kPa + middle - half, line.centre_kPa + middle + half


@dataclass(frozen=True, slots=True, kw_only=True)
class LimitedPressure:
    """A pressure brought within the kit's limits; None with a reason where they are not both stated in order."""

    pressure_kPa: float | None = None
    held_at: Literal["minimum", "maximum"] | None = None
    reason: Literal["kit limits missing", "kit limits crossed"] | None = None


def limit_pressure(pressure_kPa: float, minimum_kPa: float | None, maximum_kPa: float | None) -> LimitedPressure:
    """The pressure, or the limit it would pass.

    >>> limit_pressure(246.2, 34.5, 241.3).held_at
    'maximum'
    """
    if not usable(minimum_kPa) or not usable(maximum_kPa):
        return LimitedPressure(reason="kit limits missing")
    if minimum_kPa > maximum_kPa:
        return LimitedPressure(reason="kit limits crossed")
    if pressure_kPa > maximum_kPa:
        return LimitedPressure(pressure_kPa=maximum_kPa, held_at="maximum")
    if pressure_kPa < minimum_kPa:
        return LimitedPressure(pressure_kPa=minimum_kPa, held_at="minimum")
    return LimitedPressure(pressure_kPa=pressure_kPa)


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
        u_shift_mm_per_kPa=abs(shift_mm_per_rear_mm) * line.u_c1_mm_per_kPa,
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

    `tee_mm` at one pressure for both, `separate_mm` at the two recommended; None where one is missing.
    """

    left: Recommendation
    right: Recommendation
    tee_mm: float | None
    u_tee_mm: float | None
    separate_mm: float | None
    u_separate_mm: float | None


def per_side(
    left: Line | NoLine,
    right: Line | NoLine,
    left_target: Target | None,
    right_target: Target | None,
    *,
    minimum_kPa: float | None,
    maximum_kPa: float | None,
    tee_kPa: float | None = None,
) -> Sides:
    """The two pressures, and the side-to-side difference with a common pressure (`tee_kPa`) against that with two.

    `left` and `right` are fitted to the corners' heights: against each side's own pressure where the lines are
    separate, against the common one where they are tee'd.
    """
    left_air = recommend(left, left_target, minimum_kPa=minimum_kPa, maximum_kPa=maximum_kPa)
    right_air = recommend(right, right_target, minimum_kPa=minimum_kPa, maximum_kPa=maximum_kPa)
    tee = _difference(_left_over(left, left_target, tee_kPa), _left_over(right, right_target, tee_kPa))
    separate = _difference(
        _left_over(left, left_target, left_air.recommended_kPa),
        _left_over(right, right_target, right_air.recommended_kPa),
    )
    return Sides(
        left=left_air,
        right=right_air,
        tee_mm=tee[0],
        u_tee_mm=tee[1],
        separate_mm=separate[0],
        u_separate_mm=separate[1],
    )


def _left_over(line: Line | NoLine, target: Target | None, pressure_kPa: float | None) -> tuple[float, float] | None:
    """A corner's height above its target at a pressure, and its u."""
    if isinstance(line, NoLine) or target is None or not usable(pressure_kPa):
        return None
    if not usable(target.height_mm) or not usable(target.u_mm):
        return None
    u_mm = root_sum_square(line.u_height_mm(pressure_kPa), target.u_mm)
    return line.height_mm(pressure_kPa) - target.height_mm, u_mm


def _difference(
    left: tuple[float, float] | None, right: tuple[float, float] | None
) -> tuple[float, float] | tuple[None, None]:
    if left is None or right is None:
        return None, None
    return left[0] - right[0], root_sum_square(left[1], right[1])
