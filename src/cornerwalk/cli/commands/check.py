"""Command `check`: whether each file is as it was written, and each value in it follows from its text."""

from __future__ import annotations

from argparse import Namespace, _SubParsersAction
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from textwrap import fill
from typing import TYPE_CHECKING

from cornerwalk.cli.output import say, tell
from cornerwalk.cli.parsers import BAD_INPUT, DONE, FAILED, Parser, add_command
from cornerwalk.words import tr, tr_n
from cornerwalk.words.safe import harmless

if TYPE_CHECKING:
    from cornerwalk.cli.environment import Environment
    from cornerwalk.store.check import FileCheck

_WIDTH = 78


def add(commands: _SubParsersAction[Parser]) -> None:
    """Add the command."""
    parser = add_command(
        commands,
        "check",
        tr("check that session files are as they were written"),
        more=tr(
            "Shape, order, chain and clock; that every stored value follows from the text beside it, and every figure "
            "handed over from the events before it. A line a file; exit status 1 if any file fails."
        ),
        example="cornerwalk check sessions/*.json",
        run=run,
    )
    parser.add_argument("files", type=Path, nargs="+", metavar=tr("FILE"), help=tr("session files"))
    parser.add_argument(
        "--explain",
        action="store_true",
        help=tr("everything that was found, and what a check can and cannot prove"),
    )


@dataclass(frozen=True, slots=True)
class _Outcome:
    """What was found in one file: `faults` fail it, `remarks` only tell."""

    faults: tuple[str, ...]
    remarks: tuple[str, ...]
    events: int
    last_chain: str

    @property
    def status(self) -> int:
        return FAILED if self.faults else DONE


def run(arguments: Namespace, environment: Environment) -> int:
    """A line for each file."""
    from cornerwalk.report.audit import what_a_check_proves
    from cornerwalk.store.check import check_file

    paths = [environment.session_path(named) for named in arguments.files]
    had_events = environment.library().had_events(paths)
    status = DONE
    for named, path in zip(arguments.files, paths, strict=True):
        if not path.exists():
            tell(tr("{path}: there is no such file", path=named))
            status = BAD_INPUT
            continue
        outcome = _outcome(check_file(path, had_events=had_events.get(path, 0)), environment)
        _say(named, outcome, explained=arguments.explain)
        status = max(status, outcome.status)
    if arguments.explain:
        for paragraph in what_a_check_proves():
            say("")
            say(fill(paragraph, _WIDTH))
    else:
        tell(tr("No proof against somebody who computes the chain anew; --explain says what a check can show."))
    return status


def _outcome(checked: FileCheck, environment: Environment) -> _Outcome:
    results = [(each.level == "fault", harmless(tr(each.template, **each.fields))) for each in checked.findings]
    stored = checked.stored
    if stored is not None and stored.damage is None:
        results += _audit_lines(checked, environment)
    return _Outcome(
        faults=tuple(line for fails, line in results if fails),
        remarks=tuple(line for fails, line in results if not fails),
        events=len(stored.events) if stored is not None else 0,
        last_chain=stored.events[-1].chain if stored is not None and stored.events else "",
    )


def _audit_lines(checked: FileCheck, environment: Environment) -> Iterator[tuple[bool, str]]:
    from cornerwalk.report.audit import audit, problem_words

    assert checked.stored is not None
    for problem in audit(checked.stored.events, environment.standards):
        yield problem.fails, problem_words(problem)


def _say(path: Path, outcome: _Outcome, *, explained: bool) -> None:
    first, *others = (*outcome.faults, *outcome.remarks) or ("",)
    if outcome.faults:
        line = tr("{path}: FAILS: {what}", path=path, what=first)
    else:
        events = tr_n("{count} event", "{count} events", outcome.events)
        line = tr("{path}: as it was written, {events}, every value follows from its text", path=path, events=events)
        if first:
            line = tr("{line}; {remark}", line=line, remark=first)
    if others and not explained:
        line += tr_n(" (and {count} more)", " (and {count} more)", len(others))
    say(harmless(line))
    if explained:
        for other in others:
            say(f"  {other}")
        if outcome.last_chain:
            say("  " + tr("chain of the last event: {chain}", chain=outcome.last_chain))
