"""The replay shows what the technician saw, at every event, and changes nothing."""

from __future__ import annotations

import hashlib
from pathlib import Path

import pytest

from cornerwalk.session.events import HandedOver, JobOpened
from cornerwalk.session.log import VERSION
from cornerwalk.tui.screens.replay import ReplayScreen
from cornerwalk.tui.screens.walk import WalkScreen
from tests.support.clock import FrozenClock
from tests.support.screens import screen_text
from tests.support.snapshots import SnapshotText
from tests.tui.reviewing import (
    SAMPLES,
    SIZES,
    WALK,
    Bench,
    corrected_job,
    drawn,
    number_shown,
    page_text,
    press,
)

COMPARED = (((80, 24), 2), ((120, 40), 6), ((60, 18), 2))
"""Windows that walk and replay are compared in, and the rows of the line of time in the replay's."""


@pytest.fixture
def bench(tmp_path: Path, frozen_clock: FrozenClock) -> Bench:
    return Bench(tmp_path / "library", frozen_clock)


@pytest.fixture
def corrected(bench: Bench) -> Path:
    """A job with corrections of every kind."""
    return corrected_job(bench)


# ---- what is seen ----


@pytest.mark.parametrize(("size", "foot_rows"), COMPARED, ids=str)
@pytest.mark.parametrize("name", SAMPLES)
async def test_the_last_frame_is_the_apps_own_screen(
    name: str, size: tuple[int, int], foot_rows: int, bench: Bench
) -> None:
    """Stages, plan, question and results of a replayed sample are, to the character, those of the walk itself.

    The replay has the rows of its own foot more, so that the walk has the same room in both.
    """
    path = bench.sample(name)
    width, rows = size
    async with bench.walk(path, size=size) as (app, _):
        assert isinstance(app.screen, WalkScreen)
        walked = drawn(app, *WALK)
    async with bench.replay(path, size=(width, rows + foot_rows)) as (app, _):
        assert isinstance(app.screen, ReplayScreen)
        assert drawn(app, *WALK) == walked
    assert walked.strip()


@pytest.mark.parametrize("name", SAMPLES)
async def test_every_frame_is_the_apps_own_screen_of_that_time(name: str, bench: Bench) -> None:
    """Not the last one alone: after each event the replay draws what the app draws of a session that ends there."""
    path = bench.sample(name)
    stored = bench.library.read(path)
    frames: dict[int, str] = {}
    async with bench.replay(path, size=(80, 26)) as (app, pilot):
        await press(app, pilot, "home")
        for number in range(1, len(stored.events) + 1):
            assert isinstance(app.screen, ReplayScreen)
            assert app.screen.job.number == number
            frames[number] = drawn(app, *WALK)
            await pilot.press("right")
    step = max(1, len(stored.events) // 6)
    for number in range(len(stored.events) - step, 0, -step):
        other = Bench(bench.folder.parent / f"until-{number}", bench.clock)
        cut = [event.payload for event in stored.events[:number]]
        with other.library.create(*cut) as session:
            ended = session.path
        async with other.walk(ended) as (app, _):
            assert drawn(app, *WALK) == frames[number]


@pytest.mark.parametrize("version", range(1, VERSION + 1))
async def test_a_session_of_every_version_is_replayed(version: int, bench: Bench) -> None:
    """A file of each version ever released opens, and every step of it can be looked at."""
    kept = Path(__file__).parent.parent / "cli" / "frozen" / f"v{version}.json"
    async with bench.replay(kept) as (app, pilot):
        assert number_shown(app) == 59
        assert "right front" in drawn(app, "#plan")
        for _ in range(58):
            await pilot.press("left")
        assert number_shown(app) == 1


async def test_the_words_are_there_in_the_same_window(bench: Bench) -> None:
    """In a window of one size the foot takes rows from the page, which scrolls; nothing of it is lost."""
    path = bench.sample("camper")
    async with bench.walk(path) as (app, _):
        words = drawn(app, *WALK).split()
    async with bench.replay(path) as (app, _):
        assert drawn(app, *WALK).split() == words


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
async def test_the_page(size: tuple[int, int], bench: Bench, corrected: Path, snapshot_text: SnapshotText) -> None:
    """The line of time at the foot, at the end and at a reading that was put in place of another; the list of events.

    What stands above the line is the walk's own, which other tests hold to the walk itself.
    """
    async with bench.replay(corrected, size=size) as (app, pilot):
        snapshot_text(drawn(app, "#timeline"), "at-the-end")
        shown = await press(app, pilot, *["left"] * 6)
        snapshot_text(drawn(app, "#timeline"), "read-again")
        rows = drawn(app, "#timeline").splitlines()
        assert shown.splitlines()[-1 - len(rows) : -1] == rows
        await press(app, pilot, "slash")
        snapshot_text(page_text(app), "events")


async def test_corrections_are_seen_as_such(bench: Bench, corrected: Path) -> None:
    """Read again, averaged, undone: each event says so where it stands."""
    told = {}
    async with bench.replay(corrected, size=(120, 24)) as (app, pilot):
        for number in range(12, 5, -1):
            told[number] = drawn(app, "#timeline")
            await press(app, pilot, "left")
    assert "read again, instead of 92 3/16" in told[6]
    assert "read once more, averaged with 29 1/4" in told[8]
    assert "note: wet floor" in told[9]
    assert "undone by #10" in told[9]
    assert "takes back #9: note: wet floor" in told[10]


async def test_a_wrong_height_is_seen_before_it_was_put_right(bench: Bench, corrected: Path) -> None:
    """The reviewer sees the slip as the technician did."""
    plans = {}
    async with bench.replay(corrected) as (app, pilot):
        await press(app, pilot, "home", *["right"] * 4)
        plans["before"] = drawn(app, "#plan")
        await press(app, pilot, "right")
        plans["after"] = drawn(app, "#plan")
    assert "92 3/16" in plans["before"]
    assert "92 3/16" not in plans["after"]
    assert "29 3/16" in plans["after"]


# ---- then and now ----


def handed_over(bench: Bench, corrected: Path, program: str, rear_mm: float) -> Path:
    with bench.library.open(corrected) as session:
        session.record(HandedOver(to="J. Doe (invented)", figures={"stage.loaded.1.rear_mm": rear_mm}, program=program))
    return corrected


async def test_a_figure_that_differs_stands_beside_todays(bench: Bench, corrected: Path) -> None:
    """What was handed over by another version, and what this one computes, side by side."""
    path = handed_over(bench, corrected, "0.0.9", -12.5)
    async with bench.replay(path) as (app, pilot):
        await press(app, pilot, "f6")
        told = " ".join(drawn(app, "#today-paper").split())
        assert "with version 0.0.9" in told
        assert "loaded, no air: rear, moved, mm -12.5" in told
        before = await press(app, pilot, "left")
        assert "Nothing was handed over up to here." in before
        assert "Then and now" not in await press(app, pilot, "escape")


async def test_a_wide_window_has_room_for_both(bench: Bench, corrected: Path) -> None:
    """Beside the walk where there is room, in its place where there is not."""
    path = handed_over(bench, corrected, "0.0.9", -12.5)
    for size, both in (((120, 40), True), ((80, 24), False)):
        async with bench.replay(path, size=size) as (app, pilot):
            shown = await press(app, pilot, "f6")
            assert "Then and now" in shown
            assert ("right front" in shown) == both


# ---- nothing is changed ----


async def test_no_key_changes_anything(bench: Bench, corrected: Path) -> None:
    """Every key of the keyboard, and nothing is typed, recorded, written or locked."""
    before = hashlib.sha256(corrected.read_bytes()).digest()
    keys = ["enter", "2", "8", "delete", "ctrl+z", "f2", "f7", "f8", "tab", "ctrl+s", "ctrl+y", "backspace"]
    async with bench.replay(corrected) as (app, pilot):
        was = drawn(app, *WALK)
        for key in keys:
            await press(app, pilot, key)
            assert isinstance(app.screen, ReplayScreen)
            assert drawn(app, *WALK) == was, key
        assert [path.name for path in bench.folder.iterdir() if path != corrected] == []
    assert hashlib.sha256(corrected.read_bytes()).digest() == before


async def test_pages_opened_from_a_replay_change_nothing(bench: Bench, corrected: Path) -> None:
    """The results are those of that moment, and an undo there is refused with the reason."""
    before = corrected.read_bytes()
    async with bench.replay(corrected) as (app, pilot):
        await press(app, pilot, "f5")
        assert not isinstance(app.screen, ReplayScreen)
        assert "this is a replay" in await press(app, pilot, "f2")
        await press(app, pilot, "escape")
        assert isinstance(app.screen, ReplayScreen)
    assert corrected.read_bytes() == before


@pytest.mark.parametrize("size", SIZES, ids=str)
async def test_a_job_without_a_stage_is_replayed(size: tuple[int, int], bench: Bench) -> None:
    """Broken off at the intake, it has a line of time all the same."""
    with bench.library.create(JobOpened(session="bare", job="fit", title="Bare (invented)", program="0")) as session:
        path = session.path
    async with bench.replay(path, size=size) as (app, _pilot):
        assert isinstance(app.screen, ReplayScreen)
        assert "1 / 1" in page_text(app)


async def test_a_session_somebody_works_on_is_replayed(bench: Bench, corrected: Path) -> None:
    """No lock is asked for."""
    with bench.library.open(corrected):
        async with bench.replay(corrected) as (app, _):
            assert number_shown(app) == 12


async def test_a_damaged_file_is_replayed_as_far_as_it_can_be_read(bench: Bench, corrected: Path) -> None:
    """And the page says so; the file stays as it is."""
    corrected.write_bytes(corrected.read_bytes().replace(b"wet floor", b"dry floor"))
    async with bench.replay(corrected) as (app, _pilot):
        assert number_shown(app) == 8
        assert "replay of what can be read" in screen_text(app)


@pytest.mark.parametrize("content", [b"", b"{}", b"\x00" * 100, b'{"format": "cornerwalk session", "version": 99}'])
async def test_what_cannot_be_replayed_says_why(content: bytes, bench: Bench) -> None:
    """A sentence and a way back, never a crash."""
    bench.folder.mkdir()
    path = bench.folder / "other.json"
    path.write_bytes(content)
    async with bench.replay(path) as (app, _pilot):
        assert "other.json" in screen_text(app)
        assert not isinstance(app.screen, ReplayScreen)
