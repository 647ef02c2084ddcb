"""The four verdicts against the published decision rule."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cornerwalk.assess.verdict import judge

BEST_FIRST = ("pass", "conditional pass", "conditional fail", "fail")

numbers = st.floats(min_value=-1e6, max_value=1e6)
widths = st.floats(min_value=0.0, max_value=1e5)


# Source: ILAC-G8:09/2019 4.2.3 (seen); case derived: TL 4.00 in, U = w = 0.13.
@pytest.mark.parametrize(
    ("value", "expected"),
    [
        (3.80, "pass"),
        (3.95, "conditional pass"),
        (4.05, "conditional fail"),
        (4.20, "fail"),
        (4.00, "conditional pass"),
    ],
)
def test_published_decision_rule(value: float, expected: str) -> None:
    """The four zones about a limit of 4.00 in with U 0.13."""
    assert judge(value, 4.00, 0.13, "upper") == expected
    assert judge(-value, -4.00, 0.13, "lower") == expected


# Source: as above: w = 0 is simple acceptance.
def test_no_uncertainty_is_simple_acceptance() -> None:
    """Without U a value on the limit passes and one beyond it fails; nothing is conditional."""
    assert judge(4.0, 4.0, 0.0, "upper") == "pass"
    assert judge(math.nextafter(4.0, 5.0), 4.0, 0.0, "upper") == "fail"


# Source: as above: each zone ends with its bound, value ≤ TL − U, ≤ TL, ≤ TL + U. Quarters are exact as floats.
@pytest.mark.parametrize(
    ("value", "at_it", "beyond"),
    [
        (3.75, "pass", "conditional pass"),
        (4.0, "conditional pass", "conditional fail"),
        (4.25, "conditional fail", "fail"),
    ],
)
def test_a_bound_belongs_to_the_better_verdict(value: float, at_it: str, beyond: str) -> None:
    """At 4.00 with U 0.25, the three bounds and the next float beyond each, both ways up."""
    assert (judge(value, 4.0, 0.25, "upper"), judge(math.nextafter(value, 5.0), 4.0, 0.25, "upper")) == (at_it, beyond)
    assert (judge(-value, -4.0, 0.25, "lower"), judge(math.nextafter(-value, -5.0), -4.0, 0.25, "lower")) == (
        at_it,
        beyond,
    )


@given(numbers, numbers, widths)
def test_a_lower_limit_is_an_upper_one_upside_down(value: float, limit: float, U: float) -> None:
    """Turning value and limit upside down turns the side, never the verdict."""
    assert judge(value, limit, U, "upper") == judge(-value, -limit, U, "lower")


@given(numbers, numbers, numbers, widths)
def test_verdicts_never_improve_towards_the_limit(one: float, other: float, limit: float, U: float) -> None:
    """Of two values the one further beyond an upper limit is never judged better."""
    low, high = sorted((one, other))
    ranks = [BEST_FIRST.index(judge(value, limit, U, "upper")) for value in (low, high)]
    assert ranks == sorted(ranks)


@pytest.mark.parametrize(
    ("value", "limit", "U"), [(math.nan, 1, 0), (1, math.inf, 0), (1, 1, -0.1), (1, 1, math.nan), (1, 1, math.inf)]
)
def test_nothing_is_judged_by_what_is_no_number(value: float, limit: float, U: float) -> None:
    """A NaN would pass every comparison the wrong way, so it is refused."""
    with pytest.raises(ValueError, match="cannot judge"):
        judge(value, limit, U, "upper")
