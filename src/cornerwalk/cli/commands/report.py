"""`cornerwalk report FILE`: a session on paper, for the customer or for the file."""

from __future__ import annotations

import sys
from argparse import Namespace, _SubParsersAction
from typing import TYPE_CHECKING

from cornerwalk.cli.commands.refused import Refused
from cornerwalk.cli.output import deliver, deliver_bytes, is_stream
from cornerwalk.cli.parsers import DONE, Parser, add_command, add_out, add_session_file
from cornerwalk.words import tr

if TYPE_CHECKING:
    from cornerwalk.assess import Assessment
    from cornerwalk.cli.desk import Desk
    from cornerwalk.report.document import Document
    from cornerwalk.report.pdf import Paper
    from cornerwalk.session import Event, Session

FORMS = ("text", "pdf", "html", "csv")
READERS = ("file", "customer")
PAPERS = ("letter", "a4")


def add(commands: _SubParsersAction[Parser]) -> None:
    """Add the command."""
    parser = add_command(
        commands,
        "report",
        tr("write a session down for people to read"),
        more=tr("What was measured, what it means, and what was not checked."),
        example="cornerwalk report van.json --to pdf --for customer --out van.pdf",
        run=run,
    )
    add_session_file(parser)
    parser.add_argument("--to", choices=FORMS, default="text", help=tr("the form; text if none is said"))
    parser.add_argument(
        "--for",
        dest="reader",
        choices=READERS,
        default="file",
        help=tr("everything for the file, or the customer's page"),
    )
    parser.add_argument("--paper", choices=PAPERS, help=tr("of a pdf; letter where inches are shown, else a4"))
    parser.add_argument(
        "--without-customer",
        action="store_true",
        help=tr("leave out the customer, the registration, the site, the complaint and who took the vehicle back"),
    )
    add_out(parser)


def run(arguments: Namespace, desk: Desk) -> int:
    """Write it.

    Raises:
        StoreError: the file cannot be read.
        Refused: it is damaged, or a pdf would go to the screen, or there is no library for pages.
        OSError: the answer cannot be written.
    """
    from cornerwalk.assess import assess
    from cornerwalk.cli.commands.private import without_customer
    from cornerwalk.cli.commands.sessions import whole
    from cornerwalk.session import fold

    if arguments.to == "pdf" and is_stream(arguments.out) and sys.stdout.isatty():
        raise Refused("a pdf is for a file or a printer: add --out {example}", example="report.pdf")
    events = whole(desk, arguments.file).events
    if arguments.without_customer:
        events = without_customer(events)
    session = fold(events)
    report = _report(arguments, desk, events, session, assess(session, desk.standards))
    if isinstance(report, bytes):
        deliver_bytes(report, arguments.out)
    else:
        deliver(report, arguments.out)
    return DONE


def _report(
    arguments: Namespace, desk: Desk, events: tuple[Event, ...], session: Session, assessment: Assessment
) -> str | bytes:
    if arguments.to == "csv":
        from cornerwalk.report.csv_out import ENCODING, results_csv

        return results_csv(session, assessment).encode(ENCODING)
    paper = document(desk, events, session, assessment, arguments.reader)
    match arguments.to:
        case "pdf":
            from cornerwalk.report.pdf import PagesMissingError, as_pdf

            try:
                return as_pdf(paper, _size(arguments.paper, desk, session))
            except PagesMissingError as error:
                raise Refused("{reason}", reason=error) from error
        case "html":
            from cornerwalk.report.html import as_html

            return as_html(paper).encode("utf-8")
        case _:
            from cornerwalk.report.text import as_text

            return as_text(paper)


def _size(said: str | None, desk: Desk, session: Session) -> Paper:
    if said is None:
        return "letter" if desk.units_shown(session.job.unit) == "inch" else "A4"
    return "letter" if said == "letter" else "A4"


def document(desk: Desk, events: tuple[Event, ...], session: Session, assessment: Assessment, reader: str) -> Document:
    """The report for one of `READERS`, before it has a form."""
    from cornerwalk.report.customer import customer_sheet
    from cornerwalk.report.file_report import file_report
    from cornerwalk.report.wording import Wording

    wording = Wording.for_tape(desk.units_shown(session.job.unit), assessment.reading.graduation_mm)
    if reader == "customer":
        return customer_sheet(session, assessment, wording, desk.checklists)
    return file_report(events, session, assessment, wording, desk.checklists)
