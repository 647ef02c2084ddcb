"""The lines of a chapter, one below the other under their headings: how each stands, and which one is asked."""

from __future__ import annotations

from dataclasses import dataclass

from rich.cells import cell_len
from textual import events
from textual.geometry import Region
from textual.message import Message
from textual.widget import Widget

from cornerwalk.tui.widgets.drawn import Drawn, Row, fitted, row_width, wrapped

_SIGNS = {"open": "·", "done": "✓", "matters": "!", "stop": "■"}
"""A sign for each state, so that none hangs on its colour."""
_PARTS = {"open": "quiet", "done": "ink", "matters": "caution", "stop": "alarm"}
_INDENT = 4


@dataclass(frozen=True, slots=True)
class Listed:
    """One line: its id, name, what stands there, how it stands ("open", "done", "matters", "stop"), its heading."""

    id: str
    name: str
    stands: str
    mark: str
    group: str


class LineList(Drawn):
    """The lines; a click asks one."""

    class Chosen(Message):
        """Sent when a line is clicked."""

        def __init__(self, line_id: str) -> None:
            self.line_id = line_id
            super().__init__()

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id)
        self._lines: tuple[Listed, ...] = ()
        self._asked = ""
        self._places: list[tuple[int, int, str]] = []

    def show_lines(self, lines: tuple[Listed, ...], asked: str) -> None:
        """List these, the asked one marked and brought into sight."""
        if (lines, asked) != (self._lines, self._asked):
            self._lines, self._asked = lines, asked
            self.redraw()
            self.call_after_refresh(self.keep_in_sight)

    def rows(self, width: int) -> list[Row]:
        """Every line under its heading."""
        rows: list[Row] = []
        self._places = []
        group = None
        for line in self._lines:
            if line.group != group:
                group = line.group
                rows += [[("quiet", f" {text}")] for text in wrapped(group, max(8, width - 2))]
                rows[-1] += [("line", " " + "─" * max(0, width - row_width(rows[-1]) - 2))]
            begin = len(rows)
            rows += _drawn(line, width, asked=line.id == self._asked)
            self._places.append((begin, len(rows), line.id))
        return rows

    def on_click(self, event: events.Click) -> None:
        """The line that is clicked."""
        event.stop()
        for begin, end, line_id in self._places:
            if begin <= event.y < end:
                self.post_message(self.Chosen(line_id))

    def keep_in_sight(self) -> None:
        """Scroll so that the asked line is seen, with what comes after it."""
        if not isinstance(self.parent, Widget):
            return
        for begin, end, line_id in self._places:
            if line_id == self._asked:
                region = Region(0, max(0, begin - 1), self.size.width, end - begin + 3)
                self.parent.scroll_to_region(region.translate(self.virtual_region.offset), animate=False)


def _drawn(line: Listed, width: int, *, asked: bool) -> list[Row]:
    """The name with its sign, what stands there at the right, or below where there is no room."""
    sign = "▸" if asked else " "
    part = "block" if asked else _PARTS[line.mark]
    mark = _SIGNS[line.mark]
    room = max(6, width - _INDENT - 1)
    stands = wrapped(line.stands, room) if line.stands else []
    beside = len(stands) == 1 and cell_len(line.name) + cell_len(stands[0]) + 2 <= room
    names = wrapped(line.name, room)
    rows: list[Row] = []
    for place, text in enumerate(names):
        head = f" {sign}{mark} " if place == 0 else " " * _INDENT
        if beside:
            gap = " " * (room - cell_len(text) - cell_len(stands[0]))
            rows.append([("due" if asked else "quiet", head), (part, text), ("ink", gap), ("ink", stands[0])])
        else:
            rows.append([("due" if asked else "quiet", head), (part, fitted(text, min(cell_len(text), room)))])
    if not beside:
        rows += [[("ink", " " * (_INDENT + 1)), ("quiet", text)] for text in wrapped(line.stands, room - 1) if stands]
    return rows
