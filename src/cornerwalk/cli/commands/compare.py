"""Command `compare`: two sessions, or two stages of one, and whether their differences mean anything."""

from __future__ import annotations

import re
from argparse import Namespace, _SubParsersAction
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from cornerwalk.cli.output import deliver
from cornerwalk.cli.parsers import DONE, CommandError, Parser, add_command, add_out, add_session_file
from cornerwalk.words import tr

if TYPE_CHECKING:
    from cornerwalk.assess.compare import AssessedJob, Comparison
    from cornerwalk.cli.environment import Environment
    from cornerwalk.session.model import StageKey
    from cornerwalk.store import StoredSession

_STAGE = re.compile(r"(?P<name>[a-z-]+)(?:[ :]+(?P<number>[1-9][0-9]{0,5}))?")


def add(commands: _SubParsersAction[Parser]) -> None:
    """Add the command."""
    parser = add_command(
        commands,
        "compare",
        tr("compare two sessions, or two stages of one"),
        more=tr(
            "Every difference has its uncertainty beside it; what lies within that says nothing either way. Of one "
            "session, loaded is compared with the last stage with air unless stages are named."
        ),
        example='cornerwalk compare van.json --stage loaded --stage "fitted 2"',
        run=run,
    )
    add_session_file(parser)
    parser.add_argument("other", type=Path, nargs="?", metavar=tr("OTHER"), help=tr("another one"))
    parser.add_argument(
        "--stage",
        action="append",
        default=[],
        metavar=tr("STAGE"),
        help=tr("loaded, fitted, fitted 2 …; given twice, the second is from the other job"),
    )
    add_out(parser)


def run(arguments: Namespace, environment: Environment) -> int:
    """Compare and print.

    Raises:
        StoreError: a file cannot be read.
        CommandError: a file is damaged, a stage is not there, or there is nothing to compare.
        OSError: the answer cannot be written.
    """
    from cornerwalk.cli.commands.sessions import read_undamaged
    from cornerwalk.report.comparison import compare_text
    from cornerwalk.wording.figures import Wording

    if len(arguments.stage) > 2:
        raise CommandError("two stages can be compared, not {count}", count=len(arguments.stage))
    first = read_undamaged(environment, arguments.file)
    one = _assess(first, environment)
    if arguments.other is None:
        comparison = _stages(one, arguments.stage)
        names = (_name(first), _name(first))
    else:
        second = read_undamaged(environment, arguments.other)
        comparison = _jobs(one, _assess(second, environment), arguments.stage, environment)
        names = _names(first, second)
    wording = Wording.for_tape(environment.units_shown(one.session.job.unit), one.assessment.reading.graduation_mm)
    deliver(compare_text(comparison, wording, names), arguments.out)
    return DONE


def _assess(stored: StoredSession, environment: Environment) -> AssessedJob:
    from cornerwalk.assess import assess
    from cornerwalk.assess.compare import AssessedJob

    return AssessedJob(stored.session, assess(stored.session, environment.standards))


def _stages(job: AssessedJob, named: Sequence[str]) -> Comparison:
    from cornerwalk.assess.compare import compare_stages

    if len(named) == 1:
        raise CommandError("of one session two stages are compared: say --stage twice")
    one, other = [_key(job, text) for text in named] if named else _default_stages(job)
    if one == other:
        raise CommandError("the two are one stage; there are: {stages}", stages=_stage_list(job))
    return compare_stages(job, one, other)


def _default_stages(job: AssessedJob) -> tuple[StageKey, StageKey]:
    """Loaded and the last stage with air; else the first and the last."""
    from cornerwalk.session.stages import AIR_STAGES

    keys = [stage.key for stage in job.assessment.stages]
    if not keys:
        raise CommandError("nothing has been read in this session yet")
    one = next((key for key in keys if key[0] == "loaded"), keys[0])
    other = next((key for key in reversed(keys) if key[0] in AIR_STAGES), keys[-1])
    return one, other


def _jobs(one: AssessedJob, other: AssessedJob, named: Sequence[str], environment: Environment) -> Comparison:
    from cornerwalk.assess.compare_jobs import compare_jobs

    if one.session.id == other.session.id:
        raise CommandError("both files hold the same session; name one of them and two stages with --stage")
    stages = [(_key(one, named[0]), _key(other, named[-1]))] if named else None
    return compare_jobs(one, other, environment.standards, stages)


def _key(job: AssessedJob, text: str) -> StageKey:
    match = _STAGE.fullmatch(text.strip().lower())
    wanted = (match["name"], int(match["number"] or 1)) if match is not None else None
    for stage in job.assessment.stages:
        if stage.key == wanted:
            return stage.key
    raise CommandError("there is no stage {stage}; there are: {stages}", stage=text, stages=_stage_list(job))


def _stage_list(job: AssessedJob) -> str:
    return ", ".join(f"{name} {number}" for name, number in (stage.key for stage in job.assessment.stages)) or "–"


def _name(stored: StoredSession) -> str:
    session = stored.session
    return f"{session.job.title or stored.path.stem}, {session.opened_at[:10]}"


def _names(first: StoredSession, second: StoredSession) -> tuple[str, str]:
    one, other = _name(first), _name(second)
    return (one, other) if one != other else (first.path.stem, second.path.stem)
