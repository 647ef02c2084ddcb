"""Two readings of one corner on an inch tape: an eighth apart they agree, wherever on the tape that is."""

from __future__ import annotations

import pytest

from cornerwalk.assess.plausibility import Neighbors, remark
from tests.support.units import IN


# That the bound is meant as "more than" is the module's own.
@pytest.mark.parametrize(("sixteenths", "expected"), [(2, []), (-2, []), (3, ["repeats differ"])])
def test_an_eighth_apart_is_within_the_bound_anywhere_on_the_tape(sixteenths: int, expected: list[str]) -> None:
    """From 20 to 40 in by eighths, however the heights come out in binary millimetres, the answer is the same."""
    for eighths in range(8 * 20, 8 * 40):
        first_mm = eighths / 8 * IN
        again_mm = (eighths / 8 + sixteenths / 16) * IN
        found = [each.code for each in remark(again_mm, Neighbors(same_corner_mm=first_mm, repeats_apart_mm=IN / 8))]
        assert found == expected, eighths / 8
