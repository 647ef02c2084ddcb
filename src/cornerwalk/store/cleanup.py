"""Cleanup of what a dead program left behind, at a later start: partly written files and stale locks."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

from cornerwalk.store.disk import retry_interrupted
from cornerwalk.store.errors import StoreError
from cornerwalk.store.lock import read_owner
from cornerwalk.store.lock_owner import owner_status
from cornerwalk.store.locked_file import Writer
from cornerwalk.store.names import QUARANTINE, session_of_lock, writer_of

_OLD_SECONDS = 24 * 3600
"""No file takes a day to write: an older one was left by a program of unknown state."""


def remove_stale_files(library: Path, writer: Writer) -> int:
    """Remove what dead programs left in a library and its quarantine; returns how many files.

    Only this program's own files are touched, and none whose writer may still be running.
    """
    removed = 0
    for folder in (library, library / QUARANTINE):
        for path in list(_files(folder)):
            removed += _remove_partial_file(path, writer) or _remove_stale_lock(path, writer)
    return removed


def _files(folder: Path) -> Iterator[Path]:
    with suppress(OSError), os.scandir(folder) as entries:
        for entry in entries:
            if entry.name.startswith(".") and entry.is_file(follow_symlinks=False):
                yield Path(entry.path)


def _remove_partial_file(path: Path, writer: Writer) -> bool:
    who = writer_of(path.name)
    if who is None:
        return False
    with suppress(OSError):
        age_seconds = writer.clock().timestamp() - retry_interrupted(writer.disk.stat, path).st_mtime
        if owner_status(who, writer.program) == "gone" or age_seconds > _OLD_SECONDS:
            retry_interrupted(writer.disk.unlink, path)
            return True
    return False


def _remove_stale_lock(path: Path, writer: Writer) -> bool:
    session = session_of_lock(path)
    if session is None or not os.path.lexists(path):  # removed along with its other file
        return False
    owner = read_owner(session, writer.disk)
    if owner is not None and owner_status(owner.program, writer.program) in ("alive", "elsewhere"):
        return False
    with suppress(StoreError):
        # Acquire and release it: if another program took it meanwhile, it stays.
        writer.lock(session).release()
        return True
    return False
