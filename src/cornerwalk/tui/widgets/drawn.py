"""The base of all our widgets: rows of text, each span in one of the theme's parts.

A widget says its rows; only rows that differ from those on screen are painted again, and the page is laid out anew
only when their number changes. This is what keeps a key's way to the results short, and a slow line usable.
"""

from __future__ import annotations

from typing import ClassVar

from rich.cells import cell_len, set_cell_size
from rich.segment import Segment
from textual.geometry import Region, Size
from textual.strip import Strip
from textual.widget import Widget

Span = tuple[str, str]
"""A part of the theme (see `PARTS_DRAWN`) and the text drawn in it."""

Row = list[Span]

PARTS_DRAWN = ("ink", "strong", "quiet", "due", "caution", "line", "block", "alarm")
"""`strong` is bold ink, `block` paper on due, `alarm` paper on caution; the others are colours of the same name."""


class Drawn(Widget):
    """Rows of spans, painted row by row."""

    COMPONENT_CLASSES: ClassVar[set[str]] = {f"drawn--{part}" for part in PARTS_DRAWN}
    DEFAULT_CSS = """
    Drawn { height: auto; }
    Drawn > .drawn--ink { color: $ink; }
    Drawn > .drawn--strong { color: $ink; text-style: bold; }
    Drawn > .drawn--quiet { color: $quiet; }
    Drawn > .drawn--due { color: $due; text-style: bold; }
    Drawn > .drawn--caution { color: $caution; text-style: bold; }
    Drawn > .drawn--line { color: $line; }
    Drawn > .drawn--block { color: $paper; background: $due; text-style: bold; }
    Drawn > .drawn--alarm { color: $paper; background: $caution; text-style: bold; }
    """

    def __init__(self, *, id: str | None = None, classes: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id, classes=classes)
        self._drawn: list[Row] = []
        self._drawn_size = Size(-1, -1)

    def rows(self, width: int) -> list[Row]:
        """What to draw in this width."""
        raise NotImplementedError

    def redraw(self) -> None:
        """Paint what changed since the last time."""
        if not self.is_attached or self.size.width <= 0:
            return
        before = self._drawn
        self._take_up()
        after = self._drawn
        if len(before) != len(after) and self.styles.is_auto_height:
            self.refresh(layout=True)
            return
        width = self.size.width
        longest = max(len(before), len(after))
        changed = [y for y in range(longest) if _row(before, y) != _row(after, y)]
        if changed:
            self.refresh(*(Region(0, y, width, 1) for y in changed))

    def _take_up(self) -> None:
        self._drawn = self.rows(self.size.width)
        self._drawn_size = self.size

    def get_content_width(self, container: Size, viewport: Size) -> int:  # noqa: ARG002
        """All there is."""
        return container.width

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:  # noqa: ARG002
        """As many rows as there are in this width."""
        return len(self.rows(width))

    def render_line(self, y: int) -> Strip:
        """One row, cut or filled to the width."""
        if self._drawn_size != self.size:
            self._take_up()
        width = self.size.width
        base = self.rich_style
        row = _row(self._drawn, y)
        segments = [
            Segment(text, base + self.get_component_rich_style(f"drawn--{part}", partial=True)) for part, text in row
        ]
        return Strip(segments).adjust_cell_length(width, base)


def _row(rows: list[Row], y: int) -> Row:
    return rows[y] if y < len(rows) else []


def row_width(row: Row) -> int:
    """Columns a row takes."""
    return sum(cell_len(text) for _, text in row)


def fitted(text: str, width: int) -> str:
    """The text in exactly `width` columns: filled with spaces, or cut with an ellipsis."""
    if cell_len(text) <= width:
        return set_cell_size(text, width)
    return f"{set_cell_size(text, width - 1)}…" if width > 0 else ""


def wrapped(text: str, width: int) -> list[str]:
    """The text in lines of at most `width` columns, broken between words where that is possible."""
    lines: list[str] = []
    line = ""
    for word in text.split():
        joined = f"{line} {word}" if line else word
        if cell_len(joined) <= width:
            line = joined
            continue
        if line:
            lines.append(line)
        while cell_len(word) > width > 0:
            head = set_cell_size(word, width)
            lines.append(head)
            word = word[len(head) :]
        line = word
    return [*lines, line] if line or not lines else lines
