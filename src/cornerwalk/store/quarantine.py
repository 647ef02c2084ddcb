"""Quarantine: an untouched copy of a damaged file, with a note, in the library's `set-aside` folder."""

from __future__ import annotations

import hashlib
from contextlib import suppress
from dataclasses import replace
from pathlib import Path

from cornerwalk.store.disk import make_folder, write_durable
from cornerwalk.store.errors import Damage, DamagedFileError
from cornerwalk.store.locked_file import Writer
from cornerwalk.store.names import QUARANTINE, temporary_path

_MAX_STEM = 60
_NOTE = """{name} was found damaged on {at} and copied here as it was.

From: {path}
What is wrong: {reason}
Events before that, which can be read: {events}
Events or lines after that: {lost}
"""


def quarantine(library: Path, damage: Damage, data: bytes, writer: Writer) -> Damage:
    """Copy a damaged file; the damage with the path of the copy, or without it if the disk refused.

    The same bytes are copied once, however often the file is opened.
    """
    folder = library / QUARANTINE
    stem = f"{damage.path.stem[:_MAX_STEM]}.{hashlib.sha256(data).hexdigest()[:8]}"
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
            note_path = folder / f"{stem}.txt"
            write_durable(writer.disk, note_path, note, temporary=temporary_path(note_path, writer.program))
        return replace(damage, quarantine_path=copy)
    return damage
