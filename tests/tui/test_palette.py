"""The palette: every action of the page below, found by its name or by what it does."""

from __future__ import annotations

from pathlib import Path

from cornerwalk.tui.keys import keys_of
from tests.tui.driving import context_of, start, walk


async def test_it_holds_every_action_of_the_page(tmp_path: Path) -> None:
    """None that has a key is missing, and none without one."""
    async with walk(tmp_path) as d:
        told = " ".join(f"{command.title} {command.help}" for command in d.app.get_system_commands(d.app.screen))
        for key in keys_of("walk", "job", "everywhere"):
            if key.id != "app.palette" and not key.id.endswith(".enter"):
                assert key.what in told, key.id


async def test_a_word_of_what_it_does_finds_a_command(tmp_path: Path) -> None:
    """Nobody has to know what a page is called: `trials` finds the air page."""
    async with walk(tmp_path) as d:
        await d.press("ctrl+p")
        await d.pilot.press(*"trials")
        await d.pilot.pause(0.3)
        await d.press("enter")
        await d.pilot.pause(0.3)
        assert d.page == "AirScreen"


async def test_the_choices_of_the_start_page_are_in_it(tmp_path: Path) -> None:
    """A new job by its name."""
    async with start(context_of(tmp_path)) as d:
        await d.press("ctrl+p")
        await d.pilot.press(*"new", "space", *"job")
        await d.pilot.pause(0.3)
        await d.press("enter")
        await d.pilot.pause(0.3)
        assert d.page == "NewJobScreen"
