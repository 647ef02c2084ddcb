"""What a program that died left behind, removed at a later start: half-written files, and locks that nobody holds."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import replace
from pathlib import Path

from cornerwalk.store.disk import make_folder, retry_interrupted, write_durable
from cornerwalk.store.errors import Damage, DamagedFileError, StoreError
from cornerwalk.store.lock import read_owner
from cornerwalk.store.lock_owner import owner_status
from cornerwalk.store.locked_file import Writer
from cornerwalk.store.names import QUARANTINE, session_of_lock, temporary_path, writer_of

_OLD_SECONDS = 24 * 3600
"""No file takes a day to write: an older one was left by a program of which nothing can be told from here."""


def remove_stale_files(library: Path, writer: Writer) -> int:
    """Remove what dead programs left in a library and its `set-aside`; how many files that were.

    Only files of our own making are touched, and none whose writer may still be at it.
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
    if session is None or not os.path.lexists(path):  # it went with the other one
        return False
    holder = read_owner(session, writer.disk)
    if holder is not None and owner_status(holder.program, writer.program) in ("alive", "elsewhere"):
        return False
    with suppress(StoreError):
        # Taken and let go as any other: had somebody come in meanwhile, it would not be ours to remove.
        writer.lock(session).release()
        return True
    return False


# ---- quarantine ----


_LONGEST_STEM = 60
_NOTE = """{name} was found damaged on {at} and copied here as it was.

From: {path}
What is wrong: {reason}
Events before that, which can be read: {events}
Events or lines after that: {lost}
"""


def quarantine(library: Path, damage: Damage, data: bytes, writer: Writer) -> Damage:
    """The damage with the path of its copy; without one where the disk did not take it.

    The same bytes are copied once, however often the file is opened.
    """
    folder = library / QUARANTINE
    stem = f"{damage.path.stem[:_LONGEST_STEM]}.{hashlib.sha256(data).hexdigest()[:8]}"
    copy = folder / f"{stem}.json"
    note = _NOTE.format(
        name=damage.path.name,
        at=writer.stamp(),
        path=damage.path,
        reason=DamagedFileError(damage),
        events=len(damage.events),
        lost=damage.lost,
    ).encode("utf-8", "backslashreplace")
    with suppress(OSError):
        if not copy.exists():
            make_folder(writer.disk, folder)
            write_durable(writer.disk, copy, data, temporary=temporary_path(copy, writer.program))
            beside = folder / f"{stem}.txt"
            write_durable(writer.disk, beside, note, temporary=temporary_path(beside, writer.program))
        return replace(damage, quarantine_path=copy)
    return damage
