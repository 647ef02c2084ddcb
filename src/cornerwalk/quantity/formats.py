"""Formatting of numbers: fixed decimals, values with their uncertainty, temperatures.

Numbers are in whatever unit the caller has; negative ones have a true minus sign, which every reader accepts.
"""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from math import isfinite

from cornerwalk.quantity.units import convert
from cornerwalk.quantity.values import Temperature, UnitSystem

MINUS = "\N{MINUS SIGN}"
"""The minus sign of formatted text; the readers accept it and the hyphen."""

# A float read back from a file may miss its whole number in the last digit.
_WHOLE_TOLERANCE = Fraction(1, 10**9)


def nearest_multiple(value: Fraction, step: Fraction) -> int:
    """The number of steps nearest to `value`; at the midpoint, the even number.

    Source: NIST Handbook 44, section 10.3, the odd-and-even rule (seen second-hand).
    """
    return round(value / step)


def format_fixed(value: Fraction, decimals: int) -> str:
    """`value` with that many decimals (below zero: rounded to tens, hundreds …), ties to the even digit.

    >>> format_fixed(Fraction(-7, 8), 2), format_fixed(Fraction(1, 1000), 2), format_fixed(Fraction(1250), -2)
    ('−0.88', '0.00', '1200')
    """
    count = nearest_multiple(value, Fraction(10) ** -decimals)
    digits = str(abs(count))
    if decimals > 0:
        digits = digits.rjust(decimals + 1, "0")
        digits = f"{digits[:-decimals]}.{digits[-decimals:]}"
    elif count:
        digits += "0" * -decimals
    return f"{MINUS}{digits}" if count < 0 else digits


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


def format_temperature(temperature: Temperature, units: UnitSystem) -> str:
    """In °F or °C: whole if it is, else with 1 decimal: `72 °F`, `22.2 °C`."""
    exact, symbol = temperature.exact_C, "°C"
    if units == "inch":
        exact, symbol = convert(exact, "degC", "degF"), "°F"
    return f"{format_fixed(exact, 0 if abs(exact - round(exact)) < _WHOLE_TOLERANCE else 1)} {symbol}"
