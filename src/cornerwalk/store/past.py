"""A session looked back at: as it stood after any number of its events. Its file is neither locked nor written."""

from __future__ import annotations

from pathlib import Path
from typing import NoReturn

from cornerwalk.session.fold import Folding
from cornerwalk.session.happenings import Happening
from cornerwalk.store.errors import ReadOnly
from cornerwalk.store.session_file import Kept, SessionFile, last_moment
from cornerwalk.store.stored import StoredSession


class PastFile(SessionFile):
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
        self._folding = Folding(self.events)
        at = last_moment(self.events)
        assert at is not None
        self.state = Kept(at)

    @property
    def path(self) -> Path:
        """The file it was read from."""
        return self.stored.path

    def record(self, *_happenings: Happening) -> NoReturn:
        """Not in the past.

        Raises:
            ReadOnly: always.
        """
        raise ReadOnly("this is a replay: what happened is looked at, not changed")

    def retry(self) -> NoReturn:
        """Not in the past.

        Raises:
            ReadOnly: always.
        """
        self.record()

    def move_to(self, _folder: Path) -> NoReturn:
        """Not in the past.

        Raises:
            ReadOnly: always.
        """
        self.record()

    def close(self) -> Kept:
        """Nothing is held."""
        assert isinstance(self.state, Kept)
        return self.state
