"""Paragraphs with a label in front, wrapped with a hanging indent: results, what to do next, what was understood."""

from __future__ import annotations

from rich.cells import cell_len

from cornerwalk.job.notice import Notice
from cornerwalk.tui.widgets.drawn import Drawn, Row, fitted, wrapped


class Prose(Drawn):
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
