from __future__ import annotations

import errno
import fcntl
import os
import sys
import time
from pathlib import Path

import pytest

from cornerwalk.store import disk as disk_module
from cornerwalk.store.disk import (
    REPLACE_RETRY_PAUSES_S,
    Disk,
    make_folder,
    retry_interrupted,
    sync_folder,
    write_durable,
    write_new,
    write_unsynced,
)
from tests.store.support import FaultyDisk, QuickDisk, failing

SAVING = ["stat", "open", "write", "fsync", "close", "replace", "open", "fsync", "close"]
"""The order that makes a file last: content written and synced, then renamed, then the folder synced."""


def test_the_order_that_makes_a_file_last(tmp_path: Path) -> None:
    """A save is these calls in this order; the lighter one is the same without waiting."""
    disk = FaultyDisk()
    write_durable(disk, tmp_path / "file", b"x", temporary=tmp_path / "part")
    assert disk.log == SAVING
    disk.log.clear()
    write_unsynced(disk, tmp_path / "file", b"y", temporary=tmp_path / "part")
    assert disk.log == ["stat", "open", "write", "close", "replace"]
    assert (tmp_path / "file").read_bytes() == b"y"


def test_short_writes_are_gone_on_with(tmp_path: Path) -> None:
    """A disk that takes a byte at a time gets all of them."""
    disk = FaultyDisk()
    disk.shortest_writes = True
    write_durable(disk, tmp_path / "file", b"all of it", temporary=tmp_path / "part")
    assert (tmp_path / "file").read_bytes() == b"all of it"


class TakesNothing(QuickDisk):
    def write(self, handle: int, data: memoryview) -> int:
        return 0


def test_a_disk_that_takes_nothing_has_failed(tmp_path: Path) -> None:
    """A write of no bytes is no progress: it is an error, not a loop."""
    with pytest.raises(OSError, match="took nothing") as caught:
        write_durable(TakesNothing(), tmp_path / "file", b"x", temporary=tmp_path / "part")
    assert caught.value.errno == errno.EIO
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize("call", range(1, len(SAVING) + 1))
def test_a_failing_save_leaves_the_old_or_the_new_file_and_no_other(tmp_path: Path, call: int) -> None:
    """Whichever call fails, the file is whole and no temporary file stays; only the folder's closing fails unheard."""
    write_new(QuickDisk(), tmp_path / "file", b"old")
    disk = FaultyDisk(at=call, act=failing(errno.EIO))
    try:
        write_durable(disk, tmp_path / "file", b"new", temporary=tmp_path / "part")
        failed = False
    except OSError as error:
        failed = error.errno == errno.EIO
    assert failed == (call != len(SAVING))
    renamed = call > SAVING.index("replace") + 1
    assert (tmp_path / "file").read_bytes() == (b"new" if renamed else b"old")
    assert [path.name for path in tmp_path.iterdir()] == ["file"]


def test_a_close_that_fails_after_another_failure_is_not_what_is_told(tmp_path: Path) -> None:
    """The first error is the one that says what went wrong."""

    class Failing(FaultyDisk):
        def close(self, handle: int) -> None:
            super().close(handle)
            raise OSError(errno.EIO, "close")

    disk = Failing(at=SAVING.index("write") + 1, act=lambda: _raise(OSError(errno.ENOSPC, "write")))
    with pytest.raises(OSError, match="write"):
        write_durable(disk, tmp_path / "file", b"x", temporary=tmp_path / "part")
    assert not list(tmp_path.iterdir())


def _raise(error: BaseException) -> None:
    raise error


def test_an_interrupted_close_is_closed(tmp_path: Path) -> None:
    """The handle is gone whether or not a signal came: closing twice could close somebody else's."""
    disk = FaultyDisk(at=SAVING.index("close") + 1, act=lambda: _raise(InterruptedError()), after=True)
    write_durable(disk, tmp_path / "file", b"x", temporary=tmp_path / "part")
    assert disk.log == SAVING


def test_a_person_who_interrupts_leaves_no_temporary_file(tmp_path: Path) -> None:
    """Ctrl+C in the middle of a save leaves the old file and nothing else."""
    (tmp_path / "file").write_bytes(b"old")
    disk = FaultyDisk(at=SAVING.index("fsync") + 1, act=lambda: _raise(KeyboardInterrupt()))
    with pytest.raises(KeyboardInterrupt):
        write_durable(disk, tmp_path / "file", b"new", temporary=tmp_path / "part")
    assert [path.name for path in tmp_path.iterdir()] == ["file"]


def test_what_an_earlier_try_left_is_no_obstacle(tmp_path: Path) -> None:
    """A temporary file that could not be removed then is removed now."""
    (tmp_path / "part").write_bytes(b"half")
    write_durable(QuickDisk(), tmp_path / "file", b"whole", temporary=tmp_path / "part")
    assert [path.name for path in tmp_path.iterdir()] == ["file"]


def test_a_new_file_writes_over_nothing(tmp_path: Path) -> None:
    """Where something stands, it stays."""
    write_new(QuickDisk(), tmp_path / "file", b"first")
    with pytest.raises(FileExistsError):
        write_new(QuickDisk(), tmp_path / "file", b"second")
    assert (tmp_path / "file").read_bytes() == b"first"


def test_a_link_in_place_of_the_temporary_file_is_not_followed(tmp_path: Path) -> None:
    """A link planted under the temporary name leads nowhere."""
    (tmp_path / "victim").write_bytes(b"untouched")
    (tmp_path / "part").symlink_to(tmp_path / "victim")
    write_durable(QuickDisk(), tmp_path / "file", b"x", temporary=tmp_path / "part")
    assert (tmp_path / "victim").read_bytes() == b"untouched"


def test_calls_are_made_again_after_a_signal() -> None:
    """A call that signals break into is made again, though not for ever."""
    calls = 0

    def often_interrupted() -> str:
        nonlocal calls
        calls += 1
        if calls < 50:
            raise InterruptedError
        return "done"

    assert retry_interrupted(often_interrupted) == "done"
    assert calls == 50
    with pytest.raises(InterruptedError):
        retry_interrupted(_raise, InterruptedError())


@pytest.mark.parametrize("number", [errno.EINVAL, errno.ENOTSUP])
def test_a_file_system_that_cannot_sync_folders_is_not_asked_to(tmp_path: Path, number: int) -> None:
    """Where the system says that it cannot, nothing is wrong; any other answer is a failure."""
    sync_folder(FaultyDisk(at=2, act=failing(number)), tmp_path)
    with pytest.raises(OSError, match=os.strerror(errno.EIO)):
        sync_folder(FaultyDisk(at=2, act=failing(errno.EIO)), tmp_path)


def test_where_there_is_no_way_to_sync_a_folder_none_is_tried(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As on Windows."""
    disk = FaultyDisk()
    monkeypatch.setattr(disk, "syncs_folders", False)
    sync_folder(disk, tmp_path)
    assert disk.log == []


@pytest.mark.parametrize("answer", [0, errno.ENOTSUP])
def test_the_drives_own_cache_is_flushed_where_the_system_can(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, answer: int
) -> None:
    """As on macOS: the full sync in place of fsync, or fsync where the file system has no full one."""
    asked: list[str] = []

    def full_sync(_handle: int, command: int) -> None:
        asked.append(f"fcntl {command}")
        if answer:
            raise OSError(answer, "no")

    monkeypatch.setattr(disk_module, "FULL_SYNC", 51)
    monkeypatch.setattr(fcntl, "fcntl", full_sync)
    monkeypatch.setattr(os, "fsync", lambda _handle: asked.append("fsync"))
    write_durable(Disk(), tmp_path / "file", b"x", temporary=tmp_path / "part")
    once = ["fcntl 51", "fsync"] if answer else ["fcntl 51"]
    assert asked == once * 2


def test_a_real_disk_is_synced_twice_a_save(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Once the file, once its folder, by the system's own call."""
    synced: list[bool] = []
    fsync = os.fsync

    def counted(handle: int) -> None:
        synced.append(os.path.isdir(f"/proc/self/fd/{handle}"))  # noqa: PTH112 - a link of the system's
        fsync(handle)

    monkeypatch.setattr(os, "fsync", counted)
    write_durable(Disk(), tmp_path / "file", b"x", temporary=tmp_path / "part")
    assert synced == [False, True]


class Holder:
    """Another program that holds the file open for so many tries, and the pauses made meanwhile."""

    def __init__(self, tries: int) -> None:
        self.left = tries
        self.paused_s: list[float] = []
        self._replace = os.replace

    def replace(self, source: Path, target: Path) -> None:
        if self.left:
            self.left -= 1
            raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))
        self._replace(source, target)


@pytest.fixture
def held(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> Holder:
    holder = Holder(request.param)
    monkeypatch.setattr(os, "replace", holder.replace)
    monkeypatch.setattr(time, "sleep", holder.paused_s.append)
    return holder


@pytest.mark.parametrize("held", range(len(REPLACE_RETRY_PAUSES_S) + 1), indirect=True)
def test_a_file_that_another_program_holds_for_a_moment_is_replaced(
    held: Holder, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As on Windows, where a scanner looks into every file just written: the reading is kept a moment later."""
    monkeypatch.setattr(Disk, "held_pauses_s", REPLACE_RETRY_PAUSES_S)
    tries = held.left
    (tmp_path / "file").write_bytes(b"old")
    write_durable(Disk(), tmp_path / "file", b"new", temporary=tmp_path / "part")
    assert (tmp_path / "file").read_bytes() == b"new"
    assert len(held.paused_s) == tries
    assert sum(held.paused_s) <= 0.1 + 1e-9  # nobody who types waits longer


@pytest.mark.parametrize("held", [1000], indirect=True)
@pytest.mark.parametrize("pauses_s", [REPLACE_RETRY_PAUSES_S, ()], ids=["Windows", "elsewhere"])
def test_a_file_that_stays_held_is_told(
    held: Holder, pauses_s: tuple[float, ...], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """After the last try, elsewhere after the first: the old file stays and no temporary one."""
    monkeypatch.setattr(Disk, "held_pauses_s", pauses_s)
    (tmp_path / "file").write_bytes(b"old")
    with pytest.raises(PermissionError):
        write_durable(Disk(), tmp_path / "file", b"new", temporary=tmp_path / "part")
    assert held.paused_s == list(pauses_s)
    assert [(path.name, path.read_bytes()) for path in tmp_path.iterdir()] == [("file", b"old")]


def test_only_windows_is_asked_more_than_once() -> None:
    """Elsewhere a file that is open can be replaced, so that waiting would only delay the bad news."""
    assert Disk.held_pauses_s == (REPLACE_RETRY_PAUSES_S if sys.platform == "win32" else ())


def test_permissions_that_cannot_be_kept_are_let_go(tmp_path: Path) -> None:
    """A memory card knows no permissions: the save goes on all the same. Other failures are failures."""
    (tmp_path / "file").touch(mode=0o640)
    (tmp_path / "file").chmod(0o640)
    change = SAVING.index("open") + 2
    write_durable(FaultyDisk(at=change, act=failing(errno.EPERM)), tmp_path / "file", b"x", temporary=tmp_path / "part")
    assert (tmp_path / "file").read_bytes() == b"x"
    (tmp_path / "file").chmod(0o640)
    with pytest.raises(OSError, match=os.strerror(errno.EIO)):
        write_durable(
            FaultyDisk(at=change, act=failing(errno.EIO)), tmp_path / "file", b"y", temporary=tmp_path / "part"
        )


def test_a_system_without_permissions_is_not_asked_for_them(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As on Windows before Python 3.13."""
    monkeypatch.delattr(os, "fchmod")
    (tmp_path / "file").touch()
    (tmp_path / "file").chmod(0o644)
    write_durable(Disk(), tmp_path / "file", b"x", temporary=tmp_path / "part")
    assert (tmp_path / "file").read_bytes() == b"x"


def test_folders_are_made_from_the_top_each_synced_into_the_one_above(tmp_path: Path) -> None:
    """A new folder is as lasting as what is written into it."""
    disk = FaultyDisk()
    make_folder(disk, tmp_path / "a" / "b")
    assert (tmp_path / "a" / "b").is_dir()
    assert disk.log == ["mkdir", "open", "fsync", "close"] * 2
    disk.log.clear()
    make_folder(disk, tmp_path / "a" / "b")
    assert disk.log == []


def test_a_folder_that_another_program_made_first_is_fine(tmp_path: Path) -> None:
    """Two programs may start at once."""
    disk = FaultyDisk(at=1, act=(tmp_path / "a").mkdir)
    make_folder(disk, tmp_path / "a")
    assert (tmp_path / "a").is_dir()


def test_a_drive_that_is_not_there_is_an_error_and_no_loop(monkeypatch: pytest.MonkeyPatch) -> None:
    """A missing drive has no folder above it in which it could be made."""
    monkeypatch.setattr(Path, "exists", lambda _self: False)
    with pytest.raises(OSError, match=os.strerror(errno.EROFS)):
        make_folder(FaultyDisk(at=1, act=failing(errno.EROFS)), Path("/x"))
