"""Trouble pages: a file that could not simply be opened, and a disk that does not take what is read."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.containers import VerticalScroll

from cornerwalk.context import Context
from cornerwalk.job.notice import Notice
from cornerwalk.job.open_job import OpenJob
from cornerwalk.job.opening import Hindered, way_on
from cornerwalk.job.record import move
from cornerwalk.tui.keys import Places
from cornerwalk.tui.messages import WalkOn
from cornerwalk.tui.screens.page import PageScreen
from cornerwalk.tui.widgets.entry import Entry
from cornerwalk.tui.widgets.lists import Choices
from cornerwalk.tui.widgets.prose import Prose, Ruler
from cornerwalk.words import tr


class HinderedScreen(PageScreen):
    """Why a file could not be opened, and the ways on, the safest marked."""

    CSS_PATH = "start.tcss"
    AUTO_FOCUS = "Choices"
    places: Places = ("everywhere",)
    takes_typed_ahead: ClassVar[bool] = False

    def __init__(self, context: Context, hindered: Hindered) -> None:
        super().__init__()
        self.context = context
        self._hindered = hindered

    def compose_page(self) -> ComposeResult:
        """Why, and what can be done."""
        yield Prose((Notice(tr("This job could not be opened"), part="caution"),), id="name")
        yield Ruler()
        with VerticalScroll(id="start", can_focus=False):
            yield Prose((Notice(self._hindered.reason),), id="what")
            yield Choices(self._hindered.choices, id="choices")

    @on(Choices.Taken)
    async def taken(self, message: Choices.Taken) -> None:
        """Go the way that was chosen."""
        message.stop()
        job = way_on(self.context, self._hindered, message.choice.id)
        if job is None:
            await self.action_back()
        else:
            self._go(job)

    def _go(self, job: OpenJob | Hindered) -> None:
        if isinstance(job, Hindered):
            self._hindered = job
            self.query_one("#what", Prose).paragraphs = (Notice(job.reason),)
            self.query_one(Choices).choices = job.choices
        else:
            self.post_message(WalkOn(job))


class ElsewhereScreen(PageScreen):
    """Another folder for the job: a stick, a memory card, the desktop.

    A whole path moves it there, everything that is not on disk included; Enter alone goes back.
    """

    CSS_PATH = "form.tcss"
    places: Places = ("everywhere",)

    def __init__(self, job: OpenJob) -> None:
        super().__init__()
        self.job = job

    @property
    def help_text(self) -> tuple[str, ...]:
        """What becomes of the job."""
        return (tr("The whole job is written there and goes on there; everything read so far is in it."),)

    def compose_page(self) -> ComposeResult:
        """The question."""
        yield Prose((Notice(tr("Go on in another folder"), part="strong"),), id="name")
        yield Ruler()
        with VerticalScroll(id="form", can_focus=False):
            yield Prose((Notice(tr("Which folder? Type its whole path; Enter alone goes back.")),))
            yield Entry(entered=self.named, id="entry", hint="/media/stick")

    def named(self, typed: str) -> None:
        """Move there, or say why not."""
        if not typed.strip():
            self.app.pop_screen()
            return
        reply = move(self.job, typed)
        if reply.trouble:
            self.tell(reply.trouble, "caution")
            return
        self.app.pop_screen()
        page = self.app.screen
        if isinstance(page, PageScreen):
            page.tell(reply.told)
