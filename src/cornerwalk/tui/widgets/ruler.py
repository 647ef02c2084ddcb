"""A drawn line across the page with a few words in it."""

from __future__ import annotations

from collections.abc import Sequence

from cornerwalk.job.notice import Span
from cornerwalk.tui.widgets.drawn import Drawn, Row, row_width


class Ruler(Drawn):
    """A line with words set into it; between several words runs more line."""

    DEFAULT_CSS = "Ruler { height: 1; }"

    def __init__(self, *words: Span, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id)
        self._words: tuple[Span, ...] = words

    def say(self, *words: Span) -> None:
        """Set these words into the line."""
        if words != self._words:
            self._words = words
            self.redraw()

    def rows(self, width: int) -> list[Row]:
        """One row, full width."""
        return [ruled(self._words, width)]


def ruled(words: Sequence[Span], width: int) -> Row:
    """A line of this width with these words set in; where there is no room for all of them, the last ones stay."""
    left = list(words)
    row = _set_in(left)
    while left and row_width(row) > width:
        left.pop(0)
        row = _set_in([("quiet", "…"), *left])
    return [*row, ("line", "─" * max(0, width - row_width(row)))]


def _set_in(words: Sequence[Span]) -> Row:
    row: Row = [("line", "─")]
    for part, text in words:
        row += [(part, f" {text} "), ("line", "──")]
    return row
