"""Pressure advice: the next pressure to try narrows most, and the pressure table agrees with the recommendation."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from cornerwalk.assess.air import Target, pressure_for, recommend, u_of_pressure, unloaded_target
from cornerwalk.assess.air_line import Line, NoLine, Trial, fit_line
from cornerwalk.assess.axles import Height
from cornerwalk.assess.pressure_advice import PSI_KPA, OtherLoad, PressureForLoad, next_pressure, pressure_table
from tests.support.known import known

MINIMUM_KPA, MAXIMUM_KPA = 8 * PSI_KPA, 40 * PSI_KPA

U_MM = 0.65


def trial(psi: float, height_mm: float, u_mm: float = U_MM) -> Trial:
    return Trial(pressure_kPa=psi * PSI_KPA, height_mm=height_mm, u_height_mm=u_mm)


def target_at(height_mm: float) -> Target:
    return Target(name="unloaded height", height_mm=height_mm, u_mm=U_MM)


LIMITS = {"minimum_kPa": MINIMUM_KPA, "maximum_kPa": MAXIMUM_KPA}


def test_first_trial_is_the_kits_minimum() -> None:
    """With nothing tried, the springs get what they must hold at all times."""
    first = known(next_pressure([], target_at(742.0), **LIMITS))
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
        second = known(next_pressure(trials, target_at(742.0), **LIMITS))
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
    proposed = known(next_pressure(made, target, **LIMITS))
    foretold_kPa = known(proposed.u_pressure_after_kPa)
    answer_kPa = pressure_for(line, target.height_mm)

    def u_after(pressure_kPa: float) -> float:
        there = Trial(pressure_kPa=pressure_kPa, height_mm=line.height_mm(pressure_kPa), u_height_mm=u_mm)
        refitted = fit_line([*made, there])
        assert isinstance(refitted, Line)
        return u_of_pressure(refitted, answer_kPa, target.u_mm)

    highest = max(MINIMUM_KPA, min(MAXIMUM_KPA, answer_kPa))
    assert proposed.pressure_kPa <= highest * (1 + 1e-8)
    least = min(u_after(p * PSI_KPA) for p in range(8, 41) if p * PSI_KPA <= highest * (1 + 1e-12))
    assert foretold_kPa == pytest.approx(u_after(proposed.pressure_kPa), rel=1e-7)
    assert foretold_kPa <= least * (1 + 1e-7)
    assert proposed.pressure_kPa / PSI_KPA == pytest.approx(round(proposed.pressure_kPa / PSI_KPA), abs=1e-9)
    assert foretold_kPa <= u_of_pressure(line, answer_kPa, target.u_mm) * (1 + 1e-9)


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
    ours = known(next_pressure(made, target_at(701 + 1.2 * answer_psi), **LIMITS))
    assert ours.pressure_kPa == pytest.approx(next_psi * PSI_KPA)


def test_where_air_does_not_raise_the_farthest_pressure_tells() -> None:
    """Without a slope that stands out, the pressure farthest from the trials is the one that would show it."""
    ours = known(next_pressure([trial(15, 719.0), trial(17, 719.3)], target_at(742.0), **LIMITS))
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
    assert next_pressure(tried, None, minimum_kPa=minimum_kPa, maximum_kPa=maximum_kPa) is None


_amount = st.floats(allow_nan=True, allow_infinity=True)

_near = st.builds(
    Trial, pressure_kPa=st.floats(-50, 1000), height_mm=st.floats(-1000, 2000), u_height_mm=st.floats(1e-9, 100)
)

_trial = st.builds(Trial, pressure_kPa=_amount, height_mm=_amount, u_height_mm=_amount)

_target = st.none() | st.builds(Target, name=st.just("unloaded height"), height_mm=_amount, u_mm=_amount)


@given(st.lists(_trial | _near, max_size=4), _target, st.none() | _amount, st.none() | _amount, _amount)
def test_any_trials_any_limits(trials: list[Trial], target: Any, low: Any, high: Any, step_kPa: float) -> None:
    """Whatever is handed in, a proposal lies within the limits and its figures are finite."""
    ours = next_pressure(trials, target, minimum_kPa=low, maximum_kPa=high, step_kPa=step_kPa)
    if ours is not None:
        assert low <= ours.pressure_kPa <= high
        assert ours.u_pressure_after_kPa is None or math.isfinite(ours.u_pressure_after_kPa)


# ---- the pressure table ----


UNLOADED, LOADED = Height(mm=742.16, u_mm=0.65), Height(mm=703.26, u_mm=0.5)

GAIN_N = 2528.8

TRIALS = (
    Trial(pressure_kPa=103.4, height_mm=719.1, u_height_mm=0.65),
    Trial(pressure_kPa=172.4, height_mm=730.2, u_height_mm=0.65),
)


def table(line: Line | NoLine, *loads: float | OtherLoad, **other: Any) -> tuple[PressureForLoad, ...]:
    """The pressures for these loads, or for loads that put so much on the rear, in N; no drop is allowed."""
    asked = [each if isinstance(each, OtherLoad) else OtherLoad(load_N=each / 1.4, rear_gain_N=each) for each in loads]
    facts: dict[str, Any] = {"gain_N": GAIN_N, "unloaded": UNLOADED, "loaded": LOADED, "drop_allowed_mm": 0.0}
    return pressure_table(line, asked, **(facts | {"minimum_kPa": 55.2, "maximum_kPa": 275.8} | other))


def test_the_tried_load_gives_the_recommendation() -> None:
    """For the load tried, and no drop allowed, a row is the pressure for the unloaded height, u and all."""
    line = fit_line(TRIALS)
    (row,) = table(line, GAIN_N)
    ours = recommend(line, unloaded_target(UNLOADED.mm, UNLOADED.u_mm), minimum_kPa=55.2, maximum_kPa=275.8)
    assert row.pressure_kPa == pytest.approx(ours.pressure_kPa, rel=1e-12)
    assert row.u_pressure_kPa == pytest.approx(ours.u_pressure_kPa, rel=1e-12)
    assert (row.recommended_kPa, row.extrapolated) == (ours.recommended_kPa, ours.extrapolated)


def test_u_agrees_with_independent_propagation() -> None:
    """The u of a row is what differentiation gives from the heights, those of the trials included."""
    unloaded, loaded = ufloat(UNLOADED.mm, UNLOADED.u_mm), ufloat(LOADED.mm, LOADED.u_mm)
    low, high = (ufloat(t.height_mm, t.u_height_mm) for t in TRIALS)
    c1 = (high - low) / (TRIALS[1].pressure_kPa - TRIALS[0].pressure_kPa)
    c0 = low - c1 * TRIALS[0].pressure_kPa
    (row,) = table(fit_line(TRIALS), 1900.0, drop_allowed_mm=6.35)
    theirs = ((unloaded - loaded) * (1900.0 / GAIN_N) - 6.35 - (c0 - loaded)) / c1
    assert (row.pressure_kPa, row.u_pressure_kPa) == pytest.approx((theirs.n, theirs.s), rel=1e-9)


def test_rows_outside_the_kit_say_which_way() -> None:
    """A light load asks for less than the minimum, a heavy one for more than the maximum; the limit is set."""
    light, fair, heavy = table(fit_line(TRIALS), 300.0, 1900.0, 4000.0)
    assert (light.beyond, light.recommended_kPa) == ("below minimum", 55.2)
    assert fair.beyond is None
    assert (heavy.beyond, heavy.recommended_kPa) == ("above maximum", 275.8)


@pytest.mark.parametrize(
    ("line", "other"),
    [
        pytest.param(NoLine(reason="one trial"), {}, id="one trial"),
        pytest.param(fit_line([TRIALS[0], trial(25, 700.0)]), {}, id="air that does not raise"),
        pytest.param(fit_line(TRIALS), {"gain_N": None}, id="no ride rate"),
        pytest.param(fit_line(TRIALS), {"loaded": UNLOADED}, id="nothing dropped"),
        pytest.param(fit_line(TRIALS), {"loaded": Height(mm=UNLOADED.mm + 10.0, u_mm=0.5)}, id="it rose"),
    ],
)
def test_no_table_without_a_rising_line_or_a_ride_rate(line: Line | NoLine, other: dict[str, Any]) -> None:
    """Nothing is tabled from one trial, from air that does not raise, or from a load that dropped nothing."""
    assert table(line, 1900.0, **other) == ()


@pytest.mark.parametrize(
    ("absurd", "gain_N"),
    [
        (OtherLoad(load_N=math.nan, rear_gain_N=1900.0), GAIN_N),
        (OtherLoad(load_N=1400.0, rear_gain_N=math.nan), GAIN_N),
        (OtherLoad(load_N=1e12, rear_gain_N=1e12), 1e-3),
    ],
)
def test_a_load_that_cannot_be_reckoned_with_leaves_the_others(absurd: OtherLoad, gain_N: float) -> None:
    """One absurd load has no row; those before and after it keep theirs."""
    rows = table(fit_line(TRIALS), 1400.0, absurd, 1900.0, gain_N=gain_N)
    assert [row.load_N for row in rows] == pytest.approx([1000.0, 1900.0 / 1.4])


# By hand: tried at 103.4 and 172.4 kPa, half the span of 69 beyond is 206.9; a heavy load asks for far more than that.
@pytest.mark.parametrize(("maximum_kPa", "extrapolated"), [(206.0, False), (208.0, True), (None, True)])
def test_a_row_is_extrapolated_by_the_pressure_to_set(maximum_kPa: float | None, *, extrapolated: bool) -> None:
    """Held at a maximum near the trials nothing is extrapolated: that pressure was as good as tried."""
    (row,) = table(fit_line(TRIALS), 4000.0, maximum_kPa=maximum_kPa)
    assert (row.recommended_kPa, row.extrapolated) == (maximum_kPa, extrapolated)


_optional = st.none() | _amount

_height = st.none() | st.builds(Height, mm=_amount, u_mm=_amount)


@given(_optional, _height, _height, _amount, _optional, _optional, st.lists(_amount, max_size=4))
def test_any_facts_any_of_them_missing(
    gain_N: Any, unloaded: Any, loaded: Any, drop_mm: float, low: Any, high: Any, gains_N: list[float]
) -> None:
    """No input makes a NaN, an infinity or a crash, and no row recommends what the kit does not allow."""
    facts = {"gain_N": gain_N, "unloaded": unloaded, "loaded": loaded, "drop_allowed_mm": drop_mm}
    for row in table(fit_line(TRIALS), *gains_N, **facts, minimum_kPa=low, maximum_kPa=high):
        assert math.isfinite(row.pressure_kPa)
        assert math.isfinite(row.u_pressure_kPa)
        assert row.recommended_kPa is None or low <= row.recommended_kPa <= high
