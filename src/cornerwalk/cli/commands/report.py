"""Command `report`: a session on paper, for the customer or for the file; or a blank worksheet."""

from __future__ import annotations

import sys
from argparse import Namespace, _SubParsersAction
from typing import TYPE_CHECKING, cast

from cornerwalk.cli.output import deliver, deliver_bytes, is_stream
from cornerwalk.cli.parsers import (
    DONE,
    CommandError,
    Parser,
    add_command,
    add_form,
    add_out,
    add_session_file,
    add_without_customer,
)
from cornerwalk.words import tr

if TYPE_CHECKING:
    from cornerwalk.assess import Assessment
    from cornerwalk.cli.environment import Environment
    from cornerwalk.quantity import BareUnit
    from cornerwalk.report.document import Document
    from cornerwalk.report.pdf import Paper
    from cornerwalk.session import RecordedEvent, Session
    from cornerwalk.session.stages import Corner, Direction

FORMS = ("text", "pdf", "html", "csv")
READERS = ("file", "customer")
PAPERS = ("letter", "a4")


def add(commands: _SubParsersAction[Parser]) -> None:
    """Add the command."""
    parser = add_command(
        commands,
        "report",
        tr("write a session down for people to read"),
        more=tr("What was measured, what it means, and what was not checked. With --blank, a worksheet to fill in."),
        example="cornerwalk report van.json --to pdf --for customer --out van.pdf",
        run=run,
    )
    add_session_file(parser, nargs="?")
    add_form(parser, FORMS)
    parser.add_argument(
        "--for",
        dest="reader",
        choices=READERS,
        default="file",
        help=tr("everything for the file, or the customer's page"),
    )
    parser.add_argument("--paper", choices=PAPERS, help=tr("of a pdf; letter where inches are shown, else a4"))
    add_without_customer(parser)
    parser.add_argument(
        "--blank", action="store_true", help=tr("a worksheet in the order of the walk, in place of a session's report")
    )
    add_out(parser)


def run(arguments: Namespace, environment: Environment) -> int:
    """Write it.

    Raises:
        StoreError: the file cannot be read.
        CommandError: it is damaged, or none is said, or a pdf would go to the screen, or there is no library for pages.
        OSError: the answer cannot be written.
    """
    if arguments.blank == (arguments.file is not None):
        raise CommandError("say either a session file or --blank")
    if arguments.to == "pdf" and is_stream(arguments.out) and sys.stdout.isatty():
        raise CommandError("a pdf is for a file or a printer: add --out {example}", example="report.pdf")
    report = _blank(arguments, environment) if arguments.blank else _of_session(arguments, environment)
    if isinstance(report, bytes):
        deliver_bytes(report, arguments.out)
    else:
        deliver(report, arguments.out)
    return DONE


def _blank(arguments: Namespace, environment: Environment) -> str | bytes:
    from cornerwalk.report.worksheet import blank_worksheet

    if arguments.to == "csv":
        raise CommandError("a blank worksheet is text, pdf or html")
    settings = environment.settings
    sheet = blank_worksheet(
        start=cast("Corner", settings.start_corner),
        direction=cast("Direction", settings.direction),
        checklists=environment.checklists,
    )
    return _in_form(arguments, environment, sheet, read_in="mm" if settings.units == "metric" else "inch")


def _of_session(arguments: Namespace, environment: Environment) -> str | bytes:
    from cornerwalk.assess import assess
    from cornerwalk.cli.commands.sessions import read_undamaged
    from cornerwalk.report.privacy import events_without_customer, without_customer

    stored = read_undamaged(environment, arguments.file)
    events, session = stored.events, stored.session
    if arguments.without_customer:
        events, session = events_without_customer(events), without_customer(session)
    assessment = assess(session, environment.standards)
    if arguments.to == "csv":
        from cornerwalk.report.results_csv import ENCODING, results_csv

        return results_csv(session, assessment).encode(ENCODING)
    paper = document(environment, events, session, assessment, arguments.reader)
    return _in_form(arguments, environment, paper, read_in=session.job.unit)


def _in_form(arguments: Namespace, environment: Environment, paper: Document, *, read_in: BareUnit) -> str | bytes:
    match arguments.to:
        case "pdf":
            from cornerwalk.report.pdf import PagesMissingError, as_pdf

            try:
                return as_pdf(paper, _size(arguments.paper, environment, read_in))
            except PagesMissingError as error:
                raise CommandError("{reason}", reason=error) from error
        case "html":
            from cornerwalk.report.html import as_html

            return as_html(paper).encode("utf-8")
        case _:
            from cornerwalk.report.text import as_text

            return as_text(paper)


def _size(paper: str | None, environment: Environment, read_in: BareUnit) -> Paper:
    if paper is None:
        return "letter" if environment.units_shown(read_in) == "inch" else "A4"
    return "letter" if paper == "letter" else "A4"


def document(
    environment: Environment, events: tuple[RecordedEvent, ...], session: Session, assessment: Assessment, reader: str
) -> Document:
    """The report for one of `READERS`, before it has a form."""
    from cornerwalk.report.customer import customer_sheet
    from cornerwalk.report.file_report import file_report
    from cornerwalk.report.letterhead import read_letterhead
    from cornerwalk.wording.figures import Wording

    wording = Wording.for_tape(environment.units_shown(session.job.unit), assessment.reading.graduation_mm)
    if reader == "customer":
        own = environment.settings
        letterhead = read_letterhead(own.shop_name, own.shop_phone, own.shop_logo)
        return customer_sheet(session, assessment, wording, environment.checklists, letterhead)
    return file_report(events, session, assessment, wording, environment.checklists)
