"""Uncertainty: one reading, repeats and pooled jobs, against published worked examples and certified data."""

from __future__ import annotations

import math
import statistics
import sys

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cornerwalk.assess.estimate import Estimate
from cornerwalk.assess.uncertainty import (
    absolute_u_mm,
    place_u_of_repeats,
    pooled_mean,
    pooled_spread,
    quantum_u,
    reading_u_mm,
    rectangular_u,
)
from cornerwalk.standards import load_standards
from tests.support.known import known


# Source: a published introduction to the GUM, its section E.1 (second-hand): 1.5/√3 = 0.87; recomputed 0.866025.
def test_rectangular_limits() -> None:
    """Limits of ± 1.5 give the printed 0.87."""
    assert rectangular_u(1.5) == pytest.approx(0.866025, abs=5e-7)


# Source: a micrometer guide (seen): resolution 0.001 mm gives 0.00029 mm; with 0.00033 and 0.00025 it comes to 0.00051,
# recomputed 0.00050547; U 0.0010. Derived: 1 mm, 1/8, 1/16, 1/32 in.
def test_graduations() -> None:
    """A graduation's u is itself over √12, to the printed digits, and joins others in quadrature."""
    assert round(quantum_u(0.001), 5) == 0.00029
    guide = Estimate(0.0, 0.00033) + Estimate(0.0, 0.00029) + Estimate(0.0, 0.00025)
    assert guide.u == pytest.approx(0.00050547, abs=5e-9)
    assert round(guide.U, 4) == 0.0010
    for graduation_mm, u_mm in ((1.0, 0.288675), (3.175, 0.916544), (1.5875, 0.458272), (0.79375, 0.229136)):
        assert quantum_u(graduation_mm) == pytest.approx(u_mm, abs=5e-7)


# Source: derived from u = g/√12: the change of two 1/16 in readings 0.648094 mm, U 1.296188 mm.
def test_change_of_two_readings() -> None:
    """A change has the u of two readings."""
    change = Estimate(0.0, math.hypot(quantum_u(1.5875), quantum_u(1.5875)))
    assert change.u == pytest.approx(0.648094, abs=5e-7)
    assert abs(change.U - 1.296188) < 1e-6


# Source: physics.nist.gov, uncertainty examples (seen): u_c 0.35 mg, k = 2, ± 0.70 mg.
def test_coverage_factor_of_two() -> None:
    """U is twice u."""
    assert Estimate(100.021, 0.35).U == 0.70


# Source: worked case (invented vehicle, figures recomputed independently): 1/16 in and 1/32 in give 0.0360844 in.
def test_worked_reading() -> None:
    """One reading of the worked case, to its printed digits."""
    assert reading_u_mm(1 / 16, 1 / 32) == pytest.approx(0.0360844, abs=5e-8)
    assert reading_u_mm(25.4 / 16, 25.4 / 32) / 25.4 == pytest.approx(0.0360844, abs=5e-8)


def test_repeats_do_not_wear_the_graduation_down() -> None:
    """Ever more repeats leave g/√12, since the same height falls on the same mark each time."""
    assert reading_u_mm(1.5875, 0.79375, 2) == pytest.approx(math.sqrt(1.5875**2 / 12 + 0.79375**2 / 2), rel=1e-12)
    assert reading_u_mm(1.5875, 0.79375, 10**12) == pytest.approx(quantum_u(1.5875), rel=1e-9)
    with pytest.raises(ValueError, match="0 readings"):
        reading_u_mm(1.0, 1.0, 0)


# Source: GUM 4.4.3 Table 1 (from memory, self-consistent): mean 100.14, s 1.49, s/√20 0.33.
TEMPERATURES = [96.90, 98.18, 98.25, 98.61, 99.03, 99.49, 99.56, 99.74, 99.89, 100.07, 100.33, 100.42, 100.68, 100.95]

TEMPERATURES += [101.11, 101.20, 101.57, 101.84, 102.36, 102.72]


def test_twenty_temperatures() -> None:
    """Standard deviation and that of the mean agree with the printed ones."""
    spread = known(pooled_spread([TEMPERATURES]))
    assert spread.freedom == 19
    assert spread.sd == pytest.approx(1.48884, abs=5e-6)
    assert spread.sd / math.sqrt(20) == pytest.approx(0.332916, abs=5e-7)


def _alternating(first: float, low: float, high: float) -> list[float]:
    return [first, *([low, high] * 500)]


# Source: NIST StRD, univariate summary statistics, certified values (seen, original files).
@pytest.mark.parametrize(
    ("name", "values", "sd", "digits"),
    [
        ("NumAcc1", [10000001.0, 10000003.0, 10000002.0], 1.0, 15),
        ("NumAcc2", _alternating(1.2, 1.1, 1.3), 0.1, 14),
        ("NumAcc3", _alternating(1000000.2, 1000000.1, 1000000.3), 0.1, 9),
        ("NumAcc4", _alternating(10000000.2, 10000000.1, 10000000.3), 0.1, 8),
    ],
)
def test_nist_univariate(name: str, values: list[float], sd: float, digits: int) -> None:
    """The certified standard deviation to all the digits that the data keep as binary numbers."""
    spread = known(pooled_spread([values]))
    reached = min(15.0, -math.log10(max(abs(spread.sd - sd) / sd, 1e-16)))
    sys.stdout.write(f"{name}: standard deviation to {reached:.1f} digits\n")
    assert reached >= digits


# Source: SI 2016/1153 Sch. 1I (seen): class II, up to 1 m, from the end: 0.7 mm; u = 0.7/√3 = 0.404145 mm.
def test_tape_error_joins_absolute_heights() -> None:
    """A height against a legal limit carries the tape's own error as a rectangle, beside the reading's."""
    limit_mm = known(load_standards().tapes["eu-class-2"].limit_of_error_mm(724.0))
    assert absolute_u_mm(0.0, limit_mm) == pytest.approx(0.404145, abs=5e-7)
    assert absolute_u_mm(0.3, limit_mm) == pytest.approx(math.hypot(0.3, 0.404145), abs=5e-7)


def test_pooled_repeats_find_the_placing_that_made_them() -> None:
    """Repeats of many different heights give back the spread they were made with, within its own uncertainty."""
    rng = np.random.default_rng(20260504)
    heights, repeats = rng.uniform(600, 800, 400), rng.integers(1, 5, 400)
    groups = [list(h + rng.normal(0.0, 0.8, n)) for h, n in zip(heights, repeats, strict=True)]
    spread = known(place_u_of_repeats(groups))
    assert spread.freedom == sum(len(group) - 1 for group in groups)
    assert abs(spread.sd / 0.8 - 1) < 3 / math.sqrt(2 * spread.freedom)


@given(
    st.lists(
        st.lists(st.floats(min_value=-1e6, max_value=1e6), min_size=1, max_size=5).map(lambda g: [*g]),
        min_size=1,
        max_size=6,
    )
)
def test_pooled_spread_is_the_weighted_mean_of_variances(groups: list[list[float]]) -> None:
    """Pooling one group is its own standard deviation; single readings add nothing; it never leaves the extremes."""
    spread = pooled_spread(groups)
    variances = [statistics.variance(group) for group in groups if len(group) > 1]
    if spread is None:
        assert not variances
        return
    assert math.sqrt(min(variances)) - 1e-9 <= spread.sd <= math.sqrt(max(variances)) * (1 + 1e-12) + 1e-9


estimates = st.builds(Estimate, st.floats(-1e3, 1e3), st.floats(1e-3, 1e3))


@given(st.lists(estimates, min_size=1, max_size=20))
def test_the_mean_is_numpys(found: list[Estimate]) -> None:
    """Weights 1/u²; the spread is the plain standard deviation."""
    together = known(pooled_mean(found))
    weights = [each.u**-2 for each in found]
    expected = float(np.average([each.value for each in found], weights=weights))
    assert together.mean.value == pytest.approx(expected, rel=1e-9, abs=1e-9)
    assert together.count == len(found)
    if len(found) > 1:
        assert together.spread == pytest.approx(statistics.stdev([each.value for each in found]), abs=1e-12)


@given(st.lists(estimates, min_size=2, max_size=20))
def test_it_is_never_surer_than_its_readings(found: list[Estimate]) -> None:
    """U is at least that of the readings alone, and exactly √(χ²/(n − 1)) times it where they disagree by more."""
    together = known(pooled_mean(found))
    inner = math.sqrt(1 / sum(each.u**-2 for each in found))
    chi2 = sum(((each.value - together.mean.value) / each.u) ** 2 for each in found)
    assert together.mean.u == pytest.approx(inner * max(1.0, math.sqrt(chi2 / (len(found) - 1))), rel=1e-9)
    assert together.mean.u >= inner * (1 - 1e-9)


# By hand: 10 ± 1 and 14 ± 2 weigh 4 : 1, so the mean is 10.8; χ² = 0.8² + 1.6² = 3.2 of one degree of freedom.
def test_two_jobs_by_hand() -> None:
    """Mean 10.8, u = √(1/1.25)·√3.2 = 1.6, spread 4/√2."""
    together = known(pooled_mean([Estimate(10.0, 1.0), Estimate(14.0, 2.0)]))
    assert together.mean.value == pytest.approx(10.8)
    assert together.mean.u == pytest.approx(1.6)
    assert together.spread == pytest.approx(4 / math.sqrt(2))


def test_one_job_is_itself() -> None:
    """Nothing to pool: the figure and its own u, and no spread."""
    together = known(pooled_mean([Estimate(0.3, 0.02)]))
    assert (together.mean, together.spread, together.count) == (Estimate(0.3, 0.02), None, 1)


@pytest.mark.parametrize(
    "bad", [Estimate(1.0, 0.0), Estimate(math.nan, 1.0), Estimate(1.0, math.inf), Estimate(1e300, 1.0)]
)
def test_what_is_no_measurement_is_left_out(bad: Estimate) -> None:
    """A figure without an uncertainty, or none at all, spoils no mean."""
    assert pooled_mean([bad]) is None
    assert pooled_mean([bad, Estimate(5.0, 1.0)]) == pooled_mean([Estimate(5.0, 1.0)])
    assert pooled_mean([]) is None
