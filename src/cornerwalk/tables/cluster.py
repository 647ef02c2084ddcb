"""Dask cluster: the same export on many machines. Each chunk goes to a worker, and to another if that one dies."""

from __future__ import annotations

import gc
import logging
import os
import time
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager, suppress
from typing import Any

from cornerwalk import __version__
from cornerwalk.tables.chunks import Chunk, Work, write_chunk
from cornerwalk.tables.engines import TablesError, engine

LOCAL = "local"
"""Instead of an address: workers on this machine, one for each processor."""

RETRIES = 2
"""Retries of a chunk that failed, because the disk was full for a moment, for example."""

_WAIT_S = 30
_NO_WORKER_S = 120
"""How long a cluster may have no worker: a busy machine takes a while to start another."""

_LOOK_EVERY_S = 1.0
_GIVEN_UP_AFTER = "distributed.deploy.lost-worker-timeout"
"""After this the library gives up for good a worker that is, at that moment, being put up again."""

_THIS_MACHINE = "127.0.0.1"


class ClusterError(TablesError):
    """The scheduler cannot be reached, or its workers cannot do the work."""


def write_on_cluster(chunks: Sequence[Chunk], work: Work, scheduler: str, on_written: Callable[[Chunk], None]) -> None:
    """Write every chunk on a cluster; `on_written` is called with each that is written.

    Raises:
        MissingEngineError: Dask is not installed here.
        ClusterError: no scheduler, no worker, a worker that does not see the folders or is of another version, or a
            chunk whose workers died again and again.
        OSError: a worker's disk failed.
    """
    distributed = engine("distributed")
    with _client(distributed, scheduler) as client:
        _probe(client, work, chunks[0].jobs[0][0])
        sent = {client.submit(write_chunk, chunk, work, retries=RETRIES, pure=False): chunk for chunk in chunks}
        for future in _as_they_end(distributed, client, sent):
            try:
                future.result()
            except distributed.scheduler.KilledWorker as error:
                raise ClusterError(
                    "the workers died again and again over {part}; nothing was exported", part=sent[future].part
                ) from error
            on_written(sent[future])


def _as_they_end(distributed: Any, client: Any, sent: Iterable[Any]) -> Iterator[Any]:
    """The submitted work as it ends, as long as there is a worker.

    Raises:
        ClusterError: no worker was there for `_NO_WORKER_S`; the library itself would wait for ever.
    """
    to_come, seen_at = set(sent), time.monotonic()
    while to_come:
        with suppress(TimeoutError):
            ended, to_come = distributed.wait(to_come, timeout=_LOOK_EVERY_S, return_when="FIRST_COMPLETED")
            yield from ended
        if client.scheduler_info()["workers"]:
            seen_at = time.monotonic()
        elif time.monotonic() - seen_at > _NO_WORKER_S:
            raise ClusterError("no worker was there for {seconds} seconds; nothing was exported", seconds=_NO_WORKER_S)


@contextmanager
def _client(distributed: Any, scheduler: str) -> Iterator[Any]:
    """A connection to a scheduler; workers of our own end with it."""
    if scheduler != LOCAL:
        with _connected(distributed, scheduler) as client:
            yield client
        return
    with (
        engine("dask").config.set({_GIVEN_UP_AFTER: "1 hour"}),
        distributed.LocalCluster(
            threads_per_worker=1,
            processes=True,
            host=_THIS_MACHINE,
            dashboard_address=f"{_THIS_MACHINE}:0",
            silence_logs=logging.ERROR,
        ) as cluster,
        distributed.Client(cluster) as client,
    ):
        yield client


def _connected(distributed: Any, scheduler: str) -> Any:
    """A client of this scheduler.

    The library asserts that its own thread runs within ten seconds; on a machine that is busy it may not, the first
    time. The second time it does, and if it does not the scheduler cannot be used from here.

    Raises:
        ClusterError: nobody answers.
    """
    reason, again = "", True
    for _ in range(2):
        try:
            return distributed.Client(scheduler, timeout=_WAIT_S)
        except AssertionError:
            reason = "the connection did not come up in time"
        except (OSError, ValueError) as error:
            reason, again = str(error), False
        # A half-made client collected while another is being made would wait for that one forever.
        gc.collect()
        if not again:
            break
    raise ClusterError("there is no scheduler at {address}: {reason}", address=scheduler, reason=reason)


def _probe(client: Any, work: Work, session: str) -> None:
    """Check, before any work, that every worker can do it."""
    try:
        client.wait_for_workers(1, timeout=_WAIT_S)
    except TimeoutError as error:
        raise ClusterError("the scheduler has no worker") from error
    answers = client.run(_seen, work.folder, session, on_error="return")
    for answer in answers.values():
        if isinstance(answer, Exception) and not isinstance(answer, OSError):
            raise answer
    # A worker that went away meanwhile is left out: others do its work.
    answered = {worker: answer for worker, answer in answers.items() if not isinstance(answer, OSError)}
    if not answered:
        raise ClusterError("the scheduler has no worker")
    for worker, (version, sees) in answered.items():
        if version != __version__:
            raise ClusterError(
                "worker {worker} has version {theirs} of cornerwalk, this is {ours}",
                worker=worker,
                theirs=version,
                ours=__version__,
            )
        if not sees:
            raise ClusterError(
                "worker {worker} does not see {folder} or {session}: library and export must lie on a disk that all "
                "workers share, under the same names",
                worker=worker,
                folder=work.folder,
                session=session,
            )


def _seen(folder: str, session: str) -> tuple[str, bool]:
    return __version__, os.path.isdir(folder) and os.path.exists(session)  # noqa: PTH110, PTH112 - they never raise
