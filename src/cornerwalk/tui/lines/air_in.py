"""A stage that begins with air in, as a line: the pressure is asked for, then the walk reads its heights."""

from __future__ import annotations

from cornerwalk.quantity import read_pressure
from cornerwalk.session.model import Stage
from cornerwalk.session.stages import CLOCKWISE, StageName
from cornerwalk.session.walk import AirTexts, bare_pressure, begin_stage
from cornerwalk.tui.answers.say_back import Refusal, SayBack, refusal
from cornerwalk.tui.job import OpenJob
from cornerwalk.tui.lines.line import Line, Option, Part, Texts, in_turn, one
from cornerwalk.wording.names import stage_name
from cornerwalk.words import steps, tr

NOT_KNOWN = ("-", "−", "?")
"""Typed in place of a pressure that nobody read. Enter alone must not begin a stage: it goes to the next line."""

WALK = "walk"
"""The page of the heights, for `SayBack.opens`."""


def stage_line(job: OpenJob, name: StageName, *, name_in_list: str, group: str, costs: str) -> Line:
    """The heights of a stage: begin it, go on with it, or see that it is read."""
    stage = _latest(job, name)
    if stage is not None:
        return _begun(job, stage, name_in_list, group, costs)
    return Line(
        id=f"stage.{name}",
        name=name_in_list,
        group=group,
        part=in_turn(*_pressure_parts(job, steps.to_begin(name))),
        keeps=lambda texts: _beginning(job, name, texts),
        caution=" ".join(steps.cautions(name, kit_maximum=job.session.entered.get("kit.max", ""))),
        costs=costs,
    )


def _latest(job: OpenJob, name: StageName) -> Stage | None:
    """The stage of that name that counts now: a follow-up before the last handover is another one's."""
    found = [stage for stage in job.session.stages if stage.name == name]
    if name == "follow-up" and len(found) < len(job.session.handovers):
        return None
    return found[-1] if found else None


def _pressure_parts(job: OpenJob, how: str) -> tuple[Part, ...]:
    inch = job.session.job.unit == "inch"
    hint = tr("25 psi; - if not known") if inch else tr("170 kPa; - if not known")
    if job.session.kit.lines == "separate":
        left = Part(question=tr("{how} The left one first.", how=how), hint=hint)
        return (left, Part(question=tr("And the right one?"), hint=hint))
    return (Part(question=how, hint=hint),)


def _beginning(job: OpenJob, name: StageName, texts: Texts) -> SayBack:
    separate = job.session.kit.lines == "separate"
    typed = ["" if text.strip() in NOT_KNOWN else text for text in texts]
    try:
        kPa = read_pressure(typed[-1], bare=bare_pressure(job.session)).kPa if typed[-1] else None
        if separate and len(typed) < 2:
            begin_stage(job.session, name, AirTexts(left=typed[0]))
            return SayBack(lines=(("quiet", tr("Enter goes on to the right side.")),))
        air = AirTexts(left=typed[0], right=typed[1]) if separate else AirTexts(both=typed[0])
        would = begin_stage(job.session, name, air)
    except Refusal as error:
        return refusal(error)
    lines = (("ink", job.wording.pressure(kPa)),) if kPa is not None else ()
    begins = tr("Enter begins {stage}; the walk reads it.", stage=stage_name(name))
    large = job.wording.pressure(kPa).split(" ")[0] if kPa is not None else ""
    return SayBack(large=large, lines=(*lines, ("quiet", begins)), would=would, opens=WALK)


def _begun(job: OpenJob, stage: Stage, name_in_list: str, group: str, costs: str) -> Line:
    settled = sum(bool(stage.corner(c).readings) or stage.corner(c).skipped is not None for c in CLOCKWISE)
    result = job.assessment.stage(stage.key)
    told = tr("{count} of 4 corners", count=settled)
    if result is not None and result.rear_mm is not None and settled == len(CLOCKWISE):
        told = tr("rear {change}", change=job.wording.change(result.rear_mm))
    go = (Option("1", tr("to the walk"), "go", "w"),)
    question = tr("The heights are read.") if stage.complete else tr("The walk reads on where it was left.")
    return Line(
        id=f"stage.{stage.name}",
        name=name_in_list,
        group=group,
        stands=told,
        mark="done" if stage.complete else "open",
        part=one(Part(question=question, options=go)),
        keeps=lambda _texts: SayBack(opens=WALK),
        costs=costs,
    )
