"""Loads to axles: the lever against open textbooks, against automatic propagation, and against itself."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from cornerwalk.assess.axles import LoadAt, axle_gains, load_of_rear_gain, rear_share


def gains_of(weight: float, behind: float, wheelbase: float) -> tuple[float, float]:
    gains = axle_gains([LoadAt(weight_N=weight, ahead_mm=-behind)], wheelbase)
    assert gains is not None
    return gains.rear_N, gains.front_N


# Source: a public civil-engineering page, simply supported beam with an overhang on one side: 200/m over the 4 m span
# and 600 at 2 m outside the support, "R1 = 1300", "R2 = 100" (seen, recomputed).
def test_overhanging_beam_of_a_textbook() -> None:
    """A load behind the rear support and one spread between the two give the printed reactions exactly."""
    spread = LoadAt(weight_N=800.0, ahead_mm=2.0)
    outside = LoadAt(weight_N=600.0, ahead_mm=-2.0)
    gains = axle_gains([spread, outside], 4.0)
    assert gains is not None
    assert gains.rear_N == pytest.approx(1300.0, abs=1e-9)
    assert gains.front_N == pytest.approx(100.0, abs=1e-9)
    assert gains_of(600.0, 2.0, 4.0) == pytest.approx((900.0, -300.0), abs=1e-9)


# Source: OpenStax University Physics Vol. 1, ch. 12, module m58341, "Forces in the Forearm": 50.0 lb at 13.0 in, muscle
# at 1.5 in; printed 433.3 and −383.3 lb (seen, recomputed 433.3333 and 383.3333).
def test_forearm_of_open_textbook() -> None:
    """The same lever at another scale: a forearm gives the printed forces to their last digit."""
    muscle_lb, elbow_lb = gains_of(50.0, 11.5, 1.5)
    assert round(muscle_lb, 1) == 433.3
    assert round(elbow_lb, 1) == -383.3


# Source: OpenStax College Physics 2e, ch. 9, module m42173: a 5.00 kg pole (g 9.80) between hands 0.900 m apart, centre
# of gravity 0.600 m from the left: 32.7 N and 16.3 N; a 1000 kg car 5 m from the left pier of a 20 m bridge: 7350 N and
# 2450 N (seen, recomputed).
@pytest.mark.parametrize(
    ("weight_N", "from_left", "span", "left_N", "right_N", "digits"),
    [(5.00 * 9.80, 0.600, 0.900, 16.3, 32.7, 1), (1000 * 9.80, 5.0, 20.0, 7350.0, 2450.0, 0)],
)
def test_loads_between_supports(
    weight_N: float, from_left: float, span: float, left_N: float, right_N: float, digits: int
) -> None:
    """Cargo between the axles: the two shares agree with the printed ones (left taken as the rear axle)."""
    gains = axle_gains([LoadAt(weight_N=weight_N, ahead_mm=from_left)], span)
    assert gains is not None
    assert round(gains.rear_N, digits) == left_N
    assert round(gains.front_N, digits) == right_N


# Source: OpenStax University Physics Vol. 1, ch. 12.1, module m58340: 2.5 m wheelbase, 52 % on the front axle, centre
# of gravity 1.3 m ahead of the rear axle (seen, recomputed 1.3000).
def test_axle_split_of_open_textbook() -> None:
    """A car's weight at its centre of gravity splits as the textbook's axle loads do."""
    gains = axle_gains([LoadAt(weight_N=100.0, ahead_mm=1.3)], 2.5)
    assert gains is not None
    assert gains.front_N == pytest.approx(52.0, abs=1e-12)


# Source: an owners' forum (seen): 100 lb moved to 10 ft behind the trailer's axle, 12 ft to the coupler, takes 83.3 lb
# off the hitch: 400 → 316.7.
def test_trailer_lever() -> None:
    """The lever holds for a trailer as for its tug."""
    assert round(400 + gains_of(100.0, 10.0, 12.0)[1], 1) == 316.7


@given(
    weight_N=st.floats(-1e5, 1e5),
    ahead_mm=st.floats(-5000, 8000),
    wheelbase_mm=st.floats(1500, 5000),
)
def test_load_and_moment_are_kept(weight_N: float, ahead_mm: float, wheelbase_mm: float) -> None:
    """Both axles together bear the load, about any point: nothing is made or lost by the lever."""
    gains = axle_gains([LoadAt(weight_N=weight_N, ahead_mm=ahead_mm)], wheelbase_mm)
    assert gains is not None
    assert gains.rear_N + gains.front_N == pytest.approx(weight_N, abs=1e-6)
    assert gains.front_N * wheelbase_mm == pytest.approx(weight_N * ahead_mm, rel=1e-9, abs=1e-6)
    share = rear_share(wheelbase_mm, ahead_mm)
    assert share is not None
    if abs(share) > 1e-3:
        assert load_of_rear_gain(gains.rear_N, wheelbase_mm, ahead_mm) == pytest.approx(weight_N, abs=1e-5)


def test_uncertainty_agrees_with_independent_propagation() -> None:
    """The u of both gains is what the `uncertainties` package derives from the same inputs by differentiation."""
    wheelbase = ufloat(3022.6, 3.0)
    loads = [(ufloat(1823.8, 25.0), ufloat(-1168.4, 5.0)), (ufloat(900.0, 40.0), ufloat(600.0, 50.0))]
    front = sum(weight * ahead / wheelbase for weight, ahead in loads)
    rear = sum(weight * (wheelbase - ahead) / wheelbase for weight, ahead in loads)
    ours = axle_gains(
        [LoadAt(weight_N=w.n, ahead_mm=x.n, u_weight_N=w.s, u_ahead_mm=x.s) for w, x in loads],
        wheelbase.n,
        u_wheelbase_mm=wheelbase.s,
    )
    assert ours is not None
    assert (ours.rear_N, ours.front_N) == pytest.approx((rear.n, front.n), rel=1e-12)
    assert (ours.u_rear_N, ours.u_front_N) == pytest.approx((rear.s, front.s), rel=1e-9)


def test_unstated_weight_leaves_no_uncertainty() -> None:
    """A weight without u gives gains without u, rather than a ± that only the other loads account for."""
    gains = axle_gains(
        [LoadAt(weight_N=100.0, ahead_mm=0.0, u_weight_N=1.0), LoadAt(weight_N=100.0, ahead_mm=500.0)], 3000.0
    )
    assert gains is not None
    assert (gains.u_rear_N, gains.u_front_N) == (None, None)


@pytest.mark.parametrize("wheelbase_mm", [None, 0.0, -3000.0, float("nan"), float("inf")])
def test_no_wheelbase_no_gains(wheelbase_mm: float | None) -> None:
    """Without a wheelbase that can be one, or without a load, nothing is claimed."""
    assert axle_gains([LoadAt(weight_N=100.0, ahead_mm=-500.0)], wheelbase_mm) is None
    assert axle_gains([], 3000.0) is None
    assert rear_share(wheelbase_mm, -500.0) is None


def test_load_over_the_front_axle_cannot_be_read_from_the_rear() -> None:
    """A load that puts nothing on the rear axle cannot be told from its gain."""
    assert load_of_rear_gain(100.0, 3000.0, 3000.0) is None
