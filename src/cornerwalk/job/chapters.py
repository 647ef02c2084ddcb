"""Chapters of the job: what each is called, holds, asks and comes to, and what leaving it out costs. One row a chapter.

Heights are read on the walk: their chapters ask nothing here. The order, and how far each one is, are the session's.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from typing import LiteralString

from cornerwalk.job.checks import before_lines, stops_panel
from cornerwalk.job.fitting import fitting_lines
from cornerwalk.job.handover import handover_lines, handover_panel
from cornerwalk.job.intake import intake_lines, intake_panel
from cornerwalk.job.leak import leak_lines, leak_panel
from cornerwalk.job.notice import Notice
from cornerwalk.job.open_job import OpenJob
from cornerwalk.job.question import Question
from cornerwalk.job.road import follow_up_lines, follow_up_panel, road_lines, road_panel
from cornerwalk.session.chapters import CHAPTERS, Chapter
from cornerwalk.session.hold_test import hours_since, running_tests
from cornerwalk.session.stages import ChapterId
from cornerwalk.words import tr


def _nothing(_job: OpenJob) -> tuple[()]:
    return ()


@dataclass(frozen=True, slots=True)
class ChapterKind:
    """One chapter.

    Attributes:
        id: as the session knows it.
        title: what it is called; English, like the next two.
        about: what it holds.
        cost: what leaving it out costs.
        questions: its lines as the job stands; none where the walk reads its heights.
        panel: what they come to.
    """

    id: ChapterId
    title: LiteralString
    about: LiteralString
    cost: LiteralString
    questions: Callable[[OpenJob], tuple[Question, ...]] = _nothing
    panel: Callable[[OpenJob], tuple[Notice, ...]] = _nothing

    @property
    def walked(self) -> bool:
        """Its heights are read on the walk."""
        return self.questions is _nothing


_ROWS = (
    ChapterKind(
        "intake",
        "Intake",
        "The customer's question; vehicle, ratings, lamps, kit, loads, hitch, the scale; presets.",
        "Left out: heights are still told, but no tilt, beam, axle load or limit.",
        intake_lines,
        intake_panel,
    ),
    ChapterKind(
        "before",
        "Before anything is changed",
        "What can end the job at once, what the height touches, what is found on the vehicle.",
        "Left out: a brake valve that forbids the springs is not seen, and old damage becomes yours.",
        before_lines,
        stops_panel,
    ),
    ChapterKind(
        "unloaded",
        "Heights unloaded",
        "The four heights that every change is counted from, under the same conditions each time.",
        "The job waits for this: without it nothing can be called a change.",
    ),
    ChapterKind(
        "loaded",
        "Heights loaded, no air",
        "The four heights as it will be driven, no air in: how far it hangs, where the beam points.",
        "The job waits for this: without it nobody knows what the springs have to bring back.",
    ),
    ChapterKind(
        "fitting",
        "Fitting",
        "The work in its order, each caution at its step, and the torques by the maker's figures.",
        "Left out: the record cannot show that it was done as the kit's sheet asks.",
        fitting_lines,
        stops_panel,
    ),
    ChapterKind(
        "air",
        "Air, trial by trial",
        "Pressure up in steps, the heights after each; which pressure brings it back, and how sure that is.",
        "With one trial only no pressure can be told, with two it can, with three it is checked.",
    ),
    ChapterKind(
        "leak",
        "Leak check",
        "Gauge and temperature at both ends of a night, soapy water on every joint, valve core and gauge.",
        "Left out: a slow leak is found by the customer, on the road.",
        leak_lines,
        leak_panel,
    ),
    ChapterKind(
        "road",
        "Road test",
        "The heights once more, what moved, what rubbed, what got hot; and the empty vehicle with air in.",
        "Left out: what settles or rubs shows only after miles.",
        road_lines,
        road_panel,
    ),
    ChapterKind(
        "handover",
        "Handover",
        "What was done, found and left; what the customer is told; the sheet and its code.",
        "Left out: the job stays open, and the customer has no sheet.",
        handover_lines,
        handover_panel,
    ),
    ChapterKind(
        "follow-up",
        "Follow-up",
        "Days or months later: the heights again, held against those of the handover.",
        "Left out: nothing; it is there for when the vehicle comes back.",
        follow_up_lines,
        follow_up_panel,
    ),
)

CHAPTER_KINDS: dict[ChapterId, ChapterKind] = {row.id: row for row in _ROWS}


def chapter_state(job: OpenJob, chapter: Chapter, now: datetime) -> str:
    """How far it is, in a few words."""
    if chapter.id == "leak" and running_tests(job.session):
        hours = hours_since(running_tests(job.session)[0], now)
        return tr("holding for {hours}", hours=job.wording.hours(hours)) if hours is not None else tr("holding")
    if chapter.id == "handover":
        return tr("done") if chapter.done else tr("open")
    if chapter.id == "follow-up" and not chapter.done:
        return ""
    if chapter.id == "air":
        trials = len(job.session.trials)
        return tr("{count} trials", count=trials) if trials != 1 else tr("1 trial")
    return tr("{done} of {total}", done=chapter.done, total=chapter.total)


def chapter_with(job: OpenJob, line_id: str) -> ChapterKind | None:
    """The chapter of this job that asks a line, by the line's id; None where none does."""
    kinds = (CHAPTER_KINDS[chapter] for chapter in CHAPTERS[job.session.job.kind])
    return next((kind for kind in kinds if any(line.id == line_id for line in kind.questions(job))), None)
