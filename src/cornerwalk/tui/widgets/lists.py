"""Lists with one line marked: the base of them all, choices to take, the lines of a chapter or of the settings.

They are our own and no `OptionList`: what is marked shows by a sign and not by its colour alone, which would mean to
exchange an option with every arrow; a line may have words at its right end and others below, hanging; and no line ends
inside a figure. `LongList` is for the thousands.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rich.cells import cell_len
from textual import events
from textual.geometry import Region
from textual.message import Message
from textual.widget import Widget

from cornerwalk.job.notice import Choice
from cornerwalk.tui.widgets.entry import ENTER_KEYS, NUMBER_PAD
from cornerwalk.tui.widgets.rows import Row, RowWidget, fitted, row_width, wrapped


class MarkedList(RowWidget):
    """Lines of one row or more, that at `_at` marked. A subclass draws them, and says in `_spans` where each stands."""

    ABOVE, BELOW = 0, 0
    """Rows around the marked line that are kept in sight with it."""

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id)
        self._at = 0
        self._spans: list[tuple[int, int]] = []

    def clicked(self, place: int) -> None:
        """Do what a click on the line at this place does."""
        raise NotImplementedError

    def on_click(self, event: events.Click) -> None:
        """Find the line that is clicked."""
        event.stop()
        place = next((place for place, (begin, end) in enumerate(self._spans) if begin <= event.y < end), None)
        if place is not None:
            self.clicked(place)

    def keep_in_sight(self) -> None:
        """Scroll so that the marked line is seen."""
        if not isinstance(self.parent, Widget) or not 0 <= self._at < len(self._spans):
            return
        begin, end = self._spans[self._at]
        region = Region(0, max(0, begin - self.ABOVE), self.size.width, end - begin + self.ABOVE + self.BELOW)
        self.parent.scroll_to_region(region.translate(self.virtual_region.offset), animate=False)


_INDENT = 5


class Choices(MarkedList, can_focus=True):
    """A short list to choose from: by number, by arrow and Enter, or by a click."""

    class Taken(Message):
        """Sent when a choice is made."""

        def __init__(self, choice: Choice) -> None:
            self.choice = choice
            super().__init__()

    def __init__(self, choices: Sequence[Choice] = (), *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id)
        self._choices = tuple(choices)

    @property
    def choices(self) -> tuple[Choice, ...]:
        """What can be chosen."""
        return self._choices

    @choices.setter
    def choices(self, choices: Sequence[Choice]) -> None:
        if tuple(choices) != self._choices:
            self._choices = tuple(choices)
            self._at = 0
            self.redraw()

    @property
    def marked(self) -> Choice | None:
        """The choice that Enter takes."""
        return self._choices[self._at] if self._choices else None

    def rows(self, width: int) -> list[Row]:
        """A choice a line, with what is said about it below."""
        rows: list[Row] = []
        self._spans = []
        for place, choice in enumerate(self._choices):
            begin, here = len(rows), place == self._at
            sign = "▸" if here else " "
            number = str(place + 1) if place < 9 else " "
            head = f" {sign} {number} "
            lines = wrapped(choice.text, max(1, width - _INDENT - 1))
            for at, line in enumerate(lines):
                start = head if at == 0 else " " * _INDENT
                text = fitted(f" {line} ", min(len(line) + 2, width - _INDENT)) if here else f" {line}"
                rows.append([("due" if here else "quiet", start), ("block" if here else "strong", text)])
            about = wrapped(choice.about, max(1, width - _INDENT - 2)) if choice.about else []
            rows += [[("ink", " " * (_INDENT + 1)), ("quiet", line)] for line in about]
            self._spans.append((begin, len(rows)))
        return rows

    def on_key(self, event: events.Key) -> None:
        """Digits take at once, arrows mark, Enter takes what is marked."""
        digit = NUMBER_PAD.get(event.key) or (event.character or "")
        if event.key in ENTER_KEYS:
            event.stop()
            self.clicked(self._at)
        elif digit.isdecimal() and 1 <= int(digit) <= min(9, len(self._choices)):
            event.stop()
            self.clicked(int(digit) - 1)
        elif event.key in ("up", "down", "home", "end", "pageup", "pagedown") and self._choices:
            event.stop()
            event.prevent_default()
            last = len(self._choices) - 1
            step = {"up": -1, "down": 1, "pageup": -8, "pagedown": 8, "home": -last, "end": last}[event.key]
            self._at = max(0, min(last, self._at + step))
            self.redraw()
            self.keep_in_sight()

    def clicked(self, place: int) -> None:
        """Take it, as its digit and Enter do."""
        if place < len(self._choices):
            self._at = place
            self.redraw()
            self.post_message(self.Taken(self._choices[place]))


# ---- the lines of a chapter, under their headings: how each stands, and which one is asked ----

_SIGNS = {"open": "·", "done": "✓", "matters": "!", "stop": "■"}
"""A sign for each state, so that none hangs on its colour."""
_PARTS = {"open": "quiet", "done": "ink", "matters": "caution", "stop": "alarm"}
_LINE_INDENT = 4


@dataclass(frozen=True, slots=True)
class ListLine:
    """One line: its id, name, what stands there, how it stands ("open", "done", "matters", "stop"), its heading."""

    id: str
    name: str
    stands: str
    mark: str
    group: str


class LineList(MarkedList):
    """The lines; a click asks one. What comes after the asked one is kept in sight with it."""

    ABOVE, BELOW = 1, 2

    class Chosen(Message):
        """Sent when a line is clicked."""

        def __init__(self, line_id: str) -> None:
            self.line_id = line_id
            super().__init__()

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id)
        self._lines: tuple[ListLine, ...] = ()

    def show_lines(self, lines: tuple[ListLine, ...], asked: str) -> None:
        """List these, the asked one marked and brought into sight."""
        at = next((place for place, line in enumerate(lines) if line.id == asked), -1)
        if (lines, at) != (self._lines, self._at):
            self._lines, self._at = lines, at
            self.redraw()
            self.call_after_refresh(self.keep_in_sight)

    def rows(self, width: int) -> list[Row]:
        """Every line under its heading."""
        rows: list[Row] = []
        self._spans = []
        group = None
        for place, line in enumerate(self._lines):
            if line.group != group:
                group = line.group
                rows += [[("quiet", f" {text}")] for text in wrapped(group, max(8, width - 2))]
                rows[-1] += [("line", " " + "─" * max(0, width - row_width(rows[-1]) - 2))]
            begin = len(rows)
            rows += _line_rows(line, width, asked=place == self._at)
            self._spans.append((begin, len(rows)))
        return rows

    def clicked(self, place: int) -> None:
        """Ask it."""
        self.post_message(self.Chosen(self._lines[place].id))


def _line_rows(line: ListLine, width: int, *, asked: bool) -> list[Row]:
    """The name with its sign, what stands there at the right, or below where there is no room."""
    sign = "▸" if asked else " "
    part = "block" if asked else _PARTS[line.mark]
    mark = _SIGNS[line.mark]
    room = max(6, width - _LINE_INDENT - 1)
    stands = wrapped(line.stands, room) if line.stands else []
    beside = len(stands) == 1 and cell_len(line.name) + cell_len(stands[0]) + 2 <= room
    names = wrapped(line.name, room)
    rows: list[Row] = []
    for place, text in enumerate(names):
        head = f" {sign}{mark} " if place == 0 else " " * _LINE_INDENT
        if beside:
            gap = " " * (room - cell_len(text) - cell_len(stands[0]))
            rows.append([("due" if asked else "quiet", head), (part, text), ("ink", gap), ("ink", stands[0])])
        else:
            rows.append([("due" if asked else "quiet", head), (part, fitted(text, min(cell_len(text), room)))])
    if not beside:
        below = wrapped(line.stands, room - 1) if stands else []
        rows += [[("ink", " " * (_LINE_INDENT + 1)), ("quiet", text)] for text in below]
    return rows
