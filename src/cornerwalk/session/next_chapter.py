"""Which chapter of the job comes next: the one thing to do, everything else may wait or be left.

The heights are the only thing a job waits for: where a stage is half read, its chapter is next. Of the rest the chapter
begun last tells how far the job is. What was passed over before it is left, and stays marked as such.
"""

from __future__ import annotations

from collections.abc import Sequence

from cornerwalk.session.chapters import INTAKE_FACTS, Chapter, chapters
from cornerwalk.session.checklist import Checklists
from cornerwalk.session.hold_test import running
from cornerwalk.session.parts import Session
from cornerwalk.session.stages import STAGE, ChapterId
from cornerwalk.session.walk import ReadCorner, due

ANY_ANSWER_IS_ENOUGH: frozenset[ChapterId] = frozenset(("intake",))
"""Chapters of facts, of which no job has all: once begun they need not be come back to."""

STATED_BY_SETTINGS = ("lamps.rule",)
"""Facts of the intake that a technician's settings state; they are no sign that it was begun."""

_CLOSING: tuple[ChapterId, ...] = ("handover", "follow-up")


def next_chapter(session: Session, checklists: Checklists) -> ChapterId | None:
    """The chapter to do next; None once the vehicle is handed over, until the job is taken up again."""
    return next_of(chapters(session, checklists), session)


def next_of(listed: Sequence[Chapter], session: Session) -> ChapterId | None:
    """As `next_chapter`, from the chapters as they are listed."""
    if not session.open:
        return None
    asked = due(session)
    if session.current is not None and isinstance(asked, ReadCorner):
        return STAGE[asked.stage[0]].chapter
    if session.handovers:
        return "handover" if _followed_up(session) else "follow-up"
    work = [chapter for chapter in listed if chapter.id not in _CLOSING]
    begun = [place for place, chapter in enumerate(work) if _begun(chapter, session)]
    if not begun:
        return work[0].id
    last = begun[-1]
    if not _settled(work[last], session):
        return work[last].id
    if last + 1 < len(work):
        return work[last + 1].id
    return "leak" if running(session) else "handover"


def _begun(chapter: Chapter, session: Session) -> bool:
    """Something of it is done; for the intake, something beyond what the settings state in every new job."""
    if chapter.id != "intake":
        return chapter.state != "not begun"
    asked = (*INTAKE_FACTS, "job.customer", "job.complaint")
    return bool(session.loads) or any(name in session.entered for name in asked if name not in STATED_BY_SETTINGS)


def _settled(chapter: Chapter, session: Session) -> bool:
    """Nothing is to be done there now: a hold test that only has to stand is waited for with other work."""
    if chapter.state == "done" or chapter.id in ANY_ANSWER_IS_ENOUGH:
        return True
    return chapter.id == "leak" and bool(running(session)) and chapter.done >= chapter.total - 1


def _followed_up(session: Session) -> bool:
    """The heights were read since the last handover: one follow-up stage for each."""
    return sum(stage.name == "follow-up" for stage in session.stages) >= len(session.handovers)


__all__ = ["next_chapter", "next_of"]
