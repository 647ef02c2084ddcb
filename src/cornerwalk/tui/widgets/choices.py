"""A short list to choose from: by number, by arrow and Enter, or by a click."""

from __future__ import annotations

from collections.abc import Sequence

from textual import events
from textual.geometry import Region
from textual.message import Message
from textual.widget import Widget

from cornerwalk.job.notice import Choice
from cornerwalk.tui.widgets.drawn import Drawn, Row, fitted, wrapped
from cornerwalk.tui.widgets.entry import ENTER_KEYS, NUMBER_PAD

_INDENT = 5


class Choices(Drawn, can_focus=True):
    """Numbered choices; the marked one is taken by Enter."""

    class Taken(Message):
        """Sent when a choice is made."""

        def __init__(self, choice: Choice) -> None:
            self.choice = choice
            super().__init__()

    def __init__(self, choices: Sequence[Choice] = (), *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id)
        self._choices = tuple(choices)
        self._marked = 0
        self._ends: list[int] = []

    @property
    def choices(self) -> tuple[Choice, ...]:
        """What can be chosen."""
        return self._choices

    @choices.setter
    def choices(self, choices: Sequence[Choice]) -> None:
        if tuple(choices) != self._choices:
            self._choices = tuple(choices)
            self._marked = 0
            self.redraw()

    @property
    def marked(self) -> Choice | None:
        """The choice that Enter takes."""
        return self._choices[self._marked] if self._choices else None

    def rows(self, width: int) -> list[Row]:
        """A choice a line, with what is said about it below."""
        rows: list[Row] = []
        self._ends = []
        for place, choice in enumerate(self._choices):
            here = place == self._marked
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
            self._ends.append(len(rows))
        return rows

    def on_key(self, event: events.Key) -> None:
        """Digits take at once, arrows mark, Enter takes what is marked."""
        digit = NUMBER_PAD.get(event.key) or (event.character or "")
        if event.key in ENTER_KEYS:
            event.stop()
            self._take(self._marked)
        elif digit.isdecimal() and 1 <= int(digit) <= min(9, len(self._choices)):
            event.stop()
            self._take(int(digit) - 1)
        elif event.key in ("up", "down", "home", "end", "pageup", "pagedown") and self._choices:
            event.stop()
            event.prevent_default()
            last = len(self._choices) - 1
            step = {"up": -1, "down": 1, "pageup": -8, "pagedown": 8, "home": -last, "end": last}[event.key]
            self._marked = max(0, min(last, self._marked + step))
            self.redraw()
            self._keep_in_sight()

    def on_click(self, event: events.Click) -> None:
        """A click takes."""
        event.stop()
        for place, end in enumerate(self._ends):
            if event.y < end:
                self._take(place)
                return

    def _keep_in_sight(self) -> None:
        if not isinstance(self.parent, Widget) or not self._ends:
            return
        begin = self._ends[self._marked - 1] if self._marked else 0
        region = Region(0, begin, self.size.width, self._ends[self._marked] - begin)
        self.parent.scroll_to_region(region.translate(self.virtual_region.offset), animate=False)

    def _take(self, place: int) -> None:
        if place < len(self._choices):
            self._marked = place
            self.redraw()
            self.post_message(self.Taken(self._choices[place]))
