"""What a check that could not be made asks for, as one thing after another is left out of a whole job."""

from __future__ import annotations

import re

import pytest

from cornerwalk.assess import Assessment
from cornerwalk.session import events as h
from tests.support.jobs import WORKED_CASE, job_of

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
        ("min", "pressure against the kit's minimum", "the kit's minimum, from its sheet", "kit.min"),
        ("max", "pressure against the kit's maximum", "the kit's maximum, from its sheet", "kit.max"),
        (
            "rated_support",
            "load on the helper springs against their rated support",
            "the kit's rated support, from its sheet",
            "kit.rated_support",
        ),
        (
            "load",
            "load on the helper springs against their rated support",
            "the loads and their places, the wheelbase, and heights loaded and fitted",
            None,
        ),
        (
            "wheelbase",
            "load on the helper springs against their rated support",
            "the loads and their places, the wheelbase, and heights loaded and fitted",
            None,
        ),
        (
            "leak",
            "pressure held",
            "the gauge and the temperature at the start and the end of a hold test",
            None,
        ),
        ("gawr_front", "front axle against its rating", LABEL, "vehicle.gawr_front"),
        ("gawr_rear", "rear axle against its rating", LABEL, "vehicle.gawr_rear"),
        ("gvwr", "vehicle against its gross rating", LABEL, "vehicle.gvwr"),
    ],
)
def test_what_is_left_out_is_asked_for(left_out: str, check: str, needs: str, fact: str | None) -> None:
    """Each thing left out makes its check one that could not be made, and says what is wanted, never "pass"."""
    a = _without(left_out)
    assert (check, needs, fact) in {(m.check, m.needs, m.fact) for m in a.not_checked}
    assert check not in {c.check for c in a.verdicts}
    assert a.overall == "not checked"


def test_a_skipped_corner_leaves_its_checks_open() -> None:
    """With one rear corner skipped at a stage, every check that rests on it says which heights it needs."""
    a = job_of(WORKED_CASE, h.CornerSkipped(stage="fitted", number=2, corner="LR", reason="wheel off")).assessment
    missing = {m.check: m.needs for m in a.not_checked}
    asked = {
        "heights fitted 2": "every corner read",
        "four corners lie on a plane, fitted 2": "all four corners, unloaded and at this stage",
        "side to side, rear, fitted 2": "both rear corners",
        "rear not above its unloaded height, fitted 2": "both rear corners, unloaded and at this stage",
    }
    assert {check: missing.get(check) for check in asked} == asked
    assert "side to side, front, fitted 2" not in missing


@pytest.mark.parametrize(
    ("bubbles", "verdict"), [((False, False), "pass"), ((True, False), "fail"), ((True, True), "fail")]
)
def test_bubbles_are_counted(bubbles: tuple[bool, ...], verdict: str) -> None:
    """Joints with bubbles are counted and none is allowed; a count has no U."""
    soaped = [h.JointSoaped(joint=joint, bubbles=b) for joint, b in zip(("tee", "valve"), bubbles, strict=True)]
    made = {c.check: c for c in job_of(WORKED_CASE, *soaped).assessment.verdicts}["joints under soapy water"]
    assert (made.value, made.limit, made.U, made.unit) == (float(sum(bubbles)), 0.0, 0.0, "joints with bubbles")
    assert (made.verdict, made.standing) == (verdict, "seen")


def test_conditions_once_asked_are_open_no_more() -> None:
    """A stage whose questions were answered is not listed; the others are."""
    answered = h.CheckAnswered(check="level-floor", answer="yes", stage="loaded")
    checks = {m.check for m in job_of(WORKED_CASE, answered).assessment.not_checked}
    assert "conditions loaded 1" not in checks
    assert {"conditions unloaded 1", "conditions fitted 1", "conditions fitted 2"} <= checks
