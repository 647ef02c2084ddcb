"""Cache: the index of a library (each file's summary and signature), and other cache files beside the sessions.

A cache only saves time. It can be deleted, no one waits for it, and a row counts only while its file is unchanged. The
index is stored by columns, which parse many times faster than rows, in blocks of a few hundred rows, so that reading it
in the background never blocks the keys for longer than one block takes.
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
"""An index with another number is ignored."""

_MAX_INDEX_BYTES = 256 * 1024 * 1024
_BLOCK_ROWS = 256
_SUMMARY_COLUMNS = Summary._fields[2:]
"""The columns of a summary besides the folder and the name of the file."""

_STAGES = _SUMMARY_COLUMNS.index("stages")
_OTHER_KINDS = {"readings": int, "open": bool, "damaged": bool, "events": int, "had_events": int, "version": int}
_COLUMN_TYPES = [str, int, int, int, *(_OTHER_KINDS.get(name, str) for name in _SUMMARY_COLUMNS)]
"""Types of all columns: file name, signature, and summary, with the stages as one text."""

_STAGE_SEPARATOR = "\n"

Row = tuple[Signature, Summary | None]
"""A file's signature and summary; None for a file that is not a session."""


def read_index(library: Path, writer: Writer) -> dict[str, Row]:
    """The rows by file name, in the order of the list; empty if there is no readable index."""
    try:
        data, _ = read_bytes(writer.disk, library / INDEX, most=_MAX_INDEX_BYTES)
        head, *blocks = data.splitlines()
        plain = json.loads(head)
        if plain["format"] != _FORMAT:
            return {}
        rows: dict[str, Row] = {name: (Signature(*numbers), None) for name, numbers in plain["strangers"].items()}
        for block in blocks:
            rows.update(_from_columns(library, json.loads(block)))
    except (StoreError, ValueError, TypeError, LookupError, AttributeError, RecursionError):
        return {}
    return rows


def _from_columns(library: Path, columns: list[list[Any]]) -> dict[str, Row]:
    for column, kind in zip(columns, _COLUMN_TYPES, strict=True):
        if len(column) != len(columns[0]) or not set(map(type, column)) <= {kind}:
            raise TypeError("not a table of ours")
    names, *numbers = columns[:4]
    values = columns[4:]
    values[_STAGES] = [tuple(text.split(_STAGE_SEPARATOR)) if text else () for text in values[_STAGES]]
    signatures = map(Signature._make, zip(*numbers, strict=True))
    summaries = map(Summary._make, zip(repeat(library), names, *values))
    return dict(zip(names, zip(signatures, summaries, strict=True), strict=True))


def write_index(library: Path, rows: Mapping[str, Row], writer: Writer) -> None:
    """Write the rows in the order of the list; a failure of the disk is ignored."""
    sessions = [(signature, summary) for signature, summary in rows.values() if summary is not None]
    sessions.sort(key=lambda row: row[1].recency(), reverse=True)
    flat = [
        (summary.name, *signature, *values[:_STAGES], _STAGE_SEPARATOR.join(summary.stages), *values[_STAGES + 1 :])
        for signature, summary in sessions
        for values in (summary[2:],)
    ]
    strangers = {name: signature for name, (signature, summary) in rows.items() if summary is None}
    blocks = (flat[start : start + _BLOCK_ROWS] for start in range(0, len(flat), _BLOCK_ROWS))
    lines = [{"format": _FORMAT, "strangers": strangers}, *(list(zip(*block, strict=True)) for block in blocks)]
    text = "\n".join(json.dumps(line, ensure_ascii=True, separators=(",", ":")) for line in lines)
    path = library / INDEX
    with suppress(OSError):
        write_unsynced(writer.disk, path, text.encode(), temporary=temporary_path(path, writer.program))


# ---- other cache files ----

MAX_CACHE_BYTES = 256 * 1024 * 1024
"""A larger file is not ours and is not read."""


def file_signature(path: Path, disk: Disk | None = None) -> Signature | None:
    """A file's signature, to tell later whether it has changed; None if there is no file."""
    try:
        return Signature.of(retry_interrupted((disk or Disk()).stat, path))
    except (OSError, ValueError):
        return None


def read_cache(folder: Path, name: str, disk: Disk | None = None) -> bytes:
    """The cache file of this name in a folder of sessions; empty if it cannot be read."""
    try:
        data, _ = read_bytes(disk or Disk(), folder / name, most=MAX_CACHE_BYTES)
    except StoreError:
        return b""
    return data


def write_cache(folder: Path, name: str, data: bytes, disk: Disk | None = None) -> bool:
    """Replace a cache file; returns whether the disk did it."""
    path = folder / name
    with suppress(OSError):
        write_unsynced(disk or Disk(), path, data, temporary=temporary_path(path, this_program()))
        return True
    return False
