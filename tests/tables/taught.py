"""Lessons by hand, and those of a folder."""

from __future__ import annotations

from pathlib import Path

from cornerwalk.assess.estimate import Estimate, Spread
from cornerwalk.store import Library
from cornerwalk.tables.lessons import Air, Lesson, Progress, lessons_of
from cornerwalk.wording.figures import Wording
from tests.support.clock import FrozenClock
from tests.support.jobs import standards

INCH = Wording.for_tape("inch", 25.4 / 16)


def library(folder: Path) -> Library:
    return Library(folder, clock=FrozenClock(), by="MT")


def lessons(folder: Path, progress: Progress | None = None) -> list[Lesson]:
    return lessons_of(library(folder).summaries(), folder, standards(), progress)


def lesson(
    session: str = "a",
    *,
    opened_at: str = "2026-05-04T08:00:00-06:00",
    technician: str = "MT",
    vehicle: str = "van",
    registration: str = "",
    kit: str = "kit A",
    placing: Spread | None = None,
    corners: int = 0,
    slope: Estimate | None = None,
    rate: Estimate | None = None,
    began: float | None = None,
    left: float | None = None,
) -> Lesson:
    """A lesson by hand."""
    return Lesson(
        session=session,
        opened_at=opened_at,
        technician=technician,
        vehicle=vehicle,
        registration=registration,
        kit=kit,
        corners_repeated=corners,
        placing_mm=placing,
        slopes={} if slope is None else {"rear": slope},
        ride_rate=rate,
        began=None if began is None else Air(began, None, None),
        left=None if left is None else Air(left, None, None),
    )
