"""Export folder: how new tables replace those of an earlier export in one step, and what is never touched.

Tables are written into a folder beside the target and renamed when they are complete. Only what an earlier export wrote
is ever replaced: files of anybody else's in the folder move over into the new one, and a folder that holds no export
is left alone unless it is empty. What an export that was killed left beside the target, the next one tidies up.

    .5e6f….4711-….part     being written by process 4711
    .5e6f….4711-….before   what stood at the target, while the new takes its place
"""

from __future__ import annotations

import json
import os
import re
import shutil
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any

from cornerwalk.store import owner_status, temporary_path, this_program, writer_of
from cornerwalk.tables.engines import TablesError

MANIFEST = "export.json"
"""Marks a folder as an export and lists the files of it."""

FORMAT = "cornerwalk export"

_PART = ".part"
_BEFORE = ".before"
_LARGEST_MANIFEST_BYTES = 64 * 1024 * 1024
_OURS = re.compile(
    r"(csv/[a-z_]+\.csv|jsonl/[a-z_]+\.jsonl|parquet/[a-z_]+/year=\d{4}/month=\d\d/part-\d+\.parquet"
    r"|dictionary\.csv|left_out\.csv|export\.json)"
)


class NotAnExportError(TablesError):
    """The folder holds something that no export wrote."""


@contextmanager
def new_folder(target: Path) -> Iterator[Path]:
    """A folder to write an export into; it becomes `target` when the work in it ends well, and is gone when not.

    Args:
        target: need not exist; the folder above it is made.

    Raises:
        NotAnExportError: something else stands at `target`; nothing was done.
        OSError: the disk failed; what stood at `target` stands there still.
    """
    target = target.resolve()
    _tidy_up(target)
    _require_free(target)
    target.parent.mkdir(parents=True, exist_ok=True)
    folder = temporary_path(target, this_program())
    folder.mkdir(mode=0o700)
    try:
        yield folder
        _take_place(folder, target)
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def write_manifest(folder: Path, about: dict[str, Any]) -> None:
    """Write the manifest: what the folder is, and which files the export wrote.

    Raises:
        OSError: the disk failed.
    """
    files = sorted([*_files(folder), MANIFEST])
    body = json.dumps({"format": FORMAT, **about, "files": files}, indent=1, ensure_ascii=False)
    (folder / MANIFEST).write_text(body + "\n", encoding="utf-8")


def read_manifest(folder: Path) -> dict[str, Any]:
    """Read the manifest of an export.

    Raises:
        NotAnExportError: the folder is none.
    """
    manifest = folder / MANIFEST
    try:
        with manifest.open("rb") as stream:
            document = json.loads(stream.read(_LARGEST_MANIFEST_BYTES))
    except (OSError, ValueError, RecursionError) as error:
        raise _not_an_export(folder) from error
    if not isinstance(document, dict) or document.get("format") != FORMAT:
        raise _not_an_export(folder)
    return document


def _not_an_export(folder: Path) -> NotAnExportError:
    return NotAnExportError(
        "{folder} holds no export of cornerwalk, so nothing was done: name a new or an empty folder, or one that an "
        "export wrote",
        folder=str(folder),
    )


def _require_free(target: Path) -> None:
    if target.is_dir() and any(target.iterdir()):
        read_manifest(target)
    elif target.exists() and not target.is_dir():
        raise _not_an_export(target)


def _take_place(folder: Path, target: Path) -> None:
    if not target.exists():
        folder.rename(target)
        return
    aside = folder.with_suffix(_BEFORE)
    target.rename(aside)
    try:
        folder.rename(target)
    except OSError:
        aside.rename(target)
        raise
    _clear_away(aside, target)


def _clear_away(aside: Path, target: Path) -> None:
    """Remove an earlier export; files in it that no export wrote move to the new one."""
    for name in _ours(aside):
        (aside / name).unlink(missing_ok=True)
    for name in _files(aside):
        _carry_over(aside / name, target / name)
    _remove_empty(aside)


def _tidy_up(target: Path) -> None:
    """Finish or undo an export into this folder that was killed."""
    here = this_program()
    ours = temporary_path(target, here).name.split(".")[1]
    for path in sorted(target.parent.glob(f".{ours}.*")):
        writer = writer_of(path.with_suffix(_PART).name)
        if writer is None or owner_status(writer, here) != "gone":
            continue
        if path.suffix == _PART:
            shutil.rmtree(path, ignore_errors=True)
        elif path.suffix == _BEFORE and not target.exists():
            path.rename(target)
        elif path.suffix == _BEFORE:
            _clear_away(path, target)


def _ours(folder: Path) -> list[str]:
    """The files of an earlier export. Its list is checked, as a list may have come from anywhere."""
    with suppress(NotAnExportError):
        listed = read_manifest(folder).get("files")
        if isinstance(listed, list):
            there = set(_files(folder))
            return [name for name in listed if isinstance(name, str) and _OURS.fullmatch(name) and name in there]
    return []


def _files(folder: Path) -> list[str]:
    """Every file below a folder, by its path from there; a link is a file, wherever it leads."""
    return sorted(
        Path(place, name).relative_to(folder).as_posix()
        for place, folders, names in os.walk(folder)
        for name in (*names, *(each for each in folders if Path(place, each).is_symlink()))
    )


def _carry_over(path: Path, target: Path) -> None:
    target.parent.mkdir(parents=True, exist_ok=True)
    if not os.path.lexists(target):
        path.rename(target)


def _remove_empty(folder: Path) -> None:
    """Remove a folder and those below it as far as they are empty; what is not stays, under its own name."""
    for place, _, _ in os.walk(folder, topdown=False):
        with suppress(OSError):
            Path(place).rmdir()
