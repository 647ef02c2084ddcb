from __future__ import annotations

import errno
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from cornerwalk.session import fold
from cornerwalk.session.events import (
    Event,
    FactStated,
    HandedOver,
)
from cornerwalk.store import (
    Damage,
    DamagedFileError,
    DiskError,
    MissingFileError,
    NotASessionError,
    ReadOnlySessionError,
    SavedState,
    UnrecoverableFileError,
    WriteProtectedError,
)
from tests.store.support import (
    FaultyDisk,
    QuickDisk,
    dead_program,
    die,
    failing,
    four_heights,
    library,
    names,
    note,
    opened,
    other_machine,
    read,
    unsaved,
)
from tests.support.clock import FrozenClock
from tests.support.known import known

OVER = HandedOver(to="customer", figures={}, program="0.1.0")


def fact(name: str, text: str) -> FactStated:
    return FactStated(name=name, entered=text, value=text)


def test_importing_the_store_loads_no_shapes_and_no_locks() -> None:
    """The first screen waits neither for pydantic nor for the locking library."""
    program = "import sys, cornerwalk.store; print(*[m for m in ('pydantic', 'filelock', 'pint') if m in sys.modules])"
    ran = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert ran.stdout.split() == []


def test_whoever_records_from_now_on_is_named_from_now_on(tmp_path: Path) -> None:
    """The technicians of a shop share a folder: each event bears the name of whoever recorded it."""
    first = library(tmp_path, by="MT")
    with first.create(opened()) as session:
        path = session.path
    with first.with_author("AB").open(path) as session:
        session.record(note())
    with first.open(path) as session:
        session.record(note())
    assert [event.by for event in first.read(path).events] == ["MT", "AB", "MT"]


def test_a_library_makes_no_folder_until_something_is_written(tmp_path: Path) -> None:
    """Looking is no writing: a library that does not exist is empty, and stays away."""
    shelf = library(tmp_path / "library")
    assert shelf.summaries() == []
    assert shelf.latest_unfinished() is None
    assert shelf.clean_up() == 0
    assert not (tmp_path / "library").exists()
    shelf.create(opened()).close()
    assert names(tmp_path / "library") == ["2026-05-04-box-trailer-invented-1a2b3c4d.json"]


@pytest.mark.parametrize("events", [(), (note(),)])
def test_a_session_begins_with_its_opening(tmp_path: Path, events: tuple[Event, ...]) -> None:
    """Anything else first is a mistake of the program."""
    with pytest.raises(ValueError, match="begins with JobOpened"):
        library(tmp_path).create(*events)


def test_two_jobs_of_one_name_have_two_files(tmp_path: Path) -> None:
    """Even with the same day, title and id nothing is written over."""
    shelf = library(tmp_path)
    first, second = shelf.create(opened()), shelf.create(opened())
    assert first.path != second.path
    assert isinstance(second.state, SavedState)
    first.close()
    second.close()


def test_a_file_marked_as_not_to_be_changed_is_not(tmp_path: Path) -> None:
    """An archived file can be read and followed, but opening it to write says why not, and leaves no lock."""
    shelf = library(tmp_path)
    shelf.create(opened()).close()
    (path,) = tmp_path.glob("*.json")
    path.chmod(0o444)
    with pytest.raises(WriteProtectedError):
        shelf.open(path)
    assert len(shelf.read(path).events) == 1
    assert len(shelf.follow(path).events) == 1
    assert names(tmp_path) == [path.name]


def test_no_lock_is_left_beside_a_file_that_is_no_session(tmp_path: Path) -> None:
    """A file of another kind is not even locked."""
    path = tmp_path / "letter.json"
    path.write_text("{}")
    with pytest.raises(NotASessionError):
        library(tmp_path).open(path)
    assert names(tmp_path) == ["letter.json"]


class ChangesWhileLocked(QuickDisk):
    """Right after the first reading, somebody else's events arrive."""

    def __init__(self, later: bytes) -> None:
        self.later = later
        self.path: Path | None = None

    def close(self, handle: int) -> None:
        super().close(handle)
        if self.path is not None:
            path, self.path = self.path, None
            other = path.with_suffix(".new")
            other.write_bytes(self.later)
            other.rename(path)


def test_what_was_written_until_the_lock_was_ours_is_read(tmp_path: Path) -> None:
    """A file that another program still wrote while we were opening it is read again under the lock."""
    shelf = library(tmp_path)
    with shelf.create(opened()) as session:
        short = session.path.read_bytes()
        session.record(note())
    later = session.path.read_bytes()
    session.path.write_bytes(short)
    disk = ChangesWhileLocked(later)
    disk.path = session.path
    with library(tmp_path, disk=disk).open(session.path) as again:
        assert len(again.events) == 2


def damaged(folder: Path) -> Path:
    with library(folder).create(opened(), *four_heights()) as session:
        pass
    session.path.write_bytes(session.path.read_bytes().replace(b"700.0 mm", b"701.0 mm", 2))
    return session.path


def test_a_damaged_file_is_set_aside_and_said_so(tmp_path: Path) -> None:
    """Opened, it is copied untouched into the library with a note of why; the original stays; no lock is left."""
    path = damaged(tmp_path / "library")
    data = path.read_bytes()
    shelf = library(tmp_path / "library")
    with pytest.raises(DamagedFileError) as caught:
        shelf.open(path)
    damage = caught.value.damage
    assert damage.quarantine_path is not None
    assert damage.quarantine_path.parent == tmp_path / "library" / "set-aside"
    assert damage.quarantine_path.read_bytes() == data == path.read_bytes()
    text = damage.quarantine_path.with_suffix(".txt").read_text()
    assert str(caught.value) in text
    assert str(path) in text
    assert names(tmp_path / "library") == [path.name, "set-aside"]
    assert (tmp_path / "library" / "set-aside").stat().st_mode & 0o777 == 0o700

    with pytest.raises(DamagedFileError):
        shelf.open(path)
    assert len(names(tmp_path / "library" / "set-aside")) == 2


def test_the_list_says_that_a_file_was_found_damaged(tmp_path: Path) -> None:
    """Once opening found it out, the list shows it, and it is no job to go on with; mended, it is one again."""
    path = damaged(tmp_path)
    shelf = library(tmp_path)
    whole = shelf.read(path)
    assert [summary.damaged for summary in shelf.summaries()] == [False]
    with pytest.raises(DamagedFileError):
        shelf.open(path)
    assert [summary.damaged for summary in shelf.summaries()] == [True]
    assert shelf.latest_unfinished() is None
    assert whole.damage is not None
    path.write_bytes(path.read_bytes().replace(b"701.0 mm", b"700.0 mm"))
    assert [summary.damaged for summary in shelf.summaries()] == [False]


def test_a_damaged_file_of_another_folder_goes_into_this_library(tmp_path: Path) -> None:
    """The copy is kept where the user's own sessions are; the other folder is not written to."""
    path = damaged(tmp_path / "stick")
    with pytest.raises(DamagedFileError) as caught:
        library(tmp_path / "library").open(path)
    assert known(caught.value.damage.quarantine_path).is_relative_to(tmp_path / "library")
    assert names(tmp_path / "stick") == [path.name]


def test_a_disk_without_room_for_the_copy_says_so(tmp_path: Path) -> None:
    """Where no copy could be made the damage has none, and is reported all the same."""
    path = damaged(tmp_path)
    disk = FaultyDisk()
    disk.down = errno.ENOSPC
    with pytest.raises(DamagedFileError) as caught:
        library(tmp_path, disk=disk).open(path)
    assert caught.value.damage.quarantine_path is None


def test_going_on_from_a_damaged_file(tmp_path: Path) -> None:
    """A new file holds what could be read, chain unbroken, and takes what comes; the damaged one stays as it is."""
    path = damaged(tmp_path)
    data = path.read_bytes()
    shelf = library(tmp_path)
    with pytest.raises(DamagedFileError) as caught:
        shelf.open(path)
    with shelf.recover(caught.value.damage, note("went on from a damaged file")) as session:
        assert session.path == path.with_name(f"{path.stem}-continued.json")
        assert len(session.events) == len(caught.value.damage.events) + 1 == 2
        assert isinstance(session.record(read("RR")), SavedState)
    assert shelf.read(session.path).damage is None
    assert path.read_bytes() == data
    going_on = known(shelf.latest_unfinished())
    assert going_on.path == session.path


def test_from_nothing_there_is_nothing_to_go_on(tmp_path: Path) -> None:
    """Where not even the first event can be read, that is said."""
    path = tmp_path / "s.json"
    path.write_bytes(b'{"format": "cornerwalk session"')
    shelf = library(tmp_path)
    with pytest.raises(DamagedFileError) as caught:
        shelf.open(path)
    with pytest.raises(UnrecoverableFileError):
        shelf.recover(caught.value.damage)


def test_following_a_session_as_it_grows(tmp_path: Path) -> None:
    """A follower sees what was kept, when it looks; it writes nothing and needs no lock."""
    writer = library(tmp_path).create(opened())
    before = names(tmp_path)
    follower = library(tmp_path, by="AB").follow(writer.path)
    assert follower.read_only
    assert not writer.read_only
    assert not follower.refresh()
    writer.record(note())
    assert follower.refresh()
    assert follower.events == writer.events
    assert follower.session == fold(writer.events)
    assert isinstance(follower.state, SavedState)
    os.utime(writer.path, (1, 1))
    assert not follower.refresh()
    uses: list[Callable[[], object]] = [
        lambda: follower.record(note()),
        follower.retry,
        lambda: follower.move_to(tmp_path),
    ]
    for use in uses:
        with pytest.raises(ReadOnlySessionError):
            use()
    follower.close()
    assert names(tmp_path) == before
    writer.close()


def test_a_follower_keeps_what_it_saw(tmp_path: Path) -> None:
    """When the file goes away, breaks or the disk fails, the follower is told, and shows what it had."""
    disk = FaultyDisk()
    with library(tmp_path).create(opened(), note()) as writer:
        follower = library(tmp_path, disk=disk).follow(writer.path)
        data = writer.path.read_bytes()
        writer.path.write_bytes(data[:-30])
        with pytest.raises(DamagedFileError):
            follower.refresh()
        writer.path.write_bytes(data)
        disk.log.clear()
        disk.at, disk.act = 1, failing(errno.ESTALE)
        with pytest.raises(DiskError):
            follower.refresh()
        writer.path.unlink()
        with pytest.raises(MissingFileError):
            follower.refresh()
        assert len(follower.events) == 2


def test_everything_in_a_library_is_its_owners_alone(tmp_path: Path) -> None:
    """Customers' names stand in sessions, in the index and in what was set aside: nobody else may read any of it."""
    path = damaged(tmp_path / "library")
    shelf = library(tmp_path / "library")
    with pytest.raises(DamagedFileError):
        shelf.open(path)
    with shelf.create(opened()):
        shelf.summaries()
        everything = [tmp_path / "library", *(tmp_path / "library").rglob("*")]
        assert {".lock", ".holder", ".txt", ".json", ""} <= {each.suffix for each in everything}
        assert {each.stat().st_mode & 0o077 for each in everything} == {0}


def test_a_dead_program_leaves_nothing_behind_for_long(tmp_path: Path) -> None:
    """Its half-written files and its locks are gone at the next start; a live program's and others' stay."""
    alive = library(tmp_path).create(opened())
    far = library(tmp_path, here=other_machine()).create(opened())
    dead = library(tmp_path, here=dead_program()).create(opened())
    die(dead)
    dead_part = dead._file._temporary
    dead_part.write_bytes(b"half")
    alive_part, far_part = alive._file._temporary, far._file._temporary
    alive_part.write_bytes(b"half")
    far_part.write_bytes(b"half")
    old = tmp_path / "set-aside" / far_part.name
    old.parent.mkdir()
    old.write_bytes(b"half")
    yesterday = FrozenClock()().timestamp() - 25 * 3600
    os.utime(old, (yesterday, yesterday))
    for part in (dead_part, alive_part, far_part):
        os.utime(part, (yesterday + 7200, yesterday + 7200))
    (tmp_path / ".notes.part").write_text("mine")
    (tmp_path / ".x.holder").write_text("not ours to judge")

    assert library(tmp_path).clean_up() == 3
    left = names(tmp_path)
    assert dead_part.name not in left
    assert not old.exists()
    assert not [name for name in left if dead.path.name in name and name != dead.path.name]
    assert {alive_part.name, far_part.name, ".notes.part", ".x.holder"} <= set(left)
    alive.close()
    far.close()


def test_tidying_gives_way(tmp_path: Path) -> None:
    """Where a dead program's session has just been opened again, or a file cannot be removed, it is left."""
    dead = library(tmp_path, here=dead_program()).create(opened())
    (tmp_path / dead._file._temporary.name).write_bytes(b"half")
    disk = FaultyDisk()
    disk.down = errno.EACCES
    assert library(tmp_path, disk=disk).clean_up() == 0  # its lock is still held: nobody has died here
    assert dead._file._temporary.exists()
    die(dead)
    with library(tmp_path).open(dead.path) as again:
        assert isinstance(again.state, SavedState)


def test_what_is_pending_is_told_apart_from_what_is_kept(tmp_path: Path) -> None:
    """Going on from a damaged file on a full disk counts every carried event as not on disk."""
    path = damaged(tmp_path)
    disk = FaultyDisk()
    shelf = library(tmp_path, disk=disk)
    damage = shelf.read(path).damage
    assert isinstance(damage, Damage)
    disk.down = errno.ENOSPC
    session = shelf.recover(damage)
    state = unsaved(session.state)
    assert state.pending == len(damage.events)
    disk.down = None
    assert isinstance(session.close(), SavedState)
