"""`cornerwalk import SHEET [HEIGHTS]`: paper in, a session out."""

from __future__ import annotations

from argparse import Namespace, _SubParsersAction
from pathlib import Path
from typing import TYPE_CHECKING

from cornerwalk.cli.output import say
from cornerwalk.cli.parsers import DONE, CommandError, Parser, add_command
from cornerwalk.textfiles import replace_file
from cornerwalk.words import tr

if TYPE_CHECKING:
    from cornerwalk.cli.desk import Desk
    from cornerwalk.sheet import SheetContents


def add(commands: _SubParsersAction[Parser]) -> None:
    """Add the command."""
    parser = add_command(
        commands,
        "import",
        tr("make a session from readings taken on paper"),
        more=tr("All of them or nothing; a mistake is told with its line. The name of the session file is printed."),
        example="cornerwalk import van.toml heights.csv --out van.json",
        run=run,
    )
    parser.add_argument(
        "sheet", type=Path, metavar=tr("SHEET"), help=tr("a job sheet (TOML), or heights from a spreadsheet (CSV)")
    )
    parser.add_argument(
        "heights", type=Path, nargs="?", metavar=tr("HEIGHTS"), help=tr("heights (CSV) to add to the job sheet")
    )
    parser.add_argument(
        "--out", type=Path, metavar=tr("FILE"), help=tr("make this session file instead of one in the library")
    )


def run(arguments: Namespace, desk: Desk) -> int:
    """Read, make, and print where the session is.

    Raises:
        TextFileError: a file is wrong; nothing was made.
        CommandError: the session file is there already.
        StoreError, OSError: it cannot be written.
    """
    from tempfile import TemporaryDirectory

    from cornerwalk.cli.commands.sessions import created

    contents = _contents(arguments, desk)
    if arguments.out is None:
        session = created(desk, contents, contents.events)
        session.close()
        say(str(session.path))
        return DONE
    if arguments.out.exists():
        raise CommandError("{path} is there already; a session is never written over", path=arguments.out)
    with TemporaryDirectory() as folder:
        session = created(desk, contents, contents.events, folder=Path(folder))
        session.close()
        replace_file(arguments.out, session.path.read_bytes())
    say(str(arguments.out))
    return DONE


def _contents(arguments: Namespace, desk: Desk) -> SheetContents:
    from cornerwalk.cli.commands.sessions import sheet_contents, with_heights

    if arguments.heights is not None:
        return with_heights(desk, sheet_contents(desk, arguments.sheet), arguments.heights)
    if arguments.sheet.suffix.lower() in (".csv", ".tsv", ".txt"):
        return with_heights(desk, None, arguments.sheet)
    return sheet_contents(desk, arguments.sheet)
