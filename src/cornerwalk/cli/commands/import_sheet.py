"""Command `import`: paper in, a session out."""

from __future__ import annotations

from argparse import Namespace, _SubParsersAction
from pathlib import Path
from typing import TYPE_CHECKING

from cornerwalk.cli.output import say
from cornerwalk.cli.parsers import DONE, CommandError, Parser, add_command
from cornerwalk.textfiles import replace_file
from cornerwalk.words import tr

if TYPE_CHECKING:
    from cornerwalk.cli.environment import Environment
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


def run(arguments: Namespace, environment: Environment) -> int:
    """Read, make, and print where the session is.

    Raises:
        TextFileError: a file is wrong; nothing was made.
        CommandError: the session file is there already.
        StoreError, OSError: it cannot be written.
    """
    from tempfile import TemporaryDirectory

    from cornerwalk.cli.commands.sessions import create_session

    contents = _contents(arguments, environment)
    if arguments.out is None:
        session = create_session(environment, contents, contents.events)
        session.close()
        say(str(session.path))
        return DONE
    if arguments.out.exists():
        raise CommandError("{path} is there already; a session is never written over", path=arguments.out)
    with TemporaryDirectory() as folder:
        session = create_session(environment, contents, contents.events, folder=Path(folder))
        session.close()
        replace_file(arguments.out, session.path.read_bytes())
    say(str(arguments.out))
    return DONE


def _contents(arguments: Namespace, environment: Environment) -> SheetContents:
    from cornerwalk.cli.commands.sessions import add_heights, read_sheet

    if arguments.heights is not None:
        return add_heights(environment, read_sheet(environment, arguments.sheet), arguments.heights)
    if arguments.sheet.suffix.lower() in (".csv", ".tsv", ".txt"):
        return add_heights(environment, None, arguments.sheet)
    return read_sheet(environment, arguments.sheet)
