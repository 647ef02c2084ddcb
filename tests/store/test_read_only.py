"""A session looked back at: as it stood after any of its events, and nothing of it can be changed."""

from __future__ import annotations

from pathlib import Path

import pytest

from cornerwalk.session import fold
from cornerwalk.store import ReadOnlySessionError, SavedState
from cornerwalk.store.read_only import SessionSnapshot
from tests.store.support import four_heights, library, note, opened


@pytest.fixture
def path(tmp_path: Path) -> Path:
    with library(tmp_path).create(opened(), *four_heights(), note()) as session:
        return session.path


def past(path: Path) -> SessionSnapshot:
    return SessionSnapshot(library(path.parent).read(path))


def test_it_stands_after_the_last_event_first(path: Path) -> None:
    """As the file is now."""
    looked_at = past(path)
    stored = library(path.parent).read(path)
    assert looked_at.events == stored.events
    assert looked_at.session == stored.session
    assert looked_at.path == path


def test_it_stands_after_any_event(path: Path) -> None:
    """The events up to there, their fold, and when the last of them was kept."""
    looked_at = past(path)
    every = looked_at.events
    for count in (1, 3, len(every), 2):
        looked_at.go_to(count)
        assert looked_at.events == every[:count]
        assert looked_at.session == fold(every[:count])
        assert isinstance(looked_at.state, SavedState)
        assert looked_at.state.at.isoformat() == every[count - 1].at


@pytest.mark.parametrize("count", [0, -1, 7, 1000])
def test_there_is_nothing_before_the_first_or_after_the_last(count: int, path: Path) -> None:
    """Asking for it is a mistake of the caller's, and moves nothing."""
    looked_at = past(path)
    with pytest.raises(ValueError, match="nothing to see"):
        looked_at.go_to(count)
    assert len(looked_at.events) == 6


def test_the_past_cannot_be_changed(path: Path) -> None:
    """Nothing is recorded, retried or moved, and the folder stays as it is."""
    before = {file.name: file.read_bytes() for file in path.parent.iterdir()}
    looked_at = past(path)
    assert looked_at.read_only
    with pytest.raises(ReadOnlySessionError):
        looked_at.record(note())
    with pytest.raises(ReadOnlySessionError):
        looked_at.retry()
    with pytest.raises(ReadOnlySessionError):
        looked_at.move_to(path.parent)
    assert not looked_at.refresh()
    assert isinstance(looked_at.close(), SavedState)
    assert {file.name: file.read_bytes() for file in path.parent.iterdir()} == before


def test_nobody_is_kept_from_writing_by_a_look_back(path: Path) -> None:
    """No lock is taken; what is recorded meanwhile is not in what was read."""
    looked_at = past(path)
    with library(path.parent).open(path) as session:
        session.record(note())
    assert len(looked_at.events) == 6
