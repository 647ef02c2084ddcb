"""Prose: paragraphs with a label in front, a line across the page with words in it, words not to be overlooked.

They are our own and no `Static` or `Rule`: the library's texts have no hanging indent and may end a line inside a
figure (28 | 5/8), and every rich text on a page lengthens the way from a key to its result.
"""

from __future__ import annotations

from collections.abc import Sequence

from rich.cells import cell_len

from cornerwalk.job.notice import Notice, Span
from cornerwalk.tui.widgets.rows import Row, RowWidget, fitted, row_width, wrapped


class Prose(RowWidget):
    """Paragraphs, one below the other; the widest label makes the indent."""

    def __init__(
        self,
        paragraphs: tuple[Notice, ...] = (),
        *,
        id: str | None = None,  # noqa: A002
        classes: str | None = None,
    ) -> None:
        super().__init__(id=id, classes=classes)
        self._paragraphs = paragraphs

    @property
    def paragraphs(self) -> tuple[Notice, ...]:
        """What is shown."""
        return self._paragraphs

    @paragraphs.setter
    def paragraphs(self, paragraphs: tuple[Notice, ...]) -> None:
        if paragraphs != self._paragraphs:
            self._paragraphs = paragraphs
            self.redraw()

    def rows(self, width: int) -> list[Row]:
        """Every paragraph wrapped to the width."""
        return prose_rows(self._paragraphs, width)


def prose_rows(paragraphs: tuple[Notice, ...], width: int) -> list[Row]:
    """The paragraphs as rows of at most `width` columns, one column free at the left."""
    widest = max((cell_len(p.label) for p in paragraphs), default=0)
    indent = 1 + (widest + 2 if widest else 0)
    room = width - indent
    if room < 12:  # too narrow for an indent: the label stands in the text
        indent, room = 0, max(1, width)
        paragraphs = tuple(Notice(f"{p.label} {p.text}".strip(), "", p.part) for p in paragraphs)
    rows: list[Row] = []
    for paragraph in paragraphs:
        for number, line in enumerate(wrapped(paragraph.text, room)):
            label = paragraph.label if number == 0 and indent > 1 else ""
            start = f" {fitted(label, indent - 1)}" if indent else ""
            rows.append([(paragraph.label_part, start), (paragraph.part, line)])
    return rows


# ---- a line across the page with a few words in it ----


class Ruler(RowWidget):
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


class Banner(RowWidget):
    """A few words across the page that must not be overlooked; loud ones fill their rows. No words take no room."""

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id)
        self._words = ("", False)

    def say(self, text: str, *, loud: bool) -> None:
        """Show this; "" for nothing."""
        if (text, loud) != self._words:
            self._words = (text, loud)
            self.redraw()

    def rows(self, width: int) -> list[Row]:
        """The text wrapped."""
        text, loud = self._words
        if not text or width < 3:
            return []
        part = "alarm" if loud else "ink"
        return [[(part, f" {fitted(line, width - 1)}")] for line in wrapped(text, width - 2)]
