"""What another pressure, load or wheelbase would do, against the readings it starts from."""

from __future__ import annotations

import math

import pytest
from uncertainties import ufloat, umath

from cornerwalk.assess.what_if import Change, basis, what_if
from tests.support.jobs import SEPARATE_LINES, WORKED_CASE, job_of, standards

IN = 25.4
PSI = 6.894757293168361  # exact definitions of pound, g_n and inch
LBF = 4.4482216152605


def test_what_if_meets_the_readings() -> None:
    """Asked for a pressure that was tried on the line, the what-if gives the reading of that trial, and its beam."""
    job = job_of(WORKED_CASE)
    start = basis(job.session, standards())
    expected = what_if(start, Change(pressure_kPa=25 * PSI))
    trial = job.assessment.stage(("fitted", 2))
    assert trial is not None
    assert trial.lamp is not None
    assert expected.rear_mm == pytest.approx(trial.rear_mm)
    assert expected.shift_mm == pytest.approx(trial.lamp.shift_mm)


# Source: arithmetic: a line through two trials passes through both, so that what must be told is the mean of the rear
# corners as read (708 and 711 mm, unloaded 716 and 718), and midway between the trials that of 703.5 and 707.
@pytest.mark.parametrize(("sides_kPa", "rear_mm"), [(None, -7.5), ((180.0, 150.0), -7.5), ((150.0, 125.0), -11.75)])
def test_what_if_of_separate_lines(sides_kPa: tuple[float, float] | None, rear_mm: float) -> None:
    """With a line to each bag every side goes by its own trials, and the rear is the mean of the two."""
    job = job_of(SEPARATE_LINES)
    expected = what_if(basis(job.session, standards()), Change(sides_kPa=sides_kPa))
    assert expected.rear_mm == pytest.approx(rear_mm, abs=1e-9)
    assert what_if(basis(job_of(WORKED_CASE).session, standards()), Change(sides_kPa=(100.0, 90.0))).needs is not None


# Source: worked case's glovebox table: 300 lb, 1/4 in allowed, 20.610 psi.
def test_what_if_meets_the_table() -> None:
    """The table's pressure for another load, asked back as a what-if, leaves the rear the allowed drop."""
    job = job_of(WORKED_CASE)
    row = job.assessment.pressure_table[0]
    expected = what_if(basis(job.session, standards()), Change(pressure_kPa=row.pressure_kPa, tongue_N=row.load_N))
    assert expected.rear_mm == pytest.approx(-0.25 * IN)
    assert expected.rear_gain_N == pytest.approx(300 * LBF * 165 / 119)


# Oracle: the `uncertainties` package through the plain formulas. The gains in proportion to the tongue: 300 lb of 410.
def test_another_tongue_without_air_against_automatic_propagation() -> None:
    """A lighter tongue lifts and lowers both ends in its proportion; pitch, beam and every u follow from that."""
    sheet = WORKED_CASE[: WORKED_CASE.index('[[stage]]\nname = "fitted"')]
    start = basis(job_of(sheet).session, standards())
    expected = what_if(start, Change(tongue_N=300 * LBF))
    u_mm = IN * math.sqrt((1 / 16) ** 2 / 12 + (1 / 32) ** 2)
    then = [ufloat(x * IN, u_mm) for x in (28.625, 28.6875, 29.1875, 29.25)]
    now = [ufloat(x * IN, u_mm) for x in (28.875, 28.9375, 27.625, 27.75)]
    moved = [b - a for a, b in zip(then, now, strict=True)]
    front, rear = (moved[0] + moved[1]) / 2 * 300 / 410, (moved[2] + moved[3]) / 2 * 300 / 410
    tilt = umath.atan((front - rear) / (119 * IN))
    aim = math.radians(-0.4)  # the rule's nominal of the worked case: 2.1 in at 25 ft
    for value, u, oracle in (
        (expected.front_mm, expected.u_front_mm, front),
        (expected.rear_mm, expected.u_rear_mm, rear),
        (expected.nose_up_deg, expected.u_nose_up_deg, umath.degrees(tilt)),
        (expected.aim_deg, expected.u_aim_deg, umath.degrees(tilt + aim)),
        (expected.shift_mm, expected.u_shift_mm, 7620 * (umath.tan(tilt + aim) - math.tan(aim))),
    ):
        assert value == pytest.approx(oracle.nominal_value, rel=1e-6)
        assert u == pytest.approx(oracle.std_dev, rel=1e-6)
    assert expected.ball_mm == pytest.approx((rear - (front - rear) * 46 / 119).nominal_value, rel=1e-9)
    # By hand: levers of 165/119 and 46/119 of the tongue.
    assert expected.rear_gain_N == pytest.approx(300 * LBF * 165 / 119, rel=1e-9)
    assert expected.front_gain_N == pytest.approx(-300 * LBF * 46 / 119, rel=1e-9)
    assert (expected.beyond_trials, expected.above_unloaded, expected.needs) == (False, False, None)


# By hand: with another overhang b the rear takes (L + b)/L of the tongue and the front gives up b/L.
def test_another_overhang_and_wheelbase() -> None:
    """A ball nearer to the axle, or a longer wheelbase, changes what each axle gains as the lever says."""
    start = basis(job_of(WORKED_CASE).session, standards())
    for change, wheelbase, overhang in (
        (Change(overhang_mm=40 * IN), 119, 40),
        (Change(wheelbase_mm=130 * IN), 130, 46),
    ):
        expected = what_if(start, change)
        assert expected.rear_gain_N == pytest.approx(410 * LBF * (wheelbase + overhang) / wheelbase, rel=1e-9)
        assert expected.front_gain_N == pytest.approx(-410 * LBF * overhang / wheelbase, rel=1e-9)
        assert expected.front_mm == pytest.approx(0.25 * IN * (overhang / wheelbase) / (46 / 119), rel=1e-9)


def test_what_is_missing_is_named() -> None:
    """Without heights, loads, or two trials, a what-if says which of them it wants and gives no figure."""
    bare = WORKED_CASE[: WORKED_CASE.index('[[stage]]\nname = "loaded"')]
    one = WORKED_CASE[: WORKED_CASE.index('[[stage]]\nname = "fitted"\npressure = "25 psi"')]
    unplaced = WORKED_CASE.replace('wheelbase = "119 in"\n', "")
    for sheet, change, needs in (
        (bare, Change(), "the four heights unloaded and loaded"),
        (one, Change(pressure_kPa=20 * PSI), "two trials at different pressures"),
        (unplaced, Change(tongue_N=300 * LBF), "the loads with their places, and the wheelbase"),
        (unplaced, Change(overhang_mm=40 * IN), "the loads with their places, and the wheelbase"),
    ):
        expected = what_if(basis(job_of(sheet).session, standards()), change)
        assert (expected.needs, expected.rear_mm, expected.front_mm) == (needs, None, None)


@pytest.mark.parametrize(
    ("psi", "told"),
    [(9.9, (True, False)), (10.1, (False, False)), (29.9, (False, False)), (30.1, (True, False)), (60.0, (True, True))],
)
def test_beyond_what_was_tried(psi: float, told: tuple[bool, bool]) -> None:
    """More than half the span of the trials, 15 to 25 psi, beyond them it says so; and where the rear would stand high.

    By hand: the line rises 0.04375 in/psi, so at 60 psi the rear stands 1.0625 in above its unloaded height.
    """
    expected = what_if(basis(job_of(WORKED_CASE).session, standards()), Change(pressure_kPa=psi * PSI))
    assert (expected.beyond_trials, expected.above_unloaded) == told
    assert expected.rear_mm == pytest.approx((-0.46875 + (psi - 25) * 0.04375) * IN, abs=1e-9)
