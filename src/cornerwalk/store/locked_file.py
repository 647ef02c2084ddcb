"""Locked file: durable writes of one session file, and the check that no one else writes it meanwhile."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from cornerwalk.store.disk import Disk, make_folder, retry_interrupted, write_durable
from cornerwalk.store.errors import DiskError, FileConflictError, LockLostError, SessionLockedError, StoreError
from cornerwalk.store.lock import SessionLock
from cornerwalk.store.lock_owner import LockOwner, ProgramId
from cornerwalk.store.names import temporary_path
from cornerwalk.store.safe_read import Signature, read_bytes


@dataclass(frozen=True, slots=True, kw_only=True)
class Writer:
    """Who writes: the technician's initials, the program, the clock (with its offset from UTC) and the disk."""

    clock: Callable[[], datetime]
    by: str
    program: ProgramId
    disk: Disk

    def stamp(self) -> str:
        """The time as in an event: ISO 8601, to the second, with its offset from UTC.

        Raises:
            ValueError: the clock has no offset.
        """
        now = self.clock()
        if now.utcoffset() is None:
            raise ValueError("the clock must say its offset from UTC")
        return now.isoformat(timespec="seconds")

    def lock(self, path: Path, *, break_stale: LockOwner | None = None) -> SessionLock:
        """Lock the session at `path`; raises as `SessionLock.acquire` does."""
        owner = LockOwner.of(self.program, by=self.by, since=self.stamp())
        return SessionLock.acquire(path, owner=owner, disk=self.disk, break_stale=break_stale)


class LockedFile:
    """A file that this program may write while it owns the lock. A new file is locked with the first write."""

    def __init__(self, path: Path, writer: Writer) -> None:
        self.path = path
        self._writer = writer
        self._lock: SessionLock | None = None
        self._seen: Signature | None = None
        self._written = b""
        self._tried: set[bytes] = set()
        self._temporary = temporary_path(path, writer.program)

    @classmethod
    def with_lock(cls, path: Path, writer: Writer, lock: SessionLock, data: bytes, seen: Signature) -> LockedFile:
        """A file that was read while it was locked."""
        file = cls(path, writer)
        file._lock, file._seen, file._written = lock, seen, data
        return file

    def write(self, data: bytes) -> None:
        """Replace the file's content on the disk.

        Raises:
            LockLostError, FileConflictError: another program took it over or changed it; it was left as it is.
            DiskError: the disk failed; the file holds the old or the new bytes.
        """
        disk = self._writer.disk
        try:
            if self._lock is None:
                # Only now: a folder that vanishes later was unplugged, and must not be made on the disk below it.
                make_folder(disk, self.path.parent)
            self._require_ours()
            try:
                write_durable(disk, self.path, data, temporary=self._temporary)
            except BaseException:  # the file may have it all the same
                self._tried.add(_digest(data))
                raise
        except OSError as error:
            raise DiskError.of(error) from error
        self._written, self._tried = data, set()
        self._seen = None
        with suppress(OSError):  # without a signature, the next write compares contents
            self._seen = Signature.of(retry_interrupted(disk.stat, self.path))

    def _require_ours(self) -> None:
        if self._lock is None:
            try:
                self._lock = self._writer.lock(self.path)
            except SessionLockedError as error:
                raise LockLostError(error.owner) from error
        other = self._lock.new_owner()
        if other is not None:
            raise LockLostError(other)
        if not self._is_as_written():
            raise FileConflictError

    def _is_as_written(self) -> bool:
        """Whether the file is as this program left it; a removed file is just written again."""
        try:
            seen = Signature.of(retry_interrupted(self._writer.disk.stat, self.path))
        except FileNotFoundError:
            return True
        if seen == self._seen:
            return True
        try:
            data, _ = read_bytes(self._writer.disk, self.path)
        except DiskError:
            raise
        except StoreError:
            return False
        return data == self._written or _digest(data) in self._tried

    def remove(self) -> None:
        """Remove the file if it is still as this program wrote it, and release the lock."""
        with suppress(OSError, DiskError):
            self._require_ours()
            retry_interrupted(self._writer.disk.unlink, self.path)
        self.release()

    def release(self) -> None:
        """Release the lock."""
        if self._lock is not None:
            self._lock.release()
            self._lock = None


def _digest(data: bytes) -> bytes:
    return hashlib.sha256(data).digest()
