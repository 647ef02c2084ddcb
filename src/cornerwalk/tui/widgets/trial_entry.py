"""The entry of the air page: while nothing is typed, the arrows belong to the what-if."""

from __future__ import annotations

from textual import events

from cornerwalk.tui.widgets.entry import Entry, Typed

_WHAT_IF = frozenset(("left", "right"))


class TrialEntry(Entry):
    """An entry that lets the arrows go by while it is empty."""

    def _take(self, event: events.Key, typed: Typed) -> None:
        if self.text or event.key not in _WHAT_IF:
            super()._take(event, typed)
