"""Footer: what was said last, and below it the keys that matter here, as many as there is room for.

It is our own and no `Footer`, which makes a widget of every key and at 80 columns runs off the edge: here the most
needed keys stay, and the help has the others.
"""

from __future__ import annotations

from collections.abc import Sequence

from rich.cells import cell_len
from textual import events
from textual.message import Message

from cornerwalk.job.notice import Notice
from cornerwalk.tui.keys import Key
from cornerwalk.tui.own_keys import badge_shown, first_shown
from cornerwalk.tui.widgets.prose import prose_rows
from cornerwalk.tui.widgets.rows import Row, RowWidget, fitted
from cornerwalk.words import tr


class Foot(RowWidget):
    """A message that may wrap, and one row of keys, the most needed first; keys can be clicked."""

    DEFAULT_CSS = "Foot { height: auto; dock: bottom; }"

    class Clicked(Message):
        """Sent when a key is clicked."""

        def __init__(self, key: Key) -> None:
            self.key = key
            super().__init__()

    def __init__(self, keys: Sequence[Key]) -> None:
        super().__init__()
        self._keys = sorted((key for key in keys if key.rank), key=lambda key: key.rank)
        self._message: tuple[Notice, ...] = ()
        self._columns: list[tuple[int, Key]] = []
        self._key_row = 0

    def show_keys(self) -> None:
        """Draw the keys as they are now; the user may have given them others."""
        self.redraw()

    def tell(self, text: str, part: str) -> None:
        """Say this above the keys; "" says nothing."""
        message = (Notice(text, part=part),) if text else ()
        if message != self._message:
            self._message = message
            self.redraw()

    def rows(self, width: int) -> list[Row]:
        """The message, then the keys; a key that has no room is left out, the help still has it."""
        message = prose_rows(self._message, width)
        self._key_row = len(message)
        row: Row = []
        self._columns = []
        column = 0
        for key in self._keys:
            name, label = badge_shown(key), tr(key.label)
            takes = cell_len(name) + cell_len(label) + 3
            if column + takes > width:
                continue
            row += [("due", f" {name} "), ("quiet", f"{label} ")]
            column += takes
            self._columns.append((column, key))
        if not row and self._keys:
            row = [("quiet", fitted(f" {first_shown(self._keys[0])}", width))]
        return [*message, row]

    def on_click(self, event: events.Click) -> None:
        """The key whose words are clicked."""
        event.stop()
        for end, key in self._columns:
            if event.y == self._key_row and event.x < end:
                self.post_message(self.Clicked(key))
                return
