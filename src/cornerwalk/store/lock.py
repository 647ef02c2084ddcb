"""Lock: one writer at a time, by a lock of the operating system and a file that names its owner.

The system's lock ends with its process, so it is reliable on one machine. It is not across machines: some network
shares do not support it, and some keep it for a machine that has died. There the owner's file decides, and only the
user can say whether the other machine is still working.
"""

from __future__ import annotations

import os
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

from cornerwalk.store.disk import PRIVATE_FILE, Disk, retry_interrupted, write_new, write_unsynced
from cornerwalk.store.errors import DiskError, SessionLockedError, StoreError
from cornerwalk.store.lock_owner import UNKNOWN_OWNER, LockOwner, owner_status
from cornerwalk.store.names import lock_path, owner_path, temporary_path
from cornerwalk.store.safe_read import Signature, read_bytes

if TYPE_CHECKING:
    from filelock import BaseFileLock

_MAX_OWNER_BYTES = 4096


class SessionLock:
    """The lock of a session, owned by this program. Get one with `acquire`."""

    def __init__(self, path: Path, *, owner: LockOwner, native: BaseFileLock, disk: Disk) -> None:
        self._path = path
        self._owner = owner
        self._native = native
        self._disk = disk
        self._owner_file = owner_path(path)
        self._owner_signature: Signature | None = None

    @classmethod
    def acquire(cls, path: Path, *, owner: LockOwner, disk: Disk, break_stale: LockOwner | None = None) -> SessionLock:
        """Lock the session at `path`.

        A lock of a program of this machine that has ended does not count. A lock from another machine is broken only
        if `break_stale` is its owner: then the user was asked.

        Raises:
            SessionLockedError: another program owns the lock.
            DiskError: nothing can be written beside the file.
        """
        lock = cls(path, owner=owner, native=_native_lock(path), disk=disk)
        try:
            lock._acquire(break_stale)
        except OSError as error:
            lock._release_native()
            raise DiskError.of(error) from error
        except StoreError:
            lock._release_native()
            raise
        return lock

    def _acquire(self, break_stale: LockOwner | None) -> None:
        # A folder that is not there is an error: the lock library would make it.
        retry_interrupted(self._disk.stat, self._path.parent)
        free = _acquire_native(self._native)
        earlier = read_owner(self._path, self._disk)
        current = earlier or UNKNOWN_OWNER
        status = owner_status(current.program, self._owner.program)
        consented = status == "elsewhere" and current == break_stale
        if not free:
            if status == "gone":
                # The file names an earlier owner whose program has ended: the system's lock is right.
                raise SessionLockedError(UNKNOWN_OWNER, "unknown")
            if not consented:
                raise SessionLockedError(current, status)
            with suppress(FileNotFoundError):
                retry_interrupted(self._disk.unlink, lock_path(self._path))
            if not _acquire_native(self._native):
                raise SessionLockedError(current, status)
        elif (status == "elsewhere" and not consented) or (
            status == "alive" and current.program != self._owner.program
        ):
            raise SessionLockedError(current, status)
        self._write_owner(earlier)

    def _write_owner(self, earlier: LockOwner | None) -> None:
        owner_file = owner_path(self._path)
        text = self._owner.text().encode()
        try:
            if earlier is None:
                # Created, not replaced: if two programs come while a third removes its lock, one is refused here.
                write_new(self._disk, owner_file, text)
            else:
                write_unsynced(self._disk, owner_file, text, temporary=temporary_path(owner_file, self._owner.program))
        except FileExistsError:
            raise SessionLockedError(read_owner(self._path, self._disk) or UNKNOWN_OWNER, "unknown") from None
        except OSError:
            pass  # a full disk has no room for the owner's file; the system's lock holds all the same

    def new_owner(self) -> LockOwner | None:
        """Who took the session over from this program, None if no one did."""
        signature = self._signature()
        if signature is not None and signature == self._owner_signature:
            return None
        current = read_owner(self._path, self._disk)
        self._owner_signature = signature if current == self._owner else None
        return current if current not in (None, UNKNOWN_OWNER, self._owner) else None

    def _signature(self) -> Signature | None:
        """The signature of the owner's file; a program that takes over replaces the file."""
        with suppress(OSError):
            return Signature.of(retry_interrupted(self._disk.stat, self._owner_file))
        return None

    def release(self) -> None:
        """Release the lock; what cannot be removed now is removed when the session is opened next."""
        if self.new_owner() is None:
            with suppress(OSError):
                retry_interrupted(self._disk.unlink, owner_path(self._path))
            with suppress(OSError):  # Windows removes it with the lock
                retry_interrupted(self._disk.unlink, lock_path(self._path))
        self._release_native()

    def _release_native(self) -> None:
        with suppress(OSError):  # if the disk fails, the system releases it when the program ends
            self._native.release()


def read_owner(path: Path, disk: Disk) -> LockOwner | None:
    """The owner in the owner's file of a session; None if there is no file, `UNKNOWN_OWNER` if it is unreadable."""
    owner_file = owner_path(path)
    if not os.path.lexists(owner_file):
        return None
    try:
        data, _ = read_bytes(disk, owner_file, most=_MAX_OWNER_BYTES)
    except StoreError:
        return UNKNOWN_OWNER
    return LockOwner.from_text(data.decode("utf-8", "replace"))


def _native_lock(path: Path) -> BaseFileLock:
    from filelock import FileLock

    return FileLock(lock_path(path), timeout=0, mode=PRIVATE_FILE, thread_local=False)


def _acquire_native(native: BaseFileLock) -> bool:
    from filelock import Timeout

    try:
        native.acquire()
    except Timeout:
        return False
    except NotImplementedError:
        return True  # this file system has no locks: only the owner's file decides
    return True
