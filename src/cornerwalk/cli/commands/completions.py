"""`cornerwalk completions SHELL`: what makes a shell complete commands and options."""

from __future__ import annotations

from argparse import Namespace, _SubParsersAction
from typing import TYPE_CHECKING

from cornerwalk.cli.output import deliver
from cornerwalk.cli.parsers import DONE, Parser, add_command, add_out
from cornerwalk.words import tr

if TYPE_CHECKING:
    from cornerwalk.cli.desk import Desk

SHELLS = ("bash", "zsh", "fish")


def add(commands: _SubParsersAction[Parser]) -> None:
    """Add the command."""
    parser = add_command(
        commands,
        "completions",
        tr("print completions for a shell"),
        more=tr("The first line of what is printed says where it goes."),
        example="cornerwalk completions bash --out ~/.local/share/bash-completion/completions/cornerwalk",
        run=run,
    )
    parser.add_argument("shell", choices=SHELLS, help=tr("which shell"))
    add_out(parser)


def run(arguments: Namespace, _desk: Desk) -> int:
    """Print them.

    Raises:
        OSError: the answer cannot be written.
    """
    from cornerwalk.cli.completion import SHELLS as MADE
    from cornerwalk.cli.described import described

    deliver(MADE[arguments.shell](described()), arguments.out)
    return DONE
