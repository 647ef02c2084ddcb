"""Checks on the dipped beam: what each asks for, and which height, limit and uncertainty each is made of."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from cornerwalk.assess.lamp_checks import LAMP_CHECKS
from cornerwalk.session import events as h
from cornerwalk.session.model import Session, Vehicle
from cornerwalk.standards.loader import NO_RULE
from tests.assess.given import checked, key_of, stage
from tests.assess.given_findings import lamp
from tests.support.jobs import WORKED_CASE, job_of, standards
from tests.support.known import known
from tests.support.units import IN

LEVEL, WITHIN = "beam-below-level", "beam-within-rule"
U_READ_MM = math.hypot(IN / 16 / math.sqrt(12), IN / 32)
"""A 1/16 in tape and 1/32 in of placing: graduation²/12 + place² (rectangular distribution, JCGM 100 4.3.7)."""

RULE, HEIGHT, BASE = 'rule = "us-vol"\n', 'lamp_height = "28 1/2 in"\n', 'wheelbase = "119 in"\n'


def sheet(*, rule: str = "us-vol", aim: str = "", centre: str | None = "28 1/2 in", edge: str = "") -> str:
    """The worked case with another rule, an aim measured unloaded, and other heights of the lamp."""
    lamps = f'rule = "{rule}"\n' if rule else ""
    lamps += f"aim_percent = {aim}\n" if aim else ""
    heights = f'lamp_height = "{centre}"\n' if centre else ""
    heights += f'lamp_lower_edge = "{edge}"\n' if edge else ""
    return WORKED_CASE.replace(RULE, lamps).replace(HEIGHT, heights)


def asked(text: str, *more: h.Event) -> dict[str, tuple[str, str | None]]:
    """What the checks on beam and lamp that could not be made ask for, and the fact that would answer."""
    missing = job_of(text, *more).assessment.not_checked
    return {key_of(m): (m.needs, m.fact) for m in missing if key_of(m).startswith(("beam", "lamp"))}


BEGUN = WORKED_CASE.partition("[[stage]]")[0] + '[[stage]]\nname = "unloaded"\nLF = "28 5/8"\n'
FOUR = ("all four corners, unloaded and at this stage", None)
RULE_OR_AIM = ("an aim spec, or the aim measured when unloaded", "lamps.rule")
AIM = ("the aim measured when unloaded: this rule has no nominal", "lamps.aim_percent")
NO_LIMIT = "a rule with limits: this one states an aim and no limit for a vehicle in use"


@pytest.mark.parametrize(
    ("text", "needed"),
    [
        (BEGUN, {LEVEL: FOUR, WITHIN: FOUR}),
        (WORKED_CASE.replace(BASE, ""), dict.fromkeys((LEVEL, WITHIN), ("the wheelbase", "vehicle.wheelbase"))),
        (sheet(rule=""), {LEVEL: RULE_OR_AIM, WITHIN: RULE_OR_AIM}),
        (sheet(rule=NO_RULE), {LEVEL: RULE_OR_AIM, WITHIN: RULE_OR_AIM}),
        (sheet(rule="", aim="-1.0"), {WITHIN: ("an aim spec", "lamps.rule")}),
        (sheet(rule=NO_RULE, aim="-1.0"), {WITHIN: ("an aim spec", "lamps.rule")}),
        (sheet(rule="uk-mot"), {LEVEL: AIM, WITHIN: AIM}),
        (sheet(rule="uk-mot", aim="-1.0"), {}),
        (
            sheet(rule="uk-mot", aim="-1.0", centre=None),
            {WITHIN: ("headlight center height", "vehicle.lamp_height")},
        ),
        (
            sheet(rule="un-r48-08", aim="-1.0", centre="28 1/2 in"),
            dict.fromkeys(
                (WITHIN, "lamp-height-lowest"),
                ("headlight lower edge height", "vehicle.lamp_lower_edge"),
            ),
        ),
        (sheet(rule="un-r48-08", aim="-1.0", edge="26 in"), {}),
        (
            sheet(rule="un-r48-09", aim="-1.0", edge="1500 mm"),
            {WITHIN: ("a headlight at a height the spec covers", "vehicle.lamp_lower_edge")},
        ),
        (sheet(), {WITHIN: (NO_LIMIT, "vehicle.lamp_height")}),
        (
            sheet(centre=None),
            {
                WITHIN: (NO_LIMIT, "vehicle.lamp_height"),
                "lamp-height-lowest": ("headlight center height", "vehicle.lamp_height"),
                "lamp-height-highest": ("headlight center height", "vehicle.lamp_height"),
            },
        ),
    ],
)  # fmt: skip
def test_what_is_missing_is_asked_for_by_its_fact(text: str, needed: dict[str, tuple[str, str | None]]) -> None:
    """Each missing fact leaves its checks open, asks for itself, and names where it is stated; no other is asked."""
    assert asked(text) == needed


def test_levelling_that_moved_the_beam_asks_for_a_mark() -> None:
    """A vehicle that levels its lamps by itself: a predicted beam is not judged, one seen on the wall is."""
    levelled = WORKED_CASE.replace('levelling = "none"', 'levelling = "automatic"')
    mark = ("a wall mark: leveling has moved the beam by itself", None)
    assert asked(levelled) == {LEVEL: mark, WITHIN: mark}
    unloaded = h.MarkRead(stage="unloaded", entered="26 in", above_mm=26 * IN)
    fitted = h.MarkRead(stage="fitted", number=2, entered="26 in", above_mm=26 * IN)
    seen = job_of(levelled, unloaded, fitted).assessment
    assert LEVEL in {key_of(check) for check in seen.verdicts}
    assert mark not in asked(levelled, unloaded, fitted).values()


def test_each_side_of_a_rule_is_held_in_per_cent_with_two_u() -> None:
    """The aim at the last stage against both limits of a band; U is twice the u of that aim, the source the rule's."""
    job = job_of(sheet(rule="us-4in-25ft"))
    lamp, rule = job.assessment.stages[-1].lamp, standards().aim_rules["us-4in-25ft"]
    assert lamp is not None
    band = known(rule.band_percent(28.5 * IN))
    made = {key_of(c): c for c in job.assessment.verdicts if key_of(c).startswith(WITHIN)}
    limits = {f"{WITHIN}-upper": band.upper_percent, f"{WITHIN}-lower": band.lower_percent}
    # 4 in at 25 ft is 100·4/300 per cent, about the nominal aim of −0.4°: 100·tan(−0.4°) = −0.698143 %.
    assert limits == pytest.approx(
        {f"{WITHIN}-upper": 4 / 3 - 0.698143, f"{WITHIN}-lower": -4 / 3 - 0.698143}, abs=1e-6
    )
    assert {name: check.limit for name, check in made.items()} == limits
    for check in made.values():
        assert (check.value, check.U) == pytest.approx((lamp.aim_percent, 2 * known(lamp.u_aim_percent)))
        assert (check.unit, check.source, check.standing) == ("%", rule.source, band.standing)
        assert check.stage == ("fitted", 2)
        assert check.verdict == "pass"


@pytest.mark.parametrize(
    ("aim", "upper", "lower"),
    [("-0.3", "fail", "pass"), ("-1.5", "pass", "pass"), ("-4.0", "pass", "fail")],
)
def test_above_a_band_and_below_it(aim: str, upper: str, lower: str) -> None:
    """Too high fails the upper limit alone, too low the lower one alone (−0.5 to −2.75 % for a low lamp)."""
    made = {key_of(c): c.verdict for c in job_of(sheet(rule="uk-mot", aim=aim)).assessment.verdicts}
    assert (made[f"{WITHIN}-upper"], made[f"{WITHIN}-lower"]) == (upper, lower)


def test_the_lamps_own_height_is_held_with_the_tapes_error() -> None:
    """Where the rule lets a lamp sit: the reading's u and the limit of error of a class II tape.

    Directive 2014/32/EU, Annex X: 0.3 + 0.2 L mm, L in whole metres rounded up, and 0.2 mm more for an end that is a
    surface, as a hook's; rectangular, so over √3.
    """
    made = {key_of(c): c for c in job_of(WORKED_CASE).assessment.verdicts if key_of(c).startswith("lamp-height")}
    U_mm = 2 * math.hypot(U_READ_MM, (0.3 + 0.2 * 1 + 0.2) / math.sqrt(3))
    for side, limit_id in (("lowest", "lamp-height-us-low"), ("highest", "lamp-height-us-high")):
        check, limit = made[f"lamp-height-{side}"], standards().limits[limit_id]
        assert (check.value, check.U) == pytest.approx((28.5 * IN, U_mm))
        assert (check.limit, check.unit) == (limit.value, "mm")
        assert (check.source, check.standing) == (limit.source, limit.standing)
        assert check.stage is None


@pytest.mark.parametrize(("centre", "lowest", "highest"), [("20 in", "fail", "pass"), ("56 in", "pass", "fail")])
def test_a_lamp_too_low_and_one_too_high(centre: str, lowest: str, highest: str) -> None:
    """Each end of the range fails on its own side."""
    made = {key_of(c): c.verdict for c in job_of(sheet(centre=centre)).assessment.verdicts}
    assert (made["lamp-height-lowest"], made["lamp-height-highest"]) == (lowest, highest)


def test_a_lower_edge_is_held_where_the_rule_counts_it() -> None:
    """A rule by the lower edge holds that, not the centre, and has no highest height of its own here."""
    made = {key_of(c): c for c in job_of(sheet(rule="un-r48-08", aim="-1.0", edge="26 in")).assessment.verdicts}
    assert made["lamp-height-lowest"].value == pytest.approx(26 * IN)
    assert "lamp-height-highest" not in made


SEEN = {
    "measured_aim_deg": -0.9,
    "u_measured_aim_deg": 0.1,
    "measured_aim_percent": -1.6,
    "u_measured_aim_percent": 0.2,
}
PREDICTED = {"aim_deg": -0.4, "u_aim_deg": 0.05, "aim_percent": -0.7, "u_aim_percent": 0.1}


@pytest.mark.parametrize("lacking", [None, *SEEN])
def test_a_beam_seen_on_the_wall_is_judged_where_all_of_it_is_known(lacking: str | None) -> None:
    """In place of the predicted one; where a figure or its u is missing the predicted one is judged, not half of it."""
    beam = lamp(**{name: value for name, value in (SEEN | PREDICTED).items() if name != lacking})
    check = checked(LAMP_CHECKS, stages=(stage("loaded", lamp=beam),))[0][LEVEL]
    assert (check.value, check.U) == pytest.approx((-0.9, 0.2) if lacking is None else (-0.4, 0.1))


@pytest.mark.parametrize("lacking", PREDICTED)
def test_a_beam_of_which_a_figure_is_missing_is_not_judged(lacking: str) -> None:
    """Neither against level nor against a rule."""
    beam = lamp(**{name: value for name, value in PREDICTED.items() if name != lacking})
    made, asked_for = checked(LAMP_CHECKS, stages=(stage("loaded", lamp=beam),))
    assert made == {}
    assert set(asked_for) == {LEVEL, WITHIN}


@pytest.mark.parametrize(("end", "other"), [("lowest", "highest"), ("highest", "lowest")])
def test_a_rule_may_bound_a_lamps_height_at_one_end(end: str, other: str) -> None:
    """A rule of the shop's that states one of the two: that one is held, of the other nothing is asked."""
    one_end = replace(standards().aim_rules["us-vol"], **{f"{other}_lamp": ""})  # type: ignore[arg-type]
    job = Session(vehicle=Vehicle(lamp_height_mm=700.0))
    made, asked_for = checked(LAMP_CHECKS, job, rule=one_end)
    assert list(made) == [f"lamp-height-{end}"]
    assert asked_for == {}
