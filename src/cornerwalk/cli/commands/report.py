"""`cornerwalk report FILE`: a session on paper, for the customer or for the file."""

from __future__ import annotations

from argparse import Namespace, _SubParsersAction
from typing import TYPE_CHECKING

from cornerwalk.cli.output import deliver, deliver_bytes
from cornerwalk.cli.parsers import DONE, Parser, add_command, add_out, add_session_file
from cornerwalk.words import tr

if TYPE_CHECKING:
    from cornerwalk.assess import Assessment
    from cornerwalk.cli.desk import Desk
    from cornerwalk.report.document import Document
    from cornerwalk.session import Event, Session

FORMS = ("text", "csv")
READERS = ("file", "customer")


def add(commands: _SubParsersAction[Parser]) -> None:
    """Add the command."""
    parser = add_command(
        commands,
        "report",
        tr("write a session down for people to read"),
        more=tr("What was measured, what it means, and what was not checked."),
        example="cornerwalk --units both report van.json --for customer --out van.txt",
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
        Refused: it is damaged.
        OSError: the answer cannot be written.
    """
    from cornerwalk.assess import assess
    from cornerwalk.cli.commands.private import without_customer
    from cornerwalk.cli.commands.sessions import whole
    from cornerwalk.session import fold

    events = whole(desk, arguments.file).events
    if arguments.without_customer:
        events = without_customer(events)
    session = fold(events)
    assessment = assess(session, desk.standards)
    if arguments.to == "csv":
        from cornerwalk.report.csv_out import ENCODING, results_csv

        table = results_csv(session, assessment)
        if arguments.out is None or str(arguments.out) == "-":
            deliver(table, None)
        else:
            deliver_bytes(table.encode(ENCODING), arguments.out)
        return DONE
    from cornerwalk.report.text import as_text

    deliver(as_text(document(desk, events, session, assessment, arguments.reader)), arguments.out)
    return DONE


def document(desk: Desk, events: tuple[Event, ...], session: Session, assessment: Assessment, reader: str) -> Document:
    """The report for one of `READERS`, before it has a form."""
    from cornerwalk.report.customer import customer_sheet
    from cornerwalk.report.file_report import file_report
    from cornerwalk.report.wording import Wording

    wording = Wording.for_tape(desk.units_shown(session.job.unit), assessment.reading.graduation_mm)
    if reader == "customer":
        return customer_sheet(session, assessment, wording, desk.checklists)
    return file_report(events, session, assessment, wording, desk.checklists)
