"""Stages begun, their pressures, and what is asked when every stage is read or the job is closed."""

from __future__ import annotations

from dataclasses import dataclass

from cornerwalk.line.air import PressureAsked, begin_with_air, first_line, on_the_way, said_of
from cornerwalk.line.heights import HeightAsked
from cornerwalk.line.job import OpenJob
from cornerwalk.line.reply import Question, Refusal, Reply, chosen, numbered, refused, told
from cornerwalk.quantity import QuantityError
from cornerwalk.session.model import Session, StageKey
from cornerwalk.session.stages import AIR_STAGES, available_stages
from cornerwalk.session.walk import (
    BeginStage,
    PressureInput,
    ReadCorner,
    StagesDone,
    begin_stage,
    due,
    next_number,
    read_session_height,
)
from cornerwalk.wording.names import stage_name, stage_title
from cornerwalk.words import capital, tr
from cornerwalk.words.steps import level_is_not_safe


def asked_by(session: Session) -> Question:
    """What the walk itself asks for."""
    match due(session):
        case ReadCorner(stage=stage, corner=corner):
            return HeightAsked(stage, corner)
        case BeginStage(stage=stage):
            return beginning(session, stage)
        case StagesDone():
            return AllRead()
        case _:
            return Closed()


def beginning(session: Session, stage: StageKey) -> Question:
    """The question a stage begins with."""
    return PressureAsked(stage, first_line(session)) if stage[0] in AIR_STAGES else StageAsked(stage)


@dataclass(frozen=True, slots=True)
class StageAsked:
    """Bring the vehicle into the state of a stage; Enter says that it is."""

    stage: StageKey

    @property
    def free(self) -> bool:
        """Enter, or a height typed too early."""
        return False

    def prompt(self, _job: OpenJob) -> str:
        """`Loaded, no air: Enter once it stands so:`."""
        return tr("{stage}. Enter once it stands so:", stage=capital(stage_title(self.stage)))

    def opening(self, job: OpenJob) -> tuple[str, ...]:
        """Cautions, then what to do."""
        return on_the_way(job.session, self.stage)

    def answer(self, job: OpenJob, text: str) -> Reply:
        """Enter; a height is not taken before the stage is begun."""
        if text:
            try:
                read_session_height(job.session, text)
            except QuantityError as error:
                return refused(error)
            return Reply(
                said=(tr("First Enter alone, once the vehicle stands so; then the height."),),
                refused=True,
            )
        try:
            begun = begin_stage(job.session, self.stage[0])
        except Refusal as error:
            return refused(error)
        return Reply(events=begun, kept=said_of(self.stage))


@dataclass(frozen=True, slots=True)
class StageChoiceAsked:
    """Which stage comes next, by its number in the list."""

    @property
    def free(self) -> bool:
        """A number."""
        return False

    def prompt(self, _job: OpenJob) -> str:
        """`Which stage? Number:`."""
        return tr("Which stage? Number; Enter alone goes back:")

    def opening(self, job: OpenJob) -> tuple[str, ...]:
        """Every stage that makes sense in this kind of job."""
        return numbered(tuple(stage_name(name) for name in available_stages(job.session.job.kind)))

    def answer(self, job: OpenJob, text: str) -> Reply:
        """Its number, or its name."""
        if not text:
            return Reply()
        offered = available_stages(job.session.job.kind)
        names = [stage_name(name).casefold() for name in offered]
        place = chosen(text, len(offered))
        if place is None and text.casefold() in names:
            place = names.index(text.casefold())
        if place is None and text.casefold() in offered:
            place = [str(name) for name in offered].index(text.casefold())
        if place is None:
            return Reply(said=(tr("a number from 1 to {most}", most=len(offered)),), refused=True)
        name = offered[place]
        return Reply(then=beginning(job.session, (name, next_number(job.session, name))))


@dataclass(frozen=True, slots=True)
class AllRead:
    """Every stage this kind of job asks for is read: another trial, or on to the next chapter."""

    @property
    def free(self) -> bool:
        """A pressure, Enter, or a word."""
        return False

    def prompt(self, job: OpenJob) -> str:
        """What is possible now."""
        if job.session.job.kind == "load check":
            return tr("All heights are read. Enter goes on, or a word:")
        return tr("All heights are read. Pressure of another trial, Enter to go on, or a word:")

    def opening(self, _job: OpenJob) -> tuple[str, ...]:
        """That a level body is no safe load, at the moment it may look like one."""
        return (level_is_not_safe(),)

    def answer(self, job: OpenJob, text: str) -> Reply:
        """A pressure begins another trial; Enter alone is for whoever holds the chapters."""
        if job.session.job.kind == "load check":
            return Reply(said=(tr("Nothing more is read in a load check; type help for the words."),), refused=True)
        stage: StageKey = ("fitted", next_number(job.session, "fitted"))
        if first_line(job.session) == "left":
            try:
                begin_stage(job.session, "fitted", PressureInput(left=text))
            except Refusal as error:
                return refused(error)
            return Reply(then=PressureAsked(stage, "right", left=text))
        return begin_with_air(job, stage, PressureInput(both=text))


@dataclass(frozen=True, slots=True)
class Closed:
    """The job is handed over."""

    @property
    def free(self) -> bool:
        """A word."""
        return False

    def prompt(self, _job: OpenJob) -> str:
        """What is possible now."""
        return tr("Handed over. reopen, results, report or quit:")

    def opening(self, _job: OpenJob) -> tuple[str, ...]:
        """Nothing."""
        return ()

    def answer(self, _job: OpenJob, _text: str) -> Reply:
        """Only words do something now."""
        return told(tr("The job is handed over. Type reopen to take it up for a follow-up."))
