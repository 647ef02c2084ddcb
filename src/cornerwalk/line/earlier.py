"""What earlier jobs of the library say to the one that is open, asked in a thread so that no question waits for it."""

from __future__ import annotations

from threading import Thread
from typing import TYPE_CHECKING

from cornerwalk.store import StoreError
from cornerwalk.tables.earlier_jobs import EarlierJobs, JobIdentity, earlier_jobs
from cornerwalk.tables.hints import hint_brief, placing_brief
from cornerwalk.words import tr, tr_in

if TYPE_CHECKING:
    from cornerwalk.line.job import OpenJob


_LEAVES_WITHIN_S = 5.0
"""Longer than a file takes, unless its disk no longer answers; nobody is kept from leaving by that."""


class _LeftError(Exception):
    """The job was left, or is asked about with another vehicle."""


class Earlier:
    """What they say to one job. It is said once, with the first answer after it is known."""

    def __init__(self) -> None:
        self.heard: EarlierJobs | None = None
        self.progress = (0, 0)
        self._asked: JobIdentity | None = None
        self._said: set[str] = set()
        self._thread: Thread | None = None

    def ask(self, job: OpenJob) -> None:
        """Ask, where that was not done about this vehicle, kit and technician already."""
        asked = JobIdentity.of(job.session, job.context.user)
        if asked == self._asked or not job.session.open:
            return
        self._asked, self.heard = asked, None
        self._thread = Thread(target=self._listen, args=(job, asked), daemon=True)
        self._thread.start()

    def leave(self) -> None:
        """Give up whatever is being asked; what has been begun with a file is ended first, for a while."""
        self._asked = None
        if self._thread is not None:
            self._thread.join(_LEAVES_WITHIN_S)

    def wait(self) -> None:
        """Until what was asked is known."""
        if self._thread is not None:
            self._thread.join()

    def _listen(self, job: OpenJob, asked: JobIdentity) -> None:
        def progress(done: int, total: int) -> None:
            if self._asked is not asked:
                raise _LeftError
            self.progress = (done, total)

        try:
            heard = earlier_jobs(job.context.library, job.standards, asked, progress)
        except StoreError:
            heard = EarlierJobs()
        except _LeftError:
            return
        if self._asked is asked:
            self.heard = heard

    def news(self, job: OpenJob) -> tuple[str, ...]:
        """What was not said yet."""
        fresh = tuple(line for line in self.lines(job) if line not in self._said)
        self._said.update(fresh)
        return fresh

    def lines(self, job: OpenJob) -> tuple[str, ...]:
        """What they say: the hint, where springs may be fitted, and the placing of the tape that is on offer."""
        heard = self.heard
        if heard is None:
            return ()
        hint = heard.hint_to(job.session, job.assessment)
        said = [] if hint is None else [tr("Last time {hint}", hint=hint_brief(hint, job.wording))]
        if heard.offered is not None and job.session.tape.place_mm is None:
            said.append(placing_brief(heard.offered, job.wording, tr_in("word", "placing")))
        return tuple(said)
