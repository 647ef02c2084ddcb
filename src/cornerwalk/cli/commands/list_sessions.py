"""`cornerwalk list`: the sessions of the library, the one worked on last first."""

from __future__ import annotations

from argparse import Namespace, _SubParsersAction
from datetime import date
from typing import TYPE_CHECKING

from cornerwalk.cli.output import say, tell
from cornerwalk.cli.parsers import DONE, Parser, add_command
from cornerwalk.words import tr

if TYPE_CHECKING:
    from cornerwalk.cli.desk import Desk
    from cornerwalk.store import Summary

_NARROWEST_NAME = 12


def add(commands: _SubParsersAction[Parser]) -> None:
    """Add the command."""
    parser = add_command(
        commands,
        "list",
        tr("list the sessions of the library"),
        more=tr("The one worked on last comes first."),
        example="cornerwalk list --find trailer --unfinished",
        run=run,
    )
    parser.add_argument(
        "--find",
        metavar=tr("WORDS"),
        default="",
        help=tr("only those with these words in title, vehicle, names or kit"),
    )
    parser.add_argument("--unfinished", action="store_true", help=tr("only those not handed over"))
    parser.add_argument("--since", metavar=tr("DATE"), type=date.fromisoformat, help=tr("opened on this day or later"))
    parser.add_argument(
        "--until", metavar=tr("DATE"), type=date.fromisoformat, help=tr("opened on this day or earlier")
    )


def run(arguments: Namespace, desk: Desk) -> int:
    """Print a line for each.

    Raises:
        StoreError: the folder cannot be read.
    """
    import shutil

    found = desk.library().find(
        words=arguments.find,
        since=arguments.since,
        until=arguments.until,
        state="unfinished" if arguments.unfinished else "any",
    )
    rows = [_row(summary) for summary in found]
    widths = [max((len(row[column]) for row in rows), default=0) for column in range(3)]
    room = max(_NARROWEST_NAME, shutil.get_terminal_size().columns - sum(widths) - 2 * len(widths))
    for day, state, technician, title, name in rows:
        line = f"{day:<{widths[0]}}  {state:<{widths[1]}}  {technician:<{widths[2]}}"
        shown = title if len(title) <= room else title[: room - 1] + "…"
        say(f"{line}  {shown}".rstrip())
        say(f"{'':<{widths[0]}}  {name}")
    if not rows:
        tell(tr("no session in {folder} fits", folder=desk.library_folder))
    return DONE


def _row(summary: Summary) -> tuple[str, str, str, str, str]:
    from cornerwalk.words.safe import harmless

    title = ", ".join(filter(None, (summary.title, summary.vehicle, summary.registration, summary.customer)))
    day = summary.opened_at[:10] or "?"
    return day, _state(summary), harmless(summary.technician), harmless(title) or tr("no name"), summary.path.name


def _state(summary: Summary) -> str:
    from cornerwalk.report.names import stage_name
    from cornerwalk.session.journal import VERSION
    from cornerwalk.session.stages import STAGE_NAMES

    if summary.damaged:
        return tr("damaged")
    if summary.version > VERSION:
        return tr("of a newer program")
    if not summary.open:
        return tr("handed over")
    last = summary.stages[-1] if summary.stages else ""
    known = next((name for name in STAGE_NAMES if name == last), None)
    return tr("unfinished") if known is None else tr("open, {stage} read", stage=stage_name(known))
