"""The next pressure to try: that it narrows most is checked by making every other trial too."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cornerwalk.assess.air import Target, pressure_for, u_of_pressure
from cornerwalk.assess.air_line import Line, Trial, fit_line
from cornerwalk.assess.pressure_advice import PSI_KPA, next_pressure

MINIMUM_KPA, MAXIMUM_KPA = 5 * PSI_KPA, 35 * PSI_KPA
U_MM = 0.65


def trial(psi: float, height_mm: float, u_mm: float = U_MM) -> Trial:
    return Trial(pressure_kPa=psi * PSI_KPA, height_mm=height_mm, u_height_mm=u_mm)


def target_at(height_mm: float) -> Target:
    return Target(name="unloaded height", height_mm=height_mm, u_mm=U_MM)


def is_whole_psi(pressure_kPa: float) -> bool:
    psi = pressure_kPa / PSI_KPA
    return abs(psi - round(psi)) < 1e-9


def test_first_trial_is_the_kits_minimum() -> None:
    """With nothing tried, the springs get what they must hold at all times."""
    first = next_pressure([], target_at(742.0), minimum_kPa=MINIMUM_KPA, maximum_kPa=MAXIMUM_KPA)
    assert first is not None
    assert (first.pressure_kPa, first.why, first.u_pressure_after_kPa) == (MINIMUM_KPA, "first trial", None)


@pytest.mark.parametrize(
    ("tried_psi", "height_mm", "next_psi"),
    [
        (5, 706.0, 20),  # below the target: half-way to the maximum
        (15, 719.0, 25),
        (31, 745.0, 18),  # above it: half-way to the minimum
        (35, 730.0, 20),  # no room upward: down, to see a slope at all
        (5, 750.0, 20),  # no room downward
    ],
)
def test_second_trial_is_a_step_towards_the_target(tried_psi: float, height_mm: float, next_psi: float) -> None:
    """From one pressure the next is half-way to the limit on the target's side, on a whole psi."""
    for trials in ([trial(tried_psi, height_mm)], [trial(tried_psi, height_mm), trial(tried_psi, height_mm)]):
        second = next_pressure(trials, target_at(742.0), minimum_kPa=MINIMUM_KPA, maximum_kPa=MAXIMUM_KPA)
        assert second is not None
        assert second.why == "second trial"
        assert second.pressure_kPa / PSI_KPA == pytest.approx(next_psi)


@given(
    psi=st.lists(st.integers(5, 35), min_size=2, max_size=5, unique=True),
    slope=st.floats(0.05, 0.5),
    u_mm=st.floats(0.05, 1.0),
    answer_psi=st.floats(0, 45),
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
    proposed = next_pressure(made, target, minimum_kPa=MINIMUM_KPA, maximum_kPa=MAXIMUM_KPA)
    assert proposed is not None
    assert proposed.u_pressure_after_kPa is not None
    answer_kPa = pressure_for(line, target.height_mm)

    def u_after(pressure_kPa: float) -> float:
        there = Trial(pressure_kPa=pressure_kPa, height_mm=line.height_mm(pressure_kPa), u_height_mm=u_mm)
        refitted = fit_line([*made, there])
        assert isinstance(refitted, Line)
        return u_of_pressure(refitted, answer_kPa, target.u_mm)

    highest = max(MINIMUM_KPA, min(MAXIMUM_KPA, answer_kPa))
    assert proposed.pressure_kPa <= highest * (1 + 1e-8)
    least = min(u_after(p * PSI_KPA) for p in range(5, 36) if p * PSI_KPA <= highest * (1 + 1e-12))
    assert proposed.u_pressure_after_kPa == pytest.approx(u_after(proposed.pressure_kPa), rel=1e-7)
    assert proposed.u_pressure_after_kPa <= least * (1 + 1e-7)
    assert is_whole_psi(proposed.pressure_kPa)
    assert proposed.u_pressure_after_kPa <= u_of_pressure(line, answer_kPa, target.u_mm) * (1 + 1e-9)


@pytest.mark.parametrize(
    ("tried_psi", "answer_psi", "next_psi"),
    [
        ((15, 25), 36, 35),  # the answer lies beyond the kit: its maximum
        ((15, 25), 20, 20),  # at the centre of the trials: there
        ((15, 25), 28.2, 28),  # no higher than the answer, though 35 would narrow more
        ((15, 25), 10, 5),  # far below: the minimum brings the centre nearest
        ((25, 35), 28, 24),  # 2 below the centre of two: a third 6 below it moves it there
    ],
)
def test_the_centre_of_the_trials_is_brought_to_the_answer(
    tried_psi: tuple[float, float], answer_psi: float, next_psi: float
) -> None:
    """The proposal after two trials that rise 1.2 mm a psi, worked by hand."""
    made = [trial(psi, 701 + 1.2 * psi) for psi in tried_psi]
    target = target_at(701 + 1.2 * answer_psi)
    ours = next_pressure(made, target, minimum_kPa=MINIMUM_KPA, maximum_kPa=MAXIMUM_KPA)
    assert ours is not None
    assert ours.pressure_kPa == pytest.approx(next_psi * PSI_KPA)


def test_where_air_does_not_raise_the_farthest_pressure_tells() -> None:
    """Without a slope that stands out, the pressure farthest from the trials is the one that would show it."""
    flat = [trial(15, 719.0), trial(17, 719.3)]
    ours = next_pressure(flat, target_at(742.0), minimum_kPa=MINIMUM_KPA, maximum_kPa=MAXIMUM_KPA)
    assert ours is not None
    assert (ours.pressure_kPa, ours.why) == (MAXIMUM_KPA, "shows whether air raises the rear")


@pytest.mark.parametrize(("minimum_kPa", "maximum_kPa"), [(None, 200.0), (30.0, None), (200.0, 30.0)])
def test_nothing_is_proposed_without_the_kits_limits(minimum_kPa: float | None, maximum_kPa: float | None) -> None:
    """No pressure is proposed that might lie outside a limit nobody stated."""
    assert next_pressure([], None, minimum_kPa=minimum_kPa, maximum_kPa=maximum_kPa) is None


def test_a_kit_with_one_pressure_has_no_second() -> None:
    """Where minimum and maximum are the same there is nothing else to try."""
    assert next_pressure([trial(5, 706.0)], None, minimum_kPa=MINIMUM_KPA, maximum_kPa=MINIMUM_KPA) is None


_amount = st.floats(allow_nan=True, allow_infinity=True)
_near = st.builds(
    Trial, pressure_kPa=st.floats(-50, 1000), height_mm=st.floats(-1000, 2000), u_height_mm=st.floats(1e-9, 100)
)
_trial = st.builds(Trial, pressure_kPa=_amount, height_mm=_amount, u_height_mm=_amount)
_target = st.none() | st.builds(Target, name=st.just("unloaded height"), height_mm=_amount, u_mm=_amount)


@given(st.lists(_trial | _near, max_size=4), _target, st.none() | _amount, st.none() | _amount, _amount)
def test_any_trials_any_limits(
    trials: list[Trial],
    target: Target | None,
    minimum_kPa: float | None,
    maximum_kPa: float | None,
    step_kPa: float,
) -> None:
    """Whatever is handed in, a proposal lies within the limits and its figures are finite."""
    ours = next_pressure(trials, target, minimum_kPa=minimum_kPa, maximum_kPa=maximum_kPa, step_kPa=step_kPa)
    if ours is None:
        return
    assert minimum_kPa is not None
    assert maximum_kPa is not None
    assert minimum_kPa <= ours.pressure_kPa <= maximum_kPa
    assert ours.u_pressure_after_kPa is None or math.isfinite(ours.u_pressure_after_kPa)
