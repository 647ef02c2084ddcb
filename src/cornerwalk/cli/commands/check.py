"""Command `check`: whether each file is as it was written, and each value in it follows from its text."""

from __future__ import annotations

from argparse import Namespace, _SubParsersAction
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from textwrap import fill
from typing import TYPE_CHECKING

from cornerwalk.cli.output import say, tell
from cornerwalk.cli.parsers import BAD_INPUT, DONE, FAILED, CommandError, Parser, add_command, add_form
from cornerwalk.words import tr, tr_n
from cornerwalk.words.safe import harmless

if TYPE_CHECKING:
    from cornerwalk.cli.environment import Environment
    from cornerwalk.session.log import RecordedEvent
    from cornerwalk.store import StoredSession
    from cornerwalk.store.check import CheckFinding

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
    parser.add_argument(
        "files",
        type=Path,
        nargs="*",
        metavar=tr("FILE"),
        help=tr("session files, or folders of them; the whole library if none is named"),
    )
    parser.add_argument(
        "--explain",
        action="store_true",
        help=tr("everything that was found, and what a check can and cannot prove"),
    )
    parser.add_argument("--quiet", action="store_true", help=tr("only the files that fail"))
    parser.add_argument(
        "--against",
        metavar=tr("CHAIN"),
        help=tr("the chain printed on a report of this one file, or its first four groups"),
    )
    add_form(parser, ("text", "json"))


@dataclass(frozen=True, slots=True)
class _Outcome:
    """What was found in one file: `faults` fail it, `remarks` only tell."""

    named: Path
    faults: tuple[str, ...]
    remarks: tuple[str, ...]
    events: int = 0
    last_chain: str = ""

    @property
    def status(self) -> int:
        return FAILED if self.faults else DONE


def run(arguments: Namespace, environment: Environment) -> int:
    """A line for each file, or a list of them as JSON.

    Raises:
        CommandError: the chain to check against is none, or several files are held against it.
        StoreError: the library cannot be read.
    """
    from cornerwalk.report.audit import what_a_check_proves

    paths = _named_files(arguments.files, environment)
    if arguments.against is not None:
        _require_one(paths, arguments.against)
    had_events = environment.library().had_events(list(paths.values()))
    status = DONE
    outcomes = []
    for named, path in paths.items():
        if not path.exists() or path.is_dir():
            told = tr("{path}: no session in it", path=named)
            tell(told if path.exists() else tr("{path}: there is no such file", path=named))
            status = BAD_INPUT
            continue
        outcome = _outcome(named, path, had_events.get(path, 0), arguments.against, environment)
        status = max(status, outcome.status)
        if arguments.quiet and not outcome.faults:
            continue
        outcomes.append(outcome)
        if arguments.to == "text":
            _say(outcome, explained=arguments.explain)
    if arguments.to == "json":
        say(_as_json(outcomes))
    elif arguments.explain:
        for paragraph in what_a_check_proves():
            say("")
            say(fill(paragraph, _WIDTH))
    elif not arguments.quiet:
        tell(tr("No proof against somebody who computes the chain anew; --explain says what a check can show."))
    return status


def _named_files(named: Sequence[Path], environment: Environment) -> dict[Path, Path]:
    """Each file to be checked by the name it is told under; a folder stands for the sessions in it."""
    if not named:
        return {Path(each.name): each.path for each in environment.library().summaries()}
    files: dict[Path, Path] = {}
    for each in named:
        path = environment.session_path(each)
        if path.is_dir():
            inside = sorted(file for file in path.glob("*.json") if not file.name.startswith("."))
            files |= {each / file.name: file for file in inside} or {each: path}
        else:
            files[each] = path
    return files


def _require_one(paths: Mapping[Path, Path], chain: str) -> None:
    from cornerwalk.store.check import is_chain_start

    if len(paths) != 1:
        raise CommandError("a chain belongs to one file: name that file")
    if not is_chain_start(chain):
        raise CommandError('"{text}" is no chain: four groups of four, as "7f3a 09c1 44d0 b2e8"', text=chain)


def _as_json(outcomes: Sequence[_Outcome]) -> str:
    import json

    told = [
        {
            "file": str(each.named),
            "as_written": not each.faults,
            "events": each.events,
            "last_chain": each.last_chain or None,
            "faults": each.faults,
            "remarks": each.remarks,
        }
        for each in outcomes
    ]
    return json.dumps(told, ensure_ascii=False, indent=1)


def _outcome(named: Path, path: Path, had_events: int, against: str | None, environment: Environment) -> _Outcome:
    from cornerwalk.store.check import check_file

    checked = check_file(path, had_events=had_events, against=against)
    results = [(each.level == "fault", _words(each)) for each in checked.findings]
    stored = checked.stored
    if stored is None:
        return _Outcome(named, tuple(line for _, line in results), ())
    changed = [each.event for each in checked.findings if each.event is not None]
    results += _audit_lines(stored, changed, environment)
    return _Outcome(
        named,
        faults=tuple(line for fails, line in results if fails),
        remarks=tuple(line for fails, line in results if not fails),
        events=len(stored.events),
        last_chain=stored.events[-1].chain if stored.events else "",
    )


def _words(finding: CheckFinding) -> str:
    """A finding, and the event it is about as it stands now."""
    text = tr(finding.template, **finding.fields)
    if finding.event is not None:
        from cornerwalk.wording.events import event_words

        event = finding.event
        time = event.at[:16].replace("T", " ")
        words = event_words(event.payload)
        text = tr("{finding}. It now reads: {event} ({time}, {by})", finding=text, event=words, time=time, by=event.by)
    return harmless(text)


def _audit_lines(
    stored: StoredSession, changed: Sequence[RecordedEvent], environment: Environment
) -> Iterator[tuple[bool, str]]:
    """What does not follow: in the whole session, or in the events of a damaged one that were changed."""
    from cornerwalk.report.audit import audit, problem_words, value_problems

    if stored.damage is None:
        problems = audit(stored.events, environment.standards)
    else:
        problems = tuple(problem for event in changed for problem in value_problems(event, stored.events))
    for problem in problems:
        yield problem.fails, problem_words(problem)


def _say(outcome: _Outcome, *, explained: bool) -> None:
    path = outcome.named
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
