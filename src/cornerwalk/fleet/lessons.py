"""What one job teaches the next, kept beside the library so that thousands of files are read once.

A lesson is what is left of a session when only its repeats, its slopes, its ride rate and its pressures matter. Lessons
are kept in `.lessons.json`, which only saves time: it can be thrown away, and a lesson counts only while its file is
unchanged and the program is the one that drew it.
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
from cornerwalk.assess.compare import estimate
from cornerwalk.assess.uncertainty import Estimate, Spread, place_u_of_repeats
from cornerwalk.fleet.sources import technician_of
from cornerwalk.session import Event, Session
from cornerwalk.session.corners import CLOCKWISE
from cornerwalk.session.parts import Stage
from cornerwalk.session.stages import AIR_STAGES
from cornerwalk.standards import Standards
from cornerwalk.store import Disk, StoreError, Summary
from cornerwalk.store.disk import write_lightly
from cornerwalk.store.holder import this_program
from cornerwalk.store.names import temporary_path
from cornerwalk.store.reading import Signature, read_bytes
from cornerwalk.store.stored import stored_session

CACHE = ".lessons.json"

Progress = Callable[[int, int], None]
"""Told how many files were read, and of how many that had to be."""

_FORMAT = "cornerwalk lessons 1"
_MOST_BYTES = 256 * 1024 * 1024
_TOLD_EVERY = 50


@dataclass(frozen=True, slots=True)
class Air:
    """The pressures of a stage, kPa gauge: in joined lines, or left and right."""

    both_kPa: float | None
    left_kPa: float | None
    right_kPa: float | None


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


def lesson_of(session: Session, events: Iterable[Event], assessment: Assessment) -> Lesson:
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
        for corner in CLOCKWISE:
            readings = stage.corner(corner).readings
            if len(readings) > 1:
                yield tuple(reading.mm for reading in readings)


def _air(stage: Stage) -> Air | None:
    air = Air(stage.pressure_kPa, stage.left_kPa, stage.right_kPa)
    return None if air == Air(None, None, None) else air


def lessons_of(
    summaries: Iterable[Summary], folder: Path, standards: Standards, progress: Progress | None = None
) -> list[Lesson]:
    """The lessons of these sessions of one library, the job worked on last first; damaged ones teach nothing.

    Args:
        summaries: as the library lists them, all of them or those of one vehicle.
        folder: the library's, where the lessons are kept.
        standards: what the sessions are judged by.
        progress: told now and then, while files have to be read.
    """
    key = _key(standards)
    known = _read(folder, key)
    rows: dict[str, _Row] = {}
    wanted = []
    for summary in summaries:
        with suppress(OSError):
            signature = Signature.of(summary.path.lstat())
            row = known.get(summary.name)
            rows[summary.name] = row if row is not None and row.signature == signature else _Row(signature, None)
            if row is None or row.signature != signature:
                wanted.append((summary.path, signature))
    for done, (path, signature) in enumerate(wanted, 1):
        rows[path.name] = _Row(signature, _drawn(path, standards))
        if progress is not None and (done % _TOLD_EVERY == 0 or done == len(wanted)):
            progress(done, len(wanted))
    if wanted:
        _write(folder, key, {**known, **rows})
    return [row.lesson for row in rows.values() if row.lesson is not None]


def _drawn(path: Path, standards: Standards) -> Lesson | None:
    try:
        data, _ = read_bytes(Disk(), path)
        stored = stored_session(path, data)
    except StoreError:
        return None
    if stored.damage is not None:
        return None
    return lesson_of(stored.session, stored.events, assess(stored.session, standards))


# ---- kept beside the library ----


@dataclass(frozen=True, slots=True)
class _Row:
    """What a file looked like, and its lesson; None for one that teaches nothing."""

    signature: Signature
    lesson: Lesson | None


def _key(standards: Standards) -> list[Any]:
    """What the lessons rest on besides the files: drawn with another program or another default, they are no use."""
    return [_FORMAT, __version__, standards.limits["place-u"].value]


def _read(folder: Path, key: list[Any]) -> dict[str, _Row]:
    try:
        data, _ = read_bytes(Disk(), folder / CACHE, most=_MOST_BYTES)
        plain = json.loads(data)
        if plain["key"] != key:
            return {}
        return {name: _row(row) for name, row in plain["rows"].items()}
    except (StoreError, ValueError, TypeError, LookupError, AttributeError, RecursionError):
        return {}


def _row(plain: list[Any]) -> _Row:
    number, size, changed, lesson = plain
    return _Row(Signature(number, size, changed), None if lesson is None else _lesson(lesson))


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


def _write(folder: Path, key: list[Any], rows: Mapping[str, _Row]) -> None:
    """Keep the lessons of files that are still there, if the disk will."""
    there = set()
    with suppress(OSError):
        there = set(os.listdir(folder))  # noqa: PTH208 - names alone are wanted
    plain = {
        name: [
            row.signature.number,
            row.signature.bytes,
            row.signature.changed_ns,
            None if row.lesson is None else asdict(row.lesson),
        ]
        for name, row in rows.items()
        if name in there
    }
    text = json.dumps({"key": key, "rows": plain}, ensure_ascii=True, separators=(",", ":"))
    path = folder / CACHE
    with suppress(OSError):
        write_lightly(Disk(), path, text.encode(), temporary=temporary_path(path, this_program()))
