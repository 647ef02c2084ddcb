"""Geometry of the side view: the body tilted, the ball, the beam on a wall. One geometry for every drawing.

Millimetres; X forward from the rear axle, Z up from the ground. The body's outline is a made-up vehicle scaled to the
wheelbase. Every vertical movement, and the beam against level, is drawn `factor` times: a drawing says so beside it.
The wall stands nearer than it is.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import radians, tan

from cornerwalk.assess.assessment import Assessment, CheckKind, StageResult
from cornerwalk.assess.lamp_checks import RULE_LIMITS
from cornerwalk.session.model import Session

Point = tuple[float, float]

USUAL_WHEELBASE_MM = 3000.0
"""Used for drawing where the wheelbase is not stated; nothing is computed from it."""

WHEEL_RADIUS = 0.12
WALL_AT = 2.05
HITCH_HEIGHT = 0.15
_OUTLINE: tuple[Point, ...] = (
    (-0.28, 0.15),
    (-0.30, 0.33),
    (-0.24, 0.58),
    (-0.18, 0.62),
    (0.44, 0.62),
    (0.52, 0.60),
    (0.82, 0.40),
    (1.16, 0.34),
    (1.26, 0.29),
    (1.28, 0.15),
)
"""In wheelbases, as are the windows and the doors' edges on it."""
_GLASS: tuple[Point, ...] = ((-0.21, 0.41), (-0.17, 0.565), (0.435, 0.565), (0.505, 0.55), (0.725, 0.41))
_EDGES: tuple[tuple[Point, Point], ...] = (((0.13, 0.41), (0.13, 0.565)), ((0.42, 0.17), (0.42, 0.565)))

_LAMP: Point = (1.25, 0.25)
_LARGEST_MOVEMENT = 0.17
"""Largest movement drawn, in wheelbases; the factor is chosen to stay within it."""

_FACTORS = (10, 8, 6, 5, 4, 3, 2, 1)


@dataclass(frozen=True, slots=True, kw_only=True)
class BeamRay:
    """The cut-off from the lamp to the wall; `level_z` is where a level beam of this lamp would meet it."""

    lamp: Point
    end: Point
    level_z: float
    upper_z: float | None
    lower_z: float | None
    """The limits of the aim rule on the wall, where the rule has them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SideView:
    """One stage, seen from the vehicle's right: the front to the right."""

    factor: int
    wheelbase_mm: float
    body: tuple[Point, ...]
    unloaded_body: tuple[Point, ...]
    glass: tuple[Point, ...]
    edges: tuple[tuple[Point, Point], ...]
    wheels: tuple[Point, Point]
    wheel_radius_mm: float
    ball: Point | None
    beam: BeamRay | None
    wall_x: float


def side_views(
    session: Session, assessment: Assessment, stages: tuple[StageResult, ...]
) -> tuple[SideView | None, ...]:
    """The stages side by side, all drawn with one factor; None for one whose body cannot be placed."""
    movements = [movement for stage in stages for movement in _movements(assessment, stage)]
    wheelbase_mm = session.vehicle.wheelbase_mm or USUAL_WHEELBASE_MM
    factor = _factor(max(movements, default=0.0), wheelbase_mm)
    return tuple(_side_view(session, assessment, stage, factor) for stage in stages)


def _factor(largest_mm: float, wheelbase_mm: float) -> int:
    room_mm = _LARGEST_MOVEMENT * wheelbase_mm
    return next((factor for factor in _FACTORS if factor * largest_mm <= room_mm), 1)


def _movements(assessment: Assessment, stage: StageResult) -> list[float]:
    moved = [abs(mm) for mm in (stage.front_mm, stage.rear_mm, stage.ball_mm) if mm is not None]
    lamp = stage.lamp
    if lamp is not None and lamp.aim_deg is not None and lamp.rise_mm is not None:
        moved.append(abs(lamp.rise_mm + assessment.screen_mm * tan(radians(lamp.aim_deg))))
    return moved


def _side_view(session: Session, assessment: Assessment, stage: StageResult, factor: int) -> SideView | None:
    if stage.front_mm is None or stage.rear_mm is None:
        return None
    wheelbase_mm = session.vehicle.wheelbase_mm or USUAL_WHEELBASE_MM
    front_mm, rear_mm = stage.front_mm, stage.rear_mm

    def moved(x: float, z: float) -> Point:
        change_mm = rear_mm + (front_mm - rear_mm) * x / wheelbase_mm
        return (x, z + factor * change_mm)

    def on_body(point: Point) -> Point:
        return moved(point[0] * wheelbase_mm, point[1] * wheelbase_mm)

    overhang_mm = session.vehicle.ball_overhang_mm
    return SideView(
        factor=factor,
        wheelbase_mm=wheelbase_mm,
        body=tuple(map(on_body, _OUTLINE)),
        unloaded_body=tuple((x * wheelbase_mm, z * wheelbase_mm) for x, z in _OUTLINE),
        glass=tuple(map(on_body, _GLASS)),
        edges=tuple((on_body(bottom), on_body(top)) for bottom, top in _EDGES),
        wheels=((0.0, WHEEL_RADIUS * wheelbase_mm), (wheelbase_mm, WHEEL_RADIUS * wheelbase_mm)),
        wheel_radius_mm=WHEEL_RADIUS * wheelbase_mm,
        ball=None if overhang_mm is None else moved(-overhang_mm, HITCH_HEIGHT * wheelbase_mm),
        beam=_beam(session, assessment, stage, factor, wheelbase_mm),
        wall_x=WALL_AT * wheelbase_mm,
    )


def _beam(
    session: Session, assessment: Assessment, stage: StageResult, factor: int, wheelbase_mm: float
) -> BeamRay | None:
    lamp = stage.lamp
    if lamp is None or lamp.aim_deg is None:
        return None
    vehicle = session.vehicle
    height_mm = _LAMP[1] * wheelbase_mm if vehicle.lamp_height_mm is None else vehicle.lamp_height_mm
    x = _LAMP[0] * wheelbase_mm if vehicle.lamp_ahead_mm is None else wheelbase_mm + vehicle.lamp_ahead_mm
    z = height_mm + factor * (lamp.rise_mm or 0.0)

    def on_wall(percent: float | None) -> float | None:
        return None if percent is None else z + factor * assessment.screen_mm * percent / 100

    return BeamRay(
        lamp=(x, z),
        end=(WALL_AT * wheelbase_mm, z + factor * assessment.screen_mm * tan(radians(lamp.aim_deg))),
        level_z=z,
        upper_z=on_wall(_limit(assessment, RULE_LIMITS["upper"])),
        lower_z=on_wall(_limit(assessment, RULE_LIMITS["lower"])),
    )


def _limit(assessment: Assessment, kind: CheckKind) -> float | None:
    return next((verdict.limit for verdict in assessment.verdicts if verdict.kind == kind), None)
