"""Text files: safe reading of a file from anywhere, and atomic replacement of one of our own."""

from __future__ import annotations

import os
import stat
from contextlib import suppress
from pathlib import Path
from typing import LiteralString

from cornerwalk.textfiles.problems import Problem, TextFileError

LARGEST_BYTES = 200_000
"""Larger than any job sheet, list of heights or settings file that a person writes."""


class FileError(TextFileError):
    """The file was not read: it is missing, not a regular file, too large, or not UTF-8."""

    def __init__(self, name: str, template: LiteralString, *, line: int | None = None, **fields: object) -> None:
        super().__init__(name, [Problem(line, template, fields)])


def read_text_file(path: Path, *, largest_bytes: int = LARGEST_BYTES) -> str:
    """The text of a regular UTF-8 file, without its byte-order mark.

    A link is followed, but its target must be a regular file: a device or a pipe may have no end.

    Raises:
        FileError: with the reason, and what to do about it.
    """
    name = str(path)
    try:
        # Without O_NONBLOCK, opening a pipe without a writer would wait forever.
        handle = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
    except FileNotFoundError as error:
        raise FileError(name, "there is no such file") from error
    except IsADirectoryError as error:
        raise FileError(name, "this is a folder, not a file") from error
    except (OSError, ValueError) as error:
        raise FileError(name, "it cannot be opened: {reason}", reason=_reason(error)) from error
    try:
        kind = os.fstat(handle).st_mode
        if stat.S_ISDIR(kind):
            raise FileError(name, "this is a folder, not a file")
        if not stat.S_ISREG(kind):
            raise FileError(name, "this is not a regular file")
        with os.fdopen(handle, "rb", closefd=False) as stream:
            content = stream.read(largest_bytes + 1)
    except OSError as error:
        raise FileError(name, "it cannot be read: {reason}", reason=_reason(error)) from error
    finally:
        os.close(handle)
    if len(content) > largest_bytes:
        raise FileError(name, "it is larger than {most} bytes; no file of this kind is", most=f"{largest_bytes:,}")
    return _decoded(name, content)


def replace_text_file(path: Path, text: str) -> None:
    """Replace a file as `replace_file` does, with a text in UTF-8.

    Raises:
        OSError: it cannot be written; the old file is as it was.
    """
    replace_file(path, text.encode("utf-8"))


def replace_file(path: Path, content: bytes) -> None:
    """Replace a file so that a crash leaves the old or the new one; only its owner can read it.

    Missing folders are made. A link stays a link: its target is replaced.

    Raises:
        OSError: it cannot be written; the old file is as it was.
    """
    import tempfile

    target = path.resolve()
    target.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    handle, temporary = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name[:100]}.", suffix=".tmp")
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(handle)
        Path(temporary).replace(target)
    except BaseException:
        with suppress(OSError):
            Path(temporary).unlink()
        raise


def _decoded(name: str, content: bytes) -> str:
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise FileError(name, "it is written in UTF-16; save it as UTF-8")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        raise FileError(name, "this is not UTF-8 text; save the file as UTF-8", line=line) from error


def _reason(error: OSError | ValueError) -> str:
    return (error.strerror if isinstance(error, OSError) else None) or str(error)
