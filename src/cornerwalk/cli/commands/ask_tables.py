"""Command `ask`: a question to the tables of many sessions."""

from __future__ import annotations

from argparse import Namespace, _SubParsersAction
from pathlib import Path
from typing import TYPE_CHECKING

from cornerwalk.cli.output import deliver, deliver_bytes, is_stream, say, show_progress
from cornerwalk.cli.parsers import DONE, Parser, add_command, add_form, add_out
from cornerwalk.words import tr

if TYPE_CHECKING:
    from cornerwalk.cli.environment import Environment
    from cornerwalk.tables.ask import ResultSet

_NARROWEST = 40


def add(commands: _SubParsersAction[Parser]) -> None:
    """Add the command."""
    parser = add_command(
        commands,
        "ask",
        tr("put a ready question to many sessions"),
        more=tr("Without a name, the questions are listed. Each is SQL that can be read and changed."),
        example="cornerwalk ask dazzle",
        run=run,
    )
    parser.add_argument("name", nargs="?", metavar=tr("NAME"), help=tr("which question"))
    parser.add_argument(
        "folder", type=Path, nargs="?", metavar=tr("FOLDER"), help=tr("an export; the library itself if none is said")
    )
    add_form(parser, ("text", "csv"))
    add_out(parser)
    parser.add_argument("--sql", action="store_true", help=tr("print the question in SQL instead of its answer"))


def run(arguments: Namespace, environment: Environment) -> int:
    """Answer, or list the questions.

    Raises:
        FleetError: there is no such question, an engine is missing, or the folder holds no export.
        StoreError: the library cannot be read.
        OSError: the answer cannot be written.
    """
    from cornerwalk.tables.ask import question, questions

    if arguments.name is None:
        for each in questions():
            say(f"{each.name}: {tr(each.title)}")
        return DONE
    asked = question(arguments.name)
    if arguments.sql:
        say(asked.sql.rstrip())
        return DONE
    _deliver(_answer(asked.name, arguments.folder, environment), arguments, environment)
    return DONE


def _answer(name: str, folder: Path | None, environment: Environment) -> ResultSet:
    from cornerwalk.tables.ask import ask

    if folder is not None:
        return ask(name, folder)
    from tempfile import TemporaryDirectory

    from cornerwalk.tables.export import export

    with TemporaryDirectory(prefix="cornerwalk-tables-") as temporary:
        tables = Path(temporary) / "tables"
        sessions = environment.library().summaries()
        export(sessions, tables, standards=environment.standards, formats=("parquet",), progress=show_progress)
        return ask(name, tables)


def _deliver(answer: ResultSet, arguments: Namespace, environment: Environment) -> None:
    if arguments.to == "csv":
        from cornerwalk.report.results_csv import ENCODING
        from cornerwalk.tables.formats import csv_text

        table = csv_text([answer.columns, *answer.rows])
        if is_stream(arguments.out):
            deliver(table, None)
        else:
            deliver_bytes(table.encode(ENCODING), arguments.out)
        return
    import shutil

    from cornerwalk.report.text import WIDTH, as_text
    from cornerwalk.tables.ask import answer_page
    from cornerwalk.wording.figures import Wording

    width = WIDTH if not is_stream(arguments.out) else max(_NARROWEST, shutil.get_terminal_size().columns - 1)
    wording = Wording(environment.units_shown("inch"))
    deliver(as_text(answer_page(answer, wording), width), arguments.out)
