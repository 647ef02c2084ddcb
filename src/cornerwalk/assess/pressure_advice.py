"""Pressure advice: the next trial while trials are few, and the table of pressures for other loads."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from cornerwalk.assess.air import KitLimits, Target, settle_pressure
from cornerwalk.assess.air_line import Line, NoLine, Trial, fit_line
from cornerwalk.assess.axles import ride_rate
from cornerwalk.assess.estimate import Estimate, combine, usable_estimate
from cornerwalk.assess.usable import positive, root_sum_square, usable

Why = Literal["first trial", "second trial", "shows whether air raises the rear", "narrows the pressure most"]


@dataclass(frozen=True, slots=True, kw_only=True)
class NextTrial:
    """The pressure to try, why, and u(P*) as it would be then (None while there is no P*)."""

    pressure_kPa: float
    why: Why
    u_pressure_after_kPa: float | None = None


def next_pressure(
    trials: Sequence[Trial], target: Target | None, limits: KitLimits, line: Line | NoLine | None = None
) -> NextTrial | None:
    """The next pressure to try, on a mark of the gauge within the kit's limits.

    `line` is the one through the trials, where it is at hand. None without both limits in order, or with unusable
    readings.
    """
    if limits.reason is not None or (limits.gauge is not None and not positive(limits.gauge.step_kPa)):
        return None
    allowed = _Allowed(limits.lowest_kPa, limits.highest_kPa, limits)
    line = line or fit_line(trials)
    if isinstance(line, NoLine):
        if line.reason == "no trials":
            return NextTrial(pressure_kPa=allowed.lowest_kPa, why="first trial")
        return _second(trials, target, allowed) if line.reason != "readings missing" else None
    height = usable_estimate(target.height) if target is not None else None
    if line.rises and height is not None:
        return _narrowest(line, trials, height, allowed)
    farthest_kPa = max(allowed.lowest_kPa, allowed.highest_kPa, key=lambda p: abs(p - line.center_kPa))
    return NextTrial(pressure_kPa=farthest_kPa, why="shows whether air raises the rear")


@dataclass(frozen=True, slots=True)
class _Allowed:
    """What may be set: the gauge's marks from the lowest to the highest pressure."""

    lowest_kPa: float
    highest_kPa: float
    limits: KitLimits

    @property
    def step_kPa(self) -> float:
        return self.limits.gauge.step_kPa if self.limits.gauge is not None else 0.0

    def below(self, pressure_kPa: float) -> float:
        """The mark at or below a pressure, within the limits."""
        return self._within(self.limits.mark_below_kPa(pressure_kPa))

    def above(self, pressure_kPa: float) -> float:
        """The mark at or above a pressure, within the limits."""
        return self._within(self.limits.mark_above_kPa(pressure_kPa))

    def _within(self, pressure_kPa: float) -> float:
        return min(max(pressure_kPa, self.lowest_kPa), self.highest_kPa)


def _second(trials: Sequence[Trial], target: Target | None, allowed: _Allowed) -> NextTrial | None:
    """Half-way from the one pressure tried to the limit on the target's side; to the other if there is no room."""
    tried_kPa = trials[0].pressure.value
    height_mm = sum(trial.height.value for trial in trials) / len(trials)
    wanted = usable_estimate(target.height) if target is not None else None
    upward = wanted is None or height_mm < wanted.value
    room_up, room_down = allowed.highest_kPa - tried_kPa, tried_kPa - allowed.lowest_kPa
    if (upward and room_up >= allowed.step_kPa) or room_down < allowed.step_kPa:
        pressure_kPa = allowed.above((tried_kPa + allowed.highest_kPa) / 2)
    else:
        pressure_kPa = allowed.below((tried_kPa + allowed.lowest_kPa) / 2)
    if not positive(abs(pressure_kPa - tried_kPa)):
        return None
    return NextTrial(pressure_kPa=pressure_kPa, why="second trial")


def _narrowest(line: Line, trials: Sequence[Trial], height: Estimate, limits: _Allowed) -> NextTrial | None:
    """The mark with the least u(P*) after a reading there as sure as the others are on average.

    Added at distance a from the center, such a trial leaves the u of the line at P* least where a = (P* − p̄)(W + w)/w,
    growing steadily away from there but for the far side, where it falls again towards the limit: so the least of all
    steps is next to that place or at a limit.
    """
    answer_kPa = line.pressure(height).value
    if not usable(answer_kPa):
        return None
    allowed = _Allowed(limits.lowest_kPa, limits.below(answer_kPa), limits.limits)
    u_mm = math.sqrt(sum(1 / weight for weight in line.weights) / len(trials))
    centering_kPa = line.center_kPa + (answer_kPa - line.center_kPa) * (1 + u_mm**2 * sum(line.weights))
    steps = (allowed.below(centering_kPa), allowed.above(centering_kPa), allowed.lowest_kPa, allowed.highest_kPa)
    u_line_mm, _, best_kPa = min(
        (u_line_after(line, p, u_mm, at_kPa=answer_kPa), abs(p - answer_kPa), p) for p in steps
    )
    return NextTrial(
        pressure_kPa=best_kPa,
        why="narrows the pressure most",
        u_pressure_after_kPa=root_sum_square(u_line_mm, height.u) / line.c1_mm_per_kPa,
    )


def u_line_after(line: Line, tried_kPa: float, u_height_mm: float, *, at_kPa: float) -> float:
    """The u of the line's height at `at_kPa` once a trial of that u is added at `tried_kPa`, mm.

    Weights add, W' = W + w; the center moves to p̄' = p̄ + (p − p̄)w/W'; Sxx' = Sxx + (p − p̄)²·wW/W'.
    """
    weight, added = sum(line.weights), 1 / u_height_mm**2
    total = weight + added
    away_kPa = tried_kPa - line.center_kPa
    s_xx = line.s_xx + away_kPa**2 * weight / total * added
    beyond_kPa = at_kPa - line.center_kPa - away_kPa * added / total
    return math.sqrt(1 / total + beyond_kPa**2 / s_xx)


# ---- pressure table ----
#
# With another load the rear sits without air at h_unloaded − D₀·G'/G; the springs lift it by (c0 − h_loaded) + c1·P, as
# they did in the trials. To keep it no more than d below its unloaded height, d the allowed drop but at least the guard
# of a recommendation:
#
#     P = (D₀·G'/G − d − (c0 − h_loaded))/c1        D₀ = h_unloaded − h_loaded
#
# G is what the tried load put on the rear axle, G' what the other one would. Every row is an estimate: it takes the
# springs' lift as the same at any load.

Beyond = Literal["below minimum", "above maximum"]


@dataclass(frozen=True, slots=True)
class OtherLoad:
    """A load, and what it and all else then aboard would put on the rear axle, N."""

    load_N: float
    rear_gain: Estimate


@dataclass(frozen=True, slots=True)
class LoadedDrop:
    """What the tried load did without air: its gain on the rear axle, N, and the rear heights before and after, mm."""

    gain: Estimate
    unloaded: Estimate
    loaded: Estimate

    def expected(self, rear_gain: Estimate) -> Estimate:
        """How much higher than in the trials another load leaves the rear, mm: D₀·(1 − G'/G)."""
        drop = self.unloaded - self.loaded
        part = rear_gain.value / self.gain.value
        per_N = drop.value / self.gain.value
        return combine(drop.value * (1 - part), (1 - part, drop), (-per_N, rear_gain), (per_N * part, self.gain))


@dataclass(frozen=True, slots=True, kw_only=True)
class PressureForLoad:
    """A row: where the line meets the allowed drop, and the mark to set.

    `recommended_kPa` is None without the kit's limits, and where the kit's minimum lifts the rear too high. `beyond`:
    `pressure_kPa` lies outside the kit's limits. `extrapolated`: what is to be set is far outside the pressures tried.
    """

    load_N: float
    pressure: Estimate
    recommended_kPa: float | None
    beyond: Beyond | None
    extrapolated: bool

    @property
    def pressure_kPa(self) -> float:
        """Where the line meets the allowed drop."""
        return self.pressure.value

    @property
    def u_pressure_kPa(self) -> float:
        """Its standard uncertainty."""
        return self.pressure.u


def loaded_drop(gain: Estimate | None, unloaded: Estimate | None, loaded: Estimate | None) -> LoadedDrop | None:
    """The drop of the tried load; None where no ride rate follows from it."""
    if ride_rate(gain, unloaded, loaded).rate is None or gain is None or unloaded is None or loaded is None:
        return None
    return LoadedDrop(gain, unloaded, loaded)


def pressure_table(
    line: Line | NoLine, loads: Sequence[OtherLoad], drop: LoadedDrop | None, limits: KitLimits, *, below_mm: float
) -> tuple[PressureForLoad, ...]:
    """A row for each usable load; none without a rising line and the drop of the tried load.

    `below_mm` is how far below its unloaded height the rear is aimed.
    """
    if isinstance(line, NoLine) or not line.rises or drop is None or not usable(below_mm):
        return ()
    rows = (_row(line, load, drop, limits, below_mm) for load in loads if usable(load.load_N))
    return tuple(row for row in rows if row is not None)


def _row(line: Line, load: OtherLoad, drop: LoadedDrop, limits: KitLimits, below_mm: float) -> PressureForLoad | None:
    if usable_estimate(load.rear_gain) is None:
        return None
    higher = drop.expected(load.rear_gain)
    pressure = line.pressure((drop.unloaded - higher) + Estimate(-below_mm))
    if usable_estimate(pressure) is None:
        return None
    setting = settle_pressure(
        pressure.value, limits, lambda kPa: line.height_mm(kPa) + higher.value - drop.unloaded.value
    )
    outside: dict[str | None, Beyond] = {"minimum": "below minimum", "maximum": "above maximum"}
    set_kPa = setting.pressure_kPa
    return PressureForLoad(
        load_N=load.load_N,
        pressure=pressure,
        recommended_kPa=set_kPa,
        beyond=outside.get(setting.held_at),
        extrapolated=line.beyond_trials(pressure.value if set_kPa is None else set_kPa),
    )
