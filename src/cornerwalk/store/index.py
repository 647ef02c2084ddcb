"""The index of a library: the summaries as of the last look, each with what its file looked like then.

It only saves time. It can be thrown away, is never waited for, and a row counts only while its file is unchanged. Its
table is written by columns, which are read many times faster than rows.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from contextlib import suppress
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
_STAGES = Summary._fields.index("stages")
_OTHER_KINDS = {"readings": int, "open": bool, "damaged": bool, "version": int}
_KINDS = [str, int, int, int, *(_OTHER_KINDS.get(name, str) for name in Summary._fields[1:])]
"""Of the columns: a file's name, its signature, and its summary, the stages as one text."""

_BETWEEN_STAGES = "\n"

Row = tuple[Signature, Summary | None]
"""What a file looked like, and its summary; None for a file that is no session."""


def read_index(library: Path, writer: Writer) -> dict[str, Row]:
    """The rows by file name; none where there is no index, or none that can be read."""
    try:
        data, _ = read_bytes(writer.disk, library / INDEX, most=_MOST_BYTES)
        plain = json.loads(data)
        if plain["format"] != _FORMAT:
            return {}
        rows: dict[str, Row] = {name: (Signature(*looks), None) for name, looks in plain["strangers"].items()}
        rows.update(_from_columns(library, plain["sessions"]))
    except (StoreError, ValueError, TypeError, LookupError, AttributeError, RecursionError):
        return {}
    return rows


def _from_columns(library: Path, columns: list[list[Any]]) -> dict[str, Row]:
    for column, kind in zip(columns, _KINDS, strict=True):
        if len(column) != len(columns[0]) or not set(map(type, column)) <= {kind}:
            raise TypeError("not a table of ours")
    names, *looks = columns[:4]
    values = columns[4:]
    values[_STAGES - 1] = [tuple(text.split(_BETWEEN_STAGES)) if text else () for text in values[_STAGES - 1]]
    summaries = map(Summary, [library / name for name in names], *values)
    return dict(zip(names, zip(map(Signature, *looks), summaries, strict=True), strict=True))


def write_index(library: Path, rows: Mapping[str, Row], writer: Writer) -> None:
    """Write the rows down, if the disk will."""
    flat = [
        (name, *look, *summary[1:_STAGES], _BETWEEN_STAGES.join(summary.stages), *summary[_STAGES + 1 :])
        for name, (look, summary) in rows.items()
        if summary is not None
    ]
    plain = {
        "format": _FORMAT,
        "sessions": list(zip(*flat, strict=True)) or [()] * len(_KINDS),
        "strangers": {name: look for name, (look, summary) in rows.items() if summary is None},
    }
    text = json.dumps(plain, ensure_ascii=True, separators=(",", ":"))
    path = library / INDEX
    with suppress(OSError):
        write_lightly(writer.disk, path, text.encode(), temporary=temporary_path(path, writer.here))
