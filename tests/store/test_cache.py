"""What is remembered beside the sessions: it saves time, and nothing but time is lost with it."""

from __future__ import annotations

import errno
from pathlib import Path

import pytest

from cornerwalk.store import cache as beside
from cornerwalk.store.cache import file_signature, read_cache, write_cache
from tests.store.support import ERRORS, FaultyDisk, QuickDisk, failing

NAME = ".lessons.json"


def test_what_was_remembered_last_is_what_is_found(tmp_path: Path) -> None:
    """Each takes the place of the one before, and leaves no other file."""
    assert read_cache(tmp_path, NAME) == b""
    assert write_cache(tmp_path, NAME, b"once")
    assert write_cache(tmp_path, NAME, b"twice")
    assert read_cache(tmp_path, NAME) == b"twice"
    assert [path.name for path in tmp_path.iterdir()] == [NAME]


def test_what_is_remembered_is_its_owners_alone(tmp_path: Path) -> None:
    """It is drawn from sessions, in which customers' names stand."""
    write_cache(tmp_path, NAME, b"x")
    assert (tmp_path / NAME).stat().st_mode & 0o077 == 0


@pytest.mark.parametrize("number", ERRORS)
def test_a_disk_that_will_not_is_no_error(tmp_path: Path, number: int) -> None:
    """It is said that nothing was written, what was remembered before stays, and no half file lies about."""
    write_cache(tmp_path, NAME, b"before")
    for call in ("write", "replace"):
        disk = FaultyDisk(at=["stat", "open", "write", "close", "replace"].index(call) + 1, act=failing(number))
        assert not write_cache(tmp_path, NAME, b"after", disk)
        assert disk.log[disk.at - 1] == call
        assert read_cache(tmp_path, NAME) == b"before"
        assert [path.name for path in tmp_path.iterdir()] == [NAME]


def test_a_folder_that_is_not_there_is_not_made(tmp_path: Path) -> None:
    """Looking at a library writes nothing where no session was ever written."""
    assert not write_cache(tmp_path / "none", NAME, b"x")
    assert not (tmp_path / "none").exists()


def test_what_cannot_be_read_is_as_if_nothing_were_remembered(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder or a link in its place, a failing disk, a file larger than any of ours: it is made again."""
    (tmp_path / "folder").mkdir()
    (tmp_path / "link").symlink_to(tmp_path / NAME)
    assert write_cache(tmp_path, NAME, b"four")
    assert read_cache(tmp_path, "folder") == b""
    assert read_cache(tmp_path, "link") == b""
    assert read_cache(tmp_path, NAME, FaultyDisk(at=1, act=failing(errno.EIO))) == b""
    monkeypatch.setattr(beside, "MAX_CACHE_BYTES", 4)
    assert read_cache(tmp_path, NAME) == b"four"
    write_cache(tmp_path, NAME, b"fifth")
    assert read_cache(tmp_path, NAME) == b""


def test_a_file_looks_different_once_it_was_replaced(tmp_path: Path) -> None:
    """That is how what was remembered of it is known to be of no more use; where there is no file there is no look."""
    path = tmp_path / NAME
    assert file_signature(path) is None
    write_cache(tmp_path, NAME, b"once")
    before = file_signature(path)
    assert before is not None
    assert file_signature(path) == before
    write_cache(tmp_path, NAME, b"twice")
    assert file_signature(path) != before


def test_a_file_that_cannot_be_looked_at_has_no_look(tmp_path: Path) -> None:
    """A disk that fails, and a name that is none, are no crash of a list."""
    write_cache(tmp_path, NAME, b"x")
    assert file_signature(tmp_path / NAME, FaultyDisk(at=1, act=failing(errno.EIO))) is None
    assert file_signature(tmp_path / "no\0name", QuickDisk()) is None
