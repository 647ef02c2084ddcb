"""Two jobs: nothing is shared, every reading counts, which stages and loads count as the same, and every figure."""

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
from cornerwalk.session.model import CornerRecord, Reading, Session, Stage, StageKey
from cornerwalk.session.stages import CORNERS
from tests.support.jobs import SEPARATE_LINES, WORKED_CASE, half_done, job_of, separate_lines, standards, worked_case
from tests.support.known import known
from tests.support.units import IN, PSI


def job(sheet: str, name: str = "another") -> AssessedJob:
    made = job_of(sheet)
    return AssessedJob(replace(made.session, id=name), made.assessment)


def worked() -> AssessedJob:
    made = worked_case()
    return AssessedJob(made.session, made.assessment)


def compared(one: AssessedJob, other: AssessedJob) -> Comparison:
    return compare_jobs(one, other, standards())


def at(comparison: Comparison, stage: str, figure: str) -> Difference:
    return figures(comparison, stage)[figure]


def figures(comparison: Comparison, stage: str) -> dict[str, Difference]:
    """The figures of the first pair of that name."""
    pair = next(pair for pair in comparison.pairs if pair.one.name == stage)
    return {each.figure: each for each in pair.differences}


U_READ_MM = math.hypot(IN / 16 / math.sqrt(12), IN / 32)
LATER = WORKED_CASE.replace('RR = "27 5/8"', 'RR = "27 3/8"').replace('LR = "27 3/4"', 'LR = "27 7/16"')
"""The same vehicle, its rear lower when loaded: by 1/4 and 5/16 in."""


# EU class II: 0.3 mm + 0.2 mm for each metre begun + 0.2 mm at the end = 0.7 mm for an arch lip; a rectangle.
def test_heights_carry_the_error_of_either_tape() -> None:
    """Two tapes may each be off by 0.7 mm: it joins a corner and, undivided, the mean of two corners."""
    comparison = compared(worked(), job(LATER))
    tape, u_read = 0.7 / math.sqrt(3), U_READ_MM
    corner = known(at(comparison, "loaded", "height RR").difference)
    axle = known(at(comparison, "loaded", "rear height").difference)
    assert [corner.value, axle.value] == pytest.approx([-IN / 4, -IN * 9 / 32])
    assert corner.u == pytest.approx(math.sqrt(2 * (u_read**2 + tape**2)))
    assert axle.u == pytest.approx(math.sqrt(2 * (u_read**2 / 2 + tape**2)))


def test_changes_do_not_carry_the_tape() -> None:
    """A tape that is off is off at both ends of a change."""
    change = known(at(compared(worked(), job(LATER)), "loaded", "rear change").difference)
    assert change.u == pytest.approx(math.sqrt(2) * U_READ_MM)


def test_figures_of_the_whole_are_compared() -> None:
    """Slope, pressure, ride rate and leak rate of both jobs, with u² = u₁² + u₂²."""
    faster = WORKED_CASE.replace('after = "27 psi"', 'after = "25 psi"')
    one, other = worked(), job(faster)
    found = {each.figure: each for each in compared(one, other).whole}
    assert list(found) == ["ride rate", "slope", "pressure", "leak rate"]
    leak = known(found["leak rate"].difference)
    assert leak.value == pytest.approx(2 * PSI / 14)
    assert leak.u == pytest.approx(math.sqrt(2) * (one.assessment.leak[0].u_rate_kPa_per_h or 0))
    assert known(found["slope"].difference).value == 0


# ---- which stages stand beside each other ----


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


SCREEN_MM = 300 * IN


UNLOADED = (28.625, 28.6875, 29.1875, 29.25)
LOADED = (28.875, 28.9375, 27.625, 27.75)
LOADED_LATER = (28.875, 28.9375, 27.375, 27.4375)


def laid_beside(one: str, other: str) -> Comparison:
    return compared(job(one, "one"), job(other, "other"))


def stages(one: str, other: str) -> tuple[tuple[StageKey, StageKey], ...]:
    return common_stages(job(one, "one"), job(other, "other"))


def read(inches: tuple[float, ...]) -> list[Any]:
    """Independent readings, mm, each with its own u."""
    return [ufloat(each * IN, U_READ_MM) for each in inches]


def agree(told: Difference, first: Any, second: Any) -> None:
    """The figure in the one, in the other, and the other less the one, value and u."""
    for estimate, oracle in ((told.one, first), (told.other, second), (told.difference, second - first)):
        assert estimate is not None, told.figure
        assert estimate.value == pytest.approx(oracle.nominal_value, rel=1e-4), told.figure
        assert estimate.u == pytest.approx(oracle.std_dev, rel=1e-4), told.figure
    assert told.place == ""


# Oracle: the `uncertainties` package. Rake: front mean less rear mean of the heights. Beam: D·(tan(α₀ + θ) − tan α₀)
# with α₀ = −0.4°, the rule's nominal in both jobs.
def test_pitch_rake_and_beam_against_automatic_propagation() -> None:
    """Two jobs share no reading: sixteen of them go into a pitch and a beam, eight into a rake."""

    def oracle(loaded: tuple[float, ...]) -> tuple[Any, ...]:
        was, now = read(UNLOADED), read(loaded)
        lf, rf, rr, lr = (b - a for a, b in zip(was, now, strict=True))
        pitch, aim = umath.atan(((lf + rf) / 2 - (rr + lr) / 2) / (119 * IN)), math.radians(-0.4)
        rake = (now[0] + now[1]) / 2 - (now[2] + now[3]) / 2
        return pitch * 180 / math.pi, rake, SCREEN_MM * (umath.tan(aim + pitch) - math.tan(aim))

    found = figures(laid_beside(WORKED_CASE, LATER), "loaded")
    for name, first, second in zip(("nose up", "rake", "beam"), oracle(LOADED), oracle(LOADED_LATER), strict=True):
        agree(found[name], first, second)


# Oracle: the same. A mark m above the lamp's unloaded height at D: aim = atan((m − r)/D), r the lamp's own rise.
def test_aims_measured_on_the_wall_against_automatic_propagation() -> None:
    """Marks were read in both jobs, unloaded and loaded: their aims are compared, each with mark and rise in its u."""

    def marked(sheet: str, unloaded_in: int, loaded_in: int) -> str:
        for name, inches in (("unloaded", unloaded_in), ("loaded", loaded_in)):
            sheet = sheet.replace(f'name = "{name}"\n', f'name = "{name}"\nmark = "{inches} in"\n')
        return sheet

    def aim(mark_in: float, rise: Any) -> Any:
        return umath.atan((ufloat(mark_in * IN, U_READ_MM) - rise) / SCREEN_MM) * 180 / math.pi

    def rise(loaded: tuple[float, ...]) -> Any:
        lf, rf, rr, lr = (b - a for a, b in zip(read(UNLOADED), read(loaded), strict=True))
        front, rear = (lf + rf) / 2, (rr + lr) / 2
        return front + (front - rear) * 31 / 119

    comparison = laid_beside(marked(WORKED_CASE, -2, 3), marked(LATER, -3, 4))
    agree(figures(comparison, "unloaded")["measured aim"], aim(-2, 0), aim(-3, 0))
    agree(figures(comparison, "loaded")["measured aim"], aim(3, rise(LOADED)), aim(4, rise(LOADED_LATER)))


def test_a_figure_known_in_one_job_only_is_left_out() -> None:
    """Without the wheelbase there, no pitch and no beam to lay beside; heights and their changes stay."""
    found = figures(laid_beside(WORKED_CASE, LATER.replace('wheelbase = "119 in"\n', "")), "loaded")
    assert not {"nose up", "ball", "beam"} & set(found)
    assert {"height RR", "rake", "rear change", "left up"} <= set(found)


def test_beams_are_told_for_the_wall_of_the_first_job() -> None:
    """What is shown in millimetres on a wall says how far that wall is: 25 ft."""
    assert laid_beside(WORKED_CASE, LATER).screen_mm == pytest.approx(7620.0)


# By hand: the rear corners' own lines through 120/100 and 180/150 kPa, 699 to 708 and 703 to 711 mm.
def test_figures_of_the_whole_say_which_line_they_are_of() -> None:
    """A tee'd rear has one line, separate lines one a side, and each is laid beside its own."""
    tee = {(each.figure, each.place) for each in laid_beside(WORKED_CASE, LATER).whole}
    two = {(each.figure, each.place): each.one for each in laid_beside(SEPARATE_LINES, SEPARATE_LINES).whole}
    assert tee == {("ride rate", ""), ("slope", "rear"), ("pressure", "rear"), ("leak rate", "both")}
    assert set(two) == {(figure, side) for figure in ("slope", "pressure") for side in ("LR", "RR")} | {
        ("ride rate", "")
    }
    assert [known(two["slope", side]).value for side in ("LR", "RR")] == pytest.approx([9 / 60, 8 / 50])


# ---- which stages stand beside each other ----


def trials(sheet: str, *psi: float) -> str:
    """The worked case with trials at these pressures only."""
    start, end = sheet.index('[[stage]]\nname = "fitted"'), sheet.index("[leak]")
    each = '[[stage]]\nname = "fitted"\npressure = "{} psi"\nRR = "28 1/4"\nLR = "28 3/8"\n'
    return sheet[:start] + "".join(each.format(pressure) for pressure in psi) + sheet[end:]


@pytest.mark.parametrize(
    ("ours", "theirs", "met"),
    [
        ((10, 15, 20), (30,), [(3, 1)]),
        ((30,), (10, 15, 20), [(1, 3)]),
        ((10, 15, 20), (25, 30, 35), [(3, 3)]),
        ((10, 15, 20), (20, 10), [(1, 2), (3, 1)]),
        ((10, 10), (10,), [(1, 1)]),
        ((10,), (), []),
    ],
)
def test_trials_meet_at_a_pressure_or_else_the_last_ones(
    ours: tuple[float, ...], theirs: tuple[float, ...], met: list[tuple[int, int]]
) -> None:
    """Each trial meets one of its pressure once; where none does, one pair is made, of the last."""
    pairs = stages(trials(WORKED_CASE, *ours), trials(WORKED_CASE, *theirs))
    assert [(a[1], b[1]) for a, b in pairs if a[0] == "fitted"] == met


@pytest.mark.parametrize(
    ("was", "now", "met"),
    [
        ('pressure_right = "150 kPa"', 'pressure_right = "152 kPa"', [1, 2]),
        ('pressure_right = "150 kPa"', 'pressure_right = "152.1 kPa"', [1]),
        ('pressure_right = "150 kPa"\n', "", [1]),
        ('pressure_left = "180 kPa"\n', "", [1]),
    ],
)
def test_two_sides_meet_where_both_do(was: str, now: str, met: list[int]) -> None:
    """Within 2 kPa a side counts as the same, at 2 kPa too; a side whose pressure is not known is like none."""
    pairs = stages(SEPARATE_LINES, SEPARATE_LINES.replace(was, now))
    assert [a[1] for a, b in pairs if a[0] == "fitted" and a == b] == met


# ---- which loads are the same ----

CARGO = '[[load]]\nname = "tools over the rear axle"\nweight = "{} lb"\nbehind_rear_axle = "0 in"\n[[stage]]'

TONGUE = '[[load]]\nname = "trailer tongue"\nweight = "410 lb"\nbehind_rear_axle = "46 in"\n'


def with_cargo(pounds: int) -> str:
    return WORKED_CASE.replace("[[stage]]", CARGO.format(pounds), 1)


# By hand: 2 % of the larger: 418 lb differs from 410 by 1.9 %, 419 lb by 2.1 %; over the axle a load has no moment.
@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        (WORKED_CASE, WORKED_CASE.replace('weight = "410 lb"', 'weight = "418 lb"'), True),
        (WORKED_CASE, WORKED_CASE.replace('weight = "410 lb"', 'weight = "419 lb"'), False),
        (WORKED_CASE.replace(TONGUE, ""), WORKED_CASE.replace(TONGUE, ""), True),
        (WORKED_CASE.replace(TONGUE, ""), WORKED_CASE, False),
        (with_cargo(100), with_cargo(101), True),
        (with_cargo(100), with_cargo(120), False),
    ],
)
def test_loads_are_the_same_within_a_fiftieth(one: str, other: str, *, same: bool) -> None:
    """In weight and in moment about the rear axle; two jobs without a load were asked for the same."""
    assert ("other loads" not in laid_beside(one, other).cautions) is same
