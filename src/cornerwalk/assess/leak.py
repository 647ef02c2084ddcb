"""Leak-down test: the gauge at two times, corrected for temperature and atmospheric pressure, judged by its rate.

In a sealed line of constant volume, absolute pressure is proportional to absolute temperature. Gauge pressures p, local
atmospheres a, temperatures T in kelvin, 1 at the start and 2 at the end:

    expected  p₂* = p₁ + f·(p₁ + a₁)·(T₂/T₁ − 1) + a₁ − a₂        loss x = p₂* − p₂        rate r = x·T₀/τ

f is 1 for a rigid bag. A bag that gives way takes up part of it, f = 1/(1 + χ), χ = P·A_eff·c₁/V with P absolute, A_eff
the load per bag over its gauge pressure, c₁ its travel per pressure and V its volume; friction may hold the body, so f
lies between that and 1. T₀ is the period that the allowed loss is stated for, τ the time the line was held.

u(x) holds the gauge at both ends, both temperatures, the weather and f. The common mistake is to scale the gauge
pressure itself: at 15 psi that finds only half of the effect. Sources: ideal gas; open textbooks' tires in the tests.
No published limit for helper springs was found.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from cornerwalk.assess.estimate import COVERAGE, Estimate
from cornerwalk.assess.uncertainty import quantum_u, rectangular_u
from cornerwalk.assess.usable import positive, root_sum_square, usable
from cornerwalk.assess.verdict import Verdict, judge

KELVIN_AT_0_C = 273.15

UNKNOWN_TEMPERATURE_K = 20.0
"""How far apart the temperatures of the two ends may be, either way, where they were not read; assumed."""

WEATHER_H = 3.0
"""Within this time the weather changes in proportion to it; assumed."""

COOLING_K = 7.0
"""By how much compressed air cools in the first quarter of an hour after it went in: about 1 psi; assumed."""

WARM_H = 0.25
"""So long after the last air went in the line may still be cooling."""

NotHeld = Literal["readings missing", "impossible reading"]
NotJudged = Literal["pressure rose", "too short", "air still warm", "hours missing"]

RIGID = Estimate(1.0)
"""The factor of a bag that keeps its volume."""


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
    scaled to the period the limit is stated for, `shorter` that the test was shorter than that.
    `temperatures_known` False: the loss stands with what the temperature may have done in its u.
    `hours_to_minimum` counts from the end at the rate found; `hours_to_minimum_at_least` at the highest rate that its U
    allows. The true time is longer, as a leak slows with the pressure.
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
    hours_to_minimum_at_least: float | None = None
    cooling_kPa: float | None = None
    """What the line may have lost by cooling alone, where air had just gone in."""
    temperatures_known: bool = True
    reason: NotHeld | None = None

    @property
    def rate_is_known(self) -> bool:
        """The rate is not swallowed by its own U: only then is it worth showing."""
        rate, u_rate = self.rate_kPa_per_h, self.u_rate_kPa_per_h
        return rate is not None and u_rate is not None and COVERAGE * u_rate <= rate


def hold_test(
    start: GaugeReading | None,
    end: GaugeReading | None,
    *,
    u_gauge_kPa: float | None,
    hours: float | None = None,
    minimum_kPa: float | None = None,
    period_h: float | None = None,
    u_temperature_K: float = 0.0,
    u_difference_K: float | None = None,
    u_weather_kPa: float = 0.0,
    bag: Estimate = RIGID,
) -> HoldTest:
    """The loss between two readings, its rate and when the line would reach the kit's minimum.

    `period_h` is the time the allowed loss is stated for. `u_temperature_K` is that of each end; `u_difference_K` that
    of their difference, where both were read on one thermometer in one place. `u_weather_kPa` is how well the change of
    the atmosphere is known after three hours.
    """
    if start is None or end is None or not (usable(start.pressure_kPa) and usable(end.pressure_kPa)):
        return HoldTest(reason="readings missing")
    raw_kPa = start.pressure_kPa - end.pressure_kPa
    warmth = _warmth(start, end, u_temperature_K, u_difference_K)
    if warmth is None or not (_possible(start) and _possible(end)):
        return HoldTest(raw_loss_kPa=raw_kPa, reason="impossible reading")
    absolute_kPa = start.pressure_kPa + start.atmosphere_kPa
    thermal_kPa = absolute_kPa * warmth.value
    expected_kPa = start.pressure_kPa + bag.value * thermal_kPa + start.atmosphere_kPa - end.atmosphere_kPa
    loss_kPa = expected_kPa - end.pressure_kPa
    if not usable(loss_kPa):
        return HoldTest(raw_loss_kPa=raw_kPa, reason="impossible reading")
    known_h = hours if positive(hours) else None
    u_kPa = None
    if usable(u_gauge_kPa) and usable(warmth.u) and usable(u_weather_kPa):
        u_kPa = root_sum_square(
            u_gauge_kPa,
            u_gauge_kPa * (1 + bag.value * warmth.value),
            bag.value * absolute_kPa * warmth.u,
            thermal_kPa * bag.u,
            u_weather_kPa * min(1.0, known_h / WEATHER_H if known_h is not None else 1.0),
        )
    leaking = None if u_kPa is None else loss_kPa > COVERAGE * u_kPa
    rate, u_rate = _per(loss_kPa, u_kPa, known_h)
    scaled, u_scaled = _scaled(rate, u_rate, period_h)
    highest = None if rate is None or u_rate is None else rate + COVERAGE * u_rate
    start_K = (start.temperature_C if usable(start.temperature_C) else 20.0) + KELVIN_AT_0_C
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
        hours_to_minimum_at_least=_hours_to(minimum_kPa, end.pressure_kPa, highest),
        cooling_kPa=bag.value * absolute_kPa * COOLING_K / start_K,
        temperatures_known=usable(start.temperature_C) and usable(end.temperature_C),
    )


def _warmth(
    start: GaugeReading, end: GaugeReading, u_temperature_K: float, u_difference_K: float | None
) -> Estimate | None:
    """T₂/T₁ − 1; where a temperature was not read, 0 within `UNKNOWN_TEMPERATURE_K`. None for an impossible reading."""
    if not usable(start.temperature_C) or not usable(end.temperature_C):
        known_C = start.temperature_C if usable(start.temperature_C) else end.temperature_C
        at_K = (known_C if usable(known_C) else 20.0) + KELVIN_AT_0_C
        return Estimate(0.0, rectangular_u(UNKNOWN_TEMPERATURE_K) / at_K) if positive(at_K) else None
    start_K, end_K = start.temperature_C + KELVIN_AT_0_C, end.temperature_C + KELVIN_AT_0_C
    if not positive(start_K) or not positive(end_K):
        return None
    ratio = end_K / start_K
    if u_difference_K is not None:
        return Estimate(ratio - 1, u_difference_K / start_K)
    return Estimate(ratio - 1, root_sum_square(u_temperature_K, ratio * u_temperature_K) / start_K)


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


# ---- the verdict ----


@dataclass(frozen=True, slots=True, kw_only=True)
class LeakVerdict:
    """What a test says about the allowed loss; without a verdict, why, and how long this gauge would need."""

    verdict: Verdict | None = None
    reason: NotJudged | None = None
    hours_needed: float | None = None


def judge_leak(
    loss_kPa: float, u_kPa: float, *, hours: float | None, allowed_kPa: float, period_h: float, warm_kPa: float = 0.0
) -> LeakVerdict:
    """The verdict by rate, in an order that hides no leak behind a short test and fails no sound line by one.

    A loss that stands out and is above the limit fails, however soon; a rate that may be either way passes or fails
    nothing while its U is more than half the limit. `warm_kPa` is what cooling may account for where air had just gone
    in: a short test then cannot fail. A test of unknown length fails only by a loss that is too much in the whole
    period. Source: the order is this project's own; the rest is the usual guard band (`verdict`).

    >>> psi = 6.894757293168361
    >>> judge_leak(2 * psi, 0.2 * psi, hours=0.5, allowed_kPa=2 * psi, period_h=24).verdict
    'fail'
    """
    U = COVERAGE * u_kPa
    if not positive(hours):
        too_much = loss_kPa - U > allowed_kPa
        return LeakVerdict(verdict="fail") if too_much else LeakVerdict(reason="hours missing")
    scale = period_h / hours
    rate, U_rate = loss_kPa * scale, U * scale
    needed_h = U * period_h / allowed_kPa if positive(allowed_kPa) else None
    short = U_rate > allowed_kPa / 2
    failed: Verdict | None = None
    if rate - U_rate > allowed_kPa:
        failed = "fail"
    elif loss_kPa > U and rate > allowed_kPa:
        failed = "conditional fail"
    if failed is not None:
        if short and warm_kPa > 0:
            return LeakVerdict(reason="air still warm", hours_needed=needed_h)
        return LeakVerdict(verdict=failed)
    if rate < -U_rate:
        return LeakVerdict(reason="pressure rose")
    if rate + U_rate <= allowed_kPa:
        return LeakVerdict(verdict="pass")
    if short:
        return LeakVerdict(reason="too short", hours_needed=needed_h)
    return LeakVerdict(verdict=judge(rate, allowed_kPa, U_rate, "upper"))


# ---- the bag ----


def bag_factor(yielding: float | None) -> Estimate:
    """How much of a rigid bag's change of pressure with temperature a bag shows that gives way by χ.

    Between 1/(1 + χ) and 1, anywhere alike, since friction may hold the body; χ is taken as 1 where it is not known.

    >>> round(bag_factor(None).value, 3), round(bag_factor(None).u, 3)
    (0.75, 0.144)
    """
    least = 1 / (1 + (1.0 if yielding is None else yielding))
    return Estimate((1 + least) / 2, quantum_u(1 - least), "bag")


def bag_yielding(
    *,
    absolute_kPa: float | None,
    gauge_kPa: float | None,
    load_N: float | None,
    travel_mm_per_kPa: float | None,
    volume_liters: float | None,
) -> float | None:
    """χ = P·A_eff·c₁/V of one bag carrying a load, without unit; None where something is missing."""
    if not positive(absolute_kPa) or not positive(gauge_kPa) or not positive(load_N):
        return None
    if not positive(travel_mm_per_kPa) or not positive(volume_liters):
        return None
    area_mm2 = load_N / (gauge_kPa / 1000)
    return absolute_kPa * area_mm2 * travel_mm_per_kPa / (volume_liters * 1e6)


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
