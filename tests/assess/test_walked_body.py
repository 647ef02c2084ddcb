"""How readings are weighed against what is known of bodies: a multivariate normal says the same, all at once."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt
import pytest
import scipy.stats

from cornerwalk.assess.rigid_body import SLIP_CHANCE, Correction, RigidBody, StageHeights, Tape, chi_square_bound, slips
from cornerwalk.assess.uncertainty import Estimate
from cornerwalk.session.stages import CORNERS

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
    settled = body.settling(1)
    assert settled is not None
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
