"""Chunk of sessions: the unit of work of an export, written as one part of every table, by one process or by many.

Each attempt writes into a folder of its own and renames it when complete. Whether a worker dies halfway, or two
workers take the same chunk, its part is there once and complete, or not at all.
"""

from __future__ import annotations

import json
import os
import shutil
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, fields, replace
from pathlib import Path
from typing import Any

from cornerwalk.assess import assess
from cornerwalk.session import RecordedEvent, fold
from cornerwalk.standards import Standards
from cornerwalk.store import StoredSession, StoreError, read_session
from cornerwalk.tables.catalog import TableRows, rows_of
from cornerwalk.tables.columns import file_name
from cornerwalk.tables.formats import Format, write_part

JOBS_IN_CHUNK = 250
"""About 5 MB to read and two seconds of work; the same for any number of workers, so that the files are the same."""

EventFilter = Callable[[Sequence[RecordedEvent]], Sequence[RecordedEvent]]
"""Which events of a session are exported, and as what; a function at the top of a module, for other processes."""

_SUMMARY = "chunk.json"

JobFiles = tuple[str, ...]
"""The files of a job, the last one worked on first. The first undamaged one is exported."""


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A file that is not in the tables, and why, in English."""

    file: str
    reason: str


@dataclass(frozen=True, slots=True)
class Chunk:
    """Some jobs, each with the files that hold it; `number` gives their order and the names of the files written."""

    number: int
    jobs: tuple[JobFiles, ...]

    @property
    def part(self) -> str:
        """What its files are called."""
        return f"part-{self.number:05}"


@dataclass(frozen=True, slots=True)
class Work:
    """What is done with each chunk; can be sent to another process."""

    folder: str
    formats: tuple[Format, ...]
    standards: Mapping[str, Any]
    event_filter: EventFilter

    @classmethod
    def of(cls, folder: Path, formats: Sequence[Format], standards: Standards, event_filter: EventFilter) -> Work:
        """The work; a read-only mapping in the standards becomes a plain one, which can be sent."""
        values = {field.name: getattr(standards, field.name) for field in fields(standards)}
        plain = {name: dict(value) if isinstance(value, Mapping) else value for name, value in values.items()}
        return cls(str(folder), tuple(formats), plain, event_filter)


@dataclass(frozen=True, slots=True)
class ChunkResult:
    """How many rows of each table a chunk gave, and which files gave none."""

    folder: Path
    sessions: int
    rows: Mapping[str, int]
    left_out: tuple[LeftOut, ...]


def chunks_of(jobs: Sequence[Sequence[Path]], jobs_in_chunk: int = JOBS_IN_CHUNK) -> list[Chunk]:
    """The jobs in the order of their files' names, in chunks of one size."""
    files = (tuple(str(path.absolute()) for path in job) for job in jobs)
    ordered = sorted(files, key=lambda job: (Path(job[0]).name, job))
    starts = range(0, len(ordered), jobs_in_chunk)
    return [Chunk(n, tuple(ordered[start : start + jobs_in_chunk])) for n, start in enumerate(starts)]


def write_chunk(chunk: Chunk, work: Work) -> None:
    """Write a chunk's part of every table.

    Raises:
        MissingEngineError: this process lacks a table engine.
        OSError: the disk failed.
    """
    standards = Standards(**work.standards)
    done = Path(work.folder) / chunk.part
    attempt = done.with_name(f"{chunk.part}.{os.getpid()}-{os.urandom(4).hex()}")
    attempt.mkdir()
    left_out: list[LeftOut] = []
    try:
        rows = _rows(chunk, standards, work.event_filter, left_out)
        counts = write_part(attempt, chunk.part, rows, work.formats)
        summary = {"rows": counts, "left_out": [[each.file, each.reason] for each in left_out]}
        (attempt / _SUMMARY).write_text(json.dumps(summary), encoding="utf-8")
        _finish(attempt, done)
    finally:
        shutil.rmtree(attempt, ignore_errors=True)


def _rows(
    chunk: Chunk, standards: Standards, event_filter: EventFilter, left_out: list[LeftOut]
) -> Iterator[TableRows]:
    for job in chunk.jobs:
        stored = _first_whole(job, left_out)
        if stored is None:
            continue
        events = tuple(event_filter(stored.events))
        if events != stored.events:
            stored = replace(stored, events=events, session=fold(events))
        yield rows_of(stored, assess(stored.session, standards))


def _first_whole(job: JobFiles, left_out: list[LeftOut]) -> StoredSession | None:
    whole = None
    for path in map(Path, job):
        if whole is not None:
            reason = f"an earlier copy of the job that is in {file_name(whole.path)}"
            left_out.append(LeftOut(file_name(path), reason))
            continue
        try:
            stored = read_session(path)
        except StoreError as error:
            left_out.append(LeftOut(file_name(path), str(error)))
            continue
        if stored.damage is None:
            whole = stored
        else:
            reason = stored.damage.template.format(**stored.damage.fields)
            left_out.append(LeftOut(file_name(path), f"damaged: {reason}"))
    return whole


def _finish(attempt: Path, done: Path) -> None:
    try:
        attempt.rename(done)
    except OSError:
        if not done.is_dir():  # else another worker was faster, and its part is complete
            raise


def chunk_result(chunk: Chunk, folder: Path) -> ChunkResult:
    """The result of a chunk that is written.

    Raises:
        OSError, ValueError: it is not.
    """
    done = folder / chunk.part
    summary = json.loads((done / _SUMMARY).read_text(encoding="utf-8"))
    left_out = tuple(LeftOut(file, reason) for file, reason in summary["left_out"])
    return ChunkResult(done, summary["rows"]["sessions"], summary["rows"], left_out)
