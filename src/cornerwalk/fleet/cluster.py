"""The same work on a Dask cluster: each chunk goes to some worker, and again to another if that one dies."""

from __future__ import annotations

import logging
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from cornerwalk import __version__
from cornerwalk.fleet.chunks import Chunk, Work, write_chunk
from cornerwalk.fleet.engines import FleetError, engine

LOCAL = "local"
"""In place of an address: workers on this machine, one for each processor."""

RETRIES = 2
"""How often a chunk that failed, the disk being full for a moment, say, is tried again."""

_WAIT_S = 30
_THIS_MACHINE = "127.0.0.1"


class ClusterError(FleetError):
    """The scheduler cannot be reached, or its workers cannot do the work."""


def write_on_cluster(chunks: Sequence[Chunk], work: Work, scheduler: str, told: Callable[[Chunk], None]) -> None:
    """Write every chunk on a cluster; `told` hears of each that is written.

    Raises:
        EngineMissing: Dask is not installed here.
        ClusterError: no scheduler, no worker, a worker that does not see the folders or is of another version, or a
            chunk whose workers died again and again.
        OSError: a worker's disk failed.
    """
    distributed = engine("distributed")
    with _client(distributed, scheduler) as client:
        _probe(client, work, chunks[0].jobs[0][0])
        sent = {client.submit(write_chunk, chunk, work, retries=RETRIES, pure=False): chunk for chunk in chunks}
        try:
            for future in distributed.as_completed(sent):
                future.result()
                told(sent[future])
        except distributed.scheduler.KilledWorker as error:
            raise ClusterError(
                "the workers died again and again over {part}; nothing was exported", part=sent[future].part
            ) from error


@contextmanager
def _client(distributed: Any, scheduler: str) -> Iterator[Any]:
    """A connection to a scheduler; workers of our own end with it."""
    if scheduler != LOCAL:
        try:
            client = _connected(distributed, scheduler)
        except (OSError, ValueError) as error:
            raise ClusterError(
                "there is no scheduler at {address}: {reason}", address=scheduler, reason=error
            ) from error
        with client:
            yield client
        return
    with (
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
    """
    try:
        return distributed.Client(scheduler, timeout=_WAIT_S)
    except AssertionError:
        try:
            return distributed.Client(scheduler, timeout=_WAIT_S)
        except AssertionError as error:
            raise OSError("the connection did not come up in time") from error


def _probe(client: Any, work: Work, session: str) -> None:
    """Ask every worker, before anything is done, whether it can do it."""
    try:
        client.wait_for_workers(1, timeout=_WAIT_S)
    except TimeoutError as error:
        raise ClusterError("the scheduler has no worker") from error
    for worker, (version, sees) in client.run(_seen, work.folder, session).items():
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
    return __version__, Path(folder).is_dir() and Path(session).exists()
