"""The text snapshots: a change is seen, shown, and kept only when asked for."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.support.snapshots import SnapshotText, tidied


def test_a_kept_text_passes(tmp_path: Path) -> None:
    """What was kept is accepted the next time, and leaves nothing else behind."""
    SnapshotText(tmp_path / "snapshots", "walk", updating=True)("28 5/8  \n\n")
    SnapshotText(tmp_path / "snapshots", "walk", updating=False)("28 5/8")
    assert [file.name for file in (tmp_path / "snapshots").iterdir()] == ["walk.txt"]


def test_a_changed_text_fails_and_shows_both(tmp_path: Path) -> None:
    """A difference fails with the old and the new line, and what was seen lies beside what was kept."""
    SnapshotText(tmp_path, "walk", updating=True)("28 5/8", "first")
    with pytest.raises(pytest.fail.Exception, match=r"(?s)-28 5/8.*\+28 7/8"):
        SnapshotText(tmp_path, "walk", updating=False)("28 7/8", "first")
    assert (tmp_path / "walk.first.txt").read_text() == "28 5/8\n"
    assert (tmp_path / "walk.first.actual.txt").read_text() == "28 7/8\n"


def test_a_text_never_kept_fails(tmp_path: Path) -> None:
    """A new text is not accepted silently."""
    with pytest.raises(pytest.fail.Exception, match="no text is kept yet"):
        SnapshotText(tmp_path, "walk", updating=False)("28 5/8")


def test_two_texts_of_a_test_need_two_names(tmp_path: Path) -> None:
    """One text cannot overwrite another of the same test."""
    snapshot = SnapshotText(tmp_path, "walk", updating=True)
    snapshot("one")
    with pytest.raises(ValueError, match="name"):
        snapshot("two")


def test_the_ends_of_lines_do_not_count() -> None:
    """The blank parts of a screen are no difference; the order and the inside of lines are."""
    assert tidied("a  \n b\n\n\n") == "a\n b\n"
    assert tidied("") == "\n"
