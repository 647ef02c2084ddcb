"""Pressure advice: the next pressure to try narrows most, and the pressure table agrees with the recommendation."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from cornerwalk.assess.air import KitLimits, Target, recommend, unloaded_target
from cornerwalk.assess.air_line import Line, NoLine, Trial, fit_line
from cornerwalk.assess.estimate import Estimate
from cornerwalk.assess.gauge import PSI_KPA, Gauge
from cornerwalk.assess.pressure_advice import OtherLoad, PressureForLoad, loaded_drop, next_pressure, pressure_table
from tests.support.known import known

MINIMUM_KPA, MAXIMUM_KPA = 8 * PSI_KPA, 40 * PSI_KPA

U_MM = 0.65


def trial(psi: float, height_mm: float, u_mm: float = U_MM) -> Trial:
    return Trial(Estimate(psi * PSI_KPA), Estimate(height_mm, u_mm))


def target_at(height_mm: float) -> Target:
    return Target("unloaded height", Estimate(height_mm, U_MM))


LIMITS = KitLimits(minimum_kPa=MINIMUM_KPA, maximum_kPa=MAXIMUM_KPA, gauge=Gauge(PSI_KPA, "psi"))


def test_first_trial_is_the_kits_minimum() -> None:
    """With nothing tried, the springs get what they must hold at all times."""
    first = known(next_pressure([], target_at(742.0), LIMITS))
    assert (first.pressure_kPa, first.why, first.u_pressure_after_kPa) == (MINIMUM_KPA, "first trial", None)


@pytest.mark.parametrize(
    ("tried_psi", "height_mm", "next_psi"),
    [
        (8, 709.6, 24),  # below the target: half-way to the maximum
        (16, 719.0, 28),
        (30, 745.0, 19),  # above it: half-way to the minimum
        (40, 730.0, 24),  # no room upward: down, to see a slope at all
        (8, 750.0, 24),  # no room downward
    ],
)
def test_second_trial_is_a_step_towards_the_target(tried_psi: float, height_mm: float, next_psi: float) -> None:
    """From one pressure the next is half-way to the limit on the target's side, on a whole psi."""
    for trials in ([trial(tried_psi, height_mm)], [trial(tried_psi, height_mm), trial(tried_psi, height_mm)]):
        second = known(next_pressure(trials, target_at(742.0), LIMITS))
        assert second.why == "second trial"
        assert second.pressure_kPa / PSI_KPA == pytest.approx(next_psi)


@given(
    psi=st.lists(st.integers(8, 40), min_size=2, max_size=5, unique=True),
    slope=st.floats(0.05, 0.5),
    u_mm=st.floats(0.05, 1.0),
    answer_psi=st.floats(0, 50),
)
def test_no_other_pressure_narrows_more(psi: list[int], slope: float, u_mm: float, answer_psi: float) -> None:
    """No whole psi up to the answer, tried for real by refitting, leaves a smaller u(P*) than the one proposed.

    The u foretold is the one found.
    """
    made = [trial(p, 700 + slope * p * PSI_KPA, u_mm) for p in psi]
    line = fit_line(made)
    assert isinstance(line, Line)
    if not line.rises:
        return
    target = target_at(700 + slope * answer_psi * PSI_KPA)
    proposed = known(next_pressure(made, target, LIMITS))
    foretold_kPa = known(proposed.u_pressure_after_kPa)
    answer_kPa = line.pressure(target.height).value

    def u_after(pressure_kPa: float) -> float:
        there = Trial(Estimate(pressure_kPa), Estimate(line.height_mm(pressure_kPa), u_mm))
        refitted = fit_line([*made, there])
        assert isinstance(refitted, Line)
        return math.hypot(refitted.height(answer_kPa).u, target.height.u) / refitted.c1_mm_per_kPa

    highest = max(MINIMUM_KPA, min(MAXIMUM_KPA, answer_kPa))
    assert proposed.pressure_kPa <= highest * (1 + 1e-8)
    least = min(u_after(p * PSI_KPA) for p in range(8, 41) if p * PSI_KPA <= highest * (1 + 1e-12))
    assert foretold_kPa == pytest.approx(u_after(proposed.pressure_kPa), rel=1e-7)
    assert foretold_kPa <= least * (1 + 1e-7)
    assert proposed.pressure_kPa / PSI_KPA == pytest.approx(round(proposed.pressure_kPa / PSI_KPA), abs=1e-9)
    assert foretold_kPa <= line.pressure(target.height).u * (1 + 1e-9)


@pytest.mark.parametrize(
    ("tried_psi", "answer_psi", "next_psi"),
    [
        ((15, 25), 41, 40),  # the answer lies beyond the kit: its maximum
        ((15, 25), 20, 20),  # at the centre of the trials: there
        ((15, 25), 28.2, 28),  # no higher than the answer, though 40 would narrow more
        ((15, 25), 10, 8),  # far below: the minimum brings the centre nearest
        ((25, 35), 28, 24),  # 2 below the centre of two: a third 6 below it moves it there
    ],
)
def test_the_centre_of_the_trials_is_brought_to_the_answer(
    tried_psi: tuple[float, float], answer_psi: float, next_psi: float
) -> None:
    """The proposal after two trials that rise 1.2 mm a psi, worked by hand."""
    made = [trial(psi, 701 + 1.2 * psi) for psi in tried_psi]
    ours = known(next_pressure(made, target_at(701 + 1.2 * answer_psi), LIMITS))
    assert ours.pressure_kPa == pytest.approx(next_psi * PSI_KPA)


def test_where_air_does_not_raise_the_farthest_pressure_tells() -> None:
    """Without a slope that stands out, the pressure farthest from the trials is the one that would show it."""
    ours = known(next_pressure([trial(15, 719.0), trial(17, 719.3)], target_at(742.0), LIMITS))
    assert (ours.pressure_kPa, ours.why) == (MAXIMUM_KPA, "shows whether air raises the rear")


@pytest.mark.parametrize(
    ("tried", "minimum_kPa", "maximum_kPa"),
    [
        pytest.param([], None, 200.0, id="no minimum stated"),
        pytest.param([], 30.0, None, id="no maximum stated"),
        pytest.param([], 200.0, 30.0, id="limits crossed"),
        pytest.param([trial(8, 709.6)], MINIMUM_KPA, MINIMUM_KPA, id="one pressure is all the kit has"),
    ],
)
def test_nothing_is_proposed(tried: list[Trial], minimum_kPa: float | None, maximum_kPa: float | None) -> None:
    """No pressure is proposed that might lie outside a limit nobody stated, nor a second where there is but one."""
    assert next_pressure(tried, None, KitLimits(minimum_kPa=minimum_kPa, maximum_kPa=maximum_kPa)) is None


_amount = st.floats(allow_nan=True, allow_infinity=True)

_any_estimate = st.builds(Estimate, _amount, _amount)

_near = st.builds(
    Trial,
    st.builds(Estimate, st.floats(-50, 1000), st.floats(0, 20)),
    st.builds(Estimate, st.floats(-1000, 2000), st.floats(1e-9, 100)),
)

_trial = st.builds(Trial, _any_estimate, _any_estimate)

_target = st.none() | st.builds(Target, st.just("unloaded height"), _any_estimate)


@given(st.lists(_trial | _near, max_size=4), _target, st.none() | _amount, st.none() | _amount, st.floats(1e-3, 1e3))
def test_any_trials_any_limits(trials: list[Trial], target: Any, low: Any, high: Any, step_kPa: float) -> None:
    """Whatever is handed in, a proposal lies within the limits and its figures are finite."""
    ours = next_pressure(trials, target, KitLimits(minimum_kPa=low, maximum_kPa=high, gauge=Gauge(step_kPa, "kPa")))
    if ours is not None:
        on_a_mark = 1.000001e-6 * step_kPa  # within so much of a mark a limit is on it
        assert low - on_a_mark <= ours.pressure_kPa <= high + on_a_mark
        assert ours.u_pressure_after_kPa is None or math.isfinite(ours.u_pressure_after_kPa)


# ---- the pressure table ----


UNLOADED, LOADED = Estimate(742.16, 0.65), Estimate(703.26, 0.5)

GAIN_N = 2528.8
GAIN = Estimate(GAIN_N)

TRIALS = (Trial(Estimate(103.4), Estimate(719.1, 0.65)), Trial(Estimate(172.4), Estimate(730.2, 0.65)))

KIT = KitLimits(minimum_kPa=34.5, maximum_kPa=241.3)


def table(
    line: Line | NoLine,
    *loads: float | OtherLoad,
    gain: Estimate | None = GAIN,
    loaded: Estimate | None = LOADED,
    limits: KitLimits = KIT,
    below_mm: float = 0.0,
) -> tuple[PressureForLoad, ...]:
    """The pressures for these loads, or for loads that put so much on the rear, in N; no drop is allowed."""
    asked = [each if isinstance(each, OtherLoad) else OtherLoad(each / 1.4, Estimate(each)) for each in loads]
    return pressure_table(line, asked, loaded_drop(gain, UNLOADED, loaded), limits, below_mm=below_mm)


def test_the_tried_load_gives_the_recommendation() -> None:
    """For the load tried, aimed as low below the unloaded height, a row is the pressure recommended."""
    line = fit_line(TRIALS)
    limits = KitLimits(minimum_kPa=34.5, maximum_kPa=241.3, gauge=Gauge(PSI_KPA, "psi"))
    (row,) = table(line, GAIN_N, limits=limits, below_mm=2.5)
    ours = recommend(line, unloaded_target(UNLOADED), limits, guard_mm=2.5)
    assert row.pressure_kPa == pytest.approx(known(ours.aimed_kPa), rel=1e-12)
    assert (row.recommended_kPa, row.extrapolated) == (ours.recommended_kPa, ours.extrapolated)
    assert table(line, GAIN_N)[0].u_pressure_kPa == pytest.approx(known(ours.u_pressure_kPa), rel=1e-12)


def test_u_agrees_with_independent_propagation() -> None:
    """The u of a row is what differentiation gives from the heights and loads, those of the trials included."""
    unloaded, loaded = ufloat(UNLOADED.value, UNLOADED.u), ufloat(LOADED.value, LOADED.u)
    low, high = (ufloat(t.height.value, t.height.u) for t in TRIALS)
    gain, other = ufloat(GAIN_N, 300.0), ufloat(1900.0, 50.0)
    c1 = (high - low) / (TRIALS[1].pressure.value - TRIALS[0].pressure.value)
    c0 = low - c1 * TRIALS[0].pressure.value
    (row,) = table(
        fit_line(TRIALS), OtherLoad(1400.0, Estimate(1900.0, 50.0)), gain=Estimate(GAIN_N, 300.0), below_mm=6.35
    )
    theirs = ((unloaded - loaded) * (other / gain) - 6.35 - (c0 - loaded)) / c1
    assert (row.pressure_kPa, row.u_pressure_kPa) == pytest.approx((theirs.n, theirs.s), rel=1e-9)


# By hand: the line gives 708.0 mm at 34.5 kPa. 1900 N lets the rear down by 29.2 mm, 9.7 less than the load that was
# tried, and 300 N by 34.3 less: with the minimum in, that load stands 0.1 mm above the unloaded height.
def test_rows_outside_the_kit_say_which_way() -> None:
    """A light load asks for less than the minimum, a heavy one for more than the maximum; that limit is set.

    Where the minimum lifts the rear above its unloaded height there is nothing to set.
    """
    light, low, fair, heavy = table(fit_line(TRIALS), 200.0, 320.0, 1900.0, 4000.0)
    assert (light.beyond, light.recommended_kPa) == ("below minimum", None)
    assert low.beyond is None
    assert low.recommended_kPa == pytest.approx(low.pressure_kPa)
    assert fair.beyond is None
    assert (heavy.beyond, heavy.recommended_kPa) == ("above maximum", 241.3)
    (aimed_low,) = table(fit_line(TRIALS), 320.0, below_mm=0.5)
    assert (aimed_low.beyond, aimed_low.recommended_kPa) == ("below minimum", 34.5)


@pytest.mark.parametrize(
    ("line", "other"),
    [
        pytest.param(NoLine(reason="one trial"), {}, id="one trial"),
        pytest.param(fit_line([TRIALS[0], trial(25, 700.0)]), {}, id="air that does not raise"),
        pytest.param(fit_line(TRIALS), {"gain": None}, id="no ride rate"),
        pytest.param(fit_line(TRIALS), {"loaded": UNLOADED}, id="nothing dropped"),
        pytest.param(fit_line(TRIALS), {"loaded": Estimate(UNLOADED.value + 10.0, 0.5)}, id="it rose"),
    ],
)
def test_no_table_without_a_rising_line_or_a_ride_rate(line: Line | NoLine, other: dict[str, Any]) -> None:
    """Nothing is tabled from one trial, from air that does not raise, or from a load that dropped nothing."""
    assert table(line, 1900.0, **other) == ()


@pytest.mark.parametrize(
    ("absurd", "gain_N"),
    [
        (OtherLoad(math.nan, Estimate(1900.0)), GAIN_N),
        (OtherLoad(1400.0, Estimate(math.nan)), GAIN_N),
        (OtherLoad(1e12, Estimate(1e12)), 1e-3),
    ],
)
def test_an_absurd_load_leaves_the_others(absurd: OtherLoad, gain_N: float) -> None:
    """One absurd load has no row; those before and after it keep theirs."""
    rows = table(fit_line(TRIALS), 1400.0, absurd, 1900.0, gain=Estimate(gain_N))
    assert [row.load_N for row in rows] == pytest.approx([1000.0, 1900.0 / 1.4])


# By hand: tried at 103.4 and 172.4 kPa, half the span of 69 beyond is 206.9; a heavy load asks for far more than that.
@pytest.mark.parametrize(("maximum_kPa", "extrapolated"), [(206.0, False), (208.0, True), (None, True)])
def test_a_row_is_extrapolated_by_the_pressure_to_set(maximum_kPa: float | None, *, extrapolated: bool) -> None:
    """Held at a maximum near the trials nothing is extrapolated: that pressure was as good as tried."""
    (row,) = table(fit_line(TRIALS), 4000.0, limits=KitLimits(minimum_kPa=34.5, maximum_kPa=maximum_kPa))
    assert (row.recommended_kPa, row.extrapolated) == (maximum_kPa, extrapolated)


_optional = st.none() | _amount

_height = st.none() | _any_estimate


@given(_height, _height, _height, _amount, _optional, _optional, st.lists(_amount, max_size=4))
def test_any_facts_any_of_them_missing(
    gain: Any, unloaded: Any, loaded: Any, drop_mm: float, low: Any, high: Any, gains_N: list[float]
) -> None:
    """No input makes a NaN, an infinity or a crash, and no row recommends what the kit does not allow."""
    loads = [OtherLoad(each / 1.4, Estimate(each)) for each in gains_N]
    limits = KitLimits(minimum_kPa=low, maximum_kPa=high)
    for row in pressure_table(fit_line(TRIALS), loads, loaded_drop(gain, unloaded, loaded), limits, below_mm=drop_mm):
        assert math.isfinite(row.pressure_kPa)
        assert math.isfinite(row.u_pressure_kPa)
        assert row.recommended_kPa is None or low <= row.recommended_kPa <= high
