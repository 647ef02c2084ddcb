"""Masthead: the name of the job, what is kept, and loudly what is not on the disk.

It is our own and no `Header`, which has one centred title and no room for the other two.
"""

from __future__ import annotations

from rich.cells import cell_len

from cornerwalk.job.notice import Span
from cornerwalk.tui.widgets.rows import Row, RowWidget, fitted, wrapped


class Masthead(RowWidget):
    """A name at the left, a word on what is kept at the right; below them an alarm, which takes no room without one."""

    DEFAULT_CSS = "Masthead { height: auto; dock: top; }"

    _title = ""
    _right: Span = ("quiet", "")
    _alarm = ""

    def say(self, title: str, right: Span, alarm: str) -> None:
        """Show this name, this word, and what must not be overlooked ("" for nothing)."""
        if (title, right, alarm) != (self._title, self._right, self._alarm):
            self._title, self._right, self._alarm = title, right, alarm
            self.redraw()

    def rows(self, width: int) -> list[Row]:
        """The name gives way to what is kept; an alarm is wrapped, every row of it filled."""
        part, text = self._right
        text = fitted(text, min(cell_len(text), max(0, width - 2)))
        room = width - cell_len(text) - 3
        title = fitted(self._title, room) if room > 0 else ""
        alarm = wrapped(self._alarm, max(1, width - 2)) if self._alarm else []
        return [
            [("strong", f" {title} "), (part, text), ("ink", " ")],
            *([("alarm", f" {fitted(line, width - 1)}")] for line in alarm),
        ]
