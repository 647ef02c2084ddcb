"""The marks of a tape, and lengths told by them: the nearest mark, and what is left over, never dropped."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from cornerwalk.quantity.errors import TooLarge, TooSmall, read_with_suggestion
from cornerwalk.quantity.exact import MINUS, format_fixed, nearest_multiple
from cornerwalk.quantity.lengths import BareUnit, parse_length, unsigned_value
from cornerwalk.quantity.parser import format_mixed
from cornerwalk.quantity.values import MM_PER_INCH, Length

UnitSystem = Literal["inch", "metric"]

FINEST_GRADUATION = Length(Fraction(1, 100))
COARSEST_GRADUATION = Length(MM_PER_INCH)
"""0.01 mm to 1 in: anything a person reads by eye; plausibility limits, assumed."""

_MAX_DECIMALS = 20
_FINEST_TAPE_FRACTION = 1024


@dataclass(frozen=True, slots=True)
class Graduation:
    """The distance between two marks of a tape, and the system its figures are told in."""

    step: Length
    system: UnitSystem

    @property
    def label(self) -> str:
        """`1/16 in`, `1 mm`, `0.5 mm`; `read_graduation` takes it back."""
        if self.system == "inch":
            return f"{format_mixed(self.step.exact_inches)} in"
        return f"{_metric_figure(self.step.exact_mm)} mm"

    @property
    def bare(self) -> BareUnit:
        """The unit a figure formatted to this graduation is in."""
        return "inch" if self.system == "inch" else "mm"


EIGHTH_INCH = Graduation(Length(MM_PER_INCH / 8), "inch")
SIXTEENTH_INCH = Graduation(Length(MM_PER_INCH / 16), "inch")
THIRTY_SECOND_INCH = Graduation(Length(MM_PER_INCH / 32), "inch")
SIXTY_FOURTH_INCH = Graduation(Length(MM_PER_INCH / 64), "inch")
MILLIMETER = Graduation(Length(Fraction(1)), "metric")
HALF_MILLIMETER = Graduation(Length(Fraction(1, 2)), "metric")


def read_graduation(text: str) -> Graduation:
    """A tape's graduation with its unit: `1/16 in`, `1/32"`, `1 mm`, `0.5 mm`, `0.1 cm`.

    Raises:
        QuantityError: with the reason and, where there is one, the likely meaning.
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


def is_on_graduation(length: Length, graduation: Graduation) -> bool:
    """Whether a mark of the tape stands for exactly this length."""
    return (length.exact_mm / graduation.step.exact_mm).denominator == 1


def nearest_mark(length: Length, graduation: Graduation) -> tuple[Length, Length]:
    """The nearest mark and the signed remainder: their sum is `length` exactly. Midway goes to the even mark.

    Source: NIST Handbook 44, section 10.3, the odd-and-even rule (seen second-hand).
    """
    step = graduation.step.exact_mm
    mark = Length(nearest_multiple(length.exact_mm, step) * step)
    return mark, length - mark


def format_height(length: Length, graduation: Graduation) -> str:
    """The nearest mark as its tape shows it, without unit: `27 5/8`, `702`, `701.5`; midway the even mark.

    `read_height(text, graduation.bare)` gives the mark back.
    """
    sign, magnitude = sign_and_magnitude(length, graduation)
    return f"{MINUS}{magnitude}" if sign < 0 else magnitude


def sign_and_magnitude(length: Length, graduation: Graduation) -> tuple[int, str]:
    """A change to the nearest mark as sign (−1, 0, +1) and magnitude, so that words can carry the sign.

    >>> sign_and_magnitude(Length.from_inches(Fraction(-25, 16)), SIXTEENTH_INCH)
    (-1, '1 9/16')
    """
    mark, _ = nearest_mark(length, graduation)
    magnitude = abs(mark)
    figure = format_mixed(magnitude.exact_inches) if graduation.system == "inch" else _metric_figure(magnitude.exact_mm)
    return (mark.exact_mm > 0) - (mark.exact_mm < 0), figure


def format_exact(length: Length, system: UnitSystem) -> str:
    """Exactly `length`, as text that a reader with `bare="inch"` takes back to the same value.

    In inches without unit (`27 41/64`, `27.44`), in metric with it (`701.675 mm`). What the wanted system cannot
    write out is told in the other, with its unit (`774 mm`), or as a fraction of a millimetre.
    """
    sign = MINUS if length.exact_mm < 0 else ""
    inches, mm = abs(length.exact_inches), abs(length.exact_mm)
    in_inches, in_mm = _inch_figure(inches), _decimal_figure(mm)
    if system == "inch" and in_inches is not None:
        return f"{sign}{in_inches}"
    if in_mm is not None:
        return f"{sign}{in_mm} mm"
    return f"{sign}{in_inches} in" if in_inches is not None else f"{sign}{format_mixed(mm)} mm"


def _inch_figure(inches: Fraction) -> str | None:
    """Inches as a tape's fraction, else as a decimal, else as the fraction that is simpler in inches than in mm."""
    below = inches.denominator
    if below <= _FINEST_TAPE_FRACTION and below & (below - 1) == 0:
        return format_mixed(inches)
    decimal, mm = _decimal_figure(inches), inches * MM_PER_INCH
    if decimal is None and _decimal_figure(mm) is None and below < mm.denominator:
        return format_mixed(inches)
    return decimal


def _metric_figure(mm: Fraction) -> str:
    return _decimal_figure(mm) or format_mixed(mm)


def _decimal_figure(value: Fraction) -> str | None:
    """`value` as a decimal of no more places than it needs; None if it has no end, or none within the most."""
    if 10**_MAX_DECIMALS % value.denominator:
        return None
    return format_fixed(
        value, next(places for places in range(_MAX_DECIMALS + 1) if 10**places % value.denominator == 0)
    )
