"""The air's own pressure where the gauge is read: from a barometer, or from the altitude by the standard atmosphere.

U.S. Standard Atmosphere 1976, lowest layer (identical to ICAO Doc 7488):

    p = p₀ · (1 + Λ·H/T₀)^(−g₀·M₀/(R*·Λ))        H = r₀·z/(r₀ + z)

z is the geometric altitude, what a map and a satellite receiver give; H the geopotential one, in which the formula is
written. They differ by 0.35 m and 3.7 Pa at 1500 m. Weather moves the true pressure by a few kPa about this value.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from cornerwalk.assess.usable import usable

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
"""Beyond these a barometer reading is no air pressure at any road: most often a unit mistaken."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LocalAir:
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


def local_air(*, altitude_m: float | None = None, barometer_kPa: float | None = None) -> LocalAir:
    """The atmosphere at the gauge: the barometer where there is one, else the altitude's, else sea level's.

    A barometer counts as it reads at the place. A weather report's pressure is brought down to sea level first, and
    would be wrong here by what the altitude takes off. What is out of range counts as not stated.
    """
    if usable(barometer_kPa) and LOWEST_BAROMETER_kPa <= barometer_kPa <= HIGHEST_BAROMETER_kPa:
        return LocalAir(pressure_kPa=barometer_kPa, basis="barometer")
    standard_kPa = standard_pressure_kPa(altitude_m)
    if standard_kPa is not None:
        return LocalAir(pressure_kPa=standard_kPa, basis="altitude")
    return LocalAir(pressure_kPa=SEA_LEVEL_kPa, basis="sea level, assumed")
