"""What a whole job says of its lamps: rule and aim, levelling dial, beam per millimetre and kPa, and its budget."""

from __future__ import annotations

import math

import pytest

from cornerwalk.assess.assessment import Assessment
from cornerwalk.session import events as h
from cornerwalk.session.stages import CORNERS, Corner, StageName
from tests.assess.given import key_of
from tests.support.jobs import HALF_DONE, WORKED_CASE, job_of, standards
from tests.support.known import known
from tests.support.units import IN, PSI

RULE = 'rule = "us-vol"\n'
MANUAL = WORKED_CASE.replace('levelling = "none"', 'levelling = "manual"')
FIRST = (28.625, 28.6875, 29.1875, 29.25)
LAST = (28.875, 28.9375, 28.6875, 28.8125)


def without(*starts: str) -> str:
    """The worked case less the lines that begin so."""
    return "\n".join(line for line in WORKED_CASE.splitlines() if not line.startswith(starts))


def worked(*more: h.Event, sheet: str = WORKED_CASE) -> Assessment:
    return job_of(sheet, *more).assessment


def stated(name: str, value: str | float) -> h.FactStated:
    return h.FactStated(name=name, entered=str(value), value=value)


def mark(stage: StageName) -> h.MarkRead:
    return h.MarkRead(stage=stage, entered="-60 mm", above_mm=-60.0)


def test_the_rule_chosen_is_named() -> None:
    """Results name the rule by its id and title, and the loading that it asks for."""
    a, rule = worked(), standards().aim_rules["us-vol"]
    assert (a.rule, a.rule_title, a.rule_load_state) == ("us-vol", rule.title, rule.load_state)
    assert "driver alone" in a.rule_load_state


def test_a_rule_nobody_knows_is_named_as_it_was_written() -> None:
    """A rule that is not packaged keeps the name that it was given; it has no loading and assumes no aim."""
    a = worked(stated("lamps.rule", "the shop's own"))
    assert (a.rule, a.rule_title, a.rule_load_state, a.aim_assumed) == ("the shop's own", "the shop's own", "", False)


def test_no_rule_is_no_rule() -> None:
    """Where none was chosen none is named, and no aim is taken from one."""
    a = worked(sheet=WORKED_CASE.replace(RULE, ""))
    assert (a.rule, a.rule_title, a.rule_load_state, a.aim_assumed) == (None, None, "", False)


# The method: the aim unloaded is as stated, else from the mark on the wall unloaded, else the rule's nominal. A rule
# without a nominal is here the UK's, which gives bands.
@pytest.mark.parametrize(
    ("facts", "assumed"),
    [
        ((), "yes"),
        ((stated("lamps.aim_percent", -0.7),), "no"),
        ((mark("unloaded"),), "no"),
        ((mark("loaded"),), "yes"),
        ((stated("lamps.rule", "uk-mot"),), "no"),
    ],
)
def test_when_the_aim_is_assumed(facts: tuple[h.Event, ...], assumed: str) -> None:
    """The aim is called assumed exactly where it was neither stated nor marked and the rule gave it."""
    assert worked(*facts).aim_assumed is (assumed == "yes")


def test_an_assumed_aim_needs_no_reading() -> None:
    """With a rule and no stage the aim would be assumed; with neither it would not."""
    assert job_of('[lamps]\nrule = "us-vol"\n').assessment.aim_assumed is True
    assert job_of(HALF_DONE).assessment.aim_assumed is False


# By hand: the lamps tilt by 1/L for each millimetre of rear, so the cut-off falls D·(1 + tan²α)/L; the worked case's
# last stage has α −0.053943°, and 0.04375 in of rear for each psi with u 0.0036084.
def test_what_the_beam_does_for_each_kPa() -> None:
    """The beam falls as the rear comes up, and by the line's slope for each kPa, as sure as that slope is."""
    beam = worked().beam
    rise = (0.25 + 0.46875) / 119
    per_mm = -(300 / 119) * (1 + math.tan(math.radians(-0.053943)) ** 2) / (1 + rise**2)
    assert beam.shift_mm_per_rear_mm == pytest.approx(per_mm, rel=1e-6)
    assert beam.shift_mm_per_kPa == pytest.approx(per_mm * 0.04375 * IN / PSI, rel=1e-6)
    assert beam.u_shift_mm_per_kPa == pytest.approx(-per_mm * 0.0036084 * IN / PSI, rel=2e-5)


@pytest.mark.parametrize("lines", ["separate", "none tried"])
def test_no_one_pressure_moves_the_beam(lines: str) -> None:
    """With a line to each bag, or before a trial, there is a beam for each millimetre and none for each kPa."""
    sheet = WORKED_CASE[: WORKED_CASE.index('[[stage]]\nname = "fitted"')] if lines == "none tried" else WORKED_CASE
    beam = worked(stated("kit.lines", "separate"), sheet=sheet).beam
    assert beam.shift_mm_per_rear_mm is not None
    assert (beam.shift_mm_per_kPa, beam.u_shift_mm_per_kPa) == (None, None)


def test_without_a_beam_there_is_nothing_per_millimetre() -> None:
    """No wheelbase, no pitch: neither beam nor budget is made up."""
    a = worked(sheet=without("wheelbase"))
    assert (a.beam.shift_mm_per_rear_mm, a.beam.shift_mm_per_kPa, a.budget) == (None, None, None)


def test_the_budget_of_the_unloaded_stage_alone() -> None:
    """Before a second stage nothing has moved, and there is no budget; nor without an unloaded stage."""
    first = WORKED_CASE[: WORKED_CASE.index('[[stage]]\nname = "loaded"')]
    assert worked(sheet=first).budget is None
    start, end = WORKED_CASE.index('[[stage]]\nname = "unloaded"'), WORKED_CASE.index('[[stage]]\nname = "loaded"')
    assert worked(sheet=WORKED_CASE[:start] + WORKED_CASE[end:]).budget is None


def test_the_budget_is_of_the_last_stage_with_a_beam() -> None:
    """A later stage of which too little was read leaves the budget with the one before it."""
    begun = h.StageBegun(stage="follow-up")
    height = h.HeightRead(stage="follow-up", corner="LF", entered="28 7/8", mm=28.875 * IN)
    budget = known(worked(begun, height).budget)
    assert budget.stage == ("fitted", 2)


# By hand: of u² = g²/12 + p²/n of one reading the marks make g²/12; sixteen readings of the same sensitivity.
def test_repeats_take_placing_out_of_the_budget() -> None:
    """Every corner of both stages read four times: placing has half its u, the marks have theirs, as before."""
    both: tuple[tuple[StageName, int, tuple[float, ...]], ...] = (("unloaded", 1, FIRST), ("fitted", 2, LAST))
    again = [
        h.HeightRead(stage=stage, number=number, corner=corner, entered="", mm=inches * IN, how="repeat")
        for stage, number, heights in both
        for corner, inches in zip(CORNERS, heights, strict=True)
        for _ in range(3)
    ]
    before, after = worked().budget, worked(*again).budget
    assert before is not None
    assert after is not None
    of = {row.source: row.contribution_mm for row in before.rows}
    now = {row.source: row.contribution_mm for row in after.rows}
    assert now["placing"] == pytest.approx(of["placing"] / 2, rel=1e-9)
    assert now["graduation"] == pytest.approx(of["graduation"], rel=1e-9)
    assert sum(row.share for row in after.rows) == pytest.approx(1.0, rel=1e-12)


def test_the_shares_of_a_very_sure_tape() -> None:
    """With a tape a hundred times as sure the shares are the worked case's, and the u is a hundredth of its own."""
    budget = known(worked(stated("tape.graduation", IN / 1600), stated("tape.place", IN / 3200)).budget)
    assert budget.u_shift_mm == pytest.approx(0.128645 * IN / 100, rel=1e-5)
    assert [row.share for row in budget.rows][:2] == pytest.approx([0.75, 0.25], abs=1e-9)


def dial(stage: StageName, position: str) -> h.LevellerSet:
    return h.LevellerSet(stage=stage, position=position)


# Common practice, no source: a manual wheel turned between two stages moves the beam by itself.
@pytest.mark.parametrize(
    ("dials", "holds"),
    [
        ((dial("unloaded", "0"), dial("loaded", "0")), "yes"),
        ((dial("unloaded", "0"), dial("loaded", "2")), "no"),
        ((dial("unloaded", "0"),), "unknown"),
        ((dial("loaded", "0"),), "unknown"),
        ((), "unknown"),
    ],
)
def test_a_dial_as_before(dials: tuple[h.LevellerSet, ...], holds: str) -> None:
    """With manual levelling the prediction holds where the dial was noted at both stages and stood alike."""
    stage = known(worked(*dials, sheet=MANUAL).stage(("loaded", 1)))
    assert known(stage.lamp).prediction_holds is {"yes": True, "no": False, "unknown": None}[holds]


# By hand: at 25 psi the cut-off meets the road at 2561.3 ft; within 2u of its aim, −0.053943° with u 0.024569°, it may
# fall to −0.103081°, and meet it at (28.5 + 0.437237)/tan 0.103081°.
def test_the_nearest_place_where_the_beam_meets_the_road() -> None:
    """As sure as the aim is, the cut-off meets the road no nearer than where it is lower by twice its u."""
    stage = known(worked().stage(("fitted", 2)))
    assert known(stage.lamp).nearest_reach_m == pytest.approx(
        (28.5 + 0.437237) / math.tan(math.radians(0.053943 + 2 * 0.024569)) * IN / 1000, rel=2e-5
    )


def test_marks_are_compared_with_the_unloaded_one_only() -> None:
    """The unloaded stage's own mark moved nowhere, and a mark without an unloaded one is compared with nothing."""
    stages = worked(mark("unloaded"), mark("loaded")).stages
    assert [s.lamp.measured_wall_mm if s.lamp else "" for s in stages] == [None, 0.0, None, None]
    alone = worked(mark("loaded")).stages[1]
    assert alone.lamp is not None
    assert (alone.lamp.measured_wall_mm, alone.lamp.u_measured_wall_mm) == (None, None)


@pytest.mark.parametrize(("unit", "graduation_mm"), [("inch", IN / 16), ("mm", 1.0)])
def test_what_is_taken_for_a_tape_that_nobody_described(unit: str, graduation_mm: float) -> None:
    """An inch job is taken to be read to 1/16 in, a metric one to 1 mm; both say that this is assumed."""
    reading = job_of(f'unit = "{unit}"\n').assessment.reading
    assert reading.graduation_mm == pytest.approx(graduation_mm, rel=1e-12)
    assert reading.u_place_mm == pytest.approx(IN / 32, rel=1e-12)
    assert reading.u_read_mm == pytest.approx(math.hypot(graduation_mm / 12**0.5, IN / 32), rel=1e-12)
    assert set(reading.assumed) == {"graduation", "place"}
    assert worked().reading.assumed == ()


def test_both_gauges_of_a_stage_are_kept() -> None:
    """A stage keeps the pressure of each line as it was read."""
    begun = h.StageBegun(stage="fitted", number=3, left_entered="", left_kPa=120.0, right_entered="", right_kPa=90.0)
    stage = known(worked(begun).stage(("fitted", 3)))
    assert (stage.left_kPa, stage.right_kPa, stage.pressure_kPa) == (120.0, 90.0, None)


def test_without_an_unloaded_stage_there_are_heights_and_no_changes() -> None:
    """With nothing to compare with, a stage has its heights, rake and sides; nothing moved, tilted or shone."""
    start, end = WORKED_CASE.index('[[stage]]\nname = "unloaded"'), WORKED_CASE.index('[[stage]]\nname = "loaded"')
    stage = worked(sheet=WORKED_CASE[:start] + WORKED_CASE[end:]).stages[0]
    assert stage.rear_height_mm == pytest.approx((27.625 + 27.75) / 2 * IN, rel=1e-12)
    assert set(stage.delta_mm.values()) == {None}
    assert (stage.front_mm, stage.nose_up_deg, stage.warp_mm, stage.ball_mm, stage.lamp) == (None,) * 5


def test_a_corner_not_read_unloaded_has_not_moved_at_all() -> None:
    """The unloaded stage has moved by exactly nought where it was read, and by nothing known where it was not."""
    first = worked(sheet=WORKED_CASE.replace('LF = "28 5/8"\n', "")).stages[0]
    wanted: dict[Corner, float | None] = {"LF": None, "RF": 0.0, "RR": 0.0, "LR": 0.0}
    assert (first.delta_mm, first.u_delta_mm) == (wanted, wanted)


def test_four_corners_off_the_plane_fail_where_a_reading_looks_misread() -> None:
    """A reading two inches out is told at its stage, and there the four corners fail to lie on a plane."""
    wrong = h.HeightRead(stage="loaded", corner="LF", entered="30 7/8", mm=30.875 * IN, how="instead")
    sound, told = worked(), worked(wrong)
    assert [stage.key for stage in told.stages if stage.misread is not None] == [("loaded", 1)]
    assert [stage.misread for stage in sound.stages] == [None] * 4
    named = "corners-on-a-plane loaded 1"
    verdicts = [next(c.verdict for c in a.verdicts if key_of(c) == named) for a in (sound, told)]
    assert verdicts == ["pass", "fail"]
