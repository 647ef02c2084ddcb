"""A what-if as a stage: every figure of the what-if, and of what was measured nothing."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from uncertainties import ufloat, umath

from cornerwalk.assess.assessment import LampResult, StageResult
from cornerwalk.assess.what_if import WhatIfChange, WhatIfResult, as_stage, basis, what_if
from cornerwalk.session.model import Session
from tests.support.jobs import WORKED_CASE, job_of, standards

EXPECTED = WhatIfResult(
    front_mm=6.0,
    u_front_mm=0.9,
    rear_mm=-12.0,
    u_rear_mm=1.1,
    nose_up_deg=0.34,
    u_nose_up_deg=0.03,
    ball_mm=-19.0,
    shift_mm=45.0,
    u_shift_mm=4.0,
    aim_deg=-0.06,
    u_aim_deg=0.03,
)
"""Figures of a what-if, each another number (invented)."""


def worked() -> tuple[Session, StageResult]:
    """The worked case, and its last trial."""
    job = job_of(WORKED_CASE)
    return job.session, job.assessment.stages[-1]


def expected_at(expected: WhatIfResult, session: Session | None = None) -> StageResult:
    stated, last = worked()
    stage = as_stage(session if session is not None else stated, last, expected, 150.0)
    assert stage is not None
    return stage


def beam_at(expected: WhatIfResult, session: Session | None = None) -> LampResult:
    lamp = expected_at(expected, session).lamp
    assert lamp is not None
    return lamp


def test_the_pressure_that_was_tried_gives_the_stage_that_was_read() -> None:
    """Two trials fix the line, so what is expected at either is what was read there, the beam included."""
    session, last = worked()
    start = basis(session, standards())
    tried = as_stage(session, last, what_if(start, WhatIfChange(pressure_kPa=last.pressure_kPa)), last.pressure_kPa)
    assert tried is not None
    for figure in ("front_mm", "u_front_mm", "rear_mm", "u_rear_mm", "nose_up_deg", "u_nose_up_deg", "ball_mm"):
        assert getattr(tried, figure) == pytest.approx(getattr(last, figure)), figure
    assert tried.lamp is not None
    assert last.lamp is not None
    for figure in ("rise_mm", "shift_mm", "wall_mm", "aim_deg", "aim_percent"):
        assert getattr(tried.lamp, figure) == pytest.approx(getattr(last.lamp, figure)), figure
    assert tried.lamp.above_level is last.lamp.above_level


def test_the_body_stands_as_the_what_if_says() -> None:
    """Each axle, the pitch and the ball, with their u, are those of the what-if, not those of the stage it is like."""
    stage = expected_at(EXPECTED)
    assert (stage.front_mm, stage.u_front_mm, stage.rear_mm, stage.u_rear_mm) == (6.0, 0.9, -12.0, 1.1)
    assert (stage.nose_up_deg, stage.u_nose_up_deg, stage.ball_mm) == (0.34, 0.03, -19.0)


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
    for known in (replace(EXPECTED, u_front_mm=None), replace(EXPECTED, u_rear_mm=None)):
        lamp = beam_at(known)
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
    """A mark on the wall belongs to the stage it was read at; whether a prediction holds belongs to the vehicle."""
    session, last = worked()
    assert last.lamp is not None
    for holds in (True, False, None):
        lamp = replace(last.lamp, prediction_holds=holds, measured_wall_mm=9.0, measured_aim_deg=0.2)
        stage = as_stage(session, replace(last, lamp=lamp), EXPECTED, 150.0)
        assert stage is not None
        assert stage.lamp is not None
        assert (stage.lamp.prediction_holds, stage.lamp.measured_wall_mm, stage.lamp.measured_aim_deg) == (
            holds,
            None,
            None,
        )
    dark = as_stage(session, replace(last, lamp=None), EXPECTED, 150.0)
    assert dark is not None
    assert dark.lamp is not None
    assert dark.lamp.prediction_holds is None


def test_no_corner_is_claimed_to_be_known() -> None:
    """A what-if moves axles; a height at a corner would be made up."""
    tried = expected_at(EXPECTED)
    assert set(tried.height_mm.values()) == {None}
    assert set(tried.delta_mm.values()) == {None}


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
