"""The top of every page of a job: its name, what is kept, the stages; and, loudly, what is not on the disk."""

from __future__ import annotations

from rich.cells import cell_len

from cornerwalk.tui.widgets.drawn import Drawn, Row, Span, fitted, wrapped


class Masthead(Drawn):
    """One row: a name at the left, a word on what is kept at the right."""

    DEFAULT_CSS = "Masthead { height: 1; dock: top; }"

    def __init__(self) -> None:
        super().__init__()
        self._title = ""
        self._right: Span = ("quiet", "")

    def say(self, title: str, right: Span) -> None:
        """Show this name and this word."""
        if (title, right) != (self._title, self._right):
            self._title, self._right = title, right
            self.redraw()

    def rows(self, width: int) -> list[Row]:
        """The name gives way to what is kept."""
        part, text = self._right
        text = fitted(text, min(cell_len(text), max(0, width - 2)))
        room = width - cell_len(text) - 3
        title = fitted(self._title, room) if room > 0 else ""
        return [[("strong", f" {title} "), (part, text), ("ink", " ")]]


class Alarm(Drawn):
    """What must not be overlooked, across the whole page; takes no room while there is nothing."""

    DEFAULT_CSS = "Alarm { height: auto; dock: top; }"

    def __init__(self) -> None:
        super().__init__()
        self._text = ""

    def say(self, text: str) -> None:
        """Show this; "" for nothing."""
        if text != self._text:
            self._text = text
            self.redraw()

    def rows(self, width: int) -> list[Row]:
        """The text wrapped, every row filled."""
        if not self._text or width < 3:
            return []
        return [[("alarm", f" {fitted(line, width - 1)}")] for line in wrapped(self._text, width - 2)]
