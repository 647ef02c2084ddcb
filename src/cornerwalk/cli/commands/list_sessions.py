"""Command `list`: the sessions of the library, the last one worked on first."""

from __future__ import annotations

from argparse import Namespace, _SubParsersAction
from collections.abc import Callable
from datetime import date
from typing import TYPE_CHECKING, NamedTuple

from cornerwalk.cli.output import say, tell
from cornerwalk.cli.parsers import DONE, CommandError, Parser, add_command
from cornerwalk.words import tr
from cornerwalk.words.safe import harmless

if TYPE_CHECKING:
    from cornerwalk.cli.environment import Environment
    from cornerwalk.store import Summary

_NARROWEST_NAME = 12
_PROGRESS_EVERY = 500
"""Sessions between two progress lines; so many take seconds."""


def add(commands: _SubParsersAction[Parser]) -> None:
    """Add the command."""
    parser = add_command(
        commands,
        "list",
        tr("list the sessions of the library"),
        more=tr("Most recent first."),
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
    parser.add_argument("--vehicle", metavar=tr("TEXT"), default="", help=tr("part of description or license plate"))
    parser.add_argument("--technician", metavar=tr("TEXT"), default="", help=tr("part of the technician's name"))
    parser.add_argument(
        "--verdict",
        metavar=tr("VERDICT"),
        default="",
        help=tr("pass, conditional pass, not checked, conditional fail or fail, or how it begins"),
    )
    parser.add_argument(
        "--order",
        choices=("worked on last", *_ORDERS, "verdict"),
        default="worked on last",
        help=tr("sort order; default most recent first; verdict puts the worst first"),
    )


def run(arguments: Namespace, environment: Environment) -> int:
    """Print a line for each.

    Raises:
        StoreError: the folder cannot be read.
        CommandError: there is no such verdict.
    """
    sessions = environment.library().find(
        words=arguments.find,
        since=arguments.since,
        until=arguments.until,
        vehicle=arguments.vehicle,
        technician=arguments.technician,
        state="unfinished" if arguments.unfinished else "any",
    )
    verdicts: dict[str, str] = {}
    if arguments.verdict or arguments.order == "verdict":
        sessions, verdicts = _by_verdict(sessions, arguments, environment)
    elif arguments.order in _ORDERS:
        sessions = sorted(sessions, key=_ORDERS[arguments.order])
    _print(sessions, verdicts)
    if not sessions:
        tell(tr("no session in {folder} fits", folder=environment.library_folder))
    return DONE


_ORDERS: dict[str, Callable[[Summary], tuple[object, ...]]] = {
    "opened": lambda summary: (-summary.day.toordinal(), summary.name),
    "vehicle": lambda summary: (not summary.vehicle, summary.vehicle.casefold()),
    "technician": lambda summary: (not summary.technician, summary.technician.casefold()),
}
"""Orders besides the library's own, the last one worked on first."""


def _by_verdict(
    sessions: list[Summary], arguments: Namespace, environment: Environment
) -> tuple[list[Summary], dict[str, str]]:
    """The sessions of the verdict asked for, in the order asked for, and the words for each verdict."""
    from cornerwalk.job.library import VERDICTS, LibraryView, ListedJob, Wanted, verdict_in_words
    from cornerwalk.tables.verdicts import Verdicts

    wanted = Wanted(verdict=arguments.verdict.casefold())
    if not any(wanted.fits_verdict(verdict) for verdict in VERDICTS):
        raise CommandError(
            "there is no verdict {verdict}; there are: {verdicts}",
            verdict=arguments.verdict,
            verdicts=", ".join(VERDICTS),
        )
    verdicts = Verdicts(environment.library(), environment.standards)
    known = {}
    for done, summary in enumerate(sessions, 1):
        known[summary.name] = verdicts.of(summary.path)
        if done % _PROGRESS_EVERY == 0:
            tell(tr("{done} of {total} judged", done=f"{done:,}", total=f"{len(sessions):,}"))
    verdicts.save()
    view = LibraryView(known)
    view.wanted, view.order = wanted, arguments.order
    view.take(tuple(map(ListedJob.of, sessions)))
    return [job.summary for job in view.rows], {name: verdict_in_words(verdict) for name, verdict in known.items()}


def _print(sessions: list[Summary], verdicts: dict[str, str]) -> None:
    """All lines in one write, not twenty thousand."""
    import shutil

    if not sessions:
        return
    standings = list(map(_standing, sessions))
    states = {standing: _state(standing) for standing in set(standings)}
    rows = [
        _row(summary, verdicts.get(summary.name, ""), states[standing])
        for summary, standing in zip(sessions, standings, strict=True)
    ]
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)][:_FACTS]
    shown_columns = [column for column in range(_FACTS) if widths[column]]
    room = max(_NARROWEST_NAME, shutil.get_terminal_size().columns - sum(widths) - 2 * len(shown_columns))
    line = "  ".join(f"{{{column}:<{widths[column]}}}" for column in shown_columns).format
    indent = " " * (widths[0] + 2)
    lines = []
    for row in rows:
        *_, title, name = row
        title = title if len(title) <= room else title[: room - 1] + "…"
        lines.append(f"{line(*row)}  {title}".rstrip())
        lines.append(indent + name)
    say("\n".join(lines))


_FACTS = 4
"""Columns in front of a session's title."""


def _row(summary: Summary, verdict: str, state: str) -> tuple[str, ...]:
    """Day, verdict, state and technician; then the title, and the name of the file."""
    title = ", ".join(filter(None, (summary.title, summary.vehicle, summary.registration, summary.customer)))
    return (
        harmless(summary.opened_at[:10]) or "?",
        verdict,
        state,
        harmless(summary.technician),
        harmless(title) or tr("no name"),
        harmless(summary.name),
    )


class _Standing(NamedTuple):
    """What the state of a job depends on; of thousands of jobs few differ."""

    damaged: bool
    version: int
    is_open: bool
    last_stage: str


def _standing(summary: Summary) -> _Standing:
    last_stage = summary.stages[-1] if summary.stages else ""
    return _Standing(summary.damaged, summary.version, summary.open, last_stage)


def _state(standing: _Standing) -> str:
    from cornerwalk.session.log import VERSION
    from cornerwalk.session.stages import STAGE_NAMES
    from cornerwalk.wording.names import stage_name

    if standing.damaged:
        return tr("damaged")
    if standing.version > VERSION:
        return tr("of a newer program")
    if not standing.is_open:
        return tr("handed over")
    known = next((name for name in STAGE_NAMES if name == standing.last_stage), None)
    return tr("unfinished") if known is None else tr("open, {stage} read", stage=stage_name(known))
