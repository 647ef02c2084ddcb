"""`cornerwalk ask NAME`: a ready question to the tables of many sessions."""

from __future__ import annotations

import textwrap
from argparse import Namespace, _SubParsersAction
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from cornerwalk.cli.output import say, show_progress, tell
from cornerwalk.cli.parsers import DONE, Parser, add_command
from cornerwalk.words import number, tr, tr_n
from cornerwalk.words.safe import harmless

if TYPE_CHECKING:
    from cornerwalk.cli.desk import Desk
    from cornerwalk.fleet.ask import Answer

_WIDTH = 78


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
    parser.add_argument("--sql", action="store_true", help=tr("print the question in SQL instead of its answer"))


def run(arguments: Namespace, desk: Desk) -> int:
    """Answer, or list the questions.

    Raises:
        FleetError: there is no such question, an engine is missing, or the folder holds no export.
        StoreError: the library cannot be read.
    """
    from cornerwalk.fleet.ask import ask, question, questions

    if arguments.name is None:
        for each in questions():
            say(f"{each.name}: {each.title}")
        return DONE
    asked = question(arguments.name)
    if arguments.sql:
        say(asked.sql.rstrip())
        return DONE
    if arguments.folder is not None:
        _print(ask(asked.name, arguments.folder))
        return DONE
    from tempfile import TemporaryDirectory

    from cornerwalk.fleet.export import export

    with TemporaryDirectory(prefix="cornerwalk-tables-") as temporary:
        folder = Path(temporary) / "tables"
        sessions = desk.library().summaries()
        export(sessions, folder, standards=desk.standards, forms=("parquet",), progress=show_progress)
        _print(ask(asked.name, folder))
    return DONE


def _print(answer: Answer) -> None:
    rows = [[_cell(value) for value in row] for row in answer.rows]
    table = [list(answer.columns), *rows]
    widths = [max(len(row[column]) for row in table) for column in range(len(answer.columns))]
    for line in (table[0], ["─" * width for width in widths], *rows):
        say(_line(line, widths))
    tell(tr_n("{count} row", "{count} rows", len(rows)))
    say("")
    say(textwrap.fill(answer.question.answers, _WIDTH))
    for name, meaning in answer.question.columns.items():
        say(textwrap.fill(f"{name}: {meaning}", _WIDTH, initial_indent="  ", subsequent_indent="    "))


def _line(cells: Sequence[str], widths: Sequence[int]) -> str:
    return "  ".join(f"{cell:<{width}}" for cell, width in zip(cells, widths, strict=True)).rstrip()


def _cell(value: Any) -> str:
    if value is None:
        return "–"
    if isinstance(value, float):
        return number(f"{value:.4g}")
    return harmless(str(value))
