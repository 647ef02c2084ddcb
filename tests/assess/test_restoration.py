"""Front-axle load restored: published rules, its band, and what helper springs never do."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from cornerwalk.assess.estimate import estimate
from cornerwalk.assess.restoration import (
    FrontRestoration,
    restoration_by_heights,
    restoration_by_weights,
)
from cornerwalk.assess.weighing import ScaleTicket
from tests.support.known import known
from tests.support.units import IN, LBF

U_MM = 0.65  # mean of two fronts, 1/16 in tape, 1/32 in placing


def by_mm(*figures_mm: Any) -> FrontRestoration:
    """By the front's heights unhitched, hitched and distributed, and the u of each unless it is the usual one."""
    us_mm = figures_mm[3:] or (U_MM,) * 3
    return restoration_by_heights(*map(estimate, figures_mm[:3], us_mm))


def by_inches(*heights_in: float) -> FrontRestoration:
    return by_mm(*(each * IN for each in heights_in))


def by_weights(*fronts_N: float | None, step_N: float | None = None) -> FrontRestoration:
    """By the front axle's weights unhitched, hitched and distributed."""
    unhitched, hitched, distributed = (ScaleTicket(front_N=each) for each in fronts_N)
    return restoration_by_weights(unhitched=unhitched, hitched=hitched, distributed=distributed, step_N=step_N)


# Source: a camping magazine's torsion-bar setting (seen): front 22 in unhitched, 22 1/2 in hitched, over-adjusted when
# it is pushed down 1 in below 22. Targets derived from a hitch maker's halfway and vehicle makers' same-height rule.
@pytest.mark.parametrize(("distributed_in", "percent"), [(22.50, 0.0), (22.25, 50.0), (22.00, 100.0), (21.00, 300.0)])
def test_published_heights(distributed_in: float, percent: float) -> None:
    """Halfway back is 50 %, the old height 100 %, and an inch below it 300 %."""
    assert by_inches(22.0, 22.5, distributed_in).percent == pytest.approx(percent, abs=1e-9)


# Source: arithmetic on the trade's rule: 1/16 in is 25, 12.5 and 6.25 points of a rise of 1/4, 1/2 and 1 in.
@pytest.mark.parametrize(("rise_in", "points"), [(0.25, 25.0), (0.5, 12.5), (1.0, 6.25)])
def test_sixteenth_of_an_inch_in_points(rise_in: float, points: float) -> None:
    """One graduation more or less in the last height moves the figure by so many points."""
    middle = known(by_inches(22.0, 22.0 + rise_in, 22.0 + rise_in / 2).percent)
    lower = known(by_inches(22.0, 22.0 + rise_in, 22.0 + rise_in / 2 - 1 / 16).percent)
    assert lower - middle == pytest.approx(points, abs=1e-9)


# Source: FALR as quoted from SAE J2807 by a trailer builders' journal, 1 October 2009 (second-hand): 100 % is the front
# axle's weight "in its 'no trailer' condition".
def test_weights_back_to_no_trailer_is_100() -> None:
    """The front axle at its unhitched weight is 100 %, at its hitched weight 0 %, beyond the former more than 100 %."""
    for front_N, percent in ((12000.0, 100.0), (11200.0, 0.0), (11600.0, 50.0), (12400.0, 150.0)):
        assert by_weights(12000.0, 11200.0, front_N).percent == pytest.approx(percent)


# Source: lever statics (derived): a helper spring's force is internal between rear axle and body.
def test_air_alone_restores_nothing() -> None:
    """Air raises the rear and leaves the front where the tongue load put it: 0 %, whatever the rear does."""
    assert by_inches(28.65625, 28.90625, 28.90625).percent == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("third", [560.0, 566.0, 572.0, 540.0])
def test_u_agrees_with_independent_propagation(third: float) -> None:
    """The published formula for u(r) is what automatic differentiation gives, each height with its own u."""
    heights: list[Any] = [ufloat(v, u) for v, u in ((558.8, 0.6), (571.5, 0.7), (third, 0.5))]
    theirs = 100 * (heights[1] - heights[2]) / (heights[1] - heights[0])
    ours = by_mm(558.8, 571.5, third, 0.6, 0.7, 0.5)
    assert ours.percent == pytest.approx(theirs.n, rel=1e-12)
    assert ours.u_percent == pytest.approx(theirs.s, rel=1e-9)
    assert ours.low_percent == pytest.approx(theirs.n - 2 * theirs.s, rel=1e-9, abs=1e-9)
    assert ours.high_percent == pytest.approx(theirs.n + 2 * theirs.s, rel=1e-9)


def test_weights_have_their_scale_in_them() -> None:
    """With a 20 lb scale the band of FALR by weights is u(step) carried through the same quotient."""
    step_N = 20 * LBF
    f1, f2, f3 = (ufloat(v, step_N / 12**0.5) for v in (12000.0, 11200.0, 11650.0))
    theirs: Any = 100 * (f3 - f2) / (f1 - f2)
    ours = by_weights(12000.0, 11200.0, 11650.0, step_N=step_N)
    assert (ours.percent, ours.u_percent) == pytest.approx((theirs.n, theirs.s), rel=1e-9)


@pytest.mark.parametrize(
    ("unhitched_in", "hitched_in", "reason"),
    [
        (22.0, 22.0, "front did not lighten"),
        (22.0, 21.5, "front did not lighten"),
        (22.0, 22.05, "front change within its uncertainty"),
    ],
)
def test_no_figure_where_the_front_did_not_rise(unhitched_in: float, hitched_in: float, reason: str) -> None:
    """A quotient whose divisor may be nought is not given as a number with a band."""
    restored = by_inches(unhitched_in, hitched_in, 22.0)
    assert restored == FrontRestoration(by="heights", reason=reason)  # type: ignore[arg-type]
    assert (restored.low_percent, restored.high_percent) == (None, None)


# By hand: of a step of 12 N each weight has u = 12/√12 = 3.464 N, two of them 4.899 N, and U of the loss is 9.798 N.
@pytest.mark.parametrize(
    ("hitched_N", "reason"),
    [
        (1000.0, "front did not lighten"),
        (1001.0, "front did not lighten"),
        (990.3, "front change within its uncertainty"),
        (990.1, None),
    ],
)
def test_no_figure_where_the_scale_cannot_tell_the_loss(hitched_N: float, reason: str | None) -> None:
    """By weights the loss must exceed its own U, and a reason says that weights it was."""
    restored = by_weights(1000.0, hitched_N, 995.0, step_N=12.0)
    assert (restored.by, restored.reason) == ("weights", reason)
    assert (restored.percent is None) == (reason is not None)


def test_a_rise_of_just_its_u_is_no_divisor() -> None:
    """By hand: u of 3 and 4 mm make the rise's 5 and its U 10: 10 mm are within it, 10.001 mm are not."""
    for hitched_mm, told in ((510.0, False), (510.001, True)):
        assert (by_mm(500.0, hitched_mm, 505.0, 3.0, 4.0, 1.0).percent is not None) == told


def test_weights_without_a_step_have_no_band() -> None:
    """Where the scale's step is not stated the figure stands alone: (650 − 600)/(1000 − 600) by hand is 12.5 %."""
    restored = by_weights(1000.0, 600.0, 650.0)
    assert (restored.percent, restored.u_percent, restored.reason) == (12.5, None, None)
    assert (restored.low_percent, restored.high_percent) == (None, None)


@pytest.mark.parametrize("missing", [0, 1, 2])
def test_each_of_the_three_is_needed(missing: int) -> None:
    """With any one of the three missing, or a height without a u, nothing is said but that readings are missing."""

    def less_one(*values: float) -> list[float | None]:
        return [None if place == missing else value for place, value in enumerate(values)]

    assert by_weights(*less_one(1000.0, 900.0, 950.0), step_N=1.0) == FrontRestoration(
        by="weights", reason="readings missing"
    )
    us_mm = [math.nan if place == missing else 0.5 for place in range(3)]
    for restored in (by_mm(*less_one(500.0, 520.0, 510.0)), by_mm(500.0, 520.0, 510.0, *us_mm)):
        assert restored == FrontRestoration(by="heights", reason="readings missing")


_amounts = st.none() | st.floats(allow_nan=True, allow_infinity=True)


@given(st.lists(_amounts, min_size=4, max_size=4), st.lists(st.floats(), min_size=3, max_size=3))
def test_any_readings_any_of_them_missing(values: list[float | None], us: list[float]) -> None:
    """No input makes a NaN, an infinity or a crash; there is a figure or a reason, never both or neither."""
    *fronts, step_N = values
    for restored in (by_mm(*fronts, *us), by_weights(*fronts, step_N=step_N)):
        assert (restored.percent is None) != (restored.reason is None)
        for figure in (restored.percent, restored.u_percent, restored.low_percent, restored.high_percent):
            assert figure is None or abs(figure) < 1e300
