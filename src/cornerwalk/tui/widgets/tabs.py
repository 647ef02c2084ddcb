"""Tabs: names of pages in a row, with the numbers that turn to them.

They are our own and no `Tabs` of the library, which take two rows, move an underline on a timer (over a slow line every
frame costs), and show no numbers to press.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from textual import events

from cornerwalk.tui.widgets.rows import Row, RowWidget, row_width


class Tabs(RowWidget):
    """One row; in a narrow window only the open page keeps its name."""

    DEFAULT_CSS = "Tabs { height: 1; }"

    def __init__(self, names: Sequence[str], turn_to: Callable[[int], None], *, numbered: bool = True) -> None:
        super().__init__()
        self._numbered = numbered
        self._names = tuple(names)
        self._turn_to = turn_to
        self._marked = 0
        self._ends: list[int] = []

    @property
    def count(self) -> int:
        """How many pages there are."""
        return len(self._names)

    def mark(self, place: int) -> None:
        """Show which page is open."""
        self._marked = place
        self.redraw()

    def rows(self, width: int) -> list[Row]:
        """The names, the open one marked."""
        row = self._row(self._names)
        if row_width(row) > width:
            row = self._row([name if at == self._marked else "" for at, name in enumerate(self._names)])
        return [row]

    def _row(self, names: Sequence[str]) -> Row:
        row: Row = [("line", "─")]
        self._ends = []
        for at, name in enumerate(names):
            number = f"{at + 1} " if self._numbered else ""
            number = f"▸{number}" if at == self._marked else number
            text = f" {number}{name} " if name else f" {number or '· '}"
            row += [("block" if at == self._marked else "quiet", text), ("line", "─")]
            self._ends.append(row_width(row))
        return row

    def on_click(self, event: events.Click) -> None:
        """Turn to what is clicked."""
        event.stop()
        for at, end in enumerate(self._ends):
            if event.x < end:
                self._turn_to(at)
                return
