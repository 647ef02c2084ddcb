"""Outlook: what the readings mean so far, and what comes next, under two headings."""

from __future__ import annotations

from dataclasses import dataclass

from cornerwalk.job.notice import Notice, Span
from cornerwalk.tui.widgets.prose import prose_rows, ruled
from cornerwalk.tui.widgets.rows import Row, RowWidget

MEANING_ROWS = 4
"""Kept free for the results, so that nothing below moves while they come in."""

LOW = 22
"""Windows lower than this have no line between the results and what comes next."""


@dataclass(frozen=True, slots=True)
class OutlookView:
    """The results, under a heading that says whether they are kept; and what comes next, with its cautions."""

    heading: Span = ("quiet", "")
    meaning: tuple[Notice, ...] = ()
    coming: tuple[Notice, ...] = ()


class Outlook(RowWidget):
    """Results first, then what to do."""

    view = OutlookView()

    def show_view(self, view: OutlookView) -> None:
        """Draw this."""
        if view != self.view:
            self.view = view
            self.redraw()

    def rows(self, width: int) -> list[Row]:
        """All of it."""
        view = self.view
        meaning = prose_rows(view.meaning, width)
        coming = prose_rows(view.coming, width)
        if self.app.size.height < LOW:
            told = [ruled((view.heading,), width), *meaning]
            # Where there is not room for both, what can hurt somebody is read before what was measured.
            careful = any(paragraph.part == "caution" for paragraph in view.coming)
            return [ruled((), width), *coming, *told] if careful else [*told, *coming]
        free: list[Row] = [[] for _ in range(MEANING_ROWS - len(meaning))]
        return [ruled((view.heading,), width), *meaning, *free, ruled((), width), *coming]
