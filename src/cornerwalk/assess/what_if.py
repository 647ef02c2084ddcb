"""What-if: what another pressure, load, overhang or wheelbase would do, asked before doing it.

From this vehicle's own readings, with everything not changed as it was when last read:

    rear    ΔR' = −D₀·G'/G + (c0 − h_loaded) + c1·P'        front   ΔF' = ΔF · E'/E

D₀ the loaded drop without air, G and G' what the loads put on the rear axle then and now, E and E' what they take off
the front one, c0 + c1·P the line through the trials. Without trials P' is left out: the vehicle on its own springs.
Every answer is an estimate that a reading replaces. It says nothing of whether the axles may carry the load.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import LiteralString

from cornerwalk.assess.air_line import Line
from cornerwalk.assess.air_results import FittedLine, compute_air
from cornerwalk.assess.assessment import LampResult, StageResult
from cornerwalk.assess.attitude import change_at_mm, tilt_deg
from cornerwalk.assess.axles import AxleGains, Height, LoadAt, axle_gains
from cornerwalk.assess.headlamp import Beam, LampFacts, beam, percent_of_aim
from cornerwalk.assess.load_results import rear_height, tongue_load
from cornerwalk.assess.stage_results import aim_unloaded, compute_stages, reading_terms, screen_mm
from cornerwalk.assess.uncertainty import Estimate, estimate, exact
from cornerwalk.assess.usable import positive, root_sum_square
from cornerwalk.session.model import Load, Session
from cornerwalk.standards import Standards


@dataclass(frozen=True, slots=True, kw_only=True)
class WhatIfChange:
    """What is to be tried; None leaves it as it is. Pressure kPa gauge, load N, lengths mm."""

    pressure_kPa: float | None = None
    """In joined lines."""
    sides_kPa: tuple[float, float] | None = None
    """Left and right, where the lines are separate."""
    tongue_N: float | None = None
    overhang_mm: float | None = None
    wheelbase_mm: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class WhatIfResult:
    """What would be read; every `u_…` is a standard uncertainty. None where `needs` is said."""

    front_mm: float | None = None
    u_front_mm: float | None = None
    rear_mm: float | None = None
    u_rear_mm: float | None = None
    nose_up_deg: float | None = None
    u_nose_up_deg: float | None = None
    ball_mm: float | None = None
    shift_mm: float | None = None
    u_shift_mm: float | None = None
    aim_deg: float | None = None
    u_aim_deg: float | None = None
    rear_gain_N: float | None = None
    front_gain_N: float | None = None
    beyond_trials: bool = False
    above_unloaded: bool = False
    needs: LiteralString | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Basis:
    """What every what-if of a session starts from; made once, asked many times."""

    session: Session
    unloaded: StageResult | None
    loaded: StageResult | None
    front: Estimate | None
    air: FittedLine | None
    gains: AxleGains | None
    aim: Estimate | None
    rest_kPa: float | None
    """The pressure of the last trial that was read; None where the lines are separate."""
    sides: tuple[Line, Line] | None = None
    """Left and right height against its own pressure, where the lines are separate."""
    rest_sides_kPa: tuple[float, float] | None = None
    """Their pressures at the last trial."""


def basis(session: Session, standards: Standards) -> Basis:
    """The readings and lines of a session that what-ifs start from."""
    terms = reading_terms(session, standards)
    rule = standards.aim_rules.get(session.lamps.rule) if session.lamps.rule is not None else None
    stages = tuple(each.result for each in compute_stages(session, terms, rule))
    air = compute_air(session, stages)
    loaded = next((s for s in stages if s.name == "loaded"), None)
    return Basis(
        session=session,
        unloaded=next((s for s in stages if s.name == "unloaded"), None),
        loaded=loaded,
        front=_front(loaded),
        air=air[0] if len(air) == 1 and isinstance(air[0].line, Line) else None,
        gains=_gains(session.loads, session.vehicle.wheelbase_mm),
        aim=aim_unloaded(session, rule, terms.u_read_mm),
        rest_kPa=_rest_kPa(air),
        sides=_sides(air),
        rest_sides_kPa=_rest_sides_kPa(air),
    )


def _sides(air: tuple[FittedLine, ...]) -> tuple[Line, Line] | None:
    if len(air) != 2:
        return None
    left, right = air[0].line, air[1].line
    return (left, right) if isinstance(left, Line) and isinstance(right, Line) else None


def _rest_kPa(air: tuple[FittedLine, ...]) -> float | None:
    return air[0].result.trials[-1].pressure_kPa if len(air) == 1 and air[0].result.trials else None


def _rest_sides_kPa(air: tuple[FittedLine, ...]) -> tuple[float, float] | None:
    """Of the last trial that both sides were read at."""
    if len(air) != 2:
        return None
    left, right = (each.result.trials for each in air)
    right_kPa = {trial.stage: trial.pressure_kPa for trial in right}
    both = ((trial.pressure_kPa, right_kPa[trial.stage]) for trial in reversed(left) if trial.stage in right_kPa)
    return next(both, None)


def what_if(start: Basis, change: WhatIfChange) -> WhatIfResult:
    """What would be read after this change.

    Needs the unloaded and the loaded heights; a changed load, overhang or wheelbase also needs the loads and the
    wheelbase as they are, and a pressure two trials. What is missing is named in `needs`.
    """
    session = start.session
    wheelbase_mm = change.wheelbase_mm if change.wheelbase_mm is not None else session.vehicle.wheelbase_mm
    unloaded, loaded = rear_height(start.unloaded), rear_height(start.loaded)
    if unloaded is None or loaded is None or start.front is None:
        return WhatIfResult(needs="the four heights unloaded and loaded")
    gains = _gains(_changed_loads(session, change), wheelbase_mm)
    touches_load = change.tongue_N is not None or change.overhang_mm is not None or change.wheelbase_mm is not None
    if touches_load and (gains is None or start.gains is None):
        return WhatIfResult(needs="the loads with their places, and the wheelbase")
    if (change.pressure_kPa is not None and start.air is None) or (change.sides_kPa is not None and not start.sides):
        return WhatIfResult(needs="two trials at different pressures")
    rear = _rear(start, unloaded, loaded, _part(gains, start.gains, "rear"), change)
    lighter = _part(gains, start.gains, "front")
    front = Estimate(start.front.value * lighter, start.front.u * abs(lighter))
    return _seen(session, front, rear, wheelbase_mm, start, change, gains)


def _front(loaded: StageResult | None) -> Estimate | None:
    if loaded is None or loaded.front_mm is None or loaded.u_front_mm is None:
        return None
    return Estimate(loaded.front_mm, loaded.u_front_mm)


def _gains(loads: tuple[Load, ...], wheelbase_mm: float | None) -> AxleGains | None:
    return axle_gains([LoadAt(weight_N=load.weight_N, ahead_mm=load.ahead_mm) for load in loads], wheelbase_mm)


def _changed_loads(session: Session, change: WhatIfChange) -> tuple[Load, ...]:
    tongue = tongue_load(session)
    if tongue is None:
        return session.loads
    changed = replace(
        tongue,
        weight_N=tongue.weight_N if change.tongue_N is None else change.tongue_N,
        ahead_mm=tongue.ahead_mm if change.overhang_mm is None else -change.overhang_mm,
    )
    return tuple(changed if load is tongue else load for load in session.loads)


def _part(now: AxleGains | None, then: AxleGains | None, end: str) -> float:
    """How much of the tried load's effect on an axle the other one has; 1 where nothing is known to differ."""
    if now is None or then is None:
        return 1.0
    before, after = (then.rear_N, now.rear_N) if end == "rear" else (then.front_N, now.front_N)
    return after / before if positive(abs(before)) else 1.0


def _rear(start: Basis, unloaded: Height, loaded: Height, part: float, change: WhatIfChange) -> Estimate:
    """ΔR' with u² = [(1 − ρ)²u²(h_loaded) + ρ²u²(h_unl) …]; air adds the line's own."""
    fall_mm = part * (unloaded.mm - loaded.mm)
    on_air = _on_air(start, change)
    if on_air is None:
        return Estimate(-fall_mm, root_sum_square(part * unloaded.u_mm, part * loaded.u_mm))
    lift_mm = on_air.value - loaded.mm
    return Estimate(lift_mm - fall_mm, root_sum_square(on_air.u, (1 - part) * loaded.u_mm, part * unloaded.u_mm))


def _on_air(start: Basis, change: WhatIfChange) -> Estimate | None:
    """The mean rear height that the trials' lines give, under the load they were made with; None without air."""
    pairs = _pressures(start, change)
    if not pairs:
        return None
    heights_mm = [line.height_mm(kPa) for line, kPa in pairs]
    u_mm = root_sum_square(*(line.u_height_mm(kPa) for line, kPa in pairs))
    return Estimate(sum(heights_mm) / len(pairs), u_mm / len(pairs))


def _pressures(start: Basis, change: WhatIfChange) -> list[tuple[Line, float]]:
    """Each line with the pressure in it: the one tried out, else that of the last trial."""
    if start.sides is not None:
        sides_kPa = change.sides_kPa if change.sides_kPa is not None else start.rest_sides_kPa
        return [] if sides_kPa is None else list(zip(start.sides, sides_kPa, strict=True))
    kPa = change.pressure_kPa if change.pressure_kPa is not None else start.rest_kPa
    line = start.air.line if start.air is not None else None
    return [(line, kPa)] if isinstance(line, Line) and kPa is not None else []


def _seen(
    session: Session,
    front: Estimate,
    rear: Estimate,
    wheelbase_mm: float | None,
    start: Basis,
    change: WhatIfChange,
    gains: AxleGains | None,
) -> WhatIfResult:
    wheelbase = None if wheelbase_mm is None else Estimate(wheelbase_mm)
    pitch = tilt_deg(front, rear, wheelbase)
    overhang = change.overhang_mm if change.overhang_mm is not None else session.vehicle.ball_overhang_mm
    ball = change_at_mm(exact(None if overhang is None else -overhang), front, rear, wheelbase)
    light: Beam = beam(front, rear, wheelbase, _lamp_facts(session, start.aim))
    tried = change.pressure_kPa is not None or change.sides_kPa is not None
    return WhatIfResult(
        front_mm=front.value,
        u_front_mm=front.u,
        rear_mm=rear.value,
        u_rear_mm=rear.u,
        nose_up_deg=pitch.value if pitch is not None else None,
        u_nose_up_deg=pitch.u if pitch is not None else None,
        ball_mm=ball.value if ball is not None else None,
        shift_mm=light.shift_mm.value if light.shift_mm is not None else None,
        u_shift_mm=light.shift_mm.u if light.shift_mm is not None else None,
        aim_deg=light.aim_deg.value if light.aim_deg is not None else None,
        u_aim_deg=light.aim_deg.u if light.aim_deg is not None else None,
        rear_gain_N=gains.rear_N if gains is not None else None,
        front_gain_N=gains.front_N if gains is not None else None,
        beyond_trials=tried and any(line.beyond_trials(kPa) for line, kPa in _pressures(start, change)),
        above_unloaded=rear.value > 2 * rear.u,
    )


def _lamp_facts(session: Session, aim: Estimate | None) -> LampFacts:
    vehicle = session.vehicle
    return LampFacts(
        screen_mm=Estimate(screen_mm(session)),
        aim_deg=aim,
        height_mm=exact(vehicle.lamp_height_mm),
        ahead_mm=exact(vehicle.lamp_ahead_mm),
    )


# ---- the expected stage ----


def as_stage(
    session: Session,
    like: StageResult,
    expected: WhatIfResult,
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


def _lamp(session: Session, like: StageResult, expected: WhatIfResult) -> LampResult | None:
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


def _rise(session: Session, expected: WhatIfResult) -> Estimate | None:
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
