"""Findings from figures given to them: lamps, air, weights, leaks; each with all figures, at its border."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from cornerwalk.assess.assessment import (
    AirResult,
    LampResult,
    Misread,
    SidesResult,
)
from cornerwalk.session.model import (
    Joint,
    Kit,
    Lamps,
    Service,
    Vehicle,
)
from tests.assess.given import NO_AXLES, leak, stage
from tests.assess.given_findings import FAR, RULED, Fields, air, at, check, codes, finding, found, lamp, only

SHIFTED: dict[str, Any] = {"shift_mm": 10.0, "u_shift_mm": 5.0}


@pytest.mark.parametrize(("shift_mm", "back"), [(10.0, True), (-10.0, True), (10.1, False), (-10.1, False)])
def test_a_beam_that_is_back(shift_mm: float, back: bool) -> None:  # noqa: FBT001
    """Within 2 u of where it was, either way; only with air in."""
    beam = lamp(shift_mm=shift_mm, u_shift_mm=5.0)
    fields = {"shift_mm": shift_mm, "u_shift_mm": 5.0}
    told = finding("note", "beam-back", ("fitted", 1), **fields)
    assert found(stages=(stage("fitted", lamp=beam),)) == ([told] if back else [])
    assert found(stages=(stage("loaded", lamp=beam),)) == []


@pytest.mark.parametrize(
    ("shift_mm", "u_shift_mm", "front_mm", "told"),
    [
        (20.0, 5.0, 3.1, True),
        (20.0, 5.0, 3.0, False),
        (-20.0, 5.0, 3.1, False),
        (10.5, 5.0, 3.1, True),
        (0.5, 0.2, 3.1, True),
    ],
)
def test_a_front_that_stays_up(shift_mm: float, u_shift_mm: float, front_mm: float, told: bool) -> None:  # noqa: FBT001
    """Surely up, and the beam higher on the wall than 2 u."""
    now = stage("fitted", lamp=lamp(shift_mm=shift_mm, u_shift_mm=u_shift_mm), front_mm=front_mm, u_front_mm=1.5)
    wanted = finding(
        "caution",
        "front-stays-up",
        ("fitted", 1),
        front_mm=front_mm,
        u_front_mm=1.5,
        screen_mm=7620.0,
        shift_mm=shift_mm,
        u_shift_mm=u_shift_mm,
    )
    assert found(stages=(now,)) == ([wanted] if told else [])


@pytest.mark.parametrize(
    ("was_mm", "now_mm", "told"),
    [
        (-30.0, 3.0, True),
        (-30.0, -3.0, True),
        (-30.0, -3.1, False),
        (-3.0, 0.0, False),
        (-3.1, 0.0, True),
        (None, 0.0, False),
    ],
)
def test_a_rear_that_is_back(was_mm: float | None, now_mm: float, told: bool) -> None:  # noqa: FBT001
    """It surely dropped under the load, and stands within 2 u of where it was; said beside the beam's."""
    now = stage("fitted", lamp=lamp(**SHIFTED), rear_mm=now_mm, u_rear_mm=1.5)
    loaded = (stage("loaded", rear_mm=was_mm, u_rear_mm=1.5),) if was_mm is not None else ()
    findings = [each for each in found(stages=(*loaded, now)) if each.code == "rear-back"]
    fields = {"rear_mm": now_mm, "u_rear_mm": 1.5, "front_mm": None, "u_front_mm": None}
    assert findings == ([finding("note", "rear-back", ("fitted", 1), **fields)] if told else [])


@pytest.mark.parametrize("beam", [None, lamp(shift_mm=1.0), lamp(u_shift_mm=1.0)])
def test_of_a_beam_that_is_not_known_nothing_is_said(beam: LampResult | None) -> None:
    """Neither that it is back nor that the rear is."""
    now = stage("fitted", lamp=beam, rear_mm=0.0, u_rear_mm=1.0)
    findings = found(stages=(stage("loaded", rear_mm=-30.0, u_rear_mm=1.0), now))
    assert codes(findings) == ["level-is-not-safe"]


def test_what_is_not_known_of_lamps_and_levelling() -> None:
    """Levelling of its own or unknown, a rule not chosen, its load state, an aim assumed: each told with the rule."""
    seen = (stage("loaded", lamp=lamp()),)
    titled: dict[str, Any] = {
        "stages": seen,
        "rule_title": "a rule",
        "rule_load_state": "driver alone",
        "aim_assumed": True,
    }
    findings = found(**titled)
    assert set(codes(findings)) == {"rule-load-state", "aim-assumed"}
    assert only(findings, "rule-load-state").fields == {"rule": "a rule", "load_state": "driver alone"}
    assert only(findings, "aim-assumed").fields == {"rule": "a rule"}
    assert {each.level for each in findings} == {"note"}
    for rule in (None, "none"):
        none = found(replace(RULED, lamps=Lamps(rule=rule)), stages=seen)
        assert none == [finding("note", "no-rule-chosen")]
    for levelling, code in (("automatic", "levelling-automatic"), ("unknown", "levelling-unknown")):
        vehicle = Vehicle(levelling=levelling)  # type: ignore[arg-type]
        assert found(replace(RULED, vehicle=vehicle), stages=seen) == [finding("caution", code)]
        assert found(replace(RULED, vehicle=vehicle), stages=(stage("loaded"),)) == []
    assert found(replace(RULED, vehicle=Vehicle(levelling="manual")), stages=seen) == []


def test_a_leveller_that_was_moved_is_told() -> None:
    """From one position that was noted to the next, wherever stages without one lie between."""
    stages = (at(leveller="0"), at(number=2), at(number=3, leveller="2"), at(number=4, leveller="2"))
    findings = found(replace(RULED, stages=stages), stages=(stage("loaded", lamp=lamp()),))
    fields = {"was": "0", "now": "2"}
    assert findings == [finding("caution", "leveller-moved", ("fitted", 3), **fields)]


@pytest.mark.parametrize(("off_mm", "told"), [(10.1, True), (-10.1, True), (10.0, False)])
def test_a_mark_that_is_not_where_it_was_expected(off_mm: float, told: bool) -> None:  # noqa: FBT001
    """By more than 2 √(3² + 4²) = 10 mm; with both, and how far apart they are."""
    beam = lamp(measured_wall_mm=50.0 + off_mm, u_measured_wall_mm=3.0, wall_mm=50.0, u_wall_mm=4.0)
    findings = found(stages=(stage("loaded", lamp=beam),))
    assert codes(findings) == (["prediction-differs"] if told else [])
    for one in findings:
        assert one.fields == pytest.approx({"measured_mm": 50.0 + off_mm, "predicted_mm": 50.0, "off_mm": off_mm})
        assert (one.level, one.stage) == ("caution", ("loaded", 1))
    without = lamp(measured_wall_mm=58.1, wall_mm=50.0, u_wall_mm=4.0)
    assert codes(found(stages=(stage("loaded", lamp=without),))) == ["prediction-differs"], "8 mm is 2 u of the rest"


BEAM: Fields = {"aim_deg": 0.2, "u_aim_deg": 0.05, "shift_mm": 60.0, "u_shift_mm": 5.0, "aim_percent": 0.35}


@pytest.mark.parametrize(
    ("name", "verdict", "code"),
    [
        ("beam-below-level", "fail", "beam-above-level"),
        ("beam-below-level", "conditional fail", "beam-maybe-above-level"),
        ("beam-below-level", "conditional pass", "beam-maybe-above-level"),
        ("beam-below-level", "pass", None),
        ("beam-within-rule-upper", "fail", "beam-outside-rule"),
        ("beam-within-rule-lower", "conditional fail", "beam-outside-rule"),
        ("beam-within-rule-lower", "conditional pass", None),
    ],
)
def test_a_beam_that_is_too_high_or_outside_its_rule(name: str, verdict: str, code: str | None) -> None:
    """With aim, movement on the wall, the wall's distance, the rule, and whose limit it is; of the last stage only."""
    now = stage("loaded", lamp=lamp(**BEAM))
    made = check(name, verdict, stage=("loaded", 1))
    fields: Fields = {"rule": "a rule", "screen_mm": 7620.0, **BEAM}
    told = [finding("caution", code, ("loaded", 1), source=made.source, **fields)] if code else []
    assert found(stages=(now,), verdicts=(made,), rule_title="a rule") == told
    assert found(stages=(now,), verdicts=(replace(made, stage=("unloaded", 1)),), rule_title="a rule") == []


def test_a_rule_from_memory_says_so_once() -> None:
    """Beside its upper limit, whatever the verdict."""
    sides = [check(f"beam-within-rule-{side}", "pass", standing="memory", stage=("loaded", 1))
             for side in ("upper", "lower")]  # fmt: skip
    findings = found(stages=(stage("loaded", lamp=lamp()),), verdicts=tuple(sides), rule_title="a rule")
    assert findings == [finding("note", "rule-from-memory", source=sides[0].source, rule="a rule")]


REAR: Fields = {"where": "rear"}


@pytest.mark.parametrize(
    ("fit", "told"),
    [
        (air(reason="one trial", try_next_kPa=150.0), ("one-trial", "note", {"try_next_kPa": 150.0})),
        (air(reason="more air did not raise the rear"), ("air-no-rise", "caution", {})),
        (air(off_line=True), ("trials-off-line", "caution", {})),
        (
            air(pressure_kPa=200.0, u_holds=False, low_kPa=150.0, high_kPa=300.0),
            ("slope-unsure", "caution", {"low_kPa": 150.0, "high_kPa": 300.0}),
        ),
        (
            air(pressure_kPa=200.0, u_pressure_kPa=9.0, extrapolated=True),
            ("extrapolated", "caution", {"pressure_kPa": 200.0, "u_pressure_kPa": 9.0}),
        ),
        (
            air(pressure_kPa=200.0, recommended_kPa=180.0, held_at="maximum", left_mm=4.0, u_left_mm=0.5),
            ("at-kit-limit", "caution", {"left_mm": 4.0, "u_left_mm": 0.5, "recommended_kPa": 180.0}),
        ),
        (
            air(pressure_kPa=200.5, recommended_kPa=200.0, held_at="minimum", left_mm=0.1, u_left_mm=0.5),
            ("at-kit-limit", "caution", {"left_mm": 0.1, "u_left_mm": 0.5, "recommended_kPa": 200.0}),
        ),
        (air(pressure_kPa=200.0, recommended_kPa=200.0), None),
        (air(pressure_kPa=200.0, recommended_kPa=180.0), None),
        (air(pressure_kPa=200.0), None),
        (air(u_holds=False), None),
        (air(recommended_kPa=180.0), None),
    ],
)
def test_what_a_fit_of_air_is_worth(fit: AirResult, told: tuple[str, Any, dict[str, Any]] | None) -> None:
    """Each doubt once, with the figures it rests on and the bags it is of."""
    wanted = [] if told is None else [finding(told[1], told[0], **(REAR | told[2]))]
    assert found(air=(fit,)) == wanted
    assert len(found(air=(fit, replace(fit, where="LR")))) == 2 * len(wanted)


def test_a_carried_load_that_reads_low() -> None:
    """Where only the least is known, as without the rate of the tires; not where the load itself is."""
    fields = {"carried_N": 1800.0, "u_carried_N": 40.0}
    told = [finding("note", "carried-reads-low", **fields)]
    assert found(carried_N=1800.0, u_carried_N=40.0, carried_at_least=True) == told
    assert found(carried_N=1800.0, u_carried_N=40.0) == []
    assert found(RULED) == []


@pytest.mark.parametrize(("tee_mm", "told"), [(-4.1, True), (4.1, True), (4.0, False)])
def test_sides_that_one_line_leaves_apart(tee_mm: float, told: bool) -> None:  # noqa: FBT001
    """By more than 2 u, where the lines are joined: what two lines would do about it."""
    sides = SidesResult(
        left_kPa=150.0, right_kPa=170.0, tee_mm=tee_mm, u_tee_mm=2.0, separate_mm=-0.5, u_separate_mm=1.0
    )
    fields = {"difference_mm": 4.1, "left_kPa": 150.0, "right_kPa": 170.0, "separate_mm": 0.5}
    wanted = [finding("note", "unequal-sides", **fields)] if told else []
    job = replace(RULED, job=FAR)
    assert found(replace(job, kit=Kit(lines="tee")), sides=sides) == wanted
    assert found(replace(job, kit=Kit(lines="separate")), sides=sides) == []
    assert found(replace(job, kit=Kit(lines="tee"))) == []


@pytest.mark.parametrize(
    ("value", "limit", "code"), [(9.0, 10.0, "under-tongue-share"), (16.0, 15.0, "over-tongue-share")]
)
@pytest.mark.parametrize(("trailer_N", "asked"), [(10_000.0, 100.0), (None, None)])
def test_a_tongue_too_light_or_too_heavy(value: float, limit: float, code: str, trailer_N: Any, asked: Any) -> None:
    """With the share, its u, the limit, and the weight that the limit comes to: 10 % of 10 kN is 1 kN."""
    axles = replace(NO_AXLES, trailer_N=trailer_N, u_tongue_share_percent=0.2)
    made = check("tongue-share", value=value, limit=limit)
    fields = {
        "share_percent": value,
        "limit_percent": limit,
        "u_share_percent": 0.2,
        "asked_N": None if asked is None else asked * limit,
    }
    assert found(axles=axles, verdicts=(made,)) == [finding("caution", code, source=made.source, **fields)]
    assert found(axles=axles, verdicts=(replace(made, verdict="conditional pass"),)) == []


def test_weighings_and_restoration_that_fail() -> None:
    """Each with its figure; a restoration on either side of its rule."""
    apart = check("weighings-agree", value=170.0)
    restored = check("front-axle-restored-lower", "conditional fail", value=40.0, limit=50.0)
    assert found(verdicts=(apart, restored)) == [
        finding("caution", "weighings-disagree", difference_N=170.0),
        finding("caution", "restoration-outside-rule", source=restored.source, percent=40.0, limit_percent=50.0),
    ]
    assert found(verdicts=(replace(apart, verdict="pass"), replace(restored, verdict="pass"))) == []


def test_joints_and_lines_that_leak() -> None:
    """A bubble stops, by its joint; a loss is told with its rate; a short test with the loss of a day."""
    session = replace(
        RULED, joints=(Joint(joint="valve core", bubbles=True, note=""), Joint(joint="tee", bubbles=False, note=""))
    )
    assert found(session) == [finding("stop", "bubbles", joint="valve core")]
    test = leak(rate_kPa_per_h=0.5, hours_to_minimum=40.0, hours=6.0, per_day_kPa=12.0, shorter=True)
    fields = {"loss_kPa": 3.0, "u_loss_kPa": 0.5, "hours": 6.0, "hours_to_minimum": 40.0, "rate_kPa_per_h": 0.5}
    lost = [finding("caution", "leak-loss", **fields, line="both")]
    for verdict in ("fail", "conditional fail"):
        verdicts = (check("pressure-held-left", "pass"), check("pressure-held-both", verdict))
        assert found(leak=(test,), verdicts=verdicts) == lost
    short = [finding("note", "leak-short-test", hours=6.0, line="both", per_day_kPa=12.0)]
    assert found(leak=(test,), verdicts=(check("pressure-held-both", "pass"), check("pressure-held-left"))) == short
    assert found(leak=(test,)) == short
    assert found(leak=(replace(test, shorter=False),)) == []


def test_a_misread_is_told_with_what_it_probably_was() -> None:
    """Where the reading stands, and the warp it was found by; before every other caution."""
    misread = Misread(stage=("unloaded", 1), corner="RR", slip="whole inch", likely_mm=725.4)
    odd = stage("loaded", misread=misread, warp_mm=12.0, u_warp_mm=1.5)
    told = found(stages=(stage("unloaded"), odd), verdicts=(check("side-to-side-rear"),))
    fields: Fields = {"corner": "RR", "slip": "whole inch", "likely_mm": 725.4, "warp_mm": 12.0, "u_warp_mm": 1.5}
    assert told[0] == finding("caution", "misread", ("loaded", 1), **fields, where="unloaded")  # fmt: skip
    assert codes(told) == ["misread", "side-to-side"]


def test_bolts_are_to_be_tightened_again_once_air_was_in() -> None:
    """With the distance that the job states; not before anything was fitted."""
    session = replace(RULED, service=Service(retorque_distance="60 miles"))
    told = [finding("note", "retorque", distance="60 miles")]
    assert found(session, stages=(stage("fitted"),)) == told
    assert found(session, stages=(stage("loaded"),)) == []
    assert found(stages=(stage("fitted"),)) == []
