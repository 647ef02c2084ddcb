"""Command `ask`: a question to the tables of many sessions."""

from __future__ import annotations

from argparse import Namespace, _SubParsersAction
from pathlib import Path
from typing import TYPE_CHECKING

from cornerwalk.cli.output import deliver, deliver_bytes, is_stream, say, show_progress
from cornerwalk.cli.parsers import DONE, CommandError, Parser, add_command, add_form, add_out
from cornerwalk.words import tr

if TYPE_CHECKING:
    from cornerwalk.cli.environment import Environment
    from cornerwalk.report.document import Document
    from cornerwalk.tables.ask import ResultSet, SqlQuestion

_NARROWEST = 40


def add(commands: _SubParsersAction[Parser]) -> None:
    """Add the command."""
    parser = add_command(
        commands,
        "ask",
        tr("put a question to many sessions, in SQL"),
        more=tr(
            "Without a name, the questions are listed: the ready ones, and those of your own folder. A question of "
            "your own is one SELECT over the tables that --tables prints; it reads, and changes nothing."
        ),
        example='cornerwalk ask "SELECT vehicle, overall, file FROM sessions"',
        run=run,
    )
    parser.add_argument("name", nargs="?", metavar=tr("NAME"), help=tr("which question, or a SELECT in quotes"))
    parser.add_argument(
        "folder", type=Path, nargs="?", metavar=tr("FOLDER"), help=tr("an export; the library itself if none is said")
    )
    parser.add_argument("--file", type=Path, metavar=tr("FILE"), help=tr("the question in this file, in SQL"))
    parser.add_argument(
        "--tables", action="store_true", help=tr("print the tables, or the columns of the table named, and end")
    )
    add_form(parser, ("text", "csv"))
    add_out(parser)
    parser.add_argument("--sql", action="store_true", help=tr("print the question in SQL instead of its answer"))


def run(arguments: Namespace, environment: Environment) -> int:
    """Answer, or list the questions or the tables.

    Raises:
        TablesError: there is no such question, it is no SELECT, an engine is missing, or the folder holds no export.
        StoreError: the library cannot be read.
        OSError: the answer cannot be written.
    """
    if arguments.tables:
        _deliver_page(_tables_page(arguments.name), arguments)
        return DONE
    from cornerwalk.tables.ask import question, question_of_file, question_of_text, questions

    name, folder = arguments.name, arguments.folder
    if arguments.file is not None:
        if folder is not None:
            raise CommandError("the question is in {file} already; name only the export", file=arguments.file)
        asked, folder = question_of_file(arguments.file), Path(name) if name is not None else None
    elif name is None:
        for each in questions(environment.questions_folder):
            say(f"{each.name}: {tr(each.title)}")
        return DONE
    elif any(map(str.isspace, name)):
        asked = question_of_text(name)
    else:
        asked = question(name, environment.questions_folder)
    if arguments.sql:
        say(asked.sql.rstrip())
        return DONE
    _deliver(_answer(asked, folder, environment), arguments, environment)
    return DONE


def _tables_page(name: str | None) -> Document:
    from cornerwalk.report.document import Document, Facts
    from cornerwalk.tables.catalog import PARTITION, TABLES

    tables = {table.name: table for table in TABLES}
    if name is None:
        facts = Facts(tuple((table.name, tr(table.meaning)) for table in TABLES))
        more = tr("`cornerwalk ask --tables stages` prints the columns of one.")
        return Document(title=tr("Tables"), subtitle=more, blocks=(facts,), footer="")
    if name not in tables:
        raise CommandError('there is no table "{name}"; there are {known}', name=name, known=", ".join(tables))
    columns = [(column.name, tr(column.meaning)) for column in tables[name].columns]
    columns += [(column, tr(meaning)) for column, meaning in PARTITION]
    return Document(title=name, subtitle=tr(tables[name].meaning), blocks=(Facts(tuple(columns)),), footer="")


def _answer(asked: SqlQuestion, folder: Path | None, environment: Environment) -> ResultSet:
    from cornerwalk.tables.ask import ask

    if folder is not None:
        return ask(asked, folder)
    from tempfile import TemporaryDirectory

    from cornerwalk.tables.export import export

    with TemporaryDirectory(prefix="cornerwalk-tables-") as temporary:
        tables = Path(temporary) / "tables"
        sessions = environment.library().summaries()
        export(sessions, tables, standards=environment.standards, formats=("parquet",), progress=show_progress)
        return ask(asked, tables)


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
    from cornerwalk.tables.answer_page import answer_page
    from cornerwalk.wording.figures import Wording

    _deliver_page(answer_page(answer, Wording(environment.units_shown("inch"))), arguments)


def _deliver_page(page: Document, arguments: Namespace) -> None:
    import shutil

    from cornerwalk.report.text import WIDTH, as_text

    width = WIDTH if not is_stream(arguments.out) else max(_NARROWEST, shutil.get_terminal_size().columns - 1)
    deliver(as_text(page, width), arguments.out)
