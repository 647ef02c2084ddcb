"""Drawings: side view and plan as plain shapes, in their own units with Y down, for PDF and web page."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, Protocol

from cornerwalk.assess.assessment import Assessment, StageResult
from cornerwalk.report.geometry import BeamRay, Point, SideView, side_views
from cornerwalk.session.model import Session
from cornerwalk.session.stages import CORNERS, REFERENCE_STAGE, Corner
from cornerwalk.wording.figures import Wording
from cornerwalk.wording.names import corner_name, stage_title
from cornerwalk.wording.results import stage_head
from cornerwalk.words import tr

Role = Literal[
    "body", "unloaded", "glass", "wheel", "hub", "ground", "wall", "beam", "level", "limit", "ball", "label",
    "strong label",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Polygon:
    """A closed outline."""

    role: Role
    points: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Stroke:
    """A straight line."""

    role: Role
    start: Point
    end: Point


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle by its center."""

    role: Role
    centre: Point
    radius: float


@dataclass(frozen=True, slots=True)
class Label:
    """Words beside something; `at` is on the baseline, at the start, middle or end of the words."""

    role: Role
    at: Point
    text: str
    size: float
    anchor: Literal["start", "middle", "end"] = "start"


Shape = Polygon | Stroke | Circle | Label


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """Shapes within `width` by `height`; `title` is what the picture shows, for those who cannot see it."""

    title: str
    width: float
    height: float
    shapes: tuple[Shape, ...]


@dataclass(frozen=True, slots=True)
class Ink:
    """How a role is drawn: colours as (red, green, blue) of 255, width in the drawing's units, dashes or none."""

    stroke: tuple[int, int, int] | None
    fill: tuple[int, int, int] | None
    width: float
    dash: tuple[float, float] | None = None


INKS: dict[Role, Ink] = {
    "body": Ink((40, 40, 40), (228, 232, 238), 0.6),
    "unloaded": Ink((120, 120, 120), None, 0.35, (1.0, 1.0)),
    "glass": Ink((40, 40, 40), (255, 255, 255), 0.4),
    "wheel": Ink((40, 40, 40), (90, 90, 90), 0.6),
    "hub": Ink((40, 40, 40), (228, 232, 238), 0.3),
    "ground": Ink((120, 120, 120), None, 0.5),
    "wall": Ink((120, 120, 120), None, 0.9),
    "beam": Ink((150, 90, 0), None, 0.8),
    "level": Ink((120, 120, 120), None, 0.4, (1.5, 1.5)),
    "limit": Ink((0, 90, 150), None, 1.2),
    "ball": Ink((40, 40, 40), (255, 255, 255), 0.6),
    "label": Ink(None, (40, 40, 40), 0),
    "strong label": Ink(None, (0, 0, 0), 0),
}

SIDE_WIDTH, SIDE_HEIGHT = 160.0, 64.0
_GROUND_Y = 50.0
_LEFT = 24.0
_LABEL = 4.2
_HUB = 0.45
_HEAD_WIDTH = 270.0
"""Width for the heading of a picture, in letters times type size."""


def side_drawings(
    session: Session, assessment: Assessment, stages: tuple[StageResult, ...], wording: Wording
) -> tuple[Drawing, ...]:
    """The stages from the side, comparable with each other; a stage whose body cannot be placed is left out."""
    views = side_views(session, assessment, stages)
    return tuple(
        _side_drawing(view, stage, assessment, wording)
        for view, stage in zip(views, stages, strict=True)
        if view is not None
    )


def _side_drawing(view: SideView, stage: StageResult, assessment: Assessment, wording: Wording) -> Drawing:
    span_mm = view.wall_x + 0.35 * view.wheelbase_mm
    scale = (SIDE_WIDTH - _LEFT - 4) / span_mm

    def placed(point: Point) -> Point:
        return (_LEFT + (point[0] + 0.3 * view.wheelbase_mm) * scale, _GROUND_Y - point[1] * scale)

    shapes: list[Shape] = [Stroke("ground", (2.0, _GROUND_Y), (SIDE_WIDTH - 2, _GROUND_Y))]
    shapes.append(Polygon("body", tuple(map(placed, view.body))))
    shapes.append(Polygon("glass", tuple(map(placed, view.glass))))
    shapes += [Stroke("glass", placed(bottom), placed(top)) for bottom, top in view.edges]
    if stage.name != REFERENCE_STAGE:
        shapes.append(Polygon("unloaded", tuple(map(placed, view.unloaded_body))))
        shapes.append(Label("label", (2.0, _GROUND_Y + 8.6), tr("dashed: unloaded"), 3.4))
    for wheel in view.wheels:
        shapes.append(Circle("wheel", placed(wheel), view.wheel_radius_mm * scale))
        shapes.append(Circle("hub", placed(wheel), _HUB * view.wheel_radius_mm * scale))
    if view.ball is not None:
        ball = placed(view.ball)
        shapes += [Stroke("ball", placed(view.body[0]), ball), Circle("ball", ball, 1.3)]
    if view.beam is not None:
        shapes += _beam_shapes(view, view.beam, placed)
    shapes += _side_labels(view, stage, assessment, wording, placed)
    return Drawing(title=_side_title(stage, wording), width=SIDE_WIDTH, height=SIDE_HEIGHT, shapes=tuple(shapes))


def _beam_shapes(view: SideView, beam: BeamRay, placed: _Placing) -> list[Shape]:
    top, foot = placed((view.wall_x, 0.62 * view.wheelbase_mm)), placed((view.wall_x, 0.0))
    shapes: list[Shape] = [
        Stroke("wall", top, foot),
        Stroke("level", placed(beam.lamp), placed((view.wall_x, beam.level_z))),
        Stroke("beam", placed(beam.lamp), placed(beam.end)),
    ]
    for z in (beam.upper_z, beam.lower_z):
        if z is not None and z > 0:
            x, y = placed((view.wall_x, z))
            shapes.append(Stroke("limit", (x - 2.2, y), (x + 2.2, y)))
    return shapes


def _side_labels(
    view: SideView, stage: StageResult, assessment: Assessment, wording: Wording, placed: _Placing
) -> list[Shape]:
    rear_x, front_x = placed((0.0, 0.0))[0], placed((view.wheelbase_mm, 0.0))[0]
    y = _GROUND_Y + 4.6
    head = stage_head(stage, wording)
    shapes: list[Shape] = [
        Label("strong label", (2.0, 5.0), head, min(5.0, _HEAD_WIDTH / len(head))),
        Label("label", (rear_x, y), tr("rear {change}", change=wording.change(stage.rear_mm)), _LABEL, "middle"),
        Label("label", (front_x, y), tr("front {change}", change=wording.change(stage.front_mm)), _LABEL, "middle"),
        Label("label", (2.0, SIDE_HEIGHT - 1.2), _factor_words(view.factor), 3.4),
    ]
    if view.beam is not None:
        x = placed((view.wall_x, 0.0))[0]
        distance = tr("wall at {distance}", distance=wording.screen(assessment.screen_mm))
        shapes.append(Label("label", (SIDE_WIDTH - 2, y + 4.0), distance, _LABEL, "end"))
        y_level = placed((view.wall_x, view.beam.level_z))[1]
        shapes.append(Label("label", (x - 1.5, y_level - 0.9), tr("level"), 3.2, "end"))
    return shapes


def _factor_words(factor: int) -> str:
    if factor == 1:
        return tr("Heights and beam as they are; the wall is drawn nearer.")
    return tr("Heights and beam drawn {factor} times as large as they are; the wall is drawn nearer.", factor=factor)


def _side_title(stage: StageResult, wording: Wording) -> str:
    lamp = stage.lamp
    parts = [
        stage_head(stage, wording),
        tr("front {change}", change=wording.change_pm(stage.front_mm, stage.u_front_mm)),
        tr("rear {change}", change=wording.change_pm(stage.rear_mm, stage.u_rear_mm)),
        wording.tilt(stage.nose_up_deg, stage.u_nose_up_deg),
    ]
    if lamp is not None and lamp.aim_deg is not None:
        parts.append(tr("beam {aim}", aim=wording.aim(lamp.aim_deg, lamp.u_aim_deg, lamp.aim_percent)))
    return "; ".join(parts)


class _Placing(Protocol):
    """Puts a point of the vehicle on the drawing."""

    def __call__(self, point: Point) -> Point: ...


_PLAN_AT: dict[Corner, tuple[float, float, Literal["start", "end"]]] = {
    "LF": (26.0, 20.0, "end"),
    "RF": (74.0, 20.0, "start"),
    "RR": (74.0, 66.0, "start"),
    "LR": (26.0, 66.0, "end"),
}


def plan_drawing(stage: StageResult, wording: Wording) -> Drawing:
    """The vehicle from above, front at the top, with each corner's height and change."""
    shapes: list[Shape] = [
        Polygon("body", ((33.0, 10.0), (37.0, 4.0), (63.0, 4.0), (67.0, 10.0), (67.0, 80.0), (33.0, 80.0))),
        Stroke("ball", (50.0, 80.0), (50.0, 86.0)),
        Circle("ball", (50.0, 87.0), 1.5),
        Label("label", (50.0, 15.0), tr("front"), _LABEL, "middle"),
        Label("strong label", (50.0, 44.0), stage_title(stage.key), _LABEL, "middle"),
    ]
    for corner in CORNERS:
        x, y, anchor = _PLAN_AT[corner]
        wheel_x = 33.0 if anchor == "end" else 67.0
        shapes.append(
            Polygon(
                "wheel",
                ((wheel_x - 2, y - 6), (wheel_x + 2, y - 6), (wheel_x + 2, y + 6), (wheel_x - 2, y + 6)),
            )
        )
        shapes.append(Label("label", (x, y - 6.0), corner_name(corner), 3.6, anchor))
        shapes.append(Label("strong label", (x, y), wording.height(stage.height_mm.get(corner)), 6.0, anchor))
        if stage.name != "unloaded":
            change = wording.change(stage.delta_mm.get(corner))
            shapes.append(Label("label", (x, y + 5.2), change, _LABEL, anchor))
    title = tr("the vehicle from above, {stage}", stage=stage_title(stage.key))
    return Drawing(title=title, width=100.0, height=92.0, shapes=tuple(shapes))
