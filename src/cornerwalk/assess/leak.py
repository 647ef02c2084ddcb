"""Leak-down test: the gauge at two times, corrected for temperature and atmospheric pressure.

In a sealed line of constant volume, absolute pressure is proportional to absolute temperature. Gauge pressures p, local
atmospheres a, temperatures T in kelvin, 1 at the start and 2 at the end:

    expected  p₂* = (p₁ + a₁)·T₂/T₁ − a₂        loss = p₂* − p₂

u(loss)² = u²(gauge)·[1 + (T₂/T₁)²], u(gauge) = graduation/√12, and what temperature and weather add where stated. The
common mistake is to scale the gauge pressure itself: at 15 psi that finds only half of the effect.
Sources: ideal gas; open textbooks' tires in the tests. No published limit for helper springs was found.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from cornerwalk.assess.uncertainty import COVERAGE, quantum_u
from cornerwalk.assess.usable import positive, root_sum_square, usable

KELVIN_AT_0_C = 273.15

NotHeld = Literal["readings missing", "temperature missing", "impossible reading"]


@dataclass(frozen=True, slots=True, kw_only=True)
class GaugeReading:
    """The gauge at one end of the test, with the line's temperature (the air's, once the vehicle has stood)."""

    pressure_kPa: float
    temperature_C: float | None
    atmosphere_kPa: float


@dataclass(frozen=True, slots=True, kw_only=True)
class HoldTest:
    """The result of the two readings. A figure that cannot be known is None, and `reason` says why.

    `raw_loss_kPa` is the plain difference on the gauge, to show what temperature did. `per_period_…` is the loss
    scaled to the period the limit is stated for, and `shorter` that the test was shorter than that: a pass after one
    hour is not a pass for twenty-four. `hours_to_minimum` counts from the end at the rate found, and is None unless the
    loss exceeds its U; the true time is longer, as a leak slows with the pressure.
    """

    expected_kPa: float | None = None
    raw_loss_kPa: float | None = None
    loss_kPa: float | None = None
    u_loss_kPa: float | None = None
    rate_kPa_per_h: float | None = None
    u_rate_kPa_per_h: float | None = None
    per_period_kPa: float | None = None
    u_per_period_kPa: float | None = None
    shorter: bool | None = None
    leaking: bool | None = None
    hours_to_minimum: float | None = None
    reason: NotHeld | None = None


def hold_test(
    start: GaugeReading | None,
    end: GaugeReading | None,
    *,
    graduation_kPa: float | None,
    hours: float | None = None,
    minimum_kPa: float | None = None,
    period_h: float | None = None,
    u_temperature_K: float = 0.0,
    u_weather_kPa: float = 0.0,
) -> HoldTest:
    """The loss between two readings, its rate and when the line would reach the kit's minimum.

    `period_h` is the time the allowed loss is stated for, None if for the test as it was. The loss itself is what a
    limit is held against; scaling it would let a coarse gauge fail a sound line after an hour. `u_weather_kPa` is how
    well the change of the atmosphere between the readings is known; zero where a barometer was read.
    """
    if start is None or end is None or not (usable(start.pressure_kPa) and usable(end.pressure_kPa)):
        return HoldTest(reason="readings missing")
    raw_kPa = start.pressure_kPa - end.pressure_kPa
    if not usable(start.temperature_C) or not usable(end.temperature_C):
        return HoldTest(raw_loss_kPa=raw_kPa, reason="temperature missing")
    start_K, end_K = start.temperature_C + KELVIN_AT_0_C, end.temperature_C + KELVIN_AT_0_C
    if not (positive(start_K) and positive(end_K) and _possible(start) and _possible(end)):
        return HoldTest(raw_loss_kPa=raw_kPa, reason="impossible reading")
    absolute_kPa, ratio = start.pressure_kPa + start.atmosphere_kPa, end_K / start_K
    expected_kPa = absolute_kPa * ratio - end.atmosphere_kPa
    loss_kPa = expected_kPa - end.pressure_kPa
    if not usable(loss_kPa):
        return HoldTest(raw_loss_kPa=raw_kPa, reason="impossible reading")
    u_kPa = None
    if positive(graduation_kPa) and usable(u_temperature_K) and usable(u_weather_kPa):
        u_gauge_kPa = quantum_u(graduation_kPa)
        per_kelvin = absolute_kPa / start_K
        u_kPa = root_sum_square(
            u_gauge_kPa,
            u_gauge_kPa * ratio,
            per_kelvin * u_temperature_K,
            per_kelvin * ratio * u_temperature_K,
            u_weather_kPa,
        )
    leaking = None if u_kPa is None else loss_kPa > COVERAGE * u_kPa
    known_h = hours if positive(hours) else None
    rate, u_rate = _per(loss_kPa, u_kPa, known_h)
    scaled, u_scaled = _scaled(rate, u_rate, period_h)
    return HoldTest(
        expected_kPa=expected_kPa,
        raw_loss_kPa=raw_kPa,
        loss_kPa=loss_kPa,
        u_loss_kPa=u_kPa,
        rate_kPa_per_h=rate,
        u_rate_kPa_per_h=u_rate,
        per_period_kPa=scaled,
        u_per_period_kPa=u_scaled,
        shorter=known_h < period_h if known_h is not None and positive(period_h) else None,
        leaking=leaking,
        hours_to_minimum=_hours_to(minimum_kPa, end.pressure_kPa, rate) if leaking else None,
    )


def _possible(reading: GaugeReading) -> bool:
    """The atmosphere is one, and the line is not emptier than a vacuum."""
    return positive(reading.atmosphere_kPa) and positive(reading.pressure_kPa + reading.atmosphere_kPa)


def _per(loss_kPa: float, u_kPa: float | None, hours: float | None) -> tuple[float | None, float | None]:
    if hours is None:
        return None, None
    return loss_kPa / hours, u_kPa / hours if u_kPa is not None else None


def _scaled(rate: float | None, u_rate: float | None, period_h: float | None) -> tuple[float | None, float | None]:
    if rate is None or not positive(period_h):
        return None, None
    return rate * period_h, u_rate * period_h if u_rate is not None else None


def _hours_to(minimum_kPa: float | None, now_kPa: float, rate_kPa_per_h: float | None) -> float | None:
    """Hours from now to the minimum at a constant rate; zero if it is there already."""
    if not usable(minimum_kPa) or rate_kPa_per_h is None or not positive(rate_kPa_per_h):
        return None
    return max(0.0, (now_kPa - minimum_kPa) / rate_kPa_per_h)


# ---- standard atmosphere ----
#
# U.S. Standard Atmosphere 1976, lowest layer (identical to ICAO Doc 7488):
#
#     p = p₀ · (1 + Λ·H/T₀)^(−g₀·M₀/(R*·Λ))        H = r₀·z/(r₀ + z)
#
# z is the geometric altitude, what a map and a satellite receiver give; H the geopotential one, in which the formula is
# written. They differ by 0.35 m and 3.7 Pa at 1500 m. Weather moves the true pressure by a few kPa about this value.

# Constants: U.S. Standard Atmosphere 1976, as printed by two independent tables (seen).
SEA_LEVEL_kPa = 101.325
_SEA_LEVEL_K = 288.15
_LAPSE_K_PER_M = -0.0065
_GRAVITY_M_PER_S2 = 9.80665
_AIR_KG_PER_KMOL = 28.9644
_GAS_J_PER_KMOL_K = 8314.32
_EARTH_M = 6356766.0
_EXPONENT: float = -_GRAVITY_M_PER_S2 * _AIR_KG_PER_KMOL / (_GAS_J_PER_KMOL_K * _LAPSE_K_PER_M)

LOWEST_M = -5000.0
HIGHEST_M = 11000.0
"""The layer that the formula holds for, geopotential; every road lies in it."""

LOWEST_BAROMETER_kPa = 20.0
HIGHEST_BAROMETER_kPa = 120.0
"""Outside these a barometer reading is no air pressure found on any road: usually the wrong unit."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LocalAtmosphere:
    """The atmosphere at the gauge, absolute, and where the figure comes from."""

    pressure_kPa: float
    basis: Literal["barometer", "altitude", "sea level, assumed"]


def standard_pressure_kPa(altitude_m: float | None) -> float | None:
    """Standard pressure at a geometric altitude, kPa absolute; None when not stated or outside the layer.

    >>> round(standard_pressure_kPa(1500.0), 5)
    84.55968
    """
    if not usable(altitude_m) or altitude_m <= -_EARTH_M / 2:
        return None
    return pressure_at_geopotential_kPa(_EARTH_M * altitude_m / (_EARTH_M + altitude_m))


def pressure_at_geopotential_kPa(altitude_m: float | None) -> float | None:
    """Standard pressure at a geopotential altitude, kPa absolute; None when not stated or outside the layer.

    >>> round(pressure_at_geopotential_kPa(1500.0), 5)
    84.556
    """
    if altitude_m is None or not LOWEST_M <= altitude_m <= HIGHEST_M:
        return None
    return SEA_LEVEL_kPa * math.pow(1 + _LAPSE_K_PER_M * altitude_m / _SEA_LEVEL_K, _EXPONENT)


def local_atmosphere(*, altitude_m: float | None = None, barometer_kPa: float | None = None) -> LocalAtmosphere:
    """The atmosphere at the gauge: the barometer where there is one, else the altitude's, else sea level's.

    A barometer counts as it reads at the place. A weather report's pressure is reduced to sea level and
    would be off by the altitude's share. A value out of range counts as not stated.
    """
    if usable(barometer_kPa) and LOWEST_BAROMETER_kPa <= barometer_kPa <= HIGHEST_BAROMETER_kPa:
        return LocalAtmosphere(pressure_kPa=barometer_kPa, basis="barometer")
    standard_kPa = standard_pressure_kPa(altitude_m)
    if standard_kPa is not None:
        return LocalAtmosphere(pressure_kPa=standard_kPa, basis="altitude")
    return LocalAtmosphere(pressure_kPa=SEA_LEVEL_kPa, basis="sea level, assumed")
