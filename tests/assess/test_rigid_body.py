"""The rigid body: readings weighed against what is known of bodies, and the slips behind one reading."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import numpy.typing as npt
import pytest
import scipy.stats
from hypothesis import given
from hypothesis import strategies as st

from cornerwalk.assess.estimate import Estimate
from cornerwalk.assess.rigid_body import SLIP_CHANCE, Correction, RigidBody, StageHeights, Tape, chi_square_bound, slips
from cornerwalk.session.stages import CORNERS
from tests.support.known import known
from tests.support.units import IN

Four = tuple[float, float, float, float]

# LF, RF, RR, LR: unloaded with some air in, loaded, with more air, with air not stated, unloaded again without.
HEIGHTS_MM: tuple[Four, ...] = (
    (727.0, 729.0, 741.0, 743.0),
    (733.0, 735.0, 702.0, 705.0),
    (733.5, 734.0, 722.0, 722.5),
    (733.0, 734.5, 730.0, 732.5),
    (728.0, 729.5, 742.5, 744.0),
)

LOADED = (False, True, True, True, False)

AIR_KPA = (20.0, 20.0, 120.0, None, 0.0)

U_MM: Four = (0.6, 0.7, 0.8, 0.9)


def job(heights_mm: tuple[Four, ...], scale: float = 1.0) -> list[StageHeights]:
    return [
        StageHeights(
            heights={
                c: Estimate(h * scale, u * scale * (1 + stage / 10))
                for c, h, u in zip(CORNERS, four, U_MM, strict=True)
            },
            loaded=LOADED[stage],
            air_kPa=AIR_KPA[stage],
        )
        for stage, four in enumerate(heights_mm)
    ]


# What is known of each figure, written out anew from the method: the parts of LF, RF, RR, LR; the spread of its first
# value, None where that is not known at all; the spread of each of the four steps; the mean of each step. Loads drop
# the rear 30 mm with a spread of 60; air lifts it 0.16 mm/kPa give or take 35 %, beside the 4 mm of an unchanged load;
# air not stated adds 20 mm.
_Known = tuple[Four, float | None, Four, Four]

LIFT_MM = 0.16 * (120.0 - 20.0)

FIGURES: tuple[_Known, ...] = (
    ((0.25, -0.25, 0.25, -0.25), 3.0, (0.0, 0.0, 0.0, 0.0), (0.0, 0.0, 0.0, 0.0)),
    ((0.5, -0.5, -0.5, 0.5), 6.0, (5.0, 2.0, 2.0, 5.0), (0.0, 0.0, 0.0, 0.0)),
    ((0.5, 0.5, 0.0, 0.0), None, (20.0, 3.0, 3.0, 20.0), (0.0, 0.0, 0.0, 0.0)),
    (
        (0.0, 0.0, 0.5, 0.5),
        None,
        (60.0, math.hypot(4.0, 0.35 * LIFT_MM), math.hypot(4.0, 20.0), math.hypot(60.0, 20.0)),
        (-30.0, LIFT_MM, 0.0, 30.0),
    ),
)


def oracle(heights_mm: npt.NDArray[np.float64]) -> float:
    """Log density of the four figures at all stages at once, the steps from stage to stage in their covariance.

    Of a figure whose first value is not known, only how far the others are from it can be likely or not.
    """
    log, count = 0.0, len(heights_mm)
    for parts, start_sd, steps_sd, steps_mm in FIGURES:
        values = heights_mm @ np.array(parts)
        mean = np.cumsum([0.0, *steps_mm[: count - 1]])
        variances = np.cumsum([(start_sd or 0.0) ** 2, *(sd**2 for sd in steps_sd[: count - 1])])
        noise = np.array(
            [sum((p * u * (1 + i / 10)) ** 2 for p, u in zip(parts, U_MM, strict=True)) for i in range(count)]
        )
        covariance = np.minimum.outer(variances, variances) + np.diag(noise)
        if start_sd is None:
            values, mean, covariance = values[1:] - values[0], mean[1:], covariance[1:, 1:] + noise[0]
        log += float(scipy.stats.multivariate_normal(mean, covariance).logpdf(values))
    return log


@pytest.mark.parametrize("stages", [2, 3, 4, 5])
def test_readings_are_weighed_as_a_multivariate_normal_does(stages: int) -> None:
    """Correcting any reading, by a little or a lot, changes the log odds by what scipy's normal says."""
    heights_mm = HEIGHTS_MM[:stages]
    body = RigidBody(job(heights_mm))
    as_read, there = np.array(heights_mm), oracle(np.array(heights_mm))
    honest = body.log_odds(None)
    for stage in range(stages):
        for at, corner in enumerate(CORNERS):
            for by_mm in (-25.4, 3.0, 12.7):
                corrected = as_read.copy()
                corrected[stage, at] += by_mm
                ours = body.log_odds(Correction(stage, corner, by_mm)) - honest
                assert ours == pytest.approx(oracle(corrected) - there, rel=1e-6, abs=1e-6), (stage, corner, by_mm)


def q_of(warps: npt.NDArray[np.float64], u: npt.NDArray[np.float64]) -> float:
    """Σ (Wᵢ − W̄)²/u², by numpy's weighted mean."""
    return float(np.sum(((warps - np.average(warps, weights=u**-2)) / u) ** 2))


@pytest.mark.parametrize("scale", [1.0, 10.0])
def test_a_stage_settles_just_at_the_bound(scale: float) -> None:
    """Off by either end of what would settle it, a stage's warp brings Q to its bound; in between it is below."""
    body = RigidBody(job((HEIGHTS_MM[0], (733.0 + 25.4, 735.0, 702.0, 705.0), HEIGHTS_MM[2]), scale))
    assert body.disagree
    signs = np.array([1, -1, 1, -1]) / 4
    heights = np.array([[height.value for height in stage.heights.values()] for stage in body.walked])
    u = np.array([math.hypot(*(h.u for h in stage.heights.values())) / 4 for stage in body.walked])
    settled = known(body.settling(1))
    assert settled[0] < settled[1]
    bound = chi_square_bound(2)
    for x, at in ((settled[0], bound), (settled[1], bound), (settled[0] - 0.01, None), (settled[1] + 0.01, None)):
        q = q_of(heights @ signs + np.array([0.0, x, 0.0]), u)
        assert q == pytest.approx(at, rel=1e-9) if at is not None else q > bound
    assert q_of(heights @ signs + np.array([0.0, sum(settled) / 2, 0.0]), u) < bound
    # No correction of another stage brings the warps together: the lowest Q that one can reach is still above.
    assert body.settling(0) is None


@pytest.mark.parametrize(("tape", "off_mm"), [("inch", 25.4), ("metric", 10.0)])
def test_every_slip_that_settles_is_weighed_and_no_other(tape: Tape, off_mm: float) -> None:
    """An explanation is a slip of that very reading, in its own words, after which Q is within its bound.

    Its log odds are those of the corrected readings with the chance of a slip, and of this one, on top.
    """
    stages = job((HEIGHTS_MM[0], (733.0, 735.0, 702.0, 705.0 + off_mm), HEIGHTS_MM[2]))
    body = RigidBody(stages)
    found = body.explanations(tape)
    assert {(one.stage, one.corner) for one in found} >= {(1, "LR"), (1, "RR")}
    seen = {(one.stage, one.corner, one.slip.true_mm) for one in found}
    for index, stage in enumerate(stages):
        for corner in CORNERS:
            read_mm = stage.heights[corner].value
            for slip in slips(read_mm, tape):
                changed = list(stages)
                heights = dict(stage.heights) | {corner: Estimate(slip.true_mm, stage.heights[corner].u)}
                changed[index] = StageHeights(heights=heights, loaded=stage.loaded, air_kPa=stage.air_kPa)
                assert ((index, corner, slip.true_mm) in seen) == (not RigidBody(changed).disagree)
    for one in found:
        corrected = body.log_odds(
            Correction(one.stage, one.corner, one.slip.true_mm - stages[one.stage].heights[one.corner].value)
        )
        assert one.log_odds == pytest.approx(corrected + math.log(SLIP_CHANCE) + math.log(one.slip.weight), rel=1e-12)


def test_what_was_typed_tells_which_slips_there_are() -> None:
    """Typed as a decimal, 30.52 may be 30.25 with its digits swapped, which the same height in sixteenths may not."""
    for entered, swapped in (("30.25", True), ("", False)):
        stages = [
            StageHeights(heights={c: Estimate(mm, 0.3) for c, mm in zip(CORNERS, four, strict=True)}, loaded=False)
            for four in ((30.52 * 25.4,) * 4, (30.52 * 25.4,) * 3 + (30.25 * 25.4,))
        ]
        stages[1] = StageHeights(heights=stages[1].heights, loaded=False, entered={"LR": entered})
        found = RigidBody(stages).explanations("inch")
        codes = {one.slip.code for one in found if (one.stage, one.corner) == (1, "LR")}
        assert ("swapped digits" in codes) == swapped


# Weights are the project's judgement, no source. Every height below is worked by hand from the shape of its slip.


def told(read_mm: float, tape: Tape, entered: str = "", unit_mm: float = 1.0) -> dict[float, tuple[str, float]]:
    """Each height that may have been meant, in units, with its code and weight."""
    return {round(s.true_mm / unit_mm, 6): (s.code, s.weight) for s in slips(read_mm, tape, entered)}


def test_every_slip_of_a_metric_reading() -> None:
    """774 mm: steps of the tape, digits changed over, and the other unit, each with its weight."""
    assert told(774.0, "metric") == {
        764.0: ("whole centimetre", 0.35),
        784.0: ("whole centimetre", 0.35),
        769.0: ("half centimetre", 0.1),
        779.0: ("half centimetre", 0.1),
        674.0: ("wrong digit", 0.1),
        874.0: ("wrong digit", 0.1),
        747.0: ("swapped digits", 0.2),
        7740.0: ("cm for mm", 0.05),
        77.4: ("mm for cm", 0.05),
    }


# The whole millimetres are swapped among themselves: with the tenth counted as a digit, 770.4 would have been offered.
@pytest.mark.parametrize(
    ("read_mm", "swapped"),
    [
        (774.0, {747.0}),
        (702.5, {720.5, 705.2}),
        (702.1, {720.1, 701.2}),
        (110.0, {101.0}),
        (109.0, {190.0}),
        (704.0, {740.0}),
    ],
)
def test_neighbouring_digits_are_swapped_as_far_as_they_were_read(read_mm: float, swapped: set[float]) -> None:
    """A tenth takes part where one was read; no swap begins with a nought, or gives what was read."""
    assert {mm for mm, (code, _) in told(read_mm, "metric").items() if code == "swapped digits"} == swapped


def test_every_slip_of_an_inch_reading() -> None:
    """27 5/8 in: steps of the tape, and the fraction from its wrong end, in its wrong place and by its wrong name."""
    assert told(27.625 * IN, "inch", "27 5/8", IN) == {
        26.625: ("whole inch", 0.35),
        28.625: ("whole inch", 0.35),
        27.125: ("half inch", 0.15),
        28.125: ("half inch", 0.15),
        17.625: ("wrong digit", 0.05),
        37.625: ("wrong digit", 0.05),
        72.625: ("swapped digits", 0.1),
        27.375: ("fraction from the wrong end", 0.1),
        27.875: ("wrong fraction", 0.05),
        27.5: ("wrong fraction", 0.05),
        27.75: ("wrong fraction", 0.05),
        27.3125: ("wrong denominator", 0.05),
        25.875: ("digit and fraction swapped", 0.05),
    }


# 28 1/8: its wrong fractions and denominators by hand; 1/8 read as 1/4 is also a step of an eighth, told once.
def test_every_slip_of_a_small_fraction() -> None:
    """A fraction below a half may have been one twice as large; 28 and 1/8 do not change places, eighths end at 7."""
    found = told(28.125 * IN, "inch", "28 1/8", IN)
    assert {inches: code for inches, (code, _) in found.items() if 27.7 < inches < 29} == {
        28.625: "half inch",
        28.875: "fraction from the wrong end",
        27.875: "wrong fraction",
        28.375: "wrong fraction",
        28.0: "wrong fraction",
        28.25: "wrong fraction",
        28.0625: "wrong denominator",
    }
    assert "digit and fraction swapped" not in {code for code, _ in found.values()}


@pytest.mark.parametrize(
    ("read", "halved_or_doubled"),
    [
        (28 + 3 / 16, {28 + 3 / 8: 0.05, 28 + 3 / 32: 0.05}),
        (28 + 11 / 32, {28 + 11 / 16: 0.05, 28 + 11 / 64: 0.05}),
        (28 + 31 / 64, {28 + 31 / 32: 0.05}),
        (28 + 33 / 64, {}),
        (28 + 1 / 64, {28 + 1 / 32: 0.05}),
    ],
)
def test_a_denominator_twice_or_half_as_fine(read: float, halved_or_doubled: dict[float, float]) -> None:
    """Halves of an odd sixty-fourth are on no tape; twice a half and more is no fraction."""
    found = told(read * IN, "inch", unit_mm=IN)
    assert {inches: weight for inches, (code, weight) in found.items() if code == "wrong denominator"} == pytest.approx(
        {round(inches, 6): weight for inches, weight in halved_or_doubled.items()}
    )


@pytest.mark.parametrize(
    ("read", "meant"),
    [
        (27 + 5 / 8, 25 + 7 / 8),
        (21 + 3 / 8, 23 + 1 / 8),
        (27 + 9 / 16, 29 + 7 / 16),
        (27 + 11 / 16, None),
        (28 + 5 / 8, None),
        (29 + 5 / 8, None),
        (30 + 5 / 8, None),
    ],
)
def test_a_digit_and_a_numerator_change_places(read: float, meant: float | None) -> None:
    """27 5/8 for 25 7/8; not where the digit is none of that denominator, or the numerator has two digits."""
    found = told(read * IN, "inch", unit_mm=IN)
    exchanged = {inches for inches, (code, _) in found.items() if code == "digit and fraction swapped"}
    assert exchanged == (set() if meant is None else {round(meant, 6)})


@pytest.mark.parametrize("entered", ["30.25", "30,25"])
def test_decimals_of_an_inch_swap_all_their_digits(entered: str) -> None:
    """Typed with a point or a comma, a height has digits to swap and no fraction to misread."""
    assert told(30.25 * IN, "inch", entered, IN) == {
        29.25: ("whole inch", 0.35),
        31.25: ("whole inch", 0.35),
        29.75: ("half inch", 0.15),
        30.75: ("half inch", 0.15),
        20.25: ("wrong digit", 0.05),
        40.25: ("wrong digit", 0.05),
        32.05: ("swapped digits", 0.1),
        30.52: ("swapped digits", 0.1),
    }


# By hand: from 28 3/4, half an inch down is 28 1/4, and so is 3/4 read from its wrong end. From 28 1/4, a step of a
# quarter up is 28 1/2, and so is twice the fraction. 30.26 in lies between sixty-fourths, so it was read by digits.
@pytest.mark.parametrize(
    ("read", "unit_mm", "tape", "meant", "slip"),
    [
        pytest.param(28.75, IN, "inch", 28.25, ("half inch", 0.15), id="told once, as the commoner"),
        pytest.param(28.25, IN, "inch", 28.5, ("wrong fraction", 0.05), id="told once"),
        pytest.param(28.5, IN, "inch", 28.5, None, id="a half from its wrong end is a half"),
        pytest.param(30.26, IN, "inch", 30.62, ("swapped digits", 0.1), id="on no mark"),
        pytest.param(30.25, IN, "inch", 30.5, ("wrong fraction", 0.05), id="on a mark"),
        pytest.param(5.5, 1.0, "metric", 0.55, ("mm for cm", 0.05), id="less than a millimetre is still a height"),
    ],
)
def test_which_slip_leads_to_a_height(
    read: float, unit_mm: float, tape: Tape, meant: float, slip: tuple[str, float] | None
) -> None:
    """Each height is given once, as its commonest slip, and never what was read."""
    assert told(read * unit_mm, tape, unit_mm=unit_mm).get(meant) == slip


@given(st.floats(min_value=1.0, max_value=2500.0), st.sampled_from(["inch", "metric"]), st.text(max_size=8))
def test_slips_of_any_reading(read_mm: float, tape: Any, entered: str) -> None:
    """From any reading the slips are positive heights, each once, none of them the reading itself."""
    found = slips(read_mm, tape, entered)
    heights = [round(slip.true_mm, 6) for slip in found]
    assert len(set(heights)) == len(heights)
    assert all(height > 0 and abs(height - read_mm) > 9e-7 for height in heights)


def test_only_heights_within_the_bounds_are_given_both_ends_counted() -> None:
    """What the plane can be bent to is given to its ends, and nothing beyond them."""
    assert [s.true_mm for s in slips(774.0, "metric", "", (764.0, 784.0))] == [764.0, 784.0, 769.0, 779.0]
    assert [s.true_mm for s in slips(774.0, "metric", "", (764.1, 783.9))] == [769.0, 779.0]
