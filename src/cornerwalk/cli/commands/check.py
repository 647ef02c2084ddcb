"""`cornerwalk check FILE…`: is each file as it was written, and does every value in it follow from its text?"""

from __future__ import annotations

from argparse import Namespace, _SubParsersAction
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from cornerwalk.cli.output import say, tell
from cornerwalk.cli.parsers import BAD_INPUT, DONE, FAILED, Parser, add_command
from cornerwalk.words import tr, tr_n
from cornerwalk.words.safe import harmless

if TYPE_CHECKING:
    from cornerwalk.cli.desk import Desk
    from cornerwalk.store import FileCheck


def add(commands: _SubParsersAction[Parser]) -> None:
    """Add the command."""
    parser = add_command(
        commands,
        "check",
        tr("check that session files are as they were written"),
        more=tr(
            "Shape, order and chain; that every stored value follows from the text beside it, and every figure handed "
            "over from the events before it. Exit status 1 if any file fails."
        ),
        example="cornerwalk check sessions/*.json",
        run=run,
    )
    parser.add_argument("files", type=Path, nargs="+", metavar=tr("FILE"), help=tr("session files"))


def run(arguments: Namespace, desk: Desk) -> int:
    """A line for each file, and one for each thing found in it."""
    from cornerwalk.store import check_file

    status = DONE
    for path in arguments.files:
        if not path.exists():
            tell(tr("{path}: there is no such file", path=path))
            status = BAD_INPUT
            continue
        outcome = _one(check_file(path), desk)
        status = max(status, outcome)
    tell(
        tr(
            "The chain shows a changed, missing, added or moved event. It is no proof against somebody who computes it "
            "anew, and events cut off together with the file's own end do not show."
        )
    )
    return status


def _one(checked: FileCheck, desk: Desk) -> int:
    faults = [harmless(tr(found.template, **found.fields)) for found in checked.findings if found.level == "fault"]
    remarks = [harmless(tr(found.template, **found.fields)) for found in checked.findings if found.level == "remark"]
    if checked.stored is not None and checked.stored.damage is None:
        for serious, line in _audited(checked, desk):
            (faults if serious else remarks).append(line)
    count = len(checked.stored.events) if checked.stored is not None else 0
    if faults:
        say(tr("{path}: FAILS: {what}", path=checked.path, what=faults[0]))
    else:
        events = tr_n("{count} event", "{count} events", count)
        say(
            tr(
                "{path}: as it was written, {events}, every value follows from its text",
                path=checked.path,
                events=events,
            )
        )
    for line in faults[1:] + remarks:
        say(f"  {line}")
    return FAILED if faults else DONE


def _audited(checked: FileCheck, desk: Desk) -> Iterator[tuple[bool, str]]:
    """What does not follow: whether it fails the file, and in words.

    A figure that a newer program computes differently is told, and fails nothing.
    """
    from cornerwalk.report.audit import audit

    assert checked.stored is not None
    for problem in audit(checked.stored.events, desk.standards):
        fields = {
            "seq": problem.seq,
            "what": problem.what,
            "stored": harmless(problem.stored),
            "follows": harmless(problem.follows),
        }
        match problem.kind:
            case "unreadable text":
                yield True, tr("event {seq}, {what}: {stored} cannot be read: {follows}", **fields)
            case "value":
                yield True, tr("event {seq}, {what}: {stored} is stored, {follows} follows", **fields)
            case "figure":
                yield (
                    False,
                    tr("event {seq}, {what}: {stored} was handed over, this program computes {follows}", **fields),
                )
