"""Graduation: the marks of a tape, and lengths rounded to them and written as a tape shows them."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from cornerwalk.quantity.errors import TooLarge, TooSmall, read_with_suggestion
from cornerwalk.quantity.formats import MINUS, format_fixed, nearest_multiple
from cornerwalk.quantity.lengths import BareUnit, parse_length, unsigned_value
from cornerwalk.quantity.parser import format_mixed
from cornerwalk.quantity.values import MM_PER_INCH, Length, UnitSystem

FINEST_GRADUATION = Length(Fraction(1, 100))
COARSEST_GRADUATION = Length(MM_PER_INCH)
"""0.01 mm to 1 in: anything that a person reads by eye; plausibility limits, assumed."""

_MAX_DECIMALS = 20


@dataclass(frozen=True, slots=True)
class Graduation:
    """The distance between two marks of a tape, and the unit system of its numbers."""

    step: Length
    system: UnitSystem

    @property
    def label(self) -> str:
        """`1/16 in`, `1 mm`, `0.5 mm`; `read_graduation` reads it back."""
        if self.system == "inch":
            return f"{format_mixed(self.step.exact_inches)} in"
        return f"{_format_mm(self.step.exact_mm)} mm"

    @property
    def bare(self) -> BareUnit:
        """The unit of a number formatted to this graduation."""
        return "inch" if self.system == "inch" else "mm"


SIXTEENTH_INCH = Graduation(Length(MM_PER_INCH / 16), "inch")
MILLIMETER = Graduation(Length(Fraction(1)), "metric")


def read_graduation(text: str) -> Graduation:
    """A tape's graduation with its unit: `1/16 in`, `1/32"`, `1 mm`, `0.5 mm`, `0.1 cm`.

    Raises:
        QuantityError: with the reason and, if there is one, a suggestion.
    """
    return read_with_suggestion(text, _graduation)


def _graduation(text: str) -> Graduation:
    typed = parse_length(text, None, example="1/16 in")
    step = unsigned_value(typed)
    if step < FINEST_GRADUATION:
        raise TooSmall(text, least="0.01 mm")
    if step > COARSEST_GRADUATION:
        raise TooLarge(text, most="1 in (25.4 mm)")
    return Graduation(step, "inch" if typed.unit in ("inch", "ft") else "metric")


def nearest_mark(length: Length, graduation: Graduation) -> tuple[Length, Length]:
    """The nearest mark and the signed remainder, whose sum is exactly `length`. Ties go to the even mark.

    Source: NIST Handbook 44, section 10.3, the odd-and-even rule (seen second-hand).
    """
    step = graduation.step.exact_mm
    mark = Length(nearest_multiple(length.exact_mm, step) * step)
    return mark, length - mark


def format_height(length: Length, graduation: Graduation) -> str:
    """The nearest mark as a tape shows it, without the unit: `27 5/8`, `702`, `701.5`; ties go to the even mark.

    `read_height(text, graduation.bare)` reads the mark back.
    """
    sign, magnitude = sign_and_magnitude(length, graduation)
    return f"{MINUS}{magnitude}" if sign < 0 else magnitude


def sign_and_magnitude(length: Length, graduation: Graduation) -> tuple[int, str]:
    """A change, to the nearest mark, as sign (−1, 0, +1) and magnitude, for texts that put the sign in words.

    >>> sign_and_magnitude(Length.from_inches(Fraction(-25, 16)), SIXTEENTH_INCH)
    (-1, '1 9/16')
    """
    mark, _ = nearest_mark(length, graduation)
    magnitude = abs(mark)
    figure = format_mixed(magnitude.exact_inches) if graduation.system == "inch" else _format_mm(magnitude.exact_mm)
    return (mark.exact_mm > 0) - (mark.exact_mm < 0), figure


def _format_mm(mm: Fraction) -> str:
    return _format_decimal(mm) or format_mixed(mm)


def _format_decimal(value: Fraction) -> str | None:
    """`value` as a decimal without trailing zeros; None if it has none of at most `_MAX_DECIMALS` places."""
    if 10**_MAX_DECIMALS % value.denominator:
        return None
    return format_fixed(
        value, next(places for places in range(_MAX_DECIMALS + 1) if 10**places % value.denominator == 0)
    )
