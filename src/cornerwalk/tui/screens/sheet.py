"""Sheet: the customer's page on the screen, and its key figures as a code that a telephone reads without a network.

Where the window has no room for one code there are several small ones. Each is read by itself; together, in their
order, they say what the one would. No figure is cut from its ±.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from textual import events
from textual.app import ComposeResult
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.widgets import Static

from cornerwalk.job.checks import checklists_of
from cornerwalk.job.notice import Notice
from cornerwalk.job.open_job import OpenJob
from cornerwalk.report import document
from cornerwalk.report.customer import customer_sheet
from cornerwalk.report.qr import CodesMissingError, Matrix, code_matrix, half_blocks
from cornerwalk.tui.keys import Places
from cornerwalk.tui.own_keys import key_shown
from cornerwalk.tui.screens.job_screen import JobScreen
from cornerwalk.tui.widgets.masthead import Masthead
from cornerwalk.tui.widgets.paper import Paper
from cornerwalk.tui.widgets.prose import Prose
from cornerwalk.words import tr

_MAY_BREAK = re.compile(r"(?<=[,:;]) |\n")
"""After a comma, colon or semicolon, or at the end of a line: between figures, never within one."""


@dataclass(frozen=True, slots=True)
class SheetCode:
    """A text and its modules, the quiet zone included."""

    text: str
    matrix: Matrix

    @property
    def columns(self) -> int:
        """Columns it takes: one a module."""
        return len(self.matrix[0])

    @property
    def rows(self) -> int:
        """Rows it takes: two rows of modules each."""
        return (len(self.matrix) + 1) // 2


def codes_that_fit(text: str, columns: int, rows: int) -> tuple[SheetCode, ...]:
    """The fewest codes, in order, that hold the text in a window of this size; none where it is too small.

    Raises:
        CodesMissingError: the library that makes them is not installed.
    """
    codes: list[SheetCode] = []
    held = ""
    best: SheetCode | None = None
    for piece in _pieces(text):
        tried = SheetCode((held + piece).strip(), code_matrix((held + piece).strip()))
        if tried.columns <= columns and tried.rows <= rows:
            held, best = held + piece, tried
            continue
        if best is None:
            return ()
        codes.append(best)
        held, best = piece, SheetCode(piece.strip(), code_matrix(piece.strip()))
        if best.columns > columns or best.rows > rows:
            return ()
    return (*codes, best) if best is not None else tuple(codes)


def _pieces(text: str) -> Iterator[str]:
    """The parts that stay together, each with what separates it from the next."""
    begin = 0
    for gap in _MAY_BREAK.finditer(text):
        yield text[begin : gap.end()]
        begin = gap.end()
    yield text[begin:]


def size_needed(text: str) -> tuple[int, int]:
    """Columns and rows for one code of the whole text.

    Raises:
        CodesMissingError: the library that makes them is not installed.
    """
    whole = SheetCode(text, code_matrix(text))
    return whole.columns, whole.rows


NARROWEST_WORDS = 24
"""Columns beside a code from which on its words stand there."""

BLACK_ON_WHITE = "#000000 on #ffffff"
"""Whatever the look: a camera does not know our themes."""


class SheetScreen(JobScreen):
    """Read it, or hold a telephone to it."""

    CSS_PATH = "sheet.tcss"
    AUTO_FOCUS = "#scroll"
    places: Places = ("everywhere", "job", "sheet")

    def __init__(self, job: OpenJob) -> None:
        super().__init__(job)
        self._codes: tuple[SheetCode, ...] = ()
        self._code: int | None = None
        self._needed = (0, 0)

    @property
    def help_text(self) -> tuple[str, ...]:
        """How the page is used."""
        return (
            tr("This is the page the customer keeps. `cornerwalk report FILE --to pdf` prints it."),
            tr("{key} shows its key figures as a code; any telephone's camera reads it, without a network. In a small "
               "window there are several codes: ← → turn to the next one.", key=key_shown("sheet.code")),
        )  # fmt: skip

    def compose_page(self) -> ComposeResult:
        """The sheet and the code; one of them is seen."""
        with VerticalScroll(id="scroll"):
            yield Paper(id="paper")
        with Horizontal(id="codes"):
            yield Prose(id="words")
            yield Static(id="code")

    def show(self) -> None:
        """Draw what is seen."""
        super().show()
        sheet = self._sheet()
        head = (document.Heading(sheet.title), document.Paragraph(sheet.subtitle))
        self.query_one(Paper).show_blocks((*head, *sheet.blocks, document.Paragraph(sheet.footer)))
        self._show_code()

    def _show_code(self) -> None:
        code = self._codes[self._code] if self._code is not None and self._codes else None
        self.query_one("#scroll").display = code is None
        self.query_one("#codes").display = code is not None
        self.query_one(Masthead).display = code is None
        drawn = Content.styled(half_blocks(code.matrix), BLACK_ON_WHITE) if code is not None else ""
        self.query_one("#code", Static).update(drawn)
        words = self.query_one("#words", Prose)
        words.display = code is not None and self.app.size.width - code.columns >= NARROWEST_WORDS
        words.paragraphs = self._words(code) if code is not None else ()

    def _words(self, code: SheetCode) -> tuple[Notice, ...]:
        """Which code it is, and what it says."""
        count = len(self._codes)
        which = [Notice(tr("For a telephone's camera; no network is needed."), part="quiet")]
        if count > 1 and self._code is not None:
            told = tr("Code {place} of {count}: ← → for the others.", place=self._code + 1, count=count)
            size = tr("{columns} × {rows}", columns=self._needed[0], rows=self._needed[1])
            larger = tr("Smaller letters or a larger window, {size}, hold one for all.", size=size)
            which = [Notice(told, part="due"), Notice(larger, part="quiet")]
        return (*which, *(Notice(line, part="strong") for line in code.text.split("\n")))

    def on_resize(self, event: events.Resize) -> None:
        """In another window other codes fit."""
        if self._code is not None:
            self._make(event.size.width, event.size.height)

    def _make(self, columns: int, rows: int) -> None:
        """Make the codes for this window and show the first, or say what it would need."""
        text = self._text()
        self._code = None
        try:
            self._codes = codes_that_fit(text, columns, rows - 1)
            needed = size_needed(text)
        except CodesMissingError as error:
            self.refuse(str(error))
            return
        self._needed = (needed[0], needed[1] + 1)
        if self._codes:
            self._code = 0
            self.tell("")
        else:
            size = tr("{columns} × {rows}", columns=self._needed[0], rows=self._needed[1])
            self.refuse(tr("The window is too small for a code; {size} hold one for all of it.", size=size))

    def _text(self) -> str:
        code = self._sheet().code
        return code.text if code is not None else ""

    def _sheet(self) -> document.Document:
        own = self.job.context.settings
        letterhead = document.Letterhead(name=own.shop_name, phone=own.shop_phone)
        session, assessment, wording = self.job.session, self.job.assessment, self.job.wording
        return customer_sheet(session, assessment, wording, checklists_of(self.job), letterhead)

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
