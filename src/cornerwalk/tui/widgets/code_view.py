"""A code for a telephone: black on white whatever the look, since a camera does not know our themes."""

from __future__ import annotations

from rich.segment import Segment
from rich.style import Style
from textual.strip import Strip
from textual.widget import Widget

from cornerwalk.report.qr import Matrix, half_blocks

_BLACK_ON_WHITE = Style(color="#000000", bgcolor="#ffffff")


class CodeView(Widget):
    """The code in the middle of its room."""

    DEFAULT_CSS = "CodeView { width: 1fr; height: 1fr; }"

    _lines: tuple[str, ...] = ()

    def show_code(self, matrix: Matrix | None) -> None:
        """Draw this; None draws nothing."""
        lines = () if matrix is None else tuple(half_blocks(matrix).split("\n"))
        if lines != self._lines:
            self._lines = lines
            self.refresh()

    def render_line(self, y: int) -> Strip:
        """One row of it."""
        width, height = self.size
        row = y - (height - len(self._lines)) // 2
        if not 0 <= row < len(self._lines):
            return Strip.blank(width, self.rich_style)
        left = max(0, (width - len(self._lines[row])) // 2)
        blank, code = Segment(" " * left, self.rich_style), Segment(self._lines[row], _BLACK_ON_WHITE)
        return Strip([blank, code]).adjust_cell_length(width, self.rich_style)
