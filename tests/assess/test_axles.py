"""Axle loads and ride rate: the lever against open textbooks, automatic propagation, and when there is no rate."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from cornerwalk.assess.axles import (
    Height,
    LoadAt,
    RideRate,
    axle_gains,
    carried_load,
    load_of_rear_gain,
    rear_gain_of_drop,
    rear_share,
    ride_rate,
)
from tests.support.known import known


def gains_of(weight: float, behind: float, wheelbase: float) -> tuple[float, float]:
    gains = known(axle_gains([LoadAt(weight_N=weight, ahead_mm=-behind)], wheelbase))
    return gains.rear_N, gains.front_N


# Source: a public civil-engineering page, simply supported beam with an overhang on one side: 200/m over the 4 m span
# and 600 at 2 m outside the support, "R1 = 1300", "R2 = 100" (seen, recomputed).
def test_overhanging_beam_of_a_textbook() -> None:
    """A load behind the rear support and one spread between the two give the printed reactions exactly."""
    spread = LoadAt(weight_N=800.0, ahead_mm=2.0)
    outside = LoadAt(weight_N=600.0, ahead_mm=-2.0)
    gains = known(axle_gains([spread, outside], 4.0))
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
    gains = known(axle_gains([LoadAt(weight_N=weight_N, ahead_mm=from_left)], span))
    assert round(gains.rear_N, digits) == left_N
    assert round(gains.front_N, digits) == right_N


# Source: OpenStax University Physics Vol. 1, ch. 12.1, module m58340: 2.5 m wheelbase, 52 % on the front axle, centre
# of gravity 1.3 m ahead of the rear axle (seen, recomputed 1.3000).
def test_axle_split_of_open_textbook() -> None:
    """A car's weight at its centre of gravity splits as the textbook's axle loads do."""
    gains = known(axle_gains([LoadAt(weight_N=100.0, ahead_mm=1.3)], 2.5))
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
    gains = known(axle_gains([LoadAt(weight_N=weight_N, ahead_mm=ahead_mm)], wheelbase_mm))
    assert gains.rear_N + gains.front_N == pytest.approx(weight_N, abs=1e-6)
    assert gains.front_N * wheelbase_mm == pytest.approx(weight_N * ahead_mm, rel=1e-9, abs=1e-6)
    share = known(rear_share(wheelbase_mm, ahead_mm))
    if abs(share) > 1e-3:
        assert load_of_rear_gain(gains.rear_N, wheelbase_mm, ahead_mm) == pytest.approx(weight_N, abs=1e-5)


def test_uncertainty_agrees_with_independent_propagation() -> None:
    """The u of both gains is what the `uncertainties` package derives from the same inputs by differentiation."""
    wheelbase = ufloat(3022.6, 3.0)
    loads = [(ufloat(1823.8, 25.0), ufloat(-1168.4, 5.0)), (ufloat(900.0, 40.0), ufloat(600.0, 50.0))]
    front = sum(weight * ahead / wheelbase for weight, ahead in loads)
    rear = sum(weight * (wheelbase - ahead) / wheelbase for weight, ahead in loads)
    ours = known(
        axle_gains(
            [LoadAt(weight_N=w.n, ahead_mm=x.n, u_weight_N=w.s, u_ahead_mm=x.s) for w, x in loads],
            wheelbase.n,
            u_wheelbase_mm=wheelbase.s,
        )
    )
    assert (ours.rear_N, ours.front_N) == pytest.approx((rear.n, front.n), rel=1e-12)
    assert (ours.u_rear_N, ours.u_front_N) == pytest.approx((rear.s, front.s), rel=1e-9)


def test_unstated_weight_leaves_no_uncertainty() -> None:
    """A weight without u gives gains without u, rather than a ± that only the other loads account for."""
    gains = known(
        axle_gains(
            [LoadAt(weight_N=100.0, ahead_mm=0.0, u_weight_N=1.0), LoadAt(weight_N=100.0, ahead_mm=500.0)], 3000.0
        )
    )
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


UNLOADED, LOADED = Height(mm=742.16, u_mm=0.65), Height(mm=703.26, u_mm=0.65)


def test_u_agrees_with_independent_propagation() -> None:
    """Rate and carried load have the u that differentiation gives, the loaded height counted once."""
    gain, unloaded, loaded, fitted = ufloat(2528.8, 90), ufloat(742.16, 0.65), ufloat(703.26, 0.5), ufloat(730.25, 0.8)
    rate = gain / (unloaded - loaded)
    borne = rate * (fitted - loaded)
    heights = [Height(mm=h.n, u_mm=h.s) for h in (unloaded, loaded, fitted)]
    ours = ride_rate(gain.n, heights[0], heights[1], u_gain_N=gain.s)
    ours_borne = known(carried_load(gain.n, *heights, u_gain_N=gain.s))
    assert (ours.rate_N_per_mm, ours.u_rate_N_per_mm) == pytest.approx((rate.n, rate.s), rel=1e-9)
    assert (ours_borne.force_N, ours_borne.u_force_N) == pytest.approx((borne.n, borne.s), rel=1e-9)
    assert ours.gain_has_u is True


def test_level_again_carries_the_whole_gain() -> None:
    """With the rear back at its unloaded height the springs carry all that the load put on the rear axle."""
    borne = known(carried_load(2528.8, UNLOADED, LOADED, UNLOADED))
    assert borne.force_N == pytest.approx(2528.8)


def test_another_drop_says_its_load() -> None:
    """A load twice as great drops the rear twice as far, and the drop says so."""
    rate = ride_rate(2528.8, UNLOADED, LOADED)
    borne = known(rear_gain_of_drop(rate, 2 * (UNLOADED.mm - LOADED.mm), 0.9))
    assert borne.force_N == pytest.approx(2 * 2528.8)
    k, d = ufloat(known(rate.rate_N_per_mm), known(rate.u_rate_N_per_mm)), ufloat(2 * (UNLOADED.mm - LOADED.mm), 0.9)
    assert borne.u_force_N == pytest.approx((k * d).s, rel=1e-9)
    assert rate.gain_has_u is False


@pytest.mark.parametrize(
    ("gain_N", "loaded_mm", "reason"),
    [
        (None, 703.0, "readings missing"),
        (0.0, 703.0, "no load on the rear"),
        (-400.0, 703.0, "no load on the rear"),
        (400.0, 742.16, "rear did not drop"),
        (400.0, 750.0, "rear did not drop"),
        (400.0, 741.0, "drop within its uncertainty"),
    ],
)
def test_no_rate_says_why(gain_N: float | None, loaded_mm: float, reason: str) -> None:
    """A rate from no load, or from a drop that the tape cannot tell from none, is not given."""
    loaded = Height(mm=loaded_mm, u_mm=0.65)
    assert ride_rate(gain_N, UNLOADED, loaded) == RideRate(reason=reason)  # type: ignore[arg-type]
    assert carried_load(gain_N, UNLOADED, loaded, UNLOADED) is None


_amount = st.none() | st.floats(allow_nan=True, allow_infinity=True)
_height = st.none() | st.builds(Height, mm=st.floats(), u_mm=st.floats())


@given(_amount, _amount, _height, _height, _height, _amount)
def test_any_readings_any_of_them_missing(
    gain_N: float | None,
    u_gain_N: float | None,
    unloaded: Height | None,
    loaded: Height | None,
    fitted: Height | None,
    drop_mm: float | None,
) -> None:
    """No input makes a NaN, an infinity or a crash."""
    rate = ride_rate(gain_N, unloaded, loaded, u_gain_N=u_gain_N)
    assert (rate.rate_N_per_mm is None) == (rate.reason is not None)
    for borne in (
        carried_load(gain_N, unloaded, loaded, fitted, u_gain_N=u_gain_N),
        rear_gain_of_drop(rate, drop_mm, 1.0),
    ):
        assert borne is None or (math.isfinite(borne.force_N) and math.isfinite(borne.u_force_N))
