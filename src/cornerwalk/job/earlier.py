"""Earlier jobs: what the library's other sessions say to the one that is open. One asking, run beside whoever types.

Nothing found, or a library that cannot be read: nothing is said. What is said is a hint, never a reading.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from cornerwalk.session.model import Session
from cornerwalk.standards import Standards
from cornerwalk.store import Library

if TYPE_CHECKING:
    from cornerwalk.tables.earlier_jobs import EarlierJobs

PROGRESS_AFTER_S = 0.5
PROGRESS_EVERY_S = 0.25
"""An asking that takes longer than half a second says how far it is."""

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

    def ask(
        self,
        session: Session,
        user: str,
        library: Library,
        standards: Standards,
        told: Callable[[], object],
        cancelled: Callable[[], bool],
    ) -> None:
        """Ask the library, in a thread of the skin's; `told` is called when there is something new to show."""
        from cornerwalk.store import StoreError
        from cornerwalk.tables.earlier_jobs import EarlierJobs, JobIdentity, earlier_jobs

        begun_at = file_at = time.monotonic()
        tell_at = begun_at + PROGRESS_AFTER_S

        def progress(done: int, total: int) -> None:
            nonlocal file_at, tell_at
            if cancelled():
                raise _CancelledError
            now = time.monotonic()
            if now >= tell_at:
                tell_at = now + PROGRESS_EVERY_S
                self.progress = (done, total)
                told()
            time.sleep(now - file_at)  # as long as the file took: the other half of the processor is for the keys
            file_at = time.monotonic()

        try:
            heard = earlier_jobs(library, standards, JobIdentity.of(session, user), progress)
        except StoreError:
            heard = EarlierJobs()
        except _CancelledError:
            return
        if not cancelled():
            self.heard, self.progress = heard, None
            told()


class _CancelledError(Exception):
    """The asking was given up: another one has begun, or the program is being left."""
