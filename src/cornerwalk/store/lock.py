"""One writer at a time: a lock that the system keeps, and beside it the name of who has it.

The system's lock ends with the process that holds it, so on one machine it tells the truth. Across machines it may
not: some network shares do not carry it, and some keep it for a machine that has died. There the name beside it
speaks, and only the user can say whether that other machine is still at work.
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
    """A session held open by this program. Take one with `taken`."""

    def __init__(self, path: Path, *, mine: LockOwner, native: BaseFileLock, disk: Disk) -> None:
        self._path = path
        self._mine = mine
        self._native = native
        self._disk = disk
        self._beside = owner_path(path)
        self._mine_looks: Signature | None = None

    @classmethod
    def acquire(cls, path: Path, *, mine: LockOwner, disk: Disk, break_stale: LockOwner | None = None) -> SessionLock:
        """Hold the session at `path`.

        A program of this machine that has ended is no holder. One on another machine loses the session only where
        `break_stale` is exactly that holder: its user was asked.

        Raises:
            SessionLockedError: somebody else holds it.
            DiskError: nothing can be written beside the file.
        """
        lock = cls(path, mine=mine, native=_native_lock(path), disk=disk)
        try:
            lock._take(break_stale)
        except OSError as error:
            lock._let_go()
            raise DiskError.of(error) from error
        except StoreError:
            lock._let_go()
            raise
        return lock

    def _take(self, break_stale: LockOwner | None) -> None:
        retry_interrupted(
            self._disk.stat, self._path.parent
        )  # the lock's library would make a folder that is not there
        free = _acquire(self._native)
        holder = read_owner(self._path, self._disk)
        who = holder or UNKNOWN_OWNER
        where = owner_status(who.program, self._mine.program)
        consented = where == "elsewhere" and who == break_stale
        if not free:
            if not consented:
                # The name may be an earlier holder's whose program has ended: the system's lock knows better.
                raise (
                    SessionLockedError(who, where) if where != "gone" else SessionLockedError(UNKNOWN_OWNER, "unknown")
                )
            with suppress(FileNotFoundError):
                retry_interrupted(self._disk.unlink, lock_path(self._path))
            if not _acquire(self._native):
                raise SessionLockedError(who, where)
        elif (where == "elsewhere" and not consented) or (where == "alive" and who.program != self._mine.program):
            raise SessionLockedError(who, where)
        self._write_name(holder)

    def _write_name(self, earlier: LockOwner | None) -> None:
        beside = owner_path(self._path)
        text = self._mine.text().encode()
        try:
            if earlier is None:
                # Made, not replaced: of two programs that come in while a third removes its lock, one is refused here.
                write_new(self._disk, beside, text)
            else:
                write_unsynced(self._disk, beside, text, temporary=temporary_path(beside, self._mine.program))
        except FileExistsError:
            raise SessionLockedError(read_owner(self._path, self._disk) or UNKNOWN_OWNER, "unknown") from None
        except OSError:
            pass  # a full disk has no room for the name; the system's lock holds all the same

    def new_owner(self) -> LockOwner | None:
        """Who took the session over while this program held it, or None."""
        looks = self._looks()
        if looks is not None and looks == self._mine_looks:
            return None
        holder = read_owner(self._path, self._disk)
        self._mine_looks = looks if holder == self._mine else None
        return holder if holder not in (None, UNKNOWN_OWNER, self._mine) else None

    def _looks(self) -> Signature | None:
        """What the name of the holder looks like from outside; whoever takes over puts another file in its place."""
        with suppress(OSError):
            return Signature.of(retry_interrupted(self._disk.stat, self._beside))
        return None

    def release(self) -> None:
        """Let others have it; what cannot be tidied now is when the file is opened next."""
        if self.new_owner() is None:
            with suppress(OSError):
                retry_interrupted(self._disk.unlink, owner_path(self._path))
            with suppress(OSError):  # Windows removes it with the lock
                retry_interrupted(self._disk.unlink, lock_path(self._path))
        self._let_go()

    def _let_go(self) -> None:
        with suppress(OSError):  # on a disk that fails, the system lets go when the program ends
            self._native.release()


def read_owner(path: Path, disk: Disk) -> LockOwner | None:
    """Who says to hold the session at `path`; `UNKNOWN_OWNER` where that cannot be read, None where nobody does."""
    beside = owner_path(path)
    if not os.path.lexists(beside):
        return None
    try:
        data, _ = read_bytes(disk, beside, most=_MAX_OWNER_BYTES)
    except StoreError:
        return UNKNOWN_OWNER
    return LockOwner.from_text(data.decode("utf-8", "replace"))


def _native_lock(path: Path) -> BaseFileLock:
    from filelock import FileLock

    return FileLock(lock_path(path), timeout=0, mode=PRIVATE_FILE, thread_local=False)


def _acquire(native: BaseFileLock) -> bool:
    from filelock import Timeout

    try:
        native.acquire()
    except Timeout:
        return False
    except NotImplementedError:
        return True  # this file system has no locks: the name beside the file is all there is to go by
    return True
