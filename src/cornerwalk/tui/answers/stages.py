"""Stages begun and the pressures they begin with."""

from __future__ import annotations

from dataclasses import replace

from cornerwalk.quantity import read_pressure
from cornerwalk.session.events import Happening
from cornerwalk.session.walk import AirTexts, bare_pressure, begin_stage, next_number, state_pressure
from cornerwalk.tui.answers.say_back import Line, Refusal, SayBack, refusal
from cornerwalk.tui.asking import PressureAsked, StageAsked, StageChoiceAsked, beginning, first_line
from cornerwalk.tui.job import OpenJob
from cornerwalk.wording.names import stage_name, stage_title
from cornerwalk.wording.wording import Wording
from cornerwalk.words import tr


def stage(job: OpenJob, asked: StageAsked, text: str) -> SayBack:
    """The vehicle stands as asked; a height typed too early stays for the next question."""
    begin = begin_stage(job.session, asked.stage[0])
    stage = stage_name(asked.stage[0])
    if text.strip():
        told = tr("Enter: the vehicle stands {stage}. What you typed stays; a second Enter keeps it.", stage=stage)
        return SayBack(lines=(("due", told),), would=begin, keeps_text=True)
    return SayBack(lines=(("due", tr("Enter: the vehicle stands {stage}.", stage=stage)),), would=begin)


def pressure(job: OpenJob, asked: PressureAsked, text: str) -> SayBack:
    """A pressure, or none, with what that costs."""
    typed = text.strip()
    if not typed and asked.optional and not asked.left:
        return SayBack(
            lines=(("quiet", tr("Enter alone: what comes next in the job.")),),
            opens="job.chapters",
        )
    try:
        kPa = read_pressure(typed, bare=bare_pressure(job.session)).kPa if typed else None
        would = _begin_or_state(job, asked, typed)
    except Refusal as error:
        return refusal(error)
    if asked.line == "left":
        then = replace(asked, line="right", left=typed or " ")
        return SayBack(large=_figures(job, kPa), lines=_pressure_lines(job, asked, kPa), then=then)
    return SayBack(large=_figures(job, kPa), lines=_pressure_lines(job, asked, kPa), would=would)


def _begin_or_state(job: OpenJob, asked: PressureAsked, typed: str) -> tuple[Happening, ...]:
    air = {
        "both": AirTexts(both=typed),
        "left": AirTexts(left=typed),
        "right": AirTexts(left=asked.left.strip(), right=typed),
    }[asked.line]
    if asked.begun:
        return state_pressure(job.session, asked.stage, air)
    return begin_stage(job.session, asked.stage[0], air)


def _figures(job: OpenJob, kPa: float | None) -> str:
    return "" if kPa is None else job.wording.pressure(kPa).split(" ")[0]


def _pressure_lines(job: OpenJob, asked: PressureAsked, kPa: float | None) -> tuple[Line, ...]:
    if kPa is None:
        if asked.line == "left":
            return (("quiet", tr("Enter alone: the left pressure is not stated.")),)
        cost = tr("Enter alone begins without one: the trial then says nothing about the right pressure.")
        return (("quiet", cost),)
    lines: list[Line] = [("ink", Wording("both").pressure(kPa))]
    low = job.session.kit.min_kPa
    if low is not None and kPa < low * (1 - 1e-9):
        told = tr("Below the kit's minimum of {minimum}.", minimum=job.session.entered.get("kit.min", ""))
        lines.append(("caution", told))
    if asked.line == "left":
        lines.append(("quiet", tr("Enter goes on to the right side")))
    elif asked.begun:
        lines.append(("quiet", tr("Enter states it for {stage}", stage=stage_title(asked.stage))))
    else:
        lines.append(("quiet", tr("Enter begins {stage}", stage=stage_title(asked.stage))))
    return tuple(lines)


def choice(job: OpenJob, asked: StageChoiceAsked, text: str) -> SayBack:
    """One of the stages by its number."""
    lines: list[Line] = [("ink", f"{n}  {stage_name(name)}") for n, name in enumerate(asked.stages, start=1)]
    if asked.restate is not None:
        restated = tr("the pressure of {stage}", stage=stage_title(asked.restate))
        lines.append(("ink", f"{len(asked.stages) + 1}  {restated}"))
    lines.append(("quiet", tr("Its number, then Enter. Esc goes back.")))
    typed = text.strip()
    if not typed.isdecimal() or not 1 <= int(typed) <= len(lines) - 1:
        return SayBack(lines=tuple(lines), trouble=tr("a number from 1 to {most}", most=len(lines) - 1))
    number = int(typed)
    if number > len(asked.stages) and asked.restate is not None:
        then = PressureAsked(asked.restate, first_line(job.session), begun=True)
        return SayBack(lines=tuple(lines), then=then)
    name = asked.stages[number - 1]
    return SayBack(lines=tuple(lines), then=beginning(job.session, (name, next_number(job.session, name))))
