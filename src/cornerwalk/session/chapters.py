"""Chapters of a job: which a kind of job has, the progress of each, and which comes next.

Only the heights are required. Any other chapter may be skipped, and what was skipped is reported as not checked.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from cornerwalk.session.checklist import Checklist, Checklists
from cornerwalk.session.facts import FACTS
from cornerwalk.session.hold_test import SOAPED_JOINTS, running_tests
from cornerwalk.session.model import Session
from cornerwalk.session.stages import _STAGE_KINDS, ChapterId, JobKind, StageName
from cornerwalk.session.walk import ReadCorner, due

CHAPTERS: dict[JobKind, tuple[ChapterId, ...]] = {
    "fit": (
        "intake",
        "before",
        "unloaded",
        "loaded",
        "fitting",
        "air",
        "leak",
        "road",
        "handover",
        "follow-up",
    ),
    "adjust": ("intake", "before", "unloaded", "air", "leak", "road", "handover", "follow-up"),
    "load check": ("intake", "before", "unloaded", "loaded", "handover", "follow-up"),
}

BEFORE_CHECKLISTS = ("found", "touches")
"""Checklists to answer before anything is changed; the conditions are asked at each stage."""

INTAKE_FACTS: tuple[str, ...] = tuple(
    name for name, fact in FACTS.items() if fact.part in ("vehicle", "kit", "hitch", "trailer", "lamps")
)


@dataclass(frozen=True, slots=True)
class Chapter:
    """The progress of a chapter: `done` of `total` entries. A total of 0 means nothing to count."""

    id: ChapterId
    done: int
    total: int

    @property
    def state(self) -> Literal["not begun", "begun", "done"]:
        """The progress in a word."""
        if self.done == 0:
            return "not begun"
        return "done" if self.done >= self.total else "begun"


def chapters(session: Session, checklists: Checklists) -> tuple[Chapter, ...]:
    """The chapters of this kind of job with their progress."""
    return tuple(_chapter(session, checklists, chapter) for chapter in CHAPTERS[session.job.kind])


def answer_count(session: Session, checklist: Checklist) -> int:
    """How many questions of a checklist have an answer, at any stage."""
    given = {answer.check for answer in session.answers}
    return sum(item.id in given for item in checklist.items)


def _chapter(session: Session, checklists: Checklists, chapter: ChapterId) -> Chapter:
    match chapter:
        case "intake":
            stated = sum(name in session.entered for name in INTAKE_FACTS)
            return Chapter(chapter, stated + bool(session.loads), len(INTAKE_FACTS) + 1)
        case "before":
            lists = [checklists[name] for name in BEFORE_CHECKLISTS]
            return Chapter(chapter, sum(answer_count(session, c) for c in lists), sum(len(c.items) for c in lists))
        case "unloaded" | "loaded":
            return Chapter(chapter, _settled_corners(session, chapter), 4)
        case "fitting":
            checklist = checklists["fitting"]
            return Chapter(chapter, answer_count(session, checklist), len(checklist.items))
        case "air":
            return Chapter(chapter, sum(stage.all_read for stage in session.trials), 2)
        case "leak":
            ends = sum(reading.moment == "end" for reading in session.leak_readings)
            begun = sum(reading.moment == "start" for reading in session.leak_readings)
            soaped = len({joint.joint for joint in session.joints} & set(SOAPED_JOINTS))
            return Chapter(chapter, bool(begun) + bool(ends) + soaped, 2 + len(SOAPED_JOINTS))
        case "road":
            checklist = checklists["road"]
            corners = _settled_corners(session, "road-test")
            return Chapter(chapter, answer_count(session, checklist) + corners, len(checklist.items) + 4)
        case "handover":
            return Chapter(chapter, int(bool(session.handovers)), 1)
        case "follow-up":  # pragma: no branch - there is no other chapter, which the type checker holds
            return Chapter(chapter, _settled_corners(session, "follow-up"), 4)


def _settled_corners(session: Session, name: StageName) -> int:
    stage = session.first_stage(name)
    if stage is None:
        return 0
    return sum(bool(record.readings) or record.skipped is not None for record in stage.corners.values())


# ---- next chapter ----
#
# A half-read stage comes first. Otherwise the last chapter that was begun tells how far the job is; chapters skipped
# before it stay skipped, and are marked so.

OPEN_ENDED_CHAPTERS: frozenset[ChapterId] = frozenset(("intake",))
"""Chapters of facts, of which no job has all: once begun, they do not come next again."""

FACTS_FROM_SETTINGS = ("lamps.rule",)
"""Facts of the intake that come from the technician's settings; they do not count as a beginning."""

_CLOSING: tuple[ChapterId, ...] = ("handover", "follow-up")


def next_chapter(session: Session, checklists: Checklists) -> ChapterId | None:
    """The chapter to do next; None while the vehicle is handed over and the job not reopened."""
    return next_chapter_of(chapters(session, checklists), session)


def next_chapter_of(listed: Sequence[Chapter], session: Session) -> ChapterId | None:
    """As `next_chapter`, given the chapters."""
    if not session.open:
        return None
    asked = due(session)
    if session.current_stage is not None and isinstance(asked, ReadCorner):
        return _STAGE_KINDS[asked.stage[0]].chapter
    if session.handovers:
        return "handover" if _is_followed_up(session) else "follow-up"
    work = [chapter for chapter in listed if chapter.id not in _CLOSING]
    begun = [place for place, chapter in enumerate(work) if _is_started(chapter, session)]
    if not begun:
        return work[0].id
    last = begun[-1]
    if not _is_settled(work[last], session):
        return work[last].id
    if last + 1 < len(work):
        return work[last + 1].id
    return "leak" if running_tests(session) else "handover"


def _is_started(chapter: Chapter, session: Session) -> bool:
    """Whether anything of it is done; for the intake, anything beyond what the settings put into every new job."""
    if chapter.id != "intake":
        return chapter.state != "not begun"
    asked = (*INTAKE_FACTS, "job.customer", "job.complaint")
    return bool(session.loads) or any(name in session.entered for name in asked if name not in FACTS_FROM_SETTINGS)


def _is_settled(chapter: Chapter, session: Session) -> bool:
    """Whether nothing is to be done there now: while a hold test runs, other work goes on."""
    if chapter.state == "done" or chapter.id in OPEN_ENDED_CHAPTERS:
        return True
    return chapter.id == "leak" and bool(running_tests(session)) and chapter.done >= chapter.total - 1


def _is_followed_up(session: Session) -> bool:
    """Whether the heights were read since the last handover: one follow-up stage for each."""
    return sum(stage.name == "follow-up" for stage in session.stages) >= len(session.handovers)


__all__ = [
    "BEFORE_CHECKLISTS",
    "CHAPTERS",
    "INTAKE_FACTS",
    "Chapter",
    "ChapterId",
    "answer_count",
    "chapters",
    "next_chapter",
    "next_chapter_of",
]
