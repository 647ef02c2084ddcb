"""The pressure for the target: its limits, two lines, when nothing is recommended, and how often its interval holds."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from cornerwalk.assess.air import (
    SLOPE_FOR_U,
    KitLimits,
    Recommendation,
    Target,
    beam_per_air,
    fieller_bounds,
    level_target,
    per_side,
    recommend,
    settle_pressure,
    unloaded_target,
)
from cornerwalk.assess.air_line import Line, NoLine, Trial, fit_line
from cornerwalk.assess.estimate import Estimate, estimate
from cornerwalk.assess.gauge import Gauge
from tests.support.known import known
from tests.support.units import IN, PSI

MINIMUM_KPA, MAXIMUM_KPA = 8 * PSI, 40 * PSI
U_MM = 0.65


LIMITS = KitLimits(minimum_kPa=MINIMUM_KPA, maximum_kPa=MAXIMUM_KPA)


def line_of(*trials: tuple[float, float]) -> Line | NoLine:
    return fit_line([Trial(Estimate(psi * PSI), Estimate(mm, U_MM)) for psi, mm in trials])


TWELVE_MM = line_of((15, 719.0), (25, 731.0))
"""Two trials 10 psi apart raise the rear by 12 mm."""


def target_at(height_mm: float, u_mm: float = U_MM) -> Target:
    return Target("unloaded height", Estimate(height_mm, u_mm))


def test_u_of_pressure_agrees_with_independent_propagation() -> None:
    """u(P*) is what the `uncertainties` package finds when the heights go through the least-squares sums themselves."""
    pressures = [15 * PSI, 25 * PSI, 30 * PSI]
    heights = [ufloat(mm, u) for mm, u in ((719.1, 0.65), (730.2, 0.46), (735.9, 0.65))]
    weights = [1 / height.s**2 for height in heights]
    total = sum(weights)
    p_mean = sum(w * p for w, p in zip(weights, pressures, strict=True)) / total
    h_mean = sum(w * h for w, h in zip(weights, heights, strict=True)) / total
    s_xx = sum(w * (p - p_mean) ** 2 for w, p in zip(weights, pressures, strict=True))
    slope = sum(w * (p - p_mean) * h for w, p, h in zip(weights, pressures, heights, strict=True)) / s_xx
    theirs = p_mean + (ufloat(742.16, 0.65) - h_mean) / slope
    line = fit_line([Trial(Estimate(p), Estimate(h.n, h.s)) for p, h in zip(pressures, heights, strict=True)])
    ours = recommend(line, target_at(742.16), LIMITS)
    assert ours.pressure_kPa == pytest.approx(theirs.n, rel=1e-12)
    assert ours.u_pressure_kPa == pytest.approx(theirs.s, rel=1e-9)


def test_within_the_limits_the_target_is_met() -> None:
    """A pressure within the kit's limits is recommended as it is, and nothing is left but the prediction's own u."""
    ours = recommend(TWELVE_MM, target_at(734.0), LIMITS)
    assert ours.pressure_kPa == pytest.approx(27.5 * PSI)
    assert ours.recommended_kPa == ours.pressure_kPa
    assert ours.left_mm == pytest.approx(0.0, abs=1e-9)
    assert known(ours.u_left_mm) > U_MM
    assert (ours.held_at, ours.extrapolated, ours.reason) == (None, False, None)


@pytest.mark.parametrize(
    ("target_mm", "held_at", "psi", "left_mm"),
    [(761.0, "maximum", 40, 12.0), (710.6, "minimum", 8, 0.0)],
)
def test_limits_hold_and_what_is_left_is_said(target_mm: float, held_at: Any, psi: float, left_mm: float) -> None:
    """Beyond a limit the limit is recommended; what the rear then lacks is left over."""
    ours = recommend(TWELVE_MM, target_at(target_mm), LIMITS, guard_mm=1e-9)
    assert ours.held_at == held_at
    assert ours.recommended_kPa == pytest.approx(psi * PSI)
    assert ours.left_mm == pytest.approx(left_mm, abs=1e-9)


# By hand: the line gives 710.6 mm at 8 psi, 2 mm above a target of 708.6.
def test_a_kit_too_strong_for_the_load_is_not_recommended() -> None:
    """Where the kit's minimum lifts the rear above its target nothing is recommended, and by how much is said."""
    ours = recommend(TWELVE_MM, target_at(708.6), LIMITS)
    assert (ours.recommended_kPa, ours.left_mm, ours.reason) == (None, None, "kit too strong")
    assert ours.above_mm == pytest.approx(2.0)
    assert ours.pressure_kPa == pytest.approx((8 - 2 / 1.2) * PSI)


# By hand: 27.5 psi lifts the rear to 734 mm; a guard of 1.5 mm asks for 26.25 psi, of which a gauge shows the whole
# psi below, or the half psi on which it lies within a millionth.
@pytest.mark.parametrize(
    ("step_psi", "guard_mm", "psi"), [(1.0, 1.5, 26.0), (0.25, 1.5, 26.25), (0.5, 0.6000005, 27.0), (0.5, 0.6001, 26.5)]
)
def test_the_guarded_pressure_goes_down_to_a_mark_of_the_gauge(step_psi: float, guard_mm: float, psi: float) -> None:
    """Never up: the rear is not to come above its target; a pressure within 1e-6 of a mark is on it."""
    limits = KitLimits(minimum_kPa=MINIMUM_KPA, maximum_kPa=MAXIMUM_KPA, gauge=Gauge(step_psi * PSI, "psi"))
    ours = recommend(TWELVE_MM, target_at(734.0), limits, guard_mm=guard_mm)
    assert ours.recommended_kPa == pytest.approx(psi * PSI, rel=1e-12)
    assert ours.pressure_kPa == pytest.approx(27.5 * PSI)
    assert ours.left_mm == pytest.approx(734.0 - (701 + 1.2 * psi), abs=1e-9)


@pytest.mark.parametrize("why", ["level control at work", "air lowered the rear", "kit too strong"])
def test_what_forbids_advice_is_the_reason(why: Any) -> None:
    """Whatever the line says."""
    ours = recommend(TWELVE_MM, target_at(734.0), LIMITS, forbidden=why)
    assert (ours.recommended_kPa, ours.pressure_kPa, ours.reason) == (None, None, why)


# By hand: of 7 and 34 psi on a gauge of 10 psi the marks within are 10 and 30; of 12 and 18 there is none.
@pytest.mark.parametrize(("kit", "marks"), [((7, 34), (10, 30)), ((12, 18), (12, 18)), ((10, 30), (10, 30))])
def test_the_kits_limits_are_set_on_marks(kit: tuple[float, float], marks: tuple[float, float]) -> None:
    """Up from the minimum and down from the maximum; where no mark lies within, at the limits themselves."""
    limits = KitLimits(minimum_kPa=kit[0] * PSI, maximum_kPa=kit[1] * PSI, gauge=Gauge(10 * PSI, "psi"))
    assert (limits.lowest_kPa, limits.highest_kPa) == pytest.approx((marks[0] * PSI, marks[1] * PSI))


def test_far_outside_the_trials_is_said() -> None:
    """A recommendation more than half the tried span beyond the trials is marked so."""
    line = line_of((15, 719.0), (25, 731.0))
    far = recommend(line, target_at(738.1), LIMITS)
    near = recommend(line, target_at(736.9), LIMITS)
    assert (far.extrapolated, near.extrapolated) == (True, False)


@pytest.mark.parametrize(
    ("trials", "reason"),
    [
        ((), "no trials"),
        (((15, 719.0),), "one trial"),
        (((15, 719.0), (15, 720.0)), "one pressure"),
        (((15, 731.0), (25, 719.0)), "air does not raise the rear"),
        (((5, 719.0), (35, 719.5)), "air does not raise the rear"),
        (((15, 719.0), (16, 719.9)), "pressures too close"),
        (((15, 719.0), (16, 712.0)), "air does not raise the rear"),
    ],
)
def test_no_recommendation_says_why(trials: tuple[tuple[float, float], ...], reason: str) -> None:
    """Nothing is recommended from trials that do not carry it, and a fault is not blamed on trials too close."""
    ours = recommend(line_of(*trials), target_at(742.0), LIMITS)
    assert (ours.recommended_kPa, ours.pressure_kPa, ours.reason) == (None, None, reason)


@pytest.mark.parametrize(
    ("limits", "reason"),
    [
        ({"minimum_kPa": None, "maximum_kPa": MAXIMUM_KPA}, "kit limits missing"),
        ({"minimum_kPa": MINIMUM_KPA, "maximum_kPa": None}, "kit limits missing"),
        ({"minimum_kPa": MAXIMUM_KPA, "maximum_kPa": MINIMUM_KPA}, "kit limits crossed"),
    ],
)
def test_no_pressure_to_set_without_the_kits_limits(limits: dict[str, Any], reason: str) -> None:
    """The line may be read without the kit's sheet, but no pressure is given to set."""
    ours = recommend(TWELVE_MM, target_at(734.0), KitLimits(**limits))
    assert ours.pressure_kPa == pytest.approx(27.5 * PSI)
    assert (ours.recommended_kPa, ours.left_mm, ours.reason) == (None, None, reason)


def test_no_target() -> None:
    """Without an unloaded height there is nothing to aim for."""
    ours = recommend(TWELVE_MM, None, LIMITS)
    assert ours.reason == "target missing"
    assert unloaded_target(None) is None
    assert level_target(Estimate(742.0, U_MM), None) is None
    assert level_target(None, Estimate(6.35, U_MM)) is None


@given(unloaded_mm=st.floats(500, 1200), front_change_mm=st.floats(-100, 100))
def test_beam_level_never_asks_for_more_than_the_unloaded_height(unloaded_mm: float, front_change_mm: float) -> None:
    """With ΔR brought to ΔF the beam is level; where that lies above the unloaded height, the height wins."""
    target = known(level_target(Estimate(unloaded_mm, U_MM), Estimate(front_change_mm, 0.9)))
    assert target.height.value <= unloaded_mm
    rear_change_mm = target.height.value - unloaded_mm
    assert front_change_mm - rear_change_mm == pytest.approx(target.short_of_level_mm, abs=1e-9)
    assert target.short_of_level_mm >= 0


def test_u_of_a_level_target_has_both_ends_in_it() -> None:
    """Below the unloaded height the target rests on the front's change too, above it on the rear's height alone."""
    lower, capped = (known(level_target(Estimate(742.0, 0.6), Estimate(front, 0.8))) for front in (-6.0, 6.0))
    assert (lower.height.u, capped.height.u) == pytest.approx((1.0, 0.6))


@given(
    target_mm=st.floats(700, 760),
    low_mm=st.floats(700, 725),
    rise_mm=st.floats(3, 30),
    psi=st.floats(5, 20),
    span_psi=st.floats(5, 15),
)
def test_fieller_bounds_are_where_line_and_target_part(
    target_mm: float, low_mm: float, rise_mm: float, psi: float, span_psi: float
) -> None:
    """At either bound the line's height and the target differ by exactly their combined U; the answer lies between."""
    line = line_of((psi, low_mm), (psi + span_psi, low_mm + rise_mm))
    assert isinstance(line, Line)
    assert line.rises
    low_kPa, high_kPa = map(known, fieller_bounds(line, Estimate(target_mm, U_MM)))
    for bound_kPa in (low_kPa, high_kPa):
        U_mm = 2 * math.hypot(line.height(bound_kPa).u, U_MM)
        assert abs(target_mm - line.height_mm(bound_kPa)) == pytest.approx(U_mm, rel=1e-6)
    ours = recommend(line, target_at(target_mm), LIMITS)
    assert low_kPa < known(ours.pressure_kPa) < high_kPa


def test_beam_per_air_is_the_slope_times_the_beam_per_height() -> None:
    """What a kPa does to the beam is what it does to the rear times what the rear does to the beam."""
    assert isinstance(TWELVE_MM, Line)
    per = known(beam_per_air(TWELVE_MM, -2.5))
    assert per.shift_mm_per_kPa == pytest.approx(-2.5 * 12 / (10 * PSI))
    assert per.u_shift_mm_per_kPa == pytest.approx(2.5 * TWELVE_MM.slope.u)
    assert beam_per_air(TWELVE_MM, None) is None
    assert beam_per_air(NoLine(reason="one trial"), -2.5) is None


def test_a_pressure_between_the_limits_is_kept() -> None:
    """A pressure between the limits, or at one, is kept as it is where any can be set."""
    for kPa in (MINIMUM_KPA, 100.0, MAXIMUM_KPA):
        setting = settle_pressure(kPa, LIMITS, lambda _: -1.0)
        assert (setting.pressure_kPa, setting.held_at) == (kPa, None)


_amount = st.floats(allow_nan=True, allow_infinity=True)
_optional = st.none() | _amount
_any_estimate = st.builds(Estimate, _amount, _amount)
_trial = st.builds(Trial, _any_estimate, _any_estimate)

_near = st.builds(
    Trial,
    st.builds(Estimate, st.floats(-50, 1000), st.floats(0, 20)),
    st.builds(Estimate, st.floats(-1000, 2000), st.floats(1e-12, 100)),
)


@given(st.lists(_trial | _near, max_size=5), st.lists(_optional, min_size=6, max_size=6))
def test_any_trials_any_facts_missing(trials: list[Trial], facts: list[float | None]) -> None:
    """No input makes a NaN, an infinity or a crash; a recommendation lies within the limits or has its reason."""
    unloaded_mm, u_mm, front_mm, minimum_kPa, maximum_kPa, beam = facts
    line = fit_line(trials)
    unloaded = estimate(unloaded_mm, u_mm)
    limits = KitLimits(minimum_kPa=minimum_kPa, maximum_kPa=maximum_kPa)
    for target in (unloaded_target(unloaded), level_target(unloaded, estimate(front_mm, u_mm))):
        ours = recommend(line, target, limits)
        names = ("pressure_kPa", "u_pressure_kPa", "low_kPa", "high_kPa", "aimed_kPa", "recommended_kPa", "left_mm")
        figures = [getattr(ours, name) for name in (*names, "u_left_mm", "above_mm")]
        assert all(figure is None or math.isfinite(figure) for figure in figures)
        assert (ours.recommended_kPa is None) == (ours.reason is not None)
        if ours.recommended_kPa is not None:
            assert known(minimum_kPa) <= ours.recommended_kPa <= known(maximum_kPa)
    per = beam_per_air(line, beam)
    assert per is None or math.isfinite(per.shift_mm_per_kPa)


# ---- left and right lines: what two pressures do for a lean that one leaves ----


def side(at_nought_mm: float, mm_per_kPa: float = 0.2) -> Line:
    """A corner that answers air along this line, read at three pressures."""
    made = [Trial(Estimate(p), Estimate(at_nought_mm + mm_per_kPa * p, U_MM)) for p in TRIED_KPA]
    line = fit_line(made)
    assert isinstance(line, Line)
    return line


TRIED_KPA = (50.0, 100.0, 200.0)
LOW, HIGH = side(700.0), side(705.0)
SIDES = KitLimits(minimum_kPa=34.5, maximum_kPa=241.3)


def test_two_pressures_level_what_one_leaves_leaning() -> None:
    """Two corners 5 mm apart at any common pressure meet their targets at two, worked by hand."""
    ours = per_side(LOW, HIGH, target_at(740.0), target_at(740.0), SIDES, tee_kPa=187.5)
    assert (ours.left.recommended_kPa, ours.right.recommended_kPa) == pytest.approx((200.0, 175.0))
    assert (known(ours.tee).value, known(ours.separate).value) == pytest.approx((-5.0, 0.0), abs=1e-9)
    assert known(ours.tee).u > 2**0.5 * U_MM


def test_a_limit_on_one_side_leaves_its_share_of_the_lean() -> None:
    """Where the kit stops the left at its maximum, the difference left over is what the left then lacks."""
    ours = per_side(side(690.0), HIGH, target_at(740.0), target_at(740.0), SIDES)
    assert ours.left.held_at == "maximum"
    assert known(ours.separate).value == pytest.approx(690.0 + 0.2 * 241.3 - 740.0)
    assert ours.tee is None


def test_each_corner_has_its_own_target() -> None:
    """A lean that was there unloaded is left as it was: the difference counts from each corner's own height."""
    ours = per_side(LOW, HIGH, target_at(740.0), target_at(745.0), SIDES)
    assert ours.left.recommended_kPa == pytest.approx(ours.right.recommended_kPa)


@pytest.mark.parametrize(
    ("left", "right_target", "recommended_kPa", "reasons"),
    [
        (NoLine(reason="one trial"), None, None, ("one trial", "target missing")),
        (LOW, None, 200.0, (None, "target missing")),
        (LOW, target_at(math.nan), 200.0, (None, "target missing")),
        (LOW, target_at(740.0, math.nan), 200.0, (None, "target missing")),
    ],
)
def test_one_side_without_line_or_target_says_nothing_of_the_lean(
    left: Line | NoLine, right_target: Target | None, recommended_kPa: float | None, reasons: tuple[str | None, str]
) -> None:
    """A side whose line or target is missing or unsure takes both differences with it; the other keeps its air."""
    ours = per_side(left, HIGH, target_at(740.0), right_target, SIDES, tee_kPa=100.0)
    assert ours.left.recommended_kPa == pytest.approx(recommended_kPa)
    assert (ours.left.reason, ours.right.reason) == reasons
    assert (ours.tee, ours.separate) == (None, None)


# Oracle: the `uncertainties` package: a line through three trials at 50, 100 and 200 kPa by least squares is a weighted
# sum of them, 1/3 + (p − p̄)(P − p̄)/Σ(p − p̄)² each.
def test_both_differences_against_automatic_propagation() -> None:
    """Left less right, each above its own target: at one pressure and at two, trials and targets in u."""
    mean_kPa = sum(TRIED_KPA) / 3
    sxx = sum((p - mean_kPa) ** 2 for p in TRIED_KPA)

    def above_target(at_nought_mm: float, target_mm: float, at_kPa: float) -> Any:
        heights = [ufloat(at_nought_mm + 0.2 * p, U_MM) for p in TRIED_KPA]
        parts = [1 / 3 + (p - mean_kPa) * (at_kPa - mean_kPa) / sxx for p in TRIED_KPA]
        return sum(part * height for part, height in zip(parts, heights, strict=True)) - ufloat(target_mm, U_MM)

    limits = KitLimits(minimum_kPa=34.5, maximum_kPa=200.0)
    ours = per_side(LOW, HIGH, target_at(742.0), target_at(738.0), limits, tee_kPa=150.0)
    tee = above_target(700.0, 742.0, 150.0) - above_target(705.0, 738.0, 150.0)
    separate = above_target(700.0, 742.0, 200.0) - above_target(705.0, 738.0, 165.0)
    assert (ours.left.recommended_kPa, ours.right.recommended_kPa) == pytest.approx((200.0, 165.0))
    assert (known(ours.tee).value, known(ours.tee).u) == pytest.approx((tee.nominal_value, tee.std_dev))
    found = known(ours.separate)
    assert (found.value, found.u) == pytest.approx((separate.nominal_value, separate.std_dev))


_corner = st.builds(Trial, st.builds(Estimate, st.floats(0, 300)), _any_estimate)
_trials = st.lists(_corner, max_size=3)
_target = st.none() | st.builds(Target, st.just("unloaded height"), _any_estimate)


@given(_trials, _trials, _target, _target, st.none() | _amount, st.none() | _amount)
def test_any_corners_any_facts_missing(
    left: list[Trial], right: list[Trial], at_left: Any, at_right: Any, maximum_kPa: float | None, tee_kPa: float | None
) -> None:
    """No input makes a NaN, an infinity or a crash."""
    limits = KitLimits(minimum_kPa=34.5, maximum_kPa=maximum_kPa)
    ours = per_side(fit_line(left), fit_line(right), at_left, at_right, limits, tee_kPa=tee_kPa)
    for figure in (ours.tee, ours.separate):
        assert figure is None or (math.isfinite(figure.value) and math.isfinite(figure.u))


# ---- how often the interval for the pressure holds the truth: by simulation ----


U_READ_MM = IN / math.sqrt(1536)  # mean of two readings: tape 1/16 in, placing 1/32 in
DRAWS = 1_000_000


def recommendation(pressures: list[float], heights: list[float], target_mm: float, u_mm: float) -> Recommendation:
    trials = [Trial(Estimate(p), Estimate(h, u_mm)) for p, h in zip(pressures, heights, strict=True)]
    target = Target("unloaded height", Estimate(target_mm, u_mm))
    return recommend(fit_line(trials), target, LIMITS)


@pytest.mark.parametrize(
    ("psi", "slope_in_per_psi"),
    [([15, 25], 0.04375), ([5, 15, 25], 0.04), ([5, 15, 25, 35], 0.03), ([10, 30], 0.06), ([12, 20, 28], 0.05)],
)
@pytest.mark.parametrize("answer_psi", [18.0, 28.0, 35.7])
def test_distributions_propagated(psi: list[float], slope_in_per_psi: float, answer_psi: float) -> None:
    """Of a million draws of the readings, 95 ± 1 % give a pressure within ± U, by independent least squares."""
    chance = np.random.default_rng(20260504)
    pressures = [p * PSI for p in psi]
    heights = [700 + slope_in_per_psi * IN * p for p in psi]
    target_mm = 700 + slope_in_per_psi * IN * answer_psi
    ours = recommendation(pressures, heights, target_mm, U_READ_MM)
    solve = np.linalg.pinv(np.column_stack([np.ones(len(psi)), pressures]))
    drawn = np.array(heights)[:, None] + chance.normal(0, U_READ_MM, (len(psi), DRAWS))
    intercepts, slopes = solve @ drawn
    answers = (target_mm + chance.normal(0, U_READ_MM, DRAWS) - intercepts) / slopes
    within = np.mean(np.abs(answers - known(ours.pressure_kPa)) <= 2 * known(ours.u_pressure_kPa))
    assert 0.94 <= within <= 0.96
    assert 0.94 <= np.mean((answers >= known(ours.low_kPa)) & (answers <= known(ours.high_kPa))) <= 0.97


def coverage(
    psi: list[float], answer_psi: float, slope_over_u: float, *, jobs: int, seed: int
) -> tuple[float, float, int]:
    """Of simulated jobs that end in a recommendation: the shares whose ± 2u and whose Fieller bounds hold the truth."""
    chance = np.random.default_rng(seed)
    pressures = np.array(psi) * PSI
    s_xx = float(np.sum((pressures - pressures.mean()) ** 2))
    slope = slope_over_u * U_READ_MM / math.sqrt(s_xx)
    truth_kPa = answer_psi * PSI
    heights = 700 + slope * pressures + chance.normal(0, U_READ_MM, (jobs, len(psi)))
    targets = 700 + slope * truth_kPa + chance.normal(0, U_READ_MM, jobs)
    first_order = fieller = made = 0
    for read, target_mm in zip(heights.tolist(), targets.tolist(), strict=True):
        ours = recommendation(pressures.tolist(), read, target_mm, U_READ_MM)
        if ours.pressure_kPa is None or ours.u_pressure_kPa is None or ours.low_kPa is None or ours.high_kPa is None:
            continue
        made += 1
        first_order += abs(ours.pressure_kPa - truth_kPa) <= 2 * ours.u_pressure_kPa
        fieller += ours.low_kPa <= truth_kPa <= ours.high_kPa
    return first_order / made, fieller / made, made


@pytest.mark.parametrize("answer_psi", [20.0, 25.0, 30.0, 35.0, 45.0])
def test_many_jobs_with_a_sure_slope(answer_psi: float) -> None:
    """From a slope of eight times its u on, 94 to 96.5 % of jobs have the true pressure within ± U, wherever it is."""
    first_order, fieller, made = coverage([15, 25], answer_psi, 8.0, jobs=20_000, seed=1)
    assert made == 20_000
    assert 0.94 <= first_order <= 0.965
    assert 0.945 <= fieller <= 0.965


@pytest.mark.parametrize("answer_psi", [20.0, 30.0, 45.0])
def test_at_the_slope_from_which_u_is_shown(answer_psi: float) -> None:
    """At the least slope for which ± U is called good it covers 93 to 97.5 %; Fieller's bounds 95."""
    first_order, fieller, _ = coverage([15, 25], answer_psi, SLOPE_FOR_U, jobs=20_000, seed=2)
    assert 0.93 <= first_order <= 0.975
    assert 0.945 <= fieller <= 0.965


def test_where_the_first_order_interval_fails(capsys: pytest.CaptureFixture[str]) -> None:
    """With a less sure slope ± U is too narrow outside the trials and too wide between them; Fieller's bounds hold.

    The figures are printed.
    """
    rows = []
    for slope_over_u in (3.0, 4.0, 6.0, 12.0):
        for where, answer_psi in (("between the trials", 20.0), ("two spans above", 45.0)):
            first_order, fieller, _ = coverage([15, 25], answer_psi, slope_over_u, jobs=10_000, seed=3)
            rows.append((slope_over_u, where, first_order, fieller))
    with capsys.disabled():
        for slope_over_u, where, first_order, fieller in rows:
            line = (
                f"slope {slope_over_u:4.0f} u, answer {where:18}: ± 2u covers {first_order:.3f}, Fieller {fieller:.3f}"
            )
            print(f"\n{line}", end="")  # noqa: T201 - to be seen with the tests
    unsure_outside = next(row for row in rows if row[0] == 3.0 and row[1] == "two spans above")
    unsure_between = next(row for row in rows if row[0] == 3.0 and row[1] == "between the trials")
    assert unsure_outside[2] < 0.93
    assert unsure_between[2] > 0.97
    assert min(fieller for *_, fieller in rows) > 0.945


def test_flag_is_set_where_u_does_not_hold() -> None:
    """The answer says itself on which side of that slope it stands."""
    sure, unsure = ([719.0, 731.0], 742.0), ([719.0, 722.0], 725.0)
    found = [recommendation([15 * PSI, 25 * PSI], heights, at, U_READ_MM).u_holds for heights, at in (sure, unsure)]
    assert found == [True, False]


def test_honest_walks_read_in_sixteenths() -> None:
    """With placing errors and every height rounded to 1/16 in, as a walk really is, 94 to 97 of 100 jobs hold."""
    chance = np.random.default_rng(4)
    graduation_mm, place_mm, jobs = IN / 16, IN / 32, 10_000
    psi, slope, truth_psi = [15.0, 25.0], 0.04375 * IN, 31.3
    held = 0
    for _ in range(jobs):
        corner = chance.uniform(700, 800)
        truth = [corner + slope * p for p in (*psi, truth_psi)]
        sides = np.array([[h, h + chance.uniform(-6, 6)] for h in truth])
        offset = (sides - np.array(truth)[:, None]).mean(axis=1)
        read = np.round((sides + chance.normal(0, place_mm, sides.shape)) / graduation_mm) * graduation_mm
        low, high, target_mm = (read.mean(axis=1) - offset).tolist()
        ours = recommendation([p * PSI for p in psi], [low, high], target_mm, U_READ_MM)
        held += abs(known(ours.pressure_kPa) - truth_psi * PSI) <= 2 * known(ours.u_pressure_kPa)
    assert 0.94 <= held / jobs <= 0.97
