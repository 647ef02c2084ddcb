"""Command `walk`: the app on a new session, the first due reading focused."""

from __future__ import annotations

from argparse import Namespace, _SubParsersAction
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from cornerwalk.cli.commands.app import require_screen, show
from cornerwalk.cli.parsers import Parser, add_command, add_plain
from cornerwalk.words import tr
from cornerwalk.words.safe import harmless

if TYPE_CHECKING:
    from cornerwalk.cli.environment import Environment
    from cornerwalk.context import Context, InitialView


def add(commands: _SubParsersAction[Parser]) -> None:
    """Add the command."""
    parser = add_command(
        commands,
        "walk",
        tr("open the app on a new session made from a job sheet"),
        more=tr("The first height that is due waits to be typed."),
        example="cornerwalk walk van.toml",
        run=run,
    )
    parser.add_argument(
        "sheet", type=Path, metavar=tr("SHEET"), help=tr("a job sheet (TOML); with vehicle and kit only it is a preset")
    )
    add_plain(parser)
    parser.set_defaults(on_screen=True)


def run(arguments: Namespace, environment: Environment) -> int:
    """Make the session, then open it.

    Raises:
        CommandError: there is no terminal; nothing was made.
        TextFileError: the sheet is wrong; nothing was made.
    """
    require_screen(environment)
    arrive = partial(_walk, arguments.sheet, environment)
    if not arguments.sheet.is_file():  # probably missing: the error is shown without a screen that flashes up
        made = arrive()
        return show(environment, lambda: made, title=harmless(arguments.sheet.name))
    return show(environment, arrive, title=harmless(arguments.sheet.name))


def _walk(sheet: Path, environment: Environment) -> tuple[Context, InitialView]:
    from cornerwalk.cli.commands.sessions import begin_session, read_sheet

    return begin_session(environment, read_sheet(environment, sheet))
