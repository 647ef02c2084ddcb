"""The save path with a fault at each of its system calls in turn: no reading that was called kept goes missing."""

from __future__ import annotations

import errno
import os
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

import pytest

from cornerwalk.session import RecordedEvent
from cornerwalk.store import SavedState, SessionFile, StoreError
from tests.store.support import (
    ERRORS,
    FaultyDisk,
    dead_program,
    die,
    failing,
    four_heights,
    library,
    names,
    note,
    opened,
)
from tests.support.known import known


@dataclass
class Told:
    """What a user was told in a run: how many events are kept. `session` is what the program still had in memory."""

    kept: int = 0
    session: SessionFile | None = None
    events: list[RecordedEvent] = field(default_factory=list)


def tell(told: Told, session: SessionFile) -> None:
    told.session = session
    told.events = list(session.events)
    if isinstance(session.state, SavedState):
        told.kept = len(session.events)


def create_and_record(folder: Path, disk: FaultyDisk, told: Told) -> None:
    """A new session, two heights one by one, then two at once."""
    session = library(folder, disk=disk, here=dead_program()).create(opened())
    tell(told, session)
    first, second, *both = four_heights()
    for events in ((first,), (second,), both):
        session.record(*events)
        tell(told, session)


def open_and_record(folder: Path, disk: FaultyDisk, told: Told) -> None:
    """A session of five events opened again, one more recorded, moved to another folder, one more, closed."""
    with library(folder).create(opened(), *four_heights()) as before:
        pass
    told.kept, told.events = 5, list(before.events)
    try:
        session = library(folder, disk=disk, here=dead_program()).open(before.path)
    except StoreError:
        return
    session.record(note("one"))
    tell(told, session)
    session.move_to(folder / "other")
    tell(told, session)
    session.record(note("two"))
    tell(told, session)
    session.close()
    tell(told, session)


Run = Callable[[Path, FaultyDisk, Told], None]
RUNS: list[Run] = [create_and_record, open_and_record]


def files(folder: Path) -> Iterator[Path]:
    for place in (folder, folder / "other"):
        if place.exists():
            yield from place.glob("*.json")


def check_afterwards(folder: Path, told: Told) -> None:
    """As the next start finds it: everything that was called kept is there, each file is whole, nothing is stray."""
    shelf = library(folder)
    found = 0
    for place in (folder, folder / "other"):
        library(place).clean_up()
    for path in files(folder):
        if path.name.startswith("."):
            continue
        stored = shelf.read(path)
        assert stored.damage is None
        assert list(stored.events) == told.events[: len(stored.events)]
        found = max(found, len(stored.events))
        with shelf.open(path) as again:
            assert isinstance(again.record(note("goes on")), SavedState)
    assert found >= told.kept
    for place in (folder, folder / "other"):
        if place.exists():
            assert all(name == "other" or name.endswith(".json") for name in names(place)), names(place)


def calls_of(run: Run, folder: Path) -> int:
    disk, told = FaultyDisk(), Told()
    run(folder, disk, told)
    assert told.kept == len(told.events)
    die(known(told.session))
    return len(disk.log)


@pytest.mark.parametrize("run", RUNS, ids=lambda run: run.__name__)
def test_a_disk_that_fails_once_anywhere_loses_nothing(
    run: Run,
    tmp_path: Path,
    record_property: Callable[[str, object], None],
) -> None:
    """At each call, each error, before or after it took effect; then the process ends, or the disk works again."""
    calls = calls_of(run, tmp_path / "whole")
    tried = 0
    for at in range(1, calls + 1):
        for after in (False, True):
            number = ERRORS[tried % len(ERRORS)]  # all of them at each call: tests/faults/every_fault.py
            try_fault(run, tmp_path / str(tried), at=at, number=number, after=after, recovers=bool(tried % 3))
            tried += 1
    record_property("faults_injected", tried)
    assert tried == calls * 2


def try_fault(run: Run, folder: Path, *, at: int, number: int, after: bool, recovers: bool) -> None:
    """One run with one fault; what the next start then finds."""
    told = Told()
    run(folder, FaultyDisk(at=at, act=failing(number), after=after), told)
    if told.session is not None:
        if recovers:
            assert isinstance(told.session.close(), SavedState), (at, os.strerror(number), after)
            told.kept = len(told.events)
        else:
            die(told.session)
    check_afterwards(folder, told)


@pytest.mark.parametrize("run", RUNS, ids=lambda run: run.__name__)
def test_a_signal_anywhere_is_not_noticed(run: Run, tmp_path: Path) -> None:
    """EINTR at any call: the call is made again, and everything is kept."""
    calls = calls_of(run, tmp_path / "whole")
    for at in range(1, calls + 1):
        folder, told = tmp_path / str(at), Told()
        disk = FaultyDisk(at=at, act=failing(errno.EINTR))
        run(folder, disk, told)
        assert told.kept == len(told.events), (at, disk.log[at - 1])
        known(told.session).close()
        check_afterwards(folder, told)


@pytest.mark.parametrize("number", [*ERRORS, errno.ENOENT, errno.ESTALE])
@pytest.mark.parametrize("from_event", [1, 2, 4])
def test_a_disk_that_fails_from_some_moment_on(tmp_path: Path, number: int, from_event: int) -> None:
    """From then on nothing is called kept, and nothing is lost while the program runs; once it works all is there."""
    disk, told = FaultyDisk(), Told()
    shelf = library(tmp_path / "library", disk=disk)
    disk.down = number if from_event == 1 else None
    session = shelf.create(opened())
    tell(told, session)
    for count, height in enumerate(four_heights(), 2):
        if count >= from_event:
            disk.down = number
        assert isinstance(session.record(height), SavedState) == (count < from_event)
        tell(told, session)
    assert told.kept == from_event - 1
    assert len(session.events) == 5
    disk.down = None
    session.retry()
    tell(told, session)
    assert told.kept == 5
    session.close()
    check_afterwards(tmp_path / "library", told)
