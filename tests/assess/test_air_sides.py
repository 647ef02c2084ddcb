"""Left and right lines: what two pressures do for a lean that one leaves."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from cornerwalk.assess.air import Target, per_side
from cornerwalk.assess.air_line import Line, NoLine, Trial, fit_line

U_MM = 0.92


def side(at_nought_mm: float, mm_per_kPa: float) -> Line:
    """A corner that answers air along this line, read at three pressures."""
    line = fit_line(
        [Trial(pressure_kPa=p, height_mm=at_nought_mm + mm_per_kPa * p, u_height_mm=U_MM) for p in (50.0, 100.0, 200.0)]
    )
    assert isinstance(line, Line)
    return line


def target_at(height_mm: float) -> Target:
    return Target(name="unloaded height", height_mm=height_mm, u_mm=U_MM)


def test_two_pressures_level_what_one_leaves_leaning() -> None:
    """Two corners 5 mm apart at any common pressure meet their targets at two, worked by hand."""
    ours = per_side(
        side(700.0, 0.2),
        side(705.0, 0.2),
        target_at(740.0),
        target_at(740.0),
        minimum_kPa=34.5,
        maximum_kPa=241.3,
        tee_kPa=187.5,
    )
    assert ours.left.recommended_kPa == pytest.approx(200.0)
    assert ours.right.recommended_kPa == pytest.approx(175.0)
    assert ours.tee_mm == pytest.approx(-5.0)
    assert ours.separate_mm == pytest.approx(0.0, abs=1e-9)
    assert ours.u_tee_mm is not None
    assert ours.u_tee_mm > 2**0.5 * U_MM


def test_a_limit_on_one_side_leaves_its_share_of_the_lean() -> None:
    """Where the kit stops the left at its maximum, the difference left over is what the left then lacks."""
    ours = per_side(
        side(690.0, 0.2), side(705.0, 0.2), target_at(740.0), target_at(740.0), minimum_kPa=34.5, maximum_kPa=241.3
    )
    assert ours.left.held_at == "maximum"
    assert ours.separate_mm == pytest.approx(690.0 + 0.2 * 241.3 - 740.0)
    assert (ours.tee_mm, ours.u_tee_mm) == (None, None)


def test_each_corner_has_its_own_target() -> None:
    """A lean that was there unloaded is left as it was: the difference counts from each corner's own height."""
    ours = per_side(
        side(700.0, 0.2), side(705.0, 0.2), target_at(740.0), target_at(745.0), minimum_kPa=34.5, maximum_kPa=241.3
    )
    assert ours.left.recommended_kPa == pytest.approx(ours.right.recommended_kPa)


def test_one_side_without_a_line_says_nothing_of_the_lean() -> None:
    """A corner with a single trial has a reason and takes both differences with it."""
    ours = per_side(
        NoLine(reason="one trial"),
        side(705.0, 0.2),
        target_at(740.0),
        None,
        minimum_kPa=34.5,
        maximum_kPa=241.3,
        tee_kPa=100.0,
    )
    assert (ours.left.reason, ours.right.reason) == ("one trial", "target missing")
    assert (ours.tee_mm, ours.separate_mm) == (None, None)


# Oracle: the `uncertainties` package: a line through three trials at 50, 100 and 200 kPa by least squares is a weighted
# sum of them, 1/3 + (p − p̄)(P − p̄)/Σ(p − p̄)² each.
def test_both_differences_against_automatic_propagation() -> None:
    """Left less right, each above its own target: at one pressure and at two, trials and targets in u."""
    tried_kPa = (50.0, 100.0, 200.0)
    mean_kPa = sum(tried_kPa) / 3
    sxx = sum((p - mean_kPa) ** 2 for p in tried_kPa)

    def above_target(at_nought_mm: float, target_mm: float, at_kPa: float) -> Any:
        heights = [ufloat(at_nought_mm + 0.2 * p, U_MM) for p in tried_kPa]
        parts = [1 / 3 + (p - mean_kPa) * (at_kPa - mean_kPa) / sxx for p in tried_kPa]
        return sum(part * height for part, height in zip(parts, heights, strict=True)) - ufloat(target_mm, U_MM)

    ours = per_side(
        side(700.0, 0.2),
        side(705.0, 0.2),
        target_at(742.0),
        target_at(738.0),
        minimum_kPa=34.5,
        maximum_kPa=200.0,
        tee_kPa=150.0,
    )
    tee = above_target(700.0, 742.0, 150.0) - above_target(705.0, 738.0, 150.0)
    separate = above_target(700.0, 742.0, 200.0) - above_target(705.0, 738.0, 165.0)
    assert (ours.left.recommended_kPa, ours.right.recommended_kPa) == pytest.approx((200.0, 165.0))
    assert (ours.tee_mm, ours.u_tee_mm) == pytest.approx((tee.nominal_value, tee.std_dev))
    assert (ours.separate_mm, ours.u_separate_mm) == pytest.approx((separate.nominal_value, separate.std_dev))


@pytest.mark.parametrize(
    "right_target",
    [
        None,
        Target(name="unloaded height", height_mm=math.nan, u_mm=U_MM),
        Target(name="unloaded height", height_mm=740.0, u_mm=math.nan),
    ],
)
def test_one_side_without_a_target_says_nothing_of_the_lean(right_target: Target | None) -> None:
    """A side whose target is missing or unsure takes both differences with it; the other keeps its air."""
    ours = per_side(
        side(700.0, 0.2),
        side(705.0, 0.2),
        target_at(740.0),
        right_target,
        minimum_kPa=34.5,
        maximum_kPa=241.3,
        tee_kPa=100.0,
    )
    assert ours.left.recommended_kPa == pytest.approx(200.0)
    assert (ours.tee_mm, ours.u_tee_mm, ours.separate_mm, ours.u_separate_mm) == (None, None, None, None)


_amount = st.floats(allow_nan=True, allow_infinity=True)
_trial = st.builds(Trial, pressure_kPa=st.floats(0, 300), height_mm=_amount, u_height_mm=_amount)
_trials = st.lists(_trial, max_size=3)
_target = st.none() | st.builds(Target, name=st.just("unloaded height"), height_mm=_amount, u_mm=_amount)


@given(_trials, _trials, _target, _target, st.none() | _amount, st.none() | _amount)
def test_any_corners_any_facts_missing(
    left: list[Trial],
    right: list[Trial],
    left_target: Target | None,
    right_target: Target | None,
    maximum_kPa: float | None,
    tee_kPa: float | None,
) -> None:
    """No input makes a NaN, an infinity or a crash."""
    ours = per_side(
        fit_line(left),
        fit_line(right),
        left_target,
        right_target,
        minimum_kPa=34.5,
        maximum_kPa=maximum_kPa,
        tee_kPa=tee_kPa,
    )
    for figure in (ours.tee_mm, ours.u_tee_mm, ours.separate_mm, ours.u_separate_mm):
        assert figure is None or math.isfinite(figure)
