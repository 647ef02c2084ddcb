"""A damaged file, copied aside untouched with a note of why, so that nothing done later can make it worse."""

from __future__ import annotations

import hashlib
from contextlib import suppress
from dataclasses import replace
from pathlib import Path

from cornerwalk.store.disk import make_folder, write_durably
from cornerwalk.store.errors import Damaged
from cornerwalk.store.names import SET_ASIDE, temporary_path
from cornerwalk.store.place import Writer
from cornerwalk.store.stored import Damage

_LONGEST_STEM = 60
_NOTE = """{name} was found damaged on {at} and copied here as it was.

From: {path}
What is wrong: {reason}
Events before that, which can be read: {events}
Events or lines after that: {lost}
"""


def set_aside(library: Path, damage: Damage, data: bytes, writer: Writer) -> Damage:
    """The damage with the path of its copy; without one where the disk did not take it.

    The same bytes are copied once, however often the file is opened.
    """
    folder = library / SET_ASIDE
    stem = f"{damage.path.stem[:_LONGEST_STEM]}.{hashlib.sha256(data).hexdigest()[:8]}"
    copy = folder / f"{stem}.json"
    note = _NOTE.format(
        name=damage.path.name,
        at=writer.stamp(),
        path=damage.path,
        reason=Damaged(damage),
        events=len(damage.events),
        lost=damage.lost,
    ).encode("utf-8", "backslashreplace")
    with suppress(OSError):
        if not copy.exists():
            make_folder(writer.disk, folder)
            write_durably(writer.disk, copy, data, temporary=temporary_path(copy, writer.here))
            beside = folder / f"{stem}.txt"
            write_durably(writer.disk, beside, note, temporary=temporary_path(beside, writer.here))
        return replace(damage, set_aside=copy)
    return damage
