"""The whole job as chapters, in its order: what each kind of job holds, how far each chapter is, what a skip costs.

Only the heights are ever waited for; every other chapter may be left, and what was left is said as not checked.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from cornerwalk.session.checklist import Checklist, Checklists
from cornerwalk.session.facts import FACTS
from cornerwalk.session.hold_test import SOAPED_JOINTS
from cornerwalk.session.parts import Session
from cornerwalk.session.stages import ChapterId, JobKind, StageName

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

BEFORE_LISTS = ("found", "touches")
"""Checklists answered before anything is changed; the conditions are asked at each stage."""

INTAKE_FACTS: tuple[str, ...] = tuple(
    name for name, fact in FACTS.items() if fact.part in ("vehicle", "kit", "hitch", "trailer", "lamps")
)


@dataclass(frozen=True, slots=True)
class Chapter:
    """How far a chapter is: `done` of `total` entries. A total of 0 has nothing to count."""

    id: ChapterId
    done: int
    total: int

    @property
    def state(self) -> Literal["not begun", "begun", "done"]:
        """In a word."""
        if self.done == 0:
            return "not begun"
        return "done" if self.done >= self.total else "begun"


def chapters(session: Session, checklists: Checklists) -> tuple[Chapter, ...]:
    """The chapters of this kind of job, each with how far it is."""
    return tuple(_chapter(session, checklists, chapter) for chapter in CHAPTERS[session.job.kind])


def answered(session: Session, checklist: Checklist) -> int:
    """How many questions of a list have an answer, at any stage."""
    given = {answer.check for answer in session.answers}
    return sum(item.id in given for item in checklist.items)


def _chapter(session: Session, checklists: Checklists, chapter: ChapterId) -> Chapter:
    match chapter:
        case "intake":
            stated = sum(name in session.entered for name in INTAKE_FACTS)
            return Chapter(chapter, stated + bool(session.loads), len(INTAKE_FACTS) + 1)
        case "before":
            lists = [checklists[name] for name in BEFORE_LISTS]
            return Chapter(chapter, sum(answered(session, c) for c in lists), sum(len(c.items) for c in lists))
        case "unloaded" | "loaded":
            return Chapter(chapter, _corners_settled(session, chapter), 4)
        case "fitting":
            checklist = checklists["fitting"]
            return Chapter(chapter, answered(session, checklist), len(checklist.items))
        case "air":
            return Chapter(chapter, sum(stage.all_read for stage in session.trials), 2)
        case "leak":
            ends = sum(reading.moment == "end" for reading in session.leak_readings)
            begun = sum(reading.moment == "start" for reading in session.leak_readings)
            soaped = len({joint.joint for joint in session.joints} & set(SOAPED_JOINTS))
            return Chapter(chapter, bool(begun) + bool(ends) + soaped, 2 + len(SOAPED_JOINTS))
        case "road":
            checklist = checklists["road"]
            corners = _corners_settled(session, "road-test")
            return Chapter(chapter, answered(session, checklist) + corners, len(checklist.items) + 4)
        case "handover":
            return Chapter(chapter, int(bool(session.handovers)), 1)
        case "follow-up":  # pragma: no branch - there is no other chapter, which the type checker holds
            return Chapter(chapter, _corners_settled(session, "follow-up"), 4)


def _corners_settled(session: Session, name: StageName) -> int:
    stage = session.first(name)
    if stage is None:
        return 0
    return sum(bool(record.readings) or record.skipped is not None for record in stage.corners.values())


__all__ = ["BEFORE_LISTS", "CHAPTERS", "INTAKE_FACTS", "Chapter", "ChapterId", "answered", "chapters"]
