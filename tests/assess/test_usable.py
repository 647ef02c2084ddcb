"""Which numbers are reckoned with: both ends of the range, and the nearest floats beyond."""

from __future__ import annotations

import math

import pytest

from cornerwalk.assess.usable import LARGEST, SMALLEST, positive, usable


@pytest.mark.parametrize(
    ("value", "answers"),
    [
        (None, (False, False)),
        (math.nan, (False, False)),
        (math.inf, (False, False)),
        (-math.inf, (False, False)),
        (0.0, (True, False)),
        (-1.0, (True, False)),
        (701.675, (True, True)),
        (LARGEST, (True, True)),
        (-LARGEST, (True, False)),
        (math.nextafter(LARGEST, math.inf), (False, False)),
        (math.nextafter(-LARGEST, -math.inf), (False, False)),
        (SMALLEST, (True, True)),
        (math.nextafter(SMALLEST, 0.0), (True, False)),
    ],
)
def test_the_range_counts_with_both_its_ends(value: float | None, answers: tuple[bool, bool]) -> None:
    """Stated and of a size to reckon with; to divide by, not nought and not negative either."""
    assert (usable(value), positive(value)) == answers


def test_a_result_of_the_largest_and_smallest_is_still_a_float() -> None:
    """What the bounds are for: products of four and quotients of two stay finite."""
    assert math.isfinite(LARGEST**4)
    assert math.isfinite(LARGEST / SMALLEST)
