"""Exact numbers: a value from code or a file to a Fraction, and a Fraction to a fixed number of decimals."""

from __future__ import annotations

from fractions import Fraction
from math import isfinite

from cornerwalk.quantity.errors import InvalidNumber

Number = int | Fraction | float | str
"""A float stands for the shortest decimal that names it, so 701.675 is 701675/1000."""

_LARGEST = 10**12
_MAX_LENGTH = 40
_DIGITS = frozenset("0123456789")

MINUS = "\N{MINUS SIGN}"
"""The minus sign of formatted text; the readers accept it and the hyphen."""


def to_fraction(number: Number) -> Fraction:
    """The exact value of a number. A text may be `701.675`, `-0.5`, `2` or `4490/3`, and nothing more liberal.

    Raises:
        InvalidNumber: not finite, larger than 1e12 in magnitude, a bool, or text of another form.
    """
    if isinstance(number, str):
        value = _parse_fraction(number)
    elif isinstance(number, float):
        if not isfinite(number):
            raise InvalidNumber(repr(number))
        value = Fraction(repr(number))
    elif isinstance(number, bool):
        raise InvalidNumber(repr(number))
    else:
        value = Fraction(number)
    if abs(value) > _LARGEST:
        raise InvalidNumber(number if isinstance(number, str) else "")
    return value


def _parse_fraction(text: str) -> Fraction:
    unsigned = text.removeprefix("-")
    plain = len(text) <= _MAX_LENGTH and set(unsigned) <= _DIGITS | {".", "/"}
    if not plain or not unsigned[:1].isdigit() or not unsigned[-1:].isdigit():
        raise InvalidNumber(text)
    try:
        return Fraction(text)
    except (ValueError, ZeroDivisionError):
        raise InvalidNumber(text) from None


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
