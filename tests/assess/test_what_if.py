"""What another pressure, load or wheelbase would do, against the readings it starts from, and as a stage."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest
from uncertainties import ufloat, umath

from cornerwalk.assess.assessment import LampResult, StageResult
from cornerwalk.assess.what_if import WhatIfChange, WhatIfResult, as_stage, basis, what_if
from cornerwalk.session.events import FactStated, HeightRead, StageBegun
from cornerwalk.session.model import Session
from tests.support.jobs import EXACT, SEPARATE_LINES, WORKED_CASE, job_of, standards
from tests.support.known import known
from tests.support.units import IN, LBF, PSI


def asked(sheet: str, **change: Any) -> WhatIfResult:
    """What this change would do to the job of a sheet."""
    return what_if(basis(job_of(sheet).session, standards()), WhatIfChange(**change))


def without(stage: str) -> str:
    """The worked case as it stood before this stage."""
    return WORKED_CASE[: WORKED_CASE.index(f"[[stage]]\n{stage}")] + EXACT


ONE_TRIAL = without('name = "fitted"\npressure = "25 psi"')
UNPLACED = WORKED_CASE.replace('wheelbase = "119 in"\n', "")


# Source: arithmetic: a line through two trials passes through both, so that what must be told is the mean of the rear
# corners as read (708 and 711 mm, unloaded 716 and 718), and midway between the trials that of 703.5 and 707.
@pytest.mark.parametrize(("sides_kPa", "rear_mm"), [(None, -7.5), ((180.0, 150.0), -7.5), ((150.0, 125.0), -11.75)])
def test_what_if_of_separate_lines(sides_kPa: tuple[float, float] | None, rear_mm: float) -> None:
    """With a line to each bag every side goes by its own trials, and the rear is the mean of the two."""
    assert asked(SEPARATE_LINES, sides_kPa=sides_kPa).rear_mm == pytest.approx(rear_mm, abs=1e-9)
    assert asked(WORKED_CASE, sides_kPa=(100.0, 90.0)).needs is not None


# Source: worked case's glovebox table: 300 lb, 1/4 in allowed, 20.610 psi.
def test_what_if_meets_the_table() -> None:
    """The table's pressure for another load, asked back as a what-if, leaves the rear the allowed drop."""
    row = job_of(WORKED_CASE).assessment.pressure_table[0]
    expected = asked(WORKED_CASE, pressure_kPa=row.pressure_kPa, tongue_N=row.load_N)
    assert expected.rear_mm == pytest.approx(-0.25 * IN)
    assert expected.rear_gain_N == pytest.approx(300 * LBF * 165 / 119)


# Oracle: the `uncertainties` package through the plain formulas. The gains in proportion to the tongue: 300 lb of 410.
def test_another_tongue_without_air_against_automatic_propagation() -> None:
    """A lighter tongue lifts and lowers both ends in its proportion; pitch, beam and every u follow from that."""
    expected = asked(without('name = "fitted"'), tongue_N=300 * LBF)
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
    for change, wheelbase, overhang in (({"overhang_mm": 40 * IN}, 119, 40), ({"wheelbase_mm": 130 * IN}, 130, 46)):
        expected = asked(WORKED_CASE, **change)
        assert expected.rear_gain_N == pytest.approx(410 * LBF * (wheelbase + overhang) / wheelbase, rel=1e-9)
        assert expected.front_gain_N == pytest.approx(-410 * LBF * overhang / wheelbase, rel=1e-9)
        assert expected.front_mm == pytest.approx(0.25 * IN * (overhang / wheelbase) / (46 / 119), rel=1e-9)


LOADS_WANTED = "the loads with their places, and the wheelbase"


@pytest.mark.parametrize(
    ("sheet", "change", "needs"),
    [
        (without('name = "loaded"'), {}, "the four heights unloaded and loaded"),
        (ONE_TRIAL, {"pressure_kPa": 20 * PSI}, "two trials at different pressures"),
        (UNPLACED, {"tongue_N": 300 * LBF}, LOADS_WANTED),
        (UNPLACED, {"overhang_mm": 40 * IN}, LOADS_WANTED),
        (UNPLACED, {"wheelbase_mm": 119 * IN}, LOADS_WANTED),
    ],
)
def test_what_is_missing_is_named(sheet: str, change: dict[str, float], needs: str) -> None:
    """Without heights, loads, or two trials, a what-if says which of them it wants and gives no figure."""
    expected = asked(sheet, **change)
    assert (expected.needs, expected.rear_mm, expected.front_mm) == (needs, None, None)


# By hand: the line rises 0.04375 in/psi, so at 60 psi the rear stands 1.0625 in above its unloaded height; at 39 psi it
# stands 0.14375 in up with u = √(0.0709² + 0.0255²) = 0.0754 in, at 40 psi 0.1875 in with u 0.0786 in.
@pytest.mark.parametrize(
    ("psi", "beyond", "high"),
    [
        (9.9, True, False),
        (10.1, False, False),
        (29.9, False, False),
        (30.1, True, False),
        (39.0, True, False),
        (40.0, True, True),
        (60.0, True, True),
    ],
)
def test_beyond_what_was_tried(psi: float, *, beyond: bool, high: bool) -> None:
    """More than half the span of the trials, 15 to 25 psi, beyond them is told; and where the rear is surely high."""
    expected = asked(WORKED_CASE, pressure_kPa=psi * PSI)
    assert (expected.beyond_trials, expected.above_unloaded) == (beyond, high)
    assert expected.rear_mm == pytest.approx((-0.46875 + (psi - 25) * 0.04375) * IN, abs=1e-9)


# Oracle: the `uncertainties` package. G'/G = 300/410, the line through the two trials, ΔR' as the module's page says.
def test_another_tongue_on_air_against_automatic_propagation() -> None:
    """On air the rear follows line, load and pressure, each reading counted as often as it enters."""
    expected = asked(WORKED_CASE, pressure_kPa=20 * PSI, tongue_N=300 * LBF)
    u_mm = IN * math.sqrt((1 / 16) ** 2 / 12 + (1 / 32) ** 2) / math.sqrt(2)
    unloaded, loaded, at_15, at_25 = (ufloat(x * IN, u_mm) for x in (29.21875, 27.6875, 28.3125, 28.75))
    on_air = at_15 + (at_25 - at_15) * (20 - 15) / (25 - 15)
    rear = on_air - loaded - (unloaded - loaded) * 300 / 410
    assert expected.rear_mm == pytest.approx(rear.nominal_value, rel=1e-9)
    assert expected.u_rear_mm == pytest.approx(rear.std_dev, rel=1e-9)


def test_a_line_to_each_side_has_the_u_of_both() -> None:
    """At a trial's pressures the rear's u is that of two means of two corners: u_read, as for the stage read there."""
    expected = asked(SEPARATE_LINES + EXACT, sides_kPa=(180.0, 150.0))
    assert expected.u_rear_mm == pytest.approx(math.sqrt(1 / 12 + (IN / 32) ** 2), rel=1e-9)


@pytest.mark.parametrize(
    ("sides_kPa", "beyond"), [((211.0, 150.0), True), ((180.0, 74.0), True), ((209.0, 76.0), False)]
)
def test_either_side_may_go_beyond_its_trials(sides_kPa: tuple[float, float], *, beyond: bool) -> None:
    """Left was tried at 120 and 180, right at 100 and 150 kPa: half of each span beyond is told of either."""
    assert asked(SEPARATE_LINES, sides_kPa=sides_kPa).beyond_trials is beyond


ROAD_TEST = '[[stage]]\nname = "road-test"\npressure = "20 psi"\nRR = "28 1/2"\nLR = "28 5/8"\n'
NO_PRESSURE = '[[stage]]\nname = "fitted"\nRR = "28 1/2"\nLR = "28 5/8"\n'


@pytest.mark.parametrize("more", ["", ROAD_TEST, NO_PRESSURE])
def test_what_is_not_changed_stays_as_at_the_last_trial(more: str) -> None:
    """Asked for nothing, the rear stands on the air of the last trial whose pressure is known, 15/32 in down."""
    sheet = WORKED_CASE.replace("[leak]", more + "[leak]")
    expected = asked(sheet)
    assert expected.rear_mm == pytest.approx(-0.46875 * IN, abs=1e-9)
    assert (expected.needs, expected.beyond_trials) == (None, False)


def test_a_side_whose_pressure_was_not_read_leaves_the_trial_before() -> None:
    """A last trial with one pressure only says nothing of the other: both are of the trial before, 7.5 mm down."""
    last = '[[stage]]\nname = "fitted"\npressure_left = "150 kPa"\n[[weighing]]'
    assert asked(SEPARATE_LINES.replace("[[weighing]]", last, 1)).rear_mm == pytest.approx(-7.5, abs=1e-9)


def test_one_trial_has_no_line_but_the_vehicle_still_stands() -> None:
    """Before a second trial what is asked without pressure is answered on the springs alone: 1 17/32 in down."""
    assert asked(ONE_TRIAL).rear_mm == pytest.approx(-1.53125 * IN)


@pytest.mark.parametrize(
    "right_kPa", [pytest.param("100 kPa", id="right tried at one pressure"), pytest.param("", id="right never read")]
)
def test_two_sides_want_a_line_each(right_kPa: str) -> None:
    """One side with a line and one without is not enough to say how the rear would stand."""
    right = f'pressure_right = "{right_kPa}"\n' if right_kPa else ""
    sheet = SEPARATE_LINES.replace('pressure_right = "100 kPa"\n', right).replace('pressure_right = "150 kPa"\n', right)
    expected = asked(sheet, sides_kPa=(150.0, 100.0))
    assert (expected.needs, expected.rear_mm) == ("two trials at different pressures", None)


# By hand: rear gains (L + b)/L; the drop without air is 1.53125 in on 46 in, the air lifts as it did: 1.0625 in.
def test_another_overhang_moves_rear_and_ball_with_its_lever() -> None:
    """A ball 40 in behind the axle: 159/165 of the drop, 40/46 of what the front rose, and a nearer ball."""
    expected = asked(WORKED_CASE, overhang_mm=40 * IN)
    front, rear = 0.25 * 40 / 46, 1.0625 - 1.53125 * 159 / 165
    assert expected.rear_mm == pytest.approx(rear * IN, rel=1e-9)
    assert expected.ball_mm == pytest.approx((rear - (front - rear) * 40 / 119) * IN, rel=1e-9)


# By hand: 200 lb over the rear axle press on it alone; the tongue falls from 410 lb at 165/119 to 300 lb.
CARGO = '[[load]]\nname = "tools over the rear axle"\nweight = "200 lb"\nbehind_rear_axle = "0 in"\n'


def test_a_tongue_changes_and_the_other_loads_stay() -> None:
    """Only the trailer's load is another; what lies over the rear axle presses as before."""
    sheet = WORKED_CASE.replace("[[stage]]", CARGO + "[[stage]]", 1)
    expected = asked(sheet, tongue_N=300 * LBF)
    assert expected.rear_gain_N == pytest.approx((300 * 165 / 119 + 200) * LBF, rel=1e-9)
    assert expected.front_gain_N == pytest.approx(-300 * 46 / 119 * LBF, rel=1e-9)


def test_a_load_that_leaves_the_front_alone_leaves_its_height_alone() -> None:
    """With nothing taken off the front axle there is no proportion to go by: the front stays as it was read."""
    tongue = '[[load]]\nname = "trailer tongue"\nweight = "410 lb"\nbehind_rear_axle = "46 in"\n'
    expected = asked(WORKED_CASE.replace(tongue, CARGO), wheelbase_mm=130 * IN)
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
    apart = BARE.replace("tee", "separate") + EACH_ALONE
    assert asked(apart).rear_mm == pytest.approx(-30.0)
    assert asked(apart, sides_kPa=(100.0, 100.0)).rear_mm == pytest.approx(-20.5)


def test_a_vehicle_of_which_nothing_is_known_has_its_heights() -> None:
    """Without wheelbase, loads, ball and lamps the axles are told, and nothing that needs those."""
    expected = asked(BARE)
    assert (expected.front_mm, expected.rear_mm, expected.needs) == (5.0, -30.0, None)
    for figure in ("nose_up_deg", "u_nose_up_deg", "ball_mm", "shift_mm", "u_shift_mm", "aim_deg", "u_aim_deg"):
        assert getattr(expected, figure) is None, figure
    assert (expected.rear_gain_N, expected.front_gain_N) == (None, None)
    assert asked(BARE, wheelbase_mm=3000.0).needs is not None


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
    expected = asked(BARE.replace(was, now))
    assert (expected.needs, expected.front_mm) == ("the four heights unloaded and loaded", None)


# By hand: a mark 40 mm below the lamp at 10 m: α₀ = −atan(0.004), u = u_read/D·cos²α₀; nose up atan(35/3000).
def test_a_mark_on_the_wall_brings_its_u() -> None:
    """Aim from a mark, seen to 6 mm and measured by tape, is as sure as the mark and the two axles together."""
    sheet = BARE.replace("[kit]", '[vehicle]\nwheelbase = "3000 mm"\n[lamps]\nscreen = "10 m"\n[kit]')
    sheet = sheet.replace('name = "unloaded"', 'name = "unloaded"\nmark = "-40 mm"')
    expected = asked(sheet + EXACT.replace('mark = "0 in"', 'mark = "6 mm"'))
    u_read = math.sqrt(1 / 12 + (IN / 32) ** 2)
    front, rear, mark = ufloat(5.0, u_read), ufloat(-30.0, u_read), ufloat(-40.0, math.hypot(6.0, u_read))
    aim = (umath.atan(mark / 10_000) + umath.atan((front - rear) / 3000)) * 180 / math.pi
    assert (expected.aim_deg, expected.u_aim_deg) == pytest.approx((aim.nominal_value, aim.std_dev), rel=1e-6)


_U: Any = {"u_front_mm": 0.9, "u_rear_mm": 1.1, "u_nose_up_deg": 0.03, "u_shift_mm": 4.0, "u_aim_deg": 0.03}
EXPECTED = WhatIfResult(
    front_mm=6.0, rear_mm=-12.0, nose_up_deg=0.34, ball_mm=-19.0, shift_mm=45.0, aim_deg=-0.06, **_U
)
"""Figures of a what-if, each another number (invented)."""


def worked() -> tuple[Session, StageResult]:
    """The worked case, and its last trial."""
    job = job_of(WORKED_CASE)
    return job.session, job.assessment.stages[-1]


def expected_at(expected: WhatIfResult, session: Session | None = None) -> StageResult:
    stated, last = worked()
    return known(as_stage(session if session is not None else stated, last, expected, 150.0))


def beam_at(expected: WhatIfResult, session: Session | None = None) -> LampResult:
    return known(expected_at(expected, session).lamp)


def test_the_pressure_that_was_tried_gives_the_stage_that_was_read() -> None:
    """Two trials fix the line, so what is expected at either is what was read there, the beam included."""
    session, last = worked()
    expected = asked(WORKED_CASE, pressure_kPa=last.pressure_kPa)
    tried = known(as_stage(session, last, expected, last.pressure_kPa))
    for figure in ("front_mm", "u_front_mm", "rear_mm", "u_rear_mm", "nose_up_deg", "u_nose_up_deg", "ball_mm"):
        assert getattr(tried, figure) == pytest.approx(getattr(last, figure)), figure
    for figure in ("rise_mm", "shift_mm", "wall_mm", "aim_deg", "aim_percent", "above_level"):
        assert getattr(known(tried.lamp), figure) == pytest.approx(getattr(last.lamp, figure)), figure


def test_the_body_stands_as_the_what_if_says() -> None:
    """Axles, pitch and ball are those of the what-if; a height at a corner would be made up."""
    stage = expected_at(EXPECTED)
    assert (stage.front_mm, stage.u_front_mm, stage.rear_mm, stage.u_rear_mm) == (6.0, 0.9, -12.0, 1.1)
    assert (stage.nose_up_deg, stage.u_nose_up_deg, stage.ball_mm) == (0.34, 0.03, -19.0)
    assert {*stage.height_mm.values(), *stage.delta_mm.values()} == {None}


def test_the_pressures_are_those_tried_out() -> None:
    """A common pressure, or one to each side and none in common; those of the stage it is like are gone."""
    session, last = worked()
    tee = as_stage(session, last, EXPECTED, 150.0)
    separate = as_stage(session, replace(last, left_kPa=1.0, right_kPa=2.0), EXPECTED, None, (120.0, 110.0))
    back = as_stage(session, replace(last, left_kPa=1.0, right_kPa=2.0), EXPECTED, 150.0)
    assert [stage and (stage.pressure_kPa, stage.left_kPa, stage.right_kPa) for stage in (tee, separate, back)] == [
        (150.0, None, None),
        (None, 120.0, 110.0),
        (150.0, None, None),
    ]


# Oracle: the `uncertainties` package. The lamp of the worked case stands 31 in ahead of the front wheels of a wheelbase
# of 119 in: r = ΔF + (31/119)·(ΔF − ΔR). Per cent of aim: 100·tan α.
def test_the_beam_against_automatic_propagation() -> None:
    """Rise and per cent follow from the axles and the aim, each with its u; on the wall rise and shift add up."""
    lamp = beam_at(EXPECTED)
    front, rear, aim_deg = ufloat(6.0, 0.9), ufloat(-12.0, 1.1), ufloat(-0.06, 0.03)
    rise = front + (front - rear) * 31 / 119
    percent = 100 * umath.tan(aim_deg * math.pi / 180)
    assert (lamp.rise_mm, lamp.u_rise_mm) == pytest.approx((rise.nominal_value, rise.std_dev))
    assert (lamp.aim_percent, lamp.u_aim_percent) == pytest.approx((percent.nominal_value, percent.std_dev))
    assert lamp.wall_mm == pytest.approx(rise.nominal_value + 45.0)
    assert (lamp.shift_mm, lamp.u_shift_mm, lamp.aim_deg, lamp.u_aim_deg) == (45.0, 4.0, -0.06, 0.03)


def test_a_u_that_is_not_known_is_not_made_up() -> None:
    """Without the u of an axle or of the aim, what follows from it is not known: it would look surer than it is."""
    for unsure in (replace(EXPECTED, u_front_mm=None), replace(EXPECTED, u_rear_mm=None)):
        lamp = beam_at(unsure)
        assert (lamp.rise_mm, lamp.u_rise_mm, lamp.wall_mm) == (None, None, None)
    aim = beam_at(replace(EXPECTED, u_aim_deg=None))
    assert (aim.aim_deg, aim.aim_percent, aim.u_aim_percent) == (-0.06, None, None)


@pytest.mark.parametrize(("aim_deg", "above"), [(-0.001, False), (0.0, True), (0.3, True), (None, False)])
def test_a_beam_at_level_or_above_meets_no_road(*, aim_deg: float | None, above: bool) -> None:
    """Pointing level is enough never to meet a level road; an unknown aim claims nothing."""
    assert beam_at(replace(EXPECTED, aim_deg=aim_deg)).above_level is above


def test_part_of_a_beam_is_shown_as_far_as_it_is_known() -> None:
    """A shift without an aim, an aim without a shift: the other figures are left out, not made up."""
    shift = beam_at(replace(EXPECTED, aim_deg=None, u_aim_deg=None))
    assert (shift.shift_mm, shift.aim_deg, shift.aim_percent, shift.u_aim_percent) == (45.0, None, None, None)
    assert shift.wall_mm is not None
    aim = beam_at(replace(EXPECTED, shift_mm=None, u_shift_mm=None))
    assert (aim.aim_deg, aim.shift_mm, aim.wall_mm) == (-0.06, None, None)
    assert aim.rise_mm is not None
    assert expected_at(replace(EXPECTED, shift_mm=None, aim_deg=None)).lamp is None


@pytest.mark.parametrize("fact", ["wheelbase_mm", "lamp_ahead_mm"])
def test_without_its_place_the_lamp_has_no_rise(fact: str) -> None:
    """Where the lamp sits on the vehicle is not known: how far it rose and moved on the wall is left out."""
    session, _ = worked()
    unknown = replace(session.vehicle, **{fact: None})  # type: ignore[arg-type]
    lamp = beam_at(EXPECTED, replace(session, vehicle=unknown))
    assert (lamp.rise_mm, lamp.u_rise_mm, lamp.wall_mm) == (None, None, None)
    assert lamp.shift_mm == 45.0


def test_nothing_measured_at_the_stage_is_carried_over() -> None:
    """A wall mark belongs to the stage it was read at; whether a prediction holds belongs to the vehicle."""
    session, last = worked()
    for holds in (True, False, None):
        lamp = replace(known(last.lamp), prediction_holds=holds, measured_wall_mm=9.0, measured_aim_deg=0.2)
        now = known(known(as_stage(session, replace(last, lamp=lamp), EXPECTED, 150.0)).lamp)
        assert (now.prediction_holds, now.measured_wall_mm, now.measured_aim_deg) == (holds, None, None)
    dark = known(as_stage(session, replace(last, lamp=None), EXPECTED, 150.0))
    assert known(dark.lamp).prediction_holds is None


@pytest.mark.parametrize(
    "expected",
    [
        WhatIfResult(needs="the four heights unloaded and loaded"),
        replace(EXPECTED, front_mm=None),
        replace(EXPECTED, rear_mm=None),
    ],
)
def test_what_cannot_be_expected_is_no_stage(expected: WhatIfResult) -> None:
    """Where a what-if says what it needs, or knows one axle only, there is nothing to draw."""
    session, last = worked()
    assert as_stage(session, last, expected, None) is None


SEPARATE = FactStated(name="kit.lines", entered="separate", value="separate")
TEE = FactStated(name="kit.lines", entered="tee", value="tee")


def at_rest_mm(session: Session) -> float | None:
    """Where the rear stands, from unloaded, when nothing is changed."""
    return what_if(basis(session, standards()), WhatIfChange()).rear_mm


def test_one_pressure_was_in_both_of_two_lines() -> None:
    """Trials read as tee'd, the lines then stated as separate: both held the 25 psi read, the rear 15/32 in down."""
    session = job_of(WORKED_CASE, SEPARATE).session
    assert at_rest_mm(session) == pytest.approx(-0.46875 * IN)
    assert basis(session, standards()).rest_sides_kPa == pytest.approx((25 * PSI,) * 2)


def test_equal_pressures_of_two_lines_are_that_of_one() -> None:
    """Trials read side by side at one pressure, the lines then stated to be tee'd: the rear stands as it was read."""
    sheet = SEPARATE_LINES.replace('"100 kPa"', '"120 kPa"').replace('"150 kPa"', '"180 kPa"')
    session = job_of(sheet, TEE).session
    assert basis(session, standards()).rest_kPa == 180.0
    assert at_rest_mm(session) == pytest.approx(-7.5)


def test_a_trial_just_begun_is_not_yet_what_was_read() -> None:
    """A pressure set for the next trial counts once a height was read at it: until then the last trial does."""
    begun = StageBegun(stage="fitted", number=3, pressure_entered="30 psi", pressure_kPa=206.8)
    session = job_of(WORKED_CASE, begun).session
    assert basis(session, standards()).rest_kPa == pytest.approx(25 * PSI)
    rear = [HeightRead(stage="fitted", number=3, corner=c, entered="29 in", mm=29 * IN) for c in ("RR", "LR")]
    assert basis(job_of(WORKED_CASE, begun, *rear).session, standards()).rest_kPa == 206.8
