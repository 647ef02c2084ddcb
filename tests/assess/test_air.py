"""The pressure for the target: its limits, what is left there, and when nothing is recommended."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from cornerwalk.assess.air import (
    Target,
    beam_per_air,
    fieller_bounds,
    level_target,
    limit_pressure,
    recommend,
    unloaded_target,
)
from cornerwalk.assess.air_line import Line, NoLine, Trial, fit_line
from tests.support.units import PSI

MINIMUM_KPA, MAXIMUM_KPA = 5 * PSI, 35 * PSI
U_MM = 0.65


def line_of(*trials: tuple[float, float]) -> Line | NoLine:
    return fit_line([Trial(pressure_kPa=psi * PSI, height_mm=mm, u_height_mm=U_MM) for psi, mm in trials])


def target_at(height_mm: float) -> Target:
    return Target(name="unloaded height", height_mm=height_mm, u_mm=U_MM)


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
    line = fit_line(
        [Trial(pressure_kPa=p, height_mm=h.n, u_height_mm=h.s) for p, h in zip(pressures, heights, strict=True)]
    )
    ours = recommend(line, target_at(742.16), minimum_kPa=MINIMUM_KPA, maximum_kPa=MAXIMUM_KPA)
    assert ours.pressure_kPa == pytest.approx(theirs.n, rel=1e-12)
    assert ours.u_pressure_kPa == pytest.approx(theirs.s, rel=1e-9)


def test_within_the_limits_the_target_is_met() -> None:
    """A pressure within the kit's limits is recommended as it is, and nothing is left but the prediction's own u."""
    ours = recommend(
        line_of((15, 719.0), (25, 731.0)), target_at(734.0), minimum_kPa=MINIMUM_KPA, maximum_kPa=MAXIMUM_KPA
    )
    assert ours.pressure_kPa == pytest.approx(27.5 * PSI)
    assert ours.recommended_kPa == ours.pressure_kPa
    assert ours.left_mm == pytest.approx(0.0, abs=1e-9)
    assert ours.u_left_mm is not None
    assert ours.u_left_mm > U_MM
    assert (ours.held_at, ours.extrapolated, ours.reason) == (None, False, None)


@pytest.mark.parametrize(
    ("target_mm", "held_at", "psi", "left_mm"),
    [(755.0, "maximum", 35, 12.0), (700.0, "minimum", 5, -7.0)],
)
def test_limits_hold_and_what_is_left_is_said(target_mm: float, held_at: str, psi: float, left_mm: float) -> None:
    """Beyond a limit the limit is recommended; what the rear then lacks, or has too much, is left over."""
    ours = recommend(
        line_of((15, 719.0), (25, 731.0)), target_at(target_mm), minimum_kPa=MINIMUM_KPA, maximum_kPa=MAXIMUM_KPA
    )
    assert ours.held_at == held_at
    assert ours.recommended_kPa == pytest.approx(psi * PSI)
    assert ours.left_mm == pytest.approx(left_mm, abs=1e-9)


def test_far_outside_the_trials_is_said() -> None:
    """A recommendation more than half the tried span beyond the trials is marked so."""
    line = line_of((15, 719.0), (25, 731.0))
    far = recommend(line, target_at(738.1), minimum_kPa=MINIMUM_KPA, maximum_kPa=MAXIMUM_KPA)
    near = recommend(line, target_at(736.9), minimum_kPa=MINIMUM_KPA, maximum_kPa=MAXIMUM_KPA)
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
    ours = recommend(line_of(*trials), target_at(742.0), minimum_kPa=MINIMUM_KPA, maximum_kPa=MAXIMUM_KPA)
    assert (ours.recommended_kPa, ours.pressure_kPa, ours.reason) == (None, None, reason)


@pytest.mark.parametrize(
    ("minimum_kPa", "maximum_kPa", "reason"),
    [
        (None, MAXIMUM_KPA, "kit limits missing"),
        (MINIMUM_KPA, None, "kit limits missing"),
        (MAXIMUM_KPA, MINIMUM_KPA, "kit limits crossed"),
    ],
)
def test_no_pressure_to_set_without_the_kits_limits(
    minimum_kPa: float | None, maximum_kPa: float | None, reason: str
) -> None:
    """The line may be read without the kit's sheet, but no pressure is given to set."""
    ours = recommend(
        line_of((15, 719.0), (25, 731.0)), target_at(734.0), minimum_kPa=minimum_kPa, maximum_kPa=maximum_kPa
    )
    assert ours.pressure_kPa == pytest.approx(27.5 * PSI)
    assert (ours.recommended_kPa, ours.left_mm, ours.reason) == (None, None, reason)


def test_no_target() -> None:
    """Without an unloaded height there is nothing to aim for."""
    ours = recommend(line_of((15, 719.0), (25, 731.0)), None, minimum_kPa=MINIMUM_KPA, maximum_kPa=MAXIMUM_KPA)
    assert ours.reason == "target missing"
    assert unloaded_target(None, U_MM) is None
    assert level_target(742.0, U_MM, None, U_MM) is None
    assert level_target(None, U_MM, 6.35, U_MM) is None


@given(unloaded_mm=st.floats(500, 1200), front_change_mm=st.floats(-100, 100))
def test_beam_level_never_asks_for_more_than_the_unloaded_height(unloaded_mm: float, front_change_mm: float) -> None:
    """With ΔR brought to ΔF the beam is level; where that lies above the unloaded height, the height wins."""
    target = level_target(unloaded_mm, U_MM, front_change_mm, 0.9)
    assert target is not None
    assert target.height_mm <= unloaded_mm
    rear_change_mm = target.height_mm - unloaded_mm
    assert front_change_mm - rear_change_mm == pytest.approx(target.short_of_level_mm, abs=1e-9)
    assert target.short_of_level_mm >= 0


def test_u_of_a_level_target_has_both_ends_in_it() -> None:
    """Below the unloaded height the target rests on the front's change too, above it on the rear's height alone."""
    lower, capped = level_target(742.0, 0.6, -6.0, 0.8), level_target(742.0, 0.6, 6.0, 0.8)
    assert lower is not None
    assert capped is not None
    assert (lower.u_mm, capped.u_mm) == pytest.approx((1.0, 0.6))


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
    low_kPa, high_kPa = fieller_bounds(line, target_mm, U_MM)
    for bound_kPa in (low_kPa, high_kPa):
        U_mm = 2 * math.hypot(line.u_height_mm(bound_kPa), U_MM)
        assert abs(target_mm - line.height_mm(bound_kPa)) == pytest.approx(U_mm, rel=1e-6)
    ours = recommend(line, target_at(target_mm), minimum_kPa=MINIMUM_KPA, maximum_kPa=MAXIMUM_KPA)
    assert ours.pressure_kPa is not None
    assert low_kPa < ours.pressure_kPa < high_kPa


def test_beam_per_air_is_the_slope_times_the_beam_per_height() -> None:
    """What a kPa does to the beam is what it does to the rear times what the rear does to the beam."""
    line = line_of((15, 719.0), (25, 731.0))
    assert isinstance(line, Line)
    per = beam_per_air(line, -2.5)
    assert per is not None
    assert per.shift_mm_per_kPa == pytest.approx(-2.5 * 12 / (10 * PSI))
    assert per.u_shift_mm_per_kPa == pytest.approx(2.5 * line.u_c1_mm_per_kPa)
    assert beam_per_air(line, None) is None
    assert beam_per_air(NoLine(reason="one trial"), -2.5) is None


def test_held_within_leaves_what_lies_between() -> None:
    """A pressure between the limits, or at one, is kept as it is."""
    for kPa in (MINIMUM_KPA, 100.0, MAXIMUM_KPA):
        held = limit_pressure(kPa, MINIMUM_KPA, MAXIMUM_KPA)
        assert (held.pressure_kPa, held.held_at) == (kPa, None)


_amount = st.floats(allow_nan=True, allow_infinity=True)
_optional = st.none() | _amount
_trial = st.builds(Trial, pressure_kPa=_amount, height_mm=_amount, u_height_mm=_amount)
_near = st.builds(
    Trial,
    pressure_kPa=st.floats(-50, 1000),
    height_mm=st.floats(-1000, 2000),
    u_height_mm=st.floats(1e-12, 100),
)


@given(st.lists(_trial | _near, max_size=5), _optional, _optional, _optional, _optional, _optional, _optional)
def test_any_trials_any_facts_missing(
    trials: list[Trial],
    unloaded_mm: float | None,
    u_mm: float | None,
    front_mm: float | None,
    minimum_kPa: float | None,
    maximum_kPa: float | None,
    beam: float | None,
) -> None:
    """No input makes a NaN, an infinity or a crash; a recommendation lies within the limits or has its reason."""
    line = fit_line(trials)
    for target in (unloaded_target(unloaded_mm, u_mm), level_target(unloaded_mm, u_mm, front_mm, u_mm)):
        ours = recommend(line, target, minimum_kPa=minimum_kPa, maximum_kPa=maximum_kPa)
        figures = [getattr(ours, name) for name in ours.__slots__ if name.endswith(("_kPa", "_mm"))]
        assert len(figures) == 7
        assert all(figure is None or math.isfinite(figure) for figure in figures)
        assert (ours.recommended_kPa is None) == (ours.reason is not None)
        if ours.recommended_kPa is not None:
            assert minimum_kPa is not None
            assert maximum_kPa is not None
            assert minimum_kPa <= ours.recommended_kPa <= maximum_kPa
    per = beam_per_air(line, beam)
    assert per is None or math.isfinite(per.shift_mm_per_kPa)
