"""How often the interval for the pressure holds the truth: measured by simulation, and where the first-order one fails.

Two questions are asked. Given one set of readings, does ± U hold 95 % of the pressures that their uncertainty allows
(JCGM 101, propagation of distributions)? And over many jobs, does the interval hold the true pressure 95 times in 100?
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from cornerwalk.assess.air import SLOPE_FOR_U, Recommendation, Target, recommend
from cornerwalk.assess.air_line import Trial, fit_line
from tests.support.units import IN, PSI

MINIMUM_KPA, MAXIMUM_KPA = 5 * PSI, 35 * PSI
U_MM = IN / math.sqrt(1536)  # mean of two readings: tape 1/16 in, placing 1/32 in
DRAWS = 1_000_000


def recommendation(pressures: list[float], heights: list[float], target_mm: float, u_mm: float) -> Recommendation:
    trials = [Trial(pressure_kPa=p, height_mm=h, u_height_mm=u_mm) for p, h in zip(pressures, heights, strict=True)]
    target = Target(name="unloaded height", height_mm=target_mm, u_mm=u_mm)
    return recommend(fit_line(trials), target, minimum_kPa=MINIMUM_KPA, maximum_kPa=MAXIMUM_KPA)


@pytest.mark.parametrize(
    ("psi", "slope_in_per_psi"),
    [([15, 25], 0.04375), ([5, 15, 25], 0.04), ([5, 15, 25, 35], 0.03), ([10, 30], 0.06), ([12, 20, 28], 0.05)],
)
@pytest.mark.parametrize("answer_psi", [18.0, 28.0, 35.7])
def test_distributions_propagated(psi: list[float], slope_in_per_psi: float, answer_psi: float) -> None:
    """Of a million draws of the readings, 95 ± 1 % give a pressure within ± U, by independent least squares."""
    chance = np.random.default_rng(20260504)
    pressures = [p * PSI for p in psi]
    heights = [700 + slope_in_per_psi * IN * p for p in psi]
    target_mm = 700 + slope_in_per_psi * IN * answer_psi
    ours = recommendation(pressures, heights, target_mm, U_MM)
    assert ours.pressure_kPa is not None
    assert ours.u_pressure_kPa is not None
    assert ours.low_kPa is not None
    assert ours.high_kPa is not None
    solve = np.linalg.pinv(np.column_stack([np.ones(len(psi)), pressures]))
    drawn = np.array(heights)[:, None] + chance.normal(0, U_MM, (len(psi), DRAWS))
    intercepts, slopes = solve @ drawn
    answers = (target_mm + chance.normal(0, U_MM, DRAWS) - intercepts) / slopes
    within = np.mean(np.abs(answers - ours.pressure_kPa) <= 2 * ours.u_pressure_kPa)
    assert 0.94 <= within <= 0.96
    assert 0.94 <= np.mean((answers >= ours.low_kPa) & (answers <= ours.high_kPa)) <= 0.97


def coverage(
    psi: list[float], answer_psi: float, slope_over_u: float, *, jobs: int, seed: int
) -> tuple[float, float, int]:
    """Of simulated jobs that end in a recommendation: the shares whose ± 2u and whose Fieller bounds hold the truth."""
    chance = np.random.default_rng(seed)
    pressures = np.array(psi) * PSI
    s_xx = float(np.sum((pressures - pressures.mean()) ** 2))
    slope = slope_over_u * U_MM / math.sqrt(s_xx)
    truth_kPa = answer_psi * PSI
    heights = 700 + slope * pressures + chance.normal(0, U_MM, (jobs, len(psi)))
    targets = 700 + slope * truth_kPa + chance.normal(0, U_MM, jobs)
    first_order = fieller = made = 0
    for read, target_mm in zip(heights.tolist(), targets.tolist(), strict=True):
        ours = recommendation(pressures.tolist(), read, target_mm, U_MM)
        if ours.pressure_kPa is None or ours.u_pressure_kPa is None or ours.low_kPa is None or ours.high_kPa is None:
            continue
        made += 1
        first_order += abs(ours.pressure_kPa - truth_kPa) <= 2 * ours.u_pressure_kPa
        fieller += ours.low_kPa <= truth_kPa <= ours.high_kPa
    return first_order / made, fieller / made, made


@pytest.mark.parametrize("answer_psi", [20.0, 25.0, 30.0, 35.0, 45.0])
def test_many_jobs_with_a_sure_slope(answer_psi: float) -> None:
    """From a slope of eight times its u on, 94 to 96.5 % of jobs have the true pressure within ± U, wherever it is."""
    first_order, fieller, made = coverage([15, 25], answer_psi, 8.0, jobs=20_000, seed=1)
    assert made == 20_000
    assert 0.94 <= first_order <= 0.965
    assert 0.945 <= fieller <= 0.965


@pytest.mark.parametrize("answer_psi", [20.0, 30.0, 45.0])
def test_at_the_slope_from_which_u_is_shown(answer_psi: float) -> None:
    """At the least slope for which ± U is called good it covers 93 to 97.5 %; Fieller's bounds 95."""
    first_order, fieller, _ = coverage([15, 25], answer_psi, SLOPE_FOR_U, jobs=20_000, seed=2)
    assert 0.93 <= first_order <= 0.975
    assert 0.945 <= fieller <= 0.965


def test_where_the_first_order_interval_fails(capsys: pytest.CaptureFixture[str]) -> None:
    """With a less sure slope ± U is too narrow outside the trials and too wide between them; Fieller's bounds hold.

    The figures are printed.
    """
    rows = []
    for slope_over_u in (3.0, 4.0, 6.0, 12.0):
        for where, answer_psi in (("between the trials", 20.0), ("two spans above", 45.0)):
            first_order, fieller, _ = coverage([15, 25], answer_psi, slope_over_u, jobs=10_000, seed=3)
            rows.append((slope_over_u, where, first_order, fieller))
    with capsys.disabled():
        for slope_over_u, where, first_order, fieller in rows:
            line = (
                f"slope {slope_over_u:4.0f} u, answer {where:18}: ± 2u covers {first_order:.3f}, Fieller {fieller:.3f}"
            )
            print(f"\n{line}", end="")  # noqa: T201 - to be seen with the tests
    unsure_outside = next(row for row in rows if row[0] == 3.0 and row[1] == "two spans above")
    unsure_between = next(row for row in rows if row[0] == 3.0 and row[1] == "between the trials")
    assert unsure_outside[2] < 0.93
    assert unsure_between[2] > 0.97
    assert min(fieller for *_, fieller in rows) > 0.945


def test_flag_is_set_where_u_does_not_hold() -> None:
    """The answer says itself on which side of that slope it stands."""
    sure = recommendation([15 * PSI, 25 * PSI], [719.0, 731.0], 742.0, U_MM)
    unsure = recommendation([15 * PSI, 25 * PSI], [719.0, 722.0], 725.0, U_MM)
    assert (sure.u_holds, unsure.u_holds) == (True, False)


def test_honest_walks_read_in_sixteenths() -> None:
    """With placing errors and every height rounded to 1/16 in, as a walk really is, 94 to 97 of 100 jobs hold."""
    chance = np.random.default_rng(4)
    graduation_mm, place_mm, jobs = IN / 16, IN / 32, 10_000
    psi, slope, truth_psi = [15.0, 25.0], 0.04375 * IN, 31.3
    held = 0
    for _ in range(jobs):
        corner = chance.uniform(700, 800)
        truth = [corner + slope * p for p in (*psi, truth_psi)]
        sides = np.array([[h, h + chance.uniform(-6, 6)] for h in truth])
        offset = (sides - np.array(truth)[:, None]).mean(axis=1)
        read = np.round((sides + chance.normal(0, place_mm, sides.shape)) / graduation_mm) * graduation_mm
        low, high, target_mm = (read.mean(axis=1) - offset).tolist()
        ours = recommendation([p * PSI for p in psi], [low, high], target_mm, U_MM)
        assert ours.pressure_kPa is not None
        assert ours.u_pressure_kPa is not None
        held += abs(ours.pressure_kPa - truth_psi * PSI) <= 2 * ours.u_pressure_kPa
    assert 0.94 <= held / jobs <= 0.97
