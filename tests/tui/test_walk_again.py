"""Reading again: undo and redo, in place of what stands, averaged, skipped, with a note."""

from __future__ import annotations

from pathlib import Path

import pytest

from cornerwalk.session.events import CornerSkipped, NoteWritten, Undone
from tests.tui.driving import LOADED, UNLOADED, walk


async def test_undo_takes_back_and_redo_brings_again(tmp_path: Path) -> None:
    """Undo and redo are events; the corner is due again after one and not after the other."""
    async with walk(tmp_path) as d:
        await d.key_in(*UNLOADED[:2])
        await d.press("f2")
        assert "Right front" in d.said
        assert d.session.stages[0].corner("RF").readings == ()
        assert isinstance(d.events[-1].payload, Undone)
        await d.press("shift+f2")
        assert [r.entered for r in d.session.stages[0].corner("RF").readings] == [UNLOADED[1]]
        assert "Right rear" in d.said


async def test_undo_down_to_the_opening_and_no_further(tmp_path: Path) -> None:
    """Whatever is pressed how often, the job stays opened and the screen stays up."""
    async with walk(tmp_path) as d:
        await d.key_in(*UNLOADED)
        await d.press(*["f2"] * 30)
        assert d.session.stages == ()
        assert d.session.id == "test-session"
        assert "nothing left to take back" in d.said


async def test_any_corner_can_be_read_again_in_place_of_what_stands(tmp_path: Path) -> None:
    """Up to a read corner: what stands is said before Enter, and the new reading takes its place."""
    async with walk(tmp_path) as d:
        await d.key_in(*UNLOADED[:2])
        await d.press("up")
        assert "28 11/16 stands here" in d.said
        assert "takes its place" in d.said
        await d.key_in("28 3/4")
        assert [r.entered for r in d.session.stages[0].corner("RF").readings] == ["28 3/4"]
        assert "Right rear" in d.said


async def test_an_earlier_stage_can_be_read_again(tmp_path: Path) -> None:
    """Page up goes back a stage; after the correction the walk stands where it stood."""
    async with walk(tmp_path) as d:
        await d.key_in(*UNLOADED, "", LOADED[0])
        await d.press("pageup")
        assert "Right front" in d.said
        await d.key_in("28 3/4")
        assert [r.entered for r in d.session.stages[0].corner("RF").readings] == ["28 3/4"]
        assert "Right front" in d.said
        assert "loaded" in d.text


async def test_a_repeat_is_averaged(tmp_path: Path) -> None:
    """F6 takes the corner read last again and averages; F6 twice would replace."""
    async with walk(tmp_path) as d:
        await d.key_in("28 5/8")
        await d.press("f6")
        assert "averaged with it" in d.said
        await d.key_in("28 3/4")
        record = d.session.stages[0].corner("LF")
        assert [r.entered for r in record.readings] == ["28 5/8", "28 3/4"]
        assert record.mean_mm == pytest.approx(28.6875 * 25.4)
        assert "Right front" in d.said


async def test_f6_again_replaces_instead(tmp_path: Path) -> None:
    """The two ways to read a corner again are one key apart, and the screen says which is on."""
    async with walk(tmp_path) as d:
        await d.key_in("28 5/8")
        await d.press("f6", "f6")
        assert "takes its place" in d.said
        await d.key_in("28 3/4")
        assert [r.entered for r in d.session.stages[0].corner("LF").readings] == ["28 3/4"]


async def test_a_corner_is_skipped_with_a_reason(tmp_path: Path) -> None:
    """By number from the usual reasons, or in words; an empty reason is none."""
    async with walk(tmp_path) as d:
        await d.press("f7")
        await d.press("enter")
        assert d.session.stages == ()
        await d.key_in("1")
        await d.press("f7")
        await d.key_in("kerb in the way")
        skipped = [e.payload for e in d.events if isinstance(e.payload, CornerSkipped)]
        assert [(s.corner, s.reason) for s in skipped] == [("LF", "cannot be reached"), ("RF", "kerb in the way")]
        assert "Right rear" in d.said


async def test_a_note_puts_the_typed_text_by_and_brings_it_back(tmp_path: Path) -> None:
    """Half a reading survives a note."""
    async with walk(tmp_path) as d:
        await d.type("28 5")
        await d.press("f3")
        await d.key_in("tyre looks soft")
        notes = [e.payload for e in d.events if isinstance(e.payload, NoteWritten)]
        assert [(n.text, n.corner) for n in notes] == [("tyre looks soft", "LF")]
        await d.type("/8")
        await d.press("enter")
        assert d.readings == [("unloaded", 1, "LF", "28 5/8")]
