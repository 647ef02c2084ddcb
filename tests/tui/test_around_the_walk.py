"""The pages around the walk: start, new job, list, form, results, help, and what is said when something is wrong."""

from __future__ import annotations

import asyncio
import shutil
from pathlib import Path
from typing import Any

import pytest

from cornerwalk.context import Walk
from cornerwalk.session.happenings import FactStated, LoadStated
from cornerwalk.store import Disk, Library
from cornerwalk.tui.app import CornerwalkApp
from cornerwalk.tui.crash import Crash
from cornerwalk.tui.fields import SECTIONS, fields_of
from tests.tui.driving import LOADED, UNLOADED, Driver, context_of, driven, new_session, start, walk

# ---- start, new, list ----


def test_cold_start_to_first_reading(tmp_path: Path) -> None:
    """Two keys from the start page to the first corner; the job then is in the library."""
    context = context_of(tmp_path)

    async def act(d: Driver) -> None:
        assert d.page == "StartScreen"
        await d.press("1")
        await d.press("enter")
        assert d.page == "WalkScreen"
        await d.key_in("28 5/8")
        assert d.readings == [("unloaded", 1, "LF", "28 5/8")]

    start(context, act)
    assert [s.readings for s in context.library.summaries()] == [1]


def test_a_preset_costs_one_more_key(tmp_path: Path) -> None:
    """Fewer than ten keys from a cold start to the first reading of a vehicle that is known."""
    context = context_of(tmp_path)
    context.presets_folder.mkdir()
    (context.presets_folder / "Van.toml").write_text('unit = "inch"\n[vehicle]\nwheelbase = "119 in"\n', "utf-8")

    async def act(d: Driver) -> None:
        await d.press("1", "pagedown", "enter")
        assert d.session.vehicle.wheelbase_mm == pytest.approx(119 * 25.4)

    start(context, act)


def test_a_broken_preset_makes_no_job(tmp_path: Path) -> None:
    """The line that is wrong is told, and nothing is made."""
    context = context_of(tmp_path)
    context.presets_folder.mkdir()
    (context.presets_folder / "Van.toml").write_text('unit = "inch"\n[vehicle]\nwheelbse = "119 in"\n', "utf-8")

    async def act(d: Driver) -> None:
        await d.press("1", "pagedown", "enter")
        assert d.page == "NewJobScreen"
        assert "wheelbse" in d.text

    start(context, act)
    assert context.library.summaries() == []


def test_kind_and_name_of_a_new_job(tmp_path: Path) -> None:
    """Arrows choose the kind while the name is typed."""
    context = context_of(tmp_path)

    async def act(d: Driver) -> None:
        await d.press("1")
        await d.type("Ann")
        await d.press("down", "down", "enter")
        assert d.session.job.kind == "load check"
        assert d.session.job.title == "Ann"

    start(context, act)


def test_settings_go_into_a_new_job(tmp_path: Path) -> None:
    """What the technician has set once is stated in every new job."""
    context = context_of(tmp_path, units="metric", start_corner="RR")

    async def act(d: Driver) -> None:
        await d.press("1", "enter")
        assert d.session.job.unit == "mm"
        assert "Right rear" in d.said

    start(context, act)


def test_the_unfinished_job_is_one_enter_away(tmp_path: Path) -> None:
    """The start page offers it first, and the walk goes on at the same corner."""
    context = context_of(tmp_path)
    path = new_session(context)

    async def read_one(d: Driver) -> None:
        await d.key_in("28 5/8")

    walk(tmp_path, read_one, context=context, path=path)

    async def act(d: Driver) -> None:
        assert "Go on with Box trailer, Tuesday" in d.text
        await d.press("enter")
        assert "Right front" in d.said

    start(context, act)


def test_a_job_that_was_left_is_gone_on_with(tmp_path: Path) -> None:
    """Esc leads back to the start page, Enter to the same corner: the program does not lock itself out."""

    async def act(d: Driver) -> None:
        await d.press("1", "enter")
        await d.key_in("28 5/8")
        await d.press("escape", "escape")
        assert d.page == "StartScreen"
        await d.press("enter")
        assert d.page == "WalkScreen"
        assert "Right front" in d.said
        await d.key_in("28 11/16")
        assert len(d.readings) == 2

    start(context_of(tmp_path), act)


def test_esc_from_a_walk_that_was_opened_directly_leads_to_the_start(tmp_path: Path) -> None:
    """Nobody leaves the program by pressing Esc once too often; from the start page it does."""

    async def act(d: Driver) -> None:
        await d.press("escape")
        assert d.page == "StartScreen"
        await d.press("enter")
        assert d.page == "WalkScreen"
        await d.press("escape", "escape")
        assert d.app.return_code == 0

    walk(tmp_path, act)


def test_an_earlier_job_is_opened_from_the_list(tmp_path: Path) -> None:
    """The list shows name and state; Enter opens."""
    context = context_of(tmp_path)
    new_session(context)

    async def act(d: Driver) -> None:
        await d.press("3")
        assert d.page == "LibraryScreen"
        await d.press("enter")
        assert d.page == "WalkScreen"

    start(context, act)


def test_the_sample_leaves_nothing_behind(tmp_path: Path) -> None:
    """It opens as a job, and the library of the user stays empty."""
    context = context_of(tmp_path)

    async def act(d: Driver) -> None:
        await d.press("3")
        assert d.page == "WalkScreen"
        await d.press("f3")
        await d.key_in("a note")

    start(context, act)
    assert context.library.summaries() == []


# ---- files that cannot simply be opened ----


def test_a_job_that_is_open_elsewhere_can_be_looked_at(tmp_path: Path) -> None:
    """Who has it is said; looking on writes nothing."""
    context = context_of(tmp_path)
    path = new_session(context)
    with context.library.open(path):

        async def act(d: Driver) -> None:
            assert d.page == "HinderedScreen"
            assert "open in another program" in d.text
            await d.press("1")
            assert d.page == "WalkScreen"
            assert "read only" in d.text
            await d.key_in("28 5/8")
            assert d.readings == []
            assert "only followed" in d.said

        other = context_of(tmp_path)
        walk(tmp_path, act, context=other, path=path)


def test_a_damaged_job_is_gone_on_with_in_a_new_file(tmp_path: Path) -> None:
    """What can be read is offered, the damaged file stays as it is."""
    context = context_of(tmp_path)
    path = new_session(context)
    text = path.read_bytes()
    path.write_bytes(text[: len(text) * 2 // 3])
    damaged = path.read_bytes()

    async def act(d: Driver) -> None:
        assert d.page == "HinderedScreen"
        await d.press("1")
        assert d.page == "WalkScreen"
        await d.key_in("28 5/8")
        assert d.app.job is not None
        assert d.app.job.file.path != path

    walk(tmp_path, act, context=context, path=path)
    assert path.read_bytes() == damaged


def test_a_file_that_is_gone_is_said_so(tmp_path: Path) -> None:
    """No traceback, a way back."""

    async def act(d: Driver) -> None:
        assert d.page == "HinderedScreen"
        assert "missing.json" in d.text

    walk(tmp_path, act, path=tmp_path / "missing.json")


class _FullDisk(Disk):
    """A disk that takes nothing while it is full."""

    full = True

    def fsync(self, *arguments: Any) -> None:
        """Fail as a full disk does."""
        if self.full:
            raise OSError(28, "No space left on device")
        super().fsync(*arguments)


def test_not_on_disk_is_loud_and_readings_go_on(tmp_path: Path) -> None:
    """Nothing is called kept that is not; what was read meanwhile is written as soon as it can be."""
    disk = _FullDisk()
    disk.full = False
    context = context_of(tmp_path)
    context = type(context)(
        **{name: getattr(context, name) for name in context.__slots__ if name != "library"},
        library=Library(tmp_path / "sessions", clock=context.clock, by="MT", disk=disk),
    )
    path = new_session(context)

    async def act(d: Driver) -> None:
        disk.full = True
        await d.key_in("28 5/8", "28 11/16")
        assert "NOT ON DISK" in d.text
        assert "NOT KEPT" in d.text
        assert "the disk is full" in d.text
        assert "kept: " not in d.said
        assert len(d.readings) == 2
        await d.press("ctrl+s")
        assert "NOT ON DISK" in d.text
        disk.full = False
        await d.press("ctrl+s")
        assert "NOT ON DISK" not in d.text
        assert "on disk now" in d.said

    walk(tmp_path, act, context=context, path=path)
    assert len(context.library.read(path).session.stages[0].corners) == 2


# ---- the form ----


def test_a_fact_is_stated_by_typing_and_enter(tmp_path: Path) -> None:
    """One event, text kept as typed; the next line is in hand."""

    async def act(d: Driver) -> None:
        await d.press("f4")
        assert "Wheelbase" in d.said
        assert "no tilt, no beam" in d.said
        await d.key_in("119 in")
        assert d.session.vehicle.wheelbase_mm == pytest.approx(119 * 25.4)
        assert d.stated("vehicle.wheelbase") == ["119 in"]
        assert "Wheelbase" not in d.said

    walk(tmp_path, act, facts={})


def test_enter_alone_states_nothing(tmp_path: Path) -> None:
    """Going through the whole form with Enter leaves the session as it was."""

    async def act(d: Driver) -> None:
        await d.press("f4")
        before = d.events
        await d.key_in(*[""] * 70)
        assert d.events == before
        assert d.page == "FactsScreen"

    walk(tmp_path, act)


def test_typing_what_stands_there_states_nothing(tmp_path: Path) -> None:
    """Only what changes becomes an event."""

    async def act(d: Driver) -> None:
        await d.press("f4", "up", "up", "up")
        assert "Wheelbase" in d.said
        before = d.events
        await d.key_in("119 in")
        assert d.events == before

    walk(tmp_path, act)


@pytest.mark.parametrize("text", ["abc", "119 psi", "-5 in", "12,5,6", "9e9"])
def test_a_refused_fact_stays_with_its_reason(tmp_path: Path, text: str) -> None:
    """Nothing is stated, and the line stays in hand."""

    async def act(d: Driver) -> None:
        await d.press("f4")
        await d.key_in(text)
        assert d.stated("vehicle.wheelbase") == []
        assert "Wheelbase" in d.said

    walk(tmp_path, act, facts={})


def test_a_choice_is_made_by_number(tmp_path: Path) -> None:
    """The number pad is enough for a choice."""

    async def act(d: Driver) -> None:
        await d.press("f4")
        while "Headlamp levelling" not in d.said:
            await d.press("down")
        await d.key_in("3")
        assert d.session.vehicle.levelling == "automatic"

    walk(tmp_path, act, facts={})


def test_the_tongue_load_needs_the_ball_only_once(tmp_path: Path) -> None:
    """With the ball's place stated, a weight alone is a load."""

    async def act(d: Driver) -> None:
        await d.press("f4", "pagedown", "pagedown", "pagedown")
        while "Tongue load" not in d.said:
            await d.press("down")
        await d.key_in("410 lb")
        loads = [e.what for e in d.events if isinstance(e.what, LoadStated)]
        assert [load.name for load in loads] == ["trailer tongue"]
        assert loads[0].ahead_mm == pytest.approx(-46 * 25.4)

    walk(tmp_path, act, facts={"vehicle.ball_overhang": "46 in"})


def test_a_value_is_taken_back(tmp_path: Path) -> None:
    """F7 makes an event that takes it back, and undo brings it again."""

    async def act(d: Driver) -> None:
        await d.press("f4", "up", "up", "up", "f7")
        assert d.session.vehicle.wheelbase_mm is None
        assert d.events[-1].what == FactStated(name="vehicle.wheelbase", entered="", value=None)
        await d.press("f2")
        assert d.session.vehicle.wheelbase_mm is not None

    walk(tmp_path, act)


def test_the_datum_cannot_change_once_heights_are_read(tmp_path: Path) -> None:
    """One session uses one kind of height."""

    async def act(d: Driver) -> None:
        await d.key_in("28 5/8")
        await d.press("f4", "pageup", "pageup", "pageup")
        while "Heights measured from" not in d.said:
            await d.press("down")
        await d.key_in("2")
        assert d.session.job.datum == "ground to arch lip"
        assert "read already" in d.said

    walk(tmp_path, act)


def test_every_fact_of_the_register_has_a_line(tmp_path: Path) -> None:
    """The form is made from the register: nothing can be forgotten in it."""
    from cornerwalk.session.facts import FACTS

    context = context_of(tmp_path)
    session = context.library.read(new_session(context)).session
    names = [field.name for section in SECTIONS for field in fields_of(session, section)]
    assert set(FACTS) <= set(names)
    assert len(names) == len(set(names))


def test_a_missing_fact_changes_the_walk_at_once(tmp_path: Path) -> None:
    """State the wheelbase in the middle of the walk, and the tilt is there on coming back."""

    async def act(d: Driver) -> None:
        await d.key_in(*UNLOADED, "", *LOADED)
        assert "needs the wheelbase" in d.text
        await d.press("f4")
        await d.key_in("119 in")
        await d.press("escape")
        assert d.page == "WalkScreen"
        assert "nose up 0.86° ± 0.05" in d.text

    walk(tmp_path, act, facts={})


# ---- results and help ----


def test_five_pages_of_results(tmp_path: Path) -> None:
    """Numbers and arrows turn them; Esc leads back to the walk."""

    async def act(d: Driver) -> None:
        await d.key_in(*UNLOADED, "", *LOADED)
        await d.press("f5")
        for key, words in (
            ("1", "Findings"),
            ("2", "What the heights came to"),
            ("3", "Loads"),
            ("4", "Checks"),
            ("5", "How sure"),
        ):
            await d.press(key)
            assert words in d.text
        await d.press("right")
        assert "Findings" in d.text
        await d.press("escape")
        assert d.page == "WalkScreen"

    walk(tmp_path, act)


def test_undo_works_on_the_results(tmp_path: Path) -> None:
    """The figures follow, and what was taken back is said at the foot."""

    async def act(d: Driver) -> None:
        await d.key_in(*UNLOADED, "", *LOADED)
        await d.press("f5", "f2")
        assert "Taken back" in d.text
        assert not d.session.stages[1].complete

    walk(tmp_path, act)


def test_help_names_every_key_of_the_page(tmp_path: Path) -> None:
    """The page is made from the one table."""
    from cornerwalk.tui.keys import keys_of

    async def act(d: Driver) -> None:
        await d.press("f1")
        text = d.text
        assert d.page == "HelpScreen"
        for key in keys_of("walk"):
            assert key.what in text
        await d.press("f1")
        assert d.page == "HelpScreen"
        await d.press("escape")
        assert d.page == "WalkScreen"

    walk(tmp_path, act, size=(100, 90))


def test_the_palette_knows_every_key(tmp_path: Path) -> None:
    """Every command of the page can be found by name."""

    async def act(d: Driver) -> None:
        commands = [command.title for command in d.app.get_system_commands(d.app.screen)]
        for label in ("undo", "redo", "results", "vehicle", "note", "skip", "average", "quit", "help"):
            assert label in commands

    walk(tmp_path, act)


def test_a_command_of_the_palette_is_done_on_the_page_below(tmp_path: Path) -> None:
    """Undo by name is undo."""

    async def act(d: Driver) -> None:
        await d.key_in("28 5/8")
        await d.press("ctrl+p")
        await d.pilot.pause(0.2)
        await d.type("undo")
        await d.pilot.pause(0.4)
        await d.press("enter")
        await d.pilot.pause(0.2)
        assert d.page == "WalkScreen"
        assert d.session.stages[0].corners == {}

    walk(tmp_path, act)


def test_keys_can_be_remapped_by_their_id(tmp_path: Path) -> None:
    """What the settings say under `keys` takes the place of the key in the table."""

    async def act(d: Driver) -> None:
        await d.key_in("28 5/8")
        await d.press("ctrl+u")
        await d.press("ctrl+b")
        assert d.session.stages == () or not d.session.stages[0].corners

    walk(tmp_path, act, settings={"keys": {"job.undo": "ctrl+b"}})


# ---- leaving, crashing, sizes ----


@pytest.mark.parametrize("key", ["ctrl+c", "ctrl+q"])
def test_leaving_closes_the_file(tmp_path: Path, key: str) -> None:
    """Everything is kept, the exit status is 0, and another program can open the job."""
    context = context_of(tmp_path)
    path = new_session(context)

    async def run() -> None:
        async with driven(context, Walk(path)) as d:
            await d.key_in("28 5/8")
            await d.press(key)
            assert d.app.return_code == 0

    asyncio.run(run())
    with context.library.open(path) as again:
        assert len(again.session.stages[0].corners) == 1


def test_a_crash_is_told_in_plain_words_and_written_down(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
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
            monkeypatch.setattr("cornerwalk.tui.screens.walk.say_back", broken)
            await driver.type("2")

    app = CornerwalkApp(lambda: (context, Walk(path)))
    with pytest.raises(Crash):
        asyncio.run(crash(app))
    assert app.return_code == 1
    (report,) = (tmp_path / "sessions").glob("crash-*.txt")
    assert "an invented mistake" in report.read_text("utf-8")
    told = Crash(RuntimeError("x"), context, path).lines
    assert str(path) in told[1]
    assert all("Traceback" not in line for line in told)
    assert len(context.library.read(path).session.stages[0].corners) == 1


SIZES = [(20, 5), (36, 10), (40, 24), (60, 20), (79, 23), (120, 40), (300, 4)]


@pytest.mark.parametrize("keys", [(), ("f4",), ("f5",), ("f5", "2"), ("f1",), ("f3",), ("f8",), ("f7",)])
def test_every_page_stands_every_size(tmp_path: Path, keys: tuple[str, ...]) -> None:
    """No size of window brings a traceback, and the page is there again when the window is large."""

    async def act(d: Driver) -> None:
        await d.key_in(*UNLOADED, "", *LOADED[:2])
        await d.press(*keys)
        before = d.text
        for size in SIZES:
            await d.resize(*size)
            assert d.text.strip()
        await d.resize(80, 24)
        assert d.text == before

    walk(tmp_path, act)


def test_a_window_that_is_too_small_says_so(tmp_path: Path) -> None:
    """What to do is said in words; keys still work."""

    async def act(d: Driver) -> None:
        assert "Make the window" in " ".join(d.text.split())
        await d.key_in("28 5/8")
        assert len(d.readings) == 1
        await d.resize(80, 24)
        await d.key_in("28 11/16")
        assert len(d.readings) == 2

    walk(tmp_path, act, size=(24, 6))


def test_an_odd_library_folder_is_no_traceback(tmp_path: Path) -> None:
    """A file where the folder should be: the start page says so and stays."""
    context = context_of(tmp_path)
    shutil.rmtree(tmp_path / "sessions", ignore_errors=True)
    (tmp_path / "sessions").write_text("no folder", "utf-8")

    async def act(d: Driver) -> None:
        assert d.page == "StartScreen"
        await d.press("1", "enter")
        assert d.page in ("NewJobScreen", "WalkScreen")
        assert "NOT ON DISK" in d.text or "cannot" in d.text

    start(context, act)
