from __future__ import annotations

import errno
import json
import os
import subprocess
import sys
from dataclasses import asdict, replace
from pathlib import Path

import pytest
from filelock import FileLock

from cornerwalk.store import DiskError, LockOwner, SavedState, SessionLockedError
from cornerwalk.store import lock_owner as holder_module
from cornerwalk.store.lock import SessionLock, read_owner
from cornerwalk.store.lock_owner import UNKNOWN_OWNER, ProgramId, owner_status, this_program
from cornerwalk.store.names import lock_path, owner_path
from tests.store.support import (
    NO_SUCH_PROCESS,
    FaultyDisk,
    QuickDisk,
    dead_program,
    die,
    failing,
    library,
    names,
    note,
    opened,
    other_machine,
    unsaved,
)


def running_program() -> ProgramId:
    """Another program that runs on this machine: the one that started this one."""
    return ProgramId(this_program().machine, "here", os.getppid(), holder_module._start_mark(os.getppid()) or "")


SINCE = "2026-05-04T08:12:31-06:00"


def info(here: ProgramId, by: str = "MT") -> LockOwner:
    return LockOwner.of(here, by=by, since=SINCE)


def taken(
    path: Path, here: ProgramId | None = None, *, disk: QuickDisk | None = None, **consent: LockOwner
) -> SessionLock:
    return SessionLock.acquire(path, owner=info(here or this_program()), disk=disk or QuickDisk(), **consent)


def test_one_program_at_a_time(tmp_path: Path) -> None:
    """A second opener is told who has it; when the first has closed, it is free, and nothing of the lock is left."""
    path = tmp_path / "s.json"
    first = taken(path)
    with pytest.raises(SessionLockedError) as caught:
        taken(path)
    assert caught.value.owner == info(this_program())
    assert caught.value.status == "alive"
    assert not caught.value.breakable
    assert f"process {os.getpid()}" in str(caught.value)
    first.release()
    assert names(tmp_path) == []
    taken(path).release()


PROGRAM = """
import sys
from pathlib import Path
from tests.store.support import library, opened
session = library(Path(sys.argv[1])).create(opened())
print(session.path, flush=True)
sys.stdin.readline()
"""


@pytest.fixture
def other_program(tmp_path: Path) -> subprocess.Popen[str]:
    return subprocess.Popen(
        [sys.executable, "-c", PROGRAM, str(tmp_path)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    )


def test_another_process_holds_it_until_it_ends(tmp_path: Path, other_program: subprocess.Popen[str]) -> None:
    """While another process has the session open it is locked, whatever is asked for; once killed, it is free."""
    with other_program as process:
        assert process.stdout is not None
        path = Path(process.stdout.readline().strip())
        shelf = library(tmp_path)
        with pytest.raises(SessionLockedError) as caught:
            shelf.open(path)
        assert (caught.value.owner.pid, caught.value.status) == (process.pid, "alive")
        with pytest.raises(SessionLockedError):
            shelf.open(path, break_stale=caught.value.owner)
        process.kill()
    with shelf.open(path) as session:
        assert len(session.events) == 1


def test_a_program_that_has_ended_is_no_holder(tmp_path: Path) -> None:
    """On this machine a free lock is free, whatever name the last holder left."""
    path = tmp_path / "s.json"
    owner_path(path).write_text(info(dead_program()).text())
    lock = taken(path)
    assert read_owner(path, QuickDisk()) == info(this_program())
    lock.release()


def test_another_machine_loses_it_only_with_consent(tmp_path: Path) -> None:
    """Its name alone locks the session; consent must name exactly that holder; then it is ours."""
    path = tmp_path / "s.json"
    stale = info(other_machine(), by="AB")
    owner_path(path).write_text(stale.text())
    with pytest.raises(SessionLockedError) as caught:
        taken(path)
    assert (caught.value.owner, caught.value.status, caught.value.breakable) == (stale, "elsewhere", True)
    assert "van-2" in str(caught.value)
    with pytest.raises(SessionLockedError):
        taken(path, break_stale=replace(stale, since="2026-05-05T08:00:00-06:00"))
    lock = taken(path, break_stale=stale)
    assert lock.new_owner() is None
    lock.release()
    assert names(tmp_path) == []


def test_a_lock_a_server_keeps_for_a_dead_machine_is_broken_with_consent(tmp_path: Path) -> None:
    """Where the system still says locked, for a machine that is gone, consent replaces the lock itself."""
    path = tmp_path / "s.json"
    kept_by_server = taken(path)
    stale = info(other_machine())
    owner_path(path).write_text(stale.text())
    with pytest.raises(SessionLockedError):
        taken(path)
    ours = taken(path, break_stale=stale)
    with pytest.raises(SessionLockedError):
        taken(path)
    kept_by_server._native.release()
    ours.release()


def test_consent_is_no_use_where_another_is_quicker(tmp_path: Path) -> None:
    """If somebody takes the freed lock first, it is theirs."""
    path = tmp_path / "s.json"
    server = taken(path)
    stale = info(other_machine())
    owner_path(path).write_text(stale.text())
    others: list[SessionLock] = []

    def quicker() -> None:
        lock = SessionLock(path, owner=info(dead_program()), native=_native(path), disk=QuickDisk())
        lock._native.acquire()
        others.append(lock)

    disk = FaultyDisk()
    disk.act, disk.after = quicker, True
    calls = ["stat", "open", "fstat", "read", "read", "close", "unlink"]
    disk.at = len(calls)
    with pytest.raises(SessionLockedError):
        taken(path, disk=disk, break_stale=stale)
    assert disk.log == calls
    others[0]._native.release()
    server._native.release()


def _native(path: Path) -> FileLock:
    return FileLock(lock_path(path), timeout=0, thread_local=False)


def test_a_name_that_belongs_to_a_dead_program_is_not_shown_for_a_held_lock(tmp_path: Path) -> None:
    """Where the lock is held and the name is of a program that has ended, the holder is another, unknown one."""
    path = tmp_path / "s.json"
    lock = taken(path)
    owner_path(path).write_text(info(dead_program()).text())
    with pytest.raises(SessionLockedError) as caught:
        taken(path, break_stale=info(dead_program()))
    assert (caught.value.owner, caught.value.status) == (UNKNOWN_OWNER, "unknown")
    lock.release()


def test_a_live_program_whose_lock_the_system_lost_keeps_the_session(tmp_path: Path) -> None:
    """After a sleep a share may have dropped the lock: the name of a program that still runs here is enough."""
    path = tmp_path / "s.json"
    owner_path(path).write_text(info(running_program()).text())
    with pytest.raises(SessionLockedError) as caught:
        taken(path)
    assert caught.value.status == "alive"


def test_one_of_two_who_come_in_at_once_is_refused(tmp_path: Path) -> None:
    """A name is made, never written over: whoever comes second finds it."""
    path = tmp_path / "s.json"
    disk = FaultyDisk()

    # Right before our name is made, somebody else's appears.
    def comes() -> None:
        owner_path(path).write_text(info(other_machine()).text())

    disk.at, disk.act = 2, comes
    with pytest.raises(SessionLockedError) as caught:
        taken(path, disk=disk)
    assert caught.value.owner == info(other_machine())
    disk = FaultyDisk()
    owner_path(path).unlink()
    disk.at = 2

    def came_and_went() -> None:
        raise FileExistsError

    disk.act = came_and_went
    with pytest.raises(SessionLockedError) as caught:
        taken(path, disk=disk)
    assert caught.value.owner == UNKNOWN_OWNER


def test_a_full_disk_has_room_for_the_lock_if_not_for_the_name(tmp_path: Path) -> None:
    """Without a name the session is still ours, and others are still kept out."""
    path = tmp_path / "s.json"
    disk = FaultyDisk()
    disk.down = errno.ENOSPC
    lock = taken(path, disk=disk)
    with pytest.raises(SessionLockedError) as caught:
        taken(path)
    assert caught.value.owner == UNKNOWN_OWNER
    assert "another program" in str(caught.value)
    disk.down = None
    lock.release()


def test_a_lock_that_cannot_be_let_go_is_no_reason_to_stop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """On a disk that fails, closing ends quietly: the system lets go of the lock when the program ends."""

    def fail(_self: object) -> None:
        raise OSError(errno.EIO, "no")

    lock = taken(tmp_path / "s.json")
    with monkeypatch.context() as failing_release:
        failing_release.setattr(FileLock, "release", fail)
        lock.release()
    lock._native.release()


def test_where_there_are_no_locks_the_name_decides(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """On a file system without locks a live holder, here or elsewhere, keeps others out; one that ended does not."""

    def no_locks(_self: object) -> None:
        raise NotImplementedError

    monkeypatch.setattr(FileLock, "acquire", no_locks)
    path = tmp_path / "s.json"
    for holder in (other_machine(), running_program()):
        owner_path(path).write_text(info(holder).text())
        with pytest.raises(SessionLockedError):
            taken(path)
    owner_path(path).write_text(info(dead_program()).text())
    taken(path).release()


def test_a_folder_that_takes_no_lock_is_a_disk_problem(tmp_path: Path) -> None:
    """Where the lock cannot be made the reason is said, and nothing is held."""
    with pytest.raises(DiskError) as caught:
        taken(tmp_path / "missing" / "s.json")
    assert caught.value.reason == "gone"


def test_a_disk_that_fails_in_the_middle_holds_nothing(tmp_path: Path) -> None:
    """Where breaking a stale lock fails, the session stays as it was."""
    path = tmp_path / "s.json"
    server = taken(path)
    stale = info(other_machine())
    owner_path(path).write_text(stale.text())
    disk = FaultyDisk(at=7, act=failing(errno.EIO))
    with pytest.raises(DiskError):
        taken(path, disk=disk, break_stale=stale)
    assert disk.log[-1] == "unlink"
    server._native.release()


@pytest.mark.parametrize("text", ["", "{", "[]", "{}", "null", "\ufeff", '{"pid": "1"}', "[" * 100_000])
def test_a_name_that_cannot_be_read_is_nobody_known(text: str) -> None:
    """Whatever stands in the file, it names a holder or nobody."""
    assert LockOwner.from_text(text) == UNKNOWN_OWNER


@pytest.mark.parametrize(("field", "value"), [("pid", True), ("pid", "1"), ("host", 5), ("since", None)])
def test_a_name_with_a_wrong_value_is_nobody_known(field: str, value: object) -> None:
    """Each field is of its own kind, or nothing is believed."""
    plain = asdict(info(other_machine())) | {field: value}
    assert LockOwner.from_text(json.dumps(plain)) == UNKNOWN_OWNER


def test_a_holder_comes_back_from_its_text() -> None:
    """What is written is what is read."""
    some = info(other_machine(), by="Łukasz \ud800")
    assert LockOwner.from_text(some.text()) == some


def test_a_name_that_is_no_file_is_nobody_known(tmp_path: Path) -> None:
    """A folder, a link or an endless device in place of the name is not read."""
    path = tmp_path / "s.json"
    owner_path(path).symlink_to("/dev/zero")
    assert read_owner(path, QuickDisk()) == UNKNOWN_OWNER
    lock = taken(path)
    lock.release()


def test_what_can_be_told_of_a_program(monkeypatch: pytest.MonkeyPatch) -> None:
    """It is this one, another that runs, one that ended, one whose number was given anew, or nothing can be told."""
    here = this_program()
    assert owner_status(here, here) == "alive"
    assert owner_status(dead_program(), here) == "gone"
    assert owner_status(replace(here, started="0" * 16), here) == "gone"
    assert owner_status(other_machine(), here) == "elsewhere"
    assert owner_status(UNKNOWN_OWNER.program, here) == "unknown"
    assert owner_status(replace(here, pid=-1), here) == "unknown"
    assert owner_status(replace(here, pid=0), here) == "unknown"


def test_without_a_list_of_processes_the_system_is_asked(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """As on macOS: a number that no process has is of one that ended; one of another account's runs."""
    monkeypatch.setattr(holder_module, "PROCESSES", tmp_path)
    here = replace(this_program(), started="")
    assert holder_module._start_mark(os.getpid()) is None
    assert owner_status(here, here) == "alive"
    assert owner_status(replace(here, pid=NO_SUCH_PROCESS), here) == "gone"
    assert owner_status(replace(here, pid=10**30), here) == "gone"

    def not_ours(_pid: int, _signal: int) -> None:
        raise PermissionError

    monkeypatch.setattr(os, "kill", not_ours)
    assert owner_status(replace(here, pid=1), here) == "alive"


def test_where_asking_would_act_nothing_is_asked(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """As on Windows, where signal 0 is a key press: only the program itself is known to run."""
    monkeypatch.setattr(holder_module, "PROCESSES", tmp_path)
    here = this_program()
    monkeypatch.setattr(os, "name", "nt")
    monkeypatch.setattr(os, "kill", lambda *_: pytest.fail("a signal was sent"))
    assert owner_status(here, here) == "alive"
    assert owner_status(replace(here, pid=here.pid + 1), here) == "unknown"


@pytest.mark.parametrize("known", [None, b"\xff", b" \n"])
def test_a_machine_has_a_number_even_without_one_of_its_own(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, known: bytes | None
) -> None:
    """Where the system keeps no number, its network card's serves; either way it is not written down as it is."""
    monkeypatch.setattr(holder_module, "MACHINE", tmp_path / "machine-id")
    if known is not None:
        (tmp_path / "machine-id").write_bytes(known)
    assert len(holder_module._machine()) == 16
    (tmp_path / "machine-id").write_text("0123456789abcdef\n")
    assert "0123456789abcdef" not in holder_module._machine()


def test_a_new_session_whose_name_is_locked_stays_in_memory(tmp_path: Path) -> None:
    """Should somebody hold the very name of a new session, nothing is lost: it is in memory, and can be moved."""
    path = tmp_path / "2026-05-04-box-trailer-invented-1a2b3c4d.json"
    other = taken(path)
    session = library(tmp_path).create(opened())
    assert session.path == path
    state = unsaved(session.state)
    assert state.problem.reason == "taken over"
    assert isinstance(session.move_to(tmp_path / "elsewhere"), SavedState)
    session.close()
    other.release()


def test_a_taken_over_session_keeps_its_new_lock(tmp_path: Path) -> None:
    """The one who lost it removes nothing when it closes."""
    session = library(tmp_path, here=other_machine()).create(opened())
    die(session)
    taker = library(tmp_path).open(session.path, break_stale=read_owner(session.path, QuickDisk()))
    session.close()
    with pytest.raises(SessionLockedError):
        library(tmp_path).open(taker.path)
    assert isinstance(taker.record(note()), SavedState)
    taker.close()
