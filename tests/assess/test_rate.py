"""Ride rate and what the springs carry: propagation, and when there is no rate."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from cornerwalk.assess.axles import Height, RideRate, carried_load, rear_gain_of_drop, ride_rate

UNLOADED, LOADED = Height(mm=742.16, u_mm=0.65), Height(mm=703.26, u_mm=0.65)


def test_u_agrees_with_independent_propagation() -> None:
    """Rate and carried load have the u that differentiation gives, the loaded height counted once."""
    gain, unloaded, loaded, fitted = ufloat(2528.8, 90), ufloat(742.16, 0.65), ufloat(703.26, 0.5), ufloat(730.25, 0.8)
    rate = gain / (unloaded - loaded)
    borne = rate * (fitted - loaded)
    heights = [Height(mm=h.n, u_mm=h.s) for h in (unloaded, loaded, fitted)]
    ours = ride_rate(gain.n, heights[0], heights[1], u_gain_N=gain.s)
    ours_borne = carried_load(gain.n, *heights, u_gain_N=gain.s)
    assert ours_borne is not None
    assert (ours.rate_N_per_mm, ours.u_rate_N_per_mm) == pytest.approx((rate.n, rate.s), rel=1e-9)
    assert (ours_borne.force_N, ours_borne.u_force_N) == pytest.approx((borne.n, borne.s), rel=1e-9)
    assert ours.gain_has_u is True


def test_level_again_carries_the_whole_gain() -> None:
    """With the rear back at its unloaded height the springs carry all that the load put on the rear axle."""
    borne = carried_load(2528.8, UNLOADED, LOADED, UNLOADED)
    assert borne is not None
    assert borne.force_N == pytest.approx(2528.8)


def test_another_drop_says_its_load() -> None:
    """A load twice as great drops the rear twice as far, and the drop says so."""
    rate = ride_rate(2528.8, UNLOADED, LOADED)
    borne = rear_gain_of_drop(rate, 2 * (UNLOADED.mm - LOADED.mm), 0.9)
    assert borne is not None
    assert borne.force_N == pytest.approx(2 * 2528.8)
    assert rate.rate_N_per_mm is not None
    assert rate.u_rate_N_per_mm is not None
    k, d = ufloat(rate.rate_N_per_mm, rate.u_rate_N_per_mm), ufloat(2 * (UNLOADED.mm - LOADED.mm), 0.9)
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
