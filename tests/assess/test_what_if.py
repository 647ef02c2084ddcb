"""What another pressure, load or wheelbase would do, against the readings it starts from."""

from __future__ import annotations

import math

import pytest
from uncertainties import ufloat, umath

from cornerwalk.assess.what_if import WhatIfChange, basis, what_if
from tests.support.jobs import SEPARATE_LINES, WORKED_CASE, job_of, standards
from tests.support.units import IN, LBF, PSI


def test_what_if_meets_the_readings() -> None:
    """Asked for a pressure that was tried on the line, the what-if gives the reading of that trial, and its beam."""
    job = job_of(WORKED_CASE)
    start = basis(job.session, standards())
    expected = what_if(start, WhatIfChange(pressure_kPa=25 * PSI))
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
    expected = what_if(basis(job.session, standards()), WhatIfChange(sides_kPa=sides_kPa))
    assert expected.rear_mm == pytest.approx(rear_mm, abs=1e-9)
    assert (
        what_if(basis(job_of(WORKED_CASE).session, standards()), WhatIfChange(sides_kPa=(100.0, 90.0))).needs
        is not None
    )


# Source: worked case's glovebox table: 300 lb, 1/4 in allowed, 20.610 psi.
def test_what_if_meets_the_table() -> None:
    """The table's pressure for another load, asked back as a what-if, leaves the rear the allowed drop."""
    job = job_of(WORKED_CASE)
    row = job.assessment.pressure_table[0]
    expected = what_if(
        basis(job.session, standards()), WhatIfChange(pressure_kPa=row.pressure_kPa, tongue_N=row.load_N)
    )
    assert expected.rear_mm == pytest.approx(-0.25 * IN)
    assert expected.rear_gain_N == pytest.approx(300 * LBF * 165 / 119)


# Oracle: the `uncertainties` package through the plain formulas. The gains in proportion to the tongue: 300 lb of 410.
def test_another_tongue_without_air_against_automatic_propagation() -> None:
    """A lighter tongue lifts and lowers both ends in its proportion; pitch, beam and every u follow from that."""
    sheet = WORKED_CASE[: WORKED_CASE.index('[[stage]]\nname = "fitted"')]
    start = basis(job_of(sheet).session, standards())
    expected = what_if(start, WhatIfChange(tongue_N=300 * LBF))
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
        (WhatIfChange(overhang_mm=40 * IN), 119, 40),
        (WhatIfChange(wheelbase_mm=130 * IN), 130, 46),
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
        (bare, WhatIfChange(), "the four heights unloaded and loaded"),
        (one, WhatIfChange(pressure_kPa=20 * PSI), "two trials at different pressures"),
        (unplaced, WhatIfChange(tongue_N=300 * LBF), "the loads with their places, and the wheelbase"),
        (unplaced, WhatIfChange(overhang_mm=40 * IN), "the loads with their places, and the wheelbase"),
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
    expected = what_if(basis(job_of(WORKED_CASE).session, standards()), WhatIfChange(pressure_kPa=psi * PSI))
    assert (expected.beyond_trials, expected.above_unloaded) == told
    assert expected.rear_mm == pytest.approx((-0.46875 + (psi - 25) * 0.04375) * IN, abs=1e-9)


# By hand: the rear rises 0.04375 in/psi; at 39 psi it stands 0.14375 in up with u = √(0.0709² + 0.0255²) = 0.0754 in,
# at 40 psi 0.1875 in with u = √(0.0744² + 0.0255²) = 0.0786 in.
@pytest.mark.parametrize(("psi", "told"), [(39.0, (True, False)), (40.0, (True, True))])
def test_the_rear_stands_high_once_that_is_sure(psi: float, told: tuple[bool, bool]) -> None:
    """Above its unloaded height means by more than U = 2u."""
    expected = what_if(basis(job_of(WORKED_CASE).session, standards()), WhatIfChange(pressure_kPa=psi * PSI))
    assert (expected.beyond_trials, expected.above_unloaded) == told


# Oracle: the `uncertainties` package. G'/G = 300/410, the line through the two trials, ΔR' as the module's page says.
def test_another_tongue_on_air_against_automatic_propagation() -> None:
    """On air the rear follows line, load and pressure, each reading counted as often as it enters."""
    start = basis(job_of(WORKED_CASE).session, standards())
    expected = what_if(start, WhatIfChange(pressure_kPa=20 * PSI, tongue_N=300 * LBF))
    u_mm = IN * math.sqrt((1 / 16) ** 2 / 12 + (1 / 32) ** 2) / math.sqrt(2)
    unloaded, loaded, at_15, at_25 = (ufloat(x * IN, u_mm) for x in (29.21875, 27.6875, 28.3125, 28.75))
    on_air = at_15 + (at_25 - at_15) * (20 - 15) / (25 - 15)
    rear = on_air - loaded - (unloaded - loaded) * 300 / 410
    assert expected.rear_mm == pytest.approx(rear.nominal_value, rel=1e-9)
    assert expected.u_rear_mm == pytest.approx(rear.std_dev, rel=1e-9)


def test_a_line_to_each_side_has_the_u_of_both() -> None:
    """At a trial's pressures the rear's u is that of two means of two corners: u_read, as for the stage read there."""
    expected = what_if(basis(job_of(SEPARATE_LINES).session, standards()), WhatIfChange(sides_kPa=(180.0, 150.0)))
    assert expected.u_rear_mm == pytest.approx(math.sqrt(1 / 12 + (IN / 32) ** 2), rel=1e-9)


@pytest.mark.parametrize(
    ("sides_kPa", "beyond"), [((211.0, 150.0), True), ((180.0, 74.0), True), ((209.0, 76.0), False)]
)
def test_either_side_may_go_beyond_its_trials(sides_kPa: tuple[float, float], *, beyond: bool) -> None:
    """Left was tried at 120 and 180, right at 100 and 150 kPa: half of each span beyond is told of either."""
    expected = what_if(basis(job_of(SEPARATE_LINES).session, standards()), WhatIfChange(sides_kPa=sides_kPa))
    assert expected.beyond_trials is beyond


ROAD_TEST = '[[stage]]\nname = "road-test"\npressure = "20 psi"\nRR = "28 1/2"\nLR = "28 5/8"\n'
NO_PRESSURE = '[[stage]]\nname = "fitted"\nRR = "28 1/2"\nLR = "28 5/8"\n'


@pytest.mark.parametrize("more", ["", ROAD_TEST, NO_PRESSURE])
def test_what_is_not_changed_stays_as_at_the_last_trial(more: str) -> None:
    """Asked for nothing, the rear stands on the air of the last trial whose pressure is known, 15/32 in down."""
    sheet = WORKED_CASE.replace("[leak]", more + "[leak]")
    expected = what_if(basis(job_of(sheet).session, standards()), WhatIfChange())
    assert expected.rear_mm == pytest.approx(-0.46875 * IN, abs=1e-9)
    assert (expected.needs, expected.beyond_trials) == (None, False)


def test_a_side_whose_pressure_was_not_read_leaves_the_trial_before() -> None:
    """A last trial with one pressure only says nothing of the other: both are of the trial before, 7.5 mm down."""
    sheet = SEPARATE_LINES.replace(
        "[[weighing]]", '[[stage]]\nname = "fitted"\npressure_left = "150 kPa"\n[[weighing]]', 1
    )
    expected = what_if(basis(job_of(sheet).session, standards()), WhatIfChange())
    assert expected.rear_mm == pytest.approx(-7.5, abs=1e-9)


def test_one_trial_has_no_line_but_the_vehicle_still_stands() -> None:
    """Before a second trial what is asked without pressure is answered on the springs alone: 1 17/32 in down."""
    one = WORKED_CASE[: WORKED_CASE.index('[[stage]]\nname = "fitted"\npressure = "25 psi"')]
    expected = what_if(basis(job_of(one).session, standards()), WhatIfChange())
    assert expected.rear_mm == pytest.approx(-1.53125 * IN)


@pytest.mark.parametrize(
    "right_kPa", [pytest.param("100 kPa", id="right tried at one pressure"), pytest.param("", id="right never read")]
)
def test_two_sides_want_a_line_each(right_kPa: str) -> None:
    """One side with a line and one without is not enough to say how the rear would stand."""
    right = f'pressure_right = "{right_kPa}"\n' if right_kPa else ""
    sheet = SEPARATE_LINES.replace('pressure_right = "100 kPa"\n', right).replace('pressure_right = "150 kPa"\n', right)
    expected = what_if(basis(job_of(sheet).session, standards()), WhatIfChange(sides_kPa=(150.0, 100.0)))
    assert (expected.needs, expected.rear_mm) == ("two trials at different pressures", None)


# By hand: rear gains (L + b)/L; the drop without air is 1.53125 in on 46 in, the air lifts as it did: 1.0625 in.
def test_another_overhang_moves_rear_and_ball_with_its_lever() -> None:
    """A ball 40 in behind the axle: 159/165 of the drop, 40/46 of what the front rose, and a nearer ball."""
    expected = what_if(basis(job_of(WORKED_CASE).session, standards()), WhatIfChange(overhang_mm=40 * IN))
    front, rear = 0.25 * 40 / 46, 1.0625 - 1.53125 * 159 / 165
    assert expected.rear_mm == pytest.approx(rear * IN, rel=1e-9)
    assert expected.ball_mm == pytest.approx((rear - (front - rear) * 40 / 119) * IN, rel=1e-9)


# By hand: 200 lb over the rear axle press on it alone; the tongue falls from 410 lb at 165/119 to 300 lb.
CARGO = '[[load]]\nname = "tools over the rear axle"\nweight = "200 lb"\nbehind_rear_axle = "0 in"\n'


def test_a_tongue_changes_and_the_other_loads_stay() -> None:
    """Only the trailer's load is another; what lies over the rear axle presses as before."""
    sheet = WORKED_CASE.replace("[[stage]]", CARGO + "[[stage]]", 1)
    expected = what_if(basis(job_of(sheet).session, standards()), WhatIfChange(tongue_N=300 * LBF))
    assert expected.rear_gain_N == pytest.approx((300 * 165 / 119 + 200) * LBF, rel=1e-9)
    assert expected.front_gain_N == pytest.approx(-300 * 46 / 119 * LBF, rel=1e-9)


def test_a_load_that_leaves_the_front_alone_leaves_its_height_alone() -> None:
    """With nothing taken off the front axle there is no proportion to go by: the front stays as it was read."""
    tongue = '[[load]]\nname = "trailer tongue"\nweight = "410 lb"\nbehind_rear_axle = "46 in"\n'
    start = basis(job_of(WORKED_CASE.replace(tongue, CARGO)).session, standards())
    expected = what_if(start, WhatIfChange(wheelbase_mm=130 * IN))
    assert expected.front_mm == pytest.approx(0.25 * IN)
    assert expected.front_gain_N == pytest.approx(0.0)


BARE = """
unit = "mm"
[job]
title = "Nothing known but heights"
[kit]
lines = "tee"
[[stage]]
name = "unloaded"
LF = "700"
RF = "702"
RR = "720"
LR = "721"
[[stage]]
name = "loaded"
LF = "705"
RF = "707"
RR = "690"
LR = "691"
"""


# Invented: the left bag tried alone, then the right one.
EACH_ALONE = "".join(
    f'[[stage]]\nname = "fitted"\npressure_{side} = "{kPa} kPa"\nRR = "700"\nLR = "{600 + kPa}"\n'
    for side, kPa in (("left", 100), ("left", 110), ("right", 100), ("right", 120))
)


def test_sides_never_read_together_are_no_air_to_start_from() -> None:
    """No trial says what was in both bags: unasked, the rear is told on its springs, 30 mm down; asked, by lines."""
    start = basis(job_of(BARE.replace("tee", "separate") + EACH_ALONE).session, standards())
    assert what_if(start, WhatIfChange()).rear_mm == pytest.approx(-30.0)
    assert start.sides is not None
    assert what_if(start, WhatIfChange(sides_kPa=(100.0, 100.0))).rear_mm == pytest.approx(-20.5)


def test_a_vehicle_of_which_nothing_is_known_has_its_heights() -> None:
    """Without wheelbase, loads, ball and lamps the axles are told, and nothing that needs those."""
    expected = what_if(basis(job_of(BARE).session, standards()), WhatIfChange())
    assert (expected.front_mm, expected.rear_mm, expected.needs) == (5.0, -30.0, None)
    for figure in ("nose_up_deg", "u_nose_up_deg", "ball_mm", "shift_mm", "u_shift_mm", "aim_deg", "u_aim_deg"):
        assert getattr(expected, figure) is None, figure
    assert (expected.rear_gain_N, expected.front_gain_N) == (None, None)
    assert what_if(basis(job_of(BARE).session, standards()), WhatIfChange(wheelbase_mm=3000.0)).needs is not None


def test_a_wheelbase_alone_does_not_say_what_the_loads_did() -> None:
    """Asked for a wheelbase where none was known there is nothing to be in proportion to."""
    unplaced = WORKED_CASE.replace('wheelbase = "119 in"\n', "")
    expected = what_if(basis(job_of(unplaced).session, standards()), WhatIfChange(wheelbase_mm=119 * IN))
    assert (expected.needs, expected.rear_mm) == ("the loads with their places, and the wheelbase", None)


@pytest.mark.parametrize(
    ("was", "now"),
    [
        pytest.param('RR = "720"\nLR = "721"\n', "", id="no rear unloaded"),
        pytest.param('RR = "690"\nLR = "691"\n', "", id="no rear loaded"),
        pytest.param('LF = "705"\nRF = "707"\n', "", id="no front loaded"),
        pytest.param(BARE[BARE.index("[[stage]]") :], "", id="no stage at all"),
    ],
)
def test_every_axle_is_wanted_at_both_stages(was: str, now: str) -> None:
    """Each height that is missing is a need, never a guess."""
    expected = what_if(basis(job_of(BARE.replace(was, now)).session, standards()), WhatIfChange())
    assert (expected.needs, expected.front_mm) == ("the four heights unloaded and loaded", None)


# By hand: a mark 40 mm below the lamp at 10 m: α₀ = −atan(0.004), u = u_read/D·cos²α₀; nose up atan(35/3000).
def test_a_mark_on_the_wall_brings_its_u() -> None:
    """Aim counted from a mark is as sure as the mark and the two axles together."""
    sheet = BARE.replace("[kit]", '[vehicle]\nwheelbase = "3000 mm"\n[lamps]\nscreen = "10 m"\n[kit]')
    sheet = sheet.replace('name = "unloaded"', 'name = "unloaded"\nmark = "-40 mm"')
    expected = what_if(basis(job_of(sheet).session, standards()), WhatIfChange())
    u_read = math.sqrt(1 / 12 + (IN / 32) ** 2)
    front, rear, mark = ufloat(5.0, u_read), ufloat(-30.0, u_read), ufloat(-40.0, u_read)
    aim = (umath.atan(mark / 10_000) + umath.atan((front - rear) / 3000)) * 180 / math.pi
    assert (expected.aim_deg, expected.u_aim_deg) == pytest.approx((aim.nominal_value, aim.std_dev), rel=1e-6)
