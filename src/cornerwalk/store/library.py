"""A folder of session files: new ones, opened ones, and the list of all of them."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable
from datetime import date, datetime
from pathlib import Path
from typing import Literal

from cornerwalk.session.events import Event, JobOpened
from cornerwalk.store.cache import Row, read_index, write_index
from cornerwalk.store.cleanup import quarantine, remove_stale_files
from cornerwalk.store.disk import Disk
from cornerwalk.store.errors import (
    Damage,
    DamagedFileError,
    DiskError,
    StoreError,
    UnrecoverableFileError,
    WriteProtectedError,
)
from cornerwalk.store.loader import StoredSession, load_session, read_session
from cornerwalk.store.lock_owner import LockOwner, ProgramId, this_program
from cornerwalk.store.locked_file import LockedFile, Writer
from cornerwalk.store.names import free_path, is_session_name, session_name
from cornerwalk.store.read_only import SessionFollower
from cornerwalk.store.safe_read import Signature, read_bytes
from cornerwalk.store.session_file import SessionFile
from cornerwalk.store.summary import Summary, damaged_summary, summarize

_WRITABLE = 0o222
_READ_AT_START = 200
"""Files that are read to find the job to go on with; so many take a twentieth of a second."""


class Library:
    """The folder in which sessions are kept. It is made, for its owner alone, when the first session is written.

    Args:
        folder: need not exist yet.
        clock: the time now, with its offset from UTC.
        by: initials of whoever records.
        disk: the system calls, in tests with faults.
        program: the running program; tests pass another one.
    """

    def __init__(
        self,
        folder: Path,
        *,
        clock: Callable[[], datetime],
        by: str,
        disk: Disk | None = None,
        program: ProgramId | None = None,
    ) -> None:
        self.folder = folder
        self._writer = Writer(clock=clock, by=by, program=program or this_program(), disk=disk or Disk())
        self._tidied = False

    def with_author(self, name: str) -> Library:
        """The same folder, written in the name of somebody else."""
        writer = self._writer
        return Library(self.folder, clock=writer.clock, by=name, disk=writer.disk, program=writer.program)

    def create(self, *events: Event) -> SessionFile:
        """A new session; the first of `events` opens the job. Its `state` says whether it is on the disk.

        Raises:
            ValueError: the first event is not `JobOpened`.
            InvalidEventError, TooLargeError: nothing was made.
        """
        first = events[0] if events else None
        if not isinstance(first, JobOpened):
            raise ValueError("a session begins with JobOpened")
        self._tidy_once()
        stem = session_name(opened_at=self._writer.stamp(), title=first.title, session=first.session)
        place = LockedFile(free_path(self.folder, stem), self._writer)
        created = SessionFile(place, self._writer, events=(), lines=(), kept=0)
        created.record(*events)
        return created

    def open(self, path: Path, *, break_stale: LockOwner | None = None) -> SessionFile:
        """Open a session to go on with it; nobody else can while it is open.

        Raises:
            SessionLockedError: another program has it open. Where `error.breakable`, ask the user and pass
                `break_stale=error.owner`; otherwise `follow` it.
            DamagedFileError: a copy is in quarantine; `recover(error.damage)` goes on in a new file.
            WriteProtectedError: it is marked as not to be changed.
            StoreError: it is no session, too new, too large, or the disk failed; see `errors`.
        """
        self._tidy_once()
        data, before = read_bytes(self._writer.disk, path)
        stored = load_session(path, data)
        if not before.st_mode & _WRITABLE:
            raise WriteProtectedError("the file is marked as not to be changed")
        lock = self._writer.lock(path, break_stale=break_stale)
        try:
            data, status = read_bytes(self._writer.disk, path)
            if Signature.of(status) != Signature.of(before):
                stored = load_session(path, data)
            if stored.damage is not None:
                self._note_damage(path, status)
                raise DamagedFileError(quarantine(self.folder, stored.damage, data, self._writer))
        except StoreError:
            lock.release()
            raise
        place = LockedFile.held(path, self._writer, lock, data, Signature.of(status))
        return SessionFile(place, self._writer, events=stored.events, lines=stored.lines, kept=len(stored.events))

    def follow(self, path: Path) -> SessionFile:
        """Open a session that somebody else writes, read only; its `refresh` brings what is new.

        Raises:
            StoreError: it cannot be read, or is damaged; see `errors`.
        """
        return SessionFollower(path, self._writer)

    def read(self, path: Path) -> StoredSession:
        """What a file says, without a lock; of a damaged one, what can be read and its `damage`.

        Raises:
            StoreError: it is no session, too new, too large, or the disk failed; see `errors`.
        """
        return read_session(path, self._writer.disk)

    def recover(self, damage: Damage, *events: Event) -> SessionFile:
        """Go on from what can be read of a damaged file, in a new file of this library; its chain goes on unbroken.

        Raises:
            UnrecoverableFileError: not even its first event can be read.
        """
        if not damage.events:
            raise UnrecoverableFileError("not even the first event of {path} can be read", path=str(damage.path))
        place = LockedFile(free_path(self.folder, f"{damage.path.stem}-continued"), self._writer)
        carried = SessionFile(place, self._writer, events=damage.events, lines=damage.lines, kept=0)
        carried.record(*events)
        return carried

    def latest_unfinished(self) -> Summary | None:
        """The job that was worked on last and is not handed over, to go on with; None where there is none.

        It is looked for at a start, so of the files that the index does not know only the newest are read.

        Raises:
            DiskError: the folder cannot be read.
        """
        self._tidy_once()
        rows, unknown = self._against(read_index(self.folder, self._writer))
        unknown.sort(key=lambda file: file[1].changed_ns, reverse=True)
        looked_at = [self._looked_at(self.folder / name, looks) for name, looks in unknown[:_READ_AT_START]]
        found = [row[1] for row in (*rows.values(), *looked_at) if row is not None and row[1] is not None]
        return max((job for job in found if job.unfinished), key=Summary.recency, default=None)

    def summaries(self, *, progress: Callable[[int, int], None] | None = None) -> list[Summary]:
        """All sessions of the library, the one worked on last first.

        Args:
            progress: told after each file that had to be read how many are done, of how many. What it raises ends
                the list; what was read until then need not be read again.

        Raises:
            DiskError: the folder cannot be read.
        """
        known = read_index(self.folder, self._writer)
        rows, unknown = self._against(known)
        passing = []
        try:
            for done, (name, signature) in enumerate(unknown, 1):
                row = self._looked_at(self.folder / name, signature)
                if row is None:
                    passing.append(damaged_summary(self.folder / name))
                else:
                    rows[name] = _after(row, known.get(name))
                if progress is not None:
                    progress(done, len(unknown))
        finally:
            if rows != known:
                write_index(self.folder, rows, self._writer)
        found = [summary for _, summary in rows.values() if summary is not None]
        if not unknown:  # the index stands in the order of the list
            return found
        return sorted(found + passing, key=Summary.recency, reverse=True)

    def find(
        self,
        *,
        words: str = "",
        since: date | None = None,
        until: date | None = None,
        vehicle: str = "",
        technician: str = "",
        state: Literal["any", "unfinished", "handed over"] = "any",
        also: Callable[[Summary], bool] | None = None,
    ) -> list[Summary]:
        """The sessions that fit everything stated, the one worked on last first.

        Args:
            words: each stands somewhere in the title, names, vehicle or kit; capitals do not matter.
            since: the first day, where the job was opened.
            until: the last day.
            vehicle: part of the description or registration.
            technician: part of the name.
            state: as the job stands.
            also: whatever else must hold.

        Raises:
            DiskError: the folder cannot be read.
        """
        wanted = words.casefold().split()
        vehicle, technician = vehicle.casefold(), technician.casefold()
        return [
            summary
            for summary in self.summaries()
            if (not wanted or all(word in summary.searched for word in wanted))
            and (since is None or summary.day >= since)
            and (until is None or summary.day <= until)
            and (not vehicle or vehicle in f"{summary.vehicle} {summary.registration}".casefold())
            and (not technician or technician in summary.technician.casefold())
            and (state == "any" or (summary.unfinished if state == "unfinished" else not summary.open))
            and (also is None or also(summary))
        ]

    def had_events(self, paths: Iterable[Path]) -> dict[Path, int]:
        """The most events that the list has seen in each of these files; only of files of this library that it knows.

        A session only grows. Where its file holds fewer now, its last events were cut off or an older copy of it was
        put in its place, which the file itself cannot show.
        """
        rows = read_index(self.folder, self._writer)
        here = self.folder.resolve()
        seen = {name: summary.had_events for name, (_, summary) in rows.items() if summary is not None}
        return {path: seen[path.name] for path in paths if path.name in seen and path.parent.resolve() == here}

    def clean_up(self) -> int:
        """Remove what programs that died left behind; how many files that were. Done by itself at the first use."""
        self._tidied = True
        return remove_stale_files(self.folder, self._writer)

    def _tidy_once(self) -> None:
        if not self._tidied:
            self.clean_up()

    def _files(self) -> list[tuple[str, Signature]]:
        try:
            with os.scandir(self.folder) as entries:
                found = ((entry.name, _looks(entry)) for entry in entries if is_session_name(entry.name))
                return [(name, looks) for name, looks in found if looks is not None]
        except FileNotFoundError:
            return []
        except OSError as error:
            raise DiskError.of(error) from error

    def _against(self, known: dict[str, Row]) -> tuple[dict[str, Row], list[tuple[str, Signature]]]:
        """The rows of the index that still hold, in its order, and the files that it does not know as they are."""
        files = dict(self._files())
        rows = {name: row for name, row in known.items() if files.get(name) == row[0]}
        return rows, [(name, signature) for name, signature in files.items() if name not in rows]

    def _looked_at(self, path: Path, signature: Signature) -> Row | None:
        """The row of a file; None where it could not be read this time, which is not for the index."""
        try:
            data, _ = read_bytes(self._writer.disk, path)
        except DiskError:
            return None
        except StoreError:
            return signature, damaged_summary(path)
        return signature, summarize(path, data)

    def _note_damage(self, path: Path, status: os.stat_result) -> None:
        """Have the list say from now on that this file, as it is, is damaged."""
        if path.parent != self.folder:
            return
        rows = read_index(self.folder, self._writer)
        rows[path.name] = _after((Signature.of(status), damaged_summary(path)), rows.get(path.name))
        write_index(self.folder, rows, self._writer)


def _looks(entry: os.DirEntry[str]) -> Signature | None:
    """None where it is no regular file, or has gone since the folder was read."""
    try:
        return Signature.of(entry.stat(follow_symlinks=False)) if entry.is_file(follow_symlinks=False) else None
    except FileNotFoundError:
        return None


def _after(row: Row, before: Row | None) -> Row:
    """A new row of a file, knowing the one before it."""
    signature, summary = row
    return signature, summary.after(before[1]) if summary is not None and before is not None else summary
