"""New job page: a name, which may be left out, what kind of job it is, and a preset where there is one."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import VerticalScroll

from cornerwalk.context import Context
from cornerwalk.job.new_job import JOB_KINDS, asks_name, kind_words, preset_words, presets_on_offer
from cornerwalk.job.notice import Notice
from cornerwalk.tui.keys import Places
from cornerwalk.tui.messages import NewJob
from cornerwalk.tui.own_keys import key_shown
from cornerwalk.tui.screens.page import PageScreen
from cornerwalk.tui.widgets.entry import Entry
from cornerwalk.tui.widgets.prose import Prose, Ruler
from cornerwalk.words import tr


class NewJobScreen(PageScreen):
    """One Enter makes the usual job without a name."""

    CSS_PATH = "form.tcss"
    places: Places = ("new", "everywhere")

    def __init__(self, context: Context) -> None:
        super().__init__()
        self.context = context
        self._kind = 0
        self._presets, self._preset = presets_on_offer(context)

    @property
    def help_text(self) -> tuple[str, ...]:
        """What the page asks."""
        return (
            tr(
                "The name is for your list: the customer, the vehicle, the day. "
                "It can be given or changed later ({key}).",
                key=key_shown("job.vehicle"),
            ),
            tr("The job type sets which stages are read. You can add others any time."),
            tr("A preset is a vehicle or kit saved from a past job."),
        )

    def compose_page(self) -> ComposeResult:
        """Name, kind, preset."""
        yield Prose((Notice(tr("New job"), part="strong"),), id="name")
        yield Ruler()
        with VerticalScroll(id="form", can_focus=False):
            yield Prose((Notice(asks_name()),))
            yield Entry(entered=self.named, id="entry", hint=tr("name"))
            yield Prose(id="kinds")
            yield Prose(id="presets")

    def on_mount(self) -> None:
        """Show what can be chosen."""
        self._show()

    def _show(self) -> None:
        kinds = [kind_words(kind) for kind in JOB_KINDS]
        self.query_one("#kinds", Prose).paragraphs = _choices(tr("Job type (↑↓):"), kinds, self._kind)
        if len(self._presets) > 1:
            names = [preset_words(preset) for preset in self._presets]
            heading = tr("Start from (PgUp PgDn):")
            self.query_one("#presets", Prose).paragraphs = _choices(heading, names, self._preset)

    def action_earlier_kind(self) -> None:
        """The kind above."""
        self._turn_kind(-1)

    def action_later_kind(self) -> None:
        """The kind below."""
        self._turn_kind(1)

    def _turn_kind(self, step: int) -> None:
        self._kind = (self._kind + step) % len(JOB_KINDS)
        self._show()

    def action_earlier_preset(self) -> None:
        """The preset above."""
        self._turn_preset(-1)

    def action_later_preset(self) -> None:
        """The preset below."""
        self._turn_preset(1)

    def _turn_preset(self, step: int) -> None:
        self._preset = (self._preset + step) % len(self._presets)
        self._show()

    def named(self, name: str) -> None:
        """Make it."""
        preset = self._presets[self._preset]
        self.post_message(NewJob(name.strip(), JOB_KINDS[self._kind], preset.path if preset is not None else None))


def _choices(heading: str, texts: list[str], marked: int) -> tuple[Notice, ...]:
    lines = [Notice(heading, part="quiet")]
    for place, text in enumerate(texts):
        here = place == marked
        lines.append(Notice(text, "▸" if here else " ", "due" if here else "ink", "due"))
    return tuple(lines)
