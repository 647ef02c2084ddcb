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

from cornerwalk.store.disk import PRIVATE_FILE, Disk, uninterrupted, write_lightly, write_new
from cornerwalk.store.errors import DiskProblem, Locked, StoreError
from cornerwalk.store.lock_owner import NOBODY_KNOWN, LockInfo, standing
from cornerwalk.store.names import holder_path, lock_path, temporary_path
from cornerwalk.store.safe_read import Signature, read_bytes

if TYPE_CHECKING:
    from filelock import BaseFileLock

_LARGEST_HOLDER_BYTES = 4096


class SessionLock:
    """A session held open by this program. Take one with `taken`."""

    def __init__(self, path: Path, *, mine: LockInfo, native: BaseFileLock, disk: Disk) -> None:
        self._path = path
        self._mine = mine
        self._native = native
        self._disk = disk
        self._beside = holder_path(path)
        self._mine_looks: Signature | None = None

    @classmethod
    def taken(cls, path: Path, *, mine: LockInfo, disk: Disk, break_stale: LockInfo | None = None) -> SessionLock:
        """Hold the session at `path`.

        A program of this machine that has ended is no holder. One on another machine loses the session only where
        `break_stale` is exactly that holder: its user was asked.

        Raises:
            Locked: somebody else holds it.
            DiskProblem: nothing can be written beside the file.
        """
        lock = cls(path, mine=mine, native=_native_lock(path), disk=disk)
        try:
            lock._take(break_stale)
        except OSError as error:
            lock._let_go()
            raise DiskProblem.of(error) from error
        except StoreError:
            lock._let_go()
            raise
        return lock

    def _take(self, break_stale: LockInfo | None) -> None:
        uninterrupted(self._disk.stat, self._path.parent)  # the lock's library would make a folder that is not there
        free = _acquired(self._native)
        holder = holder_of(self._path, self._disk)
        who = holder or NOBODY_KNOWN
        where = standing(who.here, self._mine.here)
        consented = where == "elsewhere" and who == break_stale
        if not free:
            if not consented:
                # The name may be an earlier holder's whose program has ended: the system's lock knows better.
                raise Locked(who, where) if where != "gone" else Locked(NOBODY_KNOWN, "unknown")
            with suppress(FileNotFoundError):
                uninterrupted(self._disk.unlink, lock_path(self._path))
            if not _acquired(self._native):
                raise Locked(who, where)
        elif (where == "elsewhere" and not consented) or (where == "alive" and who.here != self._mine.here):
            raise Locked(who, where)
        self._write_name(holder)

    def _write_name(self, earlier: LockInfo | None) -> None:
        beside = holder_path(self._path)
        text = self._mine.text().encode()
        try:
            if earlier is None:
                # Made, not replaced: of two programs that come in while a third removes its lock, one is refused here.
                write_new(self._disk, beside, text)
            else:
                write_lightly(self._disk, beside, text, temporary=temporary_path(beside, self._mine.here))
        except FileExistsError:
            raise Locked(holder_of(self._path, self._disk) or NOBODY_KNOWN, "unknown") from None
        except OSError:
            pass  # a full disk has no room for the name; the system's lock holds all the same

    def taken_over_by(self) -> LockInfo | None:
        """Who took the session over while this program held it, or None."""
        looks = self._looks()
        if looks is not None and looks == self._mine_looks:
            return None
        holder = holder_of(self._path, self._disk)
        self._mine_looks = looks if holder == self._mine else None
        return holder if holder not in (None, NOBODY_KNOWN, self._mine) else None

    def _looks(self) -> Signature | None:
        """What the name of the holder looks like from outside; whoever takes over puts another file in its place."""
        with suppress(OSError):
            return Signature.of(uninterrupted(self._disk.stat, self._beside))
        return None

    def release(self) -> None:
        """Let others have it; what cannot be tidied now is when the file is opened next."""
        if self.taken_over_by() is None:
            with suppress(OSError):
                uninterrupted(self._disk.unlink, holder_path(self._path))
            with suppress(OSError):  # Windows removes it with the lock
                uninterrupted(self._disk.unlink, lock_path(self._path))
        self._let_go()

    def _let_go(self) -> None:
        with suppress(OSError):  # on a disk that fails, the system lets go when the program ends
            self._native.release()


def holder_of(path: Path, disk: Disk) -> LockInfo | None:
    """Who says to hold the session at `path`; `NOBODY_KNOWN` where that cannot be read, None where nobody does."""
    beside = holder_path(path)
    if not os.path.lexists(beside):
        return None
    try:
        data, _ = read_bytes(disk, beside, most=_LARGEST_HOLDER_BYTES)
    except StoreError:
        return NOBODY_KNOWN
    return LockInfo.from_text(data.decode("utf-8", "replace"))


def _native_lock(path: Path) -> BaseFileLock:
    from filelock import FileLock

    return FileLock(lock_path(path), timeout=0, mode=PRIVATE_FILE, thread_local=False)


def _acquired(native: BaseFileLock) -> bool:
    from filelock import Timeout

    try:
        native.acquire()
    except Timeout:
        return False
    except NotImplementedError:
        return True  # this file system has no locks: the name beside the file is all there is to go by
    return True
