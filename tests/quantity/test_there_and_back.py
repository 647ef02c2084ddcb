"""Text to value to text to value: nothing is lost on the way."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from cornerwalk.quantity import (
    MILLIMETER,
    BareUnit,
    Graduation,
    Length,
    format_height,
    read_graduation,
    read_height,
    read_length,
)

IN = Fraction(254, 10)
SIXTY_FOURTHS_TO_2500_MM = 6299  # 2500 mm / (25.4 mm / 64) = 6299.2
SIXTY_FOURTH_INCH = read_graduation("1/64 in")
HALF_MILLIMETER = read_graduation("0.5 mm")


def _mixed(value: Fraction) -> str:
    """A fraction of 0 or more with its whole part set apart: `30 1/2`."""
    whole, rest = divmod(value.numerator, value.denominator)
    return f"{whole} {rest}/{value.denominator}"


def _survives(text: str, bare: BareUnit, graduation: Graduation, mm: Fraction) -> None:
    """`text` → value → text → value, by every way back there is."""
    height = read_height(text, bare)
    assert height.exact_mm == mm
    assert read_height(format_height(height, graduation), graduation.bare) == height
    assert read_height(f"{Decimal(mm.numerator) / mm.denominator:f} mm", "inch") == height  # a finite decimal
    assert Length.from_mm(height.mm) == height  # through a file, as a float


def test_every_sixty_fourth_of_an_inch_to_the_highest_height() -> None:
    """Each of the 6299 heights in 1/64 in survives, in each way of writing it."""
    for count in range(1, SIXTY_FOURTHS_TO_2500_MM + 1):
        whole, rest = divmod(count, 64)
        mm = Fraction(count, 64) * IN
        _survives(f"{whole} {rest}/64", "inch", SIXTY_FOURTH_INCH, mm)
        _survives(f"{whole}-{rest}/64 in", "mm", SIXTY_FOURTH_INCH, mm)
        _survives(f"{whole + rest / 64}", "inch", SIXTY_FOURTH_INCH, mm)  # an exact binary fraction
        _survives(f"{whole // 12}' {whole % 12} {rest}/64\"", "cm", SIXTY_FOURTH_INCH, mm)
        if rest % 4 == 0:
            _survives(f"{whole}+{rest // 4}", "inch", SIXTY_FOURTH_INCH, mm)


def test_every_half_millimetre_to_the_highest_height() -> None:
    """Each of the 5000 heights in 0.5 mm survives, in each way of writing it."""
    for count in range(1, 5001):
        mm = Fraction(count, 2)
        tenths = "05"[count % 2]
        _survives(f"{count // 2}.{tenths}", "mm", HALF_MILLIMETER, mm)
        _survives(f"{count // 2},{tenths} mm", "inch", HALF_MILLIMETER, mm)
        _survives(f"{count // 20}.{count // 2 % 10}{tenths}", "cm", HALF_MILLIMETER, mm)
        _survives(f"{count // 2000}.{count // 2 % 1000:03}{tenths} m", "inch", HALF_MILLIMETER, mm)
        if count % 2 == 0:
            _survives(f"{count // 2}", "mm", MILLIMETER, mm)


def test_zero_survives_as_a_length() -> None:
    """Zero is a length though no height, and is written and read as one."""
    zero = read_length("0 mm")
    assert format_height(zero, SIXTY_FOURTH_INCH) == "0"
    assert format_height(zero, MILLIMETER) == "0"
    assert read_length("0", "inch") == zero


@given(st.fractions(min_value=0, max_value=100_000, max_denominator=9999))
def test_any_length_survives_exactly(mm: Fraction) -> None:
    """A fraction of a millimetre, on a tape's mark or not, is read exactly."""
    assert read_length(f"{_mixed(mm)} mm") == Length(mm)


@given(st.fractions(min_value=0, max_value=3000, max_denominator=1024))
def test_any_fraction_of_an_inch_survives_exactly(inches: Fraction) -> None:
    """The same, for fractions of an inch that no tape has."""
    assert read_length(_mixed(inches), "inch") == Length.from_inches(inches)


SPACES = st.sampled_from(["", " ", "  ", "\t", "\u00a0"])
BETWEEN = st.sampled_from([" ", "  ", "-", "–", "+", " \t"])
INCH_MARKS = st.sampled_from(["", '"', "''", "″", "”", " in", " In.", "inches"])


@given(
    whole=st.integers(0, 97),
    power=st.integers(1, 6),
    numerator=st.integers(1, 63),
    between=BETWEEN,
    mark=INCH_MARKS,
    edges=st.tuples(SPACES, SPACES),
)
def test_fractions_however_spaced_and_marked(
    whole: int, power: int, numerator: int, between: str, mark: str, edges: tuple[str, str]
) -> None:
    """Any inch height, with any accepted separator, mark and blank space, is the sum of its parts."""
    below = 2**power
    above = numerator % below
    text = f"{edges[0]}{whole}{between}{above}/{below}{mark}{edges[1]}"
    if whole or above:
        assert read_height(text, "inch").exact_mm == (whole + Fraction(above, below)) * IN


@given(
    thousandths=st.integers(1, 2_499_999),
    point=st.sampled_from(".,"),
    unit=st.sampled_from([("mm", 1000), ("cm", 10_000), ("m", 1_000_000)]),
)
def test_metric_decimals_of_any_unit(thousandths: int, point: str, unit: tuple[str, int]) -> None:
    """Any metric height to the micrometre is read exactly, in any unit; a decimal comma unless it is ambiguous."""
    name, per = unit
    whole, rest = divmod(thousandths, per)
    decimals = f"{rest:0{len(str(per)) - 1}}"
    ambiguous = point == "," and len(decimals) == 3 and 0 < whole < 1000
    text = f"{whole}{'.' if ambiguous else point}{decimals} {name}"
    assert read_height(text, "inch").exact_mm == Fraction(thousandths, 1000)
