"""Axle loads and ride rate: the lever against open textbooks, automatic propagation, and when there is no rate."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from cornerwalk.assess.axles import (
    LoadAt,
    RideRate,
    axle_gains,
    carried_load,
    load_of_rear_gain,
    rear_gain_of_drop,
    rear_share,
    ride_rate,
    spring_compliance,
)
from cornerwalk.assess.estimate import Estimate, exact
from tests.support.known import known


def gains_of(weight: float, behind: float, wheelbase: float) -> tuple[float, float]:
    gains = known(axle_gains([LoadAt(Estimate(weight), Estimate(-behind))], Estimate(wheelbase)))
    return gains.rear.value, gains.front.value


# Source: a public civil-engineering page, simply supported beam with an overhang on one side: 200/m over the 4 m span
# and 600 at 2 m outside the support, "R1 = 1300", "R2 = 100" (seen, recomputed).
def test_overhanging_beam_of_a_textbook() -> None:
    """A load behind the rear support and one spread between the two give the printed reactions exactly."""
    spread = LoadAt(Estimate(800.0), Estimate(2.0))
    outside = LoadAt(Estimate(600.0), Estimate(-2.0))
    gains = known(axle_gains([spread, outside], Estimate(4.0)))
    assert gains.rear.value == pytest.approx(1300.0, abs=1e-9)
    assert gains.front.value == pytest.approx(100.0, abs=1e-9)
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
    gains = known(axle_gains([LoadAt(Estimate(weight_N), Estimate(from_left))], Estimate(span)))
    assert round(gains.rear.value, digits) == left_N
    assert round(gains.front.value, digits) == right_N


# Source: OpenStax University Physics Vol. 1, ch. 12.1, module m58340: 2.5 m wheelbase, 52 % on the front axle, centre
# of gravity 1.3 m ahead of the rear axle (seen, recomputed 1.3000).
def test_axle_split_of_open_textbook() -> None:
    """A car's weight at its centre of gravity splits as the textbook's axle loads do."""
    gains = known(axle_gains([LoadAt(Estimate(100.0), Estimate(1.3))], Estimate(2.5)))
    assert gains.front.value == pytest.approx(52.0, abs=1e-12)


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
    gains = known(axle_gains([LoadAt(Estimate(weight_N), Estimate(ahead_mm))], Estimate(wheelbase_mm)))
    assert gains.rear.value + gains.front.value == pytest.approx(weight_N, abs=1e-6)
    assert gains.front.value * wheelbase_mm == pytest.approx(weight_N * ahead_mm, rel=1e-9, abs=1e-6)
    share = known(rear_share(wheelbase_mm, ahead_mm))
    if abs(share) > 1e-3:
        assert load_of_rear_gain(gains.rear.value, wheelbase_mm, ahead_mm) == pytest.approx(weight_N, abs=1e-5)


def test_uncertainty_agrees_with_independent_propagation() -> None:
    """The u of both gains is what the `uncertainties` package derives from the same inputs by differentiation."""
    wheelbase = ufloat(3022.6, 3.0)
    loads = [(ufloat(1823.8, 25.0), ufloat(-1168.4, 5.0)), (ufloat(900.0, 40.0), ufloat(600.0, 50.0))]
    front = sum(weight * ahead / wheelbase for weight, ahead in loads)
    rear = sum(weight * (wheelbase - ahead) / wheelbase for weight, ahead in loads)
    ours = known(axle_gains([LoadAt(Estimate(w.n, w.s), Estimate(x.n, x.s)) for w, x in loads], Estimate(3022.6, 3.0)))
    assert (ours.rear.value, ours.front.value) == pytest.approx((rear.n, front.n), rel=1e-12)
    assert (ours.rear.u, ours.front.u) == pytest.approx((rear.s, front.s), rel=1e-9)
    # What one axle gains the other loses in part, so the two are correlated: their sum is the loads alone.
    assert (ours.rear + ours.front).u == pytest.approx(sum(weight for weight, _ in loads).s, rel=1e-9)


@pytest.mark.parametrize("wheelbase_mm", [None, 0.0, -3000.0, float("nan"), float("inf")])
def test_no_wheelbase_no_gains(wheelbase_mm: float | None) -> None:
    """Without a wheelbase that can be one, or without a load, nothing is claimed."""
    assert axle_gains([LoadAt(Estimate(100.0), Estimate(-500.0))], exact(wheelbase_mm)) is None
    assert axle_gains([], Estimate(3000.0)) is None
    assert rear_share(wheelbase_mm, -500.0) is None


def test_load_over_the_front_axle_cannot_be_read_from_the_rear() -> None:
    """A load that puts nothing on the rear axle cannot be told from its gain."""
    assert load_of_rear_gain(100.0, 3000.0, 3000.0) is None


# ---- ride rate, and what the springs carry ----


UNLOADED, LOADED, GAIN = Estimate(742.16, 0.65), Estimate(703.26, 0.65), Estimate(2528.8)


# Oracle: the `uncertainties` package, which follows each of the inputs through the same quotients by differentiation.
def test_u_agrees_with_independent_propagation() -> None:
    """Rate and carried load have the u that differentiation gives, the loaded height counted once, tires included."""
    gain, unloaded, loaded, fitted = ufloat(2528.8, 90), ufloat(742.16, 0.65), ufloat(703.26, 0.5), ufloat(730.25, 0.8)
    tires = ufloat(0.002, 0.0005)
    rate = gain / (unloaded - loaded)
    borne = (fitted - loaded) / ((unloaded - loaded) / gain - tires)
    ours = [Estimate(each.n, each.s) for each in (gain, unloaded, loaded, fitted, tires)]
    ours_rate = known(ride_rate(*ours[:3]).rate)
    ours_borne = known(carried_load(*ours))
    assert (ours_rate.value, ours_rate.u) == pytest.approx((rate.n, rate.s), rel=1e-9)
    assert (ours_borne.force_N, ours_borne.u_force_N) == pytest.approx((borne.n, borne.s), rel=1e-9)
    compliance = known(spring_compliance(ours[0], ours[1], ours[2], ours[4]))
    assert compliance.value == pytest.approx(((unloaded - loaded) / gain - tires).n, rel=1e-12)


# By hand: 38.9 mm of drop for 2528.8 N is 0.0153828 mm/N; the tires have 0.002 of it, the springs 0.0133828.
def test_bounds_are_worked_out_on_the_inverse() -> None:
    """1/C ± U turned back: further up than down, and the plain U would be too short where it matters."""
    tires = Estimate(0.002, 0.0005)
    gain = Estimate(2528.8, 0.15 * 2528.8)
    ours = known(carried_load(gain, UNLOADED, LOADED, Estimate(730.25, 0.65), tires))
    inverse, U = 1 / ours.force_N, 2 * ours.u_force_N / ours.force_N**2
    assert ours.force_N == pytest.approx(26.99 / (38.9 / 2528.8 - 0.002), rel=1e-12)
    assert (ours.low_N, ours.high_N) == pytest.approx((1 / (inverse + U), 1 / (inverse - U)), rel=1e-12)
    assert known(ours.high_N) - ours.force_N > 2 * ours.u_force_N > ours.force_N - ours.low_N
    assert ours.at_least is False


# By hand: 10 mm for 2528.8 N is 0.003954 mm/N; less tires of 0.003 ± 0.0006 leaves 0.000954, below its U.
def test_springs_that_cannot_be_told_from_their_tires_carry_at_least_so_much() -> None:
    """Only the load by the rate over the ground is known then, which the springs carry at least."""
    loaded = Estimate(732.16, 0.1)
    ours = known(carried_load(GAIN, UNLOADED, loaded, Estimate(737.16, 0.1), Estimate(0.003, 0.0006)))
    assert (ours.at_least, ours.high_N) == (True, None)
    assert ours.force_N == pytest.approx(2528.8 * 5 / 10)
    assert ours.low_N < ours.force_N


def test_an_upper_bound_may_be_missing() -> None:
    """Where 1/C is not above its own U, a load of any size would fit the readings."""
    loaded, fitted = Estimate(732.16, 0.5), Estimate(737.16, 1.5)
    ours = known(carried_load(Estimate(2528.8, 700.0), UNLOADED, loaded, fitted, Estimate(0.0012, 0.0003)))
    assert (ours.at_least, ours.high_N) == (False, None)
    assert 0 < ours.low_N < ours.force_N


def test_a_lift_within_its_u_has_plain_bounds() -> None:
    """Hardly lifted, the springs carry nothing give or take U; an inverse would run away."""
    ours = known(carried_load(GAIN, UNLOADED, LOADED, Estimate(703.3, 0.65)))
    assert (ours.low_N, known(ours.high_N)) == pytest.approx(
        (ours.force_N - 2 * ours.u_force_N, ours.force_N + 2 * ours.u_force_N)
    )
    assert ours.low_N < 0 < known(ours.high_N)


def test_level_again_carries_the_whole_gain() -> None:
    """On rigid tires, with the rear back at its unloaded height, the springs carry all that the load put there."""
    borne = known(carried_load(GAIN, UNLOADED, LOADED, UNLOADED))
    assert borne.force_N == pytest.approx(2528.8)


def test_another_drop_says_its_load() -> None:
    """A load twice as great drops the rear twice as far, and the drop says so."""
    rate = known(ride_rate(GAIN, UNLOADED, LOADED).rate)
    drop = Estimate(2 * (UNLOADED.value - LOADED.value), 0.9)
    gain = known(rear_gain_of_drop(rate, drop))
    assert gain.value == pytest.approx(2 * 2528.8)
    assert gain.u == pytest.approx((ufloat(rate.value, rate.u) * ufloat(drop.value, 0.9)).s, rel=1e-9)


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
    loaded = Estimate(loaded_mm, 0.65)
    assert ride_rate(exact(gain_N), UNLOADED, loaded) == RideRate(reason=reason)  # type: ignore[arg-type]
    assert carried_load(exact(gain_N), UNLOADED, loaded, UNLOADED) is None


_any_estimate = st.none() | st.builds(Estimate, st.floats(), st.floats())


@given(_any_estimate, _any_estimate, _any_estimate, _any_estimate, _any_estimate)
def test_any_readings_any_of_them_missing(
    gain: Estimate | None,
    unloaded: Estimate | None,
    loaded: Estimate | None,
    fitted: Estimate | None,
    other: Estimate | None,
) -> None:
    """No input makes a NaN, an infinity or a crash."""
    rate = ride_rate(gain, unloaded, loaded)
    assert (rate.rate is None) == (rate.reason is not None)
    borne = carried_load(gain, unloaded, loaded, fitted, other)
    if borne is not None:
        figures = (borne.force_N, borne.u_force_N, borne.low_N, borne.high_N)
        assert all(figure is None or math.isfinite(figure) for figure in figures)
    gained = rear_gain_of_drop(rate.rate, other)
    assert gained is None or math.isfinite(gained.value)
