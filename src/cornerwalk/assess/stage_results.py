"""Stage results: heights, changes, attitude and the low beam at each stage of a session."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from cornerwalk.assess.assessment import LampResult, Misread, ReadingTerms, StageResult
from cornerwalk.assess.attitude import (
    Attitude,
    Stance,
    attitude,
    change_at_mm,
    changes,
    difference,
    stance,
)
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
from cornerwalk.assess.uncertainty import Estimate, exact, reading_u_mm
from cornerwalk.assess.usable import root_sum_square
from cornerwalk.session.model import Session, Stage
from cornerwalk.session.stages import CORNERS, REFERENCE_STAGE, Corner
from cornerwalk.standards import AimRule, Standards
from cornerwalk.standards.aim import SCREEN_MM

_HOLDS: dict[Holds, bool | None] = {"yes": True, "no": False, "unknown": None}

Four = dict[Corner, Estimate | None]


@dataclass(frozen=True, slots=True)
class StageFigures:
    """A stage's result, with the beam and heights it came from."""

    result: StageResult
    beam: Beam | None
    heights: Four


def reading_terms(session: Session, standards: Standards) -> ReadingTerms:
    """Uncertainty of one reading in this session, and which of it is assumed."""
    assumed = []
    graduation_mm, place_mm = session.tape.graduation_mm, session.tape.place_mm
    if graduation_mm is None:
        usual = "graduation-inch" if session.job.unit == "inch" else "graduation-metric"
        graduation_mm = standards.limits[usual].value
        assumed.append("graduation")
    if place_mm is None:
        place_mm = standards.limits["place-u"].value
        assumed.append("place")
    return ReadingTerms(
        graduation_mm=graduation_mm,
        u_place_mm=place_mm,
        u_read_mm=reading_u_mm(graduation_mm, place_mm),
        assumed=tuple(assumed),
    )


def heights_of(stage: Stage, terms: ReadingTerms) -> Four:
    """The mean height of each corner with its u for the number of readings; None where there is none."""
    heights: Four = {}
    for corner in CORNERS:
        record = stage.corner(corner)
        mean_mm = record.mean_mm
        if mean_mm is None:
            heights[corner] = None
        else:
            heights[corner] = Estimate(
                mean_mm, reading_u_mm(terms.graduation_mm, terms.u_place_mm, len(record.readings))
            )
    return heights


def aim_unloaded(session: Session, rule: AimRule | None, u_mark_mm: float) -> Estimate | None:
    """α₀: as stated, else from the mark on the wall when unloaded, else the rule's nominal."""
    if session.lamps.aim_percent is not None:
        return aim_of_percent(Estimate(session.lamps.aim_percent))
    reference = session.first_stage(REFERENCE_STAGE)
    if reference is not None and reference.mark_mm is not None:
        screen = Estimate(screen_mm(session))
        return aim_of_mark(Estimate(reference.mark_mm, u_mark_mm), screen)
    if rule is not None and rule.nominal_deg is not None:
        return Estimate(rule.nominal_deg)
    return None


def screen_mm(session: Session) -> float:
    """The distance of the wall: as stated, else the usual 25 ft."""
    return session.lamps.screen_mm if session.lamps.screen_mm is not None else SCREEN_MM


def compute_stages(session: Session, terms: ReadingTerms, rule: AimRule | None) -> tuple[StageFigures, ...]:
    """Each stage in the order recorded; changes are from the first unloaded stage."""
    reference = session.first_stage(REFERENCE_STAGE)
    start = heights_of(reference, terms) if reference is not None else None
    aim = aim_unloaded(session, rule, terms.u_read_mm)
    return tuple(_compute(session, stage, reference, start, terms, aim) for stage in session.stages)


def _compute(
    session: Session,
    stage: Stage,
    reference: Stage | None,
    start: Four | None,
    terms: ReadingTerms,
    aim: Estimate | None,
) -> StageFigures:
    heights = heights_of(stage, terms)
    if start is None:
        moved: Four = dict.fromkeys(CORNERS)
    elif reference is not None and stage.key == reference.key:
        moved = {corner: None if height is None else Estimate(0.0) for corner, height in heights.items()}
    else:
        moved = changes(heights, start)
    vehicle = session.vehicle
    wheelbase = exact(vehicle.wheelbase_mm)
    body = attitude(moved, wheelbase, exact(vehicle.arch_width_mm))
    overhang = vehicle.ball_overhang_mm
    ball = change_at_mm(exact(None if overhang is None else -overhang), body.front_mm, body.rear_mm, wheelbase)
    lamp_facts = LampFacts(
        screen_mm=Estimate(screen_mm(session)),
        aim_deg=aim,
        height_mm=exact(vehicle.lamp_height_mm),
        ahead_mm=exact(vehicle.lamp_ahead_mm),
    )
    now = beam(body.front_mm, body.rear_mm, wheelbase, lamp_facts)
    light = now if now.shift_mm is not None else None
    lamp = None if light is None else _lamp(session, stage, reference, light, terms.u_read_mm)
    result = _result(stage, heights, moved, body, stance(heights), ball, lamp)
    return StageFigures(result=result, beam=light, heights=heights)


def _lamp(session: Session, stage: Stage, reference: Stage | None, now: Beam, u_mark_mm: float) -> LampResult:
    dial = reference.leveller if reference is not None else None
    levelling = session.vehicle.levelling
    held = prediction_holds(levelling, dial, stage.leveller)
    mark = None if stage.mark_mm is None else Estimate(stage.mark_mm, u_mark_mm)
    before = None if reference is None or reference.mark_mm is None else Estimate(reference.mark_mm, u_mark_mm)
    other = reference is not None and stage.key != reference.key
    measured = difference(mark, before) if other and now.wall_mm is not None else None
    seen = None
    if mark is not None and now.rise_mm is not None:
        above_lamp = Estimate(mark.value - now.rise_mm.value, root_sum_square(mark.u, now.rise_mm.u))
        seen = aim_of_mark(above_lamp, Estimate(screen_mm(session)))
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
    )


def _result(
    stage: Stage,
    heights: Four,
    moved: Four,
    body: Attitude,
    stands: Stance,
    ball: Estimate | None,
    lamp: LampResult | None,
) -> StageResult:
    sides = [side for side in (stands.side_front_mm, stands.side_rear_mm) if side is not None]
    return StageResult(
        name=stage.name,
        number=stage.number,
        pressure_kPa=stage.pressure_kPa,
        left_kPa=stage.left_kPa,
        right_kPa=stage.right_kPa,
        height_mm={corner: _value(height) for corner, height in heights.items()},
        u_height_mm={corner: _u(height) for corner, height in heights.items()},
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
        side_front_mm=_value(stands.side_front_mm),
        side_rear_mm=_value(stands.side_rear_mm),
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
    )


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
