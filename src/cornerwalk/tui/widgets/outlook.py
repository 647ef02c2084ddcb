"""What the readings mean so far, and what comes next: two headings with a few lines below each."""

from __future__ import annotations

from cornerwalk.job.notice import Notice, Span
from cornerwalk.tui.widgets.drawn import Drawn, Row
from cornerwalk.tui.widgets.prose import prose_rows
from cornerwalk.tui.widgets.ruler import ruled

MEANING_ROWS = 4
"""Kept free for the results, so that nothing below moves while they come in."""

LOW = 22
"""Windows lower than this have no line between the results and what comes next."""


class Outlook(Drawn):
    """Results first, then what to do."""

    _heading: Span = ("quiet", "")
    _meaning: tuple[Notice, ...] = ()
    _coming: tuple[Notice, ...] = ()

    def show_meaning(self, heading: Span, meaning: tuple[Notice, ...]) -> None:
        """The results, under a heading that says whether they are kept."""
        if (heading, meaning) != (self._heading, self._meaning):
            self._heading = heading
            self._meaning = meaning
            self.redraw()

    def show_coming(self, coming: tuple[Notice, ...]) -> None:
        """What comes next, and the cautions that belong to it."""
        if coming != self._coming:
            self._coming = coming
            self.redraw()

    def rows(self, width: int) -> list[Row]:
        """All of it."""
        meaning = prose_rows(self._meaning, width)
        coming = prose_rows(self._coming, width)
        if self.app.size.height < LOW:
            told = [ruled((self._heading,), width), *meaning]
            # Where there is not room for both, what can hurt somebody is read before what was measured.
            careful = any(paragraph.part == "caution" for paragraph in self._coming)
            return [ruled((), width), *coming, *told] if careful else [*told, *coming]
        free: list[Row] = [[] for _ in range(MEANING_ROWS - len(meaning))]
        return [ruled((self._heading,), width), *meaning, *free, ruled((), width), *coming]
