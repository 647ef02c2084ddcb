"""Timeline: where a replay stands, the events on a line with the stages marked, and the event in words."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from rich.cells import cell_len
from textual import events

from cornerwalk.job.notice import Span
from cornerwalk.tui.widgets.rows import Row, RowWidget, fitted, row_width, wrapped

GoTo = Callable[[int], None]
"""Is told the number of an event that was clicked."""

_SHORTEST = 3
"""Columns below which a stage has only its mark."""

_LEAST_REMARK = 16
"""Columns that say what became of an event: `undone by #14`, `read again, …`."""


@dataclass(frozen=True, slots=True)
class EventText:
    """One event in words: its number, when and by whom, what was entered, what became of it."""

    number: int
    stamp: str
    text: str
    remark: str
    counts: bool


@dataclass(frozen=True, slots=True)
class TimelineView:
    """What the line shows.

    Attributes:
        last: how many events there are.
        here: the event it stands after.
        effect: what that event did to the figures.
        starts: the number of the event that begins a stage, and the stage in a word.
        before: the events before, nearest first.
        after: the events after, nearest first.
        pace: how it plays; "" while it does not.
        told: what is to be said, in place of the line; "" for nothing.
    """

    last: int
    here: EventText
    effect: str
    starts: tuple[tuple[int, str], ...]
    before: tuple[EventText, ...]
    after: tuple[EventText, ...]
    pace: str
    told: Span = ("ink", "")


class Timeline(RowWidget):
    """The line, the event, and, where there is room, its neighbours. A click goes to an event."""

    def __init__(self, go_to: GoTo, *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id)
        self._go_to = go_to
        self._view: TimelineView | None = None
        self._number_of_row: list[int] = []

    def show_view(self, view: TimelineView) -> None:
        """Draw this."""
        if view != self._view:
            self._view = view
            self.redraw()

    def rows(self, width: int) -> list[Row]:
        """The line first; then the event, as much around it as there is room for, and what it did."""
        view = self._view
        if view is None or width < 3:
            return []
        room = max(0, self.size.height - 2)
        effect = wrapped(f"→ {view.effect}", max(1, width - 3))[:room] if view.effect else []
        room -= len(effect)
        before = view.before[: max(room // 2, room - len(view.after))]
        after = view.after[: room - len(before)]
        told: list[tuple[int, Row]] = []
        for beside in (*reversed(before), view.here, *after):
            here = beside is view.here
            told.append((beside.number, _event(beside, width, here=here)))
            if here:
                told += [(beside.number, [("ink", f"   {line}")]) for line in effect]
        self._number_of_row = [number for number, _ in told]
        return [self._line(view, width), *(row for _, row in told)]

    def _line(self, view: TimelineView, width: int) -> Row:
        """The events as a line, the stages written into it, a dot where it stands."""
        told = f" {view.here.number} / {view.last}" + (f"  {view.pace}" if view.pace else "") + " "
        told = fitted(told, min(cell_len(told), max(0, width - 3)))
        length = max(1, width - cell_len(told))
        part, words = view.told
        if words:
            return [(part, fitted(f" {words}", length)), ("quiet", told)]
        cells: list[Span] = [("line", "─")] * length
        columns = [_column(number, view.last, length) for number, _ in view.starts]
        ends = [*columns, length][1:]
        for (_, words), column, end in zip(view.starts, columns, ends, strict=True):
            cells[column] = ("line", "┬")
            if cell_len(words) <= end - column - 2:  # a tick says enough; a word cut short says nothing
                _write(cells, column + 1, words, end - column - 2)
        here = _column(view.here.number, view.last, length)
        cells[here] = ("due", "●")
        return [*_joined(cells), ("due" if view.pace else "quiet", told)]

    def on_click(self, event: events.Click) -> None:
        """On the line, the event there; on an event, that event."""
        event.stop()
        if self._view is None:
            return
        if event.y:
            if event.y <= len(self._number_of_row):
                self._go_to(self._number_of_row[event.y - 1])
            return
        told = row_width(self._line(self._view, self.size.width)[-1:])
        length = max(2, self.size.width - told)
        self._go_to(1 + round(min(event.x, length - 1) / (length - 1) * (self._view.last - 1)))


def _column(number: int, last: int, length: int) -> int:
    return round((number - 1) / max(1, last - 1) * (length - 1))


def _write(cells: list[Span], column: int, words: str, room: int) -> None:
    """Write into the line, shortened where there is not room for all of it."""
    if room < _SHORTEST:
        return
    for at, character in enumerate(fitted(words, min(cell_len(words), room))):
        if cell_len(character) != 1:
            return
        cells[column + at] = ("quiet", character)


def _joined(cells: Sequence[Span]) -> Row:
    row: Row = []
    for part, text in cells:
        if row and row[-1][0] == part:
            row[-1] = (part, row[-1][1] + text)
        else:
            row.append((part, text))
    return row


def _event(beside: EventText, width: int, *, here: bool) -> Row:
    """One event, and at the end what became of it."""
    sign = " ▸ " if here else "   "
    stamp = f"{beside.number} {beside.stamp} "
    room = max(0, width - cell_len(sign) - cell_len(stamp))
    text, remark = shared(beside.text, f" {beside.remark} " if beside.remark else "", room)
    part = "quiet" if not beside.counts else ("strong" if here else "ink")
    return [("due", sign), ("quiet", fitted(stamp, min(cell_len(stamp), width - 3))), (part, text), ("due", remark)]


def shared(text: str, remark: str, room: int) -> tuple[str, str]:
    """Both in so much room, the remark at its end; where they do not fit, it gives way first, down to its beginning."""
    least = min(cell_len(remark), max(_LEAST_REMARK, room // 3))
    for_remark = min(cell_len(remark), max(room - cell_len(text), least), room)
    return fitted(text, room - for_remark), fitted(remark, for_remark)
