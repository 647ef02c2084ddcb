"""What is remembered beside the sessions: it saves time, and nothing but time is lost with it."""

from __future__ import annotations

import errno
from pathlib import Path

import pytest

from cornerwalk.store import cache as beside
from cornerwalk.store.cache import looks_of, remember, remembered
from tests.store.support import ERRORS, FaultyDisk, QuickDisk, failing

NAME = ".lessons.json"


def test_what_was_remembered_last_is_what_is_found(tmp_path: Path) -> None:
    """Each takes the place of the one before, and leaves no other file."""
    assert remembered(tmp_path, NAME) == b""
    assert remember(tmp_path, NAME, b"once")
    assert remember(tmp_path, NAME, b"twice")
    assert remembered(tmp_path, NAME) == b"twice"
    assert [path.name for path in tmp_path.iterdir()] == [NAME]


def test_what_is_remembered_is_its_owners_alone(tmp_path: Path) -> None:
    """It is drawn from sessions, in which customers' names stand."""
    remember(tmp_path, NAME, b"x")
    assert (tmp_path / NAME).stat().st_mode & 0o077 == 0


@pytest.mark.parametrize("number", ERRORS)
def test_a_disk_that_will_not_is_no_error(tmp_path: Path, number: int) -> None:
    """It is said that nothing was written, what was remembered before stays, and no half file lies about."""
    remember(tmp_path, NAME, b"before")
    for call in ("write", "replace"):
        disk = FaultyDisk(at=["stat", "open", "write", "close", "replace"].index(call) + 1, act=failing(number))
        assert not remember(tmp_path, NAME, b"after", disk)
        assert disk.log[disk.at - 1] == call
        assert remembered(tmp_path, NAME) == b"before"
        assert [path.name for path in tmp_path.iterdir()] == [NAME]


def test_a_folder_that_is_not_there_is_not_made(tmp_path: Path) -> None:
    """Looking at a library writes nothing where no session was ever written."""
    assert not remember(tmp_path / "none", NAME, b"x")
    assert not (tmp_path / "none").exists()


def test_what_cannot_be_read_is_as_if_nothing_were_remembered(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder or a link in its place, a failing disk, a file larger than any of ours: it is made again."""
    (tmp_path / "folder").mkdir()
    (tmp_path / "link").symlink_to(tmp_path / NAME)
    assert remember(tmp_path, NAME, b"four")
    assert remembered(tmp_path, "folder") == b""
    assert remembered(tmp_path, "link") == b""
    assert remembered(tmp_path, NAME, FaultyDisk(at=1, act=failing(errno.EIO))) == b""
    monkeypatch.setattr(beside, "MOST_BYTES", 4)
    assert remembered(tmp_path, NAME) == b"four"
    remember(tmp_path, NAME, b"fifth")
    assert remembered(tmp_path, NAME) == b""


def test_a_file_looks_different_once_it_was_replaced(tmp_path: Path) -> None:
    """That is how what was remembered of it is known to be of no more use; where there is no file there is no look."""
    path = tmp_path / NAME
    assert looks_of(path) is None
    remember(tmp_path, NAME, b"once")
    before = looks_of(path)
    assert before is not None
    assert looks_of(path) == before
    remember(tmp_path, NAME, b"twice")
    assert looks_of(path) != before


def test_a_file_that_cannot_be_looked_at_has_no_look(tmp_path: Path) -> None:
    """A disk that fails, and a name that is none, are no crash of a list."""
    remember(tmp_path, NAME, b"x")
    assert looks_of(tmp_path / NAME, FaultyDisk(at=1, act=failing(errno.EIO))) is None
    assert looks_of(tmp_path / "no\0name", QuickDisk()) is None
