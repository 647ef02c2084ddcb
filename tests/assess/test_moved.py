"""What moved from one stage to another: counted from the heights of the two, so that the unloaded ones drop out."""

from __future__ import annotations

import math

import pytest

from cornerwalk.assess.assessment import Assessment, StageResult
from cornerwalk.assess.moved import moved, to_compare_with
from cornerwalk.session.corners import CLOCKWISE
from cornerwalk.session.happenings import HeightRead, StageBegun
from cornerwalk.session.stages import StageName
from tests.support.jobs import WORKED_CASE, InventedJob, job_of, worked_case

IN = 25.4
WORKED = worked_case().session
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
        for corner, height in zip(CLOCKWISE, inches, strict=True)
    ]
    return job_of(WORKED_CASE, begun, *heights)


def stage(assessment: Assessment, name: StageName, number: int = 1) -> StageResult:
    found = assessment.stage((name, number))
    assert found is not None
    return found


def test_what_moved_on_the_road_is_counted_from_the_trial() -> None:
    """By hand: rear 28.6875 and 28.8125 before, 28.5625 and 28.75 after: down 3/32 in; front down 1/32 in."""
    job = with_stage("road-test", (28.8125, 28.9375, 28.5625, 28.75), 25)
    told = moved(stage(job.assessment, "fitted", 2), stage(job.assessment, "road-test"), WORKED.vehicle.wheelbase_mm)
    assert told.rear_mm == pytest.approx(-3 / 32 * IN)
    assert told.front_mm == pytest.approx(-1 / 32 * IN)
    assert told.nose_up_deg == pytest.approx(math.degrees(math.atan((-1 / 32 + 3 / 32) / 119)))
    assert told.pressure_kPa == pytest.approx(0.0, abs=1e-9)


def test_its_uncertainty_is_that_of_two_stages_and_not_of_three() -> None:
    """Mean of two corners at each of two stages: u = √2·u_read/√2 = u_read; the unloaded stage adds nothing."""
    job = with_stage("road-test", (28.875, 28.9375, 28.6875, 28.8125), 25)
    told = moved(stage(job.assessment, "fitted", 2), stage(job.assessment, "road-test"), WORKED.vehicle.wheelbase_mm)
    assert told.u_rear_mm == pytest.approx(U_READ_IN * IN)
    assert told.u_front_mm == pytest.approx(U_READ_IN * IN)


@pytest.mark.parametrize(
    ("down_in", "surely"), [(0.0, False), (2 * U_READ_IN * 0.99, False), (2 * U_READ_IN * 1.01, True)]
)
def test_a_movement_counts_once_it_is_larger_than_its_U(down_in: float, *, surely: bool) -> None:
    """What the tape cannot tell from nothing is not called a movement."""
    job = with_stage("road-test", (28.875, 28.9375, 28.6875 - down_in, 28.8125 - down_in), 25)
    told = moved(stage(job.assessment, "fitted", 2), stage(job.assessment, "road-test"), None)
    assert told.surely is surely
    assert told.nose_up_deg is None


def test_the_trial_of_the_same_pressure_is_compared_with() -> None:
    """Air alone moves the body, so 15 psi is held against 15 psi though 25 was tried last."""
    job = with_stage("road-test", (28.875, 28.9375, 28.25, 28.375), 15)
    found = to_compare_with(job.assessment, ("road-test", 1))
    assert found is not None
    assert found.key == ("fitted", 1)


def test_without_one_of_the_same_pressure_the_last_one_is_and_the_difference_is_told() -> None:
    """A comparison across pressures is made, and says by how much they differ."""
    job = with_stage("follow-up", (28.875, 28.9375, 28.25, 28.375), 20)
    found = to_compare_with(job.assessment, ("follow-up", 1))
    assert found is not None
    assert found.key == ("fitted", 2)
    told = moved(found, stage(job.assessment, "follow-up"), None)
    assert told.pressure_kPa == pytest.approx(-5 * 6.894757293168361)


def test_an_unloaded_stage_is_compared_with_no_loaded_one() -> None:
    """Nothing stood alike before the first trial; a stage that does not exist compares with nothing."""
    assert to_compare_with(worked_case().assessment, ("fitted", 1)) is None
    assert to_compare_with(worked_case().assessment, ("road-test", 1)) is None


def test_a_missing_reading_makes_its_axle_unknown_and_nothing_else() -> None:
    """Three corners still tell how the front moved."""
    begun = StageBegun(stage="road-test")
    read = [
        HeightRead(stage="road-test", corner=corner, entered=f"{height} in", mm=height * IN)
        for corner, height in zip(CLOCKWISE[:3], (28.875, 28.9375, 28.6875), strict=True)
    ]
    job = job_of(WORKED_CASE, begun, *read)
    told = moved(stage(job.assessment, "fitted", 2), stage(job.assessment, "road-test"), 3000.0)
    assert (told.rear_mm, told.nose_up_deg, told.pressure_kPa) == (None, None, None)
    assert told.front_mm == pytest.approx(0.0)
