"""The quantities as values: exact, frozen, of one kind each."""

from __future__ import annotations

import copy
import dataclasses
import pickle
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cornerwalk.quantity import Angle, Force, Length, Pressure, QuantityError, Temperature, Torque, to_fraction
from cornerwalk.quantity.errors import InvalidNumber

KINDS = [Length, Pressure, Force, Temperature, Torque, Angle]
Kind = Any  # one of these classes; comparing them across kinds is what some tests do


@pytest.mark.parametrize("kind", KINDS)
def test_order_equality_and_hash(kind: Kind) -> None:
    """Quantities of a kind compare, sort and hash by their exact value."""
    less, same, more = kind(Fraction(1, 3)), kind(Fraction(2, 6)), kind(Fraction(1, 2))
    assert less == same
    assert hash(less) == hash(same)
    assert less < more
    assert less <= same
    assert more > less
    assert more >= less
    assert not less > more
    assert sorted([more, less]) == [less, more]


def test_kinds_do_not_mix() -> None:
    """A length is neither equal to, nor less than, nor added to, a pressure or a number."""
    length = Length(Fraction(1))
    pressure: object = Pressure(Fraction(1))
    assert length != pressure
    for other in (pressure, 1):
        with pytest.raises(TypeError):
            _ = length < other  # type: ignore[operator]
        with pytest.raises(TypeError):
            _ = length <= other  # type: ignore[operator]
        with pytest.raises(TypeError):
            _ = length > other  # type: ignore[operator]
        with pytest.raises(TypeError):
            _ = length >= other  # type: ignore[operator]
        with pytest.raises(TypeError):
            _ = length + other  # type: ignore[operator]
        with pytest.raises(TypeError):
            _ = length - other  # type: ignore[operator]


@pytest.mark.parametrize("kind", KINDS)
def test_frozen_and_without_further_attributes(kind: Kind) -> None:
    """Nobody changes a quantity or hangs anything on it."""
    quantity = kind(Fraction(1))
    field = dataclasses.fields(kind)[0].name
    with pytest.raises(dataclasses.FrozenInstanceError):
        setattr(quantity, field, Fraction(2))
    assert not hasattr(quantity, "__dict__")


@pytest.mark.parametrize("kind", KINDS)
def test_copies_and_pickles(kind: Kind) -> None:
    """Quantities travel between processes unchanged."""
    quantity = kind(Fraction(1, 3))
    assert pickle.loads(pickle.dumps(quantity)) == quantity
    assert copy.deepcopy(quantity) == quantity


@given(st.fractions(), st.fractions())
def test_lengths_add_exactly(a: Fraction, b: Fraction) -> None:
    """Sums, differences, negatives and magnitudes of lengths are those of their exact millimetres."""
    x, y = Length(a), Length(b)
    assert (x + y).exact_mm == a + b
    assert (x - y).exact_mm == a - b
    assert (-x).exact_mm == -a
    assert abs(x).exact_mm == abs(a)


@pytest.mark.parametrize(
    ("make", "kind"),
    [
        (Length.from_mm, Length),
        (Pressure.from_kPa, Pressure),
        (Force.from_N, Force),
        (Temperature.from_C, Temperature),
        (Torque.from_Nm, Torque),
        (Angle.from_deg, Angle),
    ],
)
def test_from_machine_values(make: object, kind: Kind) -> None:
    """A stored number, however it comes, gives the exact decimal it was written as."""
    assert callable(make)
    for number in (701.675, "701.675", Fraction(701675, 1000), "28067/40"):
        assert make(number) == kind(Fraction("701.675"))
    assert make(3) == kind(Fraction(3))


@given(st.floats(allow_nan=False, allow_infinity=False, min_value=-1e12, max_value=1e12))
def test_floats_are_taken_by_their_shortest_decimal(number: float) -> None:
    """A float goes in as the decimal it is written as, and comes out the same float."""
    assert to_fraction(number) == Fraction(repr(number))
    assert Length.from_mm(number).mm == number
    assert Angle.from_deg(number).deg == number


@pytest.mark.parametrize(
    "number",
    [
        float("nan"), float("inf"), float("-inf"), 1e13, 10**13, Fraction(-(10**13)), True, False,
        "", "-", "1e3", "1_000", " 1", "1 ", "1.", ".5", "--1", "+1", "1/0", "1/2/3", "1.2.3", "1.5/2", "nan",
        "٣", "1,5", "9" * 13, "9" * 5000, "1/" + "3" * 5000, pytest.param(10**5000, id="10**5000"),
    ],
)  # fmt: skip
def test_no_plain_number(number: float | str) -> None:
    """A machine's value that is not finite, too large, or written in any freer form is refused at once."""
    with pytest.raises(InvalidNumber, match="plain finite number"):
        to_fraction(number)


def test_a_bad_machine_value_is_a_quantity_error() -> None:
    """Readers of files catch one kind of error for what is typed and what is stored."""
    assert issubclass(InvalidNumber, QuantityError)
