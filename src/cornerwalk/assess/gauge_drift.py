"""Gauge drift: what cold and altitude do to a sealed bag's gauge while no air is lost.

Cold, ideal gas at constant volume: Δp = (p + a)·ΔT/T, p gauge, a atmosphere. The bag gives way as it cools, so that the
gauge falls less: 1/(1+χ) of that, up to all of it where friction holds the body; with χ = 1, its volume not known, the
mean of the two is 3/4. Altitude: the gauge rises by what the atmosphere falls, about 0.5 psi for 1,000 ft near the sea.
Sources: ideal gas; U.S. Standard Atmosphere 1976 for the fall of the atmosphere.
"""

from __future__ import annotations

from cornerwalk.assess.leak import KELVIN_AT_0_C, SEA_LEVEL_kPa, standard_pressure_kPa

BAG_FACTOR = 0.75
"""Share of the rigid bag's fall that is read on the gauge, the bag's volume not known."""

ROOM_C = 20.0


def fall_in_cold_kPa(pressure_kPa: float, cooling_K: float) -> float:
    """What the gauge falls when a bag filled at 20 °C cools by so much. Near sea level."""
    return BAG_FACTOR * (pressure_kPa + SEA_LEVEL_kPa) * cooling_K / (KELVIN_AT_0_C + ROOM_C)


def climb_to_m(pressure_kPa: float, limit_kPa: float, start_m: float) -> float | None:
    """How far up, in whole steps of 100 m, the gauge reaches the limit; None if not within 3,000 m of climb."""
    start_kPa = standard_pressure_kPa(start_m)
    if start_kPa is None:
        return None
    for climb in range(0, 3001, 100):
        there_kPa = standard_pressure_kPa(start_m + climb)
        if there_kPa is not None and pressure_kPa + start_kPa - there_kPa >= limit_kPa:
            return float(climb)
    return None
