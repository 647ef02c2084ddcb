"""Row widget: the base of all our widgets, rows of text with each span in one of the theme's parts.

A widget says its rows; only rows that differ from those on screen are painted again, and the page is laid out anew
only when their number changes. This is what keeps a key's way to the results short, and a slow line usable. There is
no room for borders, padding or selection here: the rows go to the screen as they are.
"""

from __future__ import annotations

import re

from rich.cells import cell_len, set_cell_size
from rich.segment import Segment
from rich.style import Style
from textual.containers import VerticalScroll
from textual.geometry import Region, Size
from textual.strip import Strip
from textual.widget import Widget

Span = tuple[str, str]
"""A part of the theme (see `PARTS_DRAWN`) and the text drawn in it."""

Row = list[Span]

PARTS_DRAWN: dict[str, tuple[str, str | None, bool]] = {
    "ink": ("ink", None, False),
    "strong": ("ink", None, True),
    "quiet": ("quiet", None, False),
    "due": ("due", None, True),
    "caution": ("caution", None, True),
    "line": ("line", None, False),
    "block": ("paper", "due", True),
    "alarm": ("paper", "caution", True),
    "slot": ("ink", "slot", True),
    "slot-due": ("due", "slot", True),
    "slot-quiet": ("quiet", "slot", False),
}
"""What each is written with and on, both parts of the theme, and whether it is bold.

No style sheet says so: the library works out every such style of every widget anew whenever a page opens or the window
changes, which took a third of that time.
"""


class RowWidget(Widget):
    """Rows of spans, painted row by row."""

    DEFAULT_CSS = "RowWidget { height: auto; }"
    ALLOW_SELECT = False

    def __init__(self, *, id: str | None = None, classes: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id, classes=classes)
        self._rows: list[Row] = []
        self._strips: list[Strip] = []
        self._painted = Size(-1, -1)
        self._inks: dict[str, Style] = {}

    def rows(self, width: int) -> list[Row]:
        """What to draw in this width."""
        raise NotImplementedError

    def redraw(self) -> None:
        """Paint what changed since the last time."""
        width, height = self.size
        if not self.is_attached or width <= 0:
            return
        before = self._rows
        after = self.rows(width)
        if self.styles.is_auto_height and max(self.wanted_height(after, width), self._least_height()) != height:
            self._painted = Size(-1, -1)
            self.refresh(layout=True)
        elif self._painted != self.size:
            self.refresh()
        else:
            longest = max(len(before), len(after))
            changed = [y for y in range(longest) if y < height and _row(before, y) != _row(after, y)]
            self._rows = after
            for y in changed:
                self._strips[y] = self._strip(_row(after, y))
            if changed:
                self.refresh(*(Region(0, y, width, 1) for y in changed))

    def keep_in_sight(self) -> None:
        """Scroll so that what is marked is seen: asked of every widget when the window changes; most mark nothing."""

    def wanted_height(self, rows: list[Row], width: int) -> int:  # noqa: ARG002
        """How many rows are needed; a widget that fills the room it has says what it could do with."""
        return len(rows)

    def _least_height(self) -> int:
        least = self.styles.min_height
        return int(least.value) if least is not None else 0

    def get_content_width(self, container: Size, viewport: Size) -> int:  # noqa: ARG002
        """All there is."""
        return container.width

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:  # noqa: ARG002
        """As many rows as are needed in this width."""
        return self.wanted_height(self.rows(width), width)

    def notify_style_update(self) -> None:
        """Another look, or another size class: everything is painted anew."""
        super().notify_style_update()
        self._inks = {}
        self._painted = Size(-1, -1)

    def render_lines(self, crop: Region) -> list[Strip]:
        """The rows as they were painted; the library asks every widget for all of them whenever one row changes."""
        if self._painted != self.size:
            self._rows = self.rows(self.size.width)
            self._strips = [self._strip(_row(self._rows, y)) for y in range(self.size.height)]
            self._painted = self.size
        strips = self._strips[crop.y : crop.bottom]
        if crop.width == self.size.width:
            return strips
        return [strip.crop(crop.x, crop.right) for strip in strips]

    def _strip(self, row: Row) -> Strip:
        """One row, cut or filled to the width."""
        segments = [Segment(text, self._ink(part)) for part, text in row]
        strip = Strip(segments).adjust_cell_length(self.size.width, self._ink(""))
        filters = self.get_line_filters()
        background = self.background_colors[1] if filters else None
        for line_filter in filters:
            if background is not None:
                strip = strip.apply_filter(line_filter, background)
        return strip

    def _ink(self, part: str) -> Style:
        """The style a part is drawn in, on the ground of the widget unless it has its own."""
        style = self._inks.get(part)
        if style is None:
            style = self.rich_style
            if part:
                writing, ground, bold = PARTS_DRAWN[part]
                colours = self.app.theme_variables
                style += Style(color=colours[writing], bgcolor=ground and colours[ground], bold=bold or None)
            self._inks[part] = style
        return style


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


_HARD = "\N{NO-BREAK SPACE}"
_BELONGS = re.compile(r"(?<=\d) (?=\d+/\d|±|(?:in|mm|cm|ft|m|psi|kPa|lb|kg|lb/in|N/mm|%)\b)|(?<=±) (?=\d)| (?=± )")
"""Spaces a line does not end at: inside 28 5/8, before a unit, around a ±."""


def unbroken(text: str) -> list[str]:
    r"""The pieces of a text between which a line may end: words, and figures whole with their unit.

    >>> unbroken("rear down 1 9/16 in")
    ['rear', 'down', '1\xa09/16\xa0in']
    """
    return _BELONGS.sub(_HARD, text).split(" ")


def wrapped(text: str, width: int) -> list[str]:
    """The text in lines of at most `width` columns, broken between words where that is possible, never in a figure."""
    if cell_len(text) <= width:
        return [" ".join(text.split())]
    lines: list[str] = []
    line = ""
    for bound in unbroken(text):
        word = bound
        joined = f"{line} {word}" if line else word
        if not word or cell_len(joined) <= width:
            line = joined if word else line
            continue
        if line:
            lines.append(line)
        while cell_len(word) > width > 0:
            head = set_cell_size(word, width)
            lines.append(head)
            word = word[len(head) :]
        line = word
    return [line.replace(_HARD, " ") for line in ([*lines, line] if line or not lines else lines)]


class Scroll(VerticalScroll, inherit_bindings=False, can_focus=False):
    """A part of a page that scrolls when it has to, and leaves the arrow keys to the page, which turn questions."""
