"""The lines of a form: what is asked, what stands there, or what leaving it out costs."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from rich.cells import cell_len
from textual import events
from textual.geometry import Region
from textual.widget import Widget

from cornerwalk.job.form import Field
from cornerwalk.tui.widgets.drawn import Drawn, Row, fitted, wrapped
from cornerwalk.wording.facts import as_stated
from cornerwalk.words.safe import harmless


class FieldList(Drawn):
    """One line a field, the one in hand marked; a click takes it in hand."""

    def __init__(self, choose: Callable[[int], None], *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id)
        self._choose = choose
        self._fields: tuple[Field, ...] = ()
        self._at = 0
        self._ends: list[int] = []

    def show_fields(self, fields: Sequence[Field], at: int) -> None:
        """Show these, with that one in hand."""
        self._fields = tuple(fields)
        self._at = at
        self.redraw()
        self.call_after_refresh(self.keep_in_sight)

    def rows(self, width: int) -> list[Row]:
        """Label and value side by side, or one below the other where it is narrow."""
        label_width = min(max((cell_len(field.label) for field in self._fields), default=0), max(12, width // 2)) + 1
        rows: list[Row] = []
        self._ends = []
        for at, field in enumerate(self._fields):
            here = at == self._at
            stands = harmless(as_stated(field.name, field.value))
            value, part = (stands, "strong") if stands else (field.cost or "–", "quiet")
            labels = wrapped(field.label, label_width - 1)
            values = wrapped(value, max(1, width - label_width - 4))
            for line in range(max(len(labels), len(values))):
                label = labels[line] if line < len(labels) else ""
                sign = "▸" if here and line == 0 else " "
                rows.append(
                    [
                        ("due", f" {sign} "),
                        ("due" if here else "ink", fitted(label, label_width)),
                        (part, values[line] if line < len(values) else ""),
                    ]
                )
            self._ends.append(len(rows))
        return rows

    def on_click(self, event: events.Click) -> None:
        """Take a line in hand."""
        event.stop()
        for at, end in enumerate(self._ends):
            if event.y < end:
                self._choose(at)
                return

    def keep_in_sight(self) -> None:
        """Scroll so that the line in hand is seen."""
        if not isinstance(self.parent, Widget) or self._at >= len(self._ends):
            return
        begin = self._ends[self._at - 1] if self._at else 0
        region = Region(0, begin, self.size.width, self._ends[self._at] - begin)
        self.parent.scroll_to_region(region.translate(self.virtual_region.offset), animate=False)
