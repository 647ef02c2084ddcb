from __future__ import annotations

import errno
import json
import os
import stat
from datetime import datetime
from pathlib import Path

import pytest
from hypothesis import given

from cornerwalk.session import fold
from cornerwalk.session.events import Event
from cornerwalk.session.log import event_to_json
from cornerwalk.store import (
    ClosedSessionError,
    DiskError,
    FileConflictError,
    InvalidEventError,
    Library,
    LockLostError,
    SavedState,
    TooLargeError,
    UnsavedState,
)
from cornerwalk.store import session_file as session_file_module
from tests.session.support import any_job
from tests.store.support import (
    FaultyDisk,
    QuickDisk,
    dead_program,
    die,
    four_heights,
    library,
    names,
    note,
    opened,
    other_machine,
    read,
    unsaved,
)
from tests.support.clock import MORNING, FrozenClock
from tests.support.known import known


def kept_events(path: Path) -> list[dict[str, object]]:
    document = json.loads(path.read_bytes())
    assert list(document) == ["format", "version", "id", "events"]
    events: list[dict[str, object]] = document["events"]
    return events


def test_what_is_kept_stands_in_the_file(tmp_path: Path) -> None:
    """After `SavedState` the file holds every event, as stamped; one event stands on each line."""
    with library(tmp_path).create(opened()) as session:
        assert session.record(*four_heights()) == SavedState(MORNING)
        assert session.state == SavedState(MORNING)
        assert kept_events(session.path) == [event_to_json(event) for event in session.events]
        assert len(session.path.read_text().splitlines()) == 1 + 5 + 1
        assert [(event.at, event.by) for event in session.events] == [("2026-05-04T08:12:31-06:00", "MT")] * 5
        assert session.session == fold(session.events)


@given(any_job)
def test_whatever_happens_is_read_back_as_it_was(
    tmp_path_factory: pytest.TempPathFactory, job: tuple[Event, ...]
) -> None:
    """Record, close, read: the same events, whatever was in them."""
    shelf = library(tmp_path_factory.mktemp("library"))
    with shelf.create(*job) as session:
        assert isinstance(session.state, SavedState)
    stored = shelf.read(session.path)
    assert stored.damage is None
    assert stored.events == session.events
    assert stored.session == session.session


def test_the_file_is_its_owners_alone(tmp_path: Path) -> None:
    """A new file has mode 0600 and a new folder 0700, whatever the umask allows."""
    before = os.umask(0)
    try:
        with library(tmp_path / "a" / "b").create(opened()) as session:
            session.record(note())
    finally:
        os.umask(before)
    assert stat.S_IMODE(session.path.stat().st_mode) == 0o600
    assert stat.S_IMODE((tmp_path / "a" / "b").stat().st_mode) == 0o700
    assert stat.S_IMODE((tmp_path / "a").stat().st_mode) == 0o700


def test_permissions_set_by_the_owner_stay(tmp_path: Path) -> None:
    """Writing keeps the mode a file was given."""
    with library(tmp_path).create(opened()) as session:
        session.path.chmod(0o640)
        session.record(note())
        assert stat.S_IMODE(session.path.stat().st_mode) == 0o640


def test_nothing_is_recorded_that_cannot_be_written(tmp_path: Path) -> None:
    """Half a character or a number that is none is refused as a whole: not one event of that call is recorded."""
    with library(tmp_path).create(opened()) as session:
        for wrong in (note("\ud800"), read("LF", float("nan"))):
            with pytest.raises(InvalidEventError):
                session.record(note("before"), wrong)
        assert len(session.events) == 1
        assert len(kept_events(session.path)) == 1


@pytest.mark.parametrize(("limit", "value"), [("MAX_EVENTS", 3), ("MAX_FILE_BYTES", 4096 + 600)])
def test_a_session_is_not_written_larger_than_it_could_be_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, limit: str, value: int
) -> None:
    """At the limit of what is read, recording is refused and what was recorded stays."""
    monkeypatch.setattr(session_file_module, limit, value)
    with library(tmp_path).create(opened(), note()) as session:
        with pytest.raises(TooLargeError):
            session.record(note(), note())
        assert len(kept_events(session.path)) == 2


def test_on_a_full_disk_nothing_is_lost_and_nothing_called_kept(tmp_path: Path) -> None:
    """While the disk is full each record says how much is in memory only; the next that works writes it all."""
    disk = FaultyDisk()
    session = library(tmp_path, disk=disk).create(opened())
    disk.down = errno.ENOSPC
    for pending in (1, 2, 3):
        state = unsaved(session.record(note(str(pending))))
        assert (state.pending, state.problem.reason, state.problem.errno) == (pending, "full", errno.ENOSPC)
        assert session.state == state
        assert len(session.events) == 1 + pending
        assert len(kept_events(session.path)) == 1
    assert isinstance(session.retry(), UnsavedState)
    disk.down = None
    assert session.retry() == SavedState(MORNING)
    assert len(kept_events(session.path)) == 4
    session.close()


def test_a_session_can_begin_on_a_disk_that_fails(tmp_path: Path) -> None:
    """Where nothing can be written, a new session is in memory, says so, and is written once the disk works."""
    disk = FaultyDisk()
    disk.down = errno.EROFS
    session = library(tmp_path / "library", disk=disk).create(opened(), note())
    state = unsaved(session.state)
    assert (state.pending, state.problem.reason) == (2, "read-only")
    assert not session.path.exists()
    disk.down = None
    assert session.record(note()) == SavedState(MORNING)
    assert len(kept_events(session.path)) == 3
    session.close()


@pytest.mark.parametrize(
    ("number", "reason"),
    [
        (errno.ENOSPC, "full"),
        (errno.EDQUOT, "full"),
        (errno.EROFS, "read-only"),
        (errno.EACCES, "not allowed"),
        (errno.ENOENT, "gone"),
        (errno.EMFILE, "too many"),
        (errno.EIO, "failing"),
        (errno.ENOTUNIQ, "failing"),
    ],
)
def test_the_reason_is_said_in_words(tmp_path: Path, number: int, reason: str) -> None:
    """Each error of the system becomes a reason that a user can act on, with a text that has all its fields."""
    disk = FaultyDisk()
    session = library(tmp_path, disk=disk).create(opened())
    disk.down = number
    state = unsaved(session.record(note()))
    assert state.problem.reason == reason
    assert "{" not in str(state.problem)
    disk.down = None
    session.close()


def test_an_unplugged_folder_is_not_made_anew_below(tmp_path: Path) -> None:
    """A folder that vanishes while a session is open was unplugged: making it would write to another disk."""
    folder = tmp_path / "stick"
    session = library(folder).create(opened())
    folder.rename(tmp_path / "unplugged")
    state = unsaved(session.record(note()))
    assert state.problem.reason == "gone"
    assert not folder.exists()
    (tmp_path / "unplugged").rename(folder)
    assert session.retry() == SavedState(MORNING)
    session.close()


def test_a_file_that_was_removed_is_written_again(tmp_path: Path) -> None:
    """The events are in memory: a file that somebody removed comes back whole with the next one."""
    with library(tmp_path).create(opened(), note()) as session:
        session.path.unlink()
        assert isinstance(session.record(note()), SavedState)
        assert len(kept_events(session.path)) == 3


def test_a_file_changed_by_something_else_is_left_alone(tmp_path: Path) -> None:
    """What this program did not write it does not write over; its own events go to another folder and stay whole."""
    session = library(tmp_path / "a").create(opened())
    session.path.write_text("something else")
    state = unsaved(session.record(note()))
    assert (type(state.problem), state.pending) == (FileConflictError, 1)
    old = session.path
    assert isinstance(session.move_to(tmp_path / "b"), SavedState)
    assert old.read_text() == "something else"
    assert len(kept_events(session.path)) == 2
    session.close()


def test_a_folder_in_place_of_the_file_is_left_alone(tmp_path: Path) -> None:
    """Anything that is no file of ours counts as changed."""
    with library(tmp_path).create(opened()) as session:
        session.path.unlink()
        session.path.mkdir()
        state = unsaved(session.record(note()))
        assert isinstance(state.problem, FileConflictError)
        session.path.rmdir()


def test_a_file_touched_but_not_changed_is_still_ours(tmp_path: Path) -> None:
    """A copy put back, or a new date, is no change: the content counts."""
    with library(tmp_path).create(opened()) as session:
        os.utime(session.path, (1, 1))
        assert isinstance(session.record(note()), SavedState)
        copy = session.path.read_bytes()
        session.path.unlink()
        session.path.write_bytes(copy)
        assert isinstance(session.record(note()), SavedState)


class UnreadableDisk(QuickDisk):
    """Cannot read session files while `broken`."""

    broken = False

    def open(self, path: Path, flags: int, mode: int = 0o600) -> int:
        if self.broken and path.suffix == ".json":
            raise OSError(errno.EIO, "bad sector")
        return super().open(path, flags, mode)


def test_a_file_that_cannot_be_compared_is_a_failing_disk(tmp_path: Path) -> None:
    """Where the file looks changed and cannot be read, the disk is what is wrong, and the file is left alone."""
    disk = UnreadableDisk()
    with library(tmp_path, disk=disk).create(opened()) as session:
        os.utime(session.path, (1, 1))
        disk.broken = True
        state = unsaved(session.record(note()))
        assert (state.problem.reason, state.pending) == ("failing", 1)
        assert "bad sector" in str(state.problem)
        disk.broken = False


def test_a_session_taken_over_is_not_written_over(tmp_path: Path) -> None:
    """What another program wrote since it took the file over, while this machine slept, stays; ours is kept apart."""
    folder = tmp_path / "share"
    sleeper = library(folder, here=other_machine(), by="AB").create(opened())
    die(sleeper)
    taker = library(folder).open(sleeper.path, break_stale=known(sleeper._file._lock)._owner)
    taker.record(note("the taker's"))
    state = unsaved(sleeper.record(note("the sleeper's")))
    assert isinstance(state.problem, LockLostError)
    assert state.problem.owner.by == "MT"
    assert len(kept_events(taker.path)) == 2
    assert isinstance(sleeper.move_to(tmp_path / "own"), SavedState)
    assert taker.path.exists()
    assert isinstance(taker.record(note("goes on")), SavedState)
    sleeper.close()
    taker.close()


def test_moving_takes_the_file_along(tmp_path: Path) -> None:
    """In the other folder the session is whole and goes on; in the first nothing of it is left."""
    session = library(tmp_path / "a").create(opened())
    old = session.path
    assert session.move_to(tmp_path / "b") == SavedState(MORNING)
    assert session.path == tmp_path / "b" / old.name
    assert isinstance(session.record(note()), SavedState)
    assert len(kept_events(session.path)) == 2
    session.close()
    assert names(tmp_path / "a") == []
    assert names(tmp_path / "b") == [old.name]


def test_moving_writes_over_nothing(tmp_path: Path) -> None:
    """Where a file of that name stands, the session gets another name."""
    session = library(tmp_path / "a").create(opened())
    (tmp_path / "b").mkdir()
    there = tmp_path / "b" / session.path.name
    there.write_text("another's")
    assert isinstance(session.move_to(tmp_path / "b"), SavedState)
    assert session.path.name == f"{there.stem}-2.json"
    assert there.read_text() == "another's"
    session.close()


def test_a_move_that_fails_changes_nothing(tmp_path: Path) -> None:
    """Where the other folder fails, the answer says why, and the session goes on where it was."""
    session = library(tmp_path / "a").create(opened())
    (tmp_path / "file").write_text("")
    answer = unsaved(session.move_to(tmp_path / "file"))
    assert answer.pending == 0
    assert isinstance(answer.problem, DiskError)
    assert session.state == SavedState(MORNING)
    assert isinstance(session.record(note()), SavedState)
    assert session.path.parent == tmp_path / "a"
    session.close()


def test_moving_from_a_full_disk_keeps_what_was_pending(tmp_path: Path) -> None:
    """What was in memory only is in the file in the other folder."""
    disk = FaultyDisk()
    session = library(tmp_path / "a", disk=disk).create(opened())
    disk.down = errno.ENOSPC
    session.record(note())
    disk.down = None
    assert session.move_to(tmp_path / "b") == SavedState(MORNING)
    assert len(kept_events(session.path)) == 2
    session.close()


def test_closing_tries_once_more_and_lets_go(tmp_path: Path) -> None:
    """Closing writes what is pending if it can, says how that ended, and a second closing does nothing."""
    disk = FaultyDisk()
    shelf = library(tmp_path, disk=disk)
    session = shelf.create(opened())
    disk.down = errno.ENOSPC
    session.record(note())
    disk.down = None
    assert session.close() == SavedState(MORNING)
    assert session.close() == SavedState(MORNING)
    assert names(tmp_path) == [session.path.name]
    for use in (session.record, session.retry, lambda: session.move_to(tmp_path)):
        with pytest.raises(ClosedSessionError):
            use()
    with shelf.open(session.path) as again:
        assert len(again.events) == 2
        assert not again.refresh()


def test_a_session_never_on_disk_closes_without_a_word(tmp_path: Path) -> None:
    """A session that the disk never took can be closed; the answer says what is lost with it."""
    disk = FaultyDisk()
    disk.down = errno.EIO
    session = library(tmp_path / "library", disk=disk).create(opened())
    state = unsaved(session.close())
    assert state.pending == 1


def test_opened_it_is_kept_since_its_last_event(tmp_path: Path) -> None:
    """A session opened again says it was kept when its last event was recorded, not now."""
    library(tmp_path).create(opened()).close()
    clock = FrozenClock()
    clock.advance(days=1)
    (path,) = tmp_path.glob("*.json")
    with Library(tmp_path, clock=clock, by="MT", disk=QuickDisk()).open(path) as session:
        assert session.state == SavedState(MORNING)
        assert session.record(note()) == SavedState(clock())


def test_a_clock_without_offset_is_no_clock(tmp_path: Path) -> None:
    """A time that could be any time of the world is a mistake in the program, said at once."""
    shelf = Library(tmp_path, clock=lambda: datetime(2026, 5, 4), by="MT")  # noqa: DTZ001 - the mistake in question
    with pytest.raises(ValueError, match="offset"):
        shelf.create(opened())


def test_the_clock_may_go_back(tmp_path: Path) -> None:
    """A clock that was set back, or summer time that ends, is recorded as it was."""
    clock = FrozenClock()
    with Library(tmp_path, clock=clock, by="MT", disk=QuickDisk()).create(opened()) as session:
        clock.advance(hours=-1)
        assert isinstance(session.record(note()), SavedState)
        assert session.events[1].at < session.events[0].at
    assert library(tmp_path).read(session.path).damage is None


def test_what_a_dead_program_held_is_free(tmp_path: Path) -> None:
    """After a flat battery the session opens where it was left, without a question."""
    session = library(tmp_path, here=dead_program()).create(opened(), note())
    die(session)
    with library(tmp_path).open(session.path) as again:
        assert again.events == session.events
        assert isinstance(again.record(note()), SavedState)
