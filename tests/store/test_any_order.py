"""Recording, undo, redo, crash, reopening, moving, a disk that fills, a follower: in any order, against a model."""

from __future__ import annotations

import errno
import shutil
import tempfile
from pathlib import Path

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import Bundle, RuleBasedStateMachine, initialize, invariant, precondition, rule

from cornerwalk.session import walk
from cornerwalk.session.events import Event
from cornerwalk.store import SavedState, SessionFile, UnsavedState
from tests.session.support import any_event, any_opening
from tests.store.support import FaultyDisk, dead_program, die, library, names


class AnyOrder(RuleBasedStateMachine):
    """The model: `said` is everything recorded, `kept` how many of it the user was told are on the disk."""

    followers = Bundle("followers")

    def __init__(self) -> None:
        super().__init__()
        self.folder = Path(tempfile.mkdtemp(prefix="cornerwalk-"))
        self.disk = FaultyDisk()
        self.said: list[Event] = []
        self.kept = 0

    def teardown(self) -> None:
        self.disk.down = None
        self.session.close()
        shutil.rmtree(self.folder)

    def told(self) -> None:
        state = self.session.state
        if isinstance(state, SavedState):
            self.kept = len(self.said)
        else:
            assert state.pending == len(self.said) - self.kept

    def do(self, *events: Event) -> None:
        self.session.record(*events)
        self.said += events
        self.told()

    @initialize(opening=any_opening)
    def create(self, opening: Event) -> None:
        self.session: SessionFile = library(self.folder / "a", disk=self.disk, here=dead_program()).create(opening)
        self.said = [opening]
        self.told()

    @rule(events=st.lists(any_event, min_size=1, max_size=3))
    def record(self, events: list[Event]) -> None:
        self.do(*events)

    @rule()
    def undo(self) -> None:
        self.do(*walk.undo(self.session.events))

    @rule()
    def redo(self) -> None:
        self.do(*walk.redo(self.session.events))

    @rule(number=st.sampled_from([errno.ENOSPC, errno.EIO, errno.EROFS, None]))
    def disk_turns(self, number: int | None) -> None:
        self.disk.down = number

    @rule()
    def retry(self) -> None:
        self.session.retry()
        self.told()

    @rule(name=st.sampled_from(["a", "b"]))
    def move(self, name: str) -> None:
        if isinstance(self.session.move_to(self.folder / name), SavedState):
            self.told()

    @precondition(lambda self: self.kept)
    @rule()
    def crash(self) -> None:
        """The process ends; the next start finds at least what was kept, and perhaps some of what was not."""
        die(self.session)
        self.disk.down = None
        library(self.session.path.parent).clean_up()
        assert names(self.session.path.parent) == sorted(p.name for p in self.session.path.parent.glob("20*.json"))
        self.reopen()

    @precondition(lambda self: self.kept)
    @rule()
    def close(self) -> None:
        state = self.session.close()
        assert isinstance(state, SavedState) == (self.disk.down is None or self.kept == len(self.said))
        self.told()
        self.disk.down = None
        self.reopen()

    def reopen(self) -> None:
        self.session = library(self.session.path.parent, disk=self.disk, here=dead_program()).open(self.session.path)
        assert self.kept <= len(self.session.events) <= len(self.said)
        self.said = self.said[: len(self.session.events)]
        self.kept = len(self.said)

    @precondition(lambda self: self.kept)
    @rule(target=followers)
    def follow(self) -> SessionFile:
        return library(self.folder, by="AB").follow(self.session.path)

    @rule(follower=followers)
    def look(self, follower: SessionFile) -> None:
        """A follower sees what is kept, for as long as the session is where it looks, and forgets nothing it saw."""
        seen = follower.events
        if follower.path == self.session.path:
            grown = follower.refresh()
            assert grown == (follower.events != seen)
            assert follower.events[: len(seen)] == seen
            assert [event.payload for event in follower.events][: self.kept] == self.said[: self.kept]

    @invariant()
    def everything_is_there(self) -> None:
        """In memory all that was said; in the file, whole, at least what was kept, and nothing that was not said."""
        assert [event.payload for event in self.session.events] == self.said
        assert isinstance(self.session.state, UnsavedState) or self.kept == len(self.said)
        if self.kept:
            stored = library(self.folder).read(self.session.path)
            assert stored.damage is None
            assert len(stored.events) >= self.kept
            assert [event.payload for event in stored.events] == self.said[: len(stored.events)]


TestAnyOrder = AnyOrder.TestCase
TestAnyOrder.settings = settings(max_examples=40, stateful_step_count=30)
