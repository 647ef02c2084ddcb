"""Air results: the trials and their line, the pressure for the target, the pressure table, the leak-down test."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from cornerwalk.assess.air import NoPressure, Target, level_target, per_side, recommend, unloaded_target
from cornerwalk.assess.air_line import Line, NoLine, Trial, fit_line
from cornerwalk.assess.assessment import AirResult, LeakResult, SidesResult, StageResult, TableRow, TrialPoint, Where
from cornerwalk.assess.axles import LoadAt, axle_gains
from cornerwalk.assess.leak import GaugeReading, hold_test, local_atmosphere
from cornerwalk.assess.load_results import rear_height, tongue_load
from cornerwalk.assess.pressure_advice import OtherLoad, next_pressure, pressure_table
from cornerwalk.session.model import LeakReading, Session
from cornerwalk.session.stages import Corner
from cornerwalk.standards import Standards

DEFAULT_GAUGE_GRADUATION_kPa = 6.894757293168361
"""1 psi, a common gauge for helper springs; common practice, no source."""

_FLAT: frozenset[NoPressure] = frozenset(("air does not raise the rear",))


@dataclass(frozen=True, slots=True, kw_only=True)
class FittedLine:
    """An air result with the line behind it, for tables and what-ifs."""

    result: AirResult
    line: Line | NoLine
    target: Target | None


def compute_air(session: Session, stages: tuple[StageResult, ...]) -> tuple[FittedLine, ...]:
    """Height against pressure: the rear's mean with a tee, each side with separate lines; nothing before a trial."""
    trials = [stage for stage in stages if stage.name == "fitted"]
    if not trials:
        return ()
    if session.kit.lines == "separate":
        sides: tuple[Corner, Corner] = ("LR", "RR")
        return tuple(_fitted(session, *_side(session, stages, trials, corner)) for corner in sides)
    points = [
        TrialPoint(stage=s.key, pressure_kPa=kPa, height_mm=s.rear_height_mm, u_height_mm=s.u_rear_height_mm)
        for s in trials
        if (kPa := _tee_kPa(s)) is not None and s.rear_height_mm is not None and s.u_rear_height_mm is not None
    ]
    return (_fitted(session, "rear", points, _rear_target(session, stages)),)


def _tee_kPa(stage: StageResult) -> float | None:
    if stage.pressure_kPa is not None:
        return stage.pressure_kPa
    both = [kPa for kPa in (stage.left_kPa, stage.right_kPa) if kPa is not None]
    return both[0] if both and min(both) == max(both) else None


def _side(
    session: Session, stages: tuple[StageResult, ...], trials: Sequence[StageResult], corner: Corner
) -> tuple[Where, list[TrialPoint], Target | None]:
    points = []
    for stage in trials:
        own = stage.left_kPa if corner == "LR" else stage.right_kPa
        kPa = own if own is not None else stage.pressure_kPa
        height, u = stage.height_mm.get(corner), stage.u_height_mm.get(corner)
        if kPa is not None and height is not None and u is not None:
            points.append(TrialPoint(stage=stage.key, pressure_kPa=kPa, height_mm=height, u_height_mm=u))
    unloaded = next((s for s in stages if s.name == "unloaded"), None)
    height = unloaded.height_mm.get(corner) if unloaded is not None else None
    u = unloaded.u_height_mm.get(corner) if unloaded is not None else None
    where: Where = "LR" if corner == "LR" else "RR"
    return where, points, _target(session, stages, height, u)


def _rear_target(session: Session, stages: tuple[StageResult, ...]) -> Target | None:
    unloaded = rear_height(next((s for s in stages if s.name == "unloaded"), None))
    return _target(session, stages, unloaded.mm if unloaded else None, unloaded.u_mm if unloaded else None)


def _target(
    session: Session, stages: tuple[StageResult, ...], height_mm: float | None, u_mm: float | None
) -> Target | None:
    if session.kit.target == "unloaded height":
        return unloaded_target(height_mm, u_mm)
    now = next((s for s in reversed(stages) if s.name in ("fitted", "loaded") and s.front_mm is not None), None)
    if now is None:
        return None
    return level_target(height_mm, u_mm, now.front_mm, now.u_front_mm)


def _tried(points: Sequence[TrialPoint]) -> list[Trial]:
    return [Trial(pressure_kPa=p.pressure_kPa, height_mm=p.height_mm, u_height_mm=p.u_height_mm) for p in points]


def _fitted(session: Session, where: Where, points: Sequence[TrialPoint], target: Target | None) -> FittedLine:
    kit = session.kit
    trials = _tried(points)
    line = fit_line(trials)
    advice = recommend(line, target, minimum_kPa=kit.min_kPa, maximum_kPa=kit.max_kPa)
    following = next_pressure(trials, target, minimum_kPa=kit.min_kPa, maximum_kPa=kit.max_kPa)
    fitted = line if isinstance(line, Line) else None
    result = AirResult(
        where=where,
        trials=tuple(points),
        c0_mm=fitted.c0_mm if fitted else None,
        u_c0_mm=fitted.u_c0_mm if fitted else None,
        c1_mm_per_kPa=fitted.c1_mm_per_kPa if fitted else None,
        u_c1_mm_per_kPa=fitted.u_c1_mm_per_kPa if fitted else None,
        cov_c0_c1=fitted.cov_c0_c1 if fitted else None,
        target=session.kit.target,
        target_mm=target.height_mm if target else None,
        u_target_mm=target.u_mm if target else None,
        pressure_kPa=advice.pressure_kPa,
        u_pressure_kPa=advice.u_pressure_kPa,
        low_kPa=advice.low_kPa,
        high_kPa=advice.high_kPa,
        u_holds=advice.u_holds,
        recommended_kPa=advice.recommended_kPa,
        left_mm=advice.left_mm,
        u_left_mm=advice.u_left_mm,
        short_of_level_mm=target.short_of_level_mm if target else None,
        extrapolated=advice.extrapolated,
        off_line=fitted.off_line if fitted else False,
        reason="more air did not raise the rear" if advice.reason in _FLAT else advice.reason,
        try_next_kPa=following.pressure_kPa if following else None,
        u_after_next_kPa=following.u_pressure_after_kPa if following else None,
    )
    return FittedLine(result=result, line=line, target=target)


def compute_sides(session: Session, stages: tuple[StageResult, ...], air: Sequence[FittedLine]) -> SidesResult | None:
    """What separate lines would do, from the trials of a tee; None with separate lines already."""
    if len(air) != 1 or air[0].result.where != "rear" or air[0].result.recommended_kPa is None:
        return None
    trials = [stage for stage in stages if stage.name == "fitted"]
    _, left, left_target = _side(session, stages, trials, "LR")
    _, right, right_target = _side(session, stages, trials, "RR")
    sides = per_side(
        fit_line(_tried(left)),
        fit_line(_tried(right)),
        left_target,
        right_target,
        minimum_kPa=session.kit.min_kPa,
        maximum_kPa=session.kit.max_kPa,
        tee_kPa=air[0].result.recommended_kPa,
    )
    left_kPa, right_kPa = sides.left.recommended_kPa, sides.right.recommended_kPa
    if left_kPa is None or right_kPa is None or sides.tee_mm is None or sides.separate_mm is None:
        return None
    return SidesResult(
        left_kPa=left_kPa,
        right_kPa=right_kPa,
        tee_mm=sides.tee_mm,
        u_tee_mm=sides.u_tee_mm or 0.0,
        separate_mm=sides.separate_mm,
        u_separate_mm=sides.u_separate_mm or 0.0,
    )


def compute_table(
    session: Session, stages: tuple[StageResult, ...], air: Sequence[FittedLine], rear_gain_N: float | None
) -> tuple[TableRow, ...]:
    """The glovebox table for the loads asked for; the other loads aboard stay as they were.

    With separate lines there is no single pressure to print, so there is no table.
    """
    tongue = tongue_load(session)
    if len(air) != 1 or tongue is None:
        return ()
    others = []
    for load_N in session.table.loads_N:
        loads = [
            LoadAt(weight_N=load_N if load is tongue else load.weight_N, ahead_mm=load.ahead_mm)
            for load in session.loads
        ]
        gains = axle_gains(loads, session.vehicle.wheelbase_mm)
        if gains is not None:
            others.append(OtherLoad(load_N=load_N, rear_gain_N=gains.rear_N))
    rows = pressure_table(
        air[0].line,
        others,
        gain_N=rear_gain_N,
        unloaded=rear_height(next((s for s in stages if s.name == "unloaded"), None)),
        loaded=rear_height(next((s for s in stages if s.name == "loaded"), None)),
        drop_allowed_mm=session.table.drop_allowed_mm or 0.0,
        minimum_kPa=session.kit.min_kPa,
        maximum_kPa=session.kit.max_kPa,
    )
    return tuple(
        TableRow(
            load_N=row.load_N,
            pressure_kPa=row.pressure_kPa,
            u_pressure_kPa=row.u_pressure_kPa,
            recommended_kPa=row.recommended_kPa,
            beyond=row.beyond,
        )
        for row in rows
    )


def compute_leak(session: Session, standards: Standards) -> tuple[LeakResult, ...]:
    """Each line's hold test, as soon as its start is read; scaled to the time that the allowed loss is meant for."""
    starts = [reading for reading in session.leak_readings if reading.moment == "start"]
    period_h = standards.limits["leak-loss"].within_h
    return tuple(_hold(session, start, period_h) for start in starts)


def _hold(session: Session, start: LeakReading, period_h: float | None) -> LeakResult:
    terms = session.leak
    end = next((r for r in session.leak_readings if r.moment == "end" and r.line == start.line), None)
    air_kPa = local_atmosphere(altitude_m=terms.altitude_m, barometer_kPa=terms.barometer_kPa).pressure_kPa
    graduation = terms.gauge_graduation_kPa
    hours = _hours(start, end) if end is not None else None
    held = hold_test(
        GaugeReading(pressure_kPa=start.pressure_kPa, temperature_C=start.temperature_C, atmosphere_kPa=air_kPa),
        None
        if end is None
        else GaugeReading(pressure_kPa=end.pressure_kPa, temperature_C=end.temperature_C, atmosphere_kPa=air_kPa),
        graduation_kPa=graduation if graduation is not None else DEFAULT_GAUGE_GRADUATION_kPa,
        hours=hours,
        minimum_kPa=session.kit.min_kPa,
        period_h=period_h,
    )
    return LeakResult(
        line=start.line,
        hours=hours,
        expected_kPa=held.expected_kPa,
        read_kPa=end.pressure_kPa if end is not None else None,
        loss_kPa=held.loss_kPa,
        u_loss_kPa=held.u_loss_kPa,
        rate_kPa_per_h=held.rate_kPa_per_h,
        u_rate_kPa_per_h=held.u_rate_kPa_per_h,
        hours_to_minimum=held.hours_to_minimum,
        raw_loss_kPa=held.raw_loss_kPa,
        per_day_kPa=held.per_period_kPa,
        u_per_day_kPa=held.u_per_period_kPa,
        shorter=held.shorter,
        reason=held.reason,
    )


def _hours(start: LeakReading, end: LeakReading) -> float | None:
    """As stated on paper, else between the two times of day."""
    if end.hours is not None:
        return end.hours
    try:
        span = datetime.fromisoformat(end.at) - datetime.fromisoformat(start.at)
    except (ValueError, TypeError):
        return None
    hours = span.total_seconds() / 3600
    return hours if hours > 0 else None
