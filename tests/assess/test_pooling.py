"""One figure from several jobs: numpy's weighted mean, and a u that grows when the jobs disagree."""

from __future__ import annotations

import math
import statistics

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cornerwalk.assess.uncertainty import Estimate, pooled_mean

estimates = st.builds(Estimate, st.floats(-1e3, 1e3), st.floats(1e-3, 1e3))


@given(st.lists(estimates, min_size=1, max_size=20))
def test_the_mean_is_numpys(found: list[Estimate]) -> None:
    """Weights 1/u²; the spread is the plain standard deviation."""
    together = pooled_mean(found)
    assert together is not None
    weights = [each.u**-2 for each in found]
    expected = float(np.average([each.value for each in found], weights=weights))
    assert together.mean.value == pytest.approx(expected, rel=1e-9, abs=1e-9)
    assert together.count == len(found)
    if len(found) > 1:
        assert together.spread == pytest.approx(statistics.stdev([each.value for each in found]), abs=1e-12)


@given(st.lists(estimates, min_size=2, max_size=20))
def test_it_is_never_surer_than_its_readings(found: list[Estimate]) -> None:
    """U is at least that of the readings alone, and exactly √(χ²/(n − 1)) times it where they disagree by more."""
    together = pooled_mean(found)
    assert together is not None
    inner = math.sqrt(1 / sum(each.u**-2 for each in found))
    chi2 = sum(((each.value - together.mean.value) / each.u) ** 2 for each in found)
    assert together.mean.u == pytest.approx(inner * max(1.0, math.sqrt(chi2 / (len(found) - 1))), rel=1e-9)
    assert together.mean.u >= inner * (1 - 1e-9)


# By hand: 10 ± 1 and 14 ± 2 weigh 4 : 1, so the mean is 10.8; χ² = 0.8² + 1.6² = 3.2 of one degree of freedom.
def test_two_jobs_by_hand() -> None:
    """Mean 10.8, u = √(1/1.25)·√3.2 = 1.6, spread 4/√2."""
    together = pooled_mean([Estimate(10.0, 1.0), Estimate(14.0, 2.0)])
    assert together is not None
    assert together.mean.value == pytest.approx(10.8)
    assert together.mean.u == pytest.approx(1.6)
    assert together.spread == pytest.approx(4 / math.sqrt(2))


def test_one_job_is_itself() -> None:
    """Nothing to pool: the figure and its own u, and no spread."""
    together = pooled_mean([Estimate(0.3, 0.02)])
    assert together is not None
    assert (together.mean, together.spread, together.count) == (Estimate(0.3, 0.02), None, 1)


@pytest.mark.parametrize(
    "bad", [Estimate(1.0, 0.0), Estimate(math.nan, 1.0), Estimate(1.0, math.inf), Estimate(1e300, 1.0)]
)
def test_what_is_no_measurement_is_left_out(bad: Estimate) -> None:
    """A figure without an uncertainty, or none at all, spoils no mean."""
    assert pooled_mean([bad]) is None
    assert pooled_mean([bad, Estimate(5.0, 1.0)]) == pooled_mean([Estimate(5.0, 1.0)])
    assert pooled_mean([]) is None
