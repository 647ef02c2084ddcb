"""Two jobs side by side: every figure of a stage and of the whole, and which stages and loads count as the same."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest
from uncertainties import ufloat, umath

from cornerwalk.assess.compare import AssessedJob, Comparison, Difference
from cornerwalk.assess.compare_jobs import common_stages, compare_jobs
from cornerwalk.session.model import StageKey
from tests.support.jobs import SEPARATE_LINES, WORKED_CASE, job_of, standards
from tests.support.units import IN

SCREEN_MM = 300 * IN
U_READ_MM = math.hypot(IN / 16 / math.sqrt(12), IN / 32)

LATER = WORKED_CASE.replace('RR = "27 5/8"', 'RR = "27 3/8"').replace('LR = "27 3/4"', 'LR = "27 7/16"')
"""The same vehicle, its rear lower when loaded: by 1/4 and 5/16 in."""

UNLOADED = (28.625, 28.6875, 29.1875, 29.25)
LOADED = (28.875, 28.9375, 27.625, 27.75)
LOADED_LATER = (28.875, 28.9375, 27.375, 27.4375)


def job(sheet: str, name: str) -> AssessedJob:
    made = job_of(sheet)
    return AssessedJob(replace(made.session, id=name), made.assessment)


def compared(one: str, other: str) -> Comparison:
    return compare_jobs(job(one, "one"), job(other, "other"), standards())


def stages(one: str, other: str) -> tuple[tuple[StageKey, StageKey], ...]:
    return common_stages(job(one, "one"), job(other, "other"))


def at(comparison: Comparison, stage: str) -> dict[str, Difference]:
    """The figures of the first pair of that name."""
    pair = next(pair for pair in comparison.pairs if pair.one.name == stage)
    return {each.figure: each for each in pair.differences}


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
def test_rake_and_beam_against_automatic_propagation() -> None:
    """Two jobs share no reading: sixteen of them go into a beam, eight into a rake."""

    def rake_and_beam(loaded: tuple[float, ...]) -> tuple[Any, Any]:
        was, now = read(UNLOADED), read(loaded)
        lf, rf, rr, lr = (b - a for a, b in zip(was, now, strict=True))
        pitch, aim = umath.atan(((lf + rf) / 2 - (rr + lr) / 2) / (119 * IN)), math.radians(-0.4)
        rake = (now[0] + now[1]) / 2 - (now[2] + now[3]) / 2
        return rake, SCREEN_MM * (umath.tan(aim + pitch) - math.tan(aim))

    found = at(compared(WORKED_CASE, LATER), "loaded")
    first, second = rake_and_beam(LOADED), rake_and_beam(LOADED_LATER)
    agree(found["rake"], first[0], second[0])
    agree(found["beam"], first[1], second[1])


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

    comparison = compared(marked(WORKED_CASE, -2, 3), marked(LATER, -3, 4))
    agree(at(comparison, "unloaded")["measured aim"], aim(-2, 0), aim(-3, 0))
    agree(at(comparison, "loaded")["measured aim"], aim(3, rise(LOADED)), aim(4, rise(LOADED_LATER)))


def test_a_figure_known_in_one_job_only_is_left_out() -> None:
    """Without the wheelbase there, no pitch and no beam to lay beside; heights and their changes stay."""
    found = at(compared(WORKED_CASE, LATER.replace('wheelbase = "119 in"\n', "")), "loaded")
    assert not {"nose up", "ball", "beam"} & set(found)
    assert {"height RR", "rake", "rear change", "left up"} <= set(found)


def test_beams_are_told_for_the_wall_of_the_first_job() -> None:
    """What is shown in millimetres on a wall says how far that wall is: 25 ft."""
    assert compared(WORKED_CASE, LATER).screen_mm == pytest.approx(7620.0)


# By hand: the rear corners' own lines through 120/100 and 180/150 kPa, 699 to 708 and 703 to 711 mm.
def test_figures_of_the_whole_say_which_line_they_are_of() -> None:
    """A tee'd rear has one line, separate lines one a side, and each is laid beside its own."""
    tee = {(each.figure, each.place) for each in compared(WORKED_CASE, LATER).whole}
    two = {(each.figure, each.place): each.one for each in compared(SEPARATE_LINES, SEPARATE_LINES).whole}
    assert tee == {("ride rate", ""), ("slope", "rear"), ("pressure", "rear"), ("leak rate", "both")}
    assert set(two) == {(figure, side) for figure in ("slope", "pressure") for side in ("LR", "RR")} | {
        ("ride rate", "")
    }
    left, right = two["slope", "LR"], two["slope", "RR"]
    assert left is not None
    assert right is not None
    assert (left.value, right.value) == pytest.approx((9 / 60, 8 / 50))


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


# By hand: 2 % of the larger: 418 lb differs from 410 by 1.9 %, 419 lb by 2.1 %; over the axle a load has no moment.
@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        (WORKED_CASE, WORKED_CASE.replace('weight = "410 lb"', 'weight = "418 lb"'), True),
        (WORKED_CASE, WORKED_CASE.replace('weight = "410 lb"', 'weight = "419 lb"'), False),
        (WORKED_CASE.replace(TONGUE, ""), WORKED_CASE.replace(TONGUE, ""), True),
        (WORKED_CASE.replace(TONGUE, ""), WORKED_CASE, False),
        (
            WORKED_CASE.replace("[[stage]]", CARGO.format(100), 1),
            WORKED_CASE.replace("[[stage]]", CARGO.format(101), 1),
            True,
        ),
        (
            WORKED_CASE.replace("[[stage]]", CARGO.format(100), 1),
            WORKED_CASE.replace("[[stage]]", CARGO.format(120), 1),
            False,
        ),
    ],
)
def test_loads_are_the_same_within_a_fiftieth(one: str, other: str, *, same: bool) -> None:
    """In weight and in moment about the rear axle; two jobs without a load were asked for the same."""
    assert ("other loads" not in compared(one, other).cautions) is same
