"""The glovebox table: which pressure for which load, from this vehicle's own trials.

With another load the rear stands without air at h_unloaded − D₀·G'/G; the springs lift it by (c0 − h_loaded) + c1·P, as
they did in the trials. So that it stays no more than d below its unloaded height:

    P = (D₀·G'/G − d − (c0 − h_loaded))/c1        D₀ = h_unloaded − h_loaded

G is what the tried load put on the rear axle, G' what the other one would. Every row is an estimate: the springs' lift
is taken as the same at any load.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from cornerwalk.assess.air import held_within, u_of_pressure
from cornerwalk.assess.air_line import Line, NoLine
from cornerwalk.assess.rate import Height, ride_rate
from cornerwalk.assess.usable import root_sum_square, usable

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
    """A row for each load that can be reckoned with; none without a rising line and a ride rate.

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
        held = held_within(pressure_kPa, minimum_kPa, maximum_kPa)
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
