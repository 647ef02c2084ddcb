"""The form for facts, the results, the help and the palette."""

from __future__ import annotations

from pathlib import Path

import pytest

from cornerwalk.job.form import SECTIONS, fields_of
from cornerwalk.session.events import FactStated, LoadStated
from cornerwalk.session.facts import FACTS
from tests.tui.driving import LOADED, UNLOADED, context_of, new_session, walk


async def test_a_fact_is_stated_by_typing_and_enter(tmp_path: Path) -> None:
    """One event, text kept as typed; the next line is in hand."""
    async with walk(tmp_path, facts={}) as d:
        await d.press("f4")
        assert "Wheelbase" in d.said
        assert "no tilt, no beam" in d.said
        await d.key_in("119 in")
        assert d.session.vehicle.wheelbase_mm == pytest.approx(119 * 25.4)
        assert d.stated("vehicle.wheelbase") == ["119 in"]
        assert "Wheelbase" not in d.said


async def test_enter_alone_states_nothing(tmp_path: Path) -> None:
    """Going through the whole form with Enter leaves the session as it was."""
    async with walk(tmp_path) as d:
        await d.press("f4")
        before = d.events
        await d.key_in(*[""] * 70)
        assert d.events == before
        assert d.page == "FactsScreen"


async def test_typing_what_stands_there_states_nothing(tmp_path: Path) -> None:
    """Only what changes becomes an event."""
    async with walk(tmp_path) as d:
        await d.press("f4", "up", "up", "up")
        assert "Wheelbase" in d.said
        before = d.events
        await d.key_in("119 in")
        assert d.events == before


@pytest.mark.parametrize("text", ["abc", "119 psi", "-5 in", "12,5,6", "9e9"])
async def test_a_refused_fact_stays_with_its_reason(tmp_path: Path, text: str) -> None:
    """Nothing is stated, and the line stays in hand."""
    async with walk(tmp_path, facts={}) as d:
        await d.press("f4")
        await d.key_in(text)
        assert d.stated("vehicle.wheelbase") == []
        assert "Wheelbase" in d.said


async def test_a_choice_is_made_by_number(tmp_path: Path) -> None:
    """The number pad is enough for a choice."""
    async with walk(tmp_path, facts={}) as d:
        await d.press("f4")
        while "Headlamp levelling" not in d.said:
            await d.press("down")
        await d.key_in("3")
        assert d.session.vehicle.levelling == "automatic"


async def test_the_tongue_load_needs_the_ball_only_once(tmp_path: Path) -> None:
    """With the ball's place stated, a weight alone is a load."""
    async with walk(tmp_path, facts={"vehicle.ball_overhang": "46 in"}) as d:
        await d.press("f4", "pagedown", "pagedown", "pagedown")
        while "Tongue load" not in d.said:
            await d.press("down")
        await d.key_in("410 lb")
        loads = [e.payload for e in d.events if isinstance(e.payload, LoadStated)]
        assert [load.name for load in loads] == ["trailer tongue"]
        assert loads[0].ahead_mm == pytest.approx(-46 * 25.4)


async def test_a_value_is_taken_back(tmp_path: Path) -> None:
    """F7 makes an event that takes it back, and undo brings it again."""
    async with walk(tmp_path) as d:
        await d.press("f4", "up", "up", "up", "f7")
        assert d.session.vehicle.wheelbase_mm is None
        assert d.events[-1].payload == FactStated(name="vehicle.wheelbase", entered="", value=None)
        await d.press("f2")
        assert d.session.vehicle.wheelbase_mm is not None


async def test_the_datum_cannot_change_once_heights_are_read(tmp_path: Path) -> None:
    """One session uses one kind of height."""
    async with walk(tmp_path) as d:
        await d.key_in("28 5/8")
        await d.press("f4", "pageup", "pageup", "pageup")
        while "Heights measured from" not in d.said:
            await d.press("down")
        await d.key_in("2")
        assert d.session.job.datum == "ground to arch lip"
        assert "read already" in d.said


def test_every_fact_of_the_register_has_a_line(tmp_path: Path) -> None:
    """The form is made from the register: nothing can be forgotten in it."""
    context = context_of(tmp_path)
    session = context.library.read(new_session(context)).session
    names = [field.name for section in SECTIONS for field in fields_of(session, section)]
    assert set(FACTS) <= set(names)
    assert len(names) == len(set(names))


async def test_a_missing_fact_changes_the_walk_at_once(tmp_path: Path) -> None:
    """State the wheelbase in the middle of the walk, and the tilt is there on coming back."""
    async with walk(tmp_path, facts={}) as d:
        await d.key_in(*UNLOADED, "", *LOADED)
        assert "needs the wheelbase" in d.text
        await d.press("f4")
        await d.key_in("119 in")
        await d.press("escape")
        assert d.page == "WalkScreen"
        assert "nose up 0.86° ± 0.05" in d.text


async def test_five_pages_of_results(tmp_path: Path) -> None:
    """Numbers and arrows turn them; Esc leads back to the walk."""
    async with walk(tmp_path) as d:
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


async def test_undo_works_on_the_results(tmp_path: Path) -> None:
    """The figures follow, and what was taken back is said at the foot."""
    async with walk(tmp_path) as d:
        await d.key_in(*UNLOADED, "", *LOADED)
        await d.press("f5", "f2")
        assert "Taken back" in d.text
        assert not d.session.stages[1].complete


async def test_help_names_every_key_of_the_page(tmp_path: Path) -> None:
    """The page is made from the one table."""
    from cornerwalk.tui.keys import keys_of

    async with walk(tmp_path, size=(100, 90)) as d:
        await d.press("f1")
        text = d.text
        assert d.page == "HelpScreen"
        for key in keys_of("walk"):
            assert key.what in text
        await d.press("f1")
        assert d.page == "HelpScreen"
        await d.press("escape")
        assert d.page == "WalkScreen"


async def test_the_palette_knows_every_key(tmp_path: Path) -> None:
    """Every command of the page can be found by name."""
    async with walk(tmp_path) as d:
        commands = [command.title for command in d.app.get_system_commands(d.app.screen)]
        for label in ("undo", "redo", "results", "vehicle", "note", "skip", "average", "quit", "help"):
            assert label in commands


async def test_a_command_of_the_palette_is_done_on_the_page_below(tmp_path: Path) -> None:
    """Undo by name is undo."""
    async with walk(tmp_path) as d:
        await d.key_in("28 5/8")
        await d.press("ctrl+p")
        await d.pilot.pause(0.2)
        await d.type("undo")
        await d.pilot.pause(0.4)
        await d.press("enter")
        await d.pilot.pause(0.2)
        assert d.page == "WalkScreen"
        assert d.session.stages[0].corners == {}


async def test_keys_can_be_remapped_by_their_id(tmp_path: Path) -> None:
    """What the settings say under `keys` takes the place of the key in the table."""
    async with walk(tmp_path, settings={"keys": {"job.undo": "ctrl+b"}}) as d:
        await d.key_in("28 5/8")
        await d.press("ctrl+u")
        await d.press("ctrl+b")
        assert d.session.stages == () or not d.session.stages[0].corners
