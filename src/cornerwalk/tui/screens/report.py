"""Report page: the report of a job of the library, read here, or written as a file to print or to send."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

from textual import work
from textual.message import Message

from cornerwalk.assess import Assessment, assess
from cornerwalk.context import Context
from cornerwalk.report.customer import customer_sheet
from cornerwalk.report.document import Block, Document, Heading, Paragraph
from cornerwalk.report.file_report import file_report
from cornerwalk.report.html import as_html
from cornerwalk.report.letterhead import read_letterhead
from cornerwalk.report.pdf import PagesMissingError, as_pdf
from cornerwalk.report.text import as_text
from cornerwalk.session.checklist import load_checklists
from cornerwalk.store import StoredSession, StoreError
from cornerwalk.textfiles import replace_file
from cornerwalk.tui.keys import Places
from cornerwalk.tui.own_keys import key_shown
from cornerwalk.tui.screens.reading import ReadingScreen
from cornerwalk.wording.figures import Wording
from cornerwalk.words import tr
from cornerwalk.words.safe import harmless

For = Literal["file", "customer"]
Form = Literal["pdf", "html", "txt"]


class ReportScreen(ReadingScreen):
    """For the file or for the customer; a key turns from one to the other."""

    places: Places = ("report", "everywhere")

    class Written(Message):
        """Sent when a file is written, or could not be: `problem` says why."""

        def __init__(self, path: Path, problem: str = "") -> None:
            self.path = path
            self.problem = problem
            super().__init__()

    def __init__(self, context: Context, path: Path) -> None:
        super().__init__()
        self.context = context
        self._path = path
        self._for: For = "file"
        self._stored: StoredSession | None = None
        self._assessment: Assessment | None = None

    @property
    def help_text(self) -> tuple[str, ...]:
        """What can be done with it."""
        return (
            tr("← → turns from the report for the file to the customer's page."),
            tr("{pdf_key} writes it as a PDF, {html_key} as a web page, {text_key} as a text, beside the session's own "
               "file. An older one of the same name is replaced.", pdf_key=key_shown("report.pdf"),
               html_key=key_shown("report.html"), text_key=key_shown("report.text")),
        )  # fmt: skip

    def on_mount(self) -> None:
        """Read the session."""
        try:
            stored = self.context.library.read(self._path)
        except StoreError as error:
            self._refuse(tr(error.template, **error.fields))
            return
        if stored.damage is not None:
            told = tr(stored.damage.template, **stored.damage.fields)
            self._refuse(tr("It is damaged: {reason}. No figures are told of half a session.", reason=told))
            return
        self._stored = stored
        self._assessment = assess(stored.session, self.context.standards())
        self._show()

    def _refuse(self, reason: str) -> None:
        self.show_page(harmless(self._path.name), (), (Paragraph(harmless(reason)),))

    def _show(self) -> None:
        document = self._document()
        if document is None:
            return
        word = tr("for the file") if self._for == "file" else tr("for the customer")
        head: tuple[Block, ...] = (Heading(document.title), Paragraph(document.subtitle))
        blocks = (*head, *document.blocks, Paragraph(document.footer))
        self.show_page(harmless(self._path.stem), (("due", tr("report {reader}", reader=word)),), blocks)

    def _document(self) -> Document | None:
        stored, assessment = self._stored, self._assessment
        if stored is None or assessment is None:
            return None
        session = stored.session
        units = self.context.settings.display_units(session.job.unit)
        wording = Wording.for_tape(units, assessment.reading.graduation_mm)
        checklists = load_checklists(self.context.checklists_folder)
        if self._for == "customer":
            own = self.context.settings
            letterhead = read_letterhead(own.shop_name, own.shop_phone, own.shop_logo)
            return customer_sheet(session, assessment, wording, checklists, letterhead)
        return file_report(stored.events, session, assessment, wording, checklists)

    # ---- keys ----

    def action_turn(self) -> None:
        """The other report."""
        self._for = "customer" if self._for == "file" else "file"
        self._show()

    def action_pdf(self) -> None:
        """Write it as a file to print."""
        self._write("pdf")

    def action_html(self) -> None:
        """Write it as one web page."""
        self._write("html")

    def action_text(self) -> None:
        """Write it as a text."""
        self._write("txt")

    def _write(self, form: Form) -> None:
        document = self._document()
        if document is None:
            return
        path = self._path.with_name(f"{self._path.stem}-{self._for}.{form}")
        self.tell(tr("writing {file} …", file=harmless(path.name)))
        self._write_in_a_thread(document, form, path)

    @work(thread=True, exclusive=True, group="report")
    def _write_in_a_thread(self, document: Document, form: Form, path: Path) -> None:
        try:
            replace_file(path, self._content(document, form))
        except (OSError, PagesMissingError) as error:
            reason = getattr(error, "strerror", None) or str(error)
            self.post_message(self.Written(path, reason))
        else:
            self.post_message(self.Written(path))

    def _content(self, document: Document, form: Form) -> bytes:
        match form:
            case "pdf":
                inches = self._stored is not None and self._stored.session.job.unit == "inch"
                return as_pdf(document, "letter" if inches else "A4")
            case "html":
                return as_html(document).encode("utf-8")
            case "txt":
                return as_text(document).encode("utf-8")

    def on_report_screen_written(self, message: Written) -> None:
        """Say where it is, or why it is not."""
        message.stop()
        if message.problem:
            told = tr("{file} was not written: {reason}", file=message.path.name, reason=message.problem)
            self.tell(harmless(told), "caution")
        else:
            self.tell(harmless(tr("written: {path}", path=message.path)))
