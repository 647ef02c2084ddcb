"""`cornerwalk walk SHEET`: the app on a new session, the first due reading focused."""

from __future__ import annotations

from argparse import Namespace, _SubParsersAction
from pathlib import Path
from typing import TYPE_CHECKING

from cornerwalk.cli.commands.app import require_screen, show
from cornerwalk.cli.parsers import Parser, add_command, add_plain
from cornerwalk.words import tr

if TYPE_CHECKING:
    from cornerwalk.cli.desk import Desk


def add(commands: _SubParsersAction[Parser]) -> None:
    """Add the command."""
    parser = add_command(
        commands,
        "walk",
        tr("open the app on a new session made from a job sheet"),
        more=tr("The first due reading is focused."),
        example="cornerwalk walk van.toml",
        run=run,
    )
    parser.add_argument(
        "sheet", type=Path, metavar=tr("SHEET"), help=tr("a job sheet (TOML); with vehicle and kit only it is a preset")
    )
    add_plain(parser)


def run(arguments: Namespace, desk: Desk) -> int:
    """Make the session, then open it.

    Raises:
        Refused: there is no terminal; nothing was made.
        WrittenError: the sheet is wrong; nothing was made.
    """
    from cornerwalk.cli.commands.sheets import created, sheet_contents, technician_of, with_settings
    from cornerwalk.context import Walk

    require_screen(desk)
    contents = sheet_contents(desk, arguments.sheet)
    session = created(desk, contents, with_settings(desk, contents))
    session.close()
    return show(desk, desk.context(by=desk.user(technician_of(contents))), Walk(session.path))
