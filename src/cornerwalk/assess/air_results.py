"""Air results: the trials and their line, the pressure for the target, the pressure table, the leak-down test."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from cornerwalk.assess.air import (
    Forbidden,
    KitLimits,
    Target,
    guard_mm,
    level_target,
    per_side,
    recommend,
    unloaded_target,
)
from cornerwalk.assess.air_line import Line, NoLine, Trial, fit_line
from cornerwalk.assess.assessment import AirResult, LeakResult, SidesResult, StageResult, TableRow, TrialPoint, Where
from cornerwalk.assess.attitude import mean
from cornerwalk.assess.axles import AxleGains, axle_gains
from cornerwalk.assess.components import Components, graduation_mm
from cornerwalk.assess.estimate import COVERAGE, Estimate
from cornerwalk.assess.gauge import gauge_of
from cornerwalk.assess.leak import (
    RIGID,
    WARM_H,
    GaugeReading,
    LeakVerdict,
    bag_factor,
    bag_yielding,
    hold_test,
    judge_leak,
    local_atmosphere,
)
from cornerwalk.assess.load_results import load_at, rear_height, tongue_load
from cornerwalk.assess.pressure_advice import NextTrial, OtherLoad, loaded_drop, next_pressure, pressure_table
from cornerwalk.assess.stage_results import reading_estimate
from cornerwalk.assess.usable import positive
from cornerwalk.session.model import LeakReading, Load, Session
from cornerwalk.session.stages import AIR_STAGES, Corner
from cornerwalk.standards import Standards

LEVEL_CONTROL = "level-control"
"""The check that asks whether a level control was off, or in the same mode as before."""

_FLAT = "air does not raise the rear"


@dataclass(frozen=True, slots=True, kw_only=True)
class FittedLine:
    """An air result with the line behind it, for tables and what-ifs."""

    result: AirResult
    line: Line | NoLine
    target: Target | None
    limits: KitLimits
    guard_mm: float
    next_trial: NextTrial | None


def first_trial(session: Session) -> NextTrial | None:
    """The pressure to try first; None without the kit's limits."""
    return next_pressure([], None, kit_limits(session))


def kit_limits(session: Session) -> KitLimits:
    """The kit's limits, and the gauge that pressures are set on."""
    return KitLimits(minimum_kPa=session.kit.min_kPa, maximum_kPa=session.kit.max_kPa, gauge=gauge_of(session))


@dataclass(frozen=True, slots=True)
class AirInputs:
    """What the air is computed from: the session, its stages, and how well the next reading will be known."""

    session: Session
    stages: Sequence[StageResult]
    components: Components
    graduation_mm: float

    def first(self, name: str) -> StageResult | None:
        """The first stage of that name."""
        return next((stage for stage in self.stages if stage.name == name), None)

    def guard_mm(self, unloaded: Estimate | None, corners: Sequence[Corner]) -> float:
        """How far below its target the rear, or one corner of it, is aimed."""
        if unloaded is None:
            return 0.0
        again = reading_estimate(self.components, corners)
        return guard_mm(again - unloaded, self.graduation_mm)


def air_inputs(
    session: Session, standards: Standards, stages: Sequence[StageResult], components: Components
) -> AirInputs:
    """The inputs of a session."""
    return AirInputs(session, stages, components, graduation_mm(session, standards))


def compute_air(inputs: AirInputs) -> tuple[FittedLine, ...]:
    """Height against pressure: the rear's mean with a tee, each side with separate lines; nothing before a trial."""
    trials = [stage for stage in inputs.stages if stage.name == "fitted"]
    if not trials:
        return ()
    if inputs.session.kit.lines == "separate":
        sides: tuple[Corner, Corner] = ("LR", "RR")
        return tuple(_fitted(inputs, "LR" if corner == "LR" else "RR", (corner,)) for corner in sides)
    return (_fitted(inputs, "rear", ("RR", "LR")),)


def _height(stage: StageResult | None, corners: Sequence[Corner]) -> Estimate | None:
    if stage is None:
        return None
    heights = [stage.estimates.axle.get(corner) for corner in corners]
    return heights[0] if len(heights) == 1 else mean(heights[0], heights[1])


def _pressure_kPa(stage: StageResult, corners: Sequence[Corner]) -> float | None:
    """The pressure of a stage in the line of one corner, or the one that both share."""
    if len(corners) == 1:
        own = stage.left_kPa if corners[0] == "LR" else stage.right_kPa
        return own if own is not None else stage.pressure_kPa
    if stage.pressure_kPa is not None:
        return stage.pressure_kPa
    both = [kPa for kPa in (stage.left_kPa, stage.right_kPa) if kPa is not None]
    return both[0] if both and min(both) == max(both) else None


@dataclass(frozen=True, slots=True)
class _Tried:
    """A trial with the stage it was made at."""

    stage: StageResult
    trial: Trial


def _trials(inputs: AirInputs, corners: Sequence[Corner]) -> list[_Tried]:
    tried = []
    for stage in inputs.stages:
        height, kPa = _height(stage, corners), _pressure_kPa(stage, corners)
        if stage.name == "fitted" and height is not None and kPa is not None:
            tried.append(_Tried(stage, Trial(inputs.components.again("gauge", kPa), height)))
    return tried


def _target(inputs: AirInputs, unloaded: Estimate | None) -> Target | None:
    if inputs.session.kit.target == "unloaded height":
        return unloaded_target(unloaded)
    now = next((s for s in reversed(inputs.stages) if s.name in ("fitted", "loaded") and s.front_mm is not None), None)
    before = inputs.first("unloaded")
    front, start = _height(now, ("LF", "RF")), _height(before, ("LF", "RF"))
    return level_target(unloaded, None if front is None or start is None else front - start)


def _fitted(inputs: AirInputs, where: Where, corners: Sequence[Corner]) -> FittedLine:
    unloaded, loaded = _height(inputs.first("unloaded"), corners), _height(inputs.first("loaded"), corners)
    tried, target, limits = _trials(inputs, corners), _target(inputs, unloaded), kit_limits(inputs.session)
    guard = inputs.guard_mm(unloaded, corners)
    trials = [each.trial for each in tried]
    line = fit_line(trials)
    forbidden = _forbidden(inputs.session, trials, line, target, limits, loaded)
    advice = recommend(line, target, limits, guard_mm=guard, forbidden=forbidden)
    kept = forbidden is None and advice.reason != "kit too strong"
    following = next_pressure(trials, target, limits, line) if kept else None
    fitted = line if isinstance(line, Line) else None
    slope = fitted.slope if fitted else None
    c0 = fitted.c0 if fitted else None
    gauge = limits.gauge or gauge_of(inputs.session)
    result = AirResult(
        where=where,
        trials=tuple(
            TrialPoint(
                stage=each.stage.key,
                pressure_kPa=each.trial.pressure.value,
                height_mm=each.trial.height.value,
                u_height_mm=each.trial.height.u,
            )
            for each in tried
        ),
        c0_mm=c0.value if c0 else None,
        u_c0_mm=c0.u if c0 else None,
        c1_mm_per_kPa=slope.value if slope else None,
        u_c1_mm_per_kPa=slope.u if slope else None,
        cov_c0_c1=fitted.cov_c0_c1 if fitted else None,
        target=inputs.session.kit.target,
        target_mm=target.height.value if target else None,
        u_target_mm=target.height.u if target else None,
        pressure_kPa=advice.pressure_kPa,
        u_pressure_kPa=advice.u_pressure_kPa,
        low_kPa=advice.low_kPa,
        high_kPa=advice.high_kPa,
        u_holds=advice.u_holds,
        recommended_kPa=advice.recommended_kPa,
        aimed_kPa=advice.aimed_kPa,
        guard_mm=guard if unloaded is not None else None,
        held_at=advice.held_at,
        above_mm=_above_mm(advice.above_mm, forbidden, trials, target),
        gauge_unit=gauge.unit,
        gauge_step_kPa=gauge.step_kPa,
        left_mm=advice.left_mm,
        u_left_mm=advice.u_left_mm,
        short_of_level_mm=target.short_of_level_mm if target else None,
        extrapolated=advice.extrapolated,
        off_line=fitted.off_line if fitted else False,
        reason="more air did not raise the rear" if advice.reason == _FLAT else advice.reason,
        try_next_kPa=following.pressure_kPa if following else None,
        u_after_next_kPa=following.u_pressure_after_kPa if following else None,
        k=_factors(c0_mm=c0, c1_mm_per_kPa=slope, pressure_kPa=advice.pressure, left_mm=advice.left),
    )
    return FittedLine(result=result, line=line, target=target, limits=limits, guard_mm=guard, next_trial=following)


def _factors(**figures: Estimate | None) -> dict[str, float]:
    return {name: figure.k for name, figure in figures.items() if figure is not None and figure.k != COVERAGE}


def _forbidden(
    session: Session,
    trials: Sequence[Trial],
    line: Line | NoLine,
    target: Target | None,
    limits: KitLimits,
    loaded: Estimate | None,
) -> Forbidden | None:
    """Why nothing may be recommended or tried next: a level control, air that lowered the rear, a kit too strong."""
    if any(answer.check == LEVEL_CONTROL and answer.answer == "no" for answer in session.answers):
        return "level control at work"
    if loaded is not None and any((moved := trial.height - loaded).value < -moved.U for trial in trials):
        return "air lowered the rear"
    if limits.reason is None and target is not None and _too_strong(trials, line, target, limits):
        return "kit too strong"
    return None


def _too_strong(trials: Sequence[Trial], line: Line | NoLine, target: Target, limits: KitLimits) -> bool:
    """A reading at the kit's minimum stands above the target; where a line can be fitted, by more than its U."""
    for trial in trials:
        if trial.pressure.value <= limits.lowest_kPa * (1 + 1e-9):
            above = trial.height - target.height
            if above.value > (above.U if isinstance(line, Line) else 0.0):
                return True
    return False


def _above_mm(
    by_line_mm: float | None, forbidden: Forbidden | None, trials: Sequence[Trial], target: Target | None
) -> float | None:
    if forbidden != "kit too strong" or target is None:
        return by_line_mm
    lowest = min(trials, key=lambda trial: trial.pressure.value)
    return lowest.height.value - target.height.value


def compute_sides(inputs: AirInputs, air: Sequence[FittedLine]) -> SidesResult | None:
    """What separate lines would do, from the trials of a tee; None with separate lines already."""
    if len(air) != 1 or air[0].result.where != "rear" or air[0].result.recommended_kPa is None:
        return None
    start = inputs.first("unloaded")
    left, right = (fit_line([each.trial for each in _trials(inputs, (corner,))]) for corner in _REAR)
    left_target, right_target = (_target(inputs, _height(start, (corner,))) for corner in _REAR)
    sides = per_side(
        left,
        right,
        left_target,
        right_target,
        air[0].limits,
        tee_kPa=air[0].result.recommended_kPa,
        guard_mm=inputs.guard_mm(_height(start, ("LR",)), ("LR",)),
    )
    left_kPa, right_kPa = sides.left.recommended_kPa, sides.right.recommended_kPa
    if left_kPa is None or right_kPa is None or sides.tee is None or sides.separate is None:
        return None
    return SidesResult(
        left_kPa=left_kPa,
        right_kPa=right_kPa,
        tee_mm=sides.tee.value,
        u_tee_mm=sides.tee.u,
        separate_mm=sides.separate.value,
        u_separate_mm=sides.separate.u,
    )


_REAR: tuple[Corner, Corner] = ("LR", "RR")


def compute_table(inputs: AirInputs, air: Sequence[FittedLine], gains: AxleGains | None) -> tuple[TableRow, ...]:
    """The pressure table for the loads asked for, today's among them; the other loads aboard stay as they were.

    With separate lines there is no single pressure to print, so there is no table.
    """
    session, tongue = inputs.session, tongue_load(inputs.session)
    if len(air) != 1 or tongue is None or gains is None or not session.table.loads_N:
        return ()
    rows = pressure_table(
        air[0].line,
        [load for load_N in _table_loads(session, tongue) if (load := _other_load(inputs, tongue, load_N))],
        loaded_drop(gains.rear, rear_height(inputs.first("unloaded")), rear_height(inputs.first("loaded"))),
        air[0].limits,
        below_mm=max(session.table.drop_allowed_mm or 0.0, air[0].guard_mm),
    )
    if air[0].result.reason == "level control at work":
        return ()
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


def _table_loads(session: Session, tongue: Load) -> list[float]:
    """The loads asked for and today's, each once, in order of weight where today's had to be put in."""
    asked = list(session.table.loads_N)
    if any(abs(load_N - tongue.weight_N) <= 1e-6 * abs(tongue.weight_N) for load_N in asked):
        return asked
    return sorted([*asked, tongue.weight_N])


def _other_load(inputs: AirInputs, tongue: Load, load_N: float) -> OtherLoad | None:
    """What the rear axle would gain with another load on the tongue; today's is known no better than it is stated."""
    session, components = inputs.session, inputs.components
    loads = []
    for load in session.loads:
        at = load_at(load, components)
        if load is tongue:
            today = abs(load_N - load.weight_N) <= 1e-6 * abs(load.weight_N)
            at = at if today else type(at)(Estimate(load_N), at.ahead)
        loads.append(at)
    gains = axle_gains(loads, components.of("wheelbase", session.vehicle.wheelbase_mm))
    return None if gains is None else OtherLoad(load_N, gains.rear)


def compute_leak(
    session: Session,
    standards: Standards,
    components: Components,
    air: Sequence[FittedLine] = (),
    carried_N: float | None = None,
) -> tuple[LeakResult, ...]:
    """Each line's leak-down test, as soon as its start is read, judged by its rate."""
    starts = [reading for reading in session.leak_readings if reading.moment == "start"]
    bag = _bag(session, air, carried_N)
    return tuple(_hold(session, start, standards, components, bag) for start in starts)


def _bag(session: Session, air: Sequence[FittedLine], carried_N: float | None) -> Estimate:
    """How much of a rigid bag's change of pressure with temperature these bags show."""
    if session.uncertainty.bag == "rigid":
        return RIGID
    trial = air[0].result.trials[-1] if air and air[0].result.trials else None
    slope = air[0].result.c1_mm_per_kPa if air else None
    if trial is None:
        return bag_factor(None)
    atmosphere = local_atmosphere(altitude_m=session.leak.altitude_m, barometer_kPa=session.leak.barometer_kPa)
    return bag_factor(
        bag_yielding(
            absolute_kPa=trial.pressure_kPa + atmosphere.pressure_kPa,
            gauge_kPa=trial.pressure_kPa,
            load_N=carried_N / 2 if positive(carried_N) else None,
            travel_mm_per_kPa=slope,
            volume_liters=session.kit.bag_volume_liters,
        )
    )


def _hold(
    session: Session, start: LeakReading, standards: Standards, components: Components, bag: Estimate
) -> LeakResult:
    terms, limit = session.leak, standards.limits["leak-loss"]
    end = next((r for r in session.leak_readings if r.moment == "end" and r.line == start.line), None)
    air_kPa = local_atmosphere(altitude_m=terms.altitude_m, barometer_kPa=terms.barometer_kPa).pressure_kPa
    hours = _hours(start, end) if end is not None else None
    period_h = limit.within_h
    held = hold_test(
        GaugeReading(pressure_kPa=start.pressure_kPa, temperature_C=start.temperature_C, atmosphere_kPa=air_kPa),
        None
        if end is None
        else GaugeReading(pressure_kPa=end.pressure_kPa, temperature_C=end.temperature_C, atmosphere_kPa=air_kPa),
        u_gauge_kPa=components.u("gauge"),
        hours=hours,
        minimum_kPa=session.kit.min_kPa,
        period_h=period_h,
        u_temperature_K=components.u("temperature"),
        u_weather_kPa=components.u("weather"),
        bag=bag,
    )
    allowed_kPa = terms.allowed_loss_kPa if terms.allowed_loss_kPa is not None else limit.value
    verdict = LeakVerdict()
    if held.loss_kPa is not None and held.u_loss_kPa is not None and period_h is not None:
        verdict = judge_leak(
            held.loss_kPa,
            held.u_loss_kPa,
            hours=hours,
            allowed_kPa=allowed_kPa,
            period_h=period_h,
            warm_kPa=(held.cooling_kPa or 0.0) if _warm(session, start) else 0.0,
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
        hours_to_minimum_at_least=held.hours_to_minimum_at_least,
        hours_needed=verdict.hours_needed,
        verdict=verdict.verdict,
        not_judged=verdict.reason,
        rate_is_known=held.rate_is_known,
        temperatures_known=held.temperatures_known,
        raw_loss_kPa=held.raw_loss_kPa,
        per_day_kPa=held.per_period_kPa,
        u_per_day_kPa=held.u_per_period_kPa,
        shorter=held.shorter,
        reason=held.reason,
    )


def _warm(session: Session, start: LeakReading) -> bool:
    """The test began within a quarter of an hour of the last air that went in, as far as both were dated here."""
    filled = [stage.begun_at for stage in session.stages if stage.name in AIR_STAGES]
    since = [hours for at in filled if (hours := _hours_between(at, start.at)) is not None and hours >= 0]
    return bool(since) and 0 < min(since) < WARM_H


def _hours(start: LeakReading, end: LeakReading) -> float | None:
    """As stated on paper, else between the two times of day."""
    if end.hours is not None:
        return end.hours
    hours = _hours_between(start.at, end.at)
    return hours if hours is not None and hours > 0 else None


def _hours_between(start: str, end: str) -> float | None:
    try:
        return (datetime.fromisoformat(end) - datetime.fromisoformat(start)).total_seconds() / 3600
    except (ValueError, TypeError):
        return None
