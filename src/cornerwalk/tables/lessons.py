"""Lessons: what one job teaches the next: its repeats, slopes, ride rate and pressures, cached beside the library."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import Any

from cornerwalk import __version__
from cornerwalk.assess import assess
from cornerwalk.assess.assessment import Assessment
from cornerwalk.assess.estimate import Estimate, Spread, estimate
from cornerwalk.assess.uncertainty import place_u_of_repeats
from cornerwalk.session import RecordedEvent, Session
from cornerwalk.session.model import Stage
from cornerwalk.session.stages import AIR_STAGES, CORNERS
from cornerwalk.standards import Standards
from cornerwalk.store import StoreError, Summary, file_signature, read_session
from cornerwalk.tables.session_cache import SessionCache

CACHE = ".lessons.json"

Progress = Callable[[int, int], None]
"""Called after each file that had to be read: how many are done, of how many. What it raises ends the reading."""

_FORMAT = "cornerwalk lessons 2"


@dataclass(frozen=True, slots=True)
class Air:
    """The pressures of a stage, kPa gauge: in joined lines, or left and right."""

    both_kPa: float | None
    left_kPa: float | None
    right_kPa: float | None

    @property
    def most_kPa(self) -> float:
        """The highest of them."""
        return max(kPa for kPa in (self.both_kPa, self.left_kPa, self.right_kPa) if kPa is not None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Lesson:
    """What one job teaches the next.

    Attributes:
        session: its id.
        opened_at: when it was opened, as recorded.
        corners_repeated: corners that were read more than once at a stage.
        placing_mm: what those readings show of placing the tape, pooled; None without any.
        slopes: height gained with pressure, mm/kPa, by line of air (rear, LR, RR).
        ride_rate: of the rear, N/mm.
        began: the air of the first trial, left: that of the last stage with air.
    """

    session: str
    opened_at: str
    technician: str
    vehicle: str
    registration: str
    kit: str
    corners_repeated: int
    placing_mm: Spread | None
    slopes: Mapping[str, Estimate]
    ride_rate: Estimate | None
    began: Air | None
    left: Air | None


def technician_of(session: Session, events: Sequence[RecordedEvent]) -> str | None:
    """Who read the heights: as stated, else who recorded the first of them, else who opened the job."""
    if session.job.technician.strip():
        return session.job.technician.strip()
    recorded = next((event.by for event in events if event.payload.kind == "height read"), None)
    return (recorded or (events[0].by if events else "")).strip() or None


def lesson_of(session: Session, events: Iterable[RecordedEvent], assessment: Assessment) -> Lesson:
    """The lesson of a session; pure."""
    air = [stage for stage in session.stages if stage.name in AIR_STAGES]
    repeats_mm = list(_repeats(session))
    return Lesson(
        session=session.id,
        opened_at=session.opened_at,
        technician=technician_of(session, tuple(events)) or "",
        vehicle=session.vehicle.description.strip(),
        registration=session.vehicle.registration.strip(),
        kit=session.kit.name.strip(),
        corners_repeated=len(repeats_mm),
        placing_mm=place_u_of_repeats(repeats_mm),
        slopes={
            line.where: slope
            for line in assessment.air
            if (slope := estimate(line.c1_mm_per_kPa, line.u_c1_mm_per_kPa)) is not None
        },
        ride_rate=estimate(assessment.ride_rate_N_per_mm, assessment.u_ride_rate_N_per_mm),
        began=_air(session.trials[0]) if session.trials else None,
        left=_air(air[-1]) if air else None,
    )


def _repeats(session: Session) -> Iterable[tuple[float, ...]]:
    for stage in session.stages:
        for corner in CORNERS:
            readings = stage.corner(corner).readings
            if len(readings) > 1:
                yield tuple(reading.mm for reading in readings)


def _air(stage: Stage) -> Air | None:
    air = Air(stage.pressure_kPa, stage.left_kPa, stage.right_kPa)
    return None if air == Air(None, None, None) else air


def lessons_of(
    summaries: Iterable[Summary], folder: Path, standards: Standards, progress: Progress | None = None
) -> list[Lesson]:
    """The lessons of these sessions of one library, in their order; damaged ones teach nothing.

    Args:
        summaries: of the sessions.
        folder: the library's, where the lessons are cached.
        standards: what the sessions are judged by.
        progress: called while files have to be read; what was read until it raises stays cached.
    """
    basis = (_FORMAT, __version__, standards.limits["place-u"].value)
    cache = SessionCache[Lesson | None](folder, CACHE, basis, encode=_encode, decode=_decode)
    lessons: dict[str, Lesson | None] = {}
    unread = []
    for summary in summaries:
        signature = file_signature(summary.path)
        if signature is None:
            continue
        try:
            lessons[summary.name] = cache.get(summary.name, signature)
        except KeyError:
            lessons[summary.name] = None
            unread.append((summary, signature))
    try:
        for done, (summary, signature) in enumerate(unread, 1):
            lesson = _read_lesson(summary.path, standards)
            lessons[summary.name] = lesson
            cache.put(summary.name, signature, lesson)
            if progress is not None:
                progress(done, len(unread))
    finally:
        cache.save()
    return [lesson for lesson in lessons.values() if lesson is not None]


def _read_lesson(path: Path, standards: Standards) -> Lesson | None:
    try:
        stored = read_session(path)
    except StoreError:
        return None
    if stored.damage is not None:
        return None
    return lesson_of(stored.session, stored.events, assess(stored.session, standards))


def _encode(lesson: Lesson | None) -> dict[str, Any] | None:
    if lesson is None:
        return None
    slopes = {place: _encode_figure(slope) for place, slope in lesson.slopes.items()}
    rate = None if lesson.ride_rate is None else _encode_figure(lesson.ride_rate)
    return {**asdict(replace(lesson, slopes={}, ride_rate=None)), "slopes": slopes, "ride_rate": rate}


def _encode_figure(figure: Estimate) -> dict[str, float]:
    return {"value": figure.value, "u": figure.u}


def _decode(plain: dict[str, Any] | None) -> Lesson | None:
    if plain is None:
        return None
    lesson = Lesson(
        **{
            **plain,
            "placing_mm": None if plain["placing_mm"] is None else Spread(**plain["placing_mm"]),
            "slopes": {place: Estimate(**slope) for place, slope in plain["slopes"].items()},
            "ride_rate": None if plain["ride_rate"] is None else Estimate(**plain["ride_rate"]),
            "began": None if plain["began"] is None else Air(**plain["began"]),
            "left": None if plain["left"] is None else Air(**plain["left"]),
        }
    )
    texts = (lesson.session, lesson.opened_at, lesson.technician, lesson.vehicle, lesson.registration, lesson.kit)
    if not all(isinstance(text, str) for text in texts):
        raise TypeError("no lesson of ours")
    return lesson
