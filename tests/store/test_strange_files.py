"""What is no file at all: links, folders, devices, pipes."""

from __future__ import annotations

import errno
import os
import socket
import time
from pathlib import Path

import pytest

from cornerwalk.store import (
    MissingFileError,
    NotAFileError,
    StoreError,
)
from cornerwalk.store import safe_read as reading_module
from cornerwalk.store.check import check_file
from cornerwalk.store.safe_read import read_bytes
from tests.store.support import FaultyDisk, QuickDisk, failing, library


def special(folder: Path, kind: str) -> Path:
    path = folder / "special.json"
    match kind:
        case "folder":
            path.mkdir()
        case "pipe":
            os.mkfifo(path)
        case "link":
            (folder / "real.json").write_text("{}")
            path.symlink_to(folder / "real.json")
        case "link to itself":
            path.symlink_to(path)
        case "link to an endless device":
            path.symlink_to("/dev/zero")
        case "socket":
            server = socket.socket(socket.AF_UNIX)
            server.bind(str(path))
            server.close()
        case "device":
            return Path("/dev/zero")
        case "terminal":
            return Path("/dev/ptmx")
        case "no name of a file":
            return folder / "a\0b.json"
        case "a file used as a folder":
            (folder / "file").touch()
            return folder / "file" / "s.json"
    return path


@pytest.mark.parametrize(
    ("kind", "error"),
    [
        ("folder", NotAFileError),
        ("pipe", NotAFileError),
        ("link", NotAFileError),
        ("link to itself", NotAFileError),
        ("link to an endless device", NotAFileError),
        ("socket", NotAFileError),
        ("device", NotAFileError),
        ("terminal", NotAFileError),
        ("no name of a file", NotAFileError),
        ("a file used as a folder", MissingFileError),
        ("missing", MissingFileError),
    ],
)
def test_what_is_no_file_is_not_read(tmp_path: Path, kind: str, error: type[StoreError]) -> None:
    """A folder, link, pipe, socket or device in place of a file is refused at once, and nothing is read from it."""
    path = special(tmp_path, kind)
    shelf = library(tmp_path)
    start = time.monotonic()
    for use in (shelf.read, shelf.open, shelf.follow, lambda p: read_bytes(QuickDisk(), p)):
        with pytest.raises(error):
            use(path)
    assert time.monotonic() - start < 5
    assert not check_file(path).ok
    assert all(summary.damaged or summary.path.name == "real.json" for summary in shelf.summaries())


def test_a_link_is_refused_where_the_system_cannot(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As on Windows, where opening has no way to refuse a link."""
    monkeypatch.setattr(reading_module, "NO_LINK", 0)
    with pytest.raises(NotAFileError, match="a link"):
        read_bytes(QuickDisk(), special(tmp_path, "link"))
    assert read_bytes(QuickDisk(), tmp_path / "real.json")[0] == b"{}"


def test_a_folder_that_the_system_will_not_open_is_a_folder(tmp_path: Path) -> None:
    """As on Windows, which calls it a lack of rights."""
    with pytest.raises(NotAFileError, match="a folder"):
        read_bytes(FaultyDisk(at=1, act=failing(errno.EACCES)), tmp_path)
