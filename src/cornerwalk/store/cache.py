"""The index of a library: the summaries as of the last look, each with what its file looked like then.

It only saves time. It can be thrown away, is never waited for, and a row counts only while its file is unchanged. It is
a table written by columns, which are read many times faster than rows, in blocks of a few hundred rows: whoever reads
it beside a person at the keys never holds the program longer than one block takes.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from contextlib import suppress
from itertools import repeat
from pathlib import Path
from typing import Any

from cornerwalk.store.disk import Disk, retry_interrupted, write_unsynced
from cornerwalk.store.errors import StoreError
from cornerwalk.store.lock_owner import this_program
from cornerwalk.store.locked_file import Writer
from cornerwalk.store.names import INDEX, temporary_path
from cornerwalk.store.safe_read import Signature, read_bytes
from cornerwalk.store.summary import Summary

_FORMAT = "cornerwalk library index 4"
"""With another number, an index of an earlier program is simply not read."""

_MAX_INDEX_BYTES = 256 * 1024 * 1024
_BLOCK_ROWS = 256
_SUMMARY_COLUMNS = Summary._fields[2:]
"""The columns of a summary besides the folder and the name of its file."""

_STAGES = _SUMMARY_COLUMNS.index("stages")
_OTHER_KINDS = {"readings": int, "open": bool, "damaged": bool, "events": int, "had_events": int, "version": int}
_COLUMN_TYPES = [str, int, int, int, *(_OTHER_KINDS.get(name, str) for name in _SUMMARY_COLUMNS)]
"""Of all columns: the file's name, its signature, and its summary, the stages as one text."""

_STAGE_SEPARATOR = "\n"

Row = tuple[Signature, Summary | None]
"""What a file looked like, and its summary; None for a file that is no session."""


def read_index(library: Path, writer: Writer) -> dict[str, Row]:
    """The rows by file name, in the order of the list; none where there is no index, or none that can be read."""
    try:
        data, _ = read_bytes(writer.disk, library / INDEX, most=_MAX_INDEX_BYTES)
        head, *blocks = data.splitlines()
        plain = json.loads(head)
        if plain["format"] != _FORMAT:
            return {}
        rows: dict[str, Row] = {name: (Signature(*looks), None) for name, looks in plain["strangers"].items()}
        for block in blocks:
            rows.update(_from_columns(library, json.loads(block)))
    except (StoreError, ValueError, TypeError, LookupError, AttributeError, RecursionError):
        return {}
    return rows


def _from_columns(library: Path, columns: list[list[Any]]) -> dict[str, Row]:
    for column, kind in zip(columns, _COLUMN_TYPES, strict=True):
        if len(column) != len(columns[0]) or not set(map(type, column)) <= {kind}:
            raise TypeError("not a table of ours")
    names, *looks = columns[:4]
    values = columns[4:]
    values[_STAGES] = [tuple(text.split(_STAGE_SEPARATOR)) if text else () for text in values[_STAGES]]
    signatures = map(Signature._make, zip(*looks, strict=True))
    summaries = map(Summary._make, zip(repeat(library), names, *values))
    return dict(zip(names, zip(signatures, summaries, strict=True), strict=True))


def write_index(library: Path, rows: Mapping[str, Row], writer: Writer) -> None:
    """Write the rows down in the order of the list, if the disk will."""
    found = [(look, summary) for look, summary in rows.values() if summary is not None]
    found.sort(key=lambda row: row[1].recency(), reverse=True)
    flat = [
        (summary.name, *look, *summed[:_STAGES], _STAGE_SEPARATOR.join(summary.stages), *summed[_STAGES + 1 :])
        for look, summary in found
        for summed in (summary[2:],)
    ]
    strangers = {name: look for name, (look, summary) in rows.items() if summary is None}
    blocks = (flat[start : start + _BLOCK_ROWS] for start in range(0, len(flat), _BLOCK_ROWS))
    lines = [{"format": _FORMAT, "strangers": strangers}, *(list(zip(*block, strict=True)) for block in blocks)]
    text = "\n".join(json.dumps(line, ensure_ascii=True, separators=(",", ":")) for line in lines)
    path = library / INDEX
    with suppress(OSError):
        write_unsynced(writer.disk, path, text.encode(), temporary=temporary_path(path, writer.program))


# ---- cache files ----


MAX_CACHE_BYTES = 256 * 1024 * 1024
"""A larger file is not read: it is none of ours."""


def file_signature(path: Path, disk: Disk | None = None) -> Signature | None:
    """What a file looks like now, to tell later whether it has changed; None where there is none."""
    try:
        return Signature.of(retry_interrupted((disk or Disk()).stat, path))
    except (OSError, ValueError):
        return None


def read_cache(folder: Path, name: str, disk: Disk | None = None) -> bytes:
    """What was remembered under this name beside the sessions of a folder; nothing where nothing can be read."""
    try:
        data, _ = read_bytes(disk or Disk(), folder / name, most=MAX_CACHE_BYTES)
    except StoreError:
        return b""
    return data


def write_cache(folder: Path, name: str, data: bytes, disk: Disk | None = None) -> bool:
    """Put it in the place of what was remembered, if the disk will; whether it did."""
    path = folder / name
    with suppress(OSError):
        write_unsynced(disk or Disk(), path, data, temporary=temporary_path(path, this_program()))
        return True
    return False
