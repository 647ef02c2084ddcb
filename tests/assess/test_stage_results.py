"""Stages and lamps of a whole job: figures with every u by automatic propagation; rule, aim, dial, beam and budget."""

from __future__ import annotations

import math
import re
from typing import Any

import pytest
from uncertainties import UFloat, ufloat, umath

from cornerwalk.assess.assessment import Assessment, StageResult
from cornerwalk.session import events as h
from cornerwalk.session.stages import CORNERS, Corner, StageName
from tests.support.jobs import HALF_DONE, WORKED_CASE, job_of, standards
from tests.support.known import known
from tests.support.units import IN, PSI

# The readings of the worked case (invented vehicle), inches, LF RF RR LR; the loaded LF is read twice here.
UNLOADED = (28.625, 28.6875, 29.1875, 29.25)
LOADED = ((28.875 + 28.9375) / 2, 28.9375, 27.625, 27.75)
MARKS_MM = {"unloaded": -60.0, "loaded": 75.0}


def reading(inches: float, times: int = 1) -> UFloat:
    """A reading and its u: 1/16 in marks are a rectangle; 1/32 in of placing is averaged, the marks are not."""
    return ufloat(inches * IN, IN * math.sqrt((1 / 16) ** 2 / 12 + (1 / 32) ** 2 / times))


def mark(above_mm: float) -> UFloat:
    """A wall mark is read with the same tape: its u is that of one reading."""
    return ufloat(above_mm, reading(0.0).std_dev)


def result(*more: h.Event) -> StageResult:
    again = h.HeightRead(stage="loaded", corner="LF", entered="28 15/16", mm=28.9375 * IN, how="repeat")
    return known(job_of(WORKED_CASE, again, *more).assessment.stage(("loaded", 1)))


THEN: dict[Corner, UFloat] = {c: reading(x) for c, x in zip(CORNERS, UNLOADED, strict=True)}
NOW: dict[Corner, UFloat] = {c: reading(x, 2 if c == "LF" else 1) for c, x in zip(CORNERS, LOADED, strict=True)}
MOVED: dict[Corner, Any] = {c: NOW[c] - THEN[c] for c in CORNERS}


def same(value: float | None, u: float | None, oracle: Any) -> None:
    assert value == pytest.approx(oracle.nominal_value, rel=1e-9, abs=1e-9)
    assert u == pytest.approx(oracle.std_dev, rel=1e-9)


def test_corners_and_stance() -> None:
    """Heights, their changes, each end, rake and sides carry the u that follows from each corner's own readings."""
    stage = result()
    for corner in CORNERS:
        same(stage.height_mm[corner], stage.u_height_mm[corner], NOW[corner])
        same(stage.delta_mm[corner], stage.u_delta_mm[corner], MOVED[corner])
    front, rear = (NOW["LF"] + NOW["RF"]) / 2, (NOW["LR"] + NOW["RR"]) / 2
    same(stage.rear_height_mm, stage.u_rear_height_mm, rear)
    same(stage.rake_mm, stage.u_rake_mm, front - rear)
    assert stage.front_height_mm == pytest.approx(front.nominal_value, rel=1e-12)
    sides = NOW["LF"] - NOW["RF"], NOW["LR"] - NOW["RR"]
    assert (stage.side_front_mm, stage.side_rear_mm) == pytest.approx([s.nominal_value for s in sides], abs=1e-9)
    assert stage.u_side_mm == pytest.approx(max(s.std_dev for s in sides), rel=1e-9)
    same(stage.front_mm, stage.u_front_mm, (MOVED["LF"] + MOVED["RF"]) / 2)
    same(stage.rear_mm, stage.u_rear_mm, (MOVED["LR"] + MOVED["RR"]) / 2)


def test_marks_on_the_wall() -> None:
    """The measured movement is that of two marks; the measured aim takes off what the lamp itself rose.

    Where no aim was stated, the unloaded mark gives it.
    """
    marks = [h.MarkRead(stage=s, entered=str(mm), above_mm=mm) for s, mm in MARKS_MM.items()]  # type: ignore[arg-type]
    stage = result(*marks)
    lamp = known(stage.lamp)
    before, now = mark(MARKS_MM["unloaded"]), mark(MARKS_MM["loaded"])
    same(lamp.measured_wall_mm, lamp.u_measured_wall_mm, now - before)
    front, rear = (MOVED["LF"] + MOVED["RF"]) / 2, (MOVED["LR"] + MOVED["RR"]) / 2
    screen_mm, start = 25 * 12 * IN, umath.atan(before / (25 * 12 * IN))
    tilt = umath.atan((front - rear) / (119 * IN))
    rise = front + (front - rear) * 31 / 119
    same(lamp.rise_mm, lamp.u_rise_mm, rise)
    same(lamp.aim_deg, lamp.u_aim_deg, umath.degrees(start + tilt))
    same(lamp.aim_percent, lamp.u_aim_percent, 100 * umath.tan(start + tilt))
    same(lamp.shift_mm, lamp.u_shift_mm, screen_mm * (umath.tan(start + tilt) - umath.tan(start)))
    same(lamp.measured_aim_deg, lamp.u_measured_aim_deg, umath.degrees(umath.atan((now - rise) / screen_mm)))
    same(lamp.measured_aim_percent, lamp.u_measured_aim_percent, 100 * (now - rise) / screen_mm)


# By hand: of u² = (1/16)²/12 + (1/32)² the marks make a quarter and the placing three; read twice, 1/4 + 3/8 is left.
def test_what_the_beams_uncertainty_is_made_of() -> None:
    """The worked case's u of the last shift, 0.128645 in, is a quarter marks and three quarters placing."""
    budget = known(job_of(WORKED_CASE).assessment.budget)
    assert budget.stage == ("fitted", 2)
    assert budget.u_shift_mm == pytest.approx(0.128645 * IN, rel=1e-5)
    assert [row.source for row in budget.rows][:2] == ["placing", "graduation"]
    # What was taken as exact, such as the wheelbase, adds nothing and is not listed.
    assert [row.share for row in budget.rows] == pytest.approx([0.75, 0.25], abs=1e-9)
    parts = [0.128645 * IN * math.sqrt(share) for share in (0.75, 0.25)]
    assert [row.contribution_mm for row in budget.rows] == pytest.approx(parts, rel=1e-5)
    assert budget.u_shift_read_twice_mm == pytest.approx(0.128645 * IN * math.sqrt(0.625), rel=1e-5)


FIRST = (28.625, 28.6875, 29.1875, 29.25)
LAST = (28.875, 28.9375, 28.6875, 28.8125)


def worked(*more: h.Event, sheet: str = WORKED_CASE) -> Assessment:
    return job_of(sheet, *more).assessment


def stated(name: str, value: str | float) -> h.FactStated:
    return h.FactStated(name=name, entered=str(value), value=value)


def wall_mark(stage: StageName) -> h.MarkRead:
    return h.MarkRead(stage=stage, entered="-60 mm", above_mm=-60.0)


@pytest.mark.parametrize(
    ("rule", "title", "load_state"),
    [
        pytest.param("us-vol", None, "driver alone", id="its title, and the loading that it asks for"),
        pytest.param("the shop's own", "the shop's own", "", id="nobody knows it: as it was written"),
        pytest.param("", None, "", id="none was chosen"),
    ],
)
def test_the_rule_chosen_is_named(rule: str, title: str | None, load_state: str) -> None:
    """Results name the rule by its id and title; of one that is not packaged no loading and no aim is known."""
    packaged = standards().aim_rules.get(rule)
    a = worked(sheet=WORKED_CASE.replace('rule = "us-vol"\n', f'rule = "{rule}"\n' if rule else ""))
    assert (a.rule, a.rule_title) == (rule or None, packaged.title if packaged else title)
    assert load_state in a.rule_load_state
    assert (a.rule_load_state, a.aim_assumed) == ((packaged.load_state, True) if packaged else ("", False))


# The method: the aim unloaded is as stated, else from the wall mark unloaded, else the rule's nominal. A rule
# without a nominal is here the UK's, which gives bands.
@pytest.mark.parametrize(
    ("facts", "assumed"),
    [
        ((), "yes"),
        ((stated("lamps.aim_percent", -0.7),), "no"),
        ((wall_mark("unloaded"),), "no"),
        ((wall_mark("loaded"),), "yes"),
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


def test_without_a_beam_there_is_nothing_per_millimetre_and_no_budget() -> None:
    """No wheelbase, no pitch; no stage beside the unloaded one, or not that one: neither beam nor budget is made up."""
    a = worked(sheet=re.sub(r"^wheelbase = .*\n", "", WORKED_CASE, flags=re.MULTILINE))
    assert (a.beam.shift_mm_per_rear_mm, a.beam.shift_mm_per_kPa, a.budget) == (None, None, None)
    assert worked(sheet=WORKED_CASE[:LOADED_AT]).budget is None
    assert worked(sheet=NEVER_UNLOADED).budget is None


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
    before, after = known(worked().budget), known(worked(*again).budget)
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


UNLOADED_AT, LOADED_AT = (WORKED_CASE.index(f'[[stage]]\nname = "{name}"') for name in ("unloaded", "loaded"))
NEVER_UNLOADED = WORKED_CASE[:UNLOADED_AT] + WORKED_CASE[LOADED_AT:]


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
    manual = stated("vehicle.levelling", "manual")
    stage = known(worked(manual, *dials).stage(("loaded", 1)))
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
    stages = worked(wall_mark("unloaded"), wall_mark("loaded")).stages
    assert [s.lamp.measured_wall_mm if s.lamp else "" for s in stages] == [None, 0.0, None, None]
    alone = known(worked(wall_mark("loaded")).stages[1].lamp)
    assert (alone.measured_wall_mm, alone.u_measured_wall_mm) == (None, None)


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
    stage = worked(sheet=NEVER_UNLOADED).stages[0]
    assert stage.rear_height_mm == pytest.approx((27.625 + 27.75) / 2 * IN, rel=1e-12)
    assert set(stage.delta_mm.values()) == {None}
    assert (stage.front_mm, stage.nose_up_deg, stage.warp_mm, stage.ball_mm, stage.lamp) == (None,) * 5


def test_a_corner_not_read_unloaded_has_not_moved_at_all() -> None:
    """The unloaded stage has moved by exactly nought where it was read, and by nothing known where it was not."""
    first = worked(sheet=WORKED_CASE.replace('LF = "28 5/8"\n', "")).stages[0]
    wanted: dict[Corner, float | None] = {"LF": None, "RF": 0.0, "RR": 0.0, "LR": 0.0}
    assert (first.delta_mm, first.u_delta_mm) == (wanted, wanted)
