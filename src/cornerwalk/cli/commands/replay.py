"""Command `replay`: a session event by event, on the screen or as lines."""

from __future__ import annotations

from argparse import Namespace, _SubParsersAction
from typing import TYPE_CHECKING

from cornerwalk.cli.output import has_screen, say, tell
from cornerwalk.cli.parsers import DONE, Parser, add_command, add_session_file
from cornerwalk.words import tr
from cornerwalk.words.safe import harmless

if TYPE_CHECKING:
    from cornerwalk.cli.environment import Environment
    from cornerwalk.job.replay_steps import StepText
    from cornerwalk.store import StoredSession

MOST_WITH_FIGURES = 2000
"""Events whose figures are computed: as many take seconds, and no job has a tenth of them."""


def add(commands: _SubParsersAction[Parser]) -> None:
    """Add the command."""
    parser = add_command(
        commands,
        "replay",
        tr("step through a session as it happened"),
        more=tr("Without a terminal the steps are printed, a line each, with what each did to the figures."),
        example="cornerwalk replay van.json | less",
        run=run,
    )
    add_session_file(parser)
    parser.set_defaults(on_screen=True)


def run(arguments: Namespace, environment: Environment) -> int:
    """Open the replay, or print it.

    Raises:
        StoreError: the file cannot be read.
    """
    from cornerwalk.cli.commands.sessions import read_recoverable

    stored = read_recoverable(environment, arguments.file)
    if has_screen() and not environment.options.plain:
        from cornerwalk.cli.commands.app import show
        from cornerwalk.context import ReplayView

        return show(
            environment, lambda: (environment.context(), ReplayView(stored.path)), title=harmless(stored.path.name)
        )
    _print_steps(stored, environment)
    return DONE


def _print_steps(stored: StoredSession, environment: Environment) -> None:
    """A line an event: its number, when, by whom, what was entered, and what it did to the figures."""
    from cornerwalk.job.replay_steps import Steps
    from cornerwalk.wording.figures import Wording

    units = environment.units_shown(stored.session.job.unit)
    graduation_mm = stored.session.tape.graduation_mm
    wording = Wording.for_tape(units, graduation_mm)
    steps = Steps(stored.events, environment.standards, wording)
    with_figures = len(steps) <= MOST_WITH_FIGURES
    if not with_figures:
        tell(tr("More than {most} events: what each did to the figures is left out.", most=MOST_WITH_FIGURES))
    for number in range(1, len(steps) + 1):
        say(_line(steps.text(number), steps.effect(number) if with_figures else ""))


def _line(step: StepText, effect: str) -> str:
    event = step.event
    line = f"{event.seq:>4}  {harmless(event.at)}  {harmless(event.by):<4}  {step.text}"
    if step.remark:
        line += f" [{step.remark}]"
    return f"{line}  → {effect}" if effect else line
