"""An opened session: what happens is written down before anybody is told that it is kept."""

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
    """Everything recorded is on the disk, since `at`."""

    at: datetime


@dataclass(frozen=True, slots=True)
class UnsavedState:
    """The last `pending` events are in memory only: they are not kept, and whoever shows them says so."""

    problem: DiskError
    pending: int


SaveState = SavedState | UnsavedState


class SessionFile:
    """A session and its file, from opening to closing. The library makes these; one thread at a time uses one.

    Attributes:
        events: everything recorded, kept or not.
        state: whether all of it is on the disk.
        read_only: it is followed (`refresh`), not written.
    """

    read_only = False

    def __init__(
        self, place: LockedFile, writer: Writer, *, events: Sequence[RecordedEvent], lines: Sequence[str], kept: int
    ) -> None:
        self._place = place
        self._writer = writer
        self._growing = FileBuffer(lines)
        self._kept_events = kept
        self._closed = False
        self._id = ""
        self.events: tuple[RecordedEvent, ...] = tuple(events)
        self._folding = Projection(events)
        self.state: SaveState = SavedState(last_event_time(events) or writer.clock())

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_exception: object) -> None:
        self.close()

    @property
    def session(self) -> Session:
        """The fold of the events, gone on with when it is asked for: the disk comes first."""
        if self._folding.count < len(self.events):
            self._folding.apply(self.events[self._folding.count :])
        return self._folding.session

    @property
    def path(self) -> Path:
        """Where the file is, or will be once the disk takes it."""
        return self._place.path

    def record(self, *new_events: Event) -> SaveState:
        """Stamp what happened and write the whole session down: `SavedState` once it is on the disk, and not before.

        Where the disk fails the events stay in memory, and the next `record` or `retry` writes them all.

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
        size_bytes = self._growing.size_with_bytes(lines)
        if len(events) > MAX_EVENTS or size_bytes > MAX_FILE_BYTES - _ROOM_FOR_HEADING_BYTES:
            raise TooLargeError("this session is full: it would grow larger than any job")
        self.events = tuple(events)
        self._growing.add(lines)
        return self.retry()

    def retry(self) -> SaveState:
        """Write the session down again, with all that is only in memory; nothing is written where nothing is.

        Raises:
            ReadOnlySessionError, ClosedSessionError: this session is not written.
        """
        self._require_writable()
        if self._kept_events == len(self.events):
            return self.state
        try:
            self._write_to(self._place)
        except DiskError as problem:
            self.state = self._not_on_disk(problem)
        else:
            self._kept()
        return self.state

    def move_to(self, folder: Path) -> SaveState:
        """Write the whole session into another folder and go on there; the file here is removed once that is kept.

        A file that somebody else took over or changed stays where it is. Where the other folder fails too, the answer
        says why and everything stays as it was.

        Raises:
            ReadOnlySessionError, ClosedSessionError: this session is not written.
        """
        self._require_writable()
        other = LockedFile(free_path(folder, self.path.stem), self._writer)
        try:
            self._write_to(other)
        except DiskError as problem:
            other.release()
            return self._not_on_disk(problem)
        self._place.remove()
        self._place = other
        self._kept()
        return self.state

    def refresh(self) -> bool:
        """Whether somebody else's events were read; never of a session that this program writes itself."""
        return False

    def close(self) -> SaveState:
        """Try once more to write what is only in memory, then let others have the file. A second time does nothing."""
        if not self._closed:
            if isinstance(self.state, UnsavedState):
                self.retry()
            self._closed = True
            self._place.release()
        return self.state

    def _write_to(self, place: LockedFile) -> None:
        self._id = self._id or self.session.id  # asked once: a session that grew is folded after the disk has it
        place.write(self._growing.contents(self._id))

    def _kept(self) -> None:
        self._kept_events = len(self.events)
        self.state = SavedState(self._writer.clock())

    def _not_on_disk(self, problem: DiskError) -> UnsavedState:
        return UnsavedState(problem, len(self.events) - self._kept_events)

    def _require_writable(self) -> None:
        if self._closed:
            raise ClosedSessionError("this session is closed; open it again to go on")


def last_event_time(events: Sequence[RecordedEvent]) -> datetime | None:
    """When the last event was recorded."""
    return datetime.fromisoformat(events[-1].at) if events else None
