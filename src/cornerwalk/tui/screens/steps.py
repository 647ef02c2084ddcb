"""Every event of a replay in a list, to search in and to go to."""

from __future__ import annotations

from collections.abc import Callable

from rich.cells import cell_len
from textual import on

from cornerwalk.job.replay import ReplayedJob
from cornerwalk.job.replay_steps import StepText
from cornerwalk.tui.screens.listing import ListingScreen
from cornerwalk.tui.widgets.long_list import LongList
from cornerwalk.tui.widgets.rows import Row
from cornerwalk.tui.widgets.timeline import shared
from cornerwalk.words import tr, tr_n
from cornerwalk.words.safe import harmless

Found = Callable[[int, str], None]
"""Is told the number of the chosen event, and the words that were searched for."""


class StepsScreen(ListingScreen):
    """Type words to see only the events that have them; Enter goes to the marked one."""

    def __init__(self, job: ReplayedJob, words: str, found: Found) -> None:
        super().__init__(tr("Events of the replay"), hint=tr("words to search for"))
        self._job = job
        self._found = found
        self._words = words
        self._numbers: list[int] = []

    @property
    def help_text(self) -> tuple[str, ...]:
        """How to search."""
        return (
            tr("Type words: a corner, a stage, initials, a value as it was entered, undone, read again."),
            tr("↑ ↓ mark an event, Enter goes there."),
        )

    def on_mount(self) -> None:
        """With the words of the last search."""
        self.text = self._words
        self.typed(self._words)

    def typed(self, text: str) -> None:
        """Only the events with these words; the one it stands at is marked, or the next after it."""
        wanted = text.casefold().split()
        self._numbers = [number for number in range(1, self._job.last + 1) if self._job.has(number, wanted)]
        mark = next((at for at, number in enumerate(self._numbers) if number >= self._job.number), len(self._numbers))
        self.listing.show(len(self._numbers), mark=mark, empty=tr("No event has these words."))
        told = tr_n("{count} event", "{count} events", len(self._numbers))
        self.say(told if not wanted else tr("{found} of {last}", found=told, last=self._job.last))

    def row(self, place: int, width: int) -> Row:
        """One event."""
        stamp, step = self._parts(place)
        remark = f" {step.remark}" if step.remark else ""
        text, remark = shared(step.text, remark, max(1, width - cell_len(stamp)))
        return [("quiet", stamp), ("ink" if step.counts else "quiet", text), ("due", remark)]

    def _parts(self, place: int) -> tuple[str, StepText]:
        step = self._job.steps.text(self._numbers[place])
        return f"{step.event.seq:>3} {step.event.at[11:19]} {harmless(step.event.by):<2} ", step

    @on(LongList.Marked)
    def tell_in_full(self, message: LongList.Marked) -> None:
        """Say at the foot what the marked row had no room for."""
        message.stop()
        place = self.listing.mark
        if place is None:
            self.tell("")
            return
        stamp, step = self._parts(place)
        whole = f"{step.text} {step.remark}".rstrip()
        fits = cell_len(stamp) + cell_len(whole) <= self.listing.row_width
        self.tell("" if fits else f"{step.event.seq}: {whole}")

    def taken(self, place: int) -> None:
        """Go there."""
        self.app.pop_screen()
        self._found(self._numbers[place], self.text)
