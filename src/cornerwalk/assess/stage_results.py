"""Stage results: heights, changes, attitude and the low beam at each stage of a session."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from cornerwalk.assess.assessment import LampResult, Misread, ReadingTerms, StageEstimates, StageResult
from cornerwalk.assess.attitude import (
    Attitude,
    change_at_mm,
    changes,
    difference,
    lean_deg,
    mean,
    stance,
    tilt_deg,
    warp_mm,
)
from cornerwalk.assess.axles import AxleGains
from cornerwalk.assess.components import (
    AXLE_CORNERS,
    FRICTION,
    ComponentName,
    Components,
    components_of,
    graduation_mm,
    screen_mm,
)
from cornerwalk.assess.estimate import COVERAGE, ErrorSource, Estimate, Share, exact
from cornerwalk.assess.friction import Axle
from cornerwalk.assess.headlamp import (
    Beam,
    Holds,
    LampFacts,
    aim_of_mark,
    aim_of_percent,
    beam,
    percent_of_aim,
    prediction_holds,
)
from cornerwalk.assess.tires import AxleSquash, axle_squash
from cornerwalk.assess.uncertainty import reading_u_mm
from cornerwalk.session.model import GROUND, Session, Stage
from cornerwalk.session.stages import CORNERS, LOADED_STAGES, REFERENCE_STAGE, Corner
from cornerwalk.standards import AimRule, Standards

_HOLDS: dict[Holds, bool | None] = {"yes": True, "no": False, "unknown": None}

Four = dict[Corner, Estimate | None]
Corners = Mapping[Corner, Estimate | None]


@dataclass(frozen=True, slots=True)
class StageFigures:
    """A stage's result with the beam behind it."""

    result: StageResult
    beam: Beam | None


@dataclass(frozen=True, slots=True)
class BodyFacts:
    """What every stage is computed with: the vehicle's dimensions and lamps with their uncertainty, and the tires.

    `squash` is how far the stated loads press each axle's tires together; None where heights are from the ground,
    which have the tires in them. `tires_known` False: heights leave the tires out and the loads are not known.
    """

    components: Components
    wheelbase: Estimate | None
    arch_width: Estimate | None
    ball: Estimate | None
    lamp: LampFacts
    squash: AxleSquash | None
    tires_known: bool


def reading_terms(session: Session, standards: Standards, components: Components | None = None) -> ReadingTerms:
    """Uncertainty of one reading in this session, and which of it is assumed."""
    components = components or components_of(session, standards)
    words: dict[ComponentName, str] = {"graduation": "graduation", "placing": "place"}
    graduation = graduation_mm(session, standards)
    return ReadingTerms(
        graduation_mm=graduation,
        u_place_mm=components.u("placing"),
        u_read_mm=reading_u_mm(graduation, components.u("placing")),
        assumed=tuple(word for name, word in words.items() if components.rows[name].origin == "assumed"),
    )


def heights_of(stage: Stage, components: Components) -> StageEstimates:
    """The mean height of each corner with what its readings and friction add; None where there is none."""
    at_axle: Four = {}
    at_wheel: Four = {}
    loaded = stage.name in LOADED_STAGES
    for axle, corners in AXLE_CORNERS.items():
        friction = components.friction[axle].at(stage.key, loaded=loaded)
        shared = {ErrorSource(Share(FRICTION[axle])): friction.u_axle_mm} if friction.u_axle_mm else {}
        for corner in corners:
            record = stage.corner(corner)
            mean_mm = record.mean_mm
            if mean_mm is None:
                at_axle[corner] = at_wheel[corner] = None
                continue
            read, u_mm = components.reading(len(record.readings))
            at_axle[corner] = Estimate.of_parts(mean_mm, {read: u_mm, **shared})
            own, u_own_mm = components.reading(len(record.readings), (FRICTION[axle], friction.u_wheel_mm))
            at_wheel[corner] = Estimate.of_parts(mean_mm, {own: u_own_mm})
    return StageEstimates(axle=at_axle, wheel=at_wheel)


def reading_estimate(components: Components, corners: Sequence[Corner]) -> Estimate:
    """A reading that is still to come, loaded: zero with what the mean of these corners of one axle will be off."""
    axle: Axle = "front" if corners[0] in AXLE_CORNERS["front"] else "rear"
    friction = components.friction[axle].at(("fitted", 0), loaded=True)
    parts: dict[ErrorSource, float] = {ErrorSource(Share(FRICTION[axle])): friction.u_axle_mm}
    for _ in corners:
        read, u_mm = components.reading(1)
        parts[read] = u_mm / len(corners)
    return Estimate.of_parts(0.0, parts)


def job_facts(
    session: Session, standards: Standards, components: Components, rule: AimRule | None, gains: AxleGains | None
) -> BodyFacts:
    """Dimensions, lamps and tires of a job."""
    vehicle = session.vehicle
    overhang_mm = vehicle.ball_overhang_mm
    hub = session.job.datum != GROUND
    screen = components.of("wall", screen_mm(session))
    return BodyFacts(
        components=components,
        wheelbase=components.of("wheelbase", vehicle.wheelbase_mm),
        arch_width=exact(vehicle.arch_width_mm),
        ball=components.of("overhang", None if overhang_mm is None else -overhang_mm),
        lamp=LampFacts(
            screen_mm=screen,
            aim_deg=aim_unloaded(session, rule, components, screen),
            height_mm=components.of("lamp place", vehicle.lamp_height_mm, "height"),
            ahead_mm=components.of("lamp place", vehicle.lamp_ahead_mm, "ahead"),
        ),
        squash=axle_squash(session, standards, components, gains) if hub and gains is not None else None,
        tires_known=not hub or gains is not None,
    )


def aim_unloaded(
    session: Session, rule: AimRule | None, components: Components, screen: Estimate | None
) -> Estimate | None:
    """α₀: as stated, else from the mark on the wall when unloaded, else the rule's nominal."""
    if session.lamps.aim_percent is not None and screen_mm(session) > 0:
        seen_percent = 100 * components.u("mark") / screen_mm(session)
        return aim_of_percent(Estimate(session.lamps.aim_percent, seen_percent, "mark"))
    reference = session.first_stage(REFERENCE_STAGE)
    if reference is not None and reference.mark_mm is not None and screen is not None:
        mark = mark_on_wall(reference, components)
        return None if mark is None else aim_of_mark(mark, screen)
    if rule is not None and rule.nominal_deg is not None:
        return components.of("aim unloaded", rule.nominal_deg)
    return None


def mark_on_wall(stage: Stage, components: Components) -> Estimate | None:
    """The cut-off as it was marked at a stage, above the lamp's unloaded height; the same source at every call."""
    if stage.mark_mm is None:
        return None
    of = f"{stage.name} {stage.number}"
    tape = Estimate(stage.mark_mm, components.u("graduation"), components.source("graduation", f"mark {of}"))
    placed = Estimate(0.0, components.u("placing"), components.source("placing", f"mark {of}"))
    seen = Estimate(0.0, components.u("mark"), components.source("mark", of))
    return tape + placed + seen


def compute_stages(session: Session, facts: BodyFacts) -> tuple[StageFigures, ...]:
    """Each stage in the order recorded; changes are from the first unloaded stage."""
    reference = session.first_stage(REFERENCE_STAGE)
    start = heights_of(reference, facts.components) if reference is not None else None
    return tuple(_compute(session, stage, reference, start, facts) for stage in session.stages)


def _compute(
    session: Session, stage: Stage, reference: Stage | None, start: StageEstimates | None, facts: BodyFacts
) -> StageFigures:
    same = start is not None and reference is not None and stage.key == reference.key
    heights = start if same and start is not None else heights_of(stage, facts.components)
    moved = _changes(heights.axle, None if start is None else start.axle)
    front_mm, rear_mm = mean(moved["LF"], moved["RF"]), mean(moved["RR"], moved["LR"])
    front, rear = over_ground(front_mm, rear_mm, stage, facts)
    sides = _changes(heights.wheel, None if start is None else start.wheel)
    ball = change_at_mm(facts.ball, front, rear, facts.wheelbase)
    now = beam(front, rear, facts.wheelbase, facts.lamp)
    light = now if now.shift_mm is not None else None
    lamp = None if light is None else _lamp(session, stage, reference, light, facts)
    body = Attitude(
        front_mm=front_mm,
        rear_mm=rear_mm,
        nose_up_deg=tilt_deg(front, rear, facts.wheelbase),
        left_up_deg=lean_deg(sides, facts.arch_width),
        warp_mm=warp_mm(sides),
    )
    return StageFigures(
        result=_result(stage, replace(heights, front=front, rear=rear), moved, body, ball, lamp), beam=light
    )


def _changes(now: Corners, start: Corners | None) -> Four:
    if start is None:
        return dict.fromkeys(CORNERS)
    if now is start:
        return {corner: None if height is None else Estimate(0.0) for corner, height in now.items()}
    return changes(now, start)


def over_ground(
    front_mm: Estimate | None, rear_mm: Estimate | None, stage: Stage, facts: BodyFacts
) -> tuple[Estimate | None, Estimate | None]:
    """Changes of an axle's mean height over the ground: heights from the wheel center leave the tires out.

    None where the loads, and so what the tires gave way, are not known.
    """
    if stage.name not in LOADED_STAGES or (facts.squash is None and facts.tires_known):
        return front_mm, rear_mm
    if facts.squash is None:
        return None, None
    return difference(front_mm, facts.squash.front), difference(rear_mm, facts.squash.rear)


def _lamp(session: Session, stage: Stage, reference: Stage | None, now: Beam, facts: BodyFacts) -> LampResult:
    dial = reference.leveller if reference is not None else None
    levelling = session.vehicle.levelling
    held = prediction_holds(levelling, dial, stage.leveller)
    mark = mark_on_wall(stage, facts.components)
    before = None if reference is None else mark_on_wall(reference, facts.components)
    other = reference is not None and stage.key != reference.key
    measured = difference(mark, before) if other and now.wall_mm is not None else None
    seen = None
    if mark is not None and now.rise_mm is not None and facts.lamp.screen_mm is not None:
        seen = aim_of_mark(mark - now.rise_mm, facts.lamp.screen_mm)
    seen_percent = percent_of_aim(seen) if seen is not None else None
    return LampResult(
        rise_mm=_value(now.rise_mm),
        u_rise_mm=_u(now.rise_mm),
        shift_mm=_value(now.shift_mm),
        u_shift_mm=_u(now.shift_mm),
        wall_mm=_value(now.wall_mm),
        u_wall_mm=_u(now.wall_mm),
        aim_deg=_value(now.aim_deg),
        u_aim_deg=_u(now.aim_deg),
        aim_percent=_value(now.aim_percent),
        u_aim_percent=_u(now.aim_percent),
        reach_m=now.reach.at_mm / 1000 if now.reach is not None else None,
        above_level=bool(now.above_level),
        prediction_holds=_HOLDS[held.holds],
        measured_wall_mm=_value(measured),
        u_measured_wall_mm=_u(measured),
        measured_aim_deg=_value(seen),
        u_measured_aim_deg=_u(seen),
        measured_aim_percent=_value(seen_percent),
        u_measured_aim_percent=_u(seen_percent),
        nearest_reach_m=now.reach.nearest_mm / 1000 if now.reach is not None else None,
        k=_factors(
            rise_mm=now.rise_mm,
            shift_mm=now.shift_mm,
            wall_mm=now.wall_mm,
            aim_deg=now.aim_deg,
            aim_percent=now.aim_percent,
            measured_wall_mm=measured,
            measured_aim_deg=seen,
            measured_aim_percent=seen_percent,
        ),
    )


def _result(
    stage: Stage,
    heights: StageEstimates,
    moved: Four,
    body: Attitude,
    ball: Estimate | None,
    lamp: LampResult | None,
) -> StageResult:
    stands = stance(heights.axle)
    side_front = difference(heights.wheel["LF"], heights.wheel["RF"])
    side_rear = difference(heights.wheel["LR"], heights.wheel["RR"])
    sides = [side for side in (side_front, side_rear) if side is not None]
    return StageResult(
        name=stage.name,
        number=stage.number,
        pressure_kPa=stage.pressure_kPa,
        left_kPa=stage.left_kPa,
        right_kPa=stage.right_kPa,
        height_mm={corner: _value(height) for corner, height in heights.axle.items()},
        u_height_mm={corner: _u(height) for corner, height in heights.axle.items()},
        delta_mm={corner: _value(change) for corner, change in moved.items()},
        u_delta_mm={corner: _u(change) for corner, change in moved.items()},
        front_mm=_value(body.front_mm),
        u_front_mm=_u(body.front_mm),
        rear_mm=_value(body.rear_mm),
        u_rear_mm=_u(body.rear_mm),
        front_height_mm=_value(stands.front_mm),
        rear_height_mm=_value(stands.rear_mm),
        u_rear_height_mm=_u(stands.rear_mm),
        rake_mm=_value(stands.rake_mm),
        u_rake_mm=_u(stands.rake_mm),
        side_front_mm=_value(side_front),
        side_rear_mm=_value(side_rear),
        u_side_mm=max((side.u for side in sides), default=None),
        nose_up_deg=_value(body.nose_up_deg),
        u_nose_up_deg=_u(body.nose_up_deg),
        left_up_deg=_value(body.left_up_deg),
        u_left_up_deg=_u(body.left_up_deg),
        warp_mm=_value(body.warp_mm),
        u_warp_mm=_u(body.warp_mm),
        ball_mm=_value(ball),
        u_ball_mm=_u(ball),
        lamp=lamp,
        misread=None,
        estimates=heights,
        k=_factors(
            front_mm=body.front_mm,
            rear_mm=body.rear_mm,
            rear_height_mm=stands.rear_mm,
            rake_mm=stands.rake_mm,
            side_mm=max(sides, key=lambda side: side.U, default=None),
            nose_up_deg=body.nose_up_deg,
            left_up_deg=body.left_up_deg,
            warp_mm=body.warp_mm,
            ball_mm=ball,
            height_mm=next((height for height in heights.axle.values() if height is not None), None),
        ),
    )


def _factors(**figures: Estimate | None) -> dict[str, float]:
    """The coverage factors that are not 2, by the figure they belong to."""
    return {name: figure.k for name, figure in figures.items() if figure is not None and figure.k != COVERAGE}


def _value(estimate: Estimate | None) -> float | None:
    return None if estimate is None else estimate.value


def _u(estimate: Estimate | None) -> float | None:
    return None if estimate is None else estimate.u


def with_misreads(figures: Sequence[StageFigures], found: Sequence[Misread | None]) -> tuple[StageResult, ...]:
    """The results, each with its misread if there is one."""
    return tuple(
        each.result if misread is None else replace(each.result, misread=misread)
        for each, misread in zip(figures, found, strict=True)
    )
