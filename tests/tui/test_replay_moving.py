"""Going through a replay: by event, by stage, played, by what is searched for, by a click, in any window."""

from __future__ import annotations

from pathlib import Path

import pytest

from cornerwalk.job.replay import ReplayedJob
from cornerwalk.session.events import NoteWritten
from cornerwalk.tui.screens.replay import ReplayScreen
from tests.support.clock import FrozenClock
from tests.support.screens import screen_text
from tests.tui.reviewing import (
    Bench,
    corrected_job,
    number_shown,
    press,
)


@pytest.fixture
def bench(tmp_path: Path, frozen_clock: FrozenClock) -> Bench:
    return Bench(tmp_path / "library", frozen_clock)


@pytest.fixture
def corrected(bench: Bench) -> Path:
    """A job with corrections of every kind."""
    return corrected_job(bench)


# ---- moving ----


async def test_moving_by_event_and_by_stage(bench: Bench) -> None:
    """Arrows go by one, page keys to where a stage begins, Home and End to the ends; none beyond them."""
    async with bench.replay(bench.sample("half-done")) as (app, pilot):
        assert number_shown(app) == 39
        for keys, number in (
            (["right"], 39),
            (["left"], 38),
            (["pageup"], 36),
            (["pageup"], 31),
            (["pagedown"], 36),
            (["pagedown"], 39),
            (["home"], 1),
            (["left"], 1),
            (["pageup"], 1),
            (["pagedown"], 26),
            (["end"], 39),
        ):
            await press(app, pilot, *keys)
            assert number_shown(app) == number, keys


async def test_playing(bench: Bench) -> None:
    """Space plays on from here, again stops; from the end it begins again; at the end it stops by itself."""
    async with bench.replay(bench.sample("half-done")) as (app, pilot):
        screen = app.screen
        assert isinstance(screen, ReplayScreen)
        assert not _timers(screen)
        await press(app, pilot, "minus", "space")
        assert number_shown(app) == 1
        assert "playing, 0.5 a second" in screen_text(app)
        assert len(_timers(screen)) == 1
        assert "playing, 8 a second" in await press(app, pilot, *["plus"] * 9)
        await pilot.pause(0.6)
        await press(app, pilot, "space")
        here = number_shown(app)
        assert here > 1
        assert "playing" not in screen_text(app)
        assert not _timers(screen)
        await press(app, pilot, "end", "left", "space")
        await pilot.pause(0.4)
        assert number_shown(app) == 39
        assert not _timers(screen)


def _timers(screen: ReplayScreen) -> list[object]:
    return [timer for timer in screen._timers if timer.name.startswith("set_timer") or timer is screen._timer]


def test_the_true_pace_cuts_long_pauses_short(bench: Bench) -> None:
    """Between events as long as it was, but a night does not last a night."""
    happened = [NoteWritten(text="first"), NoteWritten(text="second")]
    path = bench.session(happened)
    bench.clock.advance(hours=14)
    with bench.library.open(path) as session:
        session.record(NoteWritten(text="third"))
        bench.clock.advance(seconds=7)
        session.record(NoteWritten(text="fourth"), NoteWritten(text="fifth"))
    job = ReplayedJob(bench.context(), bench.library.read(path))
    pauses = []
    for number in range(1, job.last):
        job.go_to(number)
        pauses.append(job.true_pause_s())
    assert pauses == [60.0, 60.0, 2.0, 7.0, 0.15]


# ---- finding ----


async def test_searching(bench: Bench, corrected: Path) -> None:
    """Words leave only the events that have them; Enter goes to the marked one, n and p to the next with them."""
    async with bench.replay(corrected) as (app, pilot):
        listed = await press(app, pilot, "slash", *"left rear")
        assert "2 events of 12" in listed
        await press(app, pilot, "up", "enter")
        assert number_shown(app) == 7
        await press(app, pilot, "n")
        assert number_shown(app) == 8
        assert 'No further event has "left rear"' in await press(app, pilot, "n")
        assert number_shown(app) == 8
        await press(app, pilot, "p")
        assert number_shown(app) == 7


async def test_searching_for_what_is_not_there(bench: Bench, corrected: Path) -> None:
    """It says so, Enter does nothing, Escape empties the words and then leads back."""
    async with bench.replay(corrected) as (app, pilot):
        assert "No event has these words." in await press(app, pilot, "slash", *"zebra", "enter")
        assert "12 events" in await press(app, pilot, "escape")
        await press(app, pilot, "escape")
        assert number_shown(app) == 12


# ---- any terminal ----


@pytest.mark.parametrize("size", [(1, 1), (20, 5), (36, 10), (40, 12), (56, 16), (200, 60), (500, 3)])
async def test_any_size(size: tuple[int, int], bench: Bench, corrected: Path) -> None:
    """Every key may be pressed in a window of any size; larger again, it shows what it should."""
    keys = ["left", "pageup", "f6", "left", "escape", "end", "slash", *"left", "down", "enter", "up", "space", "space"]
    async with bench.replay(corrected, size=size) as (app, pilot):
        await press(app, pilot, *keys)
        await pilot.resize_terminal(80, 24)
        while not isinstance(app.screen, ReplayScreen):
            await press(app, pilot, "escape")
        assert number_shown(app) >= 1


async def test_a_click_on_the_line_goes_there(bench: Bench, corrected: Path) -> None:
    """The mouse is not needed, but works: at the left end stands the first event, below the line its neighbours."""
    async with bench.replay(corrected, size=(120, 40)) as (app, pilot):
        await pilot.click("#timeline", offset=(0, 0))
        assert number_shown(app) == 1
        await pilot.click("#plan", offset=(3, 2))
        assert number_shown(app) == 1
        timeline = app.screen.query_one("#timeline")
        await pilot.click("#timeline", offset=(5, timeline.size.height - 1))
        assert number_shown(app) > 1
