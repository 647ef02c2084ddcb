"""Start: what can be done before a job is open. What only some choices need is loaded when they are there."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from cornerwalk.context import Context
from cornerwalk.job.notice import Choice
from cornerwalk.words import tr
from cornerwalk.words.safe import harmless

if TYPE_CHECKING:
    from cornerwalk.store import Summary


@dataclass(frozen=True, slots=True)
class Start:
    """What can be done at first.

    Attributes:
        choices: in their order; their ids are `go on`, `new`, `open`, `demo`, `settings`.
        unfinished: the job that was worked on last, where it is not finished.
        problems: what could not be read: the library, the settings.
    """

    choices: tuple[Choice, ...]
    unfinished: Summary | None = None
    problems: tuple[str, ...] = ()


def purpose() -> str:
    """What the program is for."""
    return tr("Four corners, three times around: what ride heights tell you.")


def start(context: Context) -> Start:
    """What can be done now."""
    from cornerwalk.store import StoreError

    problems = []
    unfinished: Summary | None = None
    try:
        unfinished = context.library.latest_unfinished()
    except StoreError as error:
        problems.append(tr(error.template, **error.fields))
    if told := settings_problem(context):
        problems.append(told)
    go_on = () if unfinished is None else (_go_on(unfinished),)
    return Start((*go_on, *usual_choices()), unfinished, tuple(problems))


def settings_problem(context: Context) -> str:
    """Why the settings file is not used; "" where it is."""
    problem = context.settings_problem
    return "" if problem is None else tr("The settings were not used: {problem}", problem=problem.lines(tr)[0])


def usual_choices() -> tuple[Choice, ...]:
    """Those that are always there."""
    return (
        Choice("new", tr("New job")),
        Choice("open", tr("Open a past job")),
        Choice("demo", tr("Try the demo job"), tr("Made-up vehicle; nothing is saved.")),
        Choice("settings", tr("Settings")),
    )


def _go_on(summary: Summary) -> Choice:
    return Choice("go on", tr("Go on with {title}", title=title_of(summary)), progress_of(summary))


def title_of(summary: Summary) -> str:
    """What a job of the library is called."""
    return harmless(summary.title) or tr("the job without a name")


def progress_of(summary: Summary) -> str:
    """How far it is, and when it was worked on last."""
    from cornerwalk.session.stages import STAGE_NAMES
    from cornerwalk.wording.names import stage_name

    named = [stage_name(name) for name in STAGE_NAMES if name in summary.stages]
    read = ", ".join(named) or tr("no stage read to the end")
    when = harmless(summary.last_at[:16].replace("T", " "))
    return tr("last saved {time}; {stages}; {count} readings", time=when, stages=read, count=summary.readings)
