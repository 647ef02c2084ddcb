"""One question of a chapter: what is asked, what to beware of, the answers to choose from or the place to type.

Answers to choose from are taken by their number, their letter or a click; the same keys are typed where a text is
asked for, so that a hand never leaves the number pad.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from rich.cells import cell_len
from textual import events

from cornerwalk.job.notice import Notice
from cornerwalk.tui import blocks
from cornerwalk.tui.widgets.drawn import Row, fitted, wrapped
from cornerwalk.tui.widgets.entry import Entry, Listener
from cornerwalk.tui.widgets.prose import prose_rows


@dataclass(frozen=True, slots=True)
class AnswerChoice:
    """An answer to choose: its number and letter, its words, whether it stands already."""

    number: str
    letter: str
    text: str
    stands: bool = False


@dataclass(frozen=True, slots=True)
class Inquiry:
    """Everything about one question.

    `title` is where it belongs, `large` figures to draw large, `caution` stands before the answers and `about` after
    what was understood. `alarm` draws the caution so that it cannot be overlooked.
    """

    title: str = ""
    context: str = ""
    question: str = ""
    caution: str = ""
    alarm: bool = False
    choices: tuple[AnswerChoice, ...] = ()
    typing: bool = True
    large: str = ""
    echo: tuple[Notice, ...] = ()
    about: tuple[Notice, ...] = ()


class Asker(Entry):
    """The question with its answer."""

    DEFAULT_CSS = "Asker { height: auto; min-height: 100%; }"

    def __init__(
        self,
        *,
        typed: Listener,
        entered: Listener,
        chosen: Callable[[str], None],
        id: str | None = None,  # noqa: A002
    ) -> None:
        """Tell `typed` after every key that changed the text, `entered` on Enter, `chosen` the number clicked."""
        super().__init__(typed=typed, entered=entered, id=id)
        self._tell_chosen = chosen
        self._inquiry = Inquiry()
        self._entry_row = 0
        self._choice_places: list[tuple[int, int, int, str]] = []

    def ask(self, inquiry: Inquiry, *, hint: str = "") -> None:
        """Ask this."""
        self._inquiry = inquiry
        self._hint = hint
        self.redraw()

    @property
    def entry_row(self) -> int:
        """Below the question and its cautions."""
        return self._entry_row

    def rows(self, width: int) -> list[Row]:
        """From the question to what is said about it."""
        inquiry = self._inquiry
        room = max(8, width - 2)
        title = f" {fitted(inquiry.title, min(cell_len(inquiry.title), room))}"
        rows: list[Row] = [[("due", title), ("quiet", f"  {inquiry.context}" if inquiry.context else "")]]
        if cell_len(inquiry.title) + cell_len(inquiry.context) + 3 > width:
            rows = [[("due", title)], *([("quiet", f" {line}")] for line in wrapped(inquiry.context, room))]
        rows += [[("strong", f" {line}")] for line in wrapped(inquiry.question, room)]
        rows += self._caution(room)
        rows.append([])
        rows += self._choices(len(rows), width)
        self._entry_row = len(rows)
        if inquiry.typing:
            rows.append(self.slot(width))
        rows += self._large(width)
        rows += prose_rows(inquiry.echo, width) if inquiry.echo else []
        if inquiry.about:
            rows += [[], *prose_rows(inquiry.about, width)]
        return rows

    def _caution(self, room: int) -> list[Row]:
        inquiry = self._inquiry
        if not inquiry.caution:
            return []
        if inquiry.alarm:
            return [[], *([("alarm", f" {fitted(line, room)} ")] for line in wrapped(inquiry.caution, room))]
        return [[], *([("caution", f" {line}")] for line in wrapped(inquiry.caution, room))]

    def _choices(self, above: int, width: int) -> list[Row]:
        """The answers side by side, as many as there is room for in a row."""
        rows: list[Row] = []
        self._choice_places = []
        column = width
        for choice in self._inquiry.choices:
            mark = " ✓" if choice.stands else ""
            takes = cell_len(choice.number) + cell_len(choice.text) + cell_len(mark) + 4
            if column + takes > width:
                rows.append([("ink", " ")])
                column = 1
            rows[-1] += [("block", f" {choice.number} "), ("strong", f" {choice.text}{mark}"), ("ink", "  ")]
            self._choice_places.append((above + len(rows) - 1, column, column + takes, choice.number))
            column += takes + 2
        return [*rows, []] if rows else []

    def _large(self, width: int) -> list[Row]:
        large = self._inquiry.large
        if not large or not blocks.can_draw(large) or self.app.size.height < 22:
            return []
        for factor in (2, 1):
            if blocks.width(large, factor) <= width - 2:
                return [[], *([("strong", f" {line}")] for line in blocks.draw(large, factor))]
        return []

    def on_click(self, event: events.Click) -> None:
        """A click on an answer takes it; the entry's own handler, which follows, puts the cursor into the text."""
        for row, begin, end, number in self._choice_places:
            if event.y == row and begin <= event.x < end:
                event.stop()
                event.prevent_default()
                self._tell_chosen(number)
                return


__all__ = ["AnswerChoice", "Asker", "Inquiry"]
