"""F1 says first what the field one is in means, wherever something is typed."""

from __future__ import annotations

from pathlib import Path

from cornerwalk.session.facts import FACTS
from tests.tui.driving import Driver, walk


async def first_of_help(d: Driver) -> str:
    """The paragraph that stands first when F1 is pressed here; the help is closed again."""
    await d.press("f1")
    assert d.page == "HelpScreen"
    first = " ".join(d.text.split("\n", 3)[3].split())
    await d.press("escape")
    return first


def test_every_fact_has_a_sentence() -> None:
    """None is forgotten, and each is a sentence."""
    assert [fact.name for fact in FACTS.values() if not fact.help.endswith(".")] == []


async def test_the_help_of_the_walk_is_about_the_corner(tmp_path: Path) -> None:
    """Where the tape goes and what keeps the reading comparable; then what brings the next stage."""
    async with walk(tmp_path, size=(120, 40)) as d:
        await d.key_in("28 5/8")
        first = await first_of_help(d)
        assert first.startswith("Right front, unloaded: The tape straight up from the ground to the lip of the arch")
        await d.key_in("28 11/16", "29 3/16", "29 1/4")
        first = await first_of_help(d)
        assert first.startswith("Loaded, no air: Load the vehicle as it will be driven")


async def test_the_help_of_the_form_is_about_the_line(tmp_path: Path) -> None:
    """What the fact means, what leaving it out costs, and how it may be typed."""
    async with walk(tmp_path, size=(120, 40), facts={}) as d:
        await d.press("f4")
        first = await first_of_help(d)
        assert first.startswith("Wheelbase: From the middle of the front wheel to the middle of the rear wheel")
        assert "without it: no tilt, no beam, no axle loads" in first
        assert "for example 119 in" in first


async def test_the_help_of_a_chapter_is_about_the_question(tmp_path: Path) -> None:
    """Also where the question is none of the facts."""
    async with walk(tmp_path, size=(120, 40), facts={}) as d:
        await d.press("f9", "1")
        assert d.page == "chapter intake"
        asked = await first_of_help(d)
        assert asked.startswith("Customer: Whose vehicle it is.")
        await d.press("escape", "2")
        assert d.page == "chapter before"
        assert ": " in (await first_of_help(d))[:60]
