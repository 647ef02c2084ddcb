"""Quantities of one kind are ordered by their exact values; a quantity is neither below nor above itself."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from cornerwalk.quantity import Length, format_temperature
from cornerwalk.quantity.values import Pressure, Temperature


@pytest.mark.parametrize("kind", [Length, Pressure])
def test_less_more_and_the_same(kind: type[Any]) -> None:
    """All four comparisons, with the same and with the least different value beside it."""
    here, again, above = kind(Fraction(700)), kind(Fraction(700)), kind(Fraction(700) + Fraction(1, 10**9))
    assert here <= again
    assert here >= again
    assert not here < again
    assert not here > again
    assert here < above
    assert here <= above
    assert above > here
    assert above >= here
    assert not above <= here
    assert not here >= above


# By hand: 21.7 °C · 9/5 + 32 = 71.06 °F.
def test_a_temperature_has_at_most_one_decimal_in_either_unit() -> None:
    """A tenth of a degree is the most that is told."""
    assert format_temperature(Temperature(Fraction(217, 10)), "inch") == "71.1 °F"
