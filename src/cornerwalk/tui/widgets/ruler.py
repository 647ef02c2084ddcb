"""A drawn line across the page with a few words in it."""

from __future__ import annotations

from cornerwalk.tui.widgets.drawn import Drawn, Row, Span, row_width


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
        """One row, full width; where there is no room for all words, the last ones stay."""
        words = list(self._words)
        row = _set_in(words)
        while words and row_width(row) > width:
            words.pop(0)
            row = _set_in([("quiet", "…"), *words])
        return [[*row, ("line", "─" * max(0, width - row_width(row)))]]


def _set_in(words: list[Span]) -> Row:
    row: Row = [("line", "─")]
    for part, text in words:
        row += [(part, f" {text} "), ("line", "──")]
    return row
