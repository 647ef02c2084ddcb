"""The keys that matter here, on one row: as many as there is room for, the most needed first. They can be clicked."""

from __future__ import annotations

from collections.abc import Sequence

from rich.cells import cell_len
from textual import events
from textual.message import Message

from cornerwalk.tui.keys import Key, shown
from cornerwalk.tui.widgets.drawn import Drawn, Row, fitted
from cornerwalk.words import tr


class KeyRow(Drawn):
    """Keys and what they do."""

    DEFAULT_CSS = "KeyRow { height: 1; dock: bottom; }"

    class Clicked(Message):
        """Sent when a key on the row is clicked."""

        def __init__(self, key: Key) -> None:
            self.key = key
            super().__init__()

    def __init__(self, keys: Sequence[Key]) -> None:
        super().__init__()
        self._keys = sorted((key for key in keys if key.rank), key=lambda key: key.rank)
        self._labels: dict[str, str] = {}
        self._columns: list[tuple[int, Key]] = []

    def relabel(self, key_id: str, label: str) -> None:
        """What a key does may depend on what is asked."""
        if self._labels.get(key_id) != label:
            self._labels[key_id] = label
            self.redraw()

    def rows(self, width: int) -> list[Row]:
        """One row; a key that has no room is left out, its help stays."""
        row: Row = []
        self._columns = []
        column = 0
        for key in self._keys:
            name = key.badge or shown(key.first)
            label = self._labels.get(key.id) or tr(key.label)
            takes = cell_len(name) + cell_len(label) + 3
            if column + takes > width:
                continue
            row += [("due", f" {name} "), ("quiet", f"{label} ")]
            column += takes
            self._columns.append((column, key))
        if not row and self._keys:
            row = [("quiet", fitted(f" {shown(self._keys[0].first)}", width))]
        return [row]

    def on_click(self, event: events.Click) -> None:
        """The key whose words are clicked."""
        event.stop()
        for end, key in self._columns:
            if event.x < end:
                self.post_message(self.Clicked(key))
                return
