"""The index of a library: the summaries as of the last look, each with what its file looked like then.

It only saves time. It can be thrown away, is never waited for, and a row counts only while its file is unchanged.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from contextlib import suppress
from dataclasses import fields
from operator import attrgetter
from pathlib import Path
from typing import Any

from cornerwalk.store.disk import write_lightly
from cornerwalk.store.errors import StoreError
from cornerwalk.store.names import INDEX, temporary_path
from cornerwalk.store.place import Writer
from cornerwalk.store.reading import Signature, read_bytes
from cornerwalk.store.summary import Summary

_FORMAT = "cornerwalk library index 1"
"""With another number, an index of an earlier program is simply not read."""

_MOST_BYTES = 256 * 1024 * 1024
_KEPT = [field.name for field in fields(Summary) if field.name != "path"]
_VALUES = attrgetter(*_KEPT)
_STAGES = _KEPT.index("stages")
_OTHER_KINDS = {"stages": list, "readings": int, "open": bool, "damaged": bool, "version": int}
_KINDS = [_OTHER_KINDS.get(name, str) for name in _KEPT]

Row = tuple[Signature, Summary | None]
"""What a file looked like, and its summary; None for a file that is no session."""


def read_index(library: Path, writer: Writer) -> dict[str, Row]:
    """The rows by file name; none where there is no index, or none that can be read."""
    try:
        data, _ = read_bytes(writer.disk, library / INDEX, most=_MOST_BYTES)
        plain = json.loads(data)
        if plain["format"] != _FORMAT:
            return {}
        return {name: _row(library, name, row) for name, row in plain["rows"].items()}
    except (StoreError, ValueError, TypeError, LookupError, AttributeError, RecursionError):
        return {}


def _row(library: Path, name: str, row: list[Any]) -> Row:
    signature = Signature(*row[:3])
    if len(row) == 3:
        return signature, None
    values = row[3:]
    if list(map(type, values)) != _KINDS:
        raise TypeError("not a row of ours")
    values[_STAGES] = tuple(values[_STAGES])
    return signature, Summary(library / name, *values)


def write_index(library: Path, rows: Mapping[str, Row], writer: Writer) -> None:
    """Write the rows down, if the disk will."""
    plain = {name: [*signature, *_kept(summary)] for name, (signature, summary) in rows.items()}
    text = json.dumps({"format": _FORMAT, "rows": plain}, ensure_ascii=True, separators=(",", ":"))
    path = library / INDEX
    with suppress(OSError):
        write_lightly(writer.disk, path, text.encode(), temporary=temporary_path(path, writer.here))


def _kept(summary: Summary | None) -> Iterable[object]:
    return () if summary is None else _VALUES(summary)
