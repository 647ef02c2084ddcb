"""Shortcuts: questions asked by name, out of their chapter: a fact, a load, a joint, a list, a mark on the wall."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from cornerwalk.job import fitting, intake
from cornerwalk.job.checks import check_lines, checklists_of, list_named
from cornerwalk.job.form import fact_in, fact_lines
from cornerwalk.job.leak import joint_line
from cornerwalk.job.open_job import OpenJob
from cornerwalk.job.question import Question
from cornerwalk.job.reply import Refusal, refusal
from cornerwalk.job.stage import leveller_line, mark_line, stage_in_place
from cornerwalk.session.events import Event
from cornerwalk.session.facts import FACTS
from cornerwalk.session.hold_test import SOAPED_JOINTS
from cornerwalk.session.statements import USUAL_JOINTS, remove_load
from cornerwalk.wording.names import joint_called
from cornerwalk.words import tr

Lines = Callable[[], tuple[Question, ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Shortcut:
    """Where a name leads.

    Attributes:
        lines: what is asked.
        first: the line asked first; "" for the first open one.
        answer: what is answered to it at once, the question in hand staying; "" to ask it.
        goes_on: the answer is only the first of several; what follows is asked.
        would: what is recorded at once.
        trouble: why it leads nowhere.
    """

    lines: Lines = tuple
    first: str = ""
    answer: str = ""
    goes_on: bool = False
    would: tuple[Event, ...] = ()
    trouble: str = ""


def fact(job: OpenJob, rest: str) -> Shortcut:
    """`wheelbase 119 in` states a fact, `wheelbase -` takes it back, `wheelbase` asks it."""
    found = fact_in(rest)
    if found is None:
        return Shortcut(trouble=tr("There is no fact of that name; intake asks for all of them."))
    name, value = found
    lines = fact_lines(job, (name,), "")
    if value == "-":
        return Shortcut(would=lines[0].takes_out, trouble="" if lines[0].takes_out else tr("Nothing stands here."))
    return Shortcut(lines=lambda: fact_lines(job, (name,), ""), first=name, answer=value)


def facts_of(job: OpenJob, part: str) -> Shortcut:
    """Every fact of one part of the register."""
    names = tuple(name for name, each in FACTS.items() if each.part == part.casefold())
    if not names:
        parts = ", ".join(dict.fromkeys(each.part for each in FACTS.values()))
        return Shortcut(trouble=tr("One of: {parts}", parts=parts))
    return Shortcut(lines=lambda: fact_lines(job, names, ""), first=names[0])


def load(job: OpenJob, name: str) -> Shortcut:
    """Another load."""
    return Shortcut(lines=lambda: intake.load_lines(job), first=intake.ADD, answer=name, goes_on=True)


def unload(job: OpenJob, name: str) -> Shortcut:
    """A load taken off the list."""
    try:
        return Shortcut(would=(remove_load(name, [each.name for each in job.session.loads]),))
    except Refusal as error:
        return Shortcut(trouble=refusal(error).trouble)


def weighing(job: OpenJob, _rest: str) -> Shortcut:
    """The passes over a scale."""
    return Shortcut(lines=lambda: intake.weighing_lines(job))


def torque(job: OpenJob, joint: str) -> Shortcut:
    """A tightened joint by its name; alone the first that is open."""
    named = f"torque:{joint_called(joint, USUAL_JOINTS)}"
    lines = fitting.torque_lines(job)
    if not joint or any(line.id == named for line in lines):
        return Shortcut(lines=lambda: fitting.torque_lines(job), first=named if joint else "")
    return Shortcut(lines=lambda: fitting.torque_lines(job), first=fitting.ADD, answer=joint, goes_on=True)


def soaped(job: OpenJob, joint: str) -> Shortcut:
    """A joint under soapy water by its name, one of the usual ones or another."""
    return Shortcut(lines=lambda: (joint_line(job, joint_called(joint, SOAPED_JOINTS)),))


def checklist(job: OpenJob, text: str) -> Shortcut:
    """A list by its number, its id or its title."""
    found = list_named(job, text)
    if found is None:
        return Shortcut(trouble=tr("a number from 1 to {most}", most=len(checklists_of(job).lists)))
    stage = None if found.asked == "once" else stage_in_place(job)
    return Shortcut(lines=lambda: check_lines(job, found.id, stage))


def mark(job: OpenJob, text: str) -> Shortcut:
    """The cut-off on the wall at the stage in place."""
    return Shortcut(lines=lambda: (mark_line(job, stage_in_place(job)),), answer=text)


def leveller(job: OpenJob, text: str) -> Shortcut:
    """The dial of the headlamp leveller at the stage in place."""
    return Shortcut(lines=lambda: (leveller_line(job, stage_in_place(job)),), answer=text)
