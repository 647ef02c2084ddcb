"""A few words that must not be overlooked, across the page; takes no room while there are none."""

from __future__ import annotations

from cornerwalk.tui.widgets.drawn import Drawn, Row, fitted, wrapped


class Alert(Drawn):
    """Loud words fill their rows; quiet ones are plain."""

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id)
        self._words = ("", False)

    def say(self, text: str, *, loud: bool) -> None:
        """Show this; "" for nothing."""
        if (text, loud) != self._words:
            self._words = (text, loud)
            self.redraw()

    def rows(self, width: int) -> list[Row]:
        """The text wrapped."""
        text, loud = self._words
        if not text or width < 3:
            return []
        part = "alarm" if loud else "ink"
        return [[(part, f" {fitted(line, width - 1)}")] for line in wrapped(text, width - 2)]
