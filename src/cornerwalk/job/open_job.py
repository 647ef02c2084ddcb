"""The job that is open: its file, what it means now, and what it would mean if one more thing were kept.

No screen knowledge in here. Screens hold one `OpenJob`, hand it events, and draw what it answers.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from cornerwalk.assess import assess
from cornerwalk.assess.assessment import Assessment
from cornerwalk.context import Context
from cornerwalk.session import RecordedEvent, Session, fold
from cornerwalk.session.events import Event
from cornerwalk.standards import Standards
from cornerwalk.store import NotOnDisk, SessionFile
from cornerwalk.wording.wording import Wording

if TYPE_CHECKING:
    from cornerwalk.session import Session
    from cornerwalk.tables.earlier_jobs import EarlierJobs


@dataclass(frozen=True, slots=True)
class Meaning:
    """A session and what it means."""

    session: Session
    assessment: Assessment


class OpenJob:
    """One session file in use.

    Attributes:
        context: what the commands handed down.
        file: where the session is kept, or followed while another program has it open.
        standards: the published limits and the shop's own.
        meaning: the session as it stands, and its assessment.
        earlier: what earlier jobs of the library say to it.
        opens_on: its first page, as `screens.job_page` takes it.
    """

    opens_on: ClassVar[str] = "walk:WalkScreen"

    def __init__(self, context: Context, file: SessionFile) -> None:
        self.context = context
        self.file = file
        self.earlier = Earlier()
        self.standards: Standards = context.standards()
        self.meaning = self._means(file.session)
        self._wording = self._words()

    @property
    def session(self) -> Session:
        """The session as it stands, kept or not."""
        return self.meaning.session

    @property
    def assessment(self) -> Assessment:
        """What it means."""
        return self.meaning.assessment

    @property
    def events(self) -> Sequence[RecordedEvent]:
        """Everything that happened, in order."""
        return self.file.events

    @property
    def wording(self) -> Wording:
        """How figures are said in this job: in the unit it is read in unless the settings say another, to its tape."""
        return self._wording

    @property
    def not_on_disk(self) -> NotOnDisk | None:
        """What could not be written down, or None while everything is kept."""
        state = self.file.state
        return state if isinstance(state, NotOnDisk) else None

    def record(self, events: Sequence[Event]) -> bool:
        """Hand events to the store; whether they are on the disk.

        What could not be written stays in memory and is written with the next event or by `retry`.

        Raises:
            StoreError: the file is somebody else's now, or only followed.
        """
        self.file.record(*events)
        return self._settled()

    def retry(self) -> bool:
        """Try again to write what is not on disk; whether everything is there now.

        Raises:
            StoreError: the file is only followed.
        """
        self.file.retry()
        return self._settled()

    def move_to(self, folder: Path) -> NotOnDisk | None:
        """Have the whole job in another folder and go on there; why that could not be, None where it is done.

        Raises:
            StoreError: the file is only followed.
        """
        state = self.file.move_to(folder)
        if isinstance(state, NotOnDisk):
            return state
        self._settled()
        return None

    def look_again(self) -> bool:
        """Bring what the program that writes a followed file has kept since; whether that was anything.

        Raises:
            StoreError: the file is gone, or can no longer be read; the job stands as it was.
        """
        changed = self.file.refresh()
        if changed:
            self._settled()
        return changed

    def if_kept(self, new_events: Sequence[Event]) -> Meaning:
        """What the session would mean with these events in it. Nothing is recorded."""
        session = self.session
        events = list(self.events)
        for seq, what in enumerate(new_events, start=session.last_seq + 1):
            events.append(RecordedEvent(seq=seq, at=session.last_at, by="", what=what, chain=""))
        return self._means(fold(events))

    def reworded(self) -> None:
        """Say figures as the settings now want them."""
        self._wording = self._words()

    def close(self) -> None:
        """Let others have the file."""
        self.file.close()

    def _settled(self) -> bool:
        self.meaning = self._means(self.file.session)
        self._wording = self._words()
        return self.not_on_disk is None

    def _means(self, session: Session) -> Meaning:
        return Meaning(session, assess(session, self.standards))

    def _words(self) -> Wording:
        units = self.context.settings.units_shown(self.session.job.unit)
        graduation_mm = self.session.tape.graduation_mm
        return Wording(units) if graduation_mm is None else Wording.for_tape(units, graduation_mm)


# ---- Asking the library's earlier jobs about the one that is open, beside whoever types; never a reading ----
#
# The asking waits for the first picture of a page and leaves half of the processor to the keys. Nothing found, or a
# library that cannot be read: nothing is said.

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


def ask(job: OpenJob, told: Callable[[], object], cancelled: Callable[[], bool]) -> None:
    """Ask them, in a thread of the skin's; `told` is called when there is something new to show."""
    from cornerwalk.store import StoreError
    from cornerwalk.tables.earlier_jobs import Asked, EarlierJobs, earlier_jobs

    begun_at = file_at = time.monotonic()
    tell_at = begun_at + PROGRESS_AFTER_S

    def progress(done: int, total: int) -> None:
        nonlocal file_at, tell_at
        if cancelled():
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
    if not cancelled():
        job.earlier.heard, job.earlier.progress = heard, None
        told()
