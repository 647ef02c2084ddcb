"""The height at a corner, and why one is skipped."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from cornerwalk.assess.plausibility import Remark, neighbors, remark
from cornerwalk.line.job import OpenJob
from cornerwalk.line.reply import Refusal, Reply, chosen, numbered, refused
from cornerwalk.session.events import HeightRead, ReadingMode
from cornerwalk.session.model import Session, StageKey
from cornerwalk.session.stages import REFERENCE_STAGE, Corner
from cornerwalk.session.walk import record_height, skip_corner
from cornerwalk.wording.checks import ONLY_TOLD, remark_words
from cornerwalk.wording.names import corner_name, stage_title
from cornerwalk.words import capital, tr
from cornerwalk.words.steps import skip_reasons, to_read


@dataclass(frozen=True, slots=True)
class HeightAsked:
    """The height at a corner; `how` is what a reading does to one that stands there already."""

    stage: StageKey
    corner: Corner
    how: ReadingMode = "first"

    @property
    def free(self) -> bool:
        """Heights are figures."""
        return False

    def prompt(self, job: OpenJob) -> str:
        """`Right rear, loaded, 3 of 4:`."""
        where = capital(corner_name(self.corner))
        stage = short_title(self.stage)
        match self.how:
            case "repeat":
                return tr(
                    "{corner}, {stage}, averaged with {readings}:",
                    corner=where,
                    stage=stage,
                    readings=standing(job.session, self.stage, self.corner),
                )
            case "instead":
                return tr(
                    "{corner}, {stage}, in place of {readings}:",
                    corner=where,
                    stage=stage,
                    readings=standing(job.session, self.stage, self.corner),
                )
            case "first":
                place = job.session.job.order.index(self.corner) + 1
                return tr("{corner}, {stage}, {place} of 4:", corner=where, stage=stage, place=place)

    def opening(self, job: OpenJob) -> tuple[str, ...]:
        """At the first corner of a stage what keeps its readings comparable, and in a new job how to type one."""
        begun = job.session.stage(self.stage)
        if self.how != "first":
            return (tr("Enter alone leaves it as it is."),)
        if begun is not None and begun.corners:
            return ()
        if any(stage.corners for stage in job.session.stages):
            return (to_read(self.stage[0]),)
        return (to_read(self.stage[0]), how_to_type(job.session))

    def answer(self, job: OpenJob, text: str) -> Reply:
        """A height, or nothing where one stands already."""
        if not text and self.how != "first":
            return Reply()
        try:
            events = record_height(
                job.session,
                text,
                corner=self.corner,
                stage=self.stage,
                how="repeat" if self.how == "repeat" else None,
            )
        except Refusal as error:
            return refused(error)
        reading = events[-1]
        assert isinstance(reading, HeightRead)
        remarks = remark(reading.mm, neighbors(job.session, job.standards, self.stage, self.corner, self.how))
        return Reply(
            said=tuple(remark_words(r, self.corner, job.wording) for r in remarks if r.code in ONLY_TOLD),
            events=events,
            kept=said_back(job, self.stage, self.corner, reading.mm, remarks),
            doubt=_doubt(job, self.corner, reading.mm, remarks),
        )


def standing(session: Session, stage: StageKey, corner: Corner) -> str:
    """The readings of a corner as they were typed, empty where there is none."""
    begun = session.stage(stage)
    return ", ".join(reading.entered for reading in begun.corner(corner).readings) if begun is not None else ""


def how_to_type(session: Session) -> str:
    """The ways in which a height may be typed."""
    if session.job.unit == "inch":
        return tr("Digits, then Enter: 28 5/8, 28-5/8, 28.625, or 28+10 for sixteenths.")
    return tr("Digits, then Enter.")


def said_back(job: OpenJob, stage: StageKey, corner: Corner, mm: float, remarks: Sequence[Remark] = ()) -> str:
    """`RIGHT REAR 28 11/16, unloaded 29 3/16, down 1/2, up 7/16 since trial 1.`."""
    parts = [f"{corner_name(corner).upper()} {_figure(job, mm, remarks)}"]
    if stage[0] != REFERENCE_STAGE:
        keys = [each.key for each in job.session.stages]
        before = keys[: keys.index(stage)] if stage in keys else keys
        for key in dict.fromkeys((*before[:1], *before[-1:])):
            earlier = job.session.stage(key)
            was = earlier.corner(corner).mean_mm if earlier is not None else None
            if was is not None:
                parts += _against(job, key, was, mm)
    return ", ".join(parts) + "."


def _against(job: OpenJob, key: StageKey, was_mm: float, mm: float) -> tuple[str, ...]:
    change = job.wording.change(mm - was_mm)
    if key[0] == REFERENCE_STAGE:
        return (f"{short_title(key)} {_height(job, was_mm)}", change)
    return (tr("{change} since {stage}", change=change, stage=short_title(key)),)


def short_title(key: StageKey) -> str:
    """A stage in a word or two, where its own sentence follows."""
    if key == ("loaded", 1):
        return tr("loaded")
    return tr("trial {number}", number=key[1]) if key[0] == "fitted" else stage_title(key)


def _figure(job: OpenJob, mm: float, remarks: Sequence[Remark]) -> str:
    """To the tape's marks; a height between them as exactly as it was typed."""
    return job.wording.exact(mm) if any(r.code in ONLY_TOLD for r in remarks) else _height(job, mm)


def _height(job: OpenJob, mm: float) -> str:
    """Without its unit where that is the one the job is read in."""
    read_in = "inch" if job.session.job.unit == "inch" else "metric"
    return job.wording.height(mm) if job.wording.units == read_in else job.wording.height_with_unit(mm)


def _doubt(job: OpenJob, corner: Corner, mm: float, remarks: Sequence[Remark]) -> str:
    found = [remark_words(each, corner, job.wording) for each in remarks if each.code not in ONLY_TOLD]
    if not found:
        return ""
    return f"{corner_name(corner).upper()} {_figure(job, mm, remarks)}. {found[0]}"


@dataclass(frozen=True, slots=True)
class ReasonAsked:
    """Why a corner is skipped."""

    stage: StageKey
    corner: Corner

    @property
    def free(self) -> bool:
        """In words."""
        return True

    def prompt(self, _job: OpenJob) -> str:
        """`Why is right rear skipped?`."""
        return tr("Why is {corner} skipped? Number or words:", corner=corner_name(self.corner))

    def opening(self, _job: OpenJob) -> tuple[str, ...]:
        """The usual reasons."""
        return numbered(skip_reasons())

    def answer(self, job: OpenJob, text: str) -> Reply:
        """One of the usual reasons by its number, or words."""
        usual = skip_reasons()
        place = chosen(text, len(usual))
        reason = text if place is None else usual[place]
        if not reason:
            return Reply(said=(tr("Nothing is skipped."),))
        return skipped(job, self.stage, self.corner, reason)


def skipped(job: OpenJob, stage: StageKey, corner: Corner, reason: str) -> Reply:
    """A corner skipped for this reason."""
    try:
        events = skip_corner(job.session, corner=corner, stage=stage, reason=reason)
    except Refusal as error:
        return refused(error)
    return Reply(
        events=events,
        kept=tr("{corner} skipped: {reason}.", corner=corner_name(corner).upper(), reason=reason),
    )
