"""Two stages of one job: differences whose shared readings drop out, held against automatic propagation."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest
from uncertainties import ufloat, umath

from cornerwalk.assess.assessment import Assessment, StageResult
from cornerwalk.assess.compare import AssessedJob, Difference, body_movement, compare_stages, stage_to_compare
from cornerwalk.session.events import HeightRead, MarkRead, StageBegun
from cornerwalk.session.stages import CORNERS, StageName
from tests.support.jobs import SEPARATE_LINES, WORKED_CASE, InventedJob, half_done, job_of, separate_lines, worked_case
from tests.support.known import known
from tests.support.units import IN, PSI

L, T, A, D, B = 119 * IN, 66 * IN, 31 * IN, 300 * IN, 46 * IN
U_READ_MM = math.hypot(IN / 16 / math.sqrt(12), IN / 32)
AIM_DEG = -0.4

"""The worked case's facts, in inches on its sheet; the aim is its rule's nominal."""

Corners = dict[str, Any]


def assessed(job: InventedJob) -> AssessedJob:
    return AssessedJob(job.session, job.assessment)


def by_figure(job: AssessedJob, one: Any, other: Any) -> dict[str, Difference]:
    (pair,) = compare_stages(job, one, other).pairs
    return {each.figure: each for each in pair.differences}


def readings(lf: float, rf: float, rr: float, lr: float) -> Corners:
    """Four independent readings, in mm, each with its own u."""
    values = {"LF": lf, "RF": rf, "RR": rr, "LR": lr}
    return {corner: ufloat(inches * IN, U_READ_MM) for corner, inches in values.items()}


def figures(unloaded: Corners, now: Corners) -> dict[str, Any]:
    """What a stage says, reckoned by propagating every reading through every formula."""
    moved = {corner: now[corner] - unloaded[corner] for corner in now}
    front, rear = (moved["LF"] + moved["RF"]) / 2, (moved["RR"] + moved["LR"]) / 2
    left, right = (moved["LF"] + moved["LR"]) / 2, (moved["RF"] + moved["RR"]) / 2
    pitch = umath.atan((front - rear) / L)
    aim = math.radians(AIM_DEG)
    shift = D * (umath.tan(aim + pitch) - math.tan(aim))
    return {
        "nose up": pitch * 180 / math.pi,
        "left up": umath.atan((left - right) / T) * 180 / math.pi,
        "ball": rear - (front - rear) * B / L,
        "beam": shift,
        "wall": shift + front + A * (front - rear) / L,
    }


UNLOADED = readings(28 + 5 / 8, 28 + 11 / 16, 29 + 3 / 16, 29 + 1 / 4)
LOADED = readings(28 + 7 / 8, 28 + 15 / 16, 27 + 5 / 8, 27 + 3 / 4)
FITTED = readings(28 + 7 / 8, 28 + 15 / 16, 28 + 11 / 16, 28 + 13 / 16)


@pytest.mark.parametrize("name", ["nose up", "left up", "ball", "beam", "wall"])
def test_shared_readings_drop_out(name: str) -> None:
    """Twelve readings propagated through both stages: the difference and its u are those of `uncertainties`.

    It knows which readings both stages share. A tilt from stage to stage and the difference of two tilts agree to
    third order, a few parts in ten thousand here.
    """
    expected = figures(UNLOADED, FITTED)[name] - figures(UNLOADED, LOADED)[name]
    found = known(by_figure(assessed(worked_case()), ("loaded", 1), ("fitted", 2))[name].difference)
    assert found.value == pytest.approx(expected.nominal_value, rel=3e-3, abs=1e-9)
    assert found.u == pytest.approx(expected.std_dev, rel=1e-3)


def test_the_difference_of_two_results_would_be_less_sure() -> None:
    """Taken for independent, the two pitches would have √2 times the u; that would hide real differences."""
    found = by_figure(assessed(worked_case()), ("loaded", 1), ("fitted", 2))["nose up"]
    assert math.hypot(known(found.one).u, known(found.other).u) == pytest.approx(
        math.sqrt(2) * known(found.difference).u, rel=1e-3
    )


# By hand: right rear 27 5/8 -> 28 11/16, left rear 27 3/4 -> 28 13/16, both up 1 1/16 in; the front did not move.
def test_heights_by_hand() -> None:
    """Each corner, each axle and front against rear, in exact sixteenths."""
    found = by_figure(assessed(worked_case()), ("loaded", 1), ("fitted", 2))
    sixteenths = {
        name: round(each.difference.value / IN * 16, 6) for name, each in found.items() if each.difference is not None
    }
    assert {name: sixteenths[name] for name in ("height LF", "height RF", "height RR", "height LR")} == {
        "height LF": 0,
        "height RF": 0,
        "height RR": 17,
        "height LR": 17,
    }
    assert (sixteenths["front height"], sixteenths["rear height"], sixteenths["rake"]) == (0, 17, -17)
    assert {name: each.means_something for name, each in found.items()} == {
        name: name not in ("height LF", "height RF", "front height", "left up") for name in found
    }


def test_what_lies_within_its_U_means_nothing() -> None:
    """At U exactly nothing is claimed; one step of the tape further something is."""
    (difference,) = (
        each
        for each in by_figure(assessed(worked_case()), ("loaded", 1), ("fitted", 1)).values()
        if each.figure == "height RR"
    )
    assert difference.difference is not None
    U = difference.difference.U
    assert pytest.approx(2 * math.sqrt(2) * U_READ_MM) == U
    at = replace(difference, difference=difference.difference.with_value(U))
    beyond = replace(difference, difference=difference.difference.with_value(-U * 1.0001))
    assert (at.means_something, beyond.means_something) == (False, True)


def test_back_is_the_same_way() -> None:
    """From B to A every height and tilt is that from A to B with the other sign and the same u."""
    job = assessed(worked_case())
    there = by_figure(job, ("loaded", 1), ("fitted", 2))
    back = by_figure(job, ("fitted", 2), ("loaded", 1))
    assert set(there) == set(back)
    for name, each in there.items():
        other = known(back[name].difference)
        assert each.difference is not None
        assert other.value == pytest.approx(-each.difference.value, abs=1e-9, rel=1e-2 if name == "beam" else 1e-3)
        assert other.u == pytest.approx(each.difference.u, rel=1e-3)


def test_from_unloaded_it_is_what_the_stage_says() -> None:
    """Beside the unloaded stage a stage differs by its own results, value and u."""
    job = assessed(worked_case())
    found = by_figure(job, ("unloaded", 1), ("loaded", 1))
    result = job.stage(("loaded", 1))
    assert result.lamp is not None
    for name, value, u in (
        ("nose up", result.nose_up_deg, result.u_nose_up_deg),
        ("ball", result.ball_mm, result.u_ball_mm),
        ("beam", result.lamp.shift_mm, result.lamp.u_shift_mm),
        ("wall", result.lamp.wall_mm, result.lamp.u_wall_mm),
    ):
        difference = known(found[name].difference)
        assert difference.value == pytest.approx(value)
        assert difference.u == pytest.approx(u, rel=1e-6)


def test_without_an_unloaded_stage_two_stages_still_compare() -> None:
    """Nothing can be counted from unloaded, and yet the body is seen to pitch from one stage to the other."""
    sheet = WORKED_CASE.replace('name = "unloaded"', 'name = "follow-up"')
    job = assessed(job_of(sheet))
    assert job.stage(("loaded", 1)).nose_up_deg is None
    found = by_figure(job, ("loaded", 1), ("fitted", 2))["nose up"]
    assert found.one is None
    assert known(found.difference).value == pytest.approx(-math.degrees(math.atan(1.0625 / 119)))


def test_marks_on_the_wall_are_compared_as_read() -> None:
    """4 in above and 1 in above: down 3 in, with both readings' u."""
    marks = [
        MarkRead(stage="loaded", entered="4 in above", above_mm=4 * IN),
        MarkRead(stage="fitted", number=2, entered="1 in above", above_mm=IN),
    ]
    found = by_figure(assessed(job_of(WORKED_CASE, *marks)), ("loaded", 1), ("fitted", 2))["mark"]
    assert found.difference is not None
    assert (known(found.one).value, known(found.other).value) == (4 * IN, IN)
    assert found.difference.value == pytest.approx(-3 * IN)
    assert found.difference.u == pytest.approx(math.sqrt(2) * U_READ_MM)


def test_a_mark_read_at_one_stage_only_is_not_compared() -> None:
    """Without a mark to count from there is no movement of it."""
    for mark in (
        MarkRead(stage="loaded", entered="4 in above", above_mm=4 * IN),
        MarkRead(stage="fitted", number=2, entered="4 in above", above_mm=4 * IN),
    ):
        assert "mark" not in by_figure(assessed(job_of(WORKED_CASE, mark)), ("loaded", 1), ("fitted", 2))


# By hand: means of 28 7/8 and 28 15/16, of 27 5/8 and 27 3/4, of 28 11/16 and 28 13/16.
def test_each_axle_is_shown_as_it_stood_at_both_stages() -> None:
    """Which stages, how high each axle stood at either with the u of a mean of two, and for which wall it is told."""
    comparison = compare_stages(assessed(job_of(WORKED_CASE)), ("loaded", 1), ("fitted", 2))
    (pair,) = comparison.pairs
    assert (pair.one.key, pair.other.key) == (("loaded", 1), ("fitted", 2))
    assert comparison.screen_mm == pytest.approx(D)
    told = {each.figure: (each.one, each.other) for each in pair.differences}
    by_hand_in = (28.90625, 28.90625, 27.6875, 28.75)
    for estimate, inches in zip((*told["front height"], *told["rear height"]), by_hand_in, strict=True):
        assert estimate is not None
        assert estimate.value == pytest.approx(inches * IN)
        assert estimate.u == pytest.approx(U_READ_MM / math.sqrt(2))


def test_without_a_wheelbase_heights_and_lean_still_compare() -> None:
    """Pitch, ball and beam need it and are left out; the corners, the axles and the lean do not."""
    sheet = WORKED_CASE.replace('wheelbase = "119 in"\n', "")
    found = by_figure(assessed(job_of(sheet)), ("loaded", 1), ("fitted", 2))
    assert not {"nose up", "ball", "beam", "wall"} & set(found)
    assert {"height RR", "rear height", "rake", "left up"} <= set(found)


def test_levelling_and_an_assumed_placing_are_said() -> None:
    """The worked case has fixed lamps and a stated placing; the metric one states neither."""
    assert compare_stages(assessed(worked_case()), ("loaded", 1), ("fitted", 1)).cautions == ()
    bare = WORKED_CASE.replace('place = "1/32 in"', "").replace('levelling = "none"', 'levelling = "automatic"')
    found = compare_stages(assessed(job_of(bare)), ("loaded", 1), ("fitted", 1))
    assert set(found.cautions) == {"levelling", "place assumed"}
    assert "place assumed" in compare_stages(assessed(separate_lines()), ("loaded", 1), ("fitted", 1)).cautions


def test_a_stage_half_read_compares_as_far_as_it_goes() -> None:
    """Corners that were not read have no difference, and what needs them is left out."""
    job = half_done()
    begun = job_of(
        'unit = "inch"\n[[stage]]\nname = "unloaded"\nLF = "30 1/2"\nRF = "30 9/16"\n'
        '[[stage]]\nname = "loaded"\nLF = "30"\n'
    )
    assert set(by_figure(assessed(begun), ("unloaded", 1), ("loaded", 1))) == {"height LF"}
    with pytest.raises(KeyError, match="loaded"):
        compare_stages(assessed(job), ("unloaded", 1), ("loaded", 1))
    with pytest.raises(ValueError, match="itself"):
        compare_stages(assessed(job), ("unloaded", 1), ("unloaded", 1))


WHEELBASE_MM = 119 * IN

"""Of the worked case."""

U_READ_IN = math.sqrt((1 / 16) ** 2 / 12 + (1 / 32) ** 2)

"""A 1/16 in tape and 1/32 in of placing: graduation²/12 + place² (rectangular distribution, JCGM 100 4.3.7)."""


def with_stage(stage: StageName, inches: tuple[float, float, float, float], psi: float | None) -> InventedJob:
    """The worked case with one more stage read at the end."""
    begun = StageBegun(
        stage=stage,
        pressure_entered=None if psi is None else f"{psi} psi",
        pressure_kPa=None if psi is None else psi * PSI,
    )
    heights = [
        HeightRead(stage=stage, corner=corner, entered=f"{height} in", mm=height * IN)
        for corner, height in zip(CORNERS, inches, strict=True)
    ]
    return job_of(WORKED_CASE, begun, *heights)


def stage(assessment: Assessment, name: StageName, number: int = 1) -> StageResult:
    return known(assessment.stage((name, number)))


def test_what_moved_on_the_road_is_counted_from_the_trial() -> None:
    """By hand: rear 28.6875 and 28.8125 before, 28.5625 and 28.75 after: down 3/32 in; front down 1/32 in."""
    job = with_stage("road-test", (28.8125, 28.9375, 28.5625, 28.75), 25)
    told = body_movement(stage(job.assessment, "fitted", 2), stage(job.assessment, "road-test"), WHEELBASE_MM)
    assert told.rear_mm == pytest.approx(-3 / 32 * IN)
    assert told.front_mm == pytest.approx(-1 / 32 * IN)
    assert told.nose_up_deg == pytest.approx(math.degrees(math.atan((-1 / 32 + 3 / 32) / 119)))
    assert told.pressure_kPa == pytest.approx(0.0, abs=1e-9)


def test_its_uncertainty_is_that_of_two_stages_and_not_of_three() -> None:
    """Mean of two corners at each of two stages: u = √2·u_read/√2 = u_read; the unloaded stage adds nothing."""
    job = with_stage("road-test", (28.875, 28.9375, 28.6875, 28.8125), 25)
    told = body_movement(stage(job.assessment, "fitted", 2), stage(job.assessment, "road-test"), WHEELBASE_MM)
    assert told.u_rear_mm == pytest.approx(U_READ_IN * IN)
    assert told.u_front_mm == pytest.approx(U_READ_IN * IN)


@pytest.mark.parametrize(
    ("down_in", "surely"), [(0.0, False), (2 * U_READ_IN * 0.99, False), (2 * U_READ_IN * 1.01, True)]
)
def test_a_movement_counts_once_it_is_larger_than_its_U(down_in: float, *, surely: bool) -> None:
    """What the tape cannot tell from nothing is not called a movement."""
    job = with_stage("road-test", (28.875, 28.9375, 28.6875 - down_in, 28.8125 - down_in), 25)
    told = body_movement(stage(job.assessment, "fitted", 2), stage(job.assessment, "road-test"), None)
    assert told.surely is surely
    assert told.nose_up_deg is None


def test_the_trial_of_the_same_pressure_is_compared_with() -> None:
    """Air alone moves the body, so 15 psi is held against 15 psi though 25 was tried last."""
    job = with_stage("road-test", (28.875, 28.9375, 28.25, 28.375), 15)
    found = known(stage_to_compare(job.assessment, ("road-test", 1)))
    assert found.key == ("fitted", 1)


def test_without_one_of_the_same_pressure_the_last_one_is_and_the_difference_is_told() -> None:
    """A comparison across pressures is made, and says by how much they differ."""
    job = with_stage("follow-up", (28.875, 28.9375, 28.25, 28.375), 20)
    found = known(stage_to_compare(job.assessment, ("follow-up", 1)))
    assert found.key == ("fitted", 2)
    told = body_movement(found, stage(job.assessment, "follow-up"), None)
    assert told.pressure_kPa == pytest.approx(-5 * PSI)


def test_an_unloaded_stage_is_compared_with_no_loaded_one() -> None:
    """Nothing stood alike before the first trial; a stage that does not exist compares with nothing."""
    assert stage_to_compare(worked_case().assessment, ("fitted", 1)) is None
    assert stage_to_compare(worked_case().assessment, ("road-test", 1)) is None


def test_a_missing_reading_makes_its_axle_unknown_and_nothing_else() -> None:
    """Three corners still tell how the front moved."""
    begun = StageBegun(stage="road-test")
    read = [
        HeightRead(stage="road-test", corner=corner, entered=f"{height} in", mm=height * IN)
        for corner, height in zip(CORNERS[:3], (28.875, 28.9375, 28.6875), strict=True)
    ]
    job = job_of(WORKED_CASE, begun, *read)
    told = body_movement(stage(job.assessment, "fitted", 2), stage(job.assessment, "road-test"), 3000.0)
    assert (told.rear_mm, told.nose_up_deg, told.pressure_kPa) == (None, None, None)
    assert told.front_mm == pytest.approx(0.0)


# Oracle: the `uncertainties` package through the eight readings of the two stages; the unloaded ones take no part.
def test_every_figure_against_automatic_propagation() -> None:
    """Corners, axles and pitch of a road test, each with its u, and which stages it is told of."""
    job = with_stage("road-test", (28.8125, 28.9375, 28.5625, 28.75), 25)
    told = body_movement(stage(job.assessment, "fitted", 2), stage(job.assessment, "road-test"), WHEELBASE_MM)
    was = [ufloat(inches, U_READ_IN) for inches in (28.875, 28.9375, 28.6875, 28.8125)]
    now = [ufloat(inches, U_READ_IN) for inches in (28.8125, 28.9375, 28.5625, 28.75)]
    lf, rf, rr, lr = ((after - before) * IN for before, after in zip(was, now, strict=True))
    front, rear = (lf + rf) / 2, (rr + lr) / 2
    nose = umath.atan((front - rear) / WHEELBASE_MM) * 180 / math.pi
    assert (told.start, told.end) == (("fitted", 2), ("road-test", 1))
    assert told.corner_mm == pytest.approx(
        {corner: each.nominal_value for corner, each in zip(CORNERS, (lf, rf, rr, lr), strict=True)}
    )
    assert (told.front_mm, told.u_front_mm) == pytest.approx((front.nominal_value, front.std_dev))
    assert (told.rear_mm, told.u_rear_mm) == pytest.approx((rear.nominal_value, rear.std_dev))
    assert (told.nose_up_deg, told.u_nose_up_deg) == pytest.approx((nose.nominal_value, nose.std_dev))


def test_air_let_out_altogether_is_a_change_of_pressure() -> None:
    """From 15 psi to none, and back: 0 is a pressure like another."""
    job = with_stage("road-test", (28.875, 28.9375, 27.625, 27.75), 0)
    full, empty = stage(job.assessment, "fitted", 1), stage(job.assessment, "road-test")
    assert body_movement(full, empty, None).pressure_kPa == pytest.approx(-15 * PSI)
    assert body_movement(empty, full, None).pressure_kPa == pytest.approx(15 * PSI)
    assert body_movement(empty, empty, None).pressure_kPa == 0.0


def test_a_height_without_a_u_moves_nothing() -> None:
    """How far a corner moved is told with its u or not at all."""
    job = job_of(WORKED_CASE)
    end = stage(job.assessment, "fitted", 2)
    unsure = replace(end, estimates=replace(end.estimates, axle={**end.estimates.axle, "RR": None}))
    told = body_movement(stage(job.assessment, "fitted", 1), unsure, None)
    assert (told.corner_mm["RR"], told.rear_mm) == (None, None)
    assert told.corner_mm["LR"] is not None


def separate_lines_with(pressures: str) -> Assessment:
    """The job with a line to each side, and a road test at these pressures after its trials."""
    more = f'[[stage]]\nname = "road-test"\n{pressures}RR = "703"\nLR = "699"\n'
    return job_of(SEPARATE_LINES.replace("[[weighing]]", more + "[[weighing]]", 1)).assessment


@pytest.mark.parametrize(
    ("pressures", "trial"),
    [
        pytest.param('pressure_left = "120 kPa"\npressure_right = "100 kPa"\n', 1, id="both as at the first trial"),
        pytest.param('pressure_left = "180 kPa"\npressure_right = "150 kPa"\n', 2, id="both as at the last trial"),
        pytest.param('pressure_left = "120 kPa"\npressure_right = "150 kPa"\n', 2, id="as at none: the last"),
        pytest.param("", 2, id="not stated: the last"),
    ],
)
def test_two_sides_stood_alike_at_the_same_two_pressures(pressures: str, trial: int) -> None:
    """With a line to each side a stage is held against the trial at which both had what they have now."""
    found = known(stage_to_compare(separate_lines_with(pressures), ("road-test", 1)))
    assert found.key == ("fitted", trial)


def test_a_trial_without_a_stated_pressure_is_like_no_other() -> None:
    """A pressure known at one of the two only does not make them alike, nor does its lack in both."""
    unknown = '[[stage]]\nname = "fitted"\nRR = "28 1/4"\nLR = "28 3/8"\n'
    after = '[[stage]]\nname = "road-test"\n{}RR = "28 1/4"\nLR = "28 3/8"\n'
    for pressure, trial in (('pressure = "15 psi"\n', 1), ("", 3), ('pressure = "20 psi"\n', 3)):
        sheet = WORKED_CASE.replace("[leak]", unknown + after.format(pressure) + "[leak]")
        found = known(stage_to_compare(job_of(sheet).assessment, ("road-test", 1)))
        assert found.key == ("fitted", trial), pressure


def test_a_thousandth_of_a_pressure_apart_is_another_pressure() -> None:
    """Only what conversion of units rounds is the same pressure: 15.001 psi was another setting than 15."""
    for psi, trial in ((15.001, 2), (15.000001, 1), (15.0, 1)):
        job = with_stage("road-test", (28.875, 28.9375, 28.25, 28.375), psi)
        found = known(stage_to_compare(job.assessment, ("road-test", 1)))
        assert found.key == ("fitted", trial), psi
