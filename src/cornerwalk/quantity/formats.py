"""Formatting of quantities: a value as text with its unit and a sensible number of digits.

Without `digits`, a value that is whole in its unit is shown whole (`35 psi`), any other with the usual decimals of the
unit (`27.4 psi`). Negative values have a true minus sign, which every reader accepts. The unit follows the unit system
asked for, never the value.
"""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from math import isfinite

from cornerwalk.quantity.exact import MINUS, format_fixed
from cornerwalk.quantity.graduation import UnitSystem
from cornerwalk.quantity.units import convert
from cornerwalk.quantity.values import Angle, Force, Length, Pressure, Temperature, Torque

# A float read back from a file may miss its whole number in the last digit.
_WHOLE_TOLERANCE = Fraction(1, 10**9)


def format_length(length: Length, units: UnitSystem, digits: int | None = None) -> str:
    """In inches (2 decimals) or millimeters (1): `4.49 in`, `114.1 mm`."""
    if units == "inch":
        return f"{_format(length.exact_inches, digits, 2)} in"
    return f"{_format(length.exact_mm, digits, 1)} mm"


def format_distance(length: Length, units: UnitSystem, digits: int | None = None) -> str:
    """A long length in feet or meters (1 decimal): `25 ft`, `340.2 ft`, `103.7 m`."""
    if units == "inch":
        return f"{_format(length.exact_inches / 12, digits, 1)} ft"
    return f"{_format(length.exact_mm / 1000, digits, 1)} m"


def format_pressure(pressure: Pressure, units: UnitSystem, digits: int | None = None) -> str:
    """In psi (1 decimal) or kPa (none): `35 psi`, `27.4 psi`, `189 kPa`."""
    if units == "inch":
        return f"{_format(convert(pressure.exact_kPa, 'kPa', 'psi'), digits, 1)} psi"
    return f"{_format(pressure.exact_kPa, digits, 0)} kPa"


def format_force(force: Force, units: UnitSystem, digits: int | None = None) -> str:
    """In lbf or newtons (no decimals): `394 lbf`, `1755 N`."""
    if units == "inch":
        return f"{_format(convert(force.exact_N, 'N', 'lbf'), digits, 0)} lbf"
    return f"{_format(force.exact_N, digits, 0)} N"


def format_weight(force: Force, units: UnitSystem, digits: int | None = None) -> str:
    """A force as scales and rating labels show it, in lb or kg (no decimals): `410 lb`, `186 kg`."""
    if units == "inch":
        return f"{_format(convert(force.exact_N, 'N', 'lbf'), digits, 0)} lb"
    return f"{_format(convert(force.exact_N, 'N', 'kgf'), digits, 0)} kg"


def format_temperature(temperature: Temperature, units: UnitSystem, digits: int | None = None) -> str:
    """In °F or °C (1 decimal): `72 °F`, `22.2 °C`."""
    if units == "inch":
        return f"{_format(convert(temperature.exact_C, 'degC', 'degF'), digits, 1)} °F"
    return f"{_format(temperature.exact_C, digits, 1)} °C"


def format_torque(torque: Torque, units: UnitSystem, digits: int | None = None) -> str:
    """In lbf·ft or N·m (1 decimal): `80 lbf·ft`, `108.5 N·m`."""
    if units == "inch":
        return f"{_format(convert(torque.exact_Nm, 'N_m', 'lbf_ft'), digits, 1)} lbf·ft"
    return f"{_format(torque.exact_Nm, digits, 1)} N·m"


def format_angle(angle: Angle, digits: int | None = None) -> str:
    """In degrees (2 decimals): `0.86°`."""
    return f"{_format(angle.exact_deg, digits, 2)}°"


def format_uncertain(value: float, expanded_uncertainty: float) -> tuple[str, str]:
    """A value and its expanded uncertainty U with the same decimals, those of `uncertain_decimals`.

    U = 0 leaves the value as it is. The caller adds the unit and the ±.

    Raises:
        ValueError: either is not finite, or U is negative.

    >>> format_uncertain(4.490296, 0.257258), format_uncertain(-1.53125, 0.0721688)
    (('4.49', '0.26'), ('−1.53', '0.07'))
    """
    if not (isfinite(value) and isfinite(expanded_uncertainty) and expanded_uncertainty >= 0):
        raise ValueError(f"no value ± U: {value!r}, {expanded_uncertainty!r}")
    if expanded_uncertainty == 0:
        return f"{Decimal(repr(value)):f}".replace("-", MINUS), "0"
    decimals = uncertain_decimals(expanded_uncertainty)
    return format_fixed(Fraction(repr(value)), decimals), format_fixed(Fraction(repr(expanded_uncertainty)), decimals)


def uncertain_decimals(expanded_uncertainty: float) -> int:
    """Decimals to show of an uncertainty above zero: two significant digits up to 354, one from 355 (of 100 to 999).

    GUM 7.2.6 allows at most two significant digits; the rule of the Particle Data Group decides between one and two,
    so that rounding never changes U by more than about 15 %. Both from memory; the tests compare with the
    `uncertainties` package, which follows the same rule. Negative: tens, hundreds …
    """
    exact = Decimal(repr(expanded_uncertainty))
    leading = exact.adjusted()
    three_digits = round(exact.scaleb(2 - leading))
    return 1 - leading if three_digits <= 354 else -leading


def _format(value: Fraction, digits: int | None, usual: int) -> str:
    if digits is None:
        digits = 0 if abs(value - round(value)) < _WHOLE_TOLERANCE else usual
    return format_fixed(value, digits)
