"""Disk: the system calls of the store, and durable atomic replacement of a file.

`Disk` has one method for each call, so that a test can make any of them fail or stop the process there.
"""

from __future__ import annotations

import errno
import os
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import ParamSpec, TypeVar

try:
    import fcntl
except ImportError:  # pragma: no cover - Windows has none
    FULL_SYNC: int | None = None
else:
    FULL_SYNC = getattr(fcntl, "F_FULLFSYNC", None)
    """On macOS fsync stops at the drive's cache; this one goes through it."""

P = ParamSpec("P")
R = TypeVar("R")

PRIVATE_FILE = 0o600
PRIVATE_FOLDER = 0o700

REPLACE_RETRY_PAUSES_S = (0.01, 0.03, 0.06)
"""Windows does not replace an open file: a virus scanner or a backup may hold it open for some milliseconds."""

_NO_LINK = getattr(os, "O_NOFOLLOW", 0)
_NEW_FILE = os.O_WRONLY | os.O_CREAT | os.O_EXCL | _NO_LINK | getattr(os, "O_BINARY", 0) | getattr(os, "O_CLOEXEC", 0)
_FOLDER = os.O_RDONLY | getattr(os, "O_DIRECTORY", 0) | getattr(os, "O_CLOEXEC", 0)
_MOST_INTERRUPTIONS = 100
_NO_FOLDER_SYNC = (errno.EINVAL, errno.ENOTSUP)
"""The answer of a file system that cannot sync a folder, such as some network shares and memory cards."""


class Disk:
    """The system calls, passed through. It has no state."""

    syncs_folders = os.name != "nt"
    """Windows cannot sync a folder: there, the rename has to do."""

    held_pauses_s: tuple[float, ...] = REPLACE_RETRY_PAUSES_S if os.name == "nt" else ()
    """Elsewhere an open file can be replaced, so "not allowed" is final."""

    def open(self, path: Path, flags: int, mode: int = PRIVATE_FILE) -> int:
        """Open or make a file."""
        return os.open(path, flags, mode)

    def read(self, handle: int, most: int) -> bytes:
        """Read up to so many bytes."""
        return os.read(handle, most)

    def write(self, handle: int, data: memoryview) -> int:
        """Write; returns how many bytes the disk took, which may be fewer than given."""
        return os.write(handle, data)

    def fsync(self, handle: int) -> None:
        """Wait until the disk has it, through the drive's own cache if the system can."""
        if FULL_SYNC is not None:
            with suppress(OSError):  # not every file system has it; then fsync decides
                fcntl.fcntl(handle, FULL_SYNC)
                return
        os.fsync(handle)

    def chmod(self, handle: int, mode: int) -> None:
        """Set the permissions of an open file, if the system has permissions."""
        if hasattr(os, "fchmod"):
            os.fchmod(handle, mode)

    def close(self, handle: int) -> None:
        """Close a file."""
        os.close(handle)

    def replace(self, source: Path, target: Path) -> None:
        """Rename: the target is the old file or the new one, never a mix.

        Retried after each of `held_pauses_s` if another program holds the target open.
        """
        for pause_s in self.held_pauses_s:
            try:
                os.replace(source, target)  # noqa: PTH105 - one method for each system call
            except PermissionError:
                time.sleep(pause_s)
            else:
                return
        os.replace(source, target)  # noqa: PTH105 - the last try, whose error is raised

    def unlink(self, path: Path) -> None:
        """Remove a file."""
        os.unlink(path)  # noqa: PTH108 - one method for each system call

    def mkdir(self, path: Path, mode: int = PRIVATE_FOLDER) -> None:
        """Make a folder."""
        os.mkdir(path, mode)  # noqa: PTH102 - one method for each system call

    def stat(self, path: Path) -> os.stat_result:
        """The status of a path; of a link, not of its target."""
        return os.lstat(path)

    def fstat(self, handle: int) -> os.stat_result:
        """The status of an open file."""
        return os.fstat(handle)


def retry_interrupted(call: Callable[P, R], *args: P.args, **kwargs: P.kwargs) -> R:
    """Make the call, again if a signal interrupted it."""
    for _ in range(_MOST_INTERRUPTIONS):
        try:  # not `suppress`, which is slower: a list of ten thousand sessions comes here forty thousand times
            return call(*args, **kwargs)
        except InterruptedError:
            pass
    return call(*args, **kwargs)


def write_durable(disk: Disk, path: Path, data: bytes, *, temporary: Path) -> None:
    """Replace `path` with `data`, so that after a power failure either the old or the new content is there, complete.

    A file keeps its permissions; a new one is private to its owner. When this returns, the new content is on the disk,
    if the disk tells the truth. When it raises, `path` may hold either content. `temporary` is a name in the same
    folder that only the caller uses; a file there is from an earlier try.

    Raises:
        OSError: of the first step that failed. No temporary file is left, unless even removing it failed.
    """
    _write_and_replace(disk, path, data, temporary=temporary, sync=disk.fsync)
    sync_folder(disk, path.parent)


def write_unsynced(disk: Disk, path: Path, data: bytes, *, temporary: Path) -> None:
    """Replace a file without waiting for the disk: for what can be made again.

    Raises:
        OSError: of the first step that failed.
    """
    _write_and_replace(disk, path, data, temporary=temporary, sync=lambda _handle: None)


def write_new(disk: Disk, path: Path, data: bytes) -> None:
    """Write a small new file, without waiting for the disk.

    Raises:
        FileExistsError: there is a file already.
        OSError: of the first step that failed; the file is removed again.
    """
    handle = retry_interrupted(disk.open, path, _NEW_FILE, PRIVATE_FILE)
    with _remove_on_failure(disk, path):
        _write_and_close(disk, handle, data, mode=PRIVATE_FILE, sync=lambda _handle: None)


def _write_and_replace(disk: Disk, path: Path, data: bytes, *, temporary: Path, sync: Callable[[int], None]) -> None:
    mode = _mode_of(disk, path)
    handle = _create_temporary(disk, temporary)
    with _remove_on_failure(disk, temporary):
        _write_and_close(disk, handle, data, mode=mode, sync=sync)
        retry_interrupted(disk.replace, temporary, path)


def _create_temporary(disk: Disk, temporary: Path) -> int:
    try:
        return retry_interrupted(disk.open, temporary, _NEW_FILE, PRIVATE_FILE)
    except FileExistsError:  # left by an earlier try, when even removing it failed
        retry_interrupted(disk.unlink, temporary)
        return retry_interrupted(disk.open, temporary, _NEW_FILE, PRIVATE_FILE)


@contextmanager
def _remove_on_failure(disk: Disk, path: Path) -> Iterator[None]:
    try:
        yield
    except BaseException:
        with suppress(OSError):
            retry_interrupted(disk.unlink, path)
        raise


def _write_and_close(disk: Disk, handle: int, data: bytes, *, mode: int, sync: Callable[[int], None]) -> None:
    try:
        if mode != PRIVATE_FILE:
            with suppress(PermissionError):  # a file system without permissions, such as a memory card's
                retry_interrupted(disk.chmod, handle, mode)
        _write_all(disk, handle, data)
        retry_interrupted(sync, handle)
    except BaseException:
        with suppress(OSError):
            disk.close(handle)
        raise
    with suppress(InterruptedError):  # the handle is closed all the same, and its data is synced
        disk.close(handle)


def _mode_of(disk: Disk, path: Path) -> int:
    try:
        return retry_interrupted(disk.stat, path).st_mode & 0o777
    except FileNotFoundError:
        return PRIVATE_FILE


def _write_all(disk: Disk, handle: int, data: bytes) -> None:
    left = memoryview(data)
    while left:
        written = retry_interrupted(disk.write, handle, left)
        if written == 0:
            raise OSError(errno.EIO, "the disk took nothing")
        left = left[written:]


def sync_folder(disk: Disk, folder: Path) -> None:
    """Sync a folder, so that the names in it last, if the system can.

    Raises:
        OSError: the disk failed.
    """
    if not disk.syncs_folders:
        return
    handle = retry_interrupted(disk.open, folder, _FOLDER)
    try:
        retry_interrupted(disk.fsync, handle)
    except OSError as error:
        if error.errno not in _NO_FOLDER_SYNC:
            raise
    finally:
        with suppress(OSError):
            disk.close(handle)


def make_folder(disk: Disk, folder: Path) -> None:
    """Make a folder, private to its owner, with its parents, and sync each parent.

    Raises:
        OSError: the disk failed, or there is a file of that name.
    """
    missing = []
    here = folder
    while not here.exists() and here != here.parent:  # a drive that is not there has no parent
        missing.append(here)
        here = here.parent
    for each in reversed(missing):
        with suppress(FileExistsError):  # another program was quicker
            retry_interrupted(disk.mkdir, each)
        sync_folder(disk, each.parent)
