"""`cornerwalk replay FILE`: a session event by event, on the screen or as lines."""

from __future__ import annotations

from argparse import Namespace, _SubParsersAction
from typing import TYPE_CHECKING

from cornerwalk.cli.output import has_screen, say
from cornerwalk.cli.parsers import DONE, Parser, add_command, add_session_file
from cornerwalk.words import tr

if TYPE_CHECKING:
    from cornerwalk.cli.desk import Desk
    from cornerwalk.report.history import Step
    from cornerwalk.store import StoredSession


def add(commands: _SubParsersAction[Parser]) -> None:
    """Add the command."""
    parser = add_command(
        commands,
        "replay",
        tr("step through a session as it happened"),
        more=tr("Without a terminal the steps are printed."),
        example="cornerwalk replay van.json | less",
        run=run,
    )
    add_session_file(parser)


def run(arguments: Namespace, desk: Desk) -> int:
    """Open the replay, or print it.

    Raises:
        StoreError: the file cannot be read.
    """
    from cornerwalk.cli.commands.sessions import readable

    stored = readable(desk, arguments.file)
    if has_screen():
        from cornerwalk.cli.commands.app import show
        from cornerwalk.context import Replay

        return show(desk.context(), Replay(stored.path))
    _print_steps(stored)
    return DONE


def _print_steps(stored: StoredSession) -> None:
    from cornerwalk.report.history import history

    for step in history(stored.events):
        say(_line(step))


def _line(step: Step) -> str:
    line = f"{step.seq:>4}  {step.at}  {step.by:<4}  {step.text}"
    return line if step.counts else tr("{line}  (taken back)", line=line)
