"""What one job teaches the next, kept beside the library so that a file is read once.

A lesson is what is left of a session when only its repeats, its slopes, its ride rate and its pressures matter. Lessons
are kept in `.lessons.json`, a line each, which only saves time: it can be thrown away, and a lesson counts only while
its file is unchanged and the program is the one that drew it. Of thousands of lines only those asked for are read.
"""

from __future__ import annotations

import json
import os
from collections.abc import Callable, Iterable, Mapping
from contextlib import suppress
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from cornerwalk import __version__
from cornerwalk.assess import assess
from cornerwalk.assess.assessment import Assessment
from cornerwalk.assess.uncertainty import Estimate, Spread, estimate, place_u_of_repeats
from cornerwalk.session import RecordedEvent, Session
from cornerwalk.session.model import Stage
from cornerwalk.session.stages import AIR_STAGES, CORNERS
from cornerwalk.standards import Standards
from cornerwalk.store import Signature, StoreError, Summary, file_signature, read_cache, read_session, write_cache
from cornerwalk.tables.columns import technician_of

CACHE = ".lessons.json"

Progress = Callable[[int, int], None]
"""Told after each file that had to be read how many are done, and of how many. What it raises ends the reading."""

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
    """What a job teaches.

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
        summaries: of the sessions asked about.
        folder: the library's, where the lessons are kept.
        standards: what the sessions are judged by.
        progress: told while files have to be read; what was learned until it raises is kept.
    """
    head = _head(standards)
    known = _lines(folder, head)
    lessons: dict[str, Lesson | None] = {}
    wanted = []
    for summary in summaries:
        looks = file_signature(summary.path)
        if looks is None:
            continue
        lessons[summary.name] = None
        row = _row(known.get(json.dumps(summary.name), b""))
        if row is not None and row.looks == looks:
            lessons[summary.name] = row.lesson
        else:
            wanted.append((summary, looks))
    drawn: dict[str, bytes] = {}
    try:
        for done, (summary, looks) in enumerate(wanted, 1):
            lesson = _drawn(summary.path, standards)
            lessons[summary.name] = lesson
            name = json.dumps(summary.name)
            drawn[name] = _line(name, _Row(looks, lesson))
            if progress is not None:
                progress(done, len(wanted))
    finally:
        if drawn:
            _keep(folder, head, {**known, **drawn})
    return [lesson for lesson in lessons.values() if lesson is not None]


def _drawn(path: Path, standards: Standards) -> Lesson | None:
    try:
        stored = read_session(path)
    except StoreError:
        return None
    if stored.damage is not None:
        return None
    return lesson_of(stored.session, stored.events, assess(stored.session, standards))


# ---- kept beside the library ----


@dataclass(frozen=True, slots=True)
class _Row:
    """What a file looked like, and its lesson; None for one that teaches nothing."""

    looks: Signature
    lesson: Lesson | None


def _head(standards: Standards) -> bytes:
    """What the lessons rest on besides the files: drawn with another program or another default, they are no use."""
    return json.dumps([_FORMAT, __version__, standards.limits["place-u"].value]).encode()


def _lines(folder: Path, head: bytes) -> dict[str, bytes]:
    """The lines by the JSON text of their file's name; none where the first does not say that they are of use."""
    first, *lines = read_cache(folder, CACHE).split(b"\n")
    if first != head:
        return {}
    return {line[1 : line.find(b'",') + 1].decode("utf-8", "replace"): line for line in lines}


def _row(line: bytes) -> _Row | None:
    try:
        _, number, size, changed, lesson = json.loads(line)
        return _Row(Signature(number, size, changed), None if lesson is None else _lesson(lesson))
    except (ValueError, TypeError, LookupError, AttributeError, RecursionError):
        return None


def _line(name: str, row: _Row) -> bytes:
    plain = json.dumps([*row.looks, None if row.lesson is None else asdict(row.lesson)], separators=(",", ":"))
    return f"[{name},{plain[1:]}".encode()


def _lesson(plain: dict[str, Any]) -> Lesson:
    made = Lesson(
        **{
            **plain,
            "placing_mm": None if plain["placing_mm"] is None else Spread(**plain["placing_mm"]),
            "slopes": {place: Estimate(**slope) for place, slope in plain["slopes"].items()},
            "ride_rate": None if plain["ride_rate"] is None else Estimate(**plain["ride_rate"]),
            "began": None if plain["began"] is None else Air(**plain["began"]),
            "left": None if plain["left"] is None else Air(**plain["left"]),
        }
    )
    texts = (made.session, made.opened_at, made.technician, made.vehicle, made.registration, made.kit)
    if not all(isinstance(text, str) for text in texts):
        raise TypeError("no lesson of ours")
    return made


def _keep(folder: Path, head: bytes, lines: Mapping[str, bytes]) -> None:
    """Keep the lessons of files that are still there, if the disk will."""
    there: set[str] = set()
    with suppress(OSError):
        there = {json.dumps(name) for name in os.listdir(folder)}  # noqa: PTH208 - names alone are wanted
    write_cache(folder, CACHE, b"\n".join([head, *(line for name, line in lines.items() if name in there)]))
