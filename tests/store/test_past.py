from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from cornerwalk.session import fold
from cornerwalk.store import Kept, ReadOnly, StoredSession
from cornerwalk.store.past import PastFile
from tests.store.support import four_heights, library, names, note, opened
from tests.support.clock import MORNING


@pytest.fixture
def stored(tmp_path: Path) -> StoredSession:
    shelf = library(tmp_path)
    with shelf.create(opened(), *four_heights()) as session:
        pass
    return shelf.read(session.path)


def test_the_past_is_the_session_as_it_stood(stored: StoredSession) -> None:
    """After any number of its events, the session is the fold of those; it begins at the end."""
    past = PastFile(stored)
    assert past.session == stored.session
    assert past.path == stored.path
    for count in range(1, 6):
        past.go_to(count)
        assert past.session == fold(stored.events[:count])
        assert past.state == Kept(MORNING)


@pytest.mark.parametrize("count", [-1, 0, 6])
def test_there_is_nothing_outside_of_what_happened(stored: StoredSession, count: int) -> None:
    """Before the first event and after the last there is no session."""
    with pytest.raises(ValueError, match="nothing to see"):
        PastFile(stored).go_to(count)


def test_the_past_is_not_changed(stored: StoredSession) -> None:
    """Nothing can be recorded, written or moved; nothing is locked; closing it lets go of nothing."""
    past = PastFile(stored)
    uses: list[Callable[[], object]] = [
        lambda: past.record(note()),
        past.retry,
        lambda: past.move_to(stored.path.parent / "other"),
    ]
    for use in uses:
        with pytest.raises(ReadOnly):
            use()
    assert past.read_only
    assert not past.refresh()
    assert past.close() == Kept(MORNING)
    assert names(stored.path.parent) == [stored.path.name]
