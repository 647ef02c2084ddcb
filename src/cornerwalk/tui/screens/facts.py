"""Form: one fact at a time, digits and Enter; everything may be left out, and what that costs is said at once."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from rich.cells import cell_len
from textual.app import ComposeResult
from textual.containers import VerticalScroll

from cornerwalk.job.form import SECTIONS, Field, Section, fields_of, section_name, stated, taken_back, understood
from cornerwalk.job.notice import Notice
from cornerwalk.job.open_job import OpenJob
from cornerwalk.job.reply import Refusal, refusal
from cornerwalk.tui.keys import Places
from cornerwalk.tui.own_keys import key_shown
from cornerwalk.tui.screens.job_screen import AskingScreen
from cornerwalk.tui.widgets.lists import MarkedList
from cornerwalk.tui.widgets.question import Panel, PanelView
from cornerwalk.tui.widgets.rows import Row, fitted, wrapped
from cornerwalk.tui.widgets.tabs import Tabs
from cornerwalk.wording.facts import as_stated, choice_label, fact_help
from cornerwalk.words import capital, tr
from cornerwalk.words.safe import harmless


class FieldList(MarkedList):
    """What is asked, and what stands there or what leaving it out costs; a click takes a line in hand."""

    def __init__(self, choose: Callable[[int], None], *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id)
        self._choose = choose
        self._fields: tuple[Field, ...] = ()

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
        self._spans = []
        for at, field in enumerate(self._fields):
            begin = len(rows)
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
            self._spans.append((begin, len(rows)))
        return rows

    def clicked(self, place: int) -> None:
        """Take it in hand."""
        self._choose(place)


PAGES: tuple[Section, ...] = tuple(SECTIONS)


class FactsScreen(AskingScreen):
    """Vehicle, lamps, kit, hitch and loads, the job itself, limits."""

    CSS_PATH = "facts.tcss"
    places: Places = ("form", "job", "everywhere")

    def __init__(self, job: OpenJob) -> None:
        super().__init__(job)
        self._page = 0
        self._at = self._first_open()
        self._refused: str | None = None

    @property
    def help_text(self) -> tuple[str, ...]:
        """The line in hand, then how the form goes."""
        field = self.field
        about = (
            fact_help(field.name),
            field.cost,
            tr("for example {example}", example=field.hint) if field.hint else "",
        )
        return (
            tr("{what}: {about}", what=capital(field.label), about=" ".join(filter(None, about))),
            tr("Type what the line asks for and press Enter; Enter alone leaves it as it is and goes on."),
            tr("Every line may be skipped; what that costs is shown beside it. Units may be typed: 119 in, 3023 mm."),
            tr(
                "↑ ↓ choose a line, PgUp PgDn a page. {key} undoes a value. Every Enter is saved at once.",
                key=key_shown("form.take-back"),
            ),
        )

    def compose_page(self) -> ComposeResult:
        """Pages, the line in hand, all lines of the page."""
        yield Tabs([section_name(section) for section in PAGES], self.turn_to, numbered=False)
        yield Panel(typed=self.typed, entered=self.entered, id="panel")
        with VerticalScroll(id="fields", can_focus=False):
            yield FieldList(self.choose, id="list")

    # ---- what is in hand ----

    @property
    def fields(self) -> tuple[Field, ...]:
        """The lines of the open page."""
        return fields_of(self.job.session, PAGES[self._page])

    @property
    def field(self) -> Field:
        """The line in hand."""
        fields = self.fields
        return fields[min(self._at, len(fields) - 1)]

    def _first_open(self) -> int:
        """The first line of the page with nothing in it that costs something."""
        fields = fields_of(self.job.session, PAGES[self._page])
        return next((at for at, field in enumerate(fields) if field.cost and not field.value), 0)

    def show(self) -> None:
        """Draw all of it."""
        super().show()
        self.query_one(Tabs).mark(self._page)
        self.query_one(FieldList).show_fields(self.fields, self._at)
        self.show_asked()

    def show_asked(self) -> None:
        """Draw the line in hand, and what is typed."""
        panel = self.query_one(Panel)
        field = self.field
        hint = tr("for example {example}", example=field.hint) if field.hint else ""
        title = capital(field.label)
        question = PanelView(title=title, context=section_name(PAGES[self._page]), words=self._words(field), hint=hint)
        panel.show_view(question, self._echo(field, panel.text))

    def _words(self, field: Field) -> str:
        if field.value:
            return tr("now {value}", value=harmless(as_stated(field.name, field.value)))
        return field.cost

    def _echo(self, field: Field, text: str) -> tuple[Notice, ...]:
        choices = tuple(
            Notice(f"{at}  {choice_label(field.name, choice)}") for at, choice in enumerate(field.choices, start=1)
        )
        if self._said is not None:
            return (self._said, *choices) if not text else (self._said,)
        if not text.strip():
            hint = tr("A number, then Enter.") if choices else tr("Enter alone leaves it as is and goes on.")
            return (*choices, Notice(hint, part="quiet"))
        try:
            event = stated(self.job, field, text)[0]
        except Refusal as error:
            said = refusal(error)
            return (Notice(said.trouble, part="caution" if text == self._refused else "quiet"),)
        meant = understood(event)
        return (*((Notice(meant),) if meant else ()), Notice(tr("Enter saves it"), part="quiet"))

    # ---- the entry ----

    def typed(self, _text: str) -> None:
        """Say back what is typed."""
        self._said = None
        self._refused = None
        self.show_asked()

    def entered(self, text: str) -> None:
        """Keep what is typed, if anything is and it differs, and go on to the next line."""
        field = self.field
        if text.strip() and text.strip() != field.value:
            try:
                events = stated(self.job, field, text)
            except Refusal as error:
                self._refused = text
                self.refuse(refusal(error).trouble)
                return
            if not self.record(events):
                return
        self._go_to(self._page, self._at + 1)

    def _go_to(self, page: int, at: int) -> None:
        self._said = None
        self.query_one(Panel).put("")
        count = len(fields_of(self.job.session, PAGES[page]))
        if at >= count:
            page, at = (page + 1) % len(PAGES), 0
        elif at < 0:
            page = (page - 1) % len(PAGES)
            at = len(fields_of(self.job.session, PAGES[page])) - 1
        self._page, self._at = page, at
        self.show()

    def choose(self, at: int) -> None:
        """The line that was clicked."""
        self._go_to(self._page, at)

    def turn_to(self, page: int) -> None:
        """The page that was clicked."""
        self._go_to(page, 0)

    def action_earlier_field(self) -> None:
        """The line above."""
        self._go_to(self._page, self._at - 1)

    def action_later_field(self) -> None:
        """The line below."""
        self._go_to(self._page, self._at + 1)

    def action_earlier_page(self) -> None:
        """The page before."""
        self._go_to((self._page - 1) % len(PAGES), 0)

    def action_later_page(self) -> None:
        """The page after."""
        self._go_to((self._page + 1) % len(PAGES), 0)

    def action_take_back(self) -> None:
        """Take the value of the line back."""
        events = taken_back(self.job.session, self.field)
        if not events:
            self.refuse(tr("Nothing entered here."))
        elif self.record(events):
            self.announce(tr("Undone."))

    async def action_back(self) -> None:
        """Out of what is typed, then out of the form."""
        if self.query_one(Panel).text:
            self._go_to(self._page, self._at)
        else:
            await super().action_back()
