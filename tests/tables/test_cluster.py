"""The same export on a cluster of two processes: the same files, whatever happens to a worker meanwhile."""

from __future__ import annotations

import gc
import logging
import os
import signal
import subprocess
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from functools import partial
from pathlib import Path
from typing import Any

import dask
import distributed
import pytest

from cornerwalk import __version__
from cornerwalk.session import RecordedEvent
from cornerwalk.tables import cluster as on_cluster
from cornerwalk.tables.chunks import EventFilter, Work, chunk_result, chunks_of, write_chunk
from cornerwalk.tables.cluster import ClusterError
from cornerwalk.tables.export import _remove_parts, export
from tests.support.jobs import standards, worked_case
from tests.tables.conftest import Shop
from tests.tables.shop import everything, summaries, write_job


@contextmanager
def cluster_of(workers: int) -> Iterator[str]:
    """The address of a scheduler on this machine with so many worker processes, put up again whenever they die."""
    of_processes: Any = distributed.LocalCluster
    with (
        dask.config.set({"distributed.deploy.lost-worker-timeout": "1 hour"}),
        of_processes(
            n_workers=workers,
            threads_per_worker=1,
            processes=True,
            host="127.0.0.1",
            dashboard_address="127.0.0.1:0",
            silence_logs=logging.CRITICAL,
        ) as cluster,
    ):
        yield cluster.scheduler_address


@pytest.fixture(scope="module")
def address() -> Iterator[str]:
    """Two worker processes on this machine."""
    with cluster_of(2) as address:
        yield address


def dies_once(events: Sequence[RecordedEvent], marks: str) -> Sequence[RecordedEvent]:
    """Kills its own process in the middle of a chunk: once for each session chosen, when that is met."""
    session = events[0].payload.session  # type: ignore[union-attr]  # the first event opens the job
    mark = Path(marks) / session
    if mark.exists():
        mark.unlink()
        os.kill(os.getpid(), signal.SIGKILL)
    return events


def dies_always(events: Sequence[RecordedEvent]) -> Sequence[RecordedEvent]:
    os.kill(os.getpid(), signal.SIGKILL)
    return events


def fails_once(events: Sequence[RecordedEvent], mark: str) -> Sequence[RecordedEvent]:
    if Path(mark).exists():
        Path(mark).unlink()
        raise OSError(28, "No space left on device")
    return events


def export_one_job(folder: Path, scheduler: str, shown: EventFilter = tuple) -> None:
    """Export a library of one job, both in this folder."""
    write_job(folder / "library", "2026-05-04-job-11111111", worked_case())
    listed = summaries(folder / "library")
    export(listed, folder / "tables", standards=standards(), scheduler=scheduler, event_filter=shown)


def test_two_workers_write_what_one_process_writes(shop: Shop, tmp_path: Path, address: str) -> None:
    """Byte for byte the same files."""
    exported = export(
        summaries(shop.library), tmp_path / "tables", standards=standards(), scheduler=address, jobs_in_chunk=20
    )
    assert everything(tmp_path / "tables") == everything(shop.folder)
    assert exported.rows == shop.exported.rows


def test_a_worker_killed_in_the_middle_changes_nothing(shop: Shop, tmp_path: Path, address: str) -> None:
    """Workers die over the last job of two chunks; the chunks are done again, and no row is there twice or missing."""
    marks = tmp_path / "marks"
    marks.mkdir()
    listed = sorted(summaries(shop.library), key=lambda summary: summary.path.name)
    for position in (19, 63):
        (marks / listed[position].id).touch()
    shown = partial(dies_once, marks=str(marks))
    export(listed, tmp_path / "tables", standards=standards(), scheduler=address, jobs_in_chunk=20, event_filter=shown)
    assert list(marks.iterdir()) == []  # both did die
    assert everything(tmp_path / "tables") == everything(shop.folder)


def test_a_chunk_that_fails_once_is_tried_again(shop: Shop, tmp_path: Path, address: str) -> None:
    """A disk that is full for a moment is no end."""
    mark = tmp_path / "mark"
    mark.touch()
    export(
        summaries(shop.library),
        tmp_path / "tables",
        standards=standards(),
        scheduler=address,
        jobs_in_chunk=20,
        event_filter=partial(fails_once, mark=str(mark)),
    )
    assert not mark.exists()
    assert everything(tmp_path / "tables") == everything(shop.folder)


def test_a_job_that_kills_every_worker_is_told(tmp_path: Path, address: str) -> None:
    """The work is given up after a few deaths, in words, and the folder is as it was."""
    with pytest.raises(ClusterError, match="died again and again over part-00000"):
        export_one_job(tmp_path, address, shown=dies_always)
    assert [path.name for path in tmp_path.iterdir()] == ["library"]


def test_workers_that_are_all_gone_are_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The only worker dies and nobody puts up another: the work ends, in words, and does not wait for ever."""
    monkeypatch.setattr(on_cluster, "_NO_WORKER_S", 1)
    with cluster_of(0) as address:
        worker = subprocess.Popen(
            [sys.executable, "-m", "distributed.cli.dask_worker", address, "--no-nanny", "--no-dashboard"],
            stderr=subprocess.DEVNULL,
        )
        with pytest.raises(ClusterError, match="no worker was there"):
            export_one_job(tmp_path, address, shown=dies_always)
        worker.wait(timeout=60)
    assert [path.name for path in tmp_path.iterdir()] == ["library"]


def test_a_worker_that_goes_while_it_is_asked_is_not_asked_again(tmp_path: Path) -> None:
    """Of those that answer all must be able to do it; where none answers there is no worker."""
    work = Work.of(tmp_path, ("jsonl",), standards(), tuple)
    gone = OSError("Timed out trying to connect")
    on_cluster._probe(Answering({"a": gone, "b": (__version__, True)}), work, str(tmp_path))
    with pytest.raises(ClusterError, match="must lie on a disk that all workers share"):
        on_cluster._probe(Answering({"a": gone, "b": (__version__, False)}), work, str(tmp_path))
    with pytest.raises(ClusterError, match="the scheduler has no worker"):
        on_cluster._probe(Answering({"a": gone}), work, str(tmp_path))
    with pytest.raises(ModuleNotFoundError):
        on_cluster._probe(Answering({"a": gone, "b": ModuleNotFoundError("cornerwalk")}), work, str(tmp_path))


class Answering:
    """In place of a client: its workers answer this."""

    def __init__(self, answers: dict[str, object]) -> None:
        self.answers = answers

    def wait_for_workers(self, _count: int, timeout: float) -> None:
        """They are there."""

    def run(self, *_asked: object, on_error: str) -> dict[str, object]:
        """What each answers, or why it does not."""
        assert on_error == "return"
        return self.answers


def test_a_scheduler_that_is_not_there_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nobody listens at the address: said in words, and nothing is written."""
    monkeypatch.setattr(on_cluster, "_WAIT_S", 1)
    for scheduler in ("tcp://127.0.0.1:9", "no address"):
        with pytest.raises(ClusterError, match="there is no scheduler at"):
            export_one_job(tmp_path, scheduler)
        # What is left of a client that could not connect hangs the library if it is collected while another is made.
        left = [thing.status for thing in gc.get_objects() if isinstance(thing, distributed.Client)]
        assert set(left) <= {"closed"}
    assert [path.name for path in tmp_path.iterdir()] == ["library"]


@pytest.mark.parametrize(
    ("seen", "told"),
    [
        (("0.0.1", True), "has version 0.0.1 of cornerwalk"),
        (("0.1.0", False), "must lie on a disk that all workers share"),
    ],
)
def test_workers_that_cannot_do_it_are_told_before_anything_is_done(
    tmp_path: Path, address: str, monkeypatch: pytest.MonkeyPatch, seen: Any, told: str
) -> None:
    """Another version would give other figures, another disk none: both are asked for first."""
    monkeypatch.setattr(on_cluster, "_seen", partial(_answers, seen))
    with pytest.raises(ClusterError, match=told):
        export_one_job(tmp_path, address)
    assert [path.name for path in tmp_path.iterdir()] == ["library"]


def _answers(seen: Any, _folder: str, _session: str) -> Any:
    return seen


def test_the_same_chunk_twice_is_there_once(shop: Shop, tmp_path: Path) -> None:
    """Two workers that were given one chunk leave one whole part, and nothing beside it."""
    work = Work.of(tmp_path, ("parquet", "jsonl", "csv"), standards(), tuple)
    (chunk,) = chunks_of([[summary.path] for summary in summaries(shop.library)][:5])
    write_chunk(chunk, work)
    once = everything(tmp_path)
    write_chunk(chunk, work)
    assert everything(tmp_path) == once
    assert chunk_result(chunk, tmp_path).sessions == 5


@pytest.mark.slow
def test_a_cluster_of_our_own_writes_the_same(shop: Shop, tmp_path: Path) -> None:
    """`local` needs no scheduler: workers are started, used and ended."""
    export(summaries(shop.library), tmp_path / "tables", standards=standards(), scheduler="local", jobs_in_chunk=20)
    assert everything(tmp_path / "tables") == everything(shop.folder)


def test_a_worker_that_is_late_writes_nowhere(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A chunk that somebody else did meanwhile may still be being written when its parts are put away."""
    attempt = tmp_path / "chunks" / "part-00001.late"
    attempt.mkdir(parents=True)
    remove = os.rmdir

    def remove_while_it_is_written(*what: Any, **where: Any) -> None:
        with suppress(FileNotFoundError):
            (attempt / "sessions.csv").touch()
        remove(*what, **where)

    monkeypatch.setattr(os, "rmdir", remove_while_it_is_written)
    _remove_parts(tmp_path / "chunks")
    assert list(tmp_path.iterdir()) == []
