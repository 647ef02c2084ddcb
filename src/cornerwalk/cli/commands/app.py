"""Without a command: the app, on a full screen or line by line. Also what every command that opens it shares."""

from __future__ import annotations

import shutil
import sys
from argparse import Namespace
from collections.abc import Callable
from io import TextIOWrapper
from typing import TYPE_CHECKING, Literal

from cornerwalk.cli.output import has_screen
from cornerwalk.cli.parsers import DONE, CommandError
from cornerwalk.cli.startup import load_alone
from cornerwalk.words import tr

if TYPE_CHECKING:
    from cornerwalk.cli.desk import Desk
    from cornerwalk.context import Context, InitialView

WITHOUT_SCREEN = (
    "demo, import, results, report, replay, compare, list, check, export, ask, rules, settings, guide, schema, "
    "completions, manual"
)
"""Commands that need no terminal."""


def require_screen(desk: Desk) -> None:
    """Ask first: without a terminal a full screen would paint into a pipe and wait for ever.

    Raises:
        CommandError: there is none; it names what needs none.
    """
    if not desk.options.plain and not has_screen():
        raise CommandError(
            "the full screen needs a terminal. Without one --plain asks line by line, and there are: {commands}",
            commands=WITHOUT_SCREEN,
        )


def open_app(_arguments: Namespace, desk: Desk) -> int:
    """The app on its start page.

    Raises:
        CommandError: there is no terminal.
    """
    require_screen(desk)

    def arrive() -> tuple[Context, InitialView]:
        from cornerwalk.context import StartView

        return desk.context(), StartView()

    return _line_by_line(*arrive()) if desk.options.plain else _on_start_page(desk, arrive)


def show(desk: Desk, arrive: Callable[[], tuple[Context, InitialView]], *, title: str) -> int:
    """The app, opened on a job, as was asked for before the command.

    Args:
        desk: the machine.
        arrive: makes what the app opens on. The full screen calls it once its first frame is painted.
        title: what is opened, as far as that is known before.

    Raises:
        Exception: what `arrive` raises.
    """
    if desk.options.plain:
        return _line_by_line(*arrive())
    sentence = tr("Opening. What you type meanwhile is not lost.")
    return _on_screen(desk, arrive, title, sentence, "left")


def _on_start_page(desk: Desk, arrive: Callable[[], tuple[Context, InitialView]]) -> int:
    sentence = tr("Four corners, three times round: what the heights of a vehicle mean.")
    return _on_screen(desk, arrive, "cornerwalk", sentence, "right")


def _on_screen(
    desk: Desk,
    arrive: Callable[[], tuple[Context, InitialView]],
    title: str,
    sentence: str,
    vehicle: Literal["left", "right"],
) -> int:
    load_alone()
    from cornerwalk.tui.app import run_app
    from cornerwalk.tui.first_frame import Frame

    return run_app(arrive, Frame(title, sentence, vehicle, desk.first_look.theme))


def _line_by_line(context: Context, opening: InitialView) -> int:
    from cornerwalk.line.conversation import Conversation
    from cornerwalk.line.loop import Manner, converse

    if isinstance(sys.stdin, TextIOWrapper):
        sys.stdin.reconfigure(errors="replace")
    seen = sys.stdout.isatty()
    manner = Manner(
        columns=shutil.get_terminal_size().columns if seen else None,
        bell=seen,
        answers_shown=sys.stdin.isatty(),
    )
    converse(Conversation(context, opening), sys.stdin, sys.stdout, manner)
    return DONE
