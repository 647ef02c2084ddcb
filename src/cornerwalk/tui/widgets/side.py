"""Side view: body tilted, ball, beam on the wall with the rule's band, before and now.

Where everything lies comes from `report.geometry`, as on paper; here it only becomes dots. What was before is dashed
and quiet, what is now is solid; each is named at the wall in words, so that nothing hangs on a colour.
"""

from __future__ import annotations

from dataclasses import dataclass

from rich.cells import cell_len

from cornerwalk.report.geometry import SideView
from cornerwalk.tui.widgets.raster import BRAILLE, Alphabet, Raster, Viewport
from cornerwalk.tui.widgets.rows import Row, RowWidget, fitted

_BEFORE_DASH = (2, 2)
_LEVEL_DASH = (1, 3)

_LEFT_OF_AXLE = 0.58
"""Wheelbases shown behind the rear axle: the ball and a piece of what is hitched to it."""
_HIGHEST = 0.80
"""Wheelbases shown above the ground."""
_LOWEST = 0.62
"""What must be seen of the height where there is little room."""
_WALL_HEIGHT = 0.74
_NARROWEST_WALL = 11
"""Columns kept at the right for the words at the wall."""

_WHEEL_WELL = 1.18
_HUB = 0.35


@dataclass(frozen=True, slots=True)
class Scene:
    """What is drawn: now, before it if there is a before, and words for the places of the drawing.

    `now_name` and `before_name` stand at the beams' ends on the wall; `scale_words` say how much larger than life the
    movements are drawn; `above` says that the beam points above level.
    """

    now: SideView
    before: SideView | None
    now_name: str
    before_name: str
    level_name: str
    rule_name: str
    rear_words: str
    front_words: str
    wall_words: str
    scale_words: str
    above: bool
    hitched: bool


class Side(RowWidget):
    """The scene, as large as there is room for."""

    DEFAULT_CSS = "Side { height: 100%; }"

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id)
        self._scene: Scene | None = None
        self._alphabet = BRAILLE

    def show_scene(self, scene: Scene | None, alphabet: Alphabet = BRAILLE) -> None:
        """Draw this; None draws nothing."""
        if (scene, alphabet) != (self._scene, self._alphabet):
            self._scene, self._alphabet = scene, alphabet
            self.redraw()

    def rows(self, width: int) -> list[Row]:
        """The drawing with a line of words below the ground."""
        if self._scene is None or self.size.height < 4 or width < 30:
            return []
        return paint(self._scene, width, self.size.height, self._alphabet)


def paint(scene: Scene, columns: int, rows: int, alphabet: Alphabet) -> list[Row]:
    """The scene in so many cells."""
    raster = Raster(columns, rows - 1, alphabet)
    frame, wall_column = _frame(scene.now, raster)
    _ground(raster, frame)
    _wall(scene, raster, frame)
    if scene.before is not None:
        _vehicle(raster, frame, scene.before, part="line", hitched=False, dash=_BEFORE_DASH)
        _beam(raster, frame, scene.before, part="quiet", dash=_BEFORE_DASH)
    _light(scene, raster, frame)
    _vehicle(raster, frame, scene.now, part="ink", hitched=scene.hitched)
    _beam(raster, frame, scene.now, part="caution" if scene.above else "due")
    _wall_words(scene, raster, frame, wall_column)
    raster.write(1, 0, scene.scale_words, "quiet")
    return [*raster.rows(), _below(scene, raster, frame, columns)]


def _frame(view: SideView, raster: Raster) -> tuple[Viewport, int]:
    """The whole width, as high as there is room; a flat drawing is drawn flatter rather than cut."""
    base = view.wheelbase_mm
    words = max(_NARROWEST_WALL, raster.columns // 7)
    wall_column = raster.columns - words
    span_mm = view.wall_x + _LEFT_OF_AXLE * base
    across = (wall_column * raster.alphabet.across - 1) / span_mm
    up = across * raster.alphabet.squareness
    room = raster.height - 1
    if up * _HIGHEST * base > room:
        up = max(room / (_HIGHEST * base), min(up, room / (_LOWEST * base)) * 0.86)
        across = min(across, 1.3 * up / raster.alphabet.squareness)
    left = wall_column * raster.alphabet.across - 1 - view.wall_x * across
    return Viewport(left, room, across, up), wall_column


def _ground(raster: Raster, frame: Viewport) -> None:
    y = frame.bottom
    raster.line((0, y), (raster.width - 1, y), "line")


def _wall(scene: Scene, raster: Raster, frame: Viewport) -> None:
    view = scene.now
    x, top = frame.at(view.wall_x, _WALL_HEIGHT * view.wheelbase_mm)
    raster.line((x, max(0, top)), (x, frame.bottom), "line")
    beam = view.beam
    if beam is None or (beam.upper_z is None and beam.lower_z is None):
        return
    upper = frame.at(0, beam.upper_z)[1] if beam.upper_z is not None else max(0.0, top)
    lower = frame.at(0, beam.lower_z)[1] if beam.lower_z is not None else frame.bottom
    for beside in range(1, raster.alphabet.across + 1):
        raster.between(x + beside, upper, lower, "due")


def _vehicle(
    raster: Raster, frame: Viewport, view: SideView, *, part: str, hitched: bool, dash: tuple[int, int] = (1, 0)
) -> None:
    solid = dash == (1, 0)
    raster.polygon([frame.at(*point) for point in view.body], part, dash=dash)
    if solid:
        raster.polygon([frame.at(*point) for point in view.glass], part)
        for bottom, top in view.edges:
            raster.line(frame.at(*bottom), frame.at(*top), part)
        for wheel in view.wheels:
            _wheel(raster, frame, view, wheel)
    if view.ball is not None:
        _ball(raster, frame, view, view.ball, part, hitched=hitched, solid=solid)


def _wheel(raster: Raster, frame: Viewport, view: SideView, wheel: tuple[float, float]) -> None:
    centre = frame.at(*wheel)
    across, up = view.wheel_radius_mm * frame.across, view.wheel_radius_mm * frame.up
    raster.hole(centre, across * _WHEEL_WELL, up * _WHEEL_WELL)
    raster.circle(centre, across, up, "ink")
    raster.disc(centre, across * _HUB, up * _HUB, "ink")


def _ball(
    raster: Raster, frame: Viewport, view: SideView, ball: tuple[float, float], part: str, *, hitched: bool, solid: bool
) -> None:
    at = frame.at(*ball)
    raster.line(frame.at(*view.body[0]), at, part)
    if not solid:
        return
    radius = 0.022 * view.wheelbase_mm
    raster.disc(at, max(1.0, radius * frame.across), max(1.0, radius * frame.up), "strong")
    if hitched:
        behind = at[0] - 0.34 * view.wheelbase_mm * frame.across
        raster.line(at, (behind, at[1]), "quiet", dash=(3, 1))


def _beam(raster: Raster, frame: Viewport, view: SideView, *, part: str, dash: tuple[int, int] = (1, 0)) -> None:
    beam = view.beam
    if beam is None:
        return
    lamp, end = frame.at(*beam.lamp), frame.at(*beam.end)
    raster.line(lamp, end, part, dash=dash)
    if dash == (1, 0):
        raster.disc(lamp, 1.5, 1.5 * frame.up / frame.across, part)


def _light(scene: Scene, raster: Raster, frame: Viewport) -> None:
    """What is lit: everything below the cut-off, thinner the farther down; and where a level beam would go."""
    beam = scene.now.beam
    if beam is None:
        return
    lamp, end = frame.at(*beam.lamp), frame.at(*beam.end)
    raster.line(lamp, frame.at(scene.now.wall_x, beam.level_z), "line", dash=_LEVEL_DASH)
    spread = 0.16 * scene.now.wheelbase_mm * frame.up
    steps = int(end[0] - lamp[0])
    for step in range(3, steps):
        share = step / steps
        top = lamp[1] + share * (end[1] - lamp[1])
        if (int(lamp[0]) + step) % 3 == 0:
            raster.between(lamp[0] + step, top + 2, top + 2 + share * spread, "quiet", every=3, offset=step % 2)


def _wall_words(scene: Scene, raster: Raster, frame: Viewport, column: int) -> None:
    """Names at the wall, the most important first; one that has no room of its own moves to the nearest free row."""
    beam, before = scene.now.beam, scene.before.beam if scene.before is not None else None
    if beam is None:
        return
    wanted = [(beam.end[1], "◂ ", scene.now_name, "caution" if scene.above else "due")]
    if before is not None and scene.before_name:
        wanted.append((before.end[1], "◂ ", scene.before_name, "quiet"))
    band = [z for z in (beam.upper_z, beam.lower_z) if z is not None]
    if band and scene.rule_name:
        wanted.append((sum(band) / len(band), "▐ ", scene.rule_name, "due"))
    wanted.append((beam.level_z, "┄ ", scene.level_name, "quiet"))
    room = raster.columns - column - 2
    for z, sign, name, part in wanted:
        text = f"{sign}{name}"
        if cell_len(text) > room:
            text = fitted(text, room)
        row = int(frame.at(0, z)[1]) // raster.alphabet.down
        free = [r for r in _nearest(row, raster.lines) if raster.is_free(column + 2, r, room)]
        if free:
            raster.write(column + 2, free[0], text, part)


def _nearest(row: int, rows: int) -> list[int]:
    """All rows, the nearest first."""
    return sorted(range(rows), key=lambda each: abs(each - row))


def _below(scene: Scene, raster: Raster, frame: Viewport, columns: int) -> Row:
    """Below the ground: how far each end moved, under its axle; and at the right how far away the wall is."""
    rear, front = (int(frame.at(x, 0)[0]) // raster.alphabet.across for x, _ in scene.now.wheels)
    places = (
        (rear - cell_len(scene.rear_words) // 2, scene.rear_words, "strong"),
        (front - cell_len(scene.front_words) // 2, scene.front_words, "strong"),
        (columns - cell_len(scene.wall_words) - 1, scene.wall_words, "quiet"),
    )
    row: Row = []
    used = 0
    for wanted, words, part in places:
        start = max(wanted, used + 1 if used else 0)
        if words and start + cell_len(words) <= columns:
            row += [("ink", " " * (start - used)), (part, words)]
            used = start + cell_len(words)
    return row
