"""Long list: only the rows in sight are made, so that ten thousand cost what twenty do.

It is our own: an `OptionList` lays out every row before it shows the first, two seconds for ten thousand, and a
`ListView` makes a widget of each.
"""

from __future__ import annotations

from collections.abc import Callable

from textual import events
from textual.message import Message

from cornerwalk.tui.widgets.rows import Row, RowWidget, fitted

_SIGN_COLUMNS = 3

RowOf = Callable[[int, int], Row]
"""Makes the row at a place, in a width."""


class LongList(RowWidget):
    """Rows with one marked. The page moves the mark by its own keys; the wheel and a click do too."""

    DEFAULT_CSS = "LongList { height: 1fr; }"

    class Marked(Message):
        """Sent when the mark has moved, or other rows have come into sight."""

    class Taken(Message):
        """Sent when the marked row is clicked."""

    def __init__(self, row_of: RowOf, *, empty: str = "", id: str | None = None) -> None:  # noqa: A002
        """`empty` stands where there is no row."""
        super().__init__(id=id)
        self._row_of = row_of
        self._empty = empty
        self._count = 0
        self._mark = 0
        self._first = 0

    @property
    def mark(self) -> int | None:
        """The place of the marked row, from 0; None where there is no row."""
        return self._mark if self._count else None

    def __len__(self) -> int:
        """How many rows there are, in sight or not."""
        return self._count

    def __bool__(self) -> bool:
        """A list without rows is a list."""
        return True

    @property
    def in_sight(self) -> range:
        """The places of the rows that are shown."""
        return range(self._first, min(self._count, self._first + max(1, self.size.height)))

    def show(self, count: int, *, mark: int = 0, empty: str | None = None) -> None:
        """Show this many rows, made anew, one of them marked."""
        if empty is not None:
            self._empty = empty
        self._count = count
        self._mark = max(0, min(count - 1, mark))
        self._keep_in_sight()
        self.redraw()
        self.post_message(self.Marked())

    def move(self, step: int) -> None:
        """Move the mark by so many rows."""
        self.move_to(self._mark + step)

    def move_page(self, step: int) -> None:
        """Move the mark by so many pages, a row of the old one kept in sight."""
        self.move(step * max(1, self.size.height - 1))

    def move_to(self, place: int) -> None:
        """Mark the row at this place, or the nearest there is."""
        place = max(0, min(self._count - 1, place))
        if place != self._mark:
            self._mark = place
            self._keep_in_sight()
            self.redraw()
            self.post_message(self.Marked())

    def _keep_in_sight(self) -> None:
        height = max(1, self.size.height)
        if self._mark < self._first:
            self._first = self._mark
        elif self._mark >= self._first + height:
            self._first = self._mark - height + 1
        self._first = max(0, min(self._first, self._count - height))

    def on_resize(self) -> None:
        """The mark stays in sight."""
        self._keep_in_sight()
        self.redraw()
        self.post_message(self.Marked())

    def rows(self, width: int) -> list[Row]:
        """The rows in sight, the marked one with a sign in front."""
        if not self._count:
            return [[("quiet", f" {self._empty}")]] if self._empty else []
        return [self._row(place, width) for place in self.in_sight]

    @property
    def row_width(self) -> int:
        """The room a row has beside the sign of the marked one."""
        return max(1, self.size.width - _SIGN_COLUMNS)

    def _row(self, place: int, width: int) -> Row:
        row = self._row_of(place, max(1, width - _SIGN_COLUMNS))
        if place != self._mark:
            return [("ink", "   "), *row]
        text = "".join(text for _, text in row)
        return [("due", " ▸ "), ("block", fitted(text, max(1, width - _SIGN_COLUMNS)))]

    def on_mouse_scroll_down(self, event: events.MouseScrollDown) -> None:
        """The wheel moves the mark."""
        event.stop()
        self.move(3)

    def on_mouse_scroll_up(self, event: events.MouseScrollUp) -> None:
        """The wheel moves the mark."""
        event.stop()
        self.move(-3)

    def on_click(self, event: events.Click) -> None:
        """A click marks; a click on the marked row takes it."""
        event.stop()
        place = self._first + event.y
        if place >= self._count:
            return
        if place == self._mark:
            self.post_message(self.Taken())
        else:
            self.move_to(place)
