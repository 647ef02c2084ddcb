"""Two jobs: nothing is shared, every reading counts, and honest repeats seldom seem to differ."""

from __future__ import annotations

import math
from dataclasses import replace
from random import Random
from typing import Any

import pytest
from uncertainties import ufloat, umath

from cornerwalk.assess import assess
from cornerwalk.assess.compare import AssessedJob, Comparison, Difference
from cornerwalk.assess.compare_jobs import common_stages, compare_jobs
from cornerwalk.session.model import CornerRecord, Reading, Session, Stage
from cornerwalk.session.stages import CORNERS
from tests.support.jobs import WORKED_CASE, half_done, job_of, separate_lines, standards, worked_case
from tests.support.units import IN


def job(sheet: str, name: str = "another") -> AssessedJob:
    made = job_of(sheet)
    return AssessedJob(replace(made.session, id=name), made.assessment)


def worked() -> AssessedJob:
    made = worked_case()
    return AssessedJob(made.session, made.assessment)


def compared(one: AssessedJob, other: AssessedJob) -> Comparison:
    return compare_jobs(one, other, standards())


def at(comparison: Comparison, stage: str, figure: str) -> Difference:
    (found,) = (
        each
        for pair in comparison.pairs
        if pair.one.name == stage
        for each in pair.differences
        if each.figure == figure
    )
    return found


LATER = WORKED_CASE.replace('RR = "27 5/8"', 'RR = "27 3/8"').replace('LR = "27 3/4"', 'LR = "27 7/16"')
"""The same vehicle, its rear lower when loaded: by 1/4 and 5/16 in."""


def test_a_pitch_of_two_jobs_against_automatic_propagation() -> None:
    """Sixteen independent readings through both pitches, with `uncertainties`."""
    u_read = math.hypot(IN / 16 / math.sqrt(12), IN / 32)

    def pitch(unloaded: list[float], loaded: list[float]) -> Any:
        was, now = ([ufloat(inches * IN, u_read) for inches in each] for each in (unloaded, loaded))
        lf, rf, rr, lr = (b - a for a, b in zip(was, now, strict=True))
        return umath.atan(((lf + rf) / 2 - (rr + lr) / 2) / (119 * IN)) * 180 / math.pi

    unloaded = [28.625, 28.6875, 29.1875, 29.25]
    first = pitch(unloaded, [28.875, 28.9375, 27.625, 27.75])
    second = pitch(unloaded, [28.875, 28.9375, 27.375, 27.4375])
    expected = second - first
    found = at(compared(worked(), job(LATER)), "loaded", "nose up").difference
    assert found is not None
    assert found.value == pytest.approx(expected.nominal_value)
    assert found.u == pytest.approx(expected.std_dev)


# EU class II: 0.3 mm + 0.2 mm for each metre begun + 0.2 mm at the end = 0.7 mm for an arch lip; a rectangle.
def test_heights_carry_the_error_of_either_tape() -> None:
    """Two tapes may each be off by 0.7 mm: it joins a corner and, undivided, the mean of two corners."""
    comparison = compared(worked(), job(LATER))
    tape = 0.7 / math.sqrt(3)
    u_read = math.hypot(IN / 16 / math.sqrt(12), IN / 32)
    corner = at(comparison, "loaded", "height RR").difference
    axle = at(comparison, "loaded", "rear height").difference
    assert corner is not None
    assert axle is not None
    assert [corner.value, axle.value] == pytest.approx([-IN / 4, -IN * 9 / 32])
    assert corner.u == pytest.approx(math.sqrt(2 * (u_read**2 + tape**2)))
    assert axle.u == pytest.approx(math.sqrt(2 * (u_read**2 / 2 + tape**2)))


def test_changes_do_not_carry_the_tape() -> None:
    """A tape that is off is off at both ends of a change."""
    change = at(compared(worked(), job(LATER)), "loaded", "rear change").difference
    assert change is not None
    assert change.u == pytest.approx(math.sqrt(2) * math.hypot(IN / 16 / math.sqrt(12), IN / 32))


def test_figures_of_the_whole_are_compared() -> None:
    """Slope, pressure, ride rate and leak rate of both jobs, with u² = u₁² + u₂²."""
    faster = WORKED_CASE.replace('after = "27 psi"', 'after = "25 psi"')
    one, other = worked(), job(faster)
    found = {each.figure: each for each in compared(one, other).whole}
    assert list(found) == ["ride rate", "slope", "pressure", "leak rate"]
    leak = found["leak rate"].difference
    assert leak is not None
    assert leak.value == pytest.approx(2 * 6.894757293168361 / 14)
    assert leak.u == pytest.approx(math.sqrt(2) * (one.assessment.leak[0].u_rate_kPa_per_h or 0))
    assert found["slope"].difference is not None
    assert found["slope"].difference.value == 0


# ---- which stages stand beside each other ----


def test_trials_are_paired_by_pressure() -> None:
    """15 and 25 psi here, 25 and 10 there: the 25s meet, the others are left out."""
    sheet = WORKED_CASE.replace('pressure = "15 psi"', 'pressure = "25.2 psi"').replace('"25 psi"', '"10 psi"')
    assert common_stages(worked(), job(sheet)) == (
        (("unloaded", 1), ("unloaded", 1)),
        (("loaded", 1), ("loaded", 1)),
        (("fitted", 2), ("fitted", 1)),
    )


def test_without_a_common_pressure_the_last_trials_meet() -> None:
    """With a word of caution, as with two lines against one."""
    sheet = WORKED_CASE.replace('pressure = "15 psi"', 'pressure = "11 psi"').replace('"25 psi"', '"20 psi"')
    for other in (job(sheet), AssessedJob(replace(separate_lines().session, id="b"), separate_lines().assessment)):
        assert common_stages(worked(), other)[-1] == (("fitted", 2), ("fitted", 2))
        assert "other pressure" in compared(worked(), other).cautions


def test_named_stages_are_compared_as_named() -> None:
    """Any stage of the one beside any of the other."""
    found = compare_jobs(worked(), job(LATER), standards(), [(("fitted", 1), ("loaded", 1))])
    assert [(pair.one.key, pair.other.key) for pair in found.pairs] == [(("fitted", 1), ("loaded", 1))]
    with pytest.raises(KeyError):
        compare_jobs(worked(), job(LATER), standards(), [(("fitted", 3), ("loaded", 1))])
    with pytest.raises(ValueError, match="itself"):
        compared(worked(), worked())


# ---- what to know ----


def test_the_same_job_on_another_day_needs_one_word() -> None:
    """Vehicle, loads, kit, pressures and wall as before: what is left is the day."""
    assert compared(worked(), job(LATER)).cautions == ("other day",)


@pytest.mark.parametrize(
    ("was", "now", "caution"),
    [
        ('registration = "INV 123"', 'registration = "INV 124"', "other vehicle"),
        ('weight = "410 lb"', 'weight = "430 lb"', "other loads"),
        ('behind_rear_axle = "46 in"', 'behind_rear_axle = "40 in"', "other loads"),
        ('name = "invented kit"', 'name = "invented kit B"', "other kit"),
        ('screen = "25 ft"', 'screen = "20 ft"', "other wall"),
        ('levelling = "none"', 'levelling = "manual"', "levelling"),
        ('place = "1/32 in"', "", "place assumed"),
    ],
)
def test_what_else_differs_is_said(was: str, now: str, caution: str) -> None:
    """One thing changed in the sheet, one word of caution more."""
    assert compared(worked(), job(WORKED_CASE.replace(was, now))).cautions == ("other day", caution)


def test_heights_from_other_points_are_not_compared() -> None:
    """From the ground there, from the wheel centre here: the figures are shown, a difference is not."""
    sheet = WORKED_CASE.replace("[tape]", 'datum = "wheel centre to arch lip"\n[tape]')
    comparison = compared(worked(), job(sheet))
    assert "other datum" in comparison.cautions
    for pair in comparison.pairs:
        assert pair.differences
        assert all(each.difference is None and each.means_something is None for each in pair.differences)


def test_beams_at_other_walls_are_not_compared() -> None:
    """25 ft and 20 ft: the same pitch moves the beam by other inches."""
    comparison = compared(worked(), job(WORKED_CASE.replace('screen = "25 ft"', 'screen = "20 ft"')))
    assert at(comparison, "loaded", "beam").difference is None
    assert at(comparison, "loaded", "nose up").difference is not None


def test_jobs_without_a_common_stage_have_no_pair() -> None:
    """Nothing in common is no error."""
    opened = job('[job]\ntitle = "Just opened"\n')
    begun = AssessedJob(half_done().session, half_done().assessment)
    assert compared(opened, begun).pairs == ()
    assert compared(begun, opened).found == ()


# ---- how often it is wrong ----


def read_again(session: Session, chance: Random, u_mm: float) -> Session:
    """The job as another reading of the same truth: every height off by a normal error."""

    def again(stage: Stage) -> Stage:
        corners = {}
        for corner in CORNERS:
            mm = chance.gauss(stage.corner(corner).mean_mm or 0.0, u_mm)
            corners[corner] = CornerRecord(readings=(Reading(entered="", mm=mm, seq=1, at=""),))
        return replace(stage, corners=corners)

    return replace(session, id=str(chance.random()), stages=tuple(again(stage) for stage in session.stages))


def test_honest_jobs_differ_as_much_as_their_u_says() -> None:
    """Four hundred pairs of readings of one truth: the squares of difference over u have the mean 1.

    They are chi-squared with one degree of freedom, variance 2, so the mean of 400 lies within five standard
    deviations of 1 when it lies within 0.354; a u off by √2 gives 2 or 0.5. Beyond 2u lie some 4.55 %, at most 10 %.
    """
    chance = Random(20260504)
    made = worked_case()
    u_mm = made.assessment.reading.u_read_mm
    figures = ("nose up", "left up", "rear change", "ball", "beam", "rake")
    ratios: dict[str, list[float]] = {name: [] for name in figures}
    pairs = 400
    for _ in range(pairs):
        one, other = (
            AssessedJob(again, assess(again, standards()))
            for again in (read_again(made.session, chance, u_mm) for _ in range(2))
        )
        comparison = compare_jobs(one, other, standards(), [(("loaded", 1), ("loaded", 1))])
        for name in figures:
            found = at(comparison, "loaded", name)
            assert found.difference is not None
            ratio = found.difference.value / found.difference.u
            assert found.means_something is (abs(ratio) > 2)
            ratios[name].append(ratio)
    for name, values in ratios.items():
        assert sum(ratio**2 for ratio in values) / pairs == pytest.approx(1, abs=5 * math.sqrt(2 / pairs)), name
        assert 0 < sum(abs(ratio) > 2 for ratio in values) < 0.1 * pairs, name
