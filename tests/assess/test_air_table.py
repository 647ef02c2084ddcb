"""The glovebox table: that it agrees with the recommendation, and what it leaves out."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from cornerwalk.assess.air import recommend, unloaded_target
from cornerwalk.assess.air_line import Line, NoLine, Trial, fit_line
from cornerwalk.assess.axles import Height
from cornerwalk.assess.pressure_advice import OtherLoad, PressureForLoad, pressure_table

UNLOADED, LOADED = Height(mm=742.16, u_mm=0.65), Height(mm=703.26, u_mm=0.5)
GAIN_N = 2528.8
TRIALS = (
    Trial(pressure_kPa=103.4, height_mm=719.1, u_height_mm=0.65),
    Trial(pressure_kPa=172.4, height_mm=730.2, u_height_mm=0.65),
)


def table(line: Line | NoLine, *gains_N: float, drop_mm: float = 0.0) -> tuple[PressureForLoad, ...]:
    return pressure_table(
        line,
        [OtherLoad(load_N=gain / 1.4, rear_gain_N=gain) for gain in gains_N],
        gain_N=GAIN_N,
        unloaded=UNLOADED,
        loaded=LOADED,
        drop_allowed_mm=drop_mm,
        minimum_kPa=34.5,
        maximum_kPa=241.3,
    )


def test_the_tried_load_gives_the_recommendation() -> None:
    """For the load tried, and no drop allowed, a row is the pressure for the unloaded height, u and all."""
    line = fit_line(TRIALS)
    (row,) = table(line, GAIN_N)
    ours = recommend(line, unloaded_target(UNLOADED.mm, UNLOADED.u_mm), minimum_kPa=34.5, maximum_kPa=241.3)
    assert row.pressure_kPa == pytest.approx(ours.pressure_kPa, rel=1e-12)
    assert row.u_pressure_kPa == pytest.approx(ours.u_pressure_kPa, rel=1e-12)
    assert (row.recommended_kPa, row.extrapolated) == (ours.recommended_kPa, ours.extrapolated)


def test_u_agrees_with_independent_propagation() -> None:
    """The u of a row is what differentiation gives from the heights, those of the trials included."""
    unloaded, loaded = ufloat(UNLOADED.mm, UNLOADED.u_mm), ufloat(LOADED.mm, LOADED.u_mm)
    low, high = (ufloat(t.height_mm, t.u_height_mm) for t in TRIALS)
    c1 = (high - low) / (TRIALS[1].pressure_kPa - TRIALS[0].pressure_kPa)
    c0 = low - c1 * TRIALS[0].pressure_kPa
    (row,) = table(fit_line(TRIALS), 1900.0, drop_mm=6.35)
    theirs = ((unloaded - loaded) * (1900.0 / GAIN_N) - 6.35 - (c0 - loaded)) / c1
    assert (row.pressure_kPa, row.u_pressure_kPa) == pytest.approx((theirs.n, theirs.s), rel=1e-9)


def test_rows_outside_the_kit_say_which_way() -> None:
    """A light load asks for less than the minimum, a heavy one for more than the maximum; the limit is set."""
    light, fair, heavy = table(fit_line(TRIALS), 300.0, 1900.0, 4000.0)
    assert (light.beyond, light.recommended_kPa) == ("below minimum", 34.5)
    assert fair.beyond is None
    assert (heavy.beyond, heavy.recommended_kPa) == ("above maximum", 241.3)


def test_no_table_without_a_rising_line_or_a_ride_rate() -> None:
    """Nothing is tabled from one trial, from air that does not raise, or from a load that dropped nothing."""
    assert table(NoLine(reason="one trial"), 1900.0) == ()
    falling = fit_line([TRIALS[0], Trial(pressure_kPa=172.4, height_mm=700.0, u_height_mm=0.65)])
    assert table(falling, 1900.0) == ()
    no_rate = pressure_table(
        fit_line(TRIALS),
        [OtherLoad(load_N=1000.0, rear_gain_N=1400.0)],
        gain_N=None,
        unloaded=UNLOADED,
        loaded=LOADED,
        drop_allowed_mm=0.0,
        minimum_kPa=34.5,
        maximum_kPa=241.3,
    )
    assert no_rate == ()


def test_a_load_that_dropped_nothing_makes_no_table() -> None:
    """Loaded as high as unloaded, or higher: no drop to be in proportion to, whatever the loads."""
    for loaded in (UNLOADED, Height(mm=UNLOADED.mm + 10.0, u_mm=0.5)):
        rows = pressure_table(
            fit_line(TRIALS),
            [OtherLoad(load_N=1400.0, rear_gain_N=1900.0)],
            gain_N=GAIN_N,
            unloaded=UNLOADED,
            loaded=loaded,
            drop_allowed_mm=0.0,
            minimum_kPa=34.5,
            maximum_kPa=241.3,
        )
        assert rows == ()


@pytest.mark.parametrize(
    "absurd",
    [
        OtherLoad(load_N=math.nan, rear_gain_N=1900.0),
        OtherLoad(load_N=1400.0, rear_gain_N=math.nan),
        OtherLoad(load_N=1e12, rear_gain_N=1e12),
    ],
)
def test_a_load_that_cannot_be_reckoned_with_leaves_the_others(absurd: OtherLoad) -> None:
    """One absurd load has no row; those before and after it keep theirs."""
    rows = pressure_table(
        fit_line(TRIALS),
        [OtherLoad(load_N=1000.0, rear_gain_N=1400.0), absurd, OtherLoad(load_N=1400.0, rear_gain_N=1900.0)],
        gain_N=1e-3 if absurd.load_N == 1e12 else GAIN_N,
        unloaded=UNLOADED,
        loaded=LOADED,
        drop_allowed_mm=0.0,
        minimum_kPa=34.5,
        maximum_kPa=241.3,
    )
    assert [row.load_N for row in rows] == [1000.0, 1400.0]


# By hand: tried at 103.4 and 172.4 kPa, half the span of 69 beyond is 206.9; a heavy load asks for far more than that.
@pytest.mark.parametrize(("maximum_kPa", "extrapolated"), [(206.0, False), (208.0, True), (None, True)])
def test_a_row_is_extrapolated_by_the_pressure_to_set(maximum_kPa: float | None, *, extrapolated: bool) -> None:
    """Held at a maximum near the trials nothing is extrapolated: that pressure was as good as tried."""
    (row,) = pressure_table(
        fit_line(TRIALS),
        [OtherLoad(load_N=3000.0, rear_gain_N=4000.0)],
        gain_N=GAIN_N,
        unloaded=UNLOADED,
        loaded=LOADED,
        drop_allowed_mm=0.0,
        minimum_kPa=34.5,
        maximum_kPa=maximum_kPa,
    )
    assert (row.recommended_kPa, row.extrapolated) == (maximum_kPa, extrapolated)


_amount = st.floats(allow_nan=True, allow_infinity=True)
_optional = st.none() | _amount
_height = st.none() | st.builds(Height, mm=_amount, u_mm=_amount)


@given(_optional, _height, _height, _amount, _optional, _optional, st.lists(_amount, max_size=4))
def test_any_facts_any_of_them_missing(
    gain_N: float | None,
    unloaded: Height | None,
    loaded: Height | None,
    drop_mm: float,
    minimum_kPa: float | None,
    maximum_kPa: float | None,
    gains_N: list[float],
) -> None:
    """No input makes a NaN, an infinity or a crash, and no row recommends what the kit does not allow."""
    rows = pressure_table(
        fit_line(TRIALS),
        [OtherLoad(load_N=gain, rear_gain_N=gain) for gain in gains_N],
        gain_N=gain_N,
        unloaded=unloaded,
        loaded=loaded,
        drop_allowed_mm=drop_mm,
        minimum_kPa=minimum_kPa,
        maximum_kPa=maximum_kPa,
    )
    for row in rows:
        assert math.isfinite(row.pressure_kPa)
        assert math.isfinite(row.u_pressure_kPa)
        if row.recommended_kPa is not None:
            assert minimum_kPa is not None
            assert maximum_kPa is not None
            assert minimum_kPa <= row.recommended_kPa <= maximum_kPa
