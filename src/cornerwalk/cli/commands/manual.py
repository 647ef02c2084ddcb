"""`cornerwalk manual`: the manual page for `man`."""

from __future__ import annotations

from argparse import Namespace, _SubParsersAction
from typing import TYPE_CHECKING

from cornerwalk.cli.output import deliver
from cornerwalk.cli.parsers import DONE, Parser, add_command, add_out
from cornerwalk.words import tr

if TYPE_CHECKING:
    from cornerwalk.cli.desk import Desk


def add(commands: _SubParsersAction[Parser]) -> None:
    """Add the command."""
    parser = add_command(
        commands,
        "manual",
        tr("print the manual page"),
        more=tr("In the form that man reads; the places it names are those of this machine."),
        example="cornerwalk manual --out ~/.local/share/man/man1/cornerwalk.1",
        run=run,
    )
    add_out(parser)


def run(arguments: Namespace, desk: Desk) -> int:
    """Print it.

    Raises:
        OSError: the answer cannot be written.
    """
    from cornerwalk.cli.described import described
    from cornerwalk.cli.roff import manual

    folders = (
        (str(desk.library_folder), tr("the sessions, one file each")),
        (str(desk.settings_path), tr("the settings")),
        (str(desk.presets_folder), tr("presets: job sheets without readings")),
        (str(desk.checklists_folder), tr("the shop's own checklists")),
        (str(desk.rules_folder), tr("the shop's own aim rules and limits")),
    )
    printed_on = f"{desk.clock():%Y-%m-%d}"
    deliver(manual(described(), folders=folders, printed_on=printed_on), arguments.out)
    return DONE
