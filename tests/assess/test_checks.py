"""Every check of whole jobs: its limit, its U, its verdict, and what a check that could not be made asks for."""

from __future__ import annotations

import math
import re
from typing import Any

import pytest

from cornerwalk.assess import Assessment
from cornerwalk.assess.assessment import CheckResult, NotChecked
from cornerwalk.assess.checks import overall
from cornerwalk.session import events as h
from tests.assess.given import KINDS, key_of
from tests.support.checks import check_kinds
from tests.support.jobs import SEPARATE_LINES, WORKED_CASE, job_of
from tests.support.units import IN, KGF, LBF, PSI

# By hand, 1/16 in marks and 1/32 in placing: u of a reading, in; a change and a difference of two have √2 of it, the
# mean of two such changes has u again, the warp 8 readings' √8/4.
U_READ_IN = math.sqrt((1 / 16) ** 2 / 12 + (1 / 32) ** 2)

# A gauge of 1 psi marks: u 1/√12, U twice that.
U_GAUGE = 2 / math.sqrt(12) * PSI

# check, stage, value, limit, U, unit, standing. Heights by hand from the worked case's readings (invented vehicle):
# unloaded 28 5/8, 28 11/16, 29 3/16, 29 1/4, fitted 2 28 7/8, 28 15/16, 28 11/16, 28 13/16.
WORKED: list[tuple[str, Any, float, float, float | None, str, str]] = [
    *(
        (
            f"corners-on-a-plane {name} {number}",
            (name, number),
            0.015625 * IN,
            U_READ_IN * math.sqrt(8) / 2 * IN,
            U_READ_IN * math.sqrt(8) / 2 * IN,
            "mm",
            "derived",
        )
        for name, number in (("loaded", 1), ("fitted", 1), ("fitted", 2))
    ),
    *(
        (f"side-to-side-{axle}", stage, inches * IN, 12.0, 2 * math.sqrt(2) * U_READ_IN * IN, "mm", "seen")
        for axle, stage, inches in (
            ("front", ("unloaded", 1), 1 / 16),
            ("rear", ("unloaded", 1), 1 / 16),
            ("front", ("fitted", 2), 1 / 16),
            ("rear", ("fitted", 2), 1 / 8),
        )
    ),
    *(
        (
            f"rear-not-above-unloaded fitted {number}",
            ("fitted", number),
            -inches * IN,
            0.0,
            2 * U_READ_IN * IN,
            "mm",
            "seen",
        )
        for number, inches in ((1, 0.90625), (2, 0.46875))
    ),
    ("beam-below-level", ("fitted", 2), -0.053943, 0.0, 2 * 0.024569, "deg", "seen"),
    ("lamp-height-lowest", None, 28.5 * IN, 22 * IN, None, "mm", "second-hand"),
    ("lamp-height-highest", None, 28.5 * IN, 54 * IN, None, "mm", "second-hand"),
    ("pressure-maximum", ("fitted", 2), 25 * PSI, 35 * PSI, U_GAUGE, "kPa", "own"),
    ("pressure-minimum", ("fitted", 1), 15 * PSI, 5 * PSI, U_GAUGE, "kPa", "own"),
    ("rated-support", None, 394.461 * LBF, 1000 * LBF, None, "N", "own"),
    ("pressure-held-both", None, (27.3939 - 27) * PSI, 2 * PSI, None, "kPa", "own"),
]


def test_every_check_of_the_worked_case() -> None:
    """Each check of the worked case is made once, of these figures and no other; all of them pass."""
    made = job_of(WORKED_CASE).assessment.verdicts
    assert [(key_of(c), c.stage, c.unit, c.standing) for c in made] == [(w[0], w[1], w[5], w[6]) for w in WORKED]
    for check, (name, _, value, limit, U, unit, _) in zip(made, WORKED, strict=True):
        near = 5e-5 * PSI if unit == "kPa" else 5e-4 * LBF if unit == "N" else 1e-6
        assert (check.value, check.limit) == pytest.approx((value, limit), abs=near), name
        assert U is None or pytest.approx(U, abs=2e-6) == check.U, name
        assert check.source, name
        assert check.verdict == "pass", name


# What each missing check asks for, and which fact answers it (None where no single fact does).
NOT_CHECKED = {
    "brake-valve": ("a look at the rear axle's brake valve", None),
    "conditions unloaded 1": ("the questions on floor, tyres, fuel and driver", None),
    "conditions loaded 1": ("the questions on floor, tyres, fuel and driver", None),
    "conditions fitted 1": ("the questions on floor, tyres, fuel and driver", None),
    "conditions fitted 2": ("the questions on floor, tyres, fuel and driver", None),
    "front-axle-rating": ("the front axle weighed as loaded; heights do not weigh", None),
    "rear-axle-rating": ("the rear axle weighed as loaded; heights do not weigh", None),
    "gross-rating": ("both axles weighed as loaded; heights do not weigh", None),
    "hitch-rating": ("the rating, from its label", "hitch.rating"),
    "tongue-share": ("the trailer's weight", "trailer.weight"),
    "soaped-joints": ("soapy water on each joint, the valve core and the gauge", None),
}


def test_what_the_worked_case_leaves_open() -> None:
    """Each check that was not made says what it needs, in the trade's words, and the fact that would answer it."""
    missing = {key_of(m): (m.needs, m.fact) for m in job_of(WORKED_CASE).assessment.not_checked}
    assert {check: asked for check, asked in missing.items() if check != "beam-within-rule"} == NOT_CHECKED
    assert missing["beam-within-rule"][0].startswith("a rule with limits")


# By hand from the tickets in kg: front 1050 of 1220, rear 1075 of 1300, both 2125 of 2350; the tongue is what the axles
# gained, 2125 − 2030 = 95, and the trailer 1205 + 95 = 1300: 7.3077 %, less than the 10 % of the usual rule.
@pytest.mark.parametrize(
    ("check", "value", "limit", "verdict"),
    [
        ("front-axle-rating", 1090 * KGF, 1220 * KGF, "pass"),
        ("rear-axle-rating", 1075 * KGF, 1300 * KGF, "pass"),
        ("gross-rating", 2125 * KGF, 2350 * KGF, "pass"),
        ("tongue-share", 100 * 95 / 1300, 10.0, "fail"),
    ],
)
def test_checks_on_the_tickets(check: str, value: float, limit: float, verdict: str) -> None:
    """Ratings are held against the heavier of the weighings, and a tongue too light for its trailer is told."""
    made = [c for c in job_of(SEPARATE_LINES).assessment.verdicts if key_of(c) == check]
    assert [(c.value, c.limit) for c in made] == [pytest.approx((value, limit), rel=1e-9)]
    assert made[0].verdict == verdict


def _answered(sheet: str, *more: h.Event) -> dict[str, str]:
    return {key_of(c): c.verdict for c in job_of(sheet, *more).assessment.verdicts}


@pytest.mark.parametrize(("people", "left_lb", "verdict"), [(3, 40, "pass"), (4, -110, "fail")])
def test_people_and_loads_against_the_label(people: int, left_lb: float, verdict: str) -> None:
    """By hand: 410 lb of tongue and 150 lb a person leave 40 lb of the label's 900 with three, none with four."""
    labelled = WORKED_CASE.replace('gvwr = "5800 lb"', f'gvwr = "5800 lb"\noccupants = {people}\ncapacity = "900 lb"')
    made = {key_of(c): c for c in job_of(labelled).assessment.verdicts}
    check = made["loading-label"]
    assert check.value == pytest.approx((900 - left_lb) * LBF, rel=1e-9)
    assert check.limit == pytest.approx(900 * LBF)
    assert (check.U, check.unit, check.verdict) == (0.0, "N", verdict)


def test_people_not_counted_are_asked_for() -> None:
    """With a label and nobody counted, the check asks how many are aboard."""
    labelled = WORKED_CASE.replace('gvwr = "5800 lb"', 'gvwr = "5800 lb"\ncapacity = "900 lb"')
    missing = {key_of(m): (m.needs, m.fact) for m in job_of(labelled).assessment.not_checked}
    assert missing["loading-label"] == ("how many people are aboard", "vehicle.occupants")


def test_a_brake_valve_looked_for_is_asked_for_no_more() -> None:
    """Once the question has its answer, yes or no, nothing is left to look at."""
    for answer in ("yes", "no"):
        a = job_of(WORKED_CASE, h.CheckAnswered(check="brake-valve", answer=answer)).assessment
        assert "brake-valve" not in {key_of(m) for m in a.not_checked}


def test_own_limits_are_said_to_be_the_shops_own() -> None:
    """A side-to-side limit of the shop's own replaces the published one and its source, and decides."""
    more = h.FactStated(name="limits.side_to_side", entered="1/16 in", value=IN / 16)
    made = [c for c in job_of(SEPARATE_LINES, more).assessment.verdicts if key_of(c).startswith("side-to-side")]
    assert made
    assert {(c.limit, c.standing, c.source) for c in made} == {(IN / 16, "own", "set by the shop")}


def of_verdict(verdict: Any) -> CheckResult:
    """A check that came out so."""
    return CheckResult(
        kind=KINDS["brake-valve"],
        value=1.0,
        limit=1.0,
        U=0.1,
        unit="mm",
        verdict=verdict,
        source="",
        standing="own",
        stage=None,
    )


OPEN = NotChecked(kind=KINDS["conditions"], needs="a reading", fact=None)


@pytest.mark.parametrize(
    ("verdicts", "missing", "worst"),
    [
        ([], False, "not checked"),
        ([], True, "not checked"),
        (["pass"], False, "pass"),
        (["pass", "conditional pass"], False, "conditional pass"),
        (["pass", "conditional pass"], True, "not checked"),
        (["conditional fail", "pass"], True, "conditional fail"),
        (["pass", "conditional fail", "fail"], True, "fail"),
        (["conditional fail", "fail"], False, "fail"),
    ],
)
def test_the_worst_counts_and_nothing_checked_is_no_pass(verdicts: list[str], missing: bool, worst: str) -> None:  # noqa: FBT001
    """What was not checked hides no failure and is hidden by no pass; a job without any check has passed nothing."""
    assert overall(tuple(map(of_verdict, verdicts)), (OPEN,) if missing else ()) == worst


HEADS = {"load": "[[load]]", "leak": "[leak]"}


def _without(*names: str) -> Assessment:
    """The worked case without these lines, or whole tables where a name is that of one."""
    sheet = WORKED_CASE
    for name in names:
        if name in HEADS:
            shorter = re.sub(rf"^{re.escape(HEADS[name])}\n(?:\w.*\n)+", "", sheet, flags=re.MULTILINE)
        else:
            shorter = re.sub(rf"^{name} = .*\n", "", sheet, flags=re.MULTILINE)
        assert shorter != sheet
        sheet = shorter
    return job_of(sheet).assessment


LABEL = "the rating, from its label"


# The trade's words for what is missing; the fact by its name in the register of facts.
@pytest.mark.parametrize(
    ("left_out", "check", "needs", "fact"),
    [
        ("min", "pressure-minimum", "the kit's minimum, from its sheet", "kit.min"),
        ("max", "pressure-maximum", "the kit's maximum, from its sheet", "kit.max"),
        (
            "rated_support",
            "rated-support",
            "the kit's rated support, from its sheet",
            "kit.rated_support",
        ),
        (
            "load",
            "rated-support",
            "the loads and their places, the wheelbase, and heights loaded and fitted",
            None,
        ),
        (
            "wheelbase",
            "rated-support",
            "the loads and their places, the wheelbase, and heights loaded and fitted",
            None,
        ),
        (
            "leak",
            "pressure-held",
            "the gauge and the temperature at the start and the end of a hold test",
            None,
        ),
        ("gawr_front", "front-axle-rating", LABEL, "vehicle.gawr_front"),
        ("gawr_rear", "rear-axle-rating", LABEL, "vehicle.gawr_rear"),
        ("gvwr", "gross-rating", LABEL, "vehicle.gvwr"),
    ],
)
def test_what_is_left_out_is_asked_for(left_out: str, check: str, needs: str, fact: str | None) -> None:
    """Each thing left out makes its check one that could not be made, and says what is wanted, never "pass"."""
    a = _without(left_out)
    assert (check, needs, fact) in {(key_of(m), m.needs, m.fact) for m in a.not_checked}
    assert check not in {key_of(c) for c in a.verdicts}
    assert a.overall == "not checked"


def test_a_skipped_corner_leaves_its_checks_open() -> None:
    """With one rear corner skipped at a stage, every check that rests on it says which heights it needs."""
    a = job_of(WORKED_CASE, h.CornerSkipped(stage="fitted", number=2, corner="LR", reason="wheel off")).assessment
    missing = {key_of(m): m.needs for m in a.not_checked}
    asked = {
        "heights fitted 2": "every corner read",
        "corners-on-a-plane fitted 2": "all four corners, unloaded and at this stage",
        "side-to-side-rear fitted 2": "both rear corners",
        "rear-not-above-unloaded fitted 2": "both rear corners, unloaded and at this stage",
    }
    assert {check: missing.get(check) for check in asked} == asked
    assert "side-to-side-front fitted 2" not in missing


@pytest.mark.parametrize(
    ("bubbles", "verdict"), [((False, False), "pass"), ((True, False), "fail"), ((True, True), "fail")]
)
def test_bubbles_are_counted(bubbles: tuple[bool, ...], verdict: str) -> None:
    """Joints with bubbles are counted and none is allowed; a count has no U."""
    soaped = [h.JointSoaped(joint=joint, bubbles=b) for joint, b in zip(("tee", "valve"), bubbles, strict=True)]
    made = {key_of(c): c for c in job_of(WORKED_CASE, *soaped).assessment.verdicts}["soaped-joints"]
    assert (made.value, made.limit, made.U, made.unit) == (float(sum(bubbles)), 0.0, 0.0, "joints with bubbles")
    assert (made.verdict, made.standing) == (verdict, "seen")


def test_conditions_once_asked_are_open_no_more() -> None:
    """A stage whose questions were answered is not listed; the others are."""
    answered = h.CheckAnswered(check="level-floor", answer="yes", stage="loaded")
    checks = {key_of(m) for m in job_of(WORKED_CASE, answered).assessment.not_checked}
    assert "conditions loaded 1" not in checks
    assert {"conditions unloaded 1", "conditions fitted 1", "conditions fitted 2"} <= checks


def test_a_check_is_told_from_others_by_its_id() -> None:
    """Ids are codes, each of one check; so are names, since a report has nothing else."""
    kinds = list(check_kinds())
    assert len({kind.id for kind in kinds}) == len({kind.name for kind in kinds}) == len(kinds) > 40
    assert [kind.id for kind in kinds if not re.fullmatch(r"[a-z]+(-[a-z]+)*", kind.id)] == []


@pytest.mark.parametrize("sheet", [WORKED_CASE, SEPARATE_LINES])
def test_every_check_is_of_a_kind_that_is_declared(sheet: str) -> None:
    """Made or not, and what it needs is said."""
    assessment = job_of(sheet).assessment
    used = {check.kind for check in assessment.verdicts} | {check.kind for check in assessment.not_checked}
    assert used <= set(check_kinds())
    assert all(missing.needs for missing in assessment.not_checked)
