"""Air plot: height against pressure, the trials with their ± U, the line and its band, target, kit's limits.

Where the kit forbids to go is hatched, so that it is seen as ground not to be stepped on rather than as empty paper.
Everything on it is also told in words beside it.
"""

from __future__ import annotations

from dataclasses import dataclass

from rich.cells import cell_len

from cornerwalk.assess.air_line import BandPoint
from cornerwalk.tui.widgets.raster import BRAILLE, Alphabet, Raster, Viewport
from cornerwalk.tui.widgets.rows import Row, RowWidget


@dataclass(frozen=True, slots=True)
class PlottedTrial:
    """A trial: its pressure and height with U, and the sign it is drawn with."""

    pressure_kPa: float
    height_mm: float
    U_mm: float
    sign: str


@dataclass(frozen=True, slots=True)
class Curve:
    """Trials that belong together, and the line through them, if there is one, as points to draw."""

    tried: tuple[PlottedTrial, ...]
    band: tuple[BandPoint, ...]


@dataclass(frozen=True, slots=True)
class Level:
    """A height that matters, with its name and the part it is drawn in."""

    height_mm: float
    name: str
    part: str


@dataclass(frozen=True, slots=True)
class Upright:
    """A pressure that matters, drawn from the axis up to a height where it has one, with a sign below the axis."""

    pressure_kPa: float
    sign: str
    part: str
    height_mm: float | None = None


@dataclass(frozen=True, slots=True)
class AirPlotView:
    """Everything in the picture; ranges and ticks in the figures of the axes, ticks with their words."""

    curves: tuple[Curve, ...]
    levels: tuple[Level, ...]
    uprights: tuple[Upright, ...]
    least_kPa: float | None
    most_kPa: float | None
    pressures_kPa: tuple[float, float]
    heights_mm: tuple[float, float]
    pressure_ticks: tuple[tuple[float, str], ...]
    height_ticks: tuple[tuple[float, str], ...]


class AirPlot(RowWidget):
    """The picture, as large as there is room for."""

    DEFAULT_CSS = "AirPlot { height: 100%; }"

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id)
        self._plot: AirPlotView | None = None
        self._alphabet = BRAILLE

    def show_plot(self, plot: AirPlotView | None, alphabet: Alphabet = BRAILLE) -> None:
        """Draw this; None draws nothing."""
        if (plot, alphabet) != (self._plot, self._alphabet):
            self._plot, self._alphabet = plot, alphabet
            self.redraw()

    def rows(self, width: int) -> list[Row]:
        """The picture, or nothing where there is no room for one."""
        if self._plot is None or self.size.height < 4 or width < 24:
            return []
        return paint(self._plot, width, self.size.height, self._alphabet)


def paint(plot: AirPlotView, columns: int, rows: int, alphabet: Alphabet) -> list[Row]:
    """The picture in so many cells: names of the heights at the left, pressures below."""
    left = max((cell_len(text) for _, text in plot.height_ticks), default=0)
    left = max(left, *(cell_len(level.name) for level in plot.levels), 0) + 2 if plot.levels else left + 2
    raster = Raster(columns - left, rows - 1, alphabet)
    frame = _frame(plot, raster)
    _forbidden(plot, raster, frame)
    for level in plot.levels:
        y = frame.at(0, level.height_mm)[1]
        raster.line((0, y), (raster.width - 1, y), level.part, dash=(2, 2))
    for curve in plot.curves:
        _band(curve, raster, frame)
    for upright in plot.uprights:
        _upright(upright, raster, frame, plot.heights_mm[0])
    for curve in plot.curves:
        for tried in curve.tried:
            _tried(tried, raster, frame)
    for side in ((0, 0), (0, raster.height - 1)):
        raster.line(side, (0, raster.height - 1) if side == (0, 0) else (raster.width - 1, raster.height - 1), "line")
    names = _names(plot, raster, frame)
    drawn = [[_name(names.get(y), left), *row] for y, row in enumerate(raster.rows())]
    return [*drawn, _axis(plot, raster, frame, left, columns)]


def _frame(plot: AirPlotView, raster: Raster) -> Viewport:
    (low_kPa, high_kPa), (low_mm, high_mm) = plot.pressures_kPa, plot.heights_mm
    across = (raster.width - 1) / max(high_kPa - low_kPa, 1e-9)
    up = (raster.height - 1) / max(high_mm - low_mm, 1e-9)
    return Viewport(-low_kPa * across, raster.height - 1 + low_mm * up, across, up)


def _forbidden(plot: AirPlotView, raster: Raster, frame: Viewport) -> None:
    """Hatched below the kit's minimum and over its maximum, with a line at each."""
    zones = []
    if plot.least_kPa is not None:
        zones.append((0.0, frame.at(plot.least_kPa, 0)[0], "line"))
    if plot.most_kPa is not None:
        zones.append((frame.at(plot.most_kPa, 0)[0], float(raster.width), "caution"))
    for start, end, part in zones:
        for x in range(max(0, round(start)), min(raster.width, round(end))):
            for y in range(raster.height):
                if (x + y) % 6 == 0:
                    raster.dot(x, y, part)
        edge = start if part == "caution" else end
        raster.line((edge, 0), (edge, raster.height - 1), part)


def _band(curve: Curve, raster: Raster, frame: Viewport) -> None:
    """Dots between the line less U and the line plus U; the line itself solid."""
    for place, (point, following) in enumerate(zip(curve.band, curve.band[1:], strict=False)):
        x, top = frame.at(point.pressure_kPa, point.height_mm + point.U_mm)
        bottom = frame.at(0, point.height_mm - point.U_mm)[1]
        raster.between(x, top, bottom, "quiet", every=2, offset=place % 2)
        raster.dot(x, top, "quiet")
        raster.dot(x, bottom, "quiet")
        end = frame.at(following.pressure_kPa, following.height_mm)
        raster.line(frame.at(point.pressure_kPa, point.height_mm), end, "ink")


def _upright(upright: Upright, raster: Raster, frame: Viewport, lowest_mm: float) -> None:
    top_mm = upright.height_mm if upright.height_mm is not None else lowest_mm
    x, top = frame.at(upright.pressure_kPa, top_mm)
    raster.line((x, top), (x, raster.height - 1), upright.part, dash=(1, 1))
    if upright.height_mm is not None:
        raster.write(int(x) // raster.alphabet.across, int(top) // raster.alphabet.down, upright.sign, upright.part)


def _tried(tried: PlottedTrial, raster: Raster, frame: Viewport) -> None:
    x, y = frame.at(tried.pressure_kPa, tried.height_mm)
    reach = tried.U_mm * frame.up
    raster.line((x, y - reach), (x, y + reach), "strong")
    raster.write(int(x) // raster.alphabet.across, int(y) // raster.alphabet.down, tried.sign, "strong")


def _names(plot: AirPlotView, raster: Raster, frame: Viewport) -> dict[int, tuple[str, str]]:
    """What stands at the left of each row: the heights that matter first, then the ticks that have room."""
    names: dict[int, tuple[str, str]] = {}
    for level in plot.levels:
        row = _row(level.height_mm, raster, frame)
        place = next((r for r in (row, row - 1, row + 1) if 0 <= r < raster.lines and r not in names), None)
        if place is not None:
            names[place] = (level.part, level.name)
    for mm, text in plot.height_ticks:
        row = _row(mm, raster, frame)
        if 0 <= row < raster.lines and not {row - 1, row, row + 1} & names.keys():
            names[row] = ("quiet", text)
    return names


def _row(mm: float, raster: Raster, frame: Viewport) -> int:
    return int(frame.at(0, mm)[1]) // raster.alphabet.down


def _name(name: tuple[str, str] | None, width: int) -> tuple[str, str]:
    if name is None:
        return ("ink", " " * width)
    part, text = name
    return (part, f" {' ' * (width - 2 - cell_len(text))}{text} ")


def _axis(plot: AirPlotView, raster: Raster, frame: Viewport, left: int, columns: int) -> Row:
    """The pressures below: what matters with its sign, then the ticks that have room."""
    cells: dict[int, tuple[str, str]] = {}
    for upright in plot.uprights:
        column = left + int(frame.at(upright.pressure_kPa, 0)[0]) // raster.alphabet.across
        if 0 <= column < columns:
            cells[column] = (upright.part, upright.sign)
    for kPa, text in plot.pressure_ticks:
        start = left + int(frame.at(kPa, 0)[0]) // raster.alphabet.across - cell_len(text) // 2
        wanted = range(start - 1, start + cell_len(text) + 1)
        if start >= 0 and start + cell_len(text) <= columns and not cells.keys() & set(wanted):
            cells |= {start + place: ("quiet", character) for place, character in enumerate(text)}
    row: Row = []
    for column in range(columns):
        part, character = cells.get(column, ("quiet", " "))
        if row and row[-1][0] == part:
            row[-1] = (part, row[-1][1] + character)
        else:
            row.append((part, character))
    return row


__all__ = ["AirPlot", "AirPlotView", "Curve", "Level", "PlottedTrial", "Upright", "paint"]
