"""A what-if as a stage, so that whatever draws a stage can draw it: the body where it would stand, the beam with it."""

from __future__ import annotations

from dataclasses import replace

from cornerwalk.assess.assessment import LampResult, StageResult
from cornerwalk.assess.attitude import change_at_mm
from cornerwalk.assess.headlamp import percent_of_aim
from cornerwalk.assess.uncertainty import Estimate, estimate
from cornerwalk.assess.what_if import Expected
from cornerwalk.session.parts import Session


def as_stage(
    session: Session,
    like: StageResult,
    expected: Expected,
    pressure_kPa: float | None,
    sides_kPa: tuple[float, float] | None = None,
) -> StageResult | None:
    """The stage `like` as it is expected to be read after the change; None where nothing can be expected.

    The corners are left unknown: a what-if moves the axles, not each side of them.
    """
    if expected.front_mm is None or expected.rear_mm is None:
        return None
    return replace(
        like,
        pressure_kPa=pressure_kPa,
        left_kPa=None if sides_kPa is None else sides_kPa[0],
        right_kPa=None if sides_kPa is None else sides_kPa[1],
        height_mm=dict.fromkeys(like.height_mm),
        delta_mm=dict.fromkeys(like.delta_mm),
        front_mm=expected.front_mm,
        u_front_mm=expected.u_front_mm,
        rear_mm=expected.rear_mm,
        u_rear_mm=expected.u_rear_mm,
        nose_up_deg=expected.nose_up_deg,
        u_nose_up_deg=expected.u_nose_up_deg,
        ball_mm=expected.ball_mm,
        lamp=_lamp(session, like, expected),
    )


def _lamp(session: Session, like: StageResult, expected: Expected) -> LampResult | None:
    """The beam of the what-if; nothing measured at the stage it is like is carried over."""
    if expected.shift_mm is None and expected.aim_deg is None:
        return None
    rise = _rise(session, expected)
    aim = estimate(expected.aim_deg, expected.u_aim_deg)
    percent = None if aim is None else percent_of_aim(aim)
    wall_mm = None if rise is None or expected.shift_mm is None else rise.value + expected.shift_mm
    return LampResult(
        rise_mm=None if rise is None else rise.value,
        u_rise_mm=None if rise is None else rise.u,
        shift_mm=expected.shift_mm,
        u_shift_mm=expected.u_shift_mm,
        wall_mm=wall_mm,
        u_wall_mm=None,
        aim_deg=expected.aim_deg,
        u_aim_deg=expected.u_aim_deg,
        aim_percent=None if percent is None else percent.value,
        u_aim_percent=None if percent is None else percent.u,
        reach_m=None,
        above_level=aim is not None and aim.value >= 0,
        prediction_holds=None if like.lamp is None else like.lamp.prediction_holds,
    )


def _rise(session: Session, expected: Expected) -> Estimate | None:
    """How far the lamp itself moved up, with the body."""
    vehicle = session.vehicle
    if vehicle.wheelbase_mm is None or vehicle.lamp_ahead_mm is None:
        return None
    return change_at_mm(
        Estimate(vehicle.wheelbase_mm + vehicle.lamp_ahead_mm),
        estimate(expected.front_mm, expected.u_front_mm),
        estimate(expected.rear_mm, expected.u_rear_mm),
        Estimate(vehicle.wheelbase_mm),
    )
