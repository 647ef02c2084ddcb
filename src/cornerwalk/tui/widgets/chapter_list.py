"""The chapters of the job, one a line: number, name, how far it is, and which one comes next."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rich.cells import cell_len
from textual import events
from textual.geometry import Region
from textual.message import Message
from textual.widget import Widget

from cornerwalk.tui.widgets.drawn import Drawn, Row, fitted
from cornerwalk.tui.widgets.entry import ENTER_KEYS, NUMBER_PAD

_SIGNS = {"not begun": "·", "begun": "…", "done": "✓", "": " "}


@dataclass(frozen=True, slots=True)
class ChapterRow:
    """One line: its id, the digit that opens it ("" for none), name, state in a word and as told, whether it is next.

    `key` is shown at the right where a key of its own opens it.
    """

    id: str
    digit: str
    name: str
    state: str = ""
    told: str = ""
    next_word: str = ""
    key: str = ""


class ChapterList(Drawn, can_focus=True):
    """The lines; a digit or a click opens one at once, Enter the marked one."""

    class Taken(Message):
        """Sent when a line is to be opened."""

        def __init__(self, row_id: str) -> None:
            self.row_id = row_id
            super().__init__()

    class Marked(Message):
        """Sent when another line is marked."""

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id)
        self._listed: tuple[ChapterRow, ...] = ()
        self._marked = ""

    @property
    def marked(self) -> str:
        """The id of the marked line."""
        return self._marked

    def show_rows(self, rows: Sequence[ChapterRow], marked: str) -> None:
        """List these with this one marked."""
        self._listed = tuple(rows)
        self._mark(marked)

    def rows(self, width: int) -> list[Row]:
        """A line a row: what is next stands out."""
        return [self._drawn(row, width) for row in self._listed]

    def _drawn(self, row: ChapterRow, width: int) -> Row:
        here = row.id == self._marked
        name_part = "block" if here else ("due" if row.next_word else ("ink" if row.state == "done" else "strong"))
        right = row.told if not row.key else row.key
        next_word = f" ◂ {row.next_word}" if row.next_word else ""
        room = max(6, width - 9 - cell_len(right) - cell_len(next_word))
        name = fitted(row.name, min(room, cell_len(row.name)))
        gap = " " * max(1, room - cell_len(name) + 1)
        sign = "▸" if here else " "
        return [
            ("due", f" {sign} "),
            ("due", f"{row.digit or ' '} "),
            ("quiet", f"{_SIGNS[row.state]} "),
            (name_part, name),
            ("ink", gap),
            ("ink" if not row.key else "due", right),
            ("due", next_word),
        ]

    def on_key(self, event: events.Key) -> None:
        """Digits open at once, Enter the marked line."""
        digit = NUMBER_PAD.get(event.key) or (event.character or "")
        if event.key in ENTER_KEYS:
            event.stop()
            self.post_message(self.Taken(self._marked))
            return
        found = next((row.id for row in self._listed if digit and row.digit == digit), None)
        if found is not None:
            event.stop()
            self._mark(found)
            self.post_message(self.Taken(found))

    def turn(self, step: int) -> None:
        """Mark the line so many after the marked one."""
        ids = [row.id for row in self._listed]
        if ids:
            place = ids.index(self._marked) if self._marked in ids else 0
            self._mark(ids[max(0, min(len(ids) - 1, place + step))])

    def on_click(self, event: events.Click) -> None:
        """A click opens."""
        event.stop()
        if 0 <= event.y < len(self._listed):
            row = self._listed[event.y]
            self._mark(row.id)
            self.post_message(self.Taken(row.id))

    def _mark(self, row_id: str) -> None:
        self._marked = row_id
        self.redraw()
        self.post_message(self.Marked())
        self.call_after_refresh(self.keep_in_sight)

    def keep_in_sight(self) -> None:
        """Scroll so that the marked line is seen."""
        ids = [row.id for row in self._listed]
        if isinstance(self.parent, Widget) and self._marked in ids:
            region = Region(0, ids.index(self._marked), self.size.width, 1)
            self.parent.scroll_to_region(region.translate(self.virtual_region.offset), animate=False)
