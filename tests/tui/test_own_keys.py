"""A user's own keys: taken, shown wherever a key is shown, and refused with a sentence where they cannot work."""

from __future__ import annotations

from pathlib import Path

import pytest

from cornerwalk.tui.keys import BY_ID, TABLE, shown
from cornerwalk.tui.own_keys import key_names, key_shown, mistakes, use_keys
from tests.tui.driving import walk


@pytest.mark.parametrize("key", [key for key in TABLE if key.keys], ids=lambda key: key.id)
def test_keys_are_understood_as_they_are_shown(key) -> None:  # type: ignore[no-untyped-def]
    """What the help shows can be written into the settings, for every key of the table."""
    assert key_names(", ".join(shown(name) for name in key.keys.split(","))) == key.keys


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("F8", "f8"),
        ("f8 , Ctrl+O", "f8,ctrl+o"),
        ("Shift+Ctrl+Left", "ctrl+shift+left"),
        ("?", "question_mark"),
        ("Ctrl++", "ctrl+plus"),
        ("PgUp", "pageup"),
    ],
)
def test_names_of_keys(written: str, meant: str) -> None:
    """As people write them, in the names of the screen library."""
    assert key_names(written) == meant


@pytest.mark.parametrize(
    ("own", "told"),
    [
        ({"job.undo": "Ctrl+X"}, []),
        ({"job.undo": "f8", "walk.stage": "f2"}, []),
        ({"replay.play": "x"}, []),
        ({"job.air": "Ctrl+R"}, []),
        ({"form.take-back": "f7, Ctrl+X"}, []),
        ({"job.undo": "f7"}, [
            "F7 is taken already (skip this corner, with a reason); give walk.skip another key first"]),
        ({"job.note": "f8"}, ["there is no action job.note; did you mean job.redo?"]),
        ({"job.undo": "F99"}, ['there is no key "F99"; write for example F8, Ctrl+O or Shift+F3']),
        ({"job.undo": "x"}, ["x is needed for typing there; take an F key or one with Ctrl"]),
        ({"walk.note": "Home"}, ["Home is needed for typing there; take an F key or one with Ctrl"]),
        ({"job.undo": "Ctrl+M"}, ["Ctrl+M cannot be told from Enter in a terminal"]),
        ({"walk.enter": "f5"}, ["Enter cannot be given another key"]),
        ({"job.results": "ctrl+x", "walk.note": "ctrl+x"}, [
            "Ctrl+X is taken already (write a note about this corner); give walk.note another key first",
            "Ctrl+X is taken already (what all readings mean); give job.results another key first"]),
    ],
)  # fmt: skip
def test_what_is_wrong_with_a_key(own: dict[str, str], told: list[str]) -> None:
    """Conflicts on a page, keys a terminal cannot send, keys that typing needs, names that are none."""
    found = [mistake.template.format(**mistake.fields) for mistake in mistakes(own)]
    assert [text.split("; did you mean")[0] for text in found] == [text.split("; did you mean")[0] for text in told]


def test_the_keys_of_the_table_are_right_as_own_ones() -> None:
    """Writing a key that an action has anyway is no mistake."""
    for key in TABLE:
        if key.keys and not key.id.endswith(".enter") and "enter" not in key.keys:
            assert list(mistakes({key.id: key.keys})) == [], key.id


async def test_an_own_key_works_and_is_shown_everywhere(tmp_path: Path) -> None:
    """Footer, help, palette and the sentence that names it; the key of the table does nothing any more."""
    async with walk(tmp_path, size=(120, 60), settings={"keys": {"job.undo": "Ctrl+X", "job.redo": "Ctrl+L"}}) as d:
        await d.key_in("28 5/8")
        assert "Ctrl+X undo" in d.text
        assert "F2 undo" not in d.text
        await d.press("f2")
        assert d.session.stages
        await d.press("ctrl+x")
        assert not any(stage.corners for stage in d.session.stages)
        assert "Ctrl+L brings it" in d.text
        await d.press("ctrl+l")
        assert any(stage.corners for stage in d.session.stages)
        await d.press("f1")
        assert "Ctrl+X" in d.text
        assert "Ctrl+Z" not in d.text
        await d.press("escape")
        palette = {command.title: command.help for command in d.app.get_system_commands(d.app.screen)}
        assert palette["undo"].endswith("(Ctrl+X)")


async def test_an_action_without_a_key_can_have_one(tmp_path: Path) -> None:
    """What only the palette had is then a key away, with the sentences that lead there."""
    async with walk(tmp_path, settings={"keys": {"job.air": "ctrl+r"}}) as d:
        await d.press("ctrl+r")
        assert d.page == "AirScreen"


def test_sentences_name_the_keys_in_force() -> None:
    """And for an action without one, the key of the palette."""
    use_keys({"job.results": "Ctrl+E"})
    assert key_shown("job.results") == "Ctrl+E"
    use_keys({})
    assert key_shown("job.results") == "F5"
    assert key_shown("job.air") == shown(BY_ID["app.palette"].first)
