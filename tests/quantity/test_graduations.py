"""Lengths told by the marks of a tape."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cornerwalk.quantity import (
    MILLIMETER,
    SIXTEENTH_INCH,
    Graduation,
    Length,
    QuantityError,
    format_height,
    nearest_mark,
    read_graduation,
    sign_and_magnitude,
)
from cornerwalk.quantity.errors import BelowZero, MissingUnit, TooLarge, TooSmall

EIGHTH_INCH = read_graduation("1/8 in")
HALF_MILLIMETER = read_graduation("0.5 mm")
NAMED = [SIXTEENTH_INCH, MILLIMETER]
USUAL = [*NAMED, EIGHTH_INCH, HALF_MILLIMETER, read_graduation("1/32 in"), read_graduation("1/64 in")]


def inches(text: str) -> Length:
    """`27 5/8` as a length, by plain sums."""
    return Length.from_inches(sum((Fraction(part) for part in text.split()), Fraction(0)))


@pytest.mark.parametrize(
    ("text", "step_mm", "system", "label"),
    [
        ("1/16 in", Fraction(254, 160), "inch", "1/16 in"),
        ('1/32"', Fraction(254, 320), "inch", "1/32 in"),
        ("0.1 in", Fraction(254, 100), "inch", "1/10 in"),
        ("1/192 ft", Fraction(254, 160), "inch", "1/16 in"),
        ("1 in", Fraction(254, 10), "inch", "1 in"),
        ("1 mm", Fraction(1), "metric", "1 mm"),
        ("0.5 mm", Fraction(1, 2), "metric", "0.5 mm"),
        ("0,5 mm", Fraction(1, 2), "metric", "0.5 mm"),
        ("0.1 cm", Fraction(1), "metric", "1 mm"),
        ("1/3 mm", Fraction(1, 3), "metric", "1/3 mm"),
        ("0.01 mm", Fraction(1, 100), "metric", "0.01 mm"),
    ],
)
def test_graduations_are_read(text: str, step_mm: Fraction, system: str, label: str) -> None:
    """A tape's graduation is read with its system, and its label is read back as it."""
    graduation = read_graduation(text)
    assert graduation.step == Length(step_mm)
    assert graduation.system == system
    assert graduation.label == label
    assert read_graduation(label) == graduation


@pytest.mark.parametrize("graduation", NAMED, ids=lambda graduation: graduation.label)
def test_named_graduations_are_what_they_say(graduation: Graduation) -> None:
    """The graduations with a name of their own are those their labels tell."""
    assert read_graduation(graduation.label) == graduation


@pytest.mark.parametrize(
    ("text", "kind"), [("1/16", MissingUnit), ("0 mm", TooSmall), ("1 ft", TooLarge), ("-1 mm", BelowZero)]
)
def test_graduations_are_refused(text: str, kind: type[QuantityError]) -> None:
    """No tape is without unit, without marks, or divided by feet."""
    with pytest.raises(kind):
        read_graduation(text)


# Source: NIST Handbook 44, section 10.3 (seen second-hand): the nearest graduation; midway, the graduation whose value
# is even.
ROUNDED = [
    # exact, graduation, shown, why
    (inches("27 5/8"), SIXTEENTH_INCH, "27 5/8", "on a mark, reduced from 10/16"),
    (inches("27 41/64"), SIXTEENTH_INCH, "27 5/8", "a 64th over"),
    (inches("27 39/64"), SIXTEENTH_INCH, "27 5/8", "a 64th under"),
    (inches("27 21/32"), SIXTEENTH_INCH, "27 5/8", "midway of 10 and 11: the even one"),
    (inches("27 19/32"), SIXTEENTH_INCH, "27 5/8", "midway of 9 and 10: the even one"),
    (inches("27 31/32"), SIXTEENTH_INCH, "28", "midway of 15 and 16: carries into the inch"),
    (inches("1/32"), SIXTEENTH_INCH, "0", "midway of 0 and 1: zero is even"),
    (inches("3/32"), SIXTEENTH_INCH, "1/8", "midway of 1 and 2: the even one"),
    (inches("-3/32"), SIXTEENTH_INCH, "−1/8", "the same below zero"),
    (inches("-1/64"), SIXTEENTH_INCH, "0", "nothing has no sign"),
    (inches("5/8"), SIXTEENTH_INCH, "5/8", "less than an inch has no whole part"),
    (inches("27 5/16"), EIGHTH_INCH, "27 1/4", "midway of 2 and 3 eighths"),
    (Length(Fraction(7015, 10)), MILLIMETER, "702", "midway of 701 and 702"),
    (Length(Fraction(7025, 10)), MILLIMETER, "702", "midway of 702 and 703"),
    (Length(Fraction(701675, 1000)), MILLIMETER, "702", "nearest"),
    (Length(Fraction(701675, 1000)), HALF_MILLIMETER, "701.5", "nearest half"),
    (Length(Fraction(70175, 100)), HALF_MILLIMETER, "702", "midway of 1403 and 1404 halves"),
    (Length(Fraction(1, 3)), Graduation(Length(Fraction(1, 3)), "metric"), "1/3", "no decimal writes it"),
]


@pytest.mark.parametrize(("exact", "graduation", "shown", "why"), ROUNDED)
def test_the_nearest_mark(exact: Length, graduation: Graduation, shown: str, why: str) -> None:
    """A height is shown at the nearest mark of its tape, midway at the even one, with its fraction reduced."""
    assert format_height(exact, graduation) == shown, why


@given(
    st.fractions(min_value=-3000, max_value=3000, max_denominator=100_000),
    st.sampled_from(USUAL),
)
def test_nothing_is_dropped(mm: Fraction, graduation: Graduation) -> None:
    """Mark and remainder make the length, the mark is on the tape, and the remainder is at most half a graduation."""
    length = Length(mm)
    mark, remainder = nearest_mark(length, graduation)
    assert mark + remainder == length
    assert (mark.exact_mm / graduation.step.exact_mm).denominator == 1
    assert abs(remainder).exact_mm * 2 <= graduation.step.exact_mm


@pytest.mark.parametrize(
    ("change", "graduation", "sign", "magnitude"),
    [
        (inches("-1 -9/16"), SIXTEENTH_INCH, -1, "1 9/16"),
        (inches("1/4"), SIXTEENTH_INCH, 1, "1/4"),
        (inches("0"), SIXTEENTH_INCH, 0, "0"),
        (inches("1/64"), SIXTEENTH_INCH, 0, "0"),
        (inches("-1/64"), SIXTEENTH_INCH, 0, "0"),
        (Length(Fraction(-396, 10)), MILLIMETER, -1, "40"),
        (Length(Fraction(396, 10)), HALF_MILLIMETER, 1, "39.5"),
    ],
)
def test_changes_are_told_as_sign_and_magnitude(
    change: Length, graduation: Graduation, sign: int, magnitude: str
) -> None:
    """A change is a sign for the words (down, level, up) and a magnitude without one; too small for a mark is level."""
    assert sign_and_magnitude(change, graduation) == (sign, magnitude)
