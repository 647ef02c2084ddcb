"""Estimates: propagation with correlations, the coverage factor and budgets, against published worked examples."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import norm
from scipy.stats import t as student
from uncertainties import ufloat

from cornerwalk.assess.estimate import (
    COVERED,
    PLACING,
    Budget,
    ErrorSource,
    Estimate,
    Share,
    Spread,
    combine,
    coverage_factor,
    shares_of,
    usable_estimate,
)
from cornerwalk.assess.uncertainty import rectangular_u


def of_scatter(u: float, freedom: int, component: str = "") -> Estimate:
    """An estimate whose u was taken from scatter."""
    return Estimate(0.0, u, ErrorSource(Share(component, 1.0, Spread(u, freedom))))


# Source: GUM H.1, end gauge, as shipped with the GTC library (second-hand): l_s 25 nm with 18 degrees of freedom;
# comparison 5.8 (24), 3.9 (5), 6.7 nm (8); δα ± 1e-6 (50) and δθ ± 0.05 °C (2); u_c 32 nm, ν_eff 16, t99 2.92.
# Recomputed parts 25, 9.68194, 2.88679, 16.5990; u_c 31.6639 nm; ν_eff 16.7519.
def test_gum_h1_end_gauge() -> None:
    """A published budget comes to its published u and effective degrees of freedom, from the same parts."""
    length_nm, alpha, theta = 50.000623e6, 11.5e-6, -0.1
    comparison = combine(215.0, *((1.0, of_scatter(u, nu)) for u, nu in ((5.8, 24), (3.9, 5), (6.7, 8))))
    standard = of_scatter(25.0, 18)
    expansion, temperature = of_scatter(rectangular_u(1e-6), 50), of_scatter(rectangular_u(0.05), 2)
    terms = [(1.0, standard), (1.0, comparison), (-length_nm * theta, expansion), (-length_nm * alpha, temperature)]
    contributions = [abs(sensitivity) * each.u for sensitivity, each in terms]
    assert contributions == pytest.approx([25.0, 9.68194, 2.88679, 16.5990], abs=5e-5)
    gauge = combine(length_nm + 215.0, *terms)
    assert gauge.u == pytest.approx(31.6639, abs=5e-5)
    assert round(gauge.u) == 32
    assert math.floor(gauge.freedom) == 16


# Source: GUM H.2 as shipped with the GTC library (second-hand): V, I, φ with r = −0.36, 0.86, −0.65. Recomputed
# R 127.7322 (0.069979), X 219.8465 (0.295717), Z 254.2597 (0.236603).
def test_gum_h2_correlated_inputs() -> None:
    """Correlated readings, made from common sources, give the published u of what is computed from them."""
    volt, ampere, phase = 4.999, 19.661e-3, 1.04446
    u = np.array([3.2e-3, 9.5e-6, 7.5e-4])
    r = np.array([[1.0, -0.36, 0.86], [-0.36, 1.0, -0.65], [0.86, -0.65, 1.0]])
    sources = [ErrorSource() for _ in u]
    inputs = [
        Estimate.of_parts(value, dict(zip(sources, row.tolist(), strict=True)))
        for value, row in zip((volt, ampere, phase), np.linalg.cholesky(r * np.outer(u, u)), strict=True)
    ]
    assert [each.u for each in inputs] == pytest.approx(u.tolist(), rel=1e-12)
    cos, sin, z = math.cos(phase), math.sin(phase), volt / ampere
    cases = {
        "R": ([cos / ampere, -z * cos / ampere, -z * sin], 0.069979),
        "X": ([sin / ampere, -z * sin / ampere, z * cos], 0.295717),
        "Z": ([1 / ampere, -z / ampere, 0.0], 0.236603),
    }
    for sensitivities, published in cases.values():
        assert combine(0.0, *zip(sensitivities, inputs, strict=True)).u == pytest.approx(published, abs=5e-7)


# Source: GUM table G.2 (from memory; recomputable from any table of t): k for 95.45 %.
@pytest.mark.parametrize(
    ("freedom", "k"),
    [(1, 13.97), (2, 4.53), (3, 3.31), (4, 2.87), (5, 2.65), (6, 2.52), (10, 2.28), (20, 2.13), (50, 2.05)],
)
def test_coverage_factors_of_the_printed_table(freedom: int, k: float) -> None:
    """To the printed digits, and cut to a whole number of degrees of freedom as the GUM says."""
    assert round(coverage_factor(freedom), 2) == k
    assert coverage_factor(freedom + 0.9) == coverage_factor(freedom)


# Oracle: scipy's quantiles of Student's distribution.
@pytest.mark.parametrize("freedom", [*range(1, 40), 100, 199, 200, 201, 300, 1000, 10**6])
def test_coverage_factors_are_scipys(freedom: int) -> None:
    """Closed form, bisection and expansion agree with scipy to nine digits."""
    assert coverage_factor(freedom) == pytest.approx(student.ppf((1 + COVERED) / 2, freedom), rel=1e-9)


def test_without_scatter_k_is_two() -> None:
    """What was judged or stated has no degrees of freedom to run out of; k = 2 covers 95.45 % of a normal."""
    assert pytest.approx(norm.cdf(2) - norm.cdf(-2), rel=1e-12) == COVERED
    assert (Estimate(1.0, 0.5).freedom, Estimate(1.0, 0.5).k, Estimate(1.0, 0.5).U) == (math.inf, 2.0, 1.0)


# By hand (Welch and Satterthwaite): one half of the variance from scatter with 5 degrees of freedom gives
# ν_eff = 1/((1/2)²/5) = 20; eight readings that share that scatter are one estimate of it, not eight.
def test_readings_that_share_one_scatter_share_its_degrees_of_freedom() -> None:
    """The placing of eight readings was estimated once."""
    spread = Spread(0.8, 5)
    readings = [
        Estimate(0.0, 0.8, ErrorSource(Share(PLACING, 1.0, spread))) + Estimate(0.0, 0.8, "graduation")
        for _ in range(8)
    ]
    total = combine(0.0, *((1.0, each) for each in readings))
    assert total.freedom == pytest.approx(20)
    assert round(total.k, 2) == 2.13


# By hand: u of 3 and 4 make one source of 5, nine and sixteen twenty-fifths of its variance.
def test_components_that_act_together_are_one_source() -> None:
    """The budget still tells them apart, and repeating shrinks the placing alone: 3² + 4²/2."""
    shares, u = shares_of({"graduation": 3.0, PLACING: 4.0}, {})
    reading = Estimate(0.0, u, ErrorSource(*shares))
    budget = Budget(reading.times(2.0) + Estimate(0.0, 1.0, "wheelbase"))
    assert u == 5.0
    assert list(budget.contributions()) == [PLACING, "graduation", "wheelbase"]
    assert list(budget.contributions().values()) == pytest.approx([8.0, 6.0, 1.0])
    assert budget.u == pytest.approx(math.sqrt(101))
    assert budget.u_with_repeats(2) == pytest.approx(math.sqrt(36 + 32 + 1))


numbers = st.floats(-1e3, 1e3)


# Oracle: the `uncertainties` package, which carries correlations the same way.
@given(st.lists(st.tuples(numbers, st.floats(1e-3, 10)), min_size=3, max_size=3), st.lists(numbers, min_size=3))
def test_sums_and_differences_carry_what_they_share(given_: list[tuple[float, float]], by: list[float]) -> None:
    """A figure that enters two others is not counted as two."""
    ours = [Estimate(value, u) for value, u in given_]
    theirs = [ufloat(value, u) for value, u in given_]
    first, second = ours[0] - ours[1], ours[1] + ours[2]
    oracle = (theirs[0] - theirs[1]) * by[0] + (theirs[1] + theirs[2]) * by[1] - theirs[1] * by[2]
    found = combine(oracle.n, (by[0], first), (by[1], second), (-by[2], ours[1]))
    assert found.u == pytest.approx(oracle.s, rel=1e-9, abs=1e-9)
    assert (ours[0] - ours[0]).u == 0


@pytest.mark.parametrize(
    ("value", "u"), [*itertools.product([math.nan, math.inf, -math.inf, 1e300, 0.0], [math.nan, math.inf, -1.0])]
)
def test_absurd_estimates_are_unknown(value: float, u: float) -> None:
    """What is no number, endless, or has a negative u counts as not known."""
    assert usable_estimate(Estimate(value, u)) is None
