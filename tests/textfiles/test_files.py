"""Reading files that came from anywhere, and replacing one of our own."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pytest

from cornerwalk.textfiles import FileError, read_text_file, replace_text_file

posix_only = pytest.mark.skipif(sys.platform == "win32", reason="POSIX files")


def refused(path: Path, **limits: int) -> str:
    with pytest.raises(FileError) as caught:
        read_text_file(path, **limits)
    return str(caught.value).removeprefix(str(path))


def test_text_without_its_byte_order_mark(tmp_path: Path) -> None:
    """A mark that some editors put first is no part of the text; line ends stay."""
    path = tmp_path / "a.toml"
    path.write_bytes(b"\xef\xbb\xbfa = 1\r\n")
    assert read_text_file(path) == "a = 1\r\n"


def test_a_link_to_a_file_is_followed(tmp_path: Path) -> None:
    """People keep their files where they like."""
    (tmp_path / "a.toml").write_text("a = 1")
    (tmp_path / "link").symlink_to(tmp_path / "a.toml")
    assert read_text_file(tmp_path / "link") == "a = 1"


def test_a_missing_file(tmp_path: Path) -> None:
    """It is said in those words."""
    assert refused(tmp_path / "none") == ": there is no such file"


def test_a_folder(tmp_path: Path) -> None:
    """A folder is told from a file."""
    assert refused(tmp_path) == ": this is a folder, not a file"


@posix_only
def test_a_device_without_end() -> None:
    """What never ends is not begun."""
    assert refused(Path("/dev/zero")) == ": this is not a regular file"


@posix_only
def test_a_link_to_a_device(tmp_path: Path) -> None:
    """Nor by way of a link."""
    (tmp_path / "link").symlink_to("/dev/zero")
    assert refused(tmp_path / "link") == ": this is not a regular file"


@posix_only
def test_a_pipe_nobody_writes_to(tmp_path: Path) -> None:
    """It is refused at once; opening it plainly would wait for ever."""
    os.mkfifo(tmp_path / "pipe")
    assert refused(tmp_path / "pipe") == ": this is not a regular file"


@posix_only
def test_a_link_in_a_circle(tmp_path: Path) -> None:
    """It leads nowhere, and that is said rather than followed for ever."""
    (tmp_path / "a").symlink_to(tmp_path / "b")
    (tmp_path / "b").symlink_to(tmp_path / "a")
    assert refused(tmp_path / "a").startswith(": it cannot be opened: ")


def test_a_name_no_file_can_have() -> None:
    """A name with a zero byte is refused, not raised."""
    assert "it cannot be opened" in refused(Path("a\0b"))


def test_the_size_limit_is_exact(tmp_path: Path) -> None:
    """A file of just the largest size is read, one byte more is refused with the size."""
    path = tmp_path / "a.toml"
    path.write_bytes(b"x" * 100)
    assert read_text_file(path, largest_bytes=100) == "x" * 100
    assert refused(path, largest_bytes=99) == ": it is larger than 99 bytes; no file of this kind is"


def test_a_wrong_encoding_names_the_line(tmp_path: Path) -> None:
    """The line with the bad byte is told, and what to do."""
    path = tmp_path / "a.toml"
    path.write_bytes(b"a = 1\nb = '\xe9'\n")
    assert refused(path) == ", line 2: this is not UTF-8 text; save the file as UTF-8"


@pytest.mark.parametrize("encoding", ["utf-16-le", "utf-16-be"])
def test_sixteen_bits_a_character(tmp_path: Path, encoding: str) -> None:
    """A file saved as UTF-16 is recognised and named."""
    path = tmp_path / "a.toml"
    path.write_bytes("\ufeffa = 1".encode(encoding))
    assert refused(path) == ": it is written in UTF-16; save it as UTF-8"


def test_replacing_makes_folders_and_leaves_nothing_else(tmp_path: Path) -> None:
    """The new text stands whole, and no half-written file beside it."""
    path = tmp_path / "new" / "folder" / "a.toml"
    replace_text_file(path, "½\n")
    replace_text_file(path, "¼\n")
    assert path.read_bytes() == "¼\n".encode()
    assert [entry.name for entry in path.parent.iterdir()] == ["a.toml"]


@posix_only
def test_what_is_written_is_for_its_owner_only(tmp_path: Path) -> None:
    """Customers' data are not readable for everybody on the machine."""
    replace_text_file(tmp_path / "a.toml", "")
    assert (tmp_path / "a.toml").stat().st_mode & 0o777 == 0o600


def test_a_link_stays_a_link(tmp_path: Path) -> None:
    """Writing goes to the file that the link names."""
    (tmp_path / "real").write_text("old")
    (tmp_path / "link").symlink_to(tmp_path / "real")
    replace_text_file(tmp_path / "link", "new")
    assert (tmp_path / "link").is_symlink()
    assert (tmp_path / "real").read_text() == "new"


def test_a_failed_write_leaves_the_old_file_alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A full disk costs the new text, never the old one."""
    path = tmp_path / "a.toml"
    path.write_text("old")

    def full(_handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space left"):
        replace_text_file(path, "new")
    assert path.read_text() == "old"
    assert [entry.name for entry in tmp_path.iterdir()] == ["a.toml"]
