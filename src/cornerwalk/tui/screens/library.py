"""The jobs of the library, the one worked on last first."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.containers import VerticalScroll

from cornerwalk.context import Context
from cornerwalk.store import StoreError, Summary
from cornerwalk.tui.keys import Place
from cornerwalk.tui.messages import OpenFile
from cornerwalk.tui.screens.page import Page
from cornerwalk.tui.widgets.choices import Choice, Choices
from cornerwalk.tui.widgets.prose import Paragraph, Prose
from cornerwalk.tui.widgets.ruler import Ruler
from cornerwalk.words import tr, tr_n
from cornerwalk.words.safe import harmless

MOST_SHOWN = 200


class LibraryScreen(Page):
    """Choose a job to go on with or to look at."""

    CSS_PATH = "start.tcss"
    AUTO_FOCUS = "Choices"
    places: ClassVar[tuple[Place, ...]] = ("everywhere",)

    def __init__(self, context: Context) -> None:
        super().__init__()
        self.context = context
        self._summaries: list[Summary] = []

    def compose_page(self) -> ComposeResult:
        """The list."""
        yield Prose((Paragraph(tr("Earlier jobs"), part="strong"),), id="name")
        yield Ruler()
        with VerticalScroll(id="start", can_focus=False):
            yield Choices(id="choices")

    def on_mount(self) -> None:
        """Read the list."""
        try:
            self._summaries = self.context.library.summaries()
        except StoreError as error:
            self.tell(tr(error.template, **error.fields), "caution")
        shown = self._summaries[:MOST_SHOWN]
        self.query_one(Choices).choices = [_choice(place, summary) for place, summary in enumerate(shown)]
        if not self._summaries:
            self.tell(tr("There is no job here yet."))
        elif len(self._summaries) > MOST_SHOWN:
            self.tell(tr("The latest {count} jobs; `cornerwalk list` shows them all.", count=MOST_SHOWN))

    @on(Choices.Taken)
    def taken(self, message: Choices.Taken) -> None:
        """Open it."""
        message.stop()
        self.post_message(OpenFile(self._summaries[int(message.choice.id)].path))


def _choice(place: int, summary: Summary) -> Choice:
    title = harmless(summary.title) or tr("job without a name")
    if summary.damaged:
        return Choice(str(place), title, tr("damaged; what can be read is offered"))
    state = tr("open") if summary.open else tr("handed over")
    readings = tr_n("{count} reading", "{count} readings", summary.readings)
    about = ", ".join(part for part in (summary.day.isoformat(), state, readings, harmless(summary.vehicle)) if part)
    return Choice(str(place), title, about)
