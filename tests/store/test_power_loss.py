"""Loss of power at each moment of a save, on a disk that promises no more than the standards do.

The model: what was written to a file is on the disk only once that file was synced, and until then any part of it
may be there, or zeros in its place; what was done to the names in a folder is there only once the folder was synced,
and until then any of it may be there and any not.
"""

from __future__ import annotations

import itertools
import os
import stat
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from cornerwalk.session.events import Event
from cornerwalk.store import NotASessionError, SavedState
from cornerwalk.store.loader import StoredSession, load_session
from tests.store.support import QuickDisk, four_heights, library, note, opened


@dataclass
class Content:
    """A file's bytes: `synced` are on the disk, `written` may be."""

    synced: bytes | None = None
    written: bytes = b""

    def after_power_loss(self) -> set[bytes]:
        if self.synced == self.written:
            return {self.written}
        half = len(self.written) // 2
        return {
            self.synced or b"",
            self.written,
            self.written[:half],
            bytes(len(self.written)),
            self.written[:half] + bytes(len(self.written) - half),
        }


@dataclass
class Moment:
    """The disk at one moment: the names that are surely there, what may have become of them, and what was promised."""

    synced: dict[str, int]
    pending: list[tuple[str, str, str | int]]
    contents: dict[int, Content]
    promised: int

    def after_power_loss(self, name: str) -> Iterator[bytes | None]:
        """Everything that may be found under a name when the power comes back; None for nothing."""
        for count in range(len(self.pending) + 1):
            for some in itertools.combinations(self.pending, count):
                found = _applied(self.synced, some).get(name)
                if found is None:
                    yield None
                else:
                    yield from self.contents[found].after_power_loss()


def _applied(names: dict[str, int], changes: tuple[tuple[str, str, str | int], ...]) -> dict[str, int]:
    names = dict(names)
    for what, name, other in changes:
        if what == "made":
            assert isinstance(other, int)
            names[name] = other
        elif what == "removed":
            names.pop(name, None)
        elif name in names:
            names[str(other)] = names.pop(name)
    return names


class ModelDisk(QuickDisk):
    """Does what is asked, and keeps account of what a loss of power would leave at every moment."""

    syncs_files = True
    syncs_names = True

    def __init__(self) -> None:
        self.synced: dict[str, int] = {}
        self.pending: list[tuple[str, str, str | int]] = []
        self.contents: dict[int, Content] = {}
        self.handles: dict[int, int] = {}
        self.promised = 0
        self.moments: list[Moment] = []

    def remember(self) -> None:
        contents = {number: Content(each.synced, each.written) for number, each in self.contents.items()}
        self.moments.append(Moment(dict(self.synced), list(self.pending), contents, self.promised))

    def open(self, path: Path, flags: int, mode: int = 0o600) -> int:
        handle = super().open(path, flags, mode)
        if flags & os.O_CREAT:
            number = len(self.contents)
            self.contents[number] = Content()
            self.handles[handle] = number
            self.pending.append(("made", path.name, number))
            self.remember()
        return handle

    def write(self, handle: int, data: memoryview) -> int:
        taken = super().write(handle, data)
        self.contents[self.handles[handle]].written += bytes(data[:taken])
        self.remember()
        return taken

    def fsync(self, handle: int) -> None:
        if stat.S_ISDIR(os.fstat(handle).st_mode):
            if self.syncs_names:
                self.synced = _applied(self.synced, tuple(self.pending))
                self.pending.clear()
        elif self.syncs_files:
            content = self.contents[self.handles[handle]]
            content.synced = content.written
        self.remember()

    def replace(self, source: Path, target: Path) -> None:
        super().replace(source, target)
        self.pending.append(("renamed", source.name, target.name))
        self.remember()

    def unlink(self, path: Path) -> None:
        super().unlink(path)
        self.pending.append(("removed", path.name, ""))
        self.remember()

    def close(self, handle: int) -> None:
        super().close(handle)
        self.handles.pop(handle, None)


class WithoutFileSync(ModelDisk):
    syncs_files = False


class WithoutFolderSync(ModelDisk):
    syncs_names = False


def lost(disk: ModelDisk, tmp_path: Path) -> tuple[int, int]:
    """Run a job on the disk; how many states a loss of power could leave, and in how many a promise is broken."""
    session = library(tmp_path, disk=disk).create(opened())
    name = session.path.name

    def promise() -> None:
        if isinstance(session.state, SavedState):
            disk.promised = len(session.events)
            disk.remember()

    promise()
    events: list[Event] = [*four_heights(), note()]
    for event in events:
        session.record(event)
        promise()
    session.close()
    tried = missing = 0
    for moment in disk.moments:
        for data in set(moment.after_power_loss(name)):
            tried += 1
            stored = _read(tmp_path / name, data)
            whole = (
                stored is not None and stored.damage is None and stored.events == session.events[: len(stored.events)]
            )
            missing += (len(stored.events) if whole and stored else 0) < moment.promised
            if data is not None and not whole:
                missing += moment.promised == 0
    return tried, missing


def _read(path: Path, data: bytes | None) -> StoredSession | None:
    if data is None:
        return None
    try:
        return load_session(path, data)
    except NotASessionError:
        return None


def test_no_loss_of_power_takes_a_kept_reading(tmp_path: Path, record_property: Callable[[str, object], None]) -> None:
    """At every moment of six saves, whatever the disk need not yet have kept: the promised events are there, whole."""
    disk = ModelDisk()
    tried, missing = lost(disk, tmp_path)
    record_property("states_tried", tried)
    assert missing == 0
    assert tried > len(disk.moments) > 6 * len(["made", "written", "synced", "renamed", "synced", "promised"])


@pytest.mark.parametrize("disk", [WithoutFileSync(), WithoutFolderSync()], ids=lambda disk: type(disk).__name__)
def test_the_model_finds_a_save_that_leaves_out_a_sync(tmp_path: Path, disk: ModelDisk) -> None:
    """Without syncing the file, or without syncing its folder, readings would be lost: the test above can fail."""
    assert lost(disk, tmp_path)[1] > 0
