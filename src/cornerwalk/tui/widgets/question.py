"""What is asked now: its name; below it what to do, or large the corner's letters, then the figures as understood."""

from __future__ import annotations

from dataclasses import dataclass

from rich.cells import cell_len

from cornerwalk.tui import blocks
from cornerwalk.tui.widgets.drawn import Drawn, Row, fitted, wrapped


class Question(Drawn):
    """A title, a word on where it belongs, and figures as large as there is room for."""

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id)
        self._asked = _Asked()

    def ask(self, title: str, context: str, *, large: str = "", part: str = "ink", words: str = "") -> None:
        """Ask this; `large` is drawn in `part`, and `words` where there is nothing to draw."""
        asked = _Asked(title, context, large, part, words)
        if asked != self._asked:
            self._asked = asked
            self.redraw()

    def rows(self, width: int) -> list[Row]:
        """The title, then the figures in the middle of what room is left, or the words."""
        asked = self._asked
        title = fitted(asked.title, min(cell_len(asked.title), max(1, width - 2)))
        row: Row = [("due", f" {title}")]
        room = width - 2 - cell_len(title)
        if asked.context and room > 6:
            row.append(("quiet", fitted(f"  {asked.context}", min(cell_len(asked.context) + 2, room))))
        drawn = _large(asked, width, self.size.height - 1)
        if not drawn and asked.words:
            drawn = [[("strong", f" {line}")] for line in wrapped(asked.words, max(1, width - 2))]
        return [row, *drawn]


@dataclass(frozen=True, slots=True)
class _Asked:
    title: str = ""
    context: str = ""
    large: str = ""
    part: str = "ink"
    words: str = ""


def _large(asked: _Asked, width: int, height: int) -> list[Row]:
    """The figures as large as they fit, nothing where they do not."""
    if not asked.large or not blocks.can_draw(asked.large):
        return []
    for factor in (3, 2, 1):
        if blocks.height(factor) <= height and blocks.width(asked.large, factor) <= width - 2:
            above = (height - blocks.height(factor) + 1) // 2
            drawn: list[Row] = [[(asked.part, f" {line}")] for line in blocks.draw(asked.large, factor)]
            return [[] for _ in range(above)] + drawn
    return []
