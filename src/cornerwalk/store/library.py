"""Library: the folder of session files; makes, opens, recovers and lists sessions."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable
from datetime import date, datetime
from pathlib import Path
from typing import Literal

from cornerwalk.session.events import Event, JobOpened
from cornerwalk.store.cache import Row, read_index, write_index
from cornerwalk.store.cleanup import remove_stale_files
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
from cornerwalk.store.quarantine import quarantine
from cornerwalk.store.read_only import SessionFollower
from cornerwalk.store.safe_read import Signature, read_bytes
from cornerwalk.store.session_file import SessionFile
from cornerwalk.store.summary import Summary, damaged_summary, summarize

_WRITABLE = 0o222
_READ_AT_START = 200
"""At most so many files are read to find the job to resume; they take a twentieth of a second."""


class Library:
    """The folder of sessions. It is made, private to its owner, when the first session is written.

    Args:
        folder: need not exist yet.
        clock: gives the time with its offset from UTC.
        by: the technician's initials.
        disk: the system calls; tests pass a failing one.
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
        self._is_clean = False

    def with_author(self, name: str) -> Library:
        """The same folder, with another technician's initials."""
        writer = self._writer
        return Library(self.folder, clock=writer.clock, by=name, disk=writer.disk, program=writer.program)

    def create(self, *events: Event) -> SessionFile:
        """Make a session; the first of `events` opens the job. Its `state` says whether it is on the disk.

        Raises:
            ValueError: the first event is not `JobOpened`.
            InvalidEventError, TooLargeError: nothing was made.
        """
        first = events[0] if events else None
        if not isinstance(first, JobOpened):
            raise ValueError("a session begins with JobOpened")
        self._clean_up_once()
        stem = session_name(opened_at=self._writer.stamp(), title=first.title, session=first.session)
        file = LockedFile(free_path(self.folder, stem), self._writer)
        created = SessionFile(file, self._writer, events=(), lines=(), saved=0)
        created.record(*events)
        return created

    def open(self, path: Path, *, break_stale: LockOwner | None = None) -> SessionFile:
        """Open a session to write it; no other program can while it is open.

        Raises:
            SessionLockedError: another program has it open. Where `error.breakable`, ask the user and pass
                `break_stale=error.owner`; otherwise `follow` it.
            DamagedFileError: a copy is in quarantine; `recover(error.damage)` goes on in a new file.
            WriteProtectedError: its permissions allow no writing.
            StoreError: it is not a session, too new, too large, or the disk failed; see `errors`.
        """
        self._clean_up_once()
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
        file = LockedFile.with_lock(path, self._writer, lock, data, Signature.of(status))
        return SessionFile(file, self._writer, events=stored.events, lines=stored.lines, saved=len(stored.events))

    def follow(self, path: Path) -> SessionFile:
        """Open a session that another program writes, read only; its `refresh` reads what is new.

        Raises:
            StoreError: it cannot be read, or is damaged; see `errors`.
        """
        return SessionFollower(path, self._writer)

    def read(self, path: Path) -> StoredSession:
        """Read a session without a lock; a damaged one as far as it can be read, with its `damage`.

        Raises:
            StoreError: it is not a session, too new, too large, or the disk failed; see `errors`.
        """
        return read_session(path, self._writer.disk)

    def recover(self, damage: Damage, *events: Event) -> SessionFile:
        """Continue a damaged session from its readable events, in a new file of this library, with an unbroken chain.

        Raises:
            UnrecoverableFileError: not even its first event can be read.
        """
        if not damage.events:
            raise UnrecoverableFileError("not even the first event of {path} can be read", path=str(damage.path))
        file = LockedFile(free_path(self.folder, f"{damage.path.stem}-continued"), self._writer)
        carried = SessionFile(file, self._writer, events=damage.events, lines=damage.lines, saved=0)
        carried.record(*events)
        return carried

    def latest_unfinished(self) -> Summary | None:
        """The unfinished job that was worked on last, to resume it; None if there is none.

        This runs at every start, so of the files that are not in the index only the newest are read.

        Raises:
            DiskError: the folder cannot be read.
        """
        self._clean_up_once()
        rows, unknown = self._match_index(read_index(self.folder, self._writer))
        unknown.sort(key=lambda file: file[1].changed_ns, reverse=True)
        new_rows = [self._read_row(self.folder / name, signature) for name, signature in unknown[:_READ_AT_START]]
        jobs = [row[1] for row in (*rows.values(), *new_rows) if row is not None and row[1] is not None]
        return max((job for job in jobs if job.unfinished), key=Summary.recency, default=None)

    def summaries(self, *, progress: Callable[[int, int], None] | None = None) -> list[Summary]:
        """All sessions of the library, the one worked on last first.

        Args:
            progress: called after each file that had to be read, with how many are done, of how many. If it raises,
                the listing ends; what was read until then goes into the index.

        Raises:
            DiskError: the folder cannot be read.
        """
        known = read_index(self.folder, self._writer)
        rows, unknown = self._match_index(known)
        unreadable = []
        try:
            for done, (name, signature) in enumerate(unknown, 1):
                row = self._read_row(self.folder / name, signature)
                if row is None:
                    unreadable.append(damaged_summary(self.folder / name))
                else:
                    rows[name] = _merge_row(row, known.get(name))
                if progress is not None:
                    progress(done, len(unknown))
        finally:
            if rows != known:
                write_index(self.folder, rows, self._writer)
        found = [summary for _, summary in rows.values() if summary is not None]
        if not unknown:  # the index is in the order of the list
            return found
        return sorted(found + unreadable, key=Summary.recency, reverse=True)

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
        """The sessions that match all criteria, the one worked on last first.

        Args:
            words: each must occur in the title, names, vehicle or kit; case does not matter.
            since: the first day on which the job may have been opened.
            until: the last day.
            vehicle: part of the description or registration.
            technician: part of the name.
            state: of the job.
            also: a further condition.

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
        """The most events that the index has seen in each of these files, without files that are not in it.

        A session only grows. If its file holds fewer now, its last events were cut off or an older copy was put in its
        place, which the file itself cannot show.
        """
        rows = read_index(self.folder, self._writer)
        here = self.folder.resolve()
        seen = {name: summary.had_events for name, (_, summary) in rows.items() if summary is not None}
        return {path: seen[path.name] for path in paths if path.name in seen and path.parent.resolve() == here}

    def clean_up(self) -> int:
        """Remove what dead programs left behind; returns how many files. Runs by itself on first use."""
        self._is_clean = True
        return remove_stale_files(self.folder, self._writer)

    def _clean_up_once(self) -> None:
        if not self._is_clean:
            self.clean_up()

    def _files(self) -> list[tuple[str, Signature]]:
        try:
            with os.scandir(self.folder) as entries:
                found = ((entry.name, _signature_of(entry)) for entry in entries if is_session_name(entry.name))
                return [(name, signature) for name, signature in found if signature is not None]
        except FileNotFoundError:
            return []
        except OSError as error:
            raise DiskError.of(error) from error

    def _match_index(self, known: dict[str, Row]) -> tuple[dict[str, Row], list[tuple[str, Signature]]]:
        """The rows of the index that are still valid, in its order, and the files that it does not know."""
        files = dict(self._files())
        rows = {name: row for name, row in known.items() if files.get(name) == row[0]}
        return rows, [(name, signature) for name, signature in files.items() if name not in rows]

    def _read_row(self, path: Path, signature: Signature) -> Row | None:
        """The row of a file; None if the disk failed, which is not for the index."""
        try:
            data, _ = read_bytes(self._writer.disk, path)
        except DiskError:
            return None
        except StoreError:
            return signature, damaged_summary(path)
        return signature, summarize(path, data)

    def _note_damage(self, path: Path, status: os.stat_result) -> None:
        """Mark this file as damaged in the index."""
        if path.parent != self.folder:
            return
        rows = read_index(self.folder, self._writer)
        rows[path.name] = _merge_row((Signature.of(status), damaged_summary(path)), rows.get(path.name))
        write_index(self.folder, rows, self._writer)


def _signature_of(entry: os.DirEntry[str]) -> Signature | None:
    """The signature of a regular file; None for anything else, or if it is gone by now."""
    try:
        return Signature.of(entry.stat(follow_symlinks=False)) if entry.is_file(follow_symlinks=False) else None
    except FileNotFoundError:
        return None


def _merge_row(row: Row, before: Row | None) -> Row:
    """The new row of a file, with what its earlier row knows."""
    signature, summary = row
    return signature, summary.after(before[1]) if summary is not None and before is not None else summary
