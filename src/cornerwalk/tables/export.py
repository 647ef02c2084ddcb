"""Export of a library as tidy tables, in one process or on many machines, with the same files either way.

FOLDER/parquet/TABLE/year=2026/month=05/part-00003.parquet
FOLDER/jsonl/TABLE.jsonl
FOLDER/csv/TABLE.csv
FOLDER/dictionary.csv      every table and column, with unit and meaning
FOLDER/left_out.csv        files that could not be exported, and why
FOLDER/export.json         what the folder is, and which files of it were written by the export
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from cornerwalk import __version__
from cornerwalk.report.results_csv import ENCODING
from cornerwalk.standards import Standards
from cornerwalk.store import Summary
from cornerwalk.tables.catalog import LEFT_OUT, TABLES, dictionary
from cornerwalk.tables.chunks import (
    JOBS_IN_CHUNK,
    Chunk,
    ChunkResult,
    EventFilter,
    LeftOut,
    Work,
    chunk_result,
    chunks_of,
    write_chunk,
)
from cornerwalk.tables.engines import engine
from cornerwalk.tables.export_folder import new_folder, write_manifest
from cornerwalk.tables.formats import FORMATS, Format, csv_text, join_parts

VERSION = 1
"""Goes up when a column changes its meaning, unit or kind, or is removed; not when a column is added."""

Progress = Callable[[int, int], None]
"""Called with how many jobs are done, of how many."""

_CHUNKS = "chunks"


@dataclass(frozen=True, slots=True)
class ExportResult:
    """What was written: how many sessions, how many rows of each table, and the files left out."""

    folder: Path
    sessions: int
    rows: Mapping[str, int]
    left_out: tuple[LeftOut, ...]


def export(
    summaries: Iterable[Summary],
    folder: Path,
    *,
    standards: Standards,
    scheduler: str | None = None,
    formats: Sequence[Format] = FORMATS,
    event_filter: EventFilter = tuple,
    progress: Progress | None = None,
    jobs_in_chunk: int = JOBS_IN_CHUNK,
) -> ExportResult:
    """Write the sessions as tables into a folder, in the place of what an earlier export wrote there.

    Args:
        summaries: what is exported, as a library lists it.
        folder: new, empty, or an earlier export.
        standards: what the sessions are judged by.
        scheduler: None for this process, "local" for a process for each processor of this machine, or the address of
            a Dask scheduler whose workers see both the library and the folder under the same names.
        formats: which of Parquet, JSON Lines and CSV.
        event_filter: which events of each session are exported, and as what.
        progress: called after each chunk.
        jobs_in_chunk: size of the unit of work; other sizes give other Parquet files, of the same rows.

    Raises:
        MissingEngineError: the extra [fleet] is not installed.
        NotAnExportError: the folder holds something else; nothing was done.
        ClusterError: the scheduler or its workers cannot do it.
        OSError: the disk failed; what was in the folder is as it was.
    """
    if "parquet" in formats:
        engine("pyarrow.parquet")
    chunks = chunks_of(_by_job(summaries), jobs_in_chunk)
    with new_folder(folder) as new:
        parts = new / _CHUNKS
        parts.mkdir()
        _write(chunks, Work.of(parts.resolve(), formats, standards, event_filter), scheduler, progress)
        done = [chunk_result(chunk, parts) for chunk in chunks]
        join_parts([each.folder for each in done], new, formats)
        exported = _sum_up(folder, done)
        _remove_parts(parts)
        _write_lists(new, exported)
    return exported


def _by_job(summaries: Iterable[Summary]) -> list[list[Path]]:
    """The files of each job, the last one worked on first: a job counted twice would spoil every answer."""
    jobs: dict[str, list[Path]] = {}
    ordered = sorted(summaries, key=lambda each: (each.last_moment, each.name, str(each.path)), reverse=True)
    for summary in ordered:
        jobs.setdefault(summary.id or str(summary.path), []).append(summary.path)
    return list(jobs.values())


def _write(chunks: Sequence[Chunk], work: Work, scheduler: str | None, progress: Progress | None) -> None:
    total = sum(len(chunk.jobs) for chunk in chunks)
    written = 0

    def on_written(chunk: Chunk) -> None:
        nonlocal written
        written += len(chunk.jobs)
        if progress is not None:
            progress(written, total)

    if scheduler is None:
        for chunk in chunks:
            write_chunk(chunk, work)
            on_written(chunk)
    elif chunks:
        from cornerwalk.tables.cluster import write_on_cluster

        write_on_cluster(chunks, work, scheduler, on_written)


def _sum_up(folder: Path, done: Sequence[ChunkResult]) -> ExportResult:
    rows = Counter({table.name: 0 for table in TABLES})
    for each in done:
        rows.update(each.rows)
    left_out = sorted((one for each in done for one in each.left_out), key=lambda one: (one.file, one.reason))
    return ExportResult(folder, rows["sessions"], dict(rows), tuple(left_out))


def _remove_parts(parts: Path) -> None:
    """Remove them; a worker that is still at a chunk which another did meanwhile finds the folder gone, and ends."""
    import shutil

    shutil.rmtree(parts.rename(parts.with_name(f"{parts.name}-done")))


def _write_lists(folder: Path, exported: ExportResult) -> None:
    left_out = [[name for name, _ in LEFT_OUT], *([each.file, each.reason] for each in exported.left_out)]
    (folder / "left_out.csv").write_bytes(csv_text(left_out).encode(ENCODING))
    (folder / "dictionary.csv").write_bytes(csv_text(dictionary()).encode(ENCODING))
    about = {"version": VERSION, "program": __version__, "sessions": exported.sessions, "rows": dict(exported.rows)}
    write_manifest(folder, {**about, "left_out": len(exported.left_out)})
