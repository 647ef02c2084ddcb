"""Question: what is asked, with the place to type in below it and what was understood.

`Panel` is the one of the walk and the form, where figures stand large and nothing moves; `Asker` that of a chapter and
the settings, with cautions, and with answers to choose from.

One widget and not four: every widget on the way from a key to its result costs a tenth of a millisecond.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from rich.cells import cell_len
from textual import events

from cornerwalk.job.notice import Notice
from cornerwalk.tui.widgets import large_letters
from cornerwalk.tui.widgets.entry import Entry, Listener
from cornerwalk.tui.widgets.prose import prose_rows
from cornerwalk.tui.widgets.rows import Row, fitted, wrapped

ECHO_ROWS = 4
"""Kept free for what was understood, so that nothing moves while somebody types."""

LOWEST_FOR_LARGE = 22
"""Windows lower than this have no large figures in a chapter."""


@dataclass(frozen=True, slots=True)
class PanelView:
    """What is asked: its name, where it belongs, figures or letters to draw large in a part, words to do it by.

    `hint` stands in the place to type in while nothing is typed.
    """

    title: str = ""
    context: str = ""
    large: str = ""
    part: str = "ink"
    words: str = ""
    hint: str = ""


class Panel(Entry):
    """An entry with its question above and its echo below."""

    _view = PanelView()
    _echo: tuple[Notice, ...] = ()
    _entry_row = 0

    def show_view(self, view: PanelView, echo: tuple[Notice, ...]) -> None:
        """Ask this, and say this back."""
        self._view = view
        self._hint = view.hint
        self._echo = echo
        self.redraw()

    @property
    def entry_row(self) -> int:
        """Below the question."""
        return self._entry_row

    def rows(self, width: int) -> list[Row]:
        """Question, entry, echo; a long echo takes room from the large figures, never from itself."""
        height = self.size.height
        echo = prose_rows(self._echo, width)
        rows = _asked(self._view, width, height - 1 - max(ECHO_ROWS, len(echo)))
        self._entry_row = len(rows)
        return [*rows, self.slot(width), *echo]

    def wanted_height(self, rows: list[Row], width: int) -> int:  # noqa: ARG002
        """Title, words, entry and echo; large figures only take what is left."""
        words = wrapped(self._view.words, max(1, width - 2)) if self._view.words else []
        return 2 + len(words) + len(prose_rows(self._echo, width))


def _asked(view: PanelView, width: int, height: int) -> list[Row]:
    """The title, and below it what is as large as there is room for, or the words."""
    title = fitted(view.title, min(cell_len(view.title), max(1, width - 2)))
    first: Row = [("due", f" {title}")]
    room = width - 2 - cell_len(title)
    if view.context and cell_len(view.context) + 2 <= room:
        first.append(("quiet", f"  {view.context}"))
    drawn = _large(view.large, view.part, width, height - 1, (3, 2, 1))
    drawn = [*([] for _ in range((height - 1 - len(drawn)) // 2)), *drawn] if drawn else []
    if not drawn and view.words:
        drawn = [[("strong", f" {line}")] for line in wrapped(view.words, max(1, width - 2))]
    return [first, *drawn, *([] for _ in range(max(0, height - 1 - len(drawn))))]


def _large(text: str, part: str, width: int, height: int, factors: Sequence[int]) -> list[Row]:
    """The figures by the first of these factors that fits, nothing where none does."""
    if not text or not large_letters.can_draw(text):
        return []
    for factor in factors:
        if large_letters.height(factor) <= height and large_letters.width(text, factor) <= width - 2:
            return [[(part, f" {line}")] for line in large_letters.draw(text, factor)]
    return []


# ---- one question of a chapter ----
#
# Answers to choose from are taken by their number, their letter or a click; the same keys are typed where a text is
# asked for, so that a hand never leaves the number pad.


@dataclass(frozen=True, slots=True)
class AnswerChoice:
    """An answer to choose: its number, its words, whether it stands already."""

    number: str
    text: str
    stands: bool = False


@dataclass(frozen=True, slots=True)
class AskerView:
    """Everything about one question.

    `title` is where it belongs, `large` figures to draw large, `caution` stands before the answers and `about` after
    what was understood. `alarm` draws the caution so that it cannot be overlooked. `hint` is as in a `PanelView`.
    """

    title: str = ""
    context: str = ""
    question: str = ""
    caution: str = ""
    alarm: bool = False
    choices: tuple[AnswerChoice, ...] = ()
    typing: bool = True
    hint: str = ""
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
        self._view = AskerView()
        self._entry_row = 0
        self._choice_places: list[tuple[int, int, int, str]] = []

    def show_view(self, view: AskerView) -> None:
        """Ask this."""
        self._view = view
        self._hint = view.hint
        self.redraw()

    @property
    def entry_row(self) -> int:
        """Below the question and its cautions."""
        return self._entry_row

    def rows(self, width: int) -> list[Row]:
        """From the question to what is said about it."""
        view = self._view
        room = max(8, width - 2)
        title = f" {fitted(view.title, min(cell_len(view.title), room))}"
        rows: list[Row] = [[("due", title), ("quiet", f"  {view.context}" if view.context else "")]]
        if cell_len(view.title) + cell_len(view.context) + 3 > width:
            rows = [[("due", title)], *([("quiet", f" {line}")] for line in wrapped(view.context, room))]
        rows += [[("strong", f" {line}")] for line in wrapped(view.question, room)]
        rows += self._caution(room)
        rows.append([])
        rows += self._choices(len(rows), width)
        self._entry_row = len(rows)
        if view.typing:
            rows.append(self.slot(width))
        if self.app.size.height >= LOWEST_FOR_LARGE:
            large = _large(view.large, "strong", width, self.app.size.height, (2, 1))
            rows += [[], *large] if large else []
        rows += prose_rows(view.echo, width) if view.echo else []
        if view.about:
            rows += [[], *prose_rows(view.about, width)]
        return rows

    def _caution(self, room: int) -> list[Row]:
        view = self._view
        if not view.caution:
            return []
        if view.alarm:
            return [[], *([("alarm", f" {fitted(line, room)} ")] for line in wrapped(view.caution, room))]
        return [[], *([("caution", f" {line}")] for line in wrapped(view.caution, room))]

    def _choices(self, above: int, width: int) -> list[Row]:
        """The answers side by side, as many as there is room for in a row."""
        rows: list[Row] = []
        self._choice_places = []
        column = width
        for choice in self._view.choices:
            mark = " ✓" if choice.stands else ""
            takes = cell_len(choice.number) + cell_len(choice.text) + cell_len(mark) + 4
            if column + takes > width:
                rows.append([("ink", " ")])
                column = 1
            rows[-1] += [("block", f" {choice.number} "), ("strong", f" {choice.text}{mark}"), ("ink", "  ")]
            self._choice_places.append((above + len(rows) - 1, column, column + takes, choice.number))
            column += takes + 2
        return [*rows, []] if rows else []

    def on_click(self, event: events.Click) -> None:
        """A click on an answer takes it; the entry's own handler, which follows, puts the cursor into the text."""
        for row, begin, end, number in self._choice_places:
            if event.y == row and begin <= event.x < end:
                event.stop()
                event.prevent_default()
                self._tell_chosen(number)
                return
