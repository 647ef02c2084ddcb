"""Session file: an open session, whose events are on the disk before anyone is told that they are saved."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Self

from cornerwalk.session.events import Event
from cornerwalk.session.log import RecordedEvent, event_to_json, record_event
from cornerwalk.session.model import Session
from cornerwalk.session.projection import Projection
from cornerwalk.store.errors import ClosedSessionError, DiskError, InvalidEventError, TooLargeError
from cornerwalk.store.format import MAX_EVENTS, MAX_FILE_BYTES, FileBuffer, event_line
from cornerwalk.store.locked_file import LockedFile, Writer
from cornerwalk.store.names import free_path

_ROOM_FOR_HEADING_BYTES = 4096
"""More than the first line of a file takes."""


@dataclass(frozen=True, slots=True)
class SavedState:
    """Every event is on the disk, since `at`."""

    at: datetime


@dataclass(frozen=True, slots=True)
class UnsavedState:
    """The last `pending` events are in memory only, and the user must be told so."""

    problem: DiskError
    pending: int


SaveState = SavedState | UnsavedState


class SessionFile:
    """An open session and its file. The library makes these; only one thread at a time may use one.

    Attributes:
        events: all recorded events, saved or not.
        state: whether all of them are on the disk.
        read_only: whether the session is only read (see `refresh`).
    """

    read_only = False

    def __init__(
        self, file: LockedFile, writer: Writer, *, events: Sequence[RecordedEvent], lines: Sequence[str], saved: int
    ) -> None:
        self._file = file
        self._writer = writer
        self._buffer = FileBuffer(lines)
        self._saved_events = saved
        self._closed = False
        self._id = ""
        self.events: tuple[RecordedEvent, ...] = tuple(events)
        self._projection = Projection(events)
        self.state: SaveState = SavedState(last_event_time(events) or writer.clock())

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_exception: object) -> None:
        self.close()

    @property
    def session(self) -> Session:
        """The session after all events, computed when it is asked for: the disk comes first."""
        if self._projection.count < len(self.events):
            self._projection.apply(self.events[self._projection.count :])
        return self._projection.session

    @property
    def path(self) -> Path:
        """The file, which may not exist yet if the disk failed."""
        return self._file.path

    def record(self, *new_events: Event) -> SaveState:
        """Add events with the time and the technician, and save the session; returns once it is on the disk.

        If the disk fails, the events stay in memory, and the next `record` or `retry` writes them all.

        Raises:
            InvalidEventError, TooLargeError: nothing was recorded.
            ReadOnlySessionError, ClosedSessionError: this session is not written.
        """
        self._require_writable()
        at = self._writer.stamp()
        events, lines = list(self.events), list[bytes]()
        for what in new_events:
            try:
                event = record_event(events, what, at=at, by=self._writer.by)
                lines.append(event_line(event_to_json(event)).encode("utf-8"))
            except (ValueError, OverflowError) as error:
                raise InvalidEventError("this cannot be written down: {reason}", reason=str(error)) from error
            events.append(event)
        size_bytes = self._buffer.size_with_bytes(lines)
        if len(events) > MAX_EVENTS or size_bytes > MAX_FILE_BYTES - _ROOM_FOR_HEADING_BYTES:
            raise TooLargeError("this session is full: it would grow larger than any job")
        self.events = tuple(events)
        self._buffer.add(lines)
        return self.retry()

    def retry(self) -> SaveState:
        """Save the session again if events are only in memory.

        Raises:
            ReadOnlySessionError, ClosedSessionError: this session is not written.
        """
        self._require_writable()
        if self._saved_events == len(self.events):
            return self.state
        try:
            self._write_to(self._file)
        except DiskError as problem:
            self.state = self._unsaved(problem)
        else:
            self._mark_saved()
        return self.state

    def move_to(self, folder: Path) -> SaveState:
        """Save the session in another folder and continue there; the file here is then removed.

        A file that another program took over or changed stays. If the other folder fails too, the returned state says
        why, and everything stays as it was.

        Raises:
            ReadOnlySessionError, ClosedSessionError: this session is not written.
        """
        self._require_writable()
        other = LockedFile(free_path(folder, self.path.stem), self._writer)
        try:
            self._write_to(other)
        except DiskError as problem:
            other.release()
            return self._unsaved(problem)
        self._file.remove()
        self._file = other
        self._mark_saved()
        return self.state

    def refresh(self) -> bool:
        """Read what another program has written; always False for a session that this program writes."""
        return False

    def close(self) -> SaveState:
        """Try once more to save what is only in memory, then release the file. A second call does nothing."""
        if not self._closed:
            if isinstance(self.state, UnsavedState):
                self.retry()
            self._closed = True
            self._file.release()
        return self.state

    def _write_to(self, file: LockedFile) -> None:
        self._id = self._id or self.session.id  # asked once, so that later events are folded after the disk has them
        file.write(self._buffer.contents(self._id))

    def _mark_saved(self) -> None:
        self._saved_events = len(self.events)
        self.state = SavedState(self._writer.clock())

    def _unsaved(self, problem: DiskError) -> UnsavedState:
        return UnsavedState(problem, len(self.events) - self._saved_events)

    def _require_writable(self) -> None:
        if self._closed:
            raise ClosedSessionError("this session is closed; open it again to go on")


def last_event_time(events: Sequence[RecordedEvent]) -> datetime | None:
    """When the last event was recorded."""
    return datetime.fromisoformat(events[-1].at) if events else None
