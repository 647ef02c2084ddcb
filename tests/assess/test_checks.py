"""Every check of whole jobs: its limit, its U, its verdict, and what a check that could not be made asks for."""

from __future__ import annotations

import math
import re
from typing import Any

import pytest

from cornerwalk.assess import Assessment
from cornerwalk.assess.assessment import NotChecked
from cornerwalk.assess.checks import overall
from cornerwalk.wording.checks import recorded_name
from tests.assess.given import KINDS, key_of, result
from tests.support.checks import check_kinds
from tests.support.jobs import SEPARATE_LINES, WORKED_CASE, job_of
from tests.support.units import IN, LBF, PSI

# By hand, 1/16 in marks and 1/32 in placing: u of a reading, in; a change and a difference of two have √2 of it, the
# mean of two such changes has u again, the warp 8 readings' √8/4.
U_READ_IN = math.sqrt((1 / 16) ** 2 / 12 + (1 / 32) ** 2)

# A gauge of 1 psi marks: u 1/√12, U twice that.
U_GAUGE = 0.0  # stated as exact in the worked case


_U_WARP_MM = U_READ_IN * math.sqrt(8) / 2 * IN
_PLANES = [(f"corners-on-a-plane {name} {number}", (name, number), 0.015625 * IN, _U_WARP_MM, _U_WARP_MM)
           for name, number in (("loaded", 1), ("fitted", 1), ("fitted", 2))]  # fmt: skip
_SIDES = [(f"side-to-side-{axle}", stage, inches * IN, 12.0, 2 * math.sqrt(2) * U_READ_IN * IN)
          for axle, stage, inches in (("front", ("unloaded", 1), 1 / 16), ("rear", ("unloaded", 1), 1 / 16),
                                      ("front", ("fitted", 2), 1 / 16), ("rear", ("fitted", 2), 1 / 8))]  # fmt: skip
_REARS = [(f"rear-not-above-unloaded fitted {n}", ("fitted", n), -inches * IN, 0.0, 2 * U_READ_IN * IN)
          for n, inches in ((1, 0.90625), (2, 0.46875))]  # fmt: skip

# check, stage, value, limit, U, unit, standing. Heights by hand from the worked case's readings (invented vehicle):
# unloaded 28 5/8, 28 11/16, 29 3/16, 29 1/4, fitted 2 28 7/8, 28 15/16, 28 11/16, 28 13/16.
WORKED: list[tuple[str, Any, float, float, float | None, str, str]] = [
    *((*row, "mm", "derived") for row in _PLANES),
    *((*row, "mm", "seen") for row in (*_SIDES, *_REARS)),
    ("beam-below-level", ("fitted", 2), -0.053943, 0.0, 2 * 0.024569, "deg", "seen"),
    ("lamp-height-lowest", None, 28.5 * IN, 22 * IN, None, "mm", "second-hand"),
    ("lamp-height-highest", None, 28.5 * IN, 54 * IN, None, "mm", "second-hand"),
    ("pressure-maximum", ("fitted", 2), 25 * PSI, 40 * PSI, U_GAUGE, "kPa", "own"),
    ("pressure-minimum", ("fitted", 1), 15 * PSI, 8 * PSI, U_GAUGE, "kPa", "own"),
    ("rated-support", None, 452.373 * LBF, 960 * LBF, None, "N", "own"),
    ("pressure-held-both", None, (27.3939 - 27) * PSI * 24 / 14, 2 * PSI, None, "kPa", "own"),
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
CONDITIONS = ("the questions on floor, tires, fuel and driver", None)
NOT_CHECKED = {
    "brake-valve": ("a look at the rear axle's brake valve", None),
    **{f"conditions {stage}": CONDITIONS for stage in ("unloaded 1", "loaded 1", "fitted 1", "fitted 2")},
    **{f"{axle}-axle-rating": (f"the {axle} axle weighed as loaded; heights are not weights", None)
       for axle in ("front", "rear")},
    "gross-rating": ("both axles weighed as loaded; heights are not weights", None),
    "hitch-rating": ("the rating, from its label", "hitch.rating"),
    "tongue-share": ("the trailer's weight", "trailer.weight"),
    "soaped-joints": ("soap test on each joint, the valve core and the gauge", None),
}  # fmt: skip


def test_what_the_worked_case_leaves_open() -> None:
    """Each check that was not made says what it needs, in the trade's words, and the fact that would answer it."""
    missing = {key_of(m): (m.needs, m.fact) for m in job_of(WORKED_CASE).assessment.not_checked}
    assert {check: asked for check, asked in missing.items() if check != "beam-within-rule"} == NOT_CHECKED
    assert missing["beam-within-rule"][0].startswith("a rule with limits")


def test_people_not_counted_are_asked_for() -> None:
    """With a label and nobody counted, the check asks how many are aboard."""
    labelled = WORKED_CASE.replace('gvwr = "5800 lb"', 'gvwr = "5800 lb"\ncapacity = "900 lb"')
    missing = {key_of(m): (m.needs, m.fact) for m in job_of(labelled).assessment.not_checked}
    assert missing["loading-label"] == ("how many people are aboard", "vehicle.occupants")


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
    made = tuple(result("brake-valve", (1.0, 1.0, 0.1, "mm"), verdict, ("", "own")) for verdict in verdicts)
    open_one = NotChecked(kind=KINDS["conditions"], needs="a reading", fact=None)
    assert overall(made, (open_one,) if missing else ()) == worst


HEADS = {"load": "[[load]]", "leak": "[leak]"}
SUPPORT = "rated-support"
CARRIED = "the loads and their locations, the wheelbase, and heights loaded and installed"
GAUGED = "the gauge and the temperature at the start and finish of a leak-down test"


def _without(name: str) -> Assessment:
    """The worked case without this line, or a whole table where the name is that of one."""
    line = rf"^{re.escape(HEADS[name])}\n(?:\w.*\n)+" if name in HEADS else rf"^{name} = .*\n"
    shorter = re.sub(line, "", WORKED_CASE, flags=re.MULTILINE)
    assert shorter != WORKED_CASE
    return job_of(shorter).assessment


LABEL = "the rating, from its label"


# The trade's words for what is missing; the fact by its name in the register of facts.
@pytest.mark.parametrize(
    ("left_out", "check", "needs", "fact"),
    [
        ("min", "pressure-minimum", "kit minimum, from the kit's instructions", "kit.min"),
        ("max", "pressure-maximum", "kit maximum, from the kit's instructions", "kit.max"),
        ("rated_support", SUPPORT, "kit rated load (pair), from the kit's instructions", "kit.rated_support"),
        ("load", SUPPORT, CARRIED, None),
        ("wheelbase", SUPPORT, CARRIED, None),
        ("leak", "pressure-held", GAUGED, None),
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


def test_a_check_goes_by_one_code_in_documents() -> None:
    """Documents and exported tables have a text for each check: no two checks share it."""
    kinds = list(check_kinds())
    assert len({kind.code for kind in kinds}) == len(kinds)
    assert [kind.id for kind in kinds if recorded_name(kind.code) != kind.name] == []
