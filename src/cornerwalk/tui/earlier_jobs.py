"""Asking the library's earlier jobs about the one that is open, beside whoever types; never a reading.

The asking waits for the first picture of a page and leaves half of the processor to the keys. Nothing found, or a
library that cannot be read: nothing is said.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from textual.worker import get_current_worker

if TYPE_CHECKING:
    from cornerwalk.session import Session
    from cornerwalk.tables.earlier_jobs import EarlierJobs
    from cornerwalk.tui.job import OpenJob

PROGRESS_AFTER_S = 0.5
PROGRESS_EVERY_S = 0.25
"""What takes longer than half a second says how far it is."""

About = tuple[str, str, str, str]
"""What the asking is about: technician, vehicle, registration, kit."""


@dataclass(slots=True)
class Earlier:
    """What earlier jobs say to the open one.

    Attributes:
        heard: what they say; None until they were asked.
        progress: how many files are read, of how many, while that takes long.
    """

    heard: EarlierJobs | None = None
    progress: tuple[int, int] | None = None
    _about: About | None = field(default=None, repr=False)

    def to_ask(self, session: Session) -> bool:
        """Whether they are to be asked now; once for each vehicle, kit and technician stated."""
        vehicle = session.vehicle
        about = (session.job.technician, vehicle.description, vehicle.registration, session.kit.name)
        if about == self._about:
            return False
        self._about = about
        return True


class _LeftError(Exception):
    """The asking was given up: another one has begun, or the app is being left."""


def ask(job: OpenJob, told: Callable[[], object]) -> None:
    """Ask them, in a worker thread; `told` is called when there is something new to show."""
    from cornerwalk.store import StoreError
    from cornerwalk.tables.earlier_jobs import Asked, EarlierJobs, earlier_jobs

    worker = get_current_worker()
    begun_at = file_at = time.monotonic()
    tell_at = begun_at + PROGRESS_AFTER_S

    def progress(done: int, total: int) -> None:
        nonlocal file_at, tell_at
        if worker.is_cancelled:
            raise _LeftError
        now = time.monotonic()
        if now >= tell_at:
            tell_at = now + PROGRESS_EVERY_S
            job.earlier.progress = (done, total)
            told()
        time.sleep(now - file_at)  # as long as the file took: the other half of the processor is for the keys
        file_at = time.monotonic()

    try:
        heard = earlier_jobs(job.context.library, job.standards, Asked.of(job.session, job.context.user), progress)
    except StoreError:
        heard = EarlierJobs()
    except _LeftError:
        return
    if not worker.is_cancelled:
        job.earlier.heard, job.earlier.progress = heard, None
        told()
