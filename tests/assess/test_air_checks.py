"""Checks on the air, each from figures given to it: value, limit, uncertainty, source, and what is asked for."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest

from cornerwalk.assess.air_checks import AIR_CHECKS
from cornerwalk.session.model import GROUND, HeightDatum, JobFacts, Joint, Kit, LeakCriteria, LeakReading, Session
from cornerwalk.session.stages import StageName
from tests.assess.given import Asked, Made, checked, leak, stage
from tests.support.jobs import standards

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


@pytest.mark.parametrize(("step_kPa", "U"), [(7.0, 2 * 7.0 / math.sqrt(12)), (None, 0.0)])
@pytest.mark.parametrize(("sheet", "source"), [("sheet 3", SHEET), ("", "the kit's instructions")])
def test_pressures_are_held_against_both_limits_of_the_kit(
    step_kPa: float | None, U: float, sheet: str, source: str
) -> None:
    """The highest against the maximum, the lowest against the minimum; its step is rectangular, JCGM 100 4.3.7."""
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


@pytest.mark.parametrize(
    ("datum", "U_N", "told"),
    [(GROUND, 2 * 40.0 + 0.12 * 1800.0, "; ground heights include the tire, 12 % allowed for it"),
     ("wheel centre to arch lip", 2 * 40.0, "")],
)  # fmt: skip
@pytest.mark.parametrize(("sheet", "source"), [("sheet 3", SHEET), ("", "the kit's instructions")])
def test_what_the_springs_carry_is_held_against_their_support(
    datum: HeightDatum, U_N: float, told: str, sheet: str, source: str
) -> None:
    """With 2 u, and where heights have the tyre in them with 12 % more: 10.3 and 11.0 % low on two published cars."""
    job = replace(JOB, kit=replace(KIT, sheet=sheet), job=JobFacts(datum=datum))
    check = held(job, stages=trials(100.0), carried_N=1800.0, u_carried_N=40.0)[0][SUPPORT]
    assert (check.value, check.limit, check.unit, check.verdict) == (1800.0, 4000.0, "N", "pass")
    assert pytest.approx(U_N) == check.U
    assert (check.source, check.standing, check.stage) == (source + told, "own", None)


def test_support_that_cannot_be_held_says_what_is_missing() -> None:
    """The rating by its fact; the load by what it is reckoned from, where either figure of it is missing."""
    needs = ("the loads and their locations, the wheelbase, and heights loaded and installed", None)
    for known in ({}, {"carried_N": 1800.0}, {"u_carried_N": 40.0}):
        made, asked = held(JOB, stages=trials(100.0), **known)
        assert asked[SUPPORT] == needs
        assert SUPPORT not in made
    unrated = replace(JOB, kit=replace(KIT, rated_support_N=None))
    asked = held(unrated, stages=trials(100.0), carried_N=1800.0, u_carried_N=40.0)[1]
    assert asked[SUPPORT] == ("kit rated load (pair), from the kit's instructions", "kit.rated_support")


@pytest.mark.parametrize("name", ["unloaded", "loaded"])
def test_without_air_nothing_is_asked_of_it(name: StageName) -> None:
    """A stage without air begun: neither support nor lines nor soap."""
    assert held(JOB, stages=(stage(name),), carried_N=1.0, u_carried_N=1.0) == ({}, {})


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
def test_a_loss_is_held_with_two_u_against_the_shops_limit_or_the_published(
    own_kPa: float | None, limit_kPa: float, source: str, standing: str
) -> None:
    """The loss over the test, temperature allowed for; joints are asked for beside it."""
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
    lines = (leak(line="left"), leak(line="right", loss_kPa=None), leak(line="both", hours=None))
    _, asked = held(job, stages=trials(100.0), leak=lines)
    assert {check: needs for check, needs in asked.items() if check.startswith("pressure-held")} == {
        "pressure-held-left": ("the gauge with the same load at start and finish of the leak-down test", None),
        "pressure-held-right": ("the gauge and the temperature at the finish of the leak-down test", None),
        "pressure-held-both": ("test time: the end is not dated after the start", None),
    }
    for order in (lines[::-1], (lines[1], lines[2], lines[0])):
        assert set(held(job, stages=trials(100.0), leak=order)[1]) >= {f"pressure-held-{line.line}" for line in lines}
    assert "pressure-held-both" in held(JOB, stages=trials(100.0), leak=(leak(u_loss_kPa=None),))[1]


@pytest.mark.parametrize(("loss_kPa", "made"), [(5.0, False), (5.1, True)])
def test_too_much_is_too_much_however_soon(loss_kPa: float, made: bool) -> None:  # noqa: FBT001
    """Without a time a loss up to the limit proves nothing; one above it fails all the same."""
    job = replace(JOB, leak=LeakCriteria(allowed_loss_kPa=5.0))
    held_ones, asked = held(job, stages=trials(100.0), leak=(leak(hours=None, loss_kPa=loss_kPa, u_loss_kPa=0.01),))
    assert ("pressure-held-both" in held_ones) is made
    assert ("pressure-held-both" in asked) is not made


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
