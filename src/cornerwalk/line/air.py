"""The pressure a stage begins with, and the cautions on the way to it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from cornerwalk.line.job import OpenJob
from cornerwalk.line.reply import Refusal, Reply, refused, with_unit
from cornerwalk.session.events import Event
from cornerwalk.session.model import Session, StageKey
from cornerwalk.session.walk import PressureInput, bare_pressure, begin_stage, state_pressure
from cornerwalk.wording.names import stage_title
from cornerwalk.words import tr
from cornerwalk.words.steps import air_caution, cautions, to_begin

Line = Literal["both", "left", "right"]


def first_line(session: Session) -> Line:
    """Which pressure is asked first."""
    return "left" if session.kit.lines == "separate" else "both"


def kit_maximum(session: Session) -> str:
    """The kit's maximum as stated."""
    entered = session.entered.get("kit.max")
    return tr("not stated") if entered is None else with_unit(entered, bare_pressure(session))


def on_the_way(session: Session, stage: StageKey) -> tuple[str, ...]:
    """The cautions on the way to a stage, then what to bring the vehicle to."""
    maximum = kit_maximum(session)
    lifted = stage == ("fitted", 1) and session.job.kind == "fit"
    warned = (air_caution(maximum),) if stage[0] == "fitted" and not lifted else cautions(stage[0], kit_maximum=maximum)
    told = [tr("Caution: {caution}", caution=caution) for caution in warned]
    if lifted:
        told.append(tr("The work itself has its list of questions: type fitting."))
    return (*told, to_begin(stage[0]))


@dataclass(frozen=True, slots=True)
class PressureAsked:
    """The pressure a stage begins with, or has; with separate lines the left comes first, then the right."""

    stage: StageKey
    line: Line
    left: str = ""
    begun: bool = False
    """The stage is begun already; its pressure is stated late, or corrected."""

    @property
    def free(self) -> bool:
        """Pressures are figures."""
        return False

    def prompt(self, job: OpenJob) -> str:
        """`Pressure for fitted, trial 1, in psi:`."""
        unit, stage = bare_pressure(job.session), stage_title(self.stage)
        match self.line:
            case "both":
                return tr("Pressure for {stage}, in {unit}:", stage=stage, unit=unit)
            case "left":
                return tr("Left pressure for {stage}, in {unit}:", stage=stage, unit=unit)
            case "right":
                return tr("Right pressure for {stage}, in {unit}:", stage=stage, unit=unit)

    def opening(self, job: OpenJob) -> tuple[str, ...]:
        """Cautions, then what to do."""
        if self.line == "right":
            return ()
        return (air_caution(kit_maximum(job.session)),) if self.begun else on_the_way(job.session, self.stage)

    def answer(self, job: OpenJob, text: str) -> Reply:
        """A pressure; without one the stage says nothing about which is right, and a second Enter is asked for."""
        if self.line == "left":
            return self._left(job, text)
        air = PressureInput(both=text) if self.line == "both" else PressureInput(left=self.left, right=text)
        reply = air_at(job, self, air)
        if reply.refused or air.both or air.left or air.right:
            return reply
        doubt = tr("Without a pressure this stage says nothing about the right one.")
        return Reply(events=reply.events, kept=reply.kept, doubt=doubt)

    def _left(self, job: OpenJob, text: str) -> Reply:
        try:
            begin_stage(job.session, self.stage[0], PressureInput(left=text))
        except Refusal as error:
            return refused(error)
        return Reply(then=PressureAsked(self.stage, "right", left=text, begun=self.begun))


def air_at(job: OpenJob, asked: PressureAsked, air: PressureInput) -> Reply:
    """The pressures of a stage, stated, or begun with."""
    act = state_air if asked.begun else begin_with_air
    return act(job, asked.stage, air)


def begin_with_air(job: OpenJob, stage: StageKey, air: PressureInput) -> Reply:
    """A stage begun with these pressures."""
    try:
        return _told(job, stage, air, begin_stage(job.session, stage[0], air))
    except Refusal as error:
        return refused(error)


def state_air(job: OpenJob, stage: StageKey, air: PressureInput) -> Reply:
    """The pressures of a stage that is begun."""
    try:
        return _told(job, stage, air, state_pressure(job.session, stage, air))
    except Refusal as error:
        return refused(error)


def _told(job: OpenJob, stage: StageKey, air: PressureInput, events: tuple[Event, ...]) -> Reply:
    low_kPa = job.session.kit.min_kPa
    said: dict[str, None] = {}
    for kPa in (getattr(events[0], name, None) for name in ("pressure_kPa", "left_kPa", "right_kPa")):
        if kPa is not None and low_kPa is not None and kPa < low_kPa * (1 - 1e-9):
            minimum = job.session.entered.get("kit.min", job.wording.pressure(low_kPa))
            said[tr("Caution: below the kit's minimum of {minimum}.", minimum=minimum)] = None
    return Reply(said=tuple(said), events=events, kept=said_of(stage, _said(job, air)))


def _said(job: OpenJob, air: PressureInput) -> str:
    unit = bare_pressure(job.session)
    if air.both:
        return with_unit(air.both, unit)
    parts = []
    if air.left:
        parts.append(tr("left {pressure}", pressure=with_unit(air.left, unit)))
    if air.right:
        parts.append(tr("right {pressure}", pressure=with_unit(air.right, unit)))
    return ", ".join(parts)


def said_of(stage: StageKey, air: str = "") -> str:
    """`FITTED, TRIAL 1, 25 psi.`."""
    title = stage_title(stage).upper()
    return f"{title}, {air}." if air else f"{title}."
