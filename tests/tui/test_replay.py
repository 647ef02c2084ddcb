"""The replay shows what the technician saw, at every event, and changes nothing."""

from __future__ import annotations

import hashlib
from pathlib import Path

import pytest
from textual.pilot import Pilot

from cornerwalk.session.events import HandedOver, JobOpened
from cornerwalk.session.log import VERSION
from cornerwalk.tui.app import CornerwalkApp
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
def test_the_last_frame_is_the_apps_own_screen(name: str, size: tuple[int, int], foot_rows: int, bench: Bench) -> None:
    """Stages, plan, question and results of a replayed sample are, to the character, those of the walk itself.

    The replay has the rows of its own foot more, so that the walk has the same room in both.
    """
    path = bench.sample(name)
    shown = []

    async def look(app: CornerwalkApp, _pilot: Pilot[None]) -> None:
        shown.append((drawn(app, *WALK), type(app.screen)))

    width, rows = size
    bench.walk(path, look, size=size)
    bench.replay(path, look, size=(width, rows + foot_rows))
    (walked, walk_screen), (replayed, replay_screen) = shown
    assert (walk_screen, replay_screen) == (WalkScreen, ReplayScreen)
    assert replayed == walked
    assert walked.strip()


@pytest.mark.parametrize("name", SAMPLES)
def test_every_frame_is_the_apps_own_screen_of_that_time(name: str, bench: Bench) -> None:
    """Not the last one alone: after each event the replay draws what the app draws of a session that ends there."""
    path = bench.sample(name)
    stored = bench.library.read(path)
    frames: dict[int, str] = {}

    async def through(app: CornerwalkApp, pilot: Pilot[None]) -> None:
        await press(app, pilot, "home")
        for number in range(1, len(stored.events) + 1):
            assert isinstance(app.screen, ReplayScreen)
            assert app.screen.job.number == number
            frames[number] = drawn(app, *WALK)
            await pilot.press("right")

    bench.replay(path, through, size=(80, 26))
    step = max(1, len(stored.events) // 6)
    for number in range(len(stored.events) - step, 0, -step):
        other = Bench(bench.folder.parent / f"until-{number}", bench.clock)
        cut = [event.payload for event in stored.events[:number]]
        with other.library.create(*cut) as session:
            ended = session.path

        async def compare(app: CornerwalkApp, _pilot: Pilot[None], number: int = number) -> None:
            assert drawn(app, *WALK) == frames[number]

        other.walk(ended, compare)


@pytest.mark.parametrize("version", range(1, VERSION + 1))
def test_a_session_of_every_version_is_replayed(version: int, bench: Bench) -> None:
    """A file of each version ever released opens, and every step of it can be looked at."""
    kept = Path(__file__).parent.parent / "cli" / "frozen" / f"v{version}.json"

    async def look(app: CornerwalkApp, pilot: Pilot[None]) -> None:
        assert number_shown(app) == 59
        assert "right front" in drawn(app, "#plan")
        for _ in range(58):
            await pilot.press("left")
        assert number_shown(app) == 1

    bench.replay(kept, look)


def test_the_words_are_there_in_the_same_window(bench: Bench) -> None:
    """In a window of one size the foot takes rows from the page, which scrolls; nothing of it is lost."""
    path = bench.sample("camper")
    words = []

    async def look(app: CornerwalkApp, _pilot: Pilot[None]) -> None:
        words.append(" ".join(drawn(app, *WALK).split()))

    bench.walk(path, look)
    bench.replay(path, look)
    assert words[0] == words[1]


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
def test_the_page(size: tuple[int, int], bench: Bench, corrected: Path, snapshot_text: SnapshotText) -> None:
    """The line of time at the foot, at the end and at a reading that was put in place of another; the list of events.

    What stands above the line is the walk's own, which other tests hold to the walk itself.
    """

    async def look(app: CornerwalkApp, pilot: Pilot[None]) -> None:
        snapshot_text(drawn(app, "#timeline"), "at-the-end")
        shown = await press(app, pilot, *["left"] * 6)
        snapshot_text(drawn(app, "#timeline"), "read-again")
        rows = drawn(app, "#timeline").splitlines()
        assert shown.splitlines()[-1 - len(rows) : -1] == rows
        await press(app, pilot, "slash")
        snapshot_text(page_text(app), "events")

    bench.replay(corrected, look, size=size)


def test_corrections_are_seen_as_such(bench: Bench, corrected: Path) -> None:
    """Read again, averaged, undone: each event says so where it stands."""
    told = {}

    async def look(app: CornerwalkApp, pilot: Pilot[None]) -> None:
        for number in range(12, 5, -1):
            told[number] = drawn(app, "#timeline")
            await press(app, pilot, "left")

    bench.replay(corrected, look, size=(120, 24))
    assert "read again, instead of 92 3/16" in told[6]
    assert "read again, averaged with 29 1/4" in told[8]
    assert "note: wet floor" in told[9]
    assert "undone by #10" in told[9]
    assert "takes back #9: note: wet floor" in told[10]


def test_a_wrong_height_is_seen_before_it_was_put_right(bench: Bench, corrected: Path) -> None:
    """The reviewer sees the slip as the technician did."""
    plans = {}

    async def look(app: CornerwalkApp, pilot: Pilot[None]) -> None:
        await press(app, pilot, "home", *["right"] * 4)
        plans["before"] = drawn(app, "#plan")
        await press(app, pilot, "right")
        plans["after"] = drawn(app, "#plan")

    bench.replay(corrected, look)
    assert "92 3/16" in plans["before"]
    assert "92 3/16" not in plans["after"]
    assert "29 3/16" in plans["after"]


# ---- then and now ----


def handed_over(bench: Bench, corrected: Path, program: str, rear_mm: float) -> Path:
    with bench.library.open(corrected) as session:
        session.record(HandedOver(to="J. Doe (invented)", figures={"stage.loaded.1.rear_mm": rear_mm}, program=program))
    return corrected


def test_a_figure_that_differs_stands_beside_todays(bench: Bench, corrected: Path) -> None:
    """What was handed over by another version, and what this one computes, side by side."""
    path = handed_over(bench, corrected, "0.0.9", -12.5)

    async def look(app: CornerwalkApp, pilot: Pilot[None]) -> None:
        await press(app, pilot, "f6")
        told = " ".join(drawn(app, "#today-paper").split())
        assert "with version 0.0.9" in told
        assert "loaded, no air: rear, moved, mm -12.5" in told
        before = await press(app, pilot, "left")
        assert "Nothing was handed over up to here." in before
        assert "Then and now" not in await press(app, pilot, "escape")

    bench.replay(path, look)


def test_a_wide_window_has_room_for_both(bench: Bench, corrected: Path) -> None:
    """Beside the walk where there is room, in its place where there is not."""
    path = handed_over(bench, corrected, "0.0.9", -12.5)

    async def look(app: CornerwalkApp, pilot: Pilot[None]) -> None:
        shown = await press(app, pilot, "f6")
        assert "Then and now" in shown
        assert ("right front" in shown) == (app.size.width >= 110)

    bench.replay(path, look, size=(120, 40))
    bench.replay(path, look, size=(80, 24))


# ---- nothing is changed ----


def test_no_key_changes_anything(bench: Bench, corrected: Path) -> None:
    """Every key of the keyboard, and nothing is typed, recorded, written or locked."""
    before = hashlib.sha256(corrected.read_bytes()).digest()
    keys = ["enter", "2", "8", "delete", "ctrl+z", "f2", "f7", "f8", "tab", "ctrl+s", "ctrl+y", "backspace"]

    async def look(app: CornerwalkApp, pilot: Pilot[None]) -> None:
        was = drawn(app, *WALK)
        for key in keys:
            await press(app, pilot, key)
            assert isinstance(app.screen, ReplayScreen)
            assert drawn(app, *WALK) == was, key
        assert [path.name for path in bench.folder.iterdir() if path != corrected] == []

    bench.replay(corrected, look)
    assert hashlib.sha256(corrected.read_bytes()).digest() == before


def test_pages_opened_from_a_replay_change_nothing(bench: Bench, corrected: Path) -> None:
    """The results are those of that moment, and an undo there is refused with the reason."""
    before = corrected.read_bytes()

    async def look(app: CornerwalkApp, pilot: Pilot[None]) -> None:
        await press(app, pilot, "f5")
        assert not isinstance(app.screen, ReplayScreen)
        assert "this is a replay" in await press(app, pilot, "f2")
        await press(app, pilot, "escape")
        assert isinstance(app.screen, ReplayScreen)

    bench.replay(corrected, look)
    assert corrected.read_bytes() == before


@pytest.mark.parametrize("size", SIZES, ids=str)
def test_a_job_without_a_stage_is_replayed(size: tuple[int, int], bench: Bench) -> None:
    """Broken off at the intake, it has a line of time all the same."""
    with bench.library.create(JobOpened(session="bare", job="fit", title="Bare (invented)", program="0")) as session:
        path = session.path

    async def look(app: CornerwalkApp, _pilot: Pilot[None]) -> None:
        assert isinstance(app.screen, ReplayScreen)
        assert "1 / 1" in page_text(app)

    bench.replay(path, look, size=size)


def test_a_session_somebody_works_on_is_replayed(bench: Bench, corrected: Path) -> None:
    """No lock is asked for."""

    async def look(app: CornerwalkApp, _pilot: Pilot[None]) -> None:
        assert number_shown(app) == 12

    with bench.library.open(corrected):
        bench.replay(corrected, look)


def test_a_damaged_file_is_replayed_as_far_as_it_can_be_read(bench: Bench, corrected: Path) -> None:
    """And the page says so; the file stays as it is."""
    corrected.write_bytes(corrected.read_bytes().replace(b"wet floor", b"dry floor"))

    async def look(app: CornerwalkApp, _pilot: Pilot[None]) -> None:
        assert number_shown(app) == 8
        assert "replay of what can be read" in screen_text(app)

    bench.replay(corrected, look)


@pytest.mark.parametrize("content", [b"", b"{}", b"\x00" * 100, b'{"format": "cornerwalk session", "version": 99}'])
def test_what_cannot_be_replayed_says_why(content: bytes, bench: Bench) -> None:
    """A sentence and a way back, never a crash."""
    bench.folder.mkdir()
    path = bench.folder / "other.json"
    path.write_bytes(content)

    async def look(app: CornerwalkApp, _pilot: Pilot[None]) -> None:
        assert "other.json" in screen_text(app)
        assert not isinstance(app.screen, ReplayScreen)

    bench.replay(path, look)
