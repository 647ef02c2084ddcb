"""What moved from one stage to another: counted from the heights of the two, so that the unloaded ones drop out."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from uncertainties import ufloat, umath

from cornerwalk.assess.assessment import Assessment, StageResult
from cornerwalk.assess.compare import body_movement, stage_to_compare
from cornerwalk.session.events import HeightRead, StageBegun
from cornerwalk.session.stages import CORNERS, StageName
from tests.support.jobs import SEPARATE_LINES, WORKED_CASE, InventedJob, job_of, worked_case
from tests.support.units import IN

WHEELBASE_MM = 119 * IN
"""Of the worked case."""
U_READ_IN = math.sqrt((1 / 16) ** 2 / 12 + (1 / 32) ** 2)
"""A 1/16 in tape and 1/32 in of placing: graduation²/12 + place² (rectangular distribution, JCGM 100 4.3.7)."""


def with_stage(stage: StageName, inches: tuple[float, float, float, float], psi: float | None) -> InventedJob:
    """The worked case with one more stage read at the end."""
    begun = StageBegun(
        stage=stage,
        pressure_entered=None if psi is None else f"{psi} psi",
        pressure_kPa=None if psi is None else psi * 6.894757293168361,
    )
    heights = [
        HeightRead(stage=stage, corner=corner, entered=f"{height} in", mm=height * IN)
        for corner, height in zip(CORNERS, inches, strict=True)
    ]
    return job_of(WORKED_CASE, begun, *heights)


def stage(assessment: Assessment, name: StageName, number: int = 1) -> StageResult:
    found = assessment.stage((name, number))
    assert found is not None
    return found


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
    found = stage_to_compare(job.assessment, ("road-test", 1))
    assert found is not None
    assert found.key == ("fitted", 1)


def test_without_one_of_the_same_pressure_the_last_one_is_and_the_difference_is_told() -> None:
    """A comparison across pressures is made, and says by how much they differ."""
    job = with_stage("follow-up", (28.875, 28.9375, 28.25, 28.375), 20)
    found = stage_to_compare(job.assessment, ("follow-up", 1))
    assert found is not None
    assert found.key == ("fitted", 2)
    told = body_movement(found, stage(job.assessment, "follow-up"), None)
    assert told.pressure_kPa == pytest.approx(-5 * 6.894757293168361)


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
    assert body_movement(full, empty, None).pressure_kPa == pytest.approx(-15 * 6.894757293168361)
    assert body_movement(empty, full, None).pressure_kPa == pytest.approx(15 * 6.894757293168361)
    assert body_movement(empty, empty, None).pressure_kPa == 0.0


def test_a_height_without_a_u_moves_nothing() -> None:
    """How far a corner moved is told with its u or not at all."""
    job = job_of(WORKED_CASE)
    end = stage(job.assessment, "fitted", 2)
    unsure = replace(end, u_height_mm={**end.u_height_mm, "RR": None})
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
    found = stage_to_compare(separate_lines_with(pressures), ("road-test", 1))
    assert found is not None
    assert found.key == ("fitted", trial)


def test_a_trial_without_a_stated_pressure_is_like_no_other() -> None:
    """A pressure known at one of the two only does not make them alike, nor does its lack in both."""
    unknown = '[[stage]]\nname = "fitted"\nRR = "28 1/4"\nLR = "28 3/8"\n'
    after = '[[stage]]\nname = "road-test"\n{}RR = "28 1/4"\nLR = "28 3/8"\n'
    for pressure, trial in (('pressure = "15 psi"\n', 1), ("", 3), ('pressure = "20 psi"\n', 3)):
        sheet = WORKED_CASE.replace("[leak]", unknown + after.format(pressure) + "[leak]")
        found = stage_to_compare(job_of(sheet).assessment, ("road-test", 1))
        assert found is not None
        assert found.key == ("fitted", trial), pressure


def test_a_thousandth_of_a_pressure_apart_is_another_pressure() -> None:
    """Only what conversion of units rounds is the same pressure: 15.001 psi was another setting than 15."""
    for psi, trial in ((15.001, 2), (15.000001, 1), (15.0, 1)):
        job = with_stage("road-test", (28.875, 28.9375, 28.25, 28.375), psi)
        found = stage_to_compare(job.assessment, ("road-test", 1))
        assert found is not None
        assert found.key == ("fitted", trial), psi
