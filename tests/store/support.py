"""A library in a temporary folder, on a disk that fails where it is told to, used by programs that may die."""

from __future__ import annotations

import errno
import os
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

from cornerwalk.session.events import HeightRead, NoteWritten
from cornerwalk.store import Disk, Library, SavedState, SessionFile, UnsavedState
from cornerwalk.store.lock_owner import ProgramId, this_program
from tests.session.support import opened, read
from tests.support.clock import FrozenClock

__all__ = ["note", "opened", "read"]

NO_SUCH_PROCESS = 2**22 + 1
"""One above the largest process number Linux gives."""

ERRORS = [errno.EIO, errno.ENOSPC, errno.EDQUOT, errno.EROFS, errno.EACCES]
"""The ways in which a disk says no; EINTR, which is no such way, is tried apart."""


def note(text: str = "a note") -> NoteWritten:
    return NoteWritten(text=text)


def four_heights() -> tuple[HeightRead, ...]:
    return read("LF"), read("RF"), read("RR"), read("LR")


class QuickDisk(Disk):
    """A disk on which nothing is waited for: what a process that dies leaves does not depend on syncing."""

    def fsync(self, handle: int) -> None:
        os.fstat(handle)


class FaultyDisk(QuickDisk):
    """Lets call number `at` fail, or all calls of some kinds for as long as `down` says.

    Attributes:
        log: the calls made, in order.
        act: what happens at call `at`, before it is made or, with `after`, once it was.
        down: the error of every call that would change the disk, None while it works.
    """

    def __init__(self, *, at: int = 0, act: Callable[[], None] | None = None, after: bool = False) -> None:
        self.log: list[str] = []
        self.at = at
        self.act = act or (lambda: None)
        self.after = after
        self.down: int | None = None
        self.shortest_writes = False

    def _call(self, name: str, *arguments: Any) -> Any:
        if self.down is not None and name in ("write", "replace", "mkdir", "fsync", "unlink"):
            raise OSError(self.down, os.strerror(self.down))
        self.log.append(name)
        hit = len(self.log) == self.at
        if hit and not self.after:
            self.act()
        try:
            return getattr(super(), name)(*arguments)
        finally:
            if hit and self.after:
                self.act()

    def open(self, path: Path, flags: int, mode: int = 0o600) -> int:
        return int(self._call("open", path, flags, mode))

    def read(self, handle: int, most: int) -> bytes:
        return bytes(self._call("read", handle, most))

    def write(self, handle: int, data: memoryview) -> int:
        return int(self._call("write", handle, data[:1] if self.shortest_writes else data))

    def fsync(self, handle: int) -> None:
        self._call("fsync", handle)

    def chmod(self, handle: int, mode: int) -> None:
        self._call("chmod", handle, mode)

    def close(self, handle: int) -> None:
        self._call("close", handle)

    def replace(self, source: Path, target: Path) -> None:
        self._call("replace", source, target)

    def unlink(self, path: Path) -> None:
        self._call("unlink", path)

    def mkdir(self, path: Path, mode: int = 0o700) -> None:
        self._call("mkdir", path, mode)

    def stat(self, path: Path) -> os.stat_result:
        return self._call("stat", path)  # type: ignore[no-any-return]

    def fstat(self, handle: int) -> os.stat_result:
        return self._call("fstat", handle)  # type: ignore[no-any-return]


def failing(number: int) -> Callable[[], None]:
    """What a call does that fails with this error."""

    def fail() -> None:
        raise OSError(number, os.strerror(number))

    return fail


def library(folder: Path, *, disk: Disk | None = None, here: ProgramId | None = None, by: str = "MT") -> Library:
    return Library(folder, clock=FrozenClock(), by=by, disk=disk or QuickDisk(), program=here)


def dead_program() -> ProgramId:
    """A program of this machine that has ended."""
    return replace(this_program(), pid=NO_SUCH_PROCESS)


def other_machine() -> ProgramId:
    """A program of another machine, of which nothing can be told from here."""
    return ProgramId(machine="f" * 16, host="van-2", pid=77, started="0" * 16)


def die(session: SessionFile) -> None:
    """What the end of a process does and nothing more: the system lets go of its lock, files stay as they are."""
    lock = session._file._lock
    if lock is not None:
        lock._native.release()


def unsaved(state: SavedState | UnsavedState) -> UnsavedState:
    """The state, which must be that something is in memory only."""
    assert isinstance(state, UnsavedState)
    return state


def names(folder: Path) -> list[str]:
    """Everything in a folder but the index, which may come and go."""
    return sorted(path.name for path in folder.iterdir() if path.name != ".index.json")
