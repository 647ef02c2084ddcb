"""Open job: its file, what it means now, and what it would mean if one more thing were kept.

A skin holds one `OpenJob`, hands it events, and shows what it answers.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import ClassVar

from cornerwalk.assess import assess
from cornerwalk.assess.assessment import Assessment
from cornerwalk.context import Context
from cornerwalk.job.earlier import Earlier
from cornerwalk.session import RecordedEvent, Session, fold
from cornerwalk.session.events import Event
from cornerwalk.standards import Standards
from cornerwalk.store import SessionFile, UnsavedState
from cornerwalk.wording.figures import Wording

NameOf = Callable[[str], str]
"""From a control's id, such as `walk.average`, to what the user presses or types for it."""


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
        control: what the skin in use calls the things one can do besides answering: a key on the full screen, a word on
            a line. Takes a control's id; the skin that takes the job in hand sets it.
        opens_on: its first page, as `screens.job_page` takes it.
    """

    opens_on: ClassVar[str] = "walk:WalkScreen"

    def __init__(self, context: Context, file: SessionFile) -> None:
        self.context = context
        self.file = file
        self.earlier = Earlier()
        self.control: NameOf = str
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
    def not_on_disk(self) -> UnsavedState | None:
        """What could not be written down, or None while everything is kept."""
        state = self.file.state
        return state if isinstance(state, UnsavedState) else None

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

    def move_to(self, folder: Path) -> UnsavedState | None:
        """Have the whole job in another folder and go on there; why that could not be, None where it is done.

        Raises:
            StoreError: the file is only followed.
        """
        state = self.file.move_to(folder)
        if isinstance(state, UnsavedState):
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
            events.append(RecordedEvent(seq=seq, at=session.last_at, by="", payload=what, chain=""))
        return self._means(fold(events))

    def earlier_to_ask(self) -> bool:
        """Whether earlier jobs are to be asked now: of a job that is looked at only, or closed, they are not."""
        return not self.file.read_only and self.session.open and self.earlier.to_ask(self.session)

    def ask_earlier(self, told: Callable[[], object], cancelled: Callable[[], bool]) -> None:
        """Ask earlier jobs, in a thread of the skin's; `told` is called when there is something new to show."""
        self.earlier.ask(self.session, self.context.user, self.context.library, self.standards, told, cancelled)

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
        units = self.context.settings.display_units(self.session.job.unit)
        graduation_mm = self.session.tape.graduation_mm
        return Wording.for_tape(units, graduation_mm)
