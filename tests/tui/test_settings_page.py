"""The settings page: by keys, mouse and finger, in every size; in the file before it is called kept."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

import pytest

from cornerwalk.context import SettingsView
from cornerwalk.settings import SETTINGS, SettingsError, load_settings
from tests.tui.driving import Driver, context_of, driven, start, walk


@asynccontextmanager
async def settings_page(folder: Path, *, size: tuple[int, int] = (80, 24), **settings: Any) -> AsyncIterator[Driver]:
    """The app on the page, on a machine of its own."""
    async with driven(context_of(folder, **settings), SettingsView(), size=size) as driver:
        assert driver.page == "SettingsScreen"
        yield driver


def at(name: str) -> list[str]:
    """The keys that lead from the first setting to this one."""
    return ["down"] * [setting.name for setting in SETTINGS].index(name)


async def test_ways_to_the_settings(tmp_path: Path) -> None:
    """From the start page by number, from a job by its key and by the palette's command; Esc leads back."""
    async with start(context_of(tmp_path / "start")) as d:
        await d.press("4")
        assert d.page == "SettingsScreen"
        await d.press("escape")
        assert d.page == "StartScreen"
    async with walk(tmp_path / "job") as d:
        await d.press("f11")
        assert d.page == "SettingsScreen"
        await d.press("escape")
        assert d.page == "WalkScreen"
        assert "settings" in [command.title for command in d.app.get_system_commands(d.app.screen)]


async def test_a_text_is_in_the_file_before_it_is_called_kept(tmp_path: Path) -> None:
    """Typed, Enter: the file has it, and the page says so and when it holds."""
    async with settings_page(tmp_path, size=(120, 40)) as d:
        await d.press(*at("side_to_side"))
        await d.type("14 mm")
        await d.press("enter")
        assert load_settings(d.app.context.active_settings.path).side_to_side == "14 mm"
        assert "Kept: one side higher than the other, 14 mm." in " ".join(d.text.split())


async def test_a_choice_is_one_key_and_holds_at_once(tmp_path: Path) -> None:
    """The look changes as the digit is pressed; undo and redo change it, and the file, back and again."""
    async with settings_page(tmp_path) as d:
        path = d.app.context.active_settings.path
        await d.press(*at("theme"), "3")
        assert (d.app.theme, load_settings(path).theme) == ("night", "night")
        await d.press("f2")
        assert (d.app.theme, load_settings(path).theme) == ("day", "day")
        await d.press("shift+f2")
        assert (d.app.theme, load_settings(path).theme) == ("night", "night")
        await d.press("f7")
        assert (d.app.theme, load_settings(path).theme) == ("day", "day")


async def test_a_wrong_text_is_refused_with_its_reason_and_stays(tmp_path: Path) -> None:
    """Nothing is written; what was typed can be mended."""
    async with settings_page(tmp_path) as d:
        await d.press(*at("side_to_side"))
        await d.type("14 kg")
        await d.press("enter")
        assert "the unit kg does not fit here" in d.text
        assert "14 kg" in d.text
        assert not d.app.context.active_settings.path.exists()


async def test_a_file_with_a_mistake_is_not_written_over(tmp_path: Path) -> None:
    """The page says which line is wrong, and changes nothing until its owner has mended it."""
    context = context_of(tmp_path)
    context.active_settings.path.write_text('theme = "dusk"\n', encoding="utf-8")
    with pytest.raises(SettingsError) as caught:
        load_settings(context.active_settings.path)
    context.active_settings.problem = caught.value
    async with driven(context, SettingsView()) as d:
        assert "line 1: theme" in " ".join(d.text.split())
        await d.press(*at("theme"), "3")
        assert d.app.theme == "day"
        assert context.active_settings.path.read_text("utf-8") == 'theme = "dusk"\n'
        context.active_settings.path.write_text('theme = "shop"\n', encoding="utf-8")
        await d.press("3")
        assert d.app.theme == load_settings(context.active_settings.path).theme == "night"


async def test_another_key_holds_at_once_and_a_taken_one_is_refused(tmp_path: Path) -> None:
    """On the page of a job below, without a new start; the footer there shows it."""
    async with walk(tmp_path, size=(160, 50)) as d:
        await d.key_in("28 5/8")
        await d.press("f11")
        names = [line.name for line in d.app.screen._lines]  # type: ignore[attr-defined]
        await d.press(*["down"] * names.index("keys.job.undo"))
        await d.type("F8")
        assert "F8 is taken already" in " ".join(d.text.split())
        await d.press("enter", "escape")
        await d.type("Ctrl+X")
        await d.press("enter")
        assert load_settings(d.app.context.active_settings.path).keys == {"job.undo": "Ctrl+X"}
        await d.press("escape")
        assert d.page == "WalkScreen"
        assert "Ctrl+X undo" in d.text
        await d.press("ctrl+x")
        assert not any(stage.corners for stage in d.session.stages)


async def test_units_hold_at_once_in_the_open_job(tmp_path: Path) -> None:
    """Figures of the job below are said in the new units when the page is left."""
    async with walk(tmp_path) as d:
        await d.press("f11", "3", "escape")
        assert d.app.job is not None
        assert d.app.job.wording.units == "metric"


async def test_units_of_one_run_are_told_and_not_kept(tmp_path: Path) -> None:
    """`--units` stands beside the setting as what it is, and a change of another setting does not write it."""
    async with settings_page(tmp_path, size=(120, 40)) as d:
        d.app.context.active_settings.overrides["units"] = "metric"
        await d.press("down", "up")
        assert "This run was started with metric" in " ".join(d.text.split())
        await d.press(*at("theme"), "2")
        assert load_settings(d.app.context.active_settings.path).units == "as read"


async def test_initials_stand_beside_what_the_next_job_records(tmp_path: Path) -> None:
    """A job opened after the change is recorded in the new name."""
    async with settings_page(tmp_path) as d:
        await d.press("down")
        await d.type("AB")
        await d.press("enter", "escape", "1", "enter")
        assert d.page == "WalkScreen"
        await d.key_in("28 5/8")
        assert {event.by for event in d.events} == {"AB"}


async def test_by_mouse_or_finger(tmp_path: Path) -> None:
    """A line of the list, a choice, and a key at the foot are each one click."""
    async with settings_page(tmp_path, size=(120, 50)) as d:
        lines = d.text.splitlines()
        row = next(n for n, line in enumerate(lines) if "look" in line and "day" in line)
        await d.pilot.click(offset=(lines[row].rindex("look") + 1, row))
        await d.press()
        lines = d.text.splitlines()
        row, column = next((n, line.index(" 3  night")) for n, line in enumerate(lines) if " 3  night" in line)
        await d.pilot.click(offset=(column + 4, row))
        await d.press()
        assert d.app.theme == "night"
        foot = d.text.splitlines()[-1]
        await d.pilot.click("Foot", offset=(foot.index("F2 undo") + 1, 0))
        await d.press()
        assert d.app.theme == "day"


@pytest.mark.parametrize("size", [(200, 60), (80, 24), (60, 20), (40, 10)])
async def test_every_setting_can_be_seen_and_kept_in_every_size(tmp_path: Path, size: tuple[int, int]) -> None:
    """The name of the one in hand is on the screen, and so is what is said when it was kept."""
    async with settings_page(tmp_path, size=size) as d:
        for setting in SETTINGS:
            assert setting.label[:9].casefold() in d.text.casefold(), setting.name
            await d.press("down")
        await d.press(*["up"] * len(SETTINGS), *at("theme"), "2")
        assert "Kept: look, shop." in " ".join(d.text.split())


async def test_help_is_about_the_setting_in_hand(tmp_path: Path) -> None:
    """F1 says first what this one does, what holds without it, and where the file lies."""
    async with settings_page(tmp_path, size=(160, 50)) as d:
        await d.press(*at("allowed_loss"), "f1")
        text = " ".join(d.text.split())
        assert text.index("air loss allowed in a day: More pressure lost than this in 24 hours is a leak.") < 200
        assert "2 psi (common practice, no source)" in text
        assert "settings.toml" in text


async def test_the_setting_in_hand_stays_in_sight(tmp_path: Path) -> None:
    """Also where the window became smaller while the help lay over the page."""
    async with settings_page(tmp_path) as d:
        await d.press(*["pagedown"] * 9, "f1")
        await d.resize(60, 20)
        await d.press("escape")
        marked = next((line for line in d.text.splitlines()[12:] if "▸" in line), "")
        assert d.app.screen.line.label[:20] in marked  # type: ignore[attr-defined]
