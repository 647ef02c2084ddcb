"""The question and its answer: what is asked, the figures large, the place to type in, and what was understood.

One widget and not four: every widget on the way from a key to its result costs a tenth of a millisecond.
"""

from __future__ import annotations

from dataclasses import dataclass

from rich.cells import cell_len

from cornerwalk.job.notice import Notice
from cornerwalk.tui import blocks
from cornerwalk.tui.widgets.drawn import Row, fitted, wrapped
from cornerwalk.tui.widgets.entry import Entry
from cornerwalk.tui.widgets.prose import prose_rows

FACTORS = (3, 2, 1)
ECHO_ROWS = 4


@dataclass(frozen=True, slots=True)
class PanelView:
    """What is asked: its name, where it belongs, figures or letters to draw large in a part, words to do it by."""

    title: str = ""
    context: str = ""
    large: str = ""
    part: str = "ink"
    words: str = ""


class Panel(Entry):
    """An entry with its question above and its echo below."""

    _question = PanelView()
    _echo: tuple[Notice, ...] = ()
    _entry_row = 0

    def show_answer(self, question: PanelView, echo: tuple[Notice, ...], *, hint: str = "") -> None:
        """Ask this, and say this back."""
        self._question = question
        self._hint = hint
        self._echo = echo
        self.redraw()

    @property
    def entry_row(self) -> int:
        """Below the question."""
        return self._entry_row

    def rows(self, width: int) -> list[Row]:
        """PanelView, entry, echo; a long echo takes room from the large figures, never from itself."""
        height = self.size.height
        echo = prose_rows(self._echo, width)
        rows = _asked(self._question, width, height - 1 - max(ECHO_ROWS, len(echo)))
        self._entry_row = len(rows)
        return [*rows, self.slot(width), *echo]

    def wanted_height(self, rows: list[Row], width: int) -> int:  # noqa: ARG002
        """Title, words, entry and echo; large figures only take what is left."""
        words = wrapped(self._question.words, max(1, width - 2)) if self._question.words else []
        return 2 + len(words) + len(prose_rows(self._echo, width))


def _asked(question: PanelView, width: int, height: int) -> list[Row]:
    """The title, and below it what is as large as there is room for, or the words."""
    title = fitted(question.title, min(cell_len(question.title), max(1, width - 2)))
    first: Row = [("due", f" {title}")]
    room = width - 2 - cell_len(title)
    if question.context and cell_len(question.context) + 2 <= room:
        first.append(("quiet", f"  {question.context}"))
    drawn = _large(question, width, height - 1)
    if not drawn and question.words:
        drawn = [[("strong", f" {line}")] for line in wrapped(question.words, max(1, width - 2))]
    return [first, *drawn, *([] for _ in range(max(0, height - 1 - len(drawn))))]


def _large(question: PanelView, width: int, height: int) -> list[Row]:
    """The figures as large as they fit, nothing where they do not."""
    if not question.large or not blocks.can_draw(question.large):
        return []
    for factor in FACTORS:
        tall = blocks.height(factor)
        if tall <= height and blocks.width(question.large, factor) <= width - 2:
            above = (height - tall) // 2
            drawn: list[Row] = [[(question.part, f" {line}")] for line in blocks.draw(question.large, factor)]
            return [[] for _ in range(above)] + drawn
    return []
