"""The body as a plane: published pitches, axis standards, the worked case, a least-squares plane, and two oracles."""

from __future__ import annotations

import math

import numpy as np
import pytest
import scipy.linalg
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import UFloat, ufloat, umath

from cornerwalk.assess.attitude import (
    Attitude,
    attitude,
    change_at_mm,
    changes,
    difference,
    expected_fourth_mm,
    lean_deg,
    stance,
    tilt_deg,
    warp_mm,
)
from cornerwalk.assess.estimate import ErrorSource, Estimate, Share
from cornerwalk.assess.uncertainty import reading_u_mm
from cornerwalk.session.stages import CORNERS, Corner

U_READ_IN = reading_u_mm(1 / 16, 1 / 32)

Heights = dict[Corner, Estimate | None]


def inches(lf: float, rf: float, rr: float, lr: float) -> Heights:
    """Four heights of the worked case, in inches with their u; a change of unit changes nothing."""
    return {corner: Estimate(h, U_READ_IN) for corner, h in zip(CORNERS, (lf, rf, rr, lr), strict=True)}


def known(estimate: Estimate | None) -> Estimate:
    assert estimate is not None
    return estimate


def same(got: Estimate | None, oracle: UFloat) -> None:
    """Value and u agree with the `uncertainties` package to 1e-9."""
    assert got is not None
    assert got.value == pytest.approx(oracle.nominal_value, rel=1e-9, abs=1e-12)
    assert got.u == pytest.approx(oracle.std_dev, rel=1e-9, abs=1e-12)


# Source: heights of a published torsion-bar example (seen): front 22 → 22.5 in, rear 22 → 20 in; pitches derived.
@pytest.mark.parametrize(
    ("wheelbase", "front", "rear", "degrees"),
    [
        (120.0, 0.5, -2.0, 1.19349),
        (130.0, 0.5, -2.0, 1.10171),
        (140.0, 0.5, -2.0, 1.02303),
        (3000.0, 10.0, -50.0, 1.14576),
        (3200.0, 6.0, -38.0, 0.78777),
    ],
)
def test_pitch_of_published_heights(wheelbase: float, front: float, rear: float, degrees: float) -> None:
    """Nose-up change of the published heights on five wheelbases."""
    pitch = known(tilt_deg(Estimate(front), Estimate(rear), Estimate(wheelbase)))
    assert pitch.value == pytest.approx(degrees, abs=5e-6)


# Source: derived: 20 mm over a 1600 mm track leans by 0.716160°; a floor 5 mm off over 3000 mm pitches by 0.09549°.
def test_lean_and_floor_examples() -> None:
    """The published lean and floor examples."""
    assert known(tilt_deg(Estimate(20.0), Estimate(0.0), Estimate(1600.0))).value == pytest.approx(0.716160, abs=5e-7)
    assert known(tilt_deg(Estimate(5.0), Estimate(0.0), Estimate(3000.0))).value == pytest.approx(0.09549, abs=5e-6)


# Source: derived from u = g/√12: pitch change from eight 1/16 in readings, L = 3000 mm: u = 0.012378°.
def test_pitch_uncertainty_of_eight_readings() -> None:
    """Eight readings of a 1/16 in tape make the pitch sure to 0.012378° (k = 1)."""
    before, now = ({corner: Estimate(0.0, 1.5875 / math.sqrt(12)) for corner in CORNERS} for _ in range(2))
    pitch = known(attitude(changes(now, before), Estimate(3000.0), None).nose_up_deg)
    assert pitch.u == pytest.approx(0.012378, abs=5e-7)


UNLOADED = inches(28.625, 28.6875, 29.1875, 29.25)
STAGES = {
    "loaded": inches(28.875, 28.9375, 27.625, 27.75),
    "15 psi": inches(28.875, 28.9375, 28.25, 28.375),
    "25 psi": inches(28.875, 28.9375, 28.6875, 28.8125),
}


def worked(stage: str) -> Attitude:
    return attitude(changes(STAGES[stage], UNLOADED), Estimate(119.0), Estimate(66.0))


# Source: worked case (invented vehicle, every figure recomputed independently). The ball at 25 psi by hand:
# −0.46875 − 0.71875 · 46/119 = −0.74658613; a sheet of the case that prints −0.746587 has its last digit wrong.
@pytest.mark.parametrize(
    ("stage", "rear", "nose_up", "u_nose_up", "ball"),
    [
        ("loaded", -1.53125, 0.857567, 0.024565, -2.219800),
        ("15 psi", -0.90625, 0.556690, 0.024568, -1.353204),
        ("25 psi", -0.46875, 0.346057, 0.024569, -0.746586),
    ],
)
def test_worked_case(stage: str, rear: float, nose_up: float, u_nose_up: float, ball: float) -> None:
    """Every printed figure of the body in the worked case, to its last digit."""
    body = worked(stage)
    assert known(body.front_mm).value == 0.25
    assert known(body.rear_mm).value == rear
    assert known(body.nose_up_deg).value == pytest.approx(nose_up, abs=5e-7)
    assert known(body.nose_up_deg).u == pytest.approx(u_nose_up, abs=5e-7)
    assert known(body.left_up_deg).value == pytest.approx(0.027129, abs=5e-7)
    assert known(body.warp_mm).value == -0.015625
    assert known(body.warp_mm).u == pytest.approx(0.0255155, abs=5e-8)
    at_ball = change_at_mm(Estimate(-46.0), body.front_mm, body.rear_mm, Estimate(119.0))
    assert known(at_ball).value == pytest.approx(ball, abs=5e-7)
    assert known(changes(STAGES[stage], UNLOADED)["LF"]).u == pytest.approx(0.0510310, abs=5e-8)


# Invented, worked out by hand, atan(1.875/121) and atan(0.75/121): rear down 1 1/2 in, front up 3/8 in; afterwards rear
# down 3/8. L = 121 in.
def test_second_worked_check() -> None:
    """The second vehicle's pitches before and after."""
    for rear, degrees in ((-1.5, 0.887777), (-0.375, 0.355135)):
        tilt = known(tilt_deg(Estimate(0.375), Estimate(rear), Estimate(121.0)))
        assert tilt.value == pytest.approx(degrees, abs=5e-7)


def test_against_a_least_squares_plane() -> None:
    """On ten thousand random vehicles pitch, lean, warp and the ball's movement are those of the best plane.

    The oracle fits z = a + b·x + c·y through the four changes (scipy); its residuals are ± the warp.
    """
    rng = np.random.default_rng(8855)
    for _ in range(10_000):
        wheelbase, t, ahead = rng.uniform(1800, 5500), rng.uniform(1200, 2100), rng.uniform(-2500, 6000)
        moved = rng.normal(0.0, 60.0, 4)
        places = np.array([[1, wheelbase, t / 2], [1, wheelbase, -t / 2], [1, 0, -t / 2], [1, 0, t / 2]])
        (a, b, c), residual, _, _ = scipy.linalg.lstsq(places, moved)
        change: Heights = {corner: Estimate(float(z), 0.5) for corner, z in zip(CORNERS, moved, strict=True)}
        body = attitude(change, Estimate(wheelbase), Estimate(t))
        at = change_at_mm(Estimate(ahead), body.front_mm, body.rear_mm, Estimate(wheelbase))
        assert known(body.nose_up_deg).value == pytest.approx(math.degrees(math.atan(b)), rel=1e-9, abs=1e-10)
        assert known(body.left_up_deg).value == pytest.approx(math.degrees(math.atan(c)), rel=1e-9, abs=1e-10)
        assert known(at).value == pytest.approx(a + b * ahead, rel=1e-9, abs=1e-9)
        assert 4 * known(body.warp_mm).value ** 2 == pytest.approx(float(residual), rel=1e-6, abs=1e-9)


def test_uncertainties_against_an_independent_package() -> None:
    """With a different u at every corner and on every length, each u agrees with `uncertainties` to 1e-9."""
    rng = np.random.default_rng(670)
    for _ in range(300):
        u = rng.uniform(0.1, 3.0, 8)
        then = {c: ufloat(rng.uniform(500, 900), s) for c, s in zip(CORNERS, u[:4], strict=True)}
        now = {c: ufloat(rng.uniform(500, 900), s) for c, s in zip(CORNERS, u[4:], strict=True)}
        wheelbase, t, x = (
            ufloat(rng.uniform(2000, 4000), 3.0),
            ufloat(rng.uniform(1300, 1900), 4.0),
            ufloat(-1100.0, 5.0),
        )
        d = {c: now[c] - then[c] for c in CORNERS}
        front, rear = (d["LF"] + d["RF"]) / 2, (d["LR"] + d["RR"]) / 2
        left, right = (d["LF"] + d["LR"]) / 2, (d["RF"] + d["RR"]) / 2
        moved = changes(_estimates(now), _estimates(then))
        body = attitude(moved, _estimate(wheelbase), _estimate(t))
        stands = stance(_estimates(now))
        same(body.front_mm, front)
        same(body.rear_mm, rear)
        same(body.nose_up_deg, umath.degrees(umath.atan((front - rear) / wheelbase)))
        same(body.left_up_deg, umath.degrees(umath.atan((left - right) / t)))
        same(body.warp_mm, (d["LF"] - d["RF"] - d["LR"] + d["RR"]) / 4)
        same(
            change_at_mm(_estimate(x), body.front_mm, body.rear_mm, _estimate(wheelbase)),
            rear + (front - rear) * x / wheelbase,
        )
        same(stands.front_mm, (now["LF"] + now["RF"]) / 2)
        same(stands.rear_mm, (now["LR"] + now["RR"]) / 2)
        same(stands.rake_mm, (now["LF"] + now["RF"]) / 2 - (now["LR"] + now["RR"]) / 2)
        same(stands.side_front_mm, now["LF"] - now["RF"])
        same(stands.side_rear_mm, now["LR"] - now["RR"])
        for corner in CORNERS:
            sign = {"LF": 1, "RF": -1, "RR": 1, "LR": -1}
            others = sum(sign[other] * d[other] for other in CORNERS if other != corner)
            expected = expected_fourth_mm(corner, _estimates(now), _estimates(then))
            same(expected, then[corner] - sign[corner] * others)


def _estimate(number: UFloat) -> Estimate:
    return Estimate(number.nominal_value, number.std_dev)


def _estimates(numbers: dict[Corner, UFloat]) -> Heights:
    return {corner: _estimate(number) for corner, number in numbers.items()}


def test_uncertainties_against_simulated_readings() -> None:
    """Readings rounded to a tape's marks and placed by hand scatter as u says, within 1 % (200,000 draws)."""
    rng = np.random.default_rng(100)
    graduation, place, wheelbase, t = 1.5875, 0.79375, 3000.0, 1600.0
    true = rng.uniform(600, 800, (200_000, 2, 4))
    read = np.round((true + rng.normal(0, place, true.shape)) / graduation) * graduation
    error = (read - true)[:, 1] - (read - true)[:, 0]
    lf, rf, rr, lr = error.T
    u = reading_u_mm(graduation, place)
    before, now = ({corner: Estimate(0.0, u) for corner in CORNERS} for _ in range(2))
    body = attitude(changes(now, before), Estimate(wheelbase), Estimate(t))
    scatter = {
        "nose": np.degrees(np.arctan((lf + rf - rr - lr) / 2 / wheelbase)).std() / known(body.nose_up_deg).u,
        "lean": np.degrees(np.arctan((lf + lr - rf - rr) / 2 / t)).std() / known(body.left_up_deg).u,
        "warp": ((lf - rf - lr + rr) / 4).std() / known(body.warp_mm).u,
    }
    assert scatter == pytest.approx(dict.fromkeys(scatter, 1.0), abs=0.01)


@given(st.sets(st.sampled_from(CORNERS)), st.floats(allow_nan=True, allow_infinity=True))
def test_any_part_may_be_missing_or_absurd(there: set[Corner], length: float) -> None:
    """Whatever is missing, nothing raises and nothing is a NaN; what can be told without it is told."""
    heights: Heights = {corner: Estimate(700.0, 0.9) for corner in there}
    body = attitude(changes(heights, UNLOADED), Estimate(length), Estimate(length))
    for figure in (body.front_mm, body.rear_mm, body.nose_up_deg, body.left_up_deg, body.warp_mm):
        assert figure is None or (math.isfinite(figure.value) and math.isfinite(figure.u))
    assert (body.front_mm is not None) == ({"LF", "RF"} <= there)
    assert (body.warp_mm is not None) == (len(there) == 4)
    assert (stance(heights).side_rear_mm is not None) == ({"LR", "RR"} <= there)


@given(st.floats(min_value=-50, max_value=50), st.floats(min_value=-50, max_value=50), st.floats(-50, 50))
def test_a_rigid_body_has_no_warp(heave: float, pitch: float, roll: float) -> None:
    """However a plane moves, its warp is nought and the fourth corner is where the other three say."""
    sides: dict[Corner, tuple[int, int]] = {"LF": (1, 1), "RF": (1, -1), "RR": (-1, -1), "LR": (-1, 1)}
    then: Heights = {c: Estimate(700.0 + i, 0.5) for i, c in enumerate(CORNERS)}
    now: Heights = {
        c: Estimate(known(then[c]).value + heave + pitch * sides[c][0] + roll * sides[c][1], 0.5) for c in CORNERS
    }
    assert known(warp_mm(changes(now, then))).value == pytest.approx(0.0, abs=1e-9)
    for corner in CORNERS:
        three = {other: height for other, height in now.items() if other != corner}
        assert known(expected_fourth_mm(corner, three, then)).value == pytest.approx(known(now[corner]).value, abs=1e-9)


def test_two_stages_are_compared_without_the_readings_they_share() -> None:
    """From one stage to another the unloaded readings drop out: u is that of two readings, not of four."""
    step = changes(STAGES["25 psi"], STAGES["loaded"])
    assert known(step["RR"]).value == pytest.approx(1.0625)
    assert known(step["RR"]).u == pytest.approx(U_READ_IN * math.sqrt(2), rel=1e-12)
    from_unloaded = difference(changes(STAGES["25 psi"], UNLOADED)["RR"], changes(STAGES["loaded"], UNLOADED)["RR"])
    assert known(from_unloaded).value == pytest.approx(1.0625)
    assert known(from_unloaded).u == pytest.approx(U_READ_IN * math.sqrt(2), rel=1e-12)


# By hand: friction of 3 that both wheels of an axle share, and readings of 4 each: the mean of two is off by
# √(3² + 4²/2) = √17, while the difference of the two has no friction in it, √(4² + 4²).
def test_what_both_wheels_share_is_not_averaged_away() -> None:
    """It stays in the mean of the axle in full, and drops out of warp, lean and side to side."""
    shared = {"F": ErrorSource(Share("friction front")), "R": ErrorSource(Share("friction rear"))}
    heights: Heights = {c: Estimate.of_parts(700.0, {shared[c[1]]: 3.0, ErrorSource(): 4.0}) for c in CORNERS}
    stands = stance(heights)
    assert known(stands.front_mm).u == pytest.approx(math.sqrt(17))
    assert known(stands.side_rear_mm).u == pytest.approx(math.sqrt(32))
    assert known(warp_mm(heights)).u == pytest.approx(2.0)
    assert known(lean_deg(heights, Estimate(1600.0))).u == pytest.approx(math.degrees(4 / 1600))
