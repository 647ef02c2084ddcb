"""The dipped beam: published aims and screen drops, the worked case, levelling, marks on a wall, and two oracles."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import UFloat, ufloat, umath

from cornerwalk.assess.estimate import Budget, Estimate
from cornerwalk.assess.headlamp import (
    NO_BEAM,
    Beam,
    LampFacts,
    PredictionStatus,
    aim_of_mark,
    aim_of_percent,
    beam,
    percent_of_aim,
    prediction_holds,
    rule_height_mm,
)
from cornerwalk.assess.uncertainty import reading_u_mm
from cornerwalk.assess.verdict import Side, Verdict, judge
from cornerwalk.standards import Band, load_standards
from tests.support.known import known
from tests.support.units import IN

STANDARDS = load_standards()


def against_band(aim_percent: float, U_percent: float, band: Band) -> set[Verdict]:
    """What each limit of a band says of an aim."""
    sides: tuple[tuple[float | None, Side], ...] = ((band.upper_percent, "upper"), (band.lower_percent, "lower"))
    return {judge(aim_percent, limit, U_percent, side) for limit, side in sides if limit is not None}


def drop_mm(degrees: float, distance_mm: float) -> float:
    """How far a level beam's cut-off moves down a screen when the aim goes down by so many degrees."""
    lamp = LampFacts(screen_mm=Estimate(distance_mm), aim_deg=Estimate(0.0))
    wheelbase_mm = 3000.0
    tilted = beam(Estimate(0.0), Estimate(wheelbase_mm * math.tan(math.radians(degrees))), Estimate(wheelbase_mm), lamp)
    return -known(tilted.shift_mm).value


def shift(front: float, rear: float, wheelbase: float, screen: float, aim: float = 0.0) -> float:
    lamp = LampFacts(screen_mm=Estimate(screen), aim_deg=Estimate(aim))
    return known(beam(Estimate(front), Estimate(rear), Estimate(wheelbase), lamp).shift_mm).value


# Source: a published service-specification table, headlamp aiming at 7.62 m (seen).
@pytest.mark.parametrize(
    ("degrees", "published_mm", "published_in", "digits_in"),
    [
        (0.4, 53.2, 2.1, 1),
        (0.38, 50.5, 2.0, 1),
        (0.95, 126.4, 5.0, 1),
        (2.0, 266.1, 10.5, 1),
        (1.15, 153.0, 6.02, 2),
        (0.75, 99.8, 3.93, 2),
    ],
)
def test_published_screen_drops(degrees: float, published_mm: float, published_in: float, digits_in: int) -> None:
    """The drop at 7.62 m agrees with a printed aiming table to its last digit, in millimetres and in inches."""
    assert round(drop_mm(degrees, 7620.0), 1) == published_mm
    assert round(drop_mm(degrees, 7620.0) / IN, digits_in) == published_in


# Source: FMVSS 108 S14.2.5.5.3.1 (0.4°), S7.8.5.2(a)(2)(iv) (0.76°, "4 in at 25 ft"), S14.2.5.5 (¼°), second-hand;
# NHTSA aiam4660 (1.2° of floor), seen; drops derived.
@pytest.mark.parametrize(
    ("degrees", "inches_at_25_ft"), [(0.4, 2.0944), (0.76, 3.9796), (0.25, 1.3090), (1.2, 6.2841), (1.0, 5.2365)]
)
def test_federal_angles_at_25_feet(degrees: float, inches_at_25_ft: float) -> None:
    """The angles of the US texts as inches on a screen at 25 ft."""
    assert drop_mm(degrees, 300.0) == pytest.approx(inches_at_25_ft, abs=5e-5)


# Source: derived from the same: 0.4° is 53.198 mm at 7.62 m, 0.6981 %, 69.81 mm at 10 m; 1.2° is 2.0947 %; 1° is
# 1.7455 %, 133.008 mm at 7.62 m and 174.551 mm at 10 m.
def test_one_aim_in_every_unit() -> None:
    """An aim in degrees, per cent and millimetres on a screen is one aim."""
    assert drop_mm(0.4, 7620.0) == pytest.approx(53.198, abs=5e-4)
    assert drop_mm(0.4, 10_000.0) == pytest.approx(69.81, abs=5e-3)
    assert drop_mm(1.0, 7620.0) == pytest.approx(133.008, abs=5e-4)
    assert drop_mm(1.0, 10_000.0) == pytest.approx(174.551, abs=5e-4)
    for degrees, percent in ((0.4, 0.6981), (1.2, 2.0947), (1.0, 1.7455)):
        assert percent_of_aim(Estimate(degrees)).value == pytest.approx(percent, abs=5e-5)


# Source: annex of UN R48 as quoted (second-hand): for small angles 1 % is 10 mrad; angles derived.
@pytest.mark.parametrize(("percent", "degrees"), [(1.0, 0.572939), (0.5, 0.286477), (2.5, 1.432096), (2.75, 1.575237)])
def test_per_cent_is_a_tangent(percent: float, degrees: float) -> None:
    """Trap: 1 % is 0.572939° and not 0.57° exactly; 1 % is 10 mm in every metre."""
    assert aim_of_percent(Estimate(percent)).value == pytest.approx(degrees, abs=5e-7)
    assert percent_of_aim(aim_of_percent(Estimate(percent))).value == pytest.approx(percent, rel=1e-12)
    assert drop_mm(degrees, 10_000.0) == pytest.approx(100 * percent, abs=2e-4)


# Source: 4 in at 25 ft (SAE J599, memory), 100 mm at 7.6 m (the same, metric), 4 in at 10 ft (Utah, seen), 3 in at 25
# ft (WAC 204-21-040, seen), 5 in at 25 ft (NJ 39:3-57, seen), 2 in at 25 ft (a published aiming procedure, seen).
@pytest.mark.parametrize(
    ("mark", "screen", "degrees", "percent"),
    [
        (4.0, 300.0, 0.76390, 1.3333),
        (100.0, 7600.0, 0.75385, 1.3158),
        (4.0, 120.0, 1.90915, 3.3333),
        (3.0, 300.0, 0.57294, 1.0000),
        (5.0, 300.0, 0.95484, 1.6667),
        (2.0, 300.0, 0.38197, 0.6667),
    ],
)
def test_marks_on_a_screen(mark: float, screen: float, degrees: float, percent: float) -> None:
    """Published marks at published distances as angles; 100 mm at 7.6 m is not 4 in at 25 ft."""
    aim = known(aim_of_mark(Estimate(mark), Estimate(screen)))
    assert aim.value == pytest.approx(degrees, abs=5e-6)
    assert percent_of_aim(aim).value == pytest.approx(percent, abs=5e-5)


# Source: Utah Admin. Code R714-160-13(1) (seen): 4 in at 10 ft; the same at 25 ft (SAE J599, memory).
def test_same_beam_under_two_screens() -> None:
    """Trap: a beam 5 in high at 25 ft is beyond 4 in there, and within 4 in at 10 ft."""
    nominal = known(Estimate(-0.4))
    high = percent_of_aim(Estimate(math.degrees(math.atan(math.tan(math.radians(nominal.value)) + 5 / 300))))
    for rule_id, verdicts in (("us-4in-25ft", {"fail", "pass"}), ("us-utah-10ft", {"pass"})):
        assert against_band(high.value, 0.04, known(STANDARDS.aim_rule(rule_id).band_percent())) == verdicts


# Source: UN R48, 09 series (second-hand) and up to the 08 series (memory): h = 0.8 m, beam 2.3 % down.
def test_same_beam_under_two_series() -> None:
    """Trap: 2.3 % down from 0.8 m passes the old bands and fails the new formula."""
    for rule_id, verdicts in (("un-r48-08", {"pass"}), ("un-r48-09", {"fail", "pass"})):
        assert against_band(-2.3, 0.08, known(STANDARDS.aim_rule(rule_id).band_percent(800.0))) == verdicts


# Source: 49 CFR 571.108 S6.1.4 (lamp centre); UN R48 (lower edge of the lit surface).
def test_each_rule_takes_its_own_height() -> None:
    """Trap: the height that a rule's limits depend on is the lamp centre's or the lower edge's, never the other."""
    assert rule_height_mm(STANDARDS.aim_rule("uk-mot"), 724.0, 650.0) == 724.0
    assert rule_height_mm(STANDARDS.aim_rule("un-r48-09"), 724.0, 650.0) == 650.0
    assert rule_height_mm(STANDARDS.aim_rule("un-r48-09"), 724.0, None) is None


# Source: a published torsion-bar example's heights (seen), front + 0.5 in, rear − 2.0 in; shifts derived, level lamps.
@pytest.mark.parametrize(
    ("wheelbase", "front", "rear", "screen", "expected"),
    [
        (120.0, 0.5, -2.0, 300.0, 6.2500),
        (130.0, 0.5, -2.0, 300.0, 5.7692),
        (140.0, 0.5, -2.0, 300.0, 5.3571),
        (3000.0, 10.0, -50.0, 7620.0, 6.0 * IN),
        (3000.0, 10.0, -50.0, 10_000.0, 200.0),
        (3200.0, 6.0, -38.0, 7620.0, 4.1250 * IN),
        (3200.0, 6.0, -38.0, 10_000.0, 137.5),
    ],
)
def test_shift_of_published_heights(
    wheelbase: float, front: float, rear: float, screen: float, expected: float
) -> None:
    """A level beam's shift is the screen's distance times the body's slope."""
    assert shift(front, rear, wheelbase, screen) == pytest.approx(expected, abs=5e-5)


# Source: derived: a floor 5 mm off over 3000 mm is 0.5000 in at 25 ft.
def test_uneven_floor() -> None:
    """What an uneven floor would feign."""
    assert shift(5.0, 0.0, 3000.0, 7620.0) / IN == pytest.approx(0.5000, abs=5e-5)


# Source: HSRI report on headlamp aim, abstract (seen): load "usually raised the beam".
def test_load_raises_the_beam() -> None:
    """The rear going down raises the beam; it does so by less on a longer wheelbase."""
    assert shift(0.0, -25.0, 3000.0, 7620.0) > shift(0.0, -25.0, 3500.0, 7620.0) > 0


U_AXLE = reading_u_mm(1 / 16, 1 / 32)
WORKED_LAMP = LampFacts(
    screen_mm=Estimate(300.0), aim_deg=Estimate(-0.4), height_mm=Estimate(28.5), ahead_mm=Estimate(31.0)
)


def worked(rear: float, front: float = 0.25) -> Beam:
    return beam(Estimate(front, U_AXLE), Estimate(rear, U_AXLE), Estimate(119.0), WORKED_LAMP)


def test_reach_says_when_it_cannot_be_sure() -> None:
    """While level lies within U of the aim there is no ± of the reach, only the nearest it can be."""
    nearly = worked(-0.38)
    sure = worked(0.0, front=0.0)
    assert known(nearly.aim_deg).value < 0
    for reach, light in ((known(nearly.reach), nearly), (known(sure.reach), sure)):
        aim = known(light.aim_deg)
        assert (reach.u_mm is None) == (-aim.value <= aim.U)
        assert 0 < reach.nearest_mm <= reach.at_mm
    closer = worked(-0.56)
    assert known(closer.reach).u_mm is None


def same(got: Estimate | None, oracle: UFloat) -> None:
    """Value and u agree with the `uncertainties` package to 1e-9."""
    assert got is not None
    assert got.value == pytest.approx(oracle.nominal_value, rel=1e-9, abs=1e-12)
    assert got.u == pytest.approx(oracle.std_dev, rel=1e-9, abs=1e-12)


def test_uncertainties_against_an_independent_package() -> None:
    """With every input unsure, also those that s and r share, each u agrees with `uncertainties` to 1e-9."""
    rng = np.random.default_rng(108)
    reaches = 0
    for _ in range(400):
        front, rear = ufloat(rng.normal(0, 20), rng.uniform(0.2, 2)), ufloat(rng.normal(-15, 20), rng.uniform(0.2, 2))
        wheelbase, screen = ufloat(rng.uniform(2000, 4500), 3.0), ufloat(rng.choice([3000.0, 7620.0, 10_000.0]), 5.0)
        aim, height = ufloat(rng.uniform(-1.5, 0.2), 0.05), ufloat(rng.uniform(560, 1300), 2.0)
        ahead = ufloat(rng.uniform(200, 1000), 6.0)
        lamp = LampFacts(
            screen_mm=_estimate(screen), aim_deg=_estimate(aim), height_mm=_estimate(height), ahead_mm=_estimate(ahead)
        )
        light = beam(_estimate(front), _estimate(rear), _estimate(wheelbase), lamp)
        pitch = umath.atan((front - rear) / wheelbase)
        now = umath.radians(aim) + pitch
        s = screen * (umath.tan(now) - umath.tan(umath.radians(aim)))
        r = front + ahead * (front - rear) / wheelbase
        same(light.shift_mm, s)
        same(light.rise_mm, r)
        same(light.wall_mm, s + r)
        same(light.aim_deg, umath.degrees(now))
        same(light.aim_percent, 100 * umath.tan(now))
        shares = Budget(known(light.shift_mm)).contributions().values()
        assert math.hypot(*shares) == pytest.approx(known(light.shift_mm).u, rel=1e-12)
        if light.reach is not None:
            oracle = (height + r) / umath.tan(-now)
            assert light.reach.at_mm == pytest.approx(oracle.nominal_value, rel=1e-9)
            if light.reach.u_mm is not None:
                assert light.reach.u_mm == pytest.approx(oracle.std_dev, rel=1e-9)
                reaches += 1
    assert reaches > 50


def _estimate(number: UFloat) -> Estimate:
    return Estimate(number.nominal_value, number.std_dev)


def test_uncertainties_against_simulated_readings() -> None:
    """Beams reckoned from rounded, hand-placed readings scatter as u says, within 1 % (200,000 draws)."""
    rng = np.random.default_rng(48)
    graduation, place = 1.5875, 0.79375
    true = rng.uniform(600, 800, (200_000, 2, 4))
    error = np.round((true + rng.normal(0, place, true.shape)) / graduation) * graduation - true
    moved = error[:, 1] - error[:, 0]
    front, rear = 6.0 + moved[:, :2].mean(axis=1), -39.0 + moved[:, 2:].mean(axis=1)
    wheelbase, screen, ahead, aim = 3022.6, 7620.0, 787.4, math.radians(-0.4)
    s = screen * (np.tan(aim + np.arctan((front - rear) / wheelbase)) - math.tan(aim))
    r = front + ahead * (front - rear) / wheelbase
    u = reading_u_mm(graduation, place)
    lamp = LampFacts(
        screen_mm=Estimate(screen), aim_deg=Estimate(-0.4), height_mm=Estimate(724.0), ahead_mm=Estimate(ahead)
    )
    light = beam(Estimate(6.0, u), Estimate(-39.0, u), Estimate(wheelbase), lamp)
    scatter = {
        "shift": s.std() / known(light.shift_mm).u,
        "rise": r.std() / known(light.rise_mm).u,
        "wall": (s + r).std() / known(light.wall_mm).u,
    }
    assert scatter == pytest.approx(dict.fromkeys(scatter, 1.0), abs=0.01)
    not_independent = math.hypot(known(light.shift_mm).u, known(light.rise_mm).u)
    assert known(light.wall_mm).u > 1.2 * not_independent


@given(st.floats(-60, 60), st.floats(-120, 60), st.floats(1800, 5500), st.floats(0.01, 2.0))
def test_beam_per_millimetre_of_rear_height(front: float, rear: float, wheelbase: float, step: float) -> None:
    """Raising the rear by a step moves the beam by that step times what is said per millimetre, to second order."""
    lamp = LampFacts(screen_mm=Estimate(7620.0), aim_deg=Estimate(-0.4), ahead_mm=Estimate(787.0))
    now, then = (beam(Estimate(front), Estimate(r), Estimate(wheelbase), lamp) for r in (rear, rear + step))
    curve = 7620.0 * (step / wheelbase) ** 2
    moved = known(then.shift_mm).value - known(now.shift_mm).value
    assert moved == pytest.approx(step * known(now.shift_mm_per_rear_mm), abs=curve + 1e-6)


def test_few_facts_still_give_what_they_can() -> None:
    """Without the lamp's height, place or aim the shift is still told, and what is not known is None."""
    bare = beam(Estimate(0.25), Estimate(-1.53125), Estimate(119.0), LampFacts(screen_mm=Estimate(300.0)))
    assert known(bare.shift_mm).value == pytest.approx(known(worked(-1.53125).shift_mm).value, rel=1e-3)
    assert (bare.rise_mm, bare.wall_mm, bare.aim_deg, bare.reach, bare.above_level) == (None, None, None, None, None)
    assert beam(None, Estimate(0.0), Estimate(119.0), WORKED_LAMP) == NO_BEAM
    assert beam(Estimate(0.0), Estimate(0.0), None, WORKED_LAMP) == NO_BEAM


@given(*[st.floats(allow_nan=True, allow_infinity=True)] * 7)
def test_absurd_inputs_give_no_nan(
    front: float, rear: float, wheelbase: float, screen: float, aim: float, height: float, ahead: float
) -> None:
    """Whatever is handed in, every figure is a finite number or not there."""
    lamp = LampFacts(
        screen_mm=Estimate(screen), aim_deg=Estimate(aim), height_mm=Estimate(height), ahead_mm=Estimate(ahead)
    )
    light = beam(Estimate(front, 0.5), Estimate(rear, 0.5), Estimate(wheelbase), lamp)
    for figure in (light.shift_mm, light.rise_mm, light.wall_mm, light.aim_deg, light.aim_percent):
        assert figure is None or (math.isfinite(figure.value) and math.isfinite(figure.u))
    if light.reach is not None:
        assert math.isfinite(light.reach.at_mm)
        assert math.isfinite(light.reach.nearest_mm)
        assert light.reach.u_mm is None or math.isfinite(light.reach.u_mm)


# Source: annex of UN R48 as quoted (second-hand): without a levelling system the beam tilts with the vehicle. An
# automatic device moves it by itself, a manual one when its dial is turned: common practice, no source.
@pytest.mark.parametrize(
    ("levelling", "then", "now", "held"),
    [
        ("none", None, None, PredictionStatus("yes", "no levelling")),
        ("none", "0", "3", PredictionStatus("yes", "no levelling")),
        ("automatic", None, None, PredictionStatus("no", "automatic levelling")),
        ("automatic", "0", "0", PredictionStatus("no", "automatic levelling")),
        ("unknown", None, None, PredictionStatus("unknown", "levelling not stated")),
        ("unknown", "0", "0", PredictionStatus("unknown", "levelling not stated")),
        ("something else", None, None, PredictionStatus("unknown", "levelling not stated")),
        ("manual", None, "0", PredictionStatus("unknown", "dial not recorded")),
        ("manual", "0", None, PredictionStatus("unknown", "dial not recorded")),
        ("manual", "0", "0", PredictionStatus("yes", "dial as before")),
        ("manual", "0", "2", PredictionStatus("no", "dial moved")),
    ],
)
def test_levelling(levelling: Any, then: str | None, now: str | None, held: PredictionStatus) -> None:
    """The prediction holds only where the beam tilts with the body, and says why; not stated is unknown, never yes."""
    assert prediction_holds(levelling, then, now) == held
