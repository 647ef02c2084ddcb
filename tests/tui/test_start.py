"""The start page: a new job, the unfinished one, an earlier one, the sample, and files that cannot simply be opened."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from cornerwalk.store import Disk, Library
from tests.tui.driving import context_of, new_session, start, walk


async def test_cold_start_to_first_reading(tmp_path: Path) -> None:
    """Two keys from the start page to the first corner; the job then is in the library."""
    context = context_of(tmp_path)
    async with start(context) as d:
        assert d.page == "StartScreen"
        await d.press("1")
        await d.press("enter")
        assert d.page == "WalkScreen"
        await d.key_in("28 5/8")
        assert d.readings == [("unloaded", 1, "LF", "28 5/8")]
    assert [s.readings for s in context.library.summaries()] == [1]


async def test_a_preset_costs_one_more_key(tmp_path: Path) -> None:
    """Fewer than ten keys from a cold start to the first reading of a vehicle that is known."""
    context = context_of(tmp_path)
    context.presets_folder.mkdir()
    (context.presets_folder / "Van.toml").write_text('unit = "inch"\n[vehicle]\nwheelbase = "119 in"\n', "utf-8")
    async with start(context) as d:
        await d.press("1", "pagedown", "enter")
        assert d.session.vehicle.wheelbase_mm == pytest.approx(119 * 25.4)


async def test_a_broken_preset_makes_no_job(tmp_path: Path) -> None:
    """The line that is wrong is told, and nothing is made."""
    context = context_of(tmp_path)
    context.presets_folder.mkdir()
    (context.presets_folder / "Van.toml").write_text('unit = "inch"\n[vehicle]\nwheelbse = "119 in"\n', "utf-8")
    async with start(context) as d:
        await d.press("1", "pagedown", "enter")
        assert d.page == "NewJobScreen"
        assert "wheelbse" in d.text
    assert context.library.summaries() == []


async def test_kind_and_name_of_a_new_job(tmp_path: Path) -> None:
    """Arrows choose the kind while the name is typed."""
    context = context_of(tmp_path)
    async with start(context) as d:
        await d.press("1")
        await d.type("Ann")
        await d.press("down", "down", "enter")
        assert d.session.job.kind == "load check"
        assert d.session.job.title == "Ann"


async def test_settings_go_into_a_new_job(tmp_path: Path) -> None:
    """What the technician has set once is stated in every new job."""
    context = context_of(tmp_path, units="metric", start_corner="RR")
    async with start(context) as d:
        await d.press("1", "enter")
        assert d.session.job.unit == "mm"
        assert "Right rear" in d.said


async def test_the_unfinished_job_is_one_enter_away(tmp_path: Path) -> None:
    """The start page offers it first, and the walk goes on at the same corner."""
    context = context_of(tmp_path)
    path = new_session(context)
    async with walk(tmp_path, context=context, path=path) as d:
        await d.key_in("28 5/8")
    async with start(context) as d:
        assert "Go on with Box trailer, Tuesday" in d.text
        await d.press("enter")
        assert "Right front" in d.said


async def test_a_job_that_was_left_is_gone_on_with(tmp_path: Path) -> None:
    """Esc leads back to the start page, Enter to the same corner: the program does not lock itself out."""
    async with start(context_of(tmp_path)) as d:
        await d.press("1", "enter")
        await d.key_in("28 5/8")
        await d.press("escape")
        assert d.page == "StartScreen"
        await d.press("enter")
        assert d.page == "WalkScreen"
        assert "Right front" in d.said
        await d.key_in("28 11/16")
        assert len(d.readings) == 2


async def test_esc_from_a_walk_that_was_opened_directly_leads_to_the_start(tmp_path: Path) -> None:
    """Nobody leaves the program by pressing Esc once too often; from the start page it does."""
    async with walk(tmp_path) as d:
        await d.press("escape")
        assert d.page == "StartScreen"
        await d.press("enter")
        assert d.page == "WalkScreen"
        await d.press("escape", "escape")
        assert d.app.return_code == 0


async def test_an_earlier_job_is_opened_from_the_list(tmp_path: Path) -> None:
    """The list shows name and state; Enter opens."""
    context = context_of(tmp_path)
    new_session(context)
    async with start(context) as d:
        await d.press("3")
        assert d.page == "LibraryScreen"
        await d.press("enter")
        assert d.page == "WalkScreen"


async def test_the_sample_leaves_nothing_behind(tmp_path: Path) -> None:
    """It opens as a job, and the library of the user stays empty."""
    context = context_of(tmp_path)
    async with start(context) as d:
        await d.press("3")
        assert d.page == "WalkScreen"
        await d.press("f3")
        await d.key_in("a note")
    assert context.library.summaries() == []


async def test_a_job_that_is_open_elsewhere_can_be_looked_at(tmp_path: Path) -> None:
    """Who has it is said; looking on writes nothing."""
    context = context_of(tmp_path)
    path = new_session(context)
    with context.library.open(path):
        async with walk(tmp_path, context=context_of(tmp_path), path=path) as d:
            assert d.page == "HinderedScreen"
            assert "open in another program" in d.text
            await d.press("1")
            assert d.page == "WalkScreen"
            assert "read only" in d.text
            await d.key_in("28 5/8")
            assert d.readings == []
            assert "only followed" in d.said


async def test_a_damaged_job_is_gone_on_with_in_a_new_file(tmp_path: Path) -> None:
    """What can be read is offered, the damaged file stays as it is."""
    context = context_of(tmp_path)
    path = new_session(context)
    text = path.read_bytes()
    path.write_bytes(text[: len(text) * 2 // 3])
    damaged = path.read_bytes()
    async with walk(tmp_path, context=context, path=path) as d:
        assert d.page == "HinderedScreen"
        await d.press("1")
        assert d.page == "WalkScreen"
        await d.key_in("28 5/8")
        assert d.app.job is not None
        assert d.app.job.file.path != path
    assert path.read_bytes() == damaged


async def test_a_file_that_is_gone_is_said_so(tmp_path: Path) -> None:
    """No traceback, a way back."""
    async with walk(tmp_path, path=tmp_path / "missing.json") as d:
        assert d.page == "HinderedScreen"
        assert "missing.json" in d.text


class _FullDisk(Disk):
    """A disk that takes nothing while it is full."""

    full = True

    def fsync(self, *arguments: Any) -> None:
        """Fail as a full disk does."""
        if self.full:
            raise OSError(28, "No space left on device")
        super().fsync(*arguments)


async def test_not_on_disk_is_loud_and_readings_go_on(tmp_path: Path) -> None:
    """Nothing is called kept that is not; what was read meanwhile is written as soon as it can be."""
    disk = _FullDisk()
    disk.full = False
    context = context_of(tmp_path)
    context = type(context)(
        **{name: getattr(context, name) for name in context.__slots__ if name != "library"},
        library=Library(tmp_path / "sessions", clock=context.clock, by="MT", disk=disk),
    )
    path = new_session(context)
    async with walk(tmp_path, context=context, path=path) as d:
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
    assert len(context.library.read(path).session.stages[0].corners) == 2
