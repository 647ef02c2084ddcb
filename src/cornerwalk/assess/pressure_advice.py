"""Pressure advice: the next trial while trials are few, and the table of pressures for other loads."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from cornerwalk.assess.air import Target, limit_pressure, pressure_for, u_of_pressure
from cornerwalk.assess.air_line import Line, NoLine, Trial, fit_line
from cornerwalk.assess.axles import Height, ride_rate
from cornerwalk.assess.usable import positive, root_sum_square, usable

PSI_KPA = 4.4482216152605 / 0.0254**2 / 1000
"""One psi in kPa, exact by the definitions of inch, pound and standard gravity: the step gauges are marked in."""

Why = Literal["first trial", "second trial", "shows whether air raises the rear", "narrows the pressure most"]


@dataclass(frozen=True, slots=True, kw_only=True)
class NextTrial:
    """The pressure to try, why, and u(P*) as it would be then (None while there is no P*)."""

    pressure_kPa: float
    why: Why
    u_pressure_after_kPa: float | None = None


def next_pressure(
    trials: Sequence[Trial],
    target: Target | None,
    *,
    minimum_kPa: float | None,
    maximum_kPa: float | None,
    step_kPa: float = PSI_KPA,
) -> NextTrial | None:
    """The next pressure to try, on a whole step within the kit's limits or at one of them.

    None without both limits in order, or with unusable readings.
    """
    if not usable(minimum_kPa) or not usable(maximum_kPa) or minimum_kPa > maximum_kPa or not positive(step_kPa):
        return None
    limits = _Limits(minimum_kPa, maximum_kPa, step_kPa)
    line = fit_line(trials)
    if isinstance(line, NoLine):
        if line.reason == "no trials":
            return NextTrial(pressure_kPa=minimum_kPa, why="first trial")
        return _second(trials, target, limits) if line.reason != "readings missing" else None
    if line.rises and target is not None and usable(target.height_mm) and usable(target.u_mm):
        return _narrowest(line, trials, target, limits)
    farthest_kPa = max(minimum_kPa, maximum_kPa, key=lambda p: abs(p - line.centre_kPa))
    return NextTrial(pressure_kPa=farthest_kPa, why="shows whether air raises the rear")


@dataclass(frozen=True, slots=True)
class _Limits:
    """What may be set: whole steps from the lowest to the highest pressure, and these two."""

    lowest_kPa: float
    highest_kPa: float
    step_kPa: float

    def below(self, pressure_kPa: float) -> float:
        """The whole step at or below a pressure, within the limits; a hair below a step counts as on it."""
        return self._within(math.floor(pressure_kPa / self.step_kPa + 1e-9) * self.step_kPa)

    def above(self, pressure_kPa: float) -> float:
        """The whole step at or above a pressure, within the limits."""
        return self._within(math.ceil(pressure_kPa / self.step_kPa - 1e-9) * self.step_kPa)

    def _within(self, pressure_kPa: float) -> float:
        return min(max(pressure_kPa, self.lowest_kPa), self.highest_kPa)


def _second(trials: Sequence[Trial], target: Target | None, limits: _Limits) -> NextTrial | None:
    """Half-way from the one pressure tried to the limit on the target's side; to the other if there is no room."""
    tried_kPa = trials[0].pressure_kPa
    height_mm = sum(trial.height_mm for trial in trials) / len(trials)
    upward = target is None or not usable(target.height_mm) or height_mm < target.height_mm
    room_up, room_down = limits.highest_kPa - tried_kPa, tried_kPa - limits.lowest_kPa
    if (upward and room_up >= limits.step_kPa) or room_down < limits.step_kPa:
        pressure_kPa = limits.above((tried_kPa + limits.highest_kPa) / 2)
    else:
        pressure_kPa = limits.below((tried_kPa + limits.lowest_kPa) / 2)
    if not positive(abs(pressure_kPa - tried_kPa)):
        return None
    return NextTrial(pressure_kPa=pressure_kPa, why="second trial")


def _narrowest(line: Line, trials: Sequence[Trial], target: Target, limits: _Limits) -> NextTrial | None:
    """The step with the least u(P*) after a reading there as sure as the others are on average.

    Added at distance a from the centre, such a trial leaves the u of the line at P* least where a = (P* − p̄)(W + w)/w,
    growing steadily away from there but for the far side, where it falls again towards the limit: so the least of all
    steps is next to that place or at a limit.
    """
    answer_kPa = pressure_for(line, target.height_mm)
    if not usable(answer_kPa):
        return None
    allowed = _Limits(limits.lowest_kPa, limits.below(answer_kPa), limits.step_kPa)
    u_mm = math.sqrt(sum(trial.u_height_mm**2 for trial in trials) / len(trials))
    centring_kPa = line.centre_kPa + (answer_kPa - line.centre_kPa) * (1 + (u_mm / line.u_centre_mm) ** 2)
    steps = (allowed.below(centring_kPa), allowed.above(centring_kPa), allowed.lowest_kPa, allowed.highest_kPa)
    u_line_mm, _, best_kPa = min(
        (u_line_after(line, p, u_mm, at_kPa=answer_kPa), abs(p - answer_kPa), p) for p in steps
    )
    return NextTrial(
        pressure_kPa=best_kPa,
        why="narrows the pressure most",
        u_pressure_after_kPa=root_sum_square(u_line_mm, target.u_mm) / line.c1_mm_per_kPa,
    )


def u_line_after(line: Line, tried_kPa: float, u_height_mm: float, *, at_kPa: float) -> float:
    """The u of the line's height at `at_kPa` once a trial of that u is added at `tried_kPa`, mm.

    Weights add, W' = W + w; the centre moves to p̄' = p̄ + (p − p̄)w/W'; Sxx' = Sxx + (p − p̄)²·wW/W'.
    """
    weight, added = 1 / line.u_centre_mm**2, 1 / u_height_mm**2
    total = weight + added
    away_kPa = tried_kPa - line.centre_kPa
    s_xx = 1 / line.u_c1_mm_per_kPa**2 + away_kPa**2 * weight / total * added
    beyond_kPa = at_kPa - line.centre_kPa - away_kPa * added / total
    return math.sqrt(1 / total + beyond_kPa**2 / s_xx)


# ---- pressure table ----
#
# With another load the rear sits without air at h_unloaded − D₀·G'/G; the springs lift it by (c0 − h_loaded) + c1·P, as
# they did in the trials. To keep it no more than d below its unloaded height:
#
#     P = (D₀·G'/G − d − (c0 − h_loaded))/c1        D₀ = h_unloaded − h_loaded
#
# G is what the tried load put on the rear axle, G' what the other one would. Every row is an estimate: it takes the
# springs' lift as the same at any load.

Beyond = Literal["below minimum", "above maximum"]
_BEYOND: dict[str, Beyond] = {"minimum": "below minimum", "maximum": "above maximum"}


@dataclass(frozen=True, slots=True, kw_only=True)
class OtherLoad:
    """A load, and what it and all else then aboard would put on the rear axle."""

    load_N: float
    rear_gain_N: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PressureForLoad:
    """A row: where the line meets the allowed drop, and the pressure to set, None without the kit's limits.

    `u_pressure_kPa` holds for the heights; the loads are taken as stated. `beyond`: `pressure_kPa` lies outside the
    kit's limits and `recommended_kPa` is the limit. `extrapolated`: that is far outside the pressures tried.
    """

    load_N: float
    pressure_kPa: float
    u_pressure_kPa: float
    recommended_kPa: float | None
    beyond: Beyond | None
    extrapolated: bool


def pressure_table(
    line: Line | NoLine,
    loads: Sequence[OtherLoad],
    *,
    gain_N: float | None,
    unloaded: Height | None,
    loaded: Height | None,
    drop_allowed_mm: float,
    minimum_kPa: float | None,
    maximum_kPa: float | None,
) -> tuple[PressureForLoad, ...]:
    """A row for each usable load; none without a rising line and a ride rate.

    u²(P) = [u²(line at P) + ρ²u²(h_unloaded) + (1 − ρ)²u²(h_loaded)]/c1², ρ = G'/G: for the tried load and no drop
    allowed, that of the pressure for the unloaded height.
    """
    if isinstance(line, NoLine) or not line.rises or not usable(drop_allowed_mm):
        return ()
    if ride_rate(gain_N, unloaded, loaded).reason is not None or gain_N is None or unloaded is None or loaded is None:
        return ()
    rows = []
    for other in loads:
        if not usable(other.load_N) or not usable(other.rear_gain_N):
            continue
        part = other.rear_gain_N / gain_N
        wanted_mm = part * unloaded.mm + (1 - part) * loaded.mm - drop_allowed_mm
        pressure_kPa = line.centre_kPa + (wanted_mm - line.centre_mm) / line.c1_mm_per_kPa
        u_wanted_mm = root_sum_square(part * unloaded.u_mm, (1 - part) * loaded.u_mm)
        u_kPa = u_of_pressure(line, pressure_kPa, u_wanted_mm)
        if not usable(pressure_kPa) or not usable(u_kPa):
            continue
        held = limit_pressure(pressure_kPa, minimum_kPa, maximum_kPa)
        rows.append(
            PressureForLoad(
                load_N=other.load_N,
                pressure_kPa=pressure_kPa,
                u_pressure_kPa=u_kPa,
                recommended_kPa=held.pressure_kPa,
                beyond=_BEYOND[held.held_at] if held.held_at is not None else None,
                extrapolated=line.beyond_trials(held.pressure_kPa if held.pressure_kPa is not None else pressure_kPa),
            )
        )
    return tuple(rows)
