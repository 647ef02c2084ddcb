"""A new job: a name, which may be left out, and what kind of job it is."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll

from cornerwalk.context import Context
from cornerwalk.report.names import job_name
from cornerwalk.session.stages import ASKED, JobKind
from cornerwalk.tui.keys import Place, bindings
from cornerwalk.tui.messages import NewJob
from cornerwalk.tui.screens.page import Page
from cornerwalk.tui.widgets.entry import Entry
from cornerwalk.tui.widgets.prose import Paragraph, Prose
from cornerwalk.tui.widgets.ruler import Ruler
from cornerwalk.words import tr

KINDS: tuple[JobKind, ...] = tuple(ASKED)


class NewJobScreen(Page):
    """One Enter makes the usual job without a name."""

    CSS_PATH = "form.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings("new")]
    places: ClassVar[tuple[Place, ...]] = ("new", "everywhere")

    def __init__(self, context: Context) -> None:
        super().__init__()
        self.context = context
        self._kind = 0

    @property
    def help_text(self) -> tuple[str, ...]:
        """What the page asks."""
        return (
            tr("The name is for your list: the customer, the vehicle, the day. It can be given or changed later (F4)."),
            tr("The kind of job says which stages are asked for. Every other stage can be added at any time."),
        )

    def compose_page(self) -> ComposeResult:
        """Name and kind."""
        yield Prose((Paragraph(tr("New job"), part="strong"),), id="name")
        yield Ruler()
        with VerticalScroll(id="form", can_focus=False):
            yield Prose((Paragraph(tr("What shall it be called? Enter alone leaves the name out.")),))
            yield Entry(entered=self.named, id="entry", hint=tr("name"))
            yield Prose(id="kinds")

    def on_mount(self) -> None:
        """Show the kinds."""
        self._show()

    def _show(self) -> None:
        lines = [Paragraph(tr("Kind of job (↑↓):"), part="quiet")]
        for place, kind in enumerate(KINDS):
            stages = ", ".join(tr(stage) for stage in ASKED[kind])
            here = place == self._kind
            text = tr("{kind}: {stages}", kind=job_name(kind), stages=stages)
            lines.append(Paragraph(text, "▸" if here else " ", "due" if here else "ink", "due"))
        self.query_one("#kinds", Prose).paragraphs = tuple(lines)

    def action_earlier_kind(self) -> None:
        """The kind above."""
        self._kind = (self._kind - 1) % len(KINDS)
        self._show()

    def action_later_kind(self) -> None:
        """The kind below."""
        self._kind = (self._kind + 1) % len(KINDS)
        self._show()

    def named(self, name: str) -> None:
        """Make it."""
        self.post_message(NewJob(name.strip(), KINDS[self._kind]))
