"""Another folder for the job, asked for where the disk does not take it: a stick, a memory card, the desktop."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import VerticalScroll

from cornerwalk.job.notice import Notice
from cornerwalk.job.open_job import OpenJob
from cornerwalk.job.record import move
from cornerwalk.tui.keys import Places
from cornerwalk.tui.screens.page import Page
from cornerwalk.tui.widgets.entry import Entry
from cornerwalk.tui.widgets.prose import Prose, Ruler
from cornerwalk.words import tr


class ElsewhereScreen(Page):
    """A whole path moves the job there, everything that is not on disk included; Enter alone goes back."""

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
        if isinstance(page, Page):
            page.tell(reply.told)
