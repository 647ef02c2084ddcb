"""The list of a library: what it says of each session, finding, the index that can be thrown away, changed clocks."""

from __future__ import annotations

import errno
import os
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date, datetime, timedelta, timezone
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given

from cornerwalk.assess import assess
from cornerwalk.session.events import (
    CornerSkipped,
    Event,
    FactStated,
    HandedOver,
    JobOpened,
    JobReopened,
    LeakMoment,
    LeakRead,
    Undone,
)
from cornerwalk.store import (
    DiskError,
    Library,
    Summary,
)
from cornerwalk.store.check import check_file
from cornerwalk.store.format import MAX_FILE_BYTES
from cornerwalk.store.safe_read import Signature
from tests.session.support import any_job
from tests.store.support import (
    FaultyDisk,
    QuickDisk,
    four_heights,
    library,
    note,
    opened,
    read,
)
from tests.support.clock import FrozenClock
from tests.support.jobs import standards
from tests.support.known import known

OVER = HandedOver(to="customer", figures={}, program="0.1.0")


def fact(name: str, text: str) -> FactStated:
    return FactStated(name=name, entered=text, value=text)


@given(any_job)
def test_the_list_says_what_the_session_says(tmp_path_factory: pytest.TempPathFactory, job: tuple[Event, ...]) -> None:
    """For any job, a summary without shapes agrees with the fold of the events."""
    shelf = library(tmp_path_factory.mktemp("library"))
    with shelf.create(*job) as written:
        session = written.session
    (summary,) = shelf.summaries()
    assert summary == Summary.of_path(
        written.path,
        id=session.id,
        title=session.job.title,
        technician=session.job.technician,
        customer=session.job.customer,
        vehicle=session.vehicle.description,
        registration=session.vehicle.registration,
        kit=session.kit.name,
        opened_at=session.opened_at,
        opened_by="MT",
        last_at=session.last_at,
        stages=tuple(stage.name for stage in session.stages if stage.complete),
        readings=sum(len(record.readings) for stage in session.stages for record in stage.corners.values()),
        open=session.open,
        damaged=False,
        events=len(written.events),
        had_events=len(written.events),
        version=2,
    )
    assert shelf.summaries() == [summary], "and so does the index"


def test_an_opening_lasts(tmp_path: Path) -> None:
    """The list and the fold agree that an opening cannot be taken back."""
    shelf = library(tmp_path)
    with shelf.create(opened(), Undone(undoes=1)) as written:
        pass
    (summary,) = shelf.summaries()
    assert summary.title == written.session.job.title == "Box trailer (invented)"


class Shelf:
    """A library of four jobs on four days."""

    def __init__(self, folder: Path) -> None:
        self.clock = FrozenClock()
        self.library = Library(folder, clock=self.clock, by="MT", disk=QuickDisk())
        skip = CornerSkipped(stage="unloaded", corner="LR", reason="no lip")
        self.boat = self.add("Boat", fact("vehicle.description", "Long van"), fact("job.technician", "Mara T."), OVER)
        self.box = self.add(
            "Box trailer", fact("vehicle.registration", "AB 123"), *four_heights(), read("LR", how="repeat")
        )
        self.horse = self.add(
            "Horse box", fact("job.customer", "Łucja"), *four_heights()[:3], skip, OVER, JobReopened(reason="")
        )
        self.slide_in = self.add("Slide-in", fact("kit.name", "Invented kit"), *four_heights(), OVER)

    def add(self, title: str, *events: Event) -> Path:
        session = self.library.create(JobOpened(session=title, job="fit", title=title, program=""), *events)
        session.close()
        self.clock.advance(days=1)
        return session.path

    def found(self, **what: object) -> list[Path]:
        return [summary.path for summary in self.library.find(**what)]  # type: ignore[arg-type]


@pytest.fixture
def shelf(tmp_path: Path) -> Shelf:
    return Shelf(tmp_path)


def test_the_list_begins_with_what_was_worked_on_last(shelf: Shelf) -> None:
    """Newest work first; the job to go on with is the latest that is not handed over."""
    assert shelf.found() == [shelf.slide_in, shelf.horse, shelf.box, shelf.boat]
    assert known(shelf.library.latest_unfinished()).path == shelf.horse
    shelf.library.open(shelf.box).record(note())
    assert shelf.found()[0] == known(shelf.library.latest_unfinished()).path == shelf.box


def test_newest_is_by_time_not_by_the_letters_of_it(tmp_path: Path) -> None:
    """Times of different offsets are compared as moments: 23:00 in the west is after 02:00 next day in the east."""
    west = Library(tmp_path, clock=lambda: datetime(2026, 5, 4, 23, tzinfo=timezone(timedelta(hours=-8))), by="")
    east = Library(tmp_path, clock=lambda: datetime(2026, 5, 5, 2, tzinfo=timezone(timedelta(hours=9))), by="")
    later, earlier = west.create(opened(title="west")), east.create(opened(title="east"))
    assert [summary.path for summary in west.summaries()] == [later.path, earlier.path]
    later.close()
    earlier.close()


def test_stages_and_readings_of_the_list(shelf: Shelf) -> None:
    """A stage is done with four corners read or skipped; only heights that count are counted."""
    by_path = {summary.path: (summary.stages, summary.readings) for summary in shelf.library.summaries()}
    assert by_path[shelf.box] == (("unloaded",), 5)
    assert by_path[shelf.horse] == (("unloaded",), 3)
    assert by_path[shelf.boat] == ((), 0)


def test_a_reading_taken_back_is_not_counted(tmp_path: Path) -> None:
    """Heights that were undone are left out; an undo of a handover or an opening changes nothing."""
    shelf = library(tmp_path)
    undos = [Undone(undoes=2), Undone(undoes=3), Undone(undoes=6), Undone(undoes=1)]
    with shelf.create(opened(), *four_heights(), OVER, *undos) as session:
        readings = sum(len(r.readings) for s in session.session.stages for r in s.corners.values())
    (summary,) = shelf.summaries()
    assert summary.readings == readings == 2
    assert not summary.open


@pytest.mark.parametrize(
    ("what", "found"),
    [
        ({"words": "BOX"}, ["horse", "box"]),
        ({"words": "box łucja"}, ["horse"]),
        ({"words": "invented kit"}, ["slide_in"]),
        ({"words": "nothing of the kind"}, []),
        ({"vehicle": "long"}, ["boat"]),
        ({"vehicle": "ab 1"}, ["box"]),
        ({"technician": "mara"}, ["boat"]),
        ({"state": "unfinished"}, ["horse", "box"]),
        ({"state": "handed over"}, ["slide_in", "boat"]),
        ({"since": date(2026, 5, 6)}, ["slide_in", "horse"]),
        ({"until": date(2026, 5, 5)}, ["box", "boat"]),
        ({"since": date(2026, 5, 5), "until": date(2026, 5, 5)}, ["box"]),
        ({"also": lambda summary: summary.readings == 4}, ["slide_in"]),
    ],
)
def test_finding(shelf: Shelf, what: dict[str, object], found: list[str]) -> None:
    """By words anywhere, days, vehicle, technician, state, or anything else; everything stated must hold."""
    assert shelf.found(**what) == [getattr(shelf, name) for name in found]


def test_the_index_can_be_thrown_away(shelf: Shelf) -> None:
    """With it, without it, with one that is broken or of another program: the same list. It is its owner's alone."""
    right = shelf.library.summaries()
    index = shelf.library.folder / ".index.json"
    assert index.stat().st_mode & 0o777 == 0o600
    broken = [
        b"", b"[]", b"null", b"\xff", b'{"format": "another"}', b"[" * 100_000,
        index.read_bytes().replace(b'"strangers":{', b'"strangers":{"x":[]'),
        index.read_bytes().replace(b"true", b"1"),
        index.read_bytes().replace(b'"Boat"', b'"Boat","Goat"'),
        index.read_bytes().replace(b"\n[[", b"\n[[],["),
    ]  # fmt: skip
    for data in broken:
        index.write_bytes(data)
        assert shelf.library.summaries() == right
        assert index.read_bytes() != data
    index.unlink()
    index.mkdir()
    assert shelf.library.summaries() == right


def test_the_index_is_asked_before_the_files_and_followed_only_while_they_are_as_they_were(shelf: Shelf) -> None:
    """An unchanged file is not read again; one that changed, even in the same moment and at the same size, is."""
    shelf.library.summaries()
    disk = FaultyDisk()
    again = Library(shelf.library.folder, clock=shelf.clock, by="", disk=disk)
    again.summaries()
    assert disk.log.count("open") == 1  # the index itself
    status = shelf.boat.stat()
    other = shelf.boat.with_suffix(".new")
    other.write_bytes(shelf.boat.read_bytes().replace(b"Boat", b"Goat"))
    os.utime(other, ns=(status.st_atime_ns, status.st_mtime_ns))
    other.rename(shelf.boat)
    assert shelf.boat.stat().st_mtime_ns == status.st_mtime_ns
    assert Signature.of(shelf.boat.stat()) != Signature.of(status)
    assert "Goat" in {summary.title for summary in again.summaries()}
    shelf.boat.unlink()
    assert len(again.summaries()) == 3


def test_a_file_that_vanishes_while_the_folder_is_read_takes_no_other_with_it(
    shelf: Shelf, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Another program moves one job away in that moment: the others are listed."""
    names = {summary.name for summary in shelf.library.summaries()}
    scandir = os.scandir

    @contextmanager
    def overtaken(folder: Path) -> Iterator[Iterator[os.DirEntry[str]]]:
        with scandir(folder) as entries:
            seen = list(entries)
            shelf.boat.unlink()
            yield iter(seen)

    with monkeypatch.context() as patched:
        patched.setattr(os, "scandir", overtaken)
        assert {summary.name for summary in shelf.library.summaries()} == names - {shelf.boat.name}


def test_a_job_without_a_title_is_told_by_its_files_name(tmp_path: Path) -> None:
    """Without the ending, which is the same for all."""
    shelf = library(tmp_path)
    shelf.create(opened(title="")).close()
    (summary,) = shelf.summaries()
    assert (summary.title, f"{summary.stem}.json") == ("", summary.name)


def told_of(shelf: Shelf) -> list[tuple[int, int]]:
    """What a list told of its progress."""
    told: list[tuple[int, int]] = []
    shelf.library.summaries(progress=lambda done, of: told.append((done, of)))
    return told


def test_a_long_list_says_how_far_it_is(shelf: Shelf) -> None:
    """Told after each file that had to be read; not at all where the index knows them."""
    assert told_of(shelf) == [(1, 4), (2, 4), (3, 4), (4, 4)]
    assert told_of(shelf) == []


def test_a_list_that_was_left_half_way_is_not_begun_anew(shelf: Shelf) -> None:
    """What had been read when it ended is in the index; only the rest is read the next time."""

    def left(done: int, of: int) -> None:
        if (done, of) == (3, 4):
            raise InterruptedError

    with pytest.raises(InterruptedError):
        shelf.library.summaries(progress=left)
    assert told_of(shelf) == [(1, 1)]
    assert shelf.found() == [shelf.slide_in, shelf.horse, shelf.box, shelf.boat]


def test_a_list_is_in_one_order_whether_it_is_remembered_or_read(shelf: Shelf) -> None:
    """With the index, without it, and where one file of it has changed."""
    right = [shelf.slide_in, shelf.horse, shelf.box, shelf.boat]
    assert shelf.found() == right
    assert shelf.found() == right
    shelf.box.write_bytes(shelf.box.read_bytes().replace(b"\n]}", b" \n]}"))
    assert shelf.found() == right
    assert shelf.found() == right


def test_a_start_in_a_large_library_reads_the_newest_files_only(tmp_path: Path) -> None:
    """Of three hundred that the index does not know two hundred are read; the newest open job is found among them."""
    disk = FaultyDisk()
    shelf = Shelf(tmp_path)
    data = shelf.boat.read_bytes()
    for number in range(300):
        (tmp_path / f"copy-{number}.json").write_bytes(data)
    newest = shelf.add("Newest")
    disk.log.clear()
    assert known(Library(tmp_path, clock=shelf.clock, by="MT", disk=disk).latest_unfinished()).path == newest
    assert disk.log.count("open") <= 201  # two hundred files, and the index that is not there


def test_a_library_that_can_only_be_read_is_listed(shelf: Shelf) -> None:
    """Without room for the index the list is there all the same."""
    disk = FaultyDisk()
    disk.down = errno.EROFS
    assert len(Library(shelf.library.folder, clock=shelf.clock, by="", disk=disk).summaries()) == 4
    assert not (shelf.library.folder / ".index.json").exists()


def test_a_folder_that_cannot_be_listed_is_a_disk_problem(tmp_path: Path) -> None:
    """Where the library is no folder, that is said."""
    (tmp_path / "file").touch()
    with pytest.raises(DiskError):
        library(tmp_path / "file").summaries()


# What stands in a file of the library, under what name; whether it is listed, and as what.
OURS = b'{"format": "cornerwalk session", "version": 1, "id": "x", "events": ['
STRANGERS = [
    ("letter.json", b"Dear customer", None),
    ("other.json", b'{"a": 1}', None),
    ("list.json", b"[1]", None),
    ("2026-05-04-cut-1a2b3c4d.json", b"", "damaged"),
    ("2026-05-04-large-1a2b3c4d.json", bytes(MAX_FILE_BYTES + 1), "damaged"),
    ("cut.json", b'{"format": "cornerwalk session", "version": 1, "id', "damaged"),
    ("deep.json", b'{"format": "cornerwalk session", "x": ' + b"[" * 100_000, "damaged"),
    ("newer.json", b'{"format": "cornerwalk session", "version": 99, "things": 1}', "newer"),
    ("noversion.json", b'{"format": "cornerwalk session", "version": "1"}', "damaged"),
    ("noevents.json", OURS + b"]}", "damaged"),
    ("notext.json", OURS.replace(b'"x"', b"5") + b'{"kind": "x"}]}', "damaged"),
    ("nokind.json", OURS + b"5]}", "damaged"),
    ("badkind.json", OURS + b'{"kind": []}]}', "damaged"),
    ("badtimes.json", OURS + b'{"kind": "x", "at": "noon"}]}', "listed"),
    ("notime.json", OURS + b'{"kind": "x", "at": "2026-05-04"}]}', "listed"),
]


@pytest.mark.parametrize(("name", "data", "as_what"), STRANGERS, ids=[name for name, _, _ in STRANGERS])
def test_strangers_in_the_library(tmp_path: Path, name: str, data: bytes, as_what: str | None) -> None:
    """Files of other kinds are left out; broken and newer ones are shown as such, and are no job to go on with."""
    (tmp_path / name).write_bytes(data)
    (tmp_path / "2026-05-04-folder-1a2b3c4d.json").mkdir()
    shelf = library(tmp_path)
    for _ in range(2):  # the second time from the index
        listed = shelf.find(since=date(1, 1, 1))
        told = [(each.name, each.damaged, each.unfinished, each.version > 1) for each in listed]
        kinds = ("damaged", "listed", "newer")
        assert told == ([(name, *(as_what == kind for kind in kinds))] if as_what else [])


def test_a_file_that_cannot_be_read_just_now_is_shown_and_looked_at_again(shelf: Shelf) -> None:
    """A passing failure of the disk is not written into the index."""

    class Failing(QuickDisk):
        def open(self, path: Path, flags: int, mode: int = 0o600) -> int:
            if path == shelf.boat:
                raise OSError(errno.EIO, "bad sector")
            return super().open(path, flags, mode)

    failing_library = Library(shelf.library.folder, clock=shelf.clock, by="", disk=Failing())
    assert [summary.path for summary in failing_library.summaries() if summary.damaged] == [shelf.boat]
    assert not any(summary.damaged for summary in shelf.library.summaries())


# Two hours ahead of UTC in summer and one in winter, as in the middle of Europe: in 2026 the clocks there are put
# forward on 29 March and set back on 25 October, both at 01:00 UTC (standing: MEMORY; nothing below hangs on the
# dates). Offsets instead of the zone's name, since not every system has a table of zones.
SUMMER, WINTER = timezone(timedelta(hours=2)), timezone(timedelta(hours=1))

CHANGES = {
    "set back": (datetime(2026, 10, 24, 20, 0, tzinfo=SUMMER), WINTER),
    "put forward": (datetime(2026, 3, 28, 19, 0, tzinfo=WINTER), SUMMER),
}

NIGHT = timedelta(hours=14)


def gauge(moment: LeakMoment, at: datetime) -> LeakRead:
    typed: Any = {"line": "both", "pressure_entered": "200 kPa", "temperature_entered": "20 C"}
    when = at.isoformat(timespec="seconds")
    return LeakRead(moment=moment, pressure_kPa=200.0, temperature_C=20.0, read_at=when, **typed)


@pytest.mark.parametrize("change", list(CHANGES))
def test_a_hold_test_over_the_change_of_the_clocks(tmp_path: Path, change: str) -> None:
    """14 hours are 14 hours, each time keeps its own offset in the file, and the check finds nothing to remark."""
    evening, afterwards = CHANGES[change]
    now = [evening]
    library = Library(tmp_path, clock=lambda: now[0], by="MT", disk=QuickDisk())
    with library.create(opened(), gauge("start", now[0])) as session:
        now[0] = (evening + NIGHT).astimezone(afterwards)
        session.record(gauge("end", now[0]))
    stored = library.read(session.path)
    times = [event.at for event in stored.events]
    assert times == [moment.isoformat(timespec="seconds") for moment in (evening, evening, now[0])]
    (leak,) = assess(stored.session, standards()).leak
    assert leak.hours == pytest.approx(14.0)
    assert check_file(session.path).findings == ()


def test_the_hour_that_comes_twice(tmp_path: Path) -> None:
    """02:50 of summer time and then 02:10 of winter time: 20 minutes on, though the hands went back 40."""
    now = [datetime(2026, 10, 25, 2, 50, tzinfo=SUMMER)]
    library = Library(tmp_path, clock=lambda: now[0], by="MT", disk=QuickDisk())
    with library.create(opened(title="Earlier (invented)"), gauge("start", now[0])) as earlier:
        pass
    now[0] = datetime(2026, 10, 25, 2, 10, tzinfo=WINTER)
    with library.create(opened(title="Later (invented)"), gauge("start", now[0])) as later:
        assert later.events[0].at[11:16] < earlier.events[0].at[11:16], "told by the hands alone it is earlier"
    summaries = library.summaries()
    assert [summary.path for summary in summaries] == [later.path, earlier.path], "the one worked on last is first"
    assert summaries[0].last_moment - summaries[1].last_moment == timedelta(minutes=20)
    assert known(library.latest_unfinished()).path == later.path
    assert check_file(earlier.path).findings == check_file(later.path).findings == ()
