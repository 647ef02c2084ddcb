"""Files beside the sessions that only save time: what was made from them once, and can be made again at any time."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path

from cornerwalk.store.disk import Disk, uninterrupted, write_lightly
from cornerwalk.store.errors import StoreError
from cornerwalk.store.holder import this_program
from cornerwalk.store.names import temporary_path
from cornerwalk.store.reading import Signature, read_bytes

MOST_BYTES = 256 * 1024 * 1024
"""A larger file is not read: it is none of ours."""


def looks_of(path: Path, disk: Disk | None = None) -> Signature | None:
    """What a file looks like now, to tell later whether it has changed; None where there is none."""
    try:
        return Signature.of(uninterrupted((disk or Disk()).stat, path))
    except (OSError, ValueError):
        return None


def remembered(folder: Path, name: str, disk: Disk | None = None) -> bytes:
    """What was remembered under this name beside the sessions of a folder; nothing where nothing can be read."""
    try:
        data, _ = read_bytes(disk or Disk(), folder / name, most=MOST_BYTES)
    except StoreError:
        return b""
    return data


def remember(folder: Path, name: str, data: bytes, disk: Disk | None = None) -> bool:
    """Put it in the place of what was remembered, if the disk will; whether it did."""
    path = folder / name
    with suppress(OSError):
        write_lightly(disk or Disk(), path, data, temporary=temporary_path(path, this_program()))
        return True
    return False
