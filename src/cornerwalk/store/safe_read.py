"""Safe read: the bytes of a file from anywhere, without waiting on a pipe or reading a device or a huge file."""

from __future__ import annotations

import errno
import os
import stat
from contextlib import suppress
from pathlib import Path
from typing import LiteralString, NamedTuple

from cornerwalk.store.disk import Disk, retry_interrupted
from cornerwalk.store.errors import DiskError, MissingFileError, NotAFileError, TooLargeError
from cornerwalk.store.format import MAX_FILE_BYTES

NO_LINK = getattr(os, "O_NOFOLLOW", 0)
_FLAGS = os.O_RDONLY
for _name in ("O_NONBLOCK", "O_NOCTTY", "O_CLOEXEC", "O_BINARY"):
    _FLAGS |= getattr(os, _name, 0)

_CHUNK = 1 << 20


class Signature(NamedTuple):
    """A file's inode number, size and time of change; a replaced file has another, whatever its clock says."""

    number: int
    bytes: int
    changed_ns: int

    @classmethod
    def of(cls, status: os.stat_result) -> Signature:
        """The signature in a file's status."""
        return cls(status.st_ino, status.st_size, status.st_mtime_ns)


def read_bytes(disk: Disk, path: Path, *, most: int = MAX_FILE_BYTES) -> tuple[bytes, os.stat_result]:
    """The content of a regular file of bounded size, and its status when it was opened.

    Raises:
        MissingFileError: there is no such file.
        NotAFileError: a folder, a link, a device, a pipe.
        TooLargeError: judged by its size before anything is read, and again while reading.
        DiskError: the disk failed, or reading is not allowed.
    """
    try:
        handle = _open(disk, path)
        try:
            status = retry_interrupted(disk.fstat, handle)
            if not stat.S_ISREG(status.st_mode):
                raise NotAFileError(_kind(status.st_mode))
            if status.st_size > most:
                raise _too_large(status.st_size, most)
            data = _read_all(disk, handle, most)
        finally:
            with suppress(OSError):  # nothing was written that closing could lose
                disk.close(handle)
    except OSError as error:
        raise DiskError.of(error) from error
    return data, status


def _open(disk: Disk, path: Path) -> int:
    try:
        if not NO_LINK and path.is_symlink():
            raise NotAFileError("this is a link, not a file")
        return retry_interrupted(disk.open, path, _FLAGS | NO_LINK)
    except ValueError as error:  # a name with a zero byte
        raise NotAFileError("this is no name of a file") from error
    except (FileNotFoundError, NotADirectoryError) as error:
        raise MissingFileError("there is no file {path}", path=str(path)) from error
    except PermissionError as error:
        if path.is_dir():  # Windows opens no folder
            raise NotAFileError("this is a folder, not a file") from error
        raise
    except OSError as error:
        if error.errno == errno.ELOOP:
            raise NotAFileError("this is a link, not a file") from error
        if error.errno == errno.ENXIO:
            raise NotAFileError("this is a socket, or a device that is not there") from error
        raise


def _kind(mode: int) -> LiteralString:
    if stat.S_ISDIR(mode):
        return "this is a folder, not a file"
    if stat.S_ISFIFO(mode):
        return "this is a pipe, not a file"
    if stat.S_ISSOCK(mode):
        return "this is a socket, not a file"
    return "this is a device, not a file"


def _read_all(disk: Disk, handle: int, most: int) -> bytes:
    chunks: list[bytes] = []
    total = 0
    while chunk := retry_interrupted(disk.read, handle, _CHUNK):
        total += len(chunk)
        if total > most:
            raise _too_large(total, most)
        chunks.append(chunk)
    return b"".join(chunks)


def _too_large(size: int, most: int) -> TooLargeError:
    return TooLargeError(
        "it is larger than any job: {size} of at most {most} bytes", size=f"{size:,}", most=f"{most:,}"
    )
