"""Number pad on the screen, for a mouse or a finger: everything a height, a pressure or a choice is typed with.

It is our own: as `Button`s it would be twenty widgets, each of which takes the focus from the entry.
"""

from __future__ import annotations

from textual import events
from textual.message import Message

from cornerwalk.tui.widgets.rows import Row, RowWidget, fitted
from cornerwalk.words import tr

_PADS = (
    (("7", "7"), ("8", "8"), ("9", "9"), ("⌫", "backspace")),
    (("4", "4"), ("5", "5"), ("6", "6"), ("/", "slash")),
    (("1", "1"), ("2", "2"), ("3", "3"), ("-", "minus")),
    (("0", "0"), (".", "full_stop"), ("␣", "space"), ("↵", "enter")),
    (("↑", "up"), ("↓", "down"), ("Esc", "escape"), ("✕", "")),
)
"""What stands on each key, and the name of the key it is; the last one takes the pad away."""

_CHARACTERS = {"slash": "/", "minus": "-", "full_stop": ".", "space": " ", "enter": "\r"}
_CELL = 5
_ROOMY = 24
"""Windows at least this high have keys of two rows, which a finger finds."""


class Pad(RowWidget):
    """Twenty keys at the lower right; a click is the key."""

    DEFAULT_CSS = f"Pad {{ layer: cover; dock: right; width: {4 * _CELL + 1}; background: $slot; }}"

    class Pressed(Message):
        """Sent when a key is clicked: its name, and the character it types ("" for none)."""

        def __init__(self, key: str, character: str) -> None:
            self.key = key
            self.character = character
            super().__init__()

    @property
    def _high(self) -> int:
        return 2 if self.app.size.height >= _ROOMY else 1

    def on_mount(self) -> None:
        """Above the row of keys; what the page says makes room."""
        self.screen.add_class("-pad")
        self._place()

    def away(self) -> None:
        """Take the pad away."""
        self.screen.remove_class("-pad")
        self.remove()

    def on_resize(self) -> None:
        """The window may have changed."""
        self._place()

    def _place(self) -> None:
        height = len(_PADS) * self._high + 1
        self.styles.height = height
        self.styles.margin = (max(0, self.app.size.height - height - 1), 0, 1, 0)

    def rows(self, width: int) -> list[Row]:
        """The keys, with a row of air below each where there is room."""
        rows: list[Row] = [[("slot-quiet", fitted(f" {tr('number pad')}", width))]]
        for pads in _PADS:
            row: Row = [("slot", " ")]
            for shown, _ in pads:
                row += [("block", shown.center(_CELL - 1)), ("slot", " ")]
            rows.append(row)
            if self._high > 1:
                rows.append([("slot", " " * width)])
        return rows

    def on_click(self, event: events.Click) -> None:
        """The key below the pointer."""
        event.stop()
        row, column = (event.y - 1) // self._high, (event.x - 1) // _CELL
        if event.y < 1 or not (0 <= row < len(_PADS) and 0 <= column < len(_PADS[row])):
            return
        _, key = _PADS[row][column]
        if key:
            self.post_message(self.Pressed(key, _CHARACTERS.get(key, key if len(key) == 1 else "")))
        else:
            self.away()
