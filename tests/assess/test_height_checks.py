"""Checks on the heights, each from figures given to it: value, limit, uncertainty, source, and what is asked for."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from cornerwalk.assess.assessment import CheckResult
from cornerwalk.assess.height_checks import HEIGHT_CHECKS
from cornerwalk.session.model import CheckAnswer, JobFacts, Limits, Session
from cornerwalk.session.stages import CORNERS, REQUIRED_STAGES
from tests.assess.given import Asked, Made, checked, result, stage
from tests.support.jobs import standards

VALVE = "brake-valve"


def held(session: Session | None = None, **known: Any) -> tuple[Made, Asked]:
    """What the checks on heights make of it, and what they ask for."""
    return checked(HEIGHT_CHECKS, session, **known)


def answered(check: str, answer: Any, of: Any = None) -> Session:
    """A job in which one question was answered."""
    return replace(Session(), answers=(CheckAnswer(check=check, answer=answer, note="", stage=of, at="2026-05-04"),))


PROHIBITED = "a vehicle maker's manual and a service guideline, which prohibit helper springs with such a valve"


@pytest.mark.parametrize(
    ("answer", "value", "verdict"), [("yes", 1.0, "fail"), ("no", 0.0, "pass"), ("not fitted", 0.0, "pass")]
)
def test_a_load_sensing_brake_valve_forbids_air(answer: str, value: float, verdict: Any) -> None:
    """One is one too many; the source is who forbids it."""
    made, asked = held(answered("brake-valve", answer))
    assert made[VALVE] == result(VALVE, (value, 0.0, 0.0, ""), verdict, (PROHIBITED, "seen"))
    assert VALVE not in asked


@pytest.mark.parametrize("session", [Session(), answered("brake-valve", "not checked"), answered("other", "yes")])
def test_a_valve_that_nobody_looked_at_is_asked_for(session: Session) -> None:
    """No answer, an answer that says nothing, another question's answer."""
    made, asked = held(session)
    assert asked[VALVE] == ("a look at the rear axle's brake valve", None)
    assert VALVE not in made


@pytest.mark.parametrize("kind", sorted(REQUIRED_STAGES))
def test_stages_that_a_job_must_have_are_asked_for(kind: Any) -> None:
    """Each that was not begun, by its name; with the first begun the others are left."""
    job = replace(Session(), job=JobFacts(kind=kind))
    wanted = {
        f"heights-{name}": (f"the four heights {'installed' if name == 'fitted' else name}", None)
        for name in REQUIRED_STAGES[kind]
    }
    assert {check: needs for check, needs in held(job)[1].items() if check.startswith("heights")} == wanted
    first = REQUIRED_STAGES[kind][0]
    left = held(job, stages=(stage(first),))[1]
    assert {check for check in left if check.startswith("heights")} == set(wanted) - {f"heights-{first}"}


def test_a_corner_that_was_not_read_is_asked_for_at_its_stage() -> None:
    """Also at the unloaded stage, which no plane is held against."""
    partly = dict.fromkeys(CORNERS, 700.0) | {"LR": None}
    stages = (stage("unloaded", height_mm=partly), stage("loaded", height_mm=partly), stage("fitted", 2))
    asked = held(stages=stages)[1]
    assert asked["heights unloaded 1"] == asked["heights loaded 1"] == ("every corner read", None)
    assert "heights fitted 2" not in asked
    assert "corners-on-a-plane unloaded 1" not in asked


@pytest.mark.parametrize(
    ("warp_mm", "alarm", "verdict"),
    [(2.0, False, "pass"), (-2.0, True, "pass"), (2.1, False, "conditional pass"), (-2.1, True, "fail")],
)
def test_four_corners_lie_on_a_plane_within_their_own_u(warp_mm: float, alarm: bool, verdict: Any) -> None:  # noqa: FBT001
    """|w| against 2 u either way; beyond it fails only where all stages together disagree with one body."""
    check = "corners-on-a-plane loaded 1"
    made, _ = held(stages=(stage("unloaded"), stage("loaded", warp_mm=warp_mm, u_warp_mm=1.0)), misread_alarm=alarm)
    basis = ("geometry: four points of a rigid body have one spare degree of freedom", "derived")
    assert made[check] == result(check, (abs(warp_mm), 2.0, 2.0, "mm"), verdict, basis, ("loaded", 1))


@pytest.mark.parametrize("known", [{}, {"warp_mm": 1.0}, {"u_warp_mm": 1.0}])
def test_a_plane_that_cannot_be_held_does_not_silence_the_next(known: dict[str, Any]) -> None:
    """The stage is asked for by itself; the one after it is held."""
    stages = (stage("unloaded"), stage("loaded", **known), stage("fitted", warp_mm=1.0, u_warp_mm=1.0))
    made, asked = held(stages=stages)
    needs = ("all four corners, unloaded and at this stage", None)
    assert asked["corners-on-a-plane loaded 1"] == needs
    assert "corners-on-a-plane fitted 1" in made


PUBLISHED = standards().limits["side-to-side"]


@pytest.mark.parametrize(
    ("own_mm", "limit_mm", "source", "standing"),
    [(None, PUBLISHED.value, PUBLISHED.source, PUBLISHED.standing), (6.0, 6.0, "set by the shop", "own")],
)
def test_sides_are_held_at_the_first_and_the_last_stage(
    own_mm: float | None, limit_mm: float, source: str, standing: str
) -> None:
    """Either way round, with 2 u; of the stages between nothing is asked. The shop's own limit is said to be that."""
    known: dict[str, Any] = {"side_front_mm": -3.0, "side_rear_mm": 2.0, "u_side_mm": 0.7}
    stages = (stage("unloaded", **known), stage("loaded", **known), stage("fitted", **known))
    job = replace(Session(), limits=Limits(side_to_side_mm=own_mm))
    found = [c for c in checked_all(job, stages) if c.id.startswith("side-to-side")]
    assert found == [
        result(f"side-to-side-{axle}", (value_mm, limit_mm, 1.4, "mm"), "pass", (source, standing), (name, 1))
        for name in ("unloaded", "fitted")
        for axle, value_mm in (("front", 3.0), ("rear", 2.0))
    ]


def checked_all(session: Session, stages: tuple[Any, ...]) -> list[CheckResult]:
    """Every check made, also those of one name at several stages."""
    made: list[CheckResult] = []
    for number in range(1, len(stages) + 1):
        made += [c for c in held(session, stages=stages[:number])[0].values() if c.stage == stages[number - 1].key]
    return [c for c in made if c.stage != ("loaded", 1)]


def test_a_side_that_was_not_read_does_not_silence_the_other_axle() -> None:
    """The front is asked for, the rear is held."""
    made, asked = held(stages=(stage("unloaded", side_rear_mm=1.0, u_side_mm=0.5),))
    assert asked["side-to-side-front unloaded 1"] == ("both front corners", None)
    assert made["side-to-side-rear"].value == 1.0
    asked = held(stages=(stage("unloaded", side_rear_mm=1.0, side_front_mm=1.0),))[1]
    assert asked["side-to-side-rear unloaded 1"] == ("both rear corners", None)


def test_the_rear_is_not_to_stand_above_its_unloaded_height() -> None:
    """At each stage with air and load, with 2 u; one that cannot be held does not silence the next."""
    stages = (
        stage("unloaded"),
        stage("loaded", rear_mm=-30.0, u_rear_mm=1.0),
        stage("fitted", 1),
        stage("fitted", 2, rear_mm=-1.0),
        stage("fitted", 3, u_rear_mm=1.0),
        stage("fitted", 4, rear_mm=-5.0, u_rear_mm=1.5),
    )
    made, asked = held(stages=stages)
    check = "rear-not-above-unloaded fitted 4"
    assert [name for name in made if name.startswith("rear-not-above")] == [check]
    warned = ("a vehicle maker's warning: never higher at the rear than before the trailer was attached", "seen")
    assert made[check] == result(check, (-5.0, 0.0, 3.0, "mm"), "pass", warned, ("fitted", 4))
    needs = ("both rear corners, unloaded and at this stage", None)
    assert [asked.get(f"rear-not-above-unloaded fitted {name}") for name in (1, 2, 3)] == [needs] * 3
    assert check not in asked


def test_conditions_are_asked_for_stage_by_stage() -> None:
    """A stage of which one question was answered is not asked for; another's answer does not count for it."""
    asked = held(answered("floor", "yes", ("loaded", 1)), stages=(stage("unloaded"), stage("loaded")))[1]
    needs = ("the questions on floor, tires, fuel and driver", None)
    assert asked["conditions unloaded 1"] == needs
    assert "conditions loaded 1" not in asked
