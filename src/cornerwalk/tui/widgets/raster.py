"""Raster: a small canvas, its dots set in character cells, two by four in braille, two by two in blocks.

One canvas of our own for every drawing: the library has only `Sparkline`, the plotting libraries for terminals load
numpy, 160 ms before the first curve (2026-11), and a terminal without braille needs the blocks in any case. It takes
the parts of our themes and paints through `RowWidget`.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, hypot

from rich.cells import cell_len

from cornerwalk.tui.widgets.rows import Row

Point = tuple[float, float]
"""Dots to the right and down from the top left."""


@dataclass(frozen=True, slots=True)
class Alphabet:
    """How dots become characters: dots across and down a cell, and the character of each set of dots.

    `sets` holds a bit for each dot of the cell, row by row; `code` turns their sum into a character.
    """

    name: str
    across: int
    down: int
    bits: tuple[tuple[int, ...], ...]
    characters: str

    @property
    def squareness(self) -> float:
        """Width of a dot over its height, where a cell is twice as high as wide."""
        return self.down / (2 * self.across)

    def character(self, bits: int) -> str:
        """The character with these dots."""
        return self.characters[bits]


BRAILLE = Alphabet(
    "braille",
    2,
    4,
    ((0x01, 0x08), (0x02, 0x10), (0x04, 0x20), (0x40, 0x80)),
    " " + "".join(chr(0x2800 + bits) for bits in range(1, 256)),
)
BLOCKS = Alphabet("blocks", 2, 2, ((1, 2), (4, 8)), " ▘▝▀▖▌▞▛▗▚▐▜▄▙▟█")


class Raster:
    """Dots in `columns` by `rows` cells. A cell has the part of the theme that was drawn into it last."""

    def __init__(self, columns: int, rows: int, alphabet: Alphabet) -> None:
        self.columns = max(0, columns)
        self.lines = max(0, rows)
        self.alphabet = alphabet
        self.width = self.columns * alphabet.across
        self.height = self.lines * alphabet.down
        self._bits = [[0] * self.columns for _ in range(self.lines)]
        self._parts = [["ink"] * self.columns for _ in range(self.lines)]
        self._texts: dict[tuple[int, int], tuple[str, str]] = {}

    # ---- dots ----

    def dot(self, x: float, y: float, part: str) -> None:
        """Set the dot at this place; outside the canvas nothing happens."""
        column, row, bit = self._cell(x, y)
        if bit:
            self._bits[row][column] |= bit
            self._parts[row][column] = part

    def erase(self, x: float, y: float) -> None:
        """Take the dot at this place out."""
        column, row, bit = self._cell(x, y)
        if bit:
            self._bits[row][column] &= ~bit

    def _cell(self, x: float, y: float) -> tuple[int, int, int]:
        if not (0 <= x < self.width and 0 <= y < self.height):
            return 0, 0, 0
        across, down = self.alphabet.across, self.alphabet.down
        left, top = int(x), int(y)
        return left // across, top // down, self.alphabet.bits[top % down][left % across]

    # ---- shapes ----

    def line(self, start: Point, end: Point, part: str, *, dash: tuple[int, int] = (1, 0)) -> None:
        """A line; `dash` is how many dots of it are set and how many left out, again and again."""
        start, end, length = self._clipped(start, end)
        drawn, left_out = dash
        for step in range(length + 1):
            if step % (drawn + left_out) < drawn:
                share = step / length if length else 0.0
                self.dot(
                    round(start[0] + share * (end[0] - start[0])), round(start[1] + share * (end[1] - start[1])), part
                )

    def _clipped(self, start: Point, end: Point) -> tuple[Point, Point, int]:
        """The part of a line that can be seen, with some room to spare, and how many steps it takes."""
        most = 4.0 * (self.width + self.height + 1)
        span = max(abs(end[0] - start[0]), abs(end[1] - start[1]))
        if span > most:  # far outside: no figure is drawn so large, but no loop may run for ever
            share = most / span
            end = (start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1]))
            span = most
        return start, end, ceil(span)

    def path(self, points: Sequence[Point], part: str, *, dash: tuple[int, int] = (1, 0)) -> None:
        """Lines from point to point."""
        for start, end in pairwise(points):
            self.line(start, end, part, dash=dash)

    def polygon(self, points: Sequence[Point], part: str, *, dash: tuple[int, int] = (1, 0)) -> None:
        """A closed outline."""
        self.path([*points, points[0]], part, dash=dash)

    def circle(self, centre: Point, across: float, down: float, part: str) -> None:
        """The outline of an ellipse by its half-axes in dots."""
        for x, y in self._ellipse(centre, across, down):
            beside = ((x - 1, y), (x + 1, y), (x, y - 1), (x, y + 1))
            if not all(self._inside(*dot, centre, across, down) for dot in beside):
                self.dot(x, y, part)

    def disc(self, centre: Point, across: float, down: float, part: str) -> None:
        """An ellipse, filled."""
        for x, y in self._ellipse(centre, across, down):
            self.dot(x, y, part)

    def hole(self, centre: Point, across: float, down: float) -> None:
        """An ellipse with nothing in it."""
        for x, y in self._ellipse(centre, across, down):
            self.erase(x, y)

    def _ellipse(self, centre: Point, across: float, down: float) -> Iterable[tuple[int, int]]:
        left, right = round(centre[0] - across), round(centre[0] + across)
        for y in range(max(0, round(centre[1] - down)), min(self.height - 1, round(centre[1] + down)) + 1):
            for x in range(max(0, left), min(self.width - 1, right) + 1):
                if self._inside(x, y, centre, across, down):
                    yield x, y

    @staticmethod
    def _inside(x: float, y: float, centre: Point, across: float, down: float) -> bool:
        return hypot((x - centre[0]) / max(across, 0.5), (y - centre[1]) / max(down, 0.5)) <= 1.0

    def between(self, x: float, top: float, bottom: float, part: str, *, every: int = 1, offset: int = 0) -> None:
        """Dots down a column from `top` to `bottom`, each `every`th of the canvas' rows."""
        for y in range(max(0, ceil(top)), min(self.height - 1, int(bottom)) + 1):
            if (y + offset) % every == 0:
                self.dot(x, y, part)

    # ---- words ----

    def write(self, column: int, row: int, text: str, part: str) -> bool:
        """Words over the dots, from this cell on; whether there is room for all of them. Otherwise none are written."""
        if row < 0 or row >= self.lines or column < 0 or column + cell_len(text) > self.columns:
            return False
        for place, character in enumerate(text):
            self._texts[(column + place, row)] = (part, character)
        return True

    def is_free(self, column: int, row: int, length: int) -> bool:
        """Whether no words stand in these cells."""
        return all((column + place, row) not in self._texts for place in range(length))

    def rows(self) -> list[Row]:
        """The drawing."""
        drawn: list[Row] = []
        for y in range(self.lines):
            row: Row = []
            for x in range(self.columns):
                part, character = self._texts.get((x, y)) or (
                    self._parts[y][x],
                    self.alphabet.character(self._bits[y][x]),
                )
                if row and row[-1][0] == part:
                    row[-1] = (part, row[-1][1] + character)
                else:
                    row.append((part, character))
            drawn.append(row)
        return drawn


@dataclass(frozen=True, slots=True)
class Viewport:
    """Where figures lie on a canvas: dots of a pair of figures, the second one upwards."""

    left: float
    bottom: float
    across: float
    """Dots for one of the first figure."""
    up: float
    """Dots for one of the second."""

    def at(self, x: float, y: float) -> Point:
        """The dots of a pair of figures."""
        return (self.left + x * self.across, self.bottom - y * self.up)
