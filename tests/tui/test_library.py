"""The list of jobs: find one, open it, replay it, read its report, compare it with another."""

from __future__ import annotations

import threading
from pathlib import Path

import pytest
from textual.pilot import Pilot

from cornerwalk.assess import assess
from cornerwalk.session.walk import record_height
from cornerwalk.standards import load_standards
from cornerwalk.store import Library, Summary
from cornerwalk.tui.app import CornerwalkApp
from cornerwalk.tui.screens import library as library_page
from cornerwalk.tui.screens.comparison import ComparisonScreen
from cornerwalk.tui.screens.library import LibraryScreen
from cornerwalk.tui.screens.replay import ReplayScreen
from cornerwalk.tui.screens.report import ReportScreen
from cornerwalk.tui.screens.walk import WalkScreen
from cornerwalk.wording.names import verdict_word
from tests.support.clock import FrozenClock
from tests.support.screens import screen_text
from tests.support.snapshots import SnapshotText
from tests.tui.reviewing import SAMPLES, SIZES, Bench, drawn, page_text, press, settled


@pytest.fixture
def bench(tmp_path: Path, frozen_clock: FrozenClock) -> Bench:
    """A library of the four samples."""
    bench = Bench(tmp_path / "library", frozen_clock)
    for name in SAMPLES:
        bench.sample(name)
    return bench


async def open_list(app: CornerwalkApp, pilot: Pilot[None]) -> LibraryScreen:
    """From the start page by its choice."""
    app.push_screen(LibraryScreen(app.context))
    await settled(app, pilot)
    await settled(app, pilot)
    assert isinstance(app.screen, LibraryScreen)
    return app.screen


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
async def test_the_page(size: tuple[int, int], bench: Bench, snapshot_text: SnapshotText) -> None:
    """All jobs with their verdicts, and what a search leaves of them."""
    async with bench.start(size=size) as (app, pilot):
        await open_list(app, pilot)
        snapshot_text(page_text(app), "all")
        await press(app, pilot, *"verdict:fail")
        snapshot_text(page_text(app), "found")


async def test_the_start_page_leads_here(bench: Bench) -> None:
    """By its choice of an earlier job."""
    async with bench.start() as (app, pilot):
        shown = screen_text(app)
        number = next(line.split()[0] for line in shown.splitlines() if "Open an earlier job" in line)
        await press(app, pilot, number.lstrip("▸") or "3")
        assert isinstance(app.screen, LibraryScreen)


async def test_verdicts_come_in_while_the_list_is_shown(bench: Bench) -> None:
    """They are those that assess gives, and are remembered beside the files."""
    async with bench.start() as (app, pilot):
        await open_list(app, pilot)
        lines = [line.replace("▸", " ").strip() for line in screen_text(app).splitlines()]
        shown = {line[:10]: line for line in lines if line.startswith("2026")}
        assert " fail " in shown["2026-06-08"]
        assert " pass " in shown["2026-04-13"]
        assert "…  " not in "".join(shown.values())
    assert (bench.folder / ".verdicts.json").exists()


async def test_finding_and_opening(bench: Bench) -> None:
    """Words leave one job, Enter goes on with it."""
    async with bench.start() as (app, pilot):
        await open_list(app, pilot)
        assert "1 of 4 jobs" in await press(app, pilot, *"pickup")
        await press(app, pilot, "enter")
        assert isinstance(app.screen, WalkScreen)
        assert app.job is not None
        assert app.job.file.path.stem == "half-done"
        await press(app, pilot, "escape")
        assert isinstance(app.screen, LibraryScreen)
        assert "1 of 4 jobs" in screen_text(app)


async def test_a_job_gone_on_with_is_listed_as_it_is_now(bench: Bench) -> None:
    """Coming back to the list, it is read anew, and the verdict of a changed job is computed anew."""
    async with bench.start() as (app, pilot):
        screen = await open_list(app, pilot)
        await press(app, pilot, *"misread")
        assert " fail " in screen_text(app)
        await press(app, pilot, "enter", *["pageup"] * 3)
        with_one_more = app.job
        assert with_one_more is not None
        with_one_more.record(record_height(with_one_more.session, "728", corner="RR", stage=("loaded", 1)))
        await press(app, pilot, *["escape"] * 3)
        assert app.screen is screen
        await settled(app, pilot)
        before = bench.library.read(bench.folder / "misread-corner.json")
        now = verdict_word(assess(before.session, load_standards()).overall)
        assert f" {now} " in screen_text(app)


async def test_replay_and_report_from_the_list(bench: Bench) -> None:
    """Both of the marked job, and back to the list."""
    async with bench.start() as (app, pilot):
        await open_list(app, pilot)
        await press(app, pilot, *"camper", "f6")
        replay = app.screen
        assert isinstance(replay, ReplayScreen)
        assert replay.job.last == 132
        await press(app, pilot, "escape")
        report = await press(app, pilot, "f5")
        assert type(app.screen) is ReportScreen
        assert "Overall: pass" in report
        assert "for the customer" in await press(app, pilot, "right")
        await press(app, pilot, "escape")
        assert isinstance(app.screen, LibraryScreen)


@pytest.mark.parametrize(
    ("key", "name", "begins"),
    [("p", "camper-file.pdf", b"%PDF-"), ("h", "camper-file.html", b"<!"), ("t", "camper-file.txt", b"")],
)
async def test_a_report_is_written_beside_its_session(key: str, name: str, begins: bytes, bench: Bench) -> None:
    """As a page, a web page or a text; the page says where."""
    async with bench.start() as (app, pilot):
        app.push_screen(ReportScreen(app.context, bench.folder / "camper.json"))
        await settled(app, pilot)
        await press(app, pilot, key)
        assert "written:" in screen_text(app)
    content = (bench.folder / name).read_bytes()
    assert content.lower().startswith(begins.lower())
    if key == "t":
        assert "30 1/4" in content.decode()


async def test_a_report_that_cannot_be_written_says_why(bench: Bench, monkeypatch: pytest.MonkeyPatch) -> None:
    """A full disk is told on the page; nothing is left behind."""

    def full(*_arguments: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("cornerwalk.tui.screens.report.replace_file", full)
    async with bench.start() as (app, pilot):
        app.push_screen(ReportScreen(app.context, bench.folder / "camper.json"))
        await settled(app, pilot)
        assert "No space left on device" in await press(app, pilot, "t")


async def test_no_report_of_half_a_session(bench: Bench) -> None:
    """A damaged file has no figures, and the page says why."""
    path = bench.folder / "camper.json"
    path.write_bytes(path.read_bytes()[:-400])
    async with bench.start() as (app, pilot):
        app.push_screen(ReportScreen(app.context, path))
        await settled(app, pilot)
        shown = screen_text(app)
        assert "It is damaged" in shown
        assert "Overall" not in shown
        await press(app, pilot, "p", "h", "t", "right")
    assert not list(bench.folder.glob("*.pdf"))


# ---- comparing ----


async def test_comparing_two_jobs(bench: Bench, snapshot_text: SnapshotText) -> None:
    """F9 on the one, F9 on the other: every figure they share, how it differs and whether that means anything."""
    async with bench.start(size=(100, 30)) as (app, pilot):
        await open_list(app, pilot)
        assert "compare misread-corner with" in await press(app, pilot, "f9")
        await press(app, pilot, "end", "down", "f9")
        assert isinstance(app.screen, ComparisonScreen)
        snapshot_text(page_text(app))
        told = drawn(app, "#paper")
        assert "Minibus, misread corner" in told
        assert "Heights were taken" in told or "These differences mean something:" in told


async def test_comparing_stages_of_one_job(bench: Bench) -> None:
    """F9 twice on one job; keys choose the stages, never the same one for both."""
    async with bench.start() as (app, pilot):
        await open_list(app, pilot)
        await press(app, pilot, *"camper")
        seen = [drawn_words(await press(app, pilot, "f9", "f9"))]
        assert seen == ["loaded, no air against fitted, trial 3"]
        seen += [drawn_words(await press(app, pilot, key)) for key in "11112222"]
        assert len(set(seen)) == 7
        for words in seen:
            one, other = words.split(" against ")
            assert one != other


async def test_comparing_stages_of_the_open_job(bench: Bench) -> None:
    """From the palette of any page of a job, a replay too, where they are those of that moment."""
    async with bench.replay(bench.folder / "camper.json") as (app, pilot):
        app.action_open_page("job.compare")
        await settled(app, pilot)
        assert drawn_words(screen_text(app)) == "loaded, no air against fitted, trial 3"
        assert drawn_words(await press(app, pilot, "2")) == "loaded, no air against unloaded"
        await press(app, pilot, "escape")
        assert isinstance(app.screen, ReplayScreen)
        await press(app, pilot, "home")
        app.action_open_page("job.compare")
        await settled(app, pilot)
        assert "once two are read" in screen_text(app)


def drawn_words(shown: str) -> str:
    """The words in the line below the name."""
    return next(line.strip("─ ") for line in shown.splitlines() if " against " in line)


async def test_escape_lets_go_of_the_first_of_two(bench: Bench) -> None:
    """Nothing is compared by mistake."""
    async with bench.start() as (app, pilot):
        await open_list(app, pilot)
        assert "with …" in await press(app, pilot, "f9")
        assert "with …" not in await press(app, pilot, "escape")
        assert isinstance(app.screen, LibraryScreen)


async def test_what_cannot_be_compared_says_why(bench: Bench) -> None:
    """A job with one stage; a damaged file; a file that went away."""
    one_stage = bench.session((), title="Nothing read")
    damaged = bench.folder / "camper.json"
    damaged.write_bytes(damaged.read_bytes()[:-400])
    told = []
    async with bench.start() as (app, pilot):
        for one, other in (
            (one_stage, one_stage),
            (damaged, one_stage),
            (bench.folder / "none.json", one_stage),
        ):
            app.push_screen(ComparisonScreen(app.context, one, other))
            await settled(app, pilot)
            await press(app, pilot, "right", "pagedown")
            told.append(drawn(app, "#paper"))
            await press(app, pilot, "escape")
    assert "once two are read" in told[0]
    assert "is damaged" in told[1]
    assert "there is no file" in told[2]


# ---- orders, states, and a list of any length ----


async def test_orders_and_states(bench: Bench) -> None:
    """F7 goes round the orders, F8 round the states; both are said above the list."""
    async with bench.start() as (app, pilot):
        await open_list(app, pilot)
        orders = [drawn(app, "Ruler")]
        for _ in range(4):
            await press(app, pilot, "f7")
            orders.append(drawn(app, "Ruler"))
        assert len(set(orders)) == 5
        assert "worked on last first" in drawn_after(await press(app, pilot, "f7"))
        assert "only unfinished" in await press(app, pilot, "f8")
        shown = await press(app, pilot, "f8")
        assert "only handed over" in shown
        assert "Camper" in shown
        assert "Minibus" not in shown


def drawn_after(shown: str) -> str:
    return shown.splitlines()[2]


async def test_a_long_list_says_how_far_it_is(bench: Bench, monkeypatch: pytest.MonkeyPatch) -> None:
    """What takes longer than half a second shows its progress, and the page can be left meanwhile."""
    go_on = threading.Event()
    monkeypatch.setattr(library_page, "PROGRESS_AFTER_S", 0.0)

    def slow(self: Library, *, progress: object = None) -> list[Summary]:
        if not callable(progress):
            return []
        progress(3200, 10_000)
        go_on.wait(5)
        progress(6400, 10_000)
        return []

    monkeypatch.setattr(Library, "summaries", slow)
    async with bench.start() as (app, pilot):
        app.push_screen(LibraryScreen(app.context))
        for _ in range(20):
            await pilot.pause(0.05)
            if "reading 3,200 of 10,000" in screen_text(app):
                break
        assert "reading 3,200 of 10,000" in screen_text(app)
        await pilot.press("escape")
        assert not isinstance(app.screen, LibraryScreen)
        go_on.set()
        await settled(app, pilot)


async def test_an_empty_library_says_so(tmp_path: Path, frozen_clock: FrozenClock) -> None:
    """No key does anything wrong there."""
    bench = Bench(tmp_path / "nothing", frozen_clock)
    async with bench.start() as (app, pilot):
        await open_list(app, pilot)
        assert "There is no job here yet." in screen_text(app)
        await press(app, pilot, "enter", "f5", "f6", "f7", "f8", "f9", "down", "pagedown", "ctrl+end")
        assert isinstance(app.screen, LibraryScreen)
    assert not bench.folder.exists()


async def test_a_folder_that_cannot_be_read_says_why(tmp_path: Path, frozen_clock: FrozenClock) -> None:
    """A file stands where the folder should be."""
    bench = Bench(tmp_path / "file", frozen_clock)
    bench.folder.write_text("")
    async with bench.start() as (app, pilot):
        await open_list(app, pilot)
        assert "the folder is gone" in screen_text(app)


@pytest.mark.parametrize("size", [(1, 1), (20, 5), (36, 10), (56, 16), (200, 60)])
async def test_any_size(size: tuple[int, int], bench: Bench) -> None:
    """Every key may be pressed in a window of any size."""
    async with bench.start(size=size) as (app, pilot):
        app.push_screen(LibraryScreen(app.context))
        await settled(app, pilot)
        await press(app, pilot, *"mini", "down", "f7", "f8", "f8", "f8", "f9", "f9", "escape", "f5", "right", "escape")
        await pilot.resize_terminal(80, 24)
        await settled(app, pilot)
