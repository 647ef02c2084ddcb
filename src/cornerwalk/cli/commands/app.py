"""Without a command: the app. Also what every command that opens it shares."""

from __future__ import annotations

from argparse import Namespace
from typing import TYPE_CHECKING

from cornerwalk.cli.commands.refused import Refused
from cornerwalk.cli.output import has_screen

if TYPE_CHECKING:
    from cornerwalk.cli.desk import Desk
    from cornerwalk.context import Context, Opening

WITHOUT_SCREEN = "demo, import, results, report, replay, list, check, export, ask, rules, schema"
"""Commands that need no terminal."""


def require_screen() -> None:
    """Ask first: without a terminal a full screen would paint into a pipe and wait for ever.

    Raises:
        Refused: there is none; it names the commands that need none.
    """
    if not has_screen():
        raise Refused("the full screen needs a terminal. Without one there are: {commands}", commands=WITHOUT_SCREEN)


def open_app(_arguments: Namespace, desk: Desk) -> int:
    """The app on its start page.

    Raises:
        Refused: there is no terminal.
    """
    from cornerwalk.context import StartPage

    require_screen()
    return show(desk.context(), StartPage())


def show(context: Context, opening: Opening) -> int:
    """The app, opened on something."""
    from cornerwalk.tui.app import run_app

    return run_app(context, opening)
