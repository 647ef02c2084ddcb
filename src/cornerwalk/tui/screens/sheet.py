"""The customer's sheet on the screen, and its key figures as a code that a telephone reads without a network."""

from __future__ import annotations

from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll

from cornerwalk.report.customer import customer_sheet
from cornerwalk.report.document import Heading, Paragraph
from cornerwalk.report.qr import CodesMissingError
from cornerwalk.tui.codes import Code, codes_that_fit, size_needed
from cornerwalk.tui.job import OpenJob
from cornerwalk.tui.keys import Key, Place, bindings, keys_of
from cornerwalk.tui.lines.checks import checklists_of
from cornerwalk.tui.screens.base import JobScreen
from cornerwalk.tui.widgets.code_view import CodeView
from cornerwalk.tui.widgets.masthead import Masthead
from cornerwalk.tui.widgets.paper import Paper
from cornerwalk.words import tr


class SheetScreen(JobScreen):
    """Read it, or hold a telephone to it."""

    CSS_PATH = "sheet.tcss"
    AUTO_FOCUS = "#scroll"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings("sheet")]
    places: ClassVar[tuple[Place, ...]] = ("everywhere", "job", "sheet")

    def __init__(self, job: OpenJob) -> None:
        super().__init__(job)
        self._codes: tuple[Code, ...] = ()
        self._code: int | None = None

    def own_keys(self) -> tuple[Key, ...]:
        """The page's own first."""
        return keys_of("sheet", "job", "everywhere")

    @property
    def help_text(self) -> tuple[str, ...]:
        """How the page is used."""
        return (
            tr("This is the page the customer keeps. `cornerwalk report FILE --to pdf` prints it."),
            tr("F6 shows its key figures as a code; any telephone's camera reads it, without a network. In a small "
               "window there are several codes: ← → turn to the next one."),
        )  # fmt: skip

    def compose_page(self) -> ComposeResult:
        """The sheet and the code; one of them is seen."""
        with VerticalScroll(id="scroll"):
            yield Paper(id="paper")
        yield CodeView(id="code")

    def show(self) -> None:
        """Draw what is seen."""
        super().show()
        session, assessment, wording = self.job.session, self.job.assessment, self.job.wording
        sheet = customer_sheet(session, assessment, wording, checklists_of(self.job))
        head = (Heading(sheet.title), Paragraph(sheet.subtitle)) if sheet.subtitle else (Heading(sheet.title),)
        self.query_one(Paper).show_blocks((*head, *sheet.blocks, Paragraph(sheet.footer)))
        self._show_code()

    def _show_code(self) -> None:
        seen = self._code is not None
        self.query_one("#scroll").display = not seen
        self.query_one(CodeView).display = seen
        self.query_one(Masthead).display = not seen
        code = self._codes[self._code] if self._code is not None and self._codes else None
        self.query_one(CodeView).show_code(code.matrix if code is not None else None)

    def on_resize(self, event: events.Resize) -> None:
        """In another window other codes fit."""
        if self._code is not None:
            self._make(event.size.width, event.size.height)

    def _make(self, columns: int, rows: int) -> None:
        """Make the codes for this window and show the first, or say what it would need."""
        text = self._text()
        try:
            self._codes = codes_that_fit(text, columns, rows - 2)
            needed = size_needed(text)
        except CodesMissingError as error:
            self._code = None
            self.refuse(str(error))
            return
        if not self._codes:
            self._code = None
            self.refuse(
                tr(
                    "The window is too small for a code: {columns} × {rows} hold one.",
                    columns=needed[0],
                    rows=needed[1],
                )
            )
            return
        self._code = 0
        self._tell_which()

    def _text(self) -> str:
        sheet = customer_sheet(self.job.session, self.job.assessment, self.job.wording, checklists_of(self.job))
        return sheet.code.text if sheet.code is not None else ""

    def _tell_which(self) -> None:
        count = len(self._codes)
        if count > 1 and self._code is not None:
            self.tell(tr("Code {place} of {count}: ← → for the others.", place=self._code + 1, count=count), "quiet")
        else:
            self.tell("")

    # ---- keys ----

    def action_code(self) -> None:
        """The code, or the sheet again."""
        if self._code is None:
            self._make(*self.app.size)
        else:
            self._code = None
            self.tell("")
        self._show_code()

    def _turn(self, step: int) -> None:
        if self._code is None:
            self.action_code()
            return
        self._code = (self._code + step) % len(self._codes)
        self._tell_which()
        self._show_code()

    def action_earlier(self) -> None:
        """The code before."""
        self._turn(-1)

    def action_later(self) -> None:
        """The code after."""
        self._turn(1)

    async def action_back(self) -> None:
        """From the code to the sheet, from the sheet to the page before."""
        if self._code is not None:
            self.action_code()
        else:
            await super().action_back()
