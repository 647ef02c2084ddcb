"""A session looked back at: as it stood after any number of its events. Its file is neither locked nor written."""

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
from cornerwalk.store.session_file import SavedState, SessionFile, last_event_time


class SessionHistory(SessionFile):
    """As `SessionFile`, of what was read once; `go_to` moves through it. Of a damaged file, what can be read.

    Attributes:
        stored: what the file says, all of it.
    """

    read_only = True

    def __init__(self, stored: StoredSession) -> None:
        """Stand after the last event.

        Raises:
            ValueError: there is none.
        """
        # Not the base's own: there is no place to write to, and nothing that could be written.
        self.stored = stored
        self.go_to(len(stored.events))

    def go_to(self, count: int) -> None:
        """Stand after the first `count` events.

        Raises:
            ValueError: there are not so many; a session has at least its first.
        """
        if not 1 <= count <= len(self.stored.events):
            raise ValueError(f"after {count} of {len(self.stored.events)} events there is nothing to see")
        self.events = self.stored.events[:count]
        self._folding = Projection(self.events)
        at = last_event_time(self.events)
        assert at is not None
        self.state = SavedState(at)

    @property
    def path(self) -> Path:
        """The file it was read from."""
        return self.stored.path

    def record(self, *_events: Event) -> NoReturn:
        """Not in the past.

        Raises:
            ReadOnlySessionError: always.
        """
        raise ReadOnlySessionError("this is a replay: what happened is looked at, not changed")

    def retry(self) -> NoReturn:
        """Not in the past.

        Raises:
            ReadOnlySessionError: always.
        """
        self.record()

    def move_to(self, _folder: Path) -> NoReturn:
        """Not in the past.

        Raises:
            ReadOnlySessionError: always.
        """
        self.record()

    def close(self) -> SavedState:
        """Nothing is held."""
        assert isinstance(self.state, SavedState)
        return self.state


# ---- follower ----


class SessionFollower(SessionFile):
    """As `SessionFile`, read only: `refresh` brings what its writer has kept since."""

    read_only = True

    def __init__(self, path: Path, writer: Writer) -> None:
        stored, self._seen = _read(path, writer)
        super().__init__(
            LockedFile(path, writer), writer, events=stored.events, lines=stored.lines, kept=len(stored.events)
        )

    def refresh(self) -> bool:
        """Read the file again if it was written since; whether it was.

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
        if Signature.of(status) == self._seen:
            return False
        stored, self._seen = _read(self.path, self._writer)
        if stored.events == self.events:
            return False
        self.events, self._folding = stored.events, Projection(stored.events)
        self.state = SavedState(last_event_time(self.events) or self._writer.clock())
        return True

    def record(self, *_events: Event) -> NoReturn:
        """Not for a session that is followed.

        Raises:
            ReadOnlySessionError: always.
        """
        raise ReadOnlySessionError("another program writes this session; here it is only followed")

    def retry(self) -> NoReturn:
        """Not for a session that is followed.

        Raises:
            ReadOnlySessionError: always.
        """
        self.record()

    def move_to(self, _folder: Path) -> NoReturn:
        """Not for a session that is followed.

        Raises:
            ReadOnlySessionError: always.
        """
        self.record()


def _read(path: Path, writer: Writer) -> tuple[StoredSession, Signature]:
    data, status = read_bytes(writer.disk, path)
    stored = load_session(path, data)
    if stored.damage is not None:
        raise DamagedFileError(stored.damage)
    return stored, Signature.of(status)
