"""The first page: go on with the unfinished job, a new one, an earlier one, a sample to try."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import partial
from typing import TYPE_CHECKING

from textual import on
from textual.app import ComposeResult
from textual.containers import Container, VerticalScroll

from cornerwalk.context import Context
from cornerwalk.job.notice import Choice, Notice
from cornerwalk.tui.keys import Places
from cornerwalk.tui.messages import OpenFile, OpenSample
from cornerwalk.tui.screens.page import Page
from cornerwalk.tui.widgets.choices import Choices
from cornerwalk.tui.widgets.prose import Prose
from cornerwalk.tui.widgets.ruler import Ruler
from cornerwalk.tui.widgets.vehicle import Vehicle
from cornerwalk.words import tr
from cornerwalk.words.safe import harmless

if TYPE_CHECKING:
    from cornerwalk.store import Summary


class StartScreen(Page):
    """What to do today."""

    CSS_PATH = "start.tcss"
    AUTO_FOCUS = "Choices"
    places: Places = ("everywhere",)

    def __init__(self, context: Context) -> None:
        super().__init__()
        self.context = context
        self._unfinished: Summary | None = None

    @property
    def help_text(self) -> tuple[str, ...]:
        """What the choices are."""
        return (
            tr("Press the number of a choice, or Enter for the marked one."),
            tr("A job is one vehicle: its heights unloaded, loaded, and with the springs fitted."),
            tr("The sample is an invented vehicle; nothing you do with it stays."),
        )

    def compose_page(self) -> ComposeResult:
        """The vehicle, and what can be done."""
        yield Prose((Notice("cornerwalk", part="strong"),), id="name")
        yield Ruler()
        with VerticalScroll(id="start", can_focus=False):
            yield Prose(
                (Notice(tr("Four corners, three times round: what the heights of a vehicle mean.")),), id="what"
            )
            with Container(id="beside"):
                yield Choices(_always(), id="choices")
                yield Vehicle(id="vehicle")

    def on_mount(self) -> None:
        """Look for the unfinished job at once: the numbers of the choices must not change under the fingers."""
        self.look()

    def on_screen_resume(self) -> None:
        """A job may have come or gone meanwhile."""
        if self._unfinished is not None or len(self.app.screen_stack) > 2:
            self.look()

    def look(self) -> None:
        """Find the job that was worked on last."""
        from cornerwalk.store import StoreError

        try:
            self._unfinished = self.context.library.latest_unfinished()
        except StoreError as error:
            self.tell(tr(error.template, **error.fields), "caution")
        problem = self.context.settings_problem
        if problem is not None:
            self.tell(tr("The settings were not used: {problem}", problem=problem.lines(tr)[0]), "caution")
        choices = _always() if self._unfinished is None else (_go_on(self._unfinished), *_always())
        self.query_one(Choices).choices = choices

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
            case "go on" if self._unfinished is not None:
                self.post_message(OpenFile(self._unfinished.path))
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


def _always() -> tuple[Choice, ...]:
    return (
        Choice("new", tr("New job")),
        Choice("open", tr("Open an earlier job")),
        Choice("demo", tr("Try it with a sample"), tr("An invented vehicle; nothing of it stays.")),
        Choice("settings", tr("Settings")),
    )


def _go_on(summary: Summary) -> Choice:
    from cornerwalk.session.stages import STAGE_NAMES
    from cornerwalk.wording.names import stage_name

    title = harmless(summary.title) or tr("the job without a name")
    named = [stage_name(name) for name in STAGE_NAMES if name in summary.stages]
    read = ", ".join(named) or tr("no stage read to the end")
    about = tr(
        "last kept {time}; {stages}; {count} readings", time=_when(summary.last_at), stages=read, count=summary.readings
    )
    return Choice("go on", tr("Go on with {title}", title=title), about)


def _when(at: str) -> str:
    """`2026-05-04 08:14` of a recorded time."""
    return harmless(at[:16].replace("T", " "))
