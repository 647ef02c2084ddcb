"""What-if: what another pressure, load, overhang or wheelbase would do, asked before doing it.

From this vehicle's own readings, with everything not changed as it was when last read:

    rear    ΔR' = −D₀·G'/G + (c0 − h_loaded) + c1·P'        front   ΔF' = ΔF · E'/E

D₀ the loaded drop without air, G and G' what the loads put on the rear axle then and now, E and E' what they take off
the front one, c0 + c1·P the line through the trials. Without trials P' is left out: the vehicle on its own springs.
Every answer is an estimate that a reading replaces. It says nothing of whether the axles may carry the load.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal, LiteralString

from cornerwalk.assess.air import settle_pressure
from cornerwalk.assess.air_line import Line
from cornerwalk.assess.air_results import FittedLine
from cornerwalk.assess.assessment import NO_ESTIMATES, LampResult, StageResult
from cornerwalk.assess.attitude import change_at_mm, mean, tilt_deg
from cornerwalk.assess.axles import AxleGains, LoadAt, axle_gains
from cornerwalk.assess.estimate import Estimate, estimate
from cornerwalk.assess.headlamp import beam, percent_of_aim
from cornerwalk.assess.job_figures import JobFigures, job_figures
from cornerwalk.assess.load_results import front_height, load_at, rear_height, tongue_load
from cornerwalk.assess.tires import axle_squash
from cornerwalk.assess.usable import positive
from cornerwalk.session.model import Session
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
    recommended_kPa: float | None = None
    """What to set for this load, by the rule of a recommendation; None where nothing is to be set."""
    beyond_trials: bool = False
    above_unloaded: bool = False
    needs: LiteralString | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Basis:
    """What every what-if of a session starts from; made once, asked many times."""

    figures: JobFigures
    unloaded: StageResult | None
    loaded: StageResult | None
    air: FittedLine | None
    rest_kPa: float | None
    """The pressure of the last trial that was read; None where the lines are separate."""
    sides: tuple[Line, Line] | None = None
    """Left and right height against its own pressure, where the lines are separate."""
    rest_sides_kPa: tuple[float, float] | None = None
    """Their pressures at the last trial."""

    @property
    def session(self) -> Session:
        """The session as it stands."""
        return self.figures.session


def basis(session: Session, standards: Standards) -> Basis:
    """The readings and lines of a session that what-ifs start from."""
    figures = job_figures(session, standards)
    air = figures.air
    return Basis(
        figures=figures,
        unloaded=next((s for s in figures.results if s.name == "unloaded"), None),
        loaded=next((s for s in figures.results if s.name == "loaded"), None),
        air=air[0] if len(air) == 1 and isinstance(air[0].line, Line) else None,
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
    stated = session.vehicle.wheelbase_mm
    wheelbase_mm = change.wheelbase_mm if change.wheelbase_mm is not None else stated
    unloaded, loaded, front = rear_height(start.unloaded), rear_height(start.loaded), _front(start)
    if unloaded is None or loaded is None or front is None:
        return WhatIfResult(needs="the four heights unloaded and loaded")
    touches_load = change.tongue_N is not None or change.overhang_mm is not None or change.wheelbase_mm is not None
    then = start.figures.gains
    gains = _changed_gains(start, change) if touches_load else then
    if touches_load and (gains is None or then is None):
        return WhatIfResult(needs="the loads with their places, and the wheelbase")
    if (change.pressure_kPa is not None and start.air is None) or (change.sides_kPa is not None and not start.sides):
        return WhatIfResult(needs="two trials at different pressures")
    fall = (unloaded - loaded).times(_part(gains, then, "rear"))
    on_air = _on_air(start, change)
    rear = fall.times(-1.0) if on_air is None else (on_air - loaded) - fall
    expected = _expected(start, front.times(_part(gains, then, "front")), rear, gains)
    recommended_kPa = _recommended_kPa(start, unloaded, (unloaded - loaded) - fall)
    wheelbase = _wheelbase(start, wheelbase_mm)
    return _result(start, change, expected, wheelbase, gains, recommended_kPa)


def _front(start: Basis) -> Estimate | None:
    now, before = front_height(start.loaded), front_height(start.unloaded)
    return None if now is None or before is None else now - before


def _changed_gains(start: Basis, change: WhatIfChange) -> AxleGains | None:
    """What the loads would put on each axle, by their levers; tickets are of the load that was weighed."""
    session, components = start.session, start.figures.components
    tongue, loads = tongue_load(session), []
    for load in session.loads:
        at = load_at(load, components)
        if load is tongue and change.tongue_N is not None:
            at = LoadAt(at.weight.times(change.tongue_N / load.weight_N if load.weight_N else 0.0), at.ahead)
        if load is tongue and change.overhang_mm is not None:
            at = LoadAt(at.weight, at.ahead.with_value(-change.overhang_mm))
        loads.append(at)
    wheelbase_mm = change.wheelbase_mm if change.wheelbase_mm is not None else session.vehicle.wheelbase_mm
    return axle_gains(loads, _wheelbase(start, wheelbase_mm))


def _wheelbase(start: Basis, wheelbase_mm: float | None) -> Estimate | None:
    return start.figures.components.of("wheelbase", wheelbase_mm)


def _part(now: AxleGains | None, then: AxleGains | None, end: Literal["rear", "front"]) -> float:
    """How much of the tried load's effect on an axle the other one has; 1 where nothing is known to differ."""
    if now is None or then is None:
        return 1.0
    before, after = (then.rear, now.rear) if end == "rear" else (then.front, now.front)
    return after.value / before.value if positive(abs(before.value)) else 1.0


def _on_air(start: Basis, change: WhatIfChange) -> Estimate | None:
    """The mean rear height that the trials' lines give, under the load they were made with; None without air."""
    heights = [line.height(kPa) for line, kPa in _pressures(start, change)]
    if not heights:
        return None
    return heights[0] if len(heights) == 1 else mean(heights[0], heights[1])


def _pressures(start: Basis, change: WhatIfChange) -> list[tuple[Line, float]]:
    """Each line with the pressure in it: the one tried out, else that of the last trial."""
    if start.sides is not None:
        sides_kPa = change.sides_kPa if change.sides_kPa is not None else start.rest_sides_kPa
        return [] if sides_kPa is None else list(zip(start.sides, sides_kPa, strict=True))
    kPa = change.pressure_kPa if change.pressure_kPa is not None else start.rest_kPa
    line = start.air.line if start.air is not None else None
    return [(line, kPa)] if isinstance(line, Line) and kPa is not None else []


def _recommended_kPa(start: Basis, unloaded: Estimate, higher: Estimate) -> float | None:
    """The mark to set where the load leaves the rear `higher` than in the trials."""
    air = start.air
    if air is None or not isinstance(air.line, Line) or air.target is None or air.result.recommended_kPa is None:
        return None
    line, height_mm = air.line, air.target.height.value
    aimed = line.pressure(Estimate(min(height_mm, unloaded.value) - air.guard_mm - higher.value))
    return settle_pressure(
        aimed.value, air.limits, lambda kPa: line.height_mm(kPa) + higher.value - height_mm
    ).pressure_kPa


@dataclass(frozen=True, slots=True)
class _Ends:
    """How the two axles' heights would change, as read and over the ground, mm."""

    front: Estimate
    rear: Estimate
    ground_front: Estimate | None
    ground_rear: Estimate | None


def _expected(start: Basis, front: Estimate, rear: Estimate, gains: AxleGains | None) -> _Ends:
    figures = start.figures
    if figures.facts.tires_known and figures.facts.squash is None:
        return _Ends(front, rear, front, rear)
    if gains is None:
        return _Ends(front, rear, None, None)
    squash = axle_squash(figures.session, figures.standards, figures.components, gains)
    return _Ends(front, rear, front - squash.front, rear - squash.rear)


def _result(
    start: Basis,
    change: WhatIfChange,
    ends: _Ends,
    wheelbase: Estimate | None,
    gains: AxleGains | None,
    recommended_kPa: float | None,
) -> WhatIfResult:
    facts, front, rear = start.figures.facts, ends.ground_front, ends.ground_rear
    pitch = tilt_deg(front, rear, wheelbase)
    overhang_mm = change.overhang_mm
    behind = facts.ball if overhang_mm is None else start.figures.components.of("overhang", -overhang_mm)
    ball = change_at_mm(behind, front, rear, wheelbase)
    light = beam(front, rear, wheelbase, facts.lamp)
    tried = change.pressure_kPa is not None or change.sides_kPa is not None
    return WhatIfResult(
        front_mm=ends.front.value,
        u_front_mm=ends.front.u,
        rear_mm=ends.rear.value,
        u_rear_mm=ends.rear.u,
        nose_up_deg=pitch.value if pitch is not None else None,
        u_nose_up_deg=pitch.u if pitch is not None else None,
        ball_mm=ball.value if ball is not None else None,
        shift_mm=light.shift_mm.value if light.shift_mm is not None else None,
        u_shift_mm=light.shift_mm.u if light.shift_mm is not None else None,
        aim_deg=light.aim_deg.value if light.aim_deg is not None else None,
        u_aim_deg=light.aim_deg.u if light.aim_deg is not None else None,
        rear_gain_N=gains.rear.value if gains is not None else None,
        front_gain_N=gains.front.value if gains is not None else None,
        recommended_kPa=recommended_kPa,
        beyond_trials=tried and any(line.beyond_trials(kPa) for line, kPa in _pressures(start, change)),
        above_unloaded=ends.rear.value > ends.rear.U,
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
        estimates=NO_ESTIMATES,
        k={},
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
