"""Leaving, crashing, and windows of every size."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from cornerwalk.context import WalkView
from cornerwalk.tui.app import CornerwalkApp
from cornerwalk.tui.crash import Crash
from tests.tui.driving import LOADED, UNLOADED, Driver, context_of, driven, new_session, start, walk


@pytest.mark.parametrize("key", ["ctrl+c", "ctrl+q"])
async def test_leaving_closes_the_file(tmp_path: Path, key: str) -> None:
    """Everything is kept, the exit status is 0, and another program can open the job."""
    context = context_of(tmp_path)
    path = new_session(context)
    async with driven(context, WalkView(path)) as d:
        await d.key_in("28 5/8")
        await d.press(key)
        assert d.app.return_code == 0
    with context.library.open(path) as again:
        assert len(again.session.stages[0].corners) == 1


async def test_a_crash_is_told_in_plain_words_and_written_down(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The report lies in the library, the status is not 0, what was kept is kept."""
    context = context_of(tmp_path)
    path = new_session(context)

    def broken(*_arguments: object) -> None:
        raise RuntimeError("an invented mistake")

    async def crash(app: CornerwalkApp) -> None:
        async with app.run_test() as pilot:
            await pilot.pause()
            driver = Driver(app, pilot)
            await driver.key_in("28 5/8")
            monkeypatch.setattr("cornerwalk.tui.screens.walk.reply_to", broken)
            await driver.type("2")

    app = CornerwalkApp(lambda: (context, WalkView(path)))
    with pytest.raises(Crash):
        await crash(app)
    assert app.return_code == 1
    (report,) = (tmp_path / "sessions").glob("crash-*.txt")
    assert "an invented mistake" in report.read_text("utf-8")
    told = Crash(RuntimeError("x"), context, path).lines
    assert str(path) in told[1]
    assert all("Traceback" not in line for line in told)
    assert len(context.library.read(path).session.stages[0].corners) == 1


SIZES = [(20, 5), (36, 10), (40, 24), (60, 20), (79, 23), (120, 40), (300, 4)]


@pytest.mark.parametrize("keys", [(), ("f4",), ("f5",), ("f5", "2"), ("f1",), ("f3",), ("f8",), ("f7",)])
async def test_every_page_stands_every_size(tmp_path: Path, keys: tuple[str, ...]) -> None:
    """No size of window brings a traceback, and the page is there again when the window is large."""
    async with walk(tmp_path) as d:
        await d.key_in(*UNLOADED, "", *LOADED[:2])
        await d.press(*keys)
        before = d.text
        for size in SIZES:
            await d.resize(*size)
            assert d.text.strip()
        await d.resize(80, 24)
        assert d.text == before


async def test_a_window_that_is_too_small_says_so(tmp_path: Path) -> None:
    """What to do is said in words; keys still work."""
    async with walk(tmp_path, size=(24, 6)) as d:
        assert "Make the window" in " ".join(d.text.split())
        await d.key_in("28 5/8")
        assert len(d.readings) == 1
        await d.resize(80, 24)
        await d.key_in("28 11/16")
        assert len(d.readings) == 2


async def test_an_odd_library_folder_is_no_traceback(tmp_path: Path) -> None:
    """A file where the folder should be: the start page says so and stays."""
    context = context_of(tmp_path)
    shutil.rmtree(tmp_path / "sessions", ignore_errors=True)
    (tmp_path / "sessions").write_text("no folder", "utf-8")
    async with start(context) as d:
        assert d.page == "StartScreen"
        await d.press("1", "enter")
        assert d.page in ("NewJobScreen", "WalkScreen")
        assert "NOT ON DISK" in d.text or "cannot" in d.text
