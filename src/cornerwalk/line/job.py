"""The job that is open: its file, what it means now, and whether it is on the disk."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from cornerwalk.assess import assess
from cornerwalk.assess.assessment import Assessment
from cornerwalk.context import Context
from cornerwalk.line.earlier import Earlier
from cornerwalk.session import RecordedEvent, Session
from cornerwalk.session.checklist import Checklists, load_checklists
from cornerwalk.session.events import Event
from cornerwalk.standards import Standards
from cornerwalk.store import SavedState, SessionFile, UnsavedState
from cornerwalk.wording.figures import Wording


class OpenJob:
    """One session file in use.

    Attributes:
        context: what the commands handed down.
        assessment: what the session means as it stands.
        wording: how figures are said, in the unit of the job unless the settings say another, to its tape.
        earlier: what earlier jobs of the library say to it.
    """

    def __init__(self, context: Context, file: SessionFile) -> None:
        self.context = context
        self.standards: Standards = context.standards()
        self.checklists: Checklists = load_checklists(context.checklists_folder)
        self.earlier = Earlier()
        self._file = file
        self.assessment: Assessment
        self.wording: Wording
        self._look()

    @property
    def session(self) -> Session:
        """The session as it stands, kept or not."""
        return self._file.session

    @property
    def events(self) -> Sequence[RecordedEvent]:
        """Everything that happened, in order."""
        return self._file.events

    @property
    def path(self) -> Path:
        """The file."""
        return self._file.path

    @property
    def state(self) -> SavedState | UnsavedState:
        """Whether everything recorded is on the disk."""
        return self._file.state

    def record(self, events: Sequence[Event]) -> None:
        """Have events written down; `state` says whether they are.

        Raises:
            StoreError: nothing was recorded.
        """
        self._file.record(*events)
        self._look()

    def retry(self) -> None:
        """Try again to write what is not on the disk.

        Raises:
            StoreError: the file is not written any more.
        """
        self._file.retry()

    def move_to(self, folder: Path) -> SavedState | UnsavedState:
        """Go on in another folder; whether that worked.

        Raises:
            StoreError: the file is not written any more.
        """
        return self._file.move_to(folder)

    def reworded(self) -> None:
        """Say figures as the settings now want them."""
        self._look()

    def close(self) -> None:
        """Let others have the file."""
        self.earlier.leave()
        self._file.close()

    def _look(self) -> None:
        session = self._file.session
        self.assessment = assess(session, self.standards)
        units = self.context.settings.display_units(session.job.unit)
        graduation_mm = session.tape.graduation_mm
        self.wording = Wording(units) if graduation_mm is None else Wording.for_tape(units, graduation_mm)
