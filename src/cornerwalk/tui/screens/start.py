"""Start page: go on with the unfinished job, a new one, an earlier one, a sample to try."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import partial

from textual import on
from textual.app import ComposeResult
from textual.containers import Container, VerticalScroll

from cornerwalk.context import Context
from cornerwalk.job.notice import Notice
from cornerwalk.job.start import Start, purpose, start, usual_choices
from cornerwalk.tui.keys import Places
from cornerwalk.tui.messages import OpenFile, OpenSample
from cornerwalk.tui.screens.page import PageScreen
from cornerwalk.tui.widgets.lists import Choices
from cornerwalk.tui.widgets.prose import Prose, Ruler
from cornerwalk.tui.widgets.vehicle import VehicleArt
from cornerwalk.words import tr


class StartScreen(PageScreen):
    """What to do today."""

    CSS_PATH = "start.tcss"
    AUTO_FOCUS = "Choices"
    places: Places = ("everywhere",)

    def __init__(self, context: Context) -> None:
        super().__init__()
        self.context = context
        self._start = Start(usual_choices())

    @property
    def help_text(self) -> tuple[str, ...]:
        """What the choices are."""
        return (
            tr("Press the number of a choice, or Enter for the marked one."),
            tr("A job is one vehicle: its heights unloaded, loaded, and with the helper springs installed."),
            tr("The sample is an invented vehicle; nothing you do with it stays."),
        )

    def compose_page(self) -> ComposeResult:
        """The vehicle, and what can be done."""
        yield Prose((Notice("cornerwalk", part="strong"),), id="name")
        yield Ruler()
        with VerticalScroll(id="start", can_focus=False):
            yield Prose((Notice(purpose()),), id="what")
            with Container(id="beside"):
                yield Choices(self._start.choices, id="choices")
                yield VehicleArt(id="vehicle")

    def on_mount(self) -> None:
        """Look for the unfinished job at once: the numbers of the choices must not change under the fingers."""
        self.look()

    def on_screen_resume(self) -> None:
        """A job may have come or gone meanwhile."""
        if self._start.unfinished is not None or len(self.app.screen_stack) > 2:
            self.look()

    def look(self) -> None:
        """Find the job that was worked on last."""
        self._start = start(self.context)
        for problem in self._start.problems:
            self.tell(problem, "caution")
        self.query_one(Choices).choices = self._start.choices

    def offers(self) -> Iterable[tuple[str, str, Callable[[], object]]]:
        """The choices; the settings have a key of their own."""
        listed = self.query_one(Choices)
        for choice in listed.choices:
            if choice.id != "settings":
                yield choice.text, choice.about, partial(listed.post_message, Choices.Taken(choice))

    @on(Choices.Taken)
    async def taken(self, message: Choices.Taken) -> None:
        """Do what was chosen."""
        match message.choice.id:
            case "go on" if self._start.unfinished is not None:
                self.post_message(OpenFile(self._start.unfinished.path))
            case "new":
                from cornerwalk.tui.screens.new_job import NewJobScreen

                self.app.push_screen(NewJobScreen(self.context))
            case "open":
                from cornerwalk.tui.screens.library import LibraryScreen

                self.app.push_screen(LibraryScreen(self.context))
            case "demo":
                self.post_message(OpenSample())
            case "settings":
                await self.run_action("app.open_settings")
