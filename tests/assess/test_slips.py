"""The slips behind one reading: the whole list of them worked by hand, how common each is, and where the list ends."""

from __future__ import annotations

import pytest

from cornerwalk.assess.rigid_body import Tape, slips
from tests.support.units import IN

# Weights are the project's judgement, no source. Every height below is worked by hand from the shape of its slip.


def told(read_mm: float, tape: Tape, entered: str = "", unit_mm: float = 1.0) -> dict[float, tuple[str, float]]:
    """Each height that may have been meant, in units, with its code and weight."""
    return {round(s.true_mm / unit_mm, 6): (s.code, s.weight) for s in slips(read_mm, tape, entered)}


def test_every_slip_of_a_metric_reading() -> None:
    """774 mm: steps of the tape, digits changed over, and the other unit, each with its weight."""
    assert told(774.0, "metric") == {
        764.0: ("whole centimetre", 0.35),
        784.0: ("whole centimetre", 0.35),
        769.0: ("half centimetre", 0.1),
        779.0: ("half centimetre", 0.1),
        674.0: ("wrong digit", 0.1),
        874.0: ("wrong digit", 0.1),
        747.0: ("swapped digits", 0.2),
        7740.0: ("cm for mm", 0.05),
        77.4: ("mm for cm", 0.05),
    }


# The whole millimetres are swapped among themselves: with the tenth counted as a digit, 770.4 would have been offered.
@pytest.mark.parametrize(
    ("read_mm", "swapped"),
    [
        (774.0, {747.0}),
        (702.5, {720.5, 705.2}),
        (702.1, {720.1, 701.2}),
        (110.0, {101.0}),
        (109.0, {190.0}),
        (704.0, {740.0}),
    ],
)
def test_neighbouring_digits_are_swapped_as_far_as_they_were_read(read_mm: float, swapped: set[float]) -> None:
    """A tenth takes part where one was read; no swap begins with a nought, or gives what was read."""
    assert {mm for mm, (code, _) in told(read_mm, "metric").items() if code == "swapped digits"} == swapped


def test_every_slip_of_an_inch_reading() -> None:
    """27 5/8 in: steps of the tape, and the fraction from its wrong end, in its wrong place and by its wrong name."""
    assert told(27.625 * IN, "inch", "27 5/8", IN) == {
        26.625: ("whole inch", 0.35),
        28.625: ("whole inch", 0.35),
        27.125: ("half inch", 0.15),
        28.125: ("half inch", 0.15),
        17.625: ("wrong digit", 0.05),
        37.625: ("wrong digit", 0.05),
        72.625: ("swapped digits", 0.1),
        27.375: ("fraction from the wrong end", 0.1),
        27.875: ("wrong fraction", 0.05),
        27.5: ("wrong fraction", 0.05),
        27.75: ("wrong fraction", 0.05),
        27.3125: ("wrong denominator", 0.05),
        25.875: ("digit and fraction swapped", 0.05),
    }


# 28 1/8: its wrong fractions and denominators by hand; 1/8 read as 1/4 is also a step of an eighth, told once.
def test_every_slip_of_a_small_fraction() -> None:
    """A fraction below a half may have been one twice as large; 28 and 1/8 do not change places, eighths end at 7."""
    found = told(28.125 * IN, "inch", "28 1/8", IN)
    assert {inches: code for inches, (code, _) in found.items() if 27.7 < inches < 29} == {
        28.625: "half inch",
        28.875: "fraction from the wrong end",
        27.875: "wrong fraction",
        28.375: "wrong fraction",
        28.0: "wrong fraction",
        28.25: "wrong fraction",
        28.0625: "wrong denominator",
    }
    assert "digit and fraction swapped" not in {code for code, _ in found.values()}


@pytest.mark.parametrize(
    ("read", "halved_or_doubled"),
    [
        (28 + 3 / 16, {28 + 3 / 8: 0.05, 28 + 3 / 32: 0.05}),
        (28 + 11 / 32, {28 + 11 / 16: 0.05, 28 + 11 / 64: 0.05}),
        (28 + 31 / 64, {28 + 31 / 32: 0.05}),
        (28 + 33 / 64, {}),
        (28 + 1 / 64, {28 + 1 / 32: 0.05}),
    ],
)
def test_a_denominator_twice_or_half_as_fine(read: float, halved_or_doubled: dict[float, float]) -> None:
    """Halves of an odd sixty-fourth are on no tape; twice a half and more is no fraction."""
    found = told(read * IN, "inch", unit_mm=IN)
    assert {inches: weight for inches, (code, weight) in found.items() if code == "wrong denominator"} == pytest.approx(
        {round(inches, 6): weight for inches, weight in halved_or_doubled.items()}
    )


@pytest.mark.parametrize(
    ("read", "meant"),
    [
        (27 + 5 / 8, 25 + 7 / 8),
        (21 + 3 / 8, 23 + 1 / 8),
        (27 + 9 / 16, 29 + 7 / 16),
        (27 + 11 / 16, None),
        (28 + 5 / 8, None),
        (29 + 5 / 8, None),
        (30 + 5 / 8, None),
    ],
)
def test_a_digit_and_a_numerator_change_places(read: float, meant: float | None) -> None:
    """27 5/8 for 25 7/8; not where the digit is none of that denominator, or the numerator has two digits."""
    found = told(read * IN, "inch", unit_mm=IN)
    exchanged = {inches for inches, (code, _) in found.items() if code == "digit and fraction swapped"}
    assert exchanged == (set() if meant is None else {round(meant, 6)})


@pytest.mark.parametrize("entered", ["30.25", "30,25"])
def test_decimals_of_an_inch_swap_all_their_digits(entered: str) -> None:
    """Typed with a point or a comma, a height has digits to swap and no fraction to misread."""
    assert told(30.25 * IN, "inch", entered, IN) == {
        29.25: ("whole inch", 0.35),
        31.25: ("whole inch", 0.35),
        29.75: ("half inch", 0.15),
        30.75: ("half inch", 0.15),
        20.25: ("wrong digit", 0.05),
        40.25: ("wrong digit", 0.05),
        32.05: ("swapped digits", 0.1),
        30.52: ("swapped digits", 0.1),
    }


def test_a_height_on_no_mark_was_read_as_decimals() -> None:
    """30.26 in lies between sixty-fourths: whatever was typed, it was read by digits; 30 1/4 was read by fractions."""
    assert told(30.26 * IN, "inch", unit_mm=IN)[30.62] == ("swapped digits", 0.1)
    assert told(30.25 * IN, "inch", unit_mm=IN)[30.5] == ("wrong fraction", 0.05)


# By hand: from 28 3/4, half an inch down is 28 1/4, and so is 3/4 read from its wrong end. From 28 1/4, a step of a
# quarter up is 28 1/2, and so is twice the fraction.
def test_a_height_told_twice_keeps_its_commonest_slip() -> None:
    """Where two slips lead to one height, it is given once, as the commoner of them."""
    for read, meant, code in ((28.75, 28.25, ("half inch", 0.15)), (28.25, 28.5, ("wrong fraction", 0.05))):
        found = [slip for slip in slips(read * IN, "inch") if slip.true_mm == pytest.approx(meant * IN)]
        assert [(slip.code, slip.weight) for slip in found] == [code]


def test_no_slip_leads_to_what_was_read() -> None:
    """A half from its wrong end is a half: 28 1/2 is not offered for 28 1/2, nor 27.72 for 27.72."""
    assert 28.5 not in told(28.5 * IN, "inch", "28 1/2", IN)
    assert 27.72 not in told(27.72 * IN, "inch", "27.72", IN)


def test_only_heights_within_the_bounds_are_given_both_ends_counted() -> None:
    """What the plane can be bent to is given to its ends, and nothing beyond them."""
    assert [s.true_mm for s in slips(774.0, "metric", "", (764.0, 784.0))] == [764.0, 784.0, 769.0, 779.0]
    assert [s.true_mm for s in slips(774.0, "metric", "", (764.1, 783.9))] == [769.0, 779.0]


@pytest.mark.parametrize("read_mm", [5.0, 10.0, 100.0])
def test_no_height_is_nought_or_below(read_mm: float) -> None:
    """A step down from a small reading leads to no height."""
    assert all(slip.true_mm > 0 for slip in slips(read_mm, "metric"))


def test_a_height_of_less_than_a_millimetre_is_still_a_height() -> None:
    """5.5 mm read as centimetres was 0.55 mm: small and absurd, and left to the bounds to refuse."""
    assert told(5.5, "metric")[0.55] == ("mm for cm", 0.05)
