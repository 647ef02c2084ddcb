"""Read-only sessions: a snapshot of the past for the replay, and a follower of another program's session."""

from __future__ import annotations

from pathlib import Path
from typing import NoReturn

from cornerwalk.session.events import Event
from cornerwalk.session.projection import Projection
from cornerwalk.store.disk import retry_interrupted
from cornerwalk.store.errors import DamagedFileError, DiskError, MissingFileError, ReadOnlySessionError
from cornerwalk.store.loader import StoredSession, load_session
from cornerwalk.store.locked_file import LockedFile, Writer
from cornerwalk.store.safe_read import Signature, read_bytes
from cornerwalk.store.session_file import SavedState, SaveState, SessionFile, last_event_time


class _ReadOnlySession(SessionFile):
    """A session that this program does not write; each subclass's `record` says why not."""

    read_only = True

    def retry(self) -> SaveState:
        """Raise ReadOnlySessionError."""
        return self.record()

    def move_to(self, _folder: Path) -> SaveState:
        """Raise ReadOnlySessionError."""
        return self.record()


class SessionSnapshot(_ReadOnlySession):
    """A session as it was after any number of its events; `go_to` chooses how many. Its file is not locked.

    Attributes:
        stored: the whole session, or the readable part of a damaged file.
    """

    def __init__(self, stored: StoredSession) -> None:
        """Start after the last event.

        Raises:
            ValueError: there is no event.
        """
        # Does not call the base class: there is no file to lock or write.
        self.stored = stored
        self.go_to(len(stored.events))

    def go_to(self, count: int) -> None:
        """Show the session after its first `count` events.

        Raises:
            ValueError: `count` is below 1 or above the number of events.
        """
        if not 1 <= count <= len(self.stored.events):
            raise ValueError(f"after {count} of {len(self.stored.events)} events there is nothing to see")
        self.events = self.stored.events[:count]
        self._projection = Projection(self.events)
        at = last_event_time(self.events)
        assert at is not None
        self.state = SavedState(at)

    @property
    def path(self) -> Path:
        """The file it was read from."""
        return self.stored.path

    def record(self, *_events: Event) -> NoReturn:
        """Raise ReadOnlySessionError."""
        raise ReadOnlySessionError("this is a replay: what happened is looked at, not changed")

    def close(self) -> SaveState:
        """Do nothing: no file is open."""
        return self.state


class SessionFollower(_ReadOnlySession):
    """A session that another program writes; `refresh` reads what it has saved since."""

    def __init__(self, path: Path, writer: Writer) -> None:
        stored, self._signature = _read(path, writer)
        super().__init__(
            LockedFile(path, writer), writer, events=stored.events, lines=stored.lines, saved=len(stored.events)
        )

    def refresh(self) -> bool:
        """Read the file again if it has changed; returns whether there are other events.

        Raises:
            MissingFileError: it is gone.
            StoreError: it can no longer be read. What was read before stays.
        """
        try:
            status = retry_interrupted(self._writer.disk.stat, self.path)
        except FileNotFoundError as error:
            raise MissingFileError("there is no file {path}", path=str(self.path)) from error
        except OSError as error:
            raise DiskError.of(error) from error
        if Signature.of(status) == self._signature:
            return False
        stored, self._signature = _read(self.path, self._writer)
        if stored.events == self.events:
            return False
        self.events, self._projection = stored.events, Projection(stored.events)
        self.state = SavedState(last_event_time(self.events) or self._writer.clock())
        return True

    def record(self, *_events: Event) -> NoReturn:
        """Raise ReadOnlySessionError."""
        raise ReadOnlySessionError("another program writes this session; here it is only followed")


def _read(path: Path, writer: Writer) -> tuple[StoredSession, Signature]:
    data, status = read_bytes(writer.disk, path)
    stored = load_session(path, data)
    if stored.damage is not None:
        raise DamagedFileError(stored.damage)
    return stored, Signature.of(status)
