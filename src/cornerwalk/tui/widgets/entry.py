"""Entry: the one line to type in, for heights, pressures, names, reasons.

The library's own input box is not used. It drops a decimal comma of a number without a word, keeps only the first
line of a paste, and costs about twice as long a key as this widget, time that goes into the results instead.

What happens is told by a call and not by a message: a message would be heard after the keys that follow, and a tape
that types for itself sends the next reading with the Enter of the last.

| key | does |
|---|---|
| any character, number pad included | goes in at the cursor |
| left, right, home, end, ctrl+a, ctrl+e | move |
| backspace, delete, ctrl+d | take a character out |
| ctrl+w, ctrl+u | take out the word before the cursor, the whole line |
| enter | hand the text over |
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass

from rich.cells import cell_len
from textual import events
from textual.geometry import Offset

from cornerwalk.tui.widgets.rows import Row, RowWidget, fitted

MOST_CHARACTERS = 400
"""Longer than any note; a paste beyond it is cut, which the echo shows."""

NUMBER_PAD: dict[str, str] = {
    **{f"kp_{digit}": str(digit) for digit in range(10)},
    **dict.fromkeys(("kp_decimal", "kp_separator", "kp_period", "decimal"), "."),
    **dict.fromkeys(("kp_comma", "separator"), ","),
    **dict.fromkeys(("kp_divide", "divide"), "/"),
    **dict.fromkeys(("kp_add", "add"), "+"),
    **dict.fromkeys(("kp_subtract", "subtract"), "-"),
    **{str(digit): str(digit) for digit in range(10)},
}
"""Keys of the number pad that may arrive under a name instead of as their character, by terminal and protocol."""

_BETWEEN_VALUES = re.compile(r"[\r\n\t;]|, ")

_BEFORE_TEXT = 3
"""Columns before the text: a free one, the prompt and its space."""

ENTER_KEYS = frozenset(("enter", "kp_enter", "ctrl+m"))


@dataclass(frozen=True, slots=True)
class EditLine:
    """A line of text and where the cursor stands in it, counted in characters before it."""

    text: str = ""
    cursor: int = 0

    def insert(self, text: str) -> EditLine:
        """With `text` at the cursor."""
        room = MOST_CHARACTERS - len(self.text)
        text = text[:room]
        return EditLine(self.text[: self.cursor] + text + self.text[self.cursor :], self.cursor + len(text))

    def left(self) -> EditLine:
        """One to the left."""
        return EditLine(self.text, max(0, self.cursor - 1))

    def right(self) -> EditLine:
        """One to the right."""
        return EditLine(self.text, min(len(self.text), self.cursor + 1))

    def home(self) -> EditLine:
        """At the beginning."""
        return EditLine(self.text, 0)

    def end(self) -> EditLine:
        """At the end."""
        return EditLine(self.text, len(self.text))

    def backspace(self) -> EditLine:
        """Without the character before the cursor."""
        if not self.cursor:
            return self
        return EditLine(self.text[: self.cursor - 1] + self.text[self.cursor :], self.cursor - 1)

    def delete(self) -> EditLine:
        """Without the character at the cursor."""
        return EditLine(self.text[: self.cursor] + self.text[self.cursor + 1 :], self.cursor)

    def without_word(self) -> EditLine:
        """Without the word before the cursor."""
        kept = self.text[: self.cursor].rstrip()
        kept = kept[: len(kept) - len(kept.split(" ")[-1])]
        return EditLine(kept + self.text[self.cursor :], len(kept))

    def emptied(self) -> EditLine:
        """With nothing in it."""
        return EditLine()


EDITS: dict[str, Callable[[EditLine], EditLine]] = {
    "left": EditLine.left,
    "right": EditLine.right,
    "home": EditLine.home,
    "ctrl+a": EditLine.home,
    "end": EditLine.end,
    "ctrl+e": EditLine.end,
    "backspace": EditLine.backspace,
    "ctrl+h": EditLine.backspace,
    "delete": EditLine.delete,
    "ctrl+d": EditLine.delete,
    "ctrl+w": EditLine.without_word,
    "ctrl+u": EditLine.emptied,
}


Listener = Callable[[str], None]
"""Is told the text, at once."""


class Entry(RowWidget, can_focus=True):
    """One line of text; what it means is the screen's business."""

    DEFAULT_CSS = "Entry { height: 1; pointer: text; }"

    def __init__(
        self,
        *,
        typed: Listener | None = None,
        entered: Listener,
        pasted: Listener | None = None,
        hint: str = "",
        id: str | None = None,  # noqa: A002
    ) -> None:
        """Tell `typed` after every key that changed the text, `entered` on Enter, `pasted` of several values at once.

        The text stays until whoever is told takes it out; several pasted values do not go in by themselves.
        """
        super().__init__(id=id)
        self.typed = EditLine()
        self._drawn_for: EditLine | None = None
        self._tell_typed = typed
        self._tell_entered = entered
        self._tell_pasted = pasted
        self._hint = hint

    @property
    def text(self) -> str:
        """What is typed."""
        return self.typed.text

    @text.setter
    def text(self, text: str) -> None:
        self.put(text)
        self.redraw()

    def redraw(self) -> None:
        """Paint what changed, the text among it."""
        self._drawn_for = self.typed
        super().redraw()

    def put(self, text: str) -> None:
        """Have this text in it with the next drawing, the cursor at its end."""
        self.typed = EditLine(text, len(text))

    @property
    def hint(self) -> str:
        """What may be typed, shown while nothing is."""
        return self._hint

    @hint.setter
    def hint(self, hint: str) -> None:
        if hint != self._hint:
            self._hint = hint
            self.redraw()

    def on_key(self, event: events.Key) -> None:
        """Take what belongs to a line of text; everything else goes on to the screen."""
        if event.key in ENTER_KEYS:
            event.stop()
            self._tell_entered(self.text)
            return
        edit = EDITS.get(event.key)
        if edit is not None:
            self._take(event, edit(self.typed))
            return
        character = event.character if event.is_printable else NUMBER_PAD.get(event.key)
        if character:
            self._take(event, self.typed.insert(character))

    def on_paste(self, event: events.Paste) -> None:
        """One value goes in where the cursor is; several are handed to the screen to look at first."""
        event.stop()
        text = event.text.strip()
        if self._tell_pasted is not None and len(values_in(text)) > 1:
            self._tell_pasted(text)
        elif text:
            self._set(self.typed.insert("".join(c for c in text if c.isprintable())))

    @property
    def entry_row(self) -> int:
        """The row of this widget that the text stands in."""
        return 0

    def on_click(self, event: events.Click) -> None:
        """Put the cursor where the pointer is."""
        event.stop()
        if event.y == self.entry_row:
            column = event.x + self._first_shown() - _BEFORE_TEXT
            self.typed = EditLine(self.text, max(0, min(len(self.text), column)))
            self.redraw()

    def _take(self, event: events.Key, typed: EditLine) -> None:
        event.stop()
        event.prevent_default()
        self._set(typed)

    def _set(self, typed: EditLine) -> None:
        if typed == self.typed:
            return
        changed = typed.text != self.text
        self.typed = typed
        if changed and self._tell_typed is not None:
            self._tell_typed(typed.text)
        if self._drawn_for is not self.typed:
            self.redraw()

    def _first_shown(self) -> int:
        return max(0, self.typed.cursor - max(1, self.size.width - _BEFORE_TEXT - 2))

    def rows(self, width: int) -> list[Row]:
        """The place to type in."""
        return [self.slot(width)]

    def slot(self, width: int) -> Row:
        """The text with its cursor, scrolled so that the cursor is seen, a column free at either side."""
        first = self._first_shown()
        cursor = self.typed.cursor
        row: Row = [
            ("slot-due", "› "),
            ("slot", self.text[first:cursor]),
            ("block" if self.has_focus else "slot", self.text[cursor : cursor + 1] or " "),
            ("slot", self.text[cursor + 1 :]),
        ]
        if not self.text and self._hint:
            row.append(("slot-quiet", f" {self._hint}"))
        filled, room = [("ink", " ")], max(0, width - 2)
        for part, text in row:
            shown = fitted(text, min(cell_len(text), room))
            filled.append((part, shown))
            room -= cell_len(shown)
        return [*filled, ("slot", " " * room), ("ink", " ")]

    def on_focus(self) -> None:
        """Show the cursor."""
        self.redraw()

    def on_blur(self) -> None:
        """Hide it."""
        self.redraw()

    @property
    def cursor_screen_offset(self) -> Offset:
        """Where the terminal's own cursor belongs, for input methods and screen readers."""
        x, y, _width, _height = self.content_region
        return Offset(x + _BEFORE_TEXT + self.typed.cursor - self._first_shown(), y + self.entry_row)


def values_in(text: str) -> list[str]:
    """The values of a pasted text: lines, or parts with a separator between.

    A comma between two digits may be a decimal mark, so it needs a space after it to separate.

    >>> values_in("28 5/8, 28 11/16; 29,5")
    ['28 5/8', '28 11/16', '29,5']
    """
    return [value.strip() for value in _BETWEEN_VALUES.split(text) if value.strip()]


# ---- The entry of the air page: while nothing is typed, the arrows belong to the what-if ----


_WHAT_IF = frozenset(("left", "right"))


class TrialEntry(Entry):
    """An entry that lets the arrows go by while it is empty."""

    def _take(self, event: events.Key, typed: EditLine) -> None:
        if self.text or event.key not in _WHAT_IF:
            super()._take(event, typed)
