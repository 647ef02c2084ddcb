"""Checks on the air, each from figures given to it: value, limit, uncertainty, source, and what is asked for."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest

from cornerwalk.assess.air_checks import AIR_CHECKS
from cornerwalk.assess.axles import CarriedLoad
from cornerwalk.session.model import Joint, Kit, LeakCriteria, LeakReading, Session
from cornerwalk.session.stages import StageName
from tests.assess.given import Asked, Made, checked, leak, stage
from tests.support.jobs import standards
from tests.support.units import PSI

KIT = Kit(min_kPa=35.0, max_kPa=240.0, rated_support_N=4000.0, sheet="sheet 3")
JOB = replace(Session(), kit=KIT)
SHEET = "the kit's instructions: sheet 3"
HIGHEST, LOWEST = "pressure-maximum", "pressure-minimum"
SUPPORT = "rated-support"


def held(session: Session, **known: Any) -> tuple[Made, Asked]:
    """What the checks on air make of it, and what they ask for."""
    return checked(AIR_CHECKS, session, **known)


def trials(*pressures_kPa: float | None) -> tuple[Any, ...]:
    """Loaded, then trials at these pressures."""
    fitted = [stage("fitted", number, pressure_kPa=kPa) for number, kPa in enumerate(pressures_kPa, start=1)]
    return (stage("loaded"), *fitted)


# Source of the divisor: JCGM 100 4.3.7, a rectangular step. A gauge marked in 1 psi is taken where none is stated.
@pytest.mark.parametrize(("step_kPa", "U"), [(7.0, 2 * 7.0 / math.sqrt(12)), (None, 2 * PSI / math.sqrt(12))])
@pytest.mark.parametrize(("sheet", "source"), [("sheet 3", SHEET), ("", "the kit's instructions")])
def test_pressures_are_held_against_both_limits_of_the_kit(
    step_kPa: float | None, U: float, sheet: str, source: str
) -> None:
    """The highest against the maximum, the lowest against the minimum; its step is rectangular."""
    job = replace(JOB, kit=replace(KIT, sheet=sheet), leak=LeakCriteria(gauge_graduation_kPa=step_kPa))
    made, _ = held(job, stages=trials(100.0, 170.0, 60.0))
    high, low = made[HIGHEST], made[LOWEST]
    assert (high.value, high.limit, high.stage, high.verdict) == (170.0, 240.0, ("fitted", 2), "pass")
    assert (low.value, low.limit, low.stage, low.verdict) == (60.0, 35.0, ("fitted", 3), "pass")
    for check in (high, low):
        assert pytest.approx(U) == check.U
        assert (check.unit, check.source, check.standing) == ("kPa", source, "own")


@pytest.mark.parametrize(
    ("pressure_kPa", "check", "U", "verdict"),
    [(240.0, HIGHEST, 0.0, "pass"), (240.5, HIGHEST, 4.04145, "conditional fail"), (250.0, HIGHEST, 4.04145, "fail"),
     (35.0, LOWEST, 0.0, "pass"), (34.5, LOWEST, 4.04145, "conditional fail"), (20.0, LOWEST, 4.04145, "fail")],
)  # fmt: skip
def test_a_gauge_set_to_the_limit_is_at_the_limit(pressure_kPa: float, check: str, U: float, verdict: str) -> None:
    """Set to exactly what the sheet says it passes; beyond it the gauge's step decides how surely it fails."""
    made, _ = held(replace(JOB, leak=LeakCriteria(gauge_graduation_kPa=7.0)), stages=trials(pressure_kPa))
    assert pytest.approx(U, abs=1e-5) == made[check].U
    assert made[check].verdict == verdict


def test_sides_count_each_for_itself() -> None:
    """Of separate lines the higher bag is held against the maximum, the lower against the minimum."""
    made, _ = held(JOB, stages=(stage("loaded"), stage("fitted", left_kPa=50.0, right_kPa=90.0)))
    assert (made[LOWEST].value, made[HIGHEST].value) == (50.0, 90.0)


def test_what_the_kit_or_the_trials_do_not_say_is_asked_for() -> None:
    """Each limit by its fact; the pressure of a trial that has none; nothing of a job without air."""
    _, asked = held(Session(), stages=trials(100.0))
    assert asked[HIGHEST] == ("kit maximum, from the kit's instructions", "kit.max")
    assert asked[LOWEST] == ("kit minimum, from the kit's instructions", "kit.min")
    made, asked = held(JOB, stages=trials(None))
    assert {check: asked[check] for check in (HIGHEST, LOWEST)} == dict.fromkeys(
        (HIGHEST, LOWEST), ("the pressure of each trial", None)
    )
    assert HIGHEST not in made
    made, asked = held(replace(JOB, kit=replace(KIT, max_kPa=None)), stages=trials(None))
    assert (asked[HIGHEST][1], asked[LOWEST][0]) == ("kit.max", "the pressure of each trial")


SOAP = ("soap test on each joint, the valve core and the gauge", None)


CARRIED = CarriedLoad(force_N=1800.0, u_force_N=40.0, low_N=1730.0, high_N=1890.0, k=2.0)
"""1800 N, of bounds that are not symmetric."""


@pytest.mark.parametrize(("sheet", "source"), [("sheet 3", SHEET), ("", "the kit's instructions")])
@pytest.mark.parametrize(
    ("force_N", "verdict"),
    [(1800.0, "pass"), (3950.0, "conditional pass"), (4050.0, "conditional fail"), (4091.0, "fail")],
)
def test_what_the_springs_carry_is_held_against_their_support(
    force_N: float, verdict: str, sheet: str, source: str
) -> None:
    """Against the upper bound, the unsafe side: 90 N above the load here."""
    job = replace(JOB, kit=replace(KIT, sheet=sheet))
    carried = replace(CARRIED, force_N=force_N, high_N=force_N + 90.0)
    check = held(job, stages=trials(100.0), carried=carried)[0][SUPPORT]
    assert (check.value, check.limit, check.unit, check.verdict) == (force_N, 4000.0, "N", verdict)
    assert pytest.approx(90.0) == check.U
    assert (check.source, check.standing, check.stage) == (source, "own", None)


def test_support_that_cannot_be_held_says_what_is_missing() -> None:
    """The rating by its fact; the load by what it is reckoned from; its upper bound by the rate of the tires."""
    loads = ("the loads and their locations, the wheelbase, and heights loaded and installed", None)
    least = (
        "the tires' spring rate, or a known weight added at ride height: only the least that they carry is known",
        "vehicle.tire_rate",
    )
    for carried, needs in (
        (None, loads),
        (replace(CARRIED, high_N=None), least),
        (replace(CARRIED, at_least=True), least),
    ):
        made, asked = held(JOB, stages=trials(100.0), carried=carried)
        assert asked[SUPPORT] == needs
        assert SUPPORT not in made
    unrated = replace(JOB, kit=replace(KIT, rated_support_N=None))
    asked = held(unrated, stages=trials(100.0), carried=CARRIED)[1]
    assert asked[SUPPORT] == ("kit rated load (pair), from the kit's instructions", "kit.rated_support")


@pytest.mark.parametrize("name", ["unloaded", "loaded"])
def test_without_air_nothing_is_asked_of_it(name: StageName) -> None:
    """A stage without air begun: neither support nor lines nor soap."""
    assert held(JOB, stages=(stage(name),), carried=CARRIED) == ({}, {})


def test_a_hold_test_is_judged_whatever_stages_were_read() -> None:
    """A visit for the lines alone reads no trial; what was read is judged, and what was not is asked for."""
    made, asked = held(JOB, stages=(), leak=(leak(),))
    assert list(made) == [f"pressure-held-{leak().line}"]
    assert asked == {"soaped-joints": SOAP}
    soaped = replace(JOB, joints=(Joint(joint="valve core", bubbles=False, note=""),))
    made, asked = held(soaped, stages=(stage("unloaded"),))
    assert list(made) == ["soaped-joints"]
    assert asked == {
        "pressure-held": ("the gauge and the temperature at the start and finish of a leak-down test", None)
    }


ASSUMED = standards().limits["leak-loss"]


@pytest.mark.parametrize(
    ("own_kPa", "limit_kPa", "source", "standing"),
    [(None, ASSUMED.value, ASSUMED.source, ASSUMED.standing), (5.0, 5.0, "set by the shop", "own")],
)
def test_a_loss_is_held_by_its_rate_against_the_shops_limit_or_the_published(
    own_kPa: float | None, limit_kPa: float, source: str, standing: str
) -> None:
    """The loss a day with its U where it is known, and the verdict on it; joints are asked for beside it."""
    job = replace(JOB, leak=LeakCriteria(allowed_loss_kPa=own_kPa))
    made, asked = held(job, stages=trials(100.0), leak=(leak(),))
    check = made["pressure-held-both"]
    assert (check.value, check.limit, check.U, check.unit) == (3.0, limit_kPa, 1.0, "kPa")
    assert (check.source, check.standing, check.verdict) == (source, standing, "pass")
    assert asked["soaped-joints"] == SOAP


def reading(moment: Any, *, loaded: bool) -> LeakReading:
    """A gauge reading of the left line."""
    return LeakReading(
        moment=moment, line="left", pressure_kPa=200.0, temperature_C=20.0, at="", hours=None, loaded=loaded
    )


def test_what_a_hold_test_lacks_is_asked_for_line_by_line() -> None:
    """No test at all; loaded otherwise at its end; no figure at its end; no time. One line does not silence another."""
    asked = held(JOB, stages=trials(100.0))[1]
    assert asked["pressure-held"] == (
        "the gauge and the temperature at the start and finish of a leak-down test", None
    )  # fmt: skip
    job = replace(JOB, leak_readings=(reading("start", loaded=True), reading("end", loaded=False)))
    lines = (leak(line="left"), leak(line="right", loss_kPa=None), leak(line="both", hours=None, verdict=None))
    _, asked = held(job, stages=trials(100.0), leak=lines)
    assert {check: needs for check, needs in asked.items() if check.startswith("pressure-held")} == {
        "pressure-held-left": ("the gauge with the same load at start and finish of the leak-down test", None),
        "pressure-held-right": ("the gauge and the temperature at the finish of the leak-down test", None),
        "pressure-held-both": ("test time: the end is not dated after the start", None),
    }
    for order in (lines[::-1], (lines[1], lines[2], lines[0])):
        assert set(held(job, stages=trials(100.0), leak=order)[1]) >= {f"pressure-held-{line.line}" for line in lines}
    assert "pressure-held-both" in held(JOB, stages=trials(100.0), leak=(leak(u_loss_kPa=None),))[1]


@pytest.mark.parametrize(
    ("reason", "needs"),
    [("hours missing", "dated"), ("pressure rose", "rose"), ("too short", "longer"), ("air still warm", "quarter")],
)
def test_a_hold_test_that_tells_nothing_is_not_checked(reason: str, needs: str) -> None:
    """Each reason why a line cannot be judged asks for what would tell it."""
    made, asked = held(JOB, stages=trials(100.0), leak=(leak(verdict=None, not_judged=reason),))
    assert "pressure-held-both" not in made
    assert needs in asked["pressure-held-both"][0]


def test_a_loss_in_an_unknown_time_is_shown_as_it_is() -> None:
    """Too much is too much, however soon: without a time the loss itself stands in the check."""
    soon = leak(verdict="fail", hours=None, per_day_kPa=None, u_per_day_kPa=None)
    made, _ = held(JOB, stages=trials(100.0), leak=(soon,))
    check = made["pressure-held-both"]
    assert (check.value, check.U, check.verdict) == (3.0, 1.0, "fail")


@pytest.mark.parametrize(
    ("bubbles", "verdict"), [((False, False), "pass"), ((False, True), "fail"), ((True, True), "fail")]
)
def test_one_bubble_is_one_too_many(bubbles: tuple[bool, ...], verdict: str) -> None:
    """The number of joints that bubbled, against none."""
    joints = tuple(Joint(joint=f"joint {n}", bubbles=each, note="") for n, each in enumerate(bubbles))
    check = held(replace(JOB, joints=joints), stages=trials(100.0))[0]["soaped-joints"]
    assert (check.value, check.limit, check.U, check.verdict) == (float(sum(bubbles)), 0.0, 0.0, verdict)
    assert (check.unit, check.standing) == ("joints with bubbles", "seen")
    assert check.source == "a maker's criterion: no bubble is permissible"
