"""The walk, from digits and Enter to events in the file."""

from __future__ import annotations

from pathlib import Path

import pytest

from cornerwalk.quantity import read_height
from cornerwalk.session.events import HeightRead, StageBegun
from tests.tui.driving import LOADED, TRIAL_15, TRIAL_25, UNLOADED, context_of, new_session, walk

WALKED = ("LF", "RF", "RR", "LR")


async def test_twelve_readings_take_digits_enter_and_one_enter_a_stage(tmp_path: Path) -> None:
    """Nothing else is pressed, and twelve events stand in the file in order, text and exact millimetres."""
    async with walk(tmp_path) as d:
        await d.key_in(*UNLOADED, "", *LOADED, "15", *TRIAL_15)
        expected = [
            *(("unloaded", 1, corner, text) for corner, text in zip(WALKED, UNLOADED, strict=True)),
            *(("loaded", 1, corner, text) for corner, text in zip(WALKED, LOADED, strict=True)),
            *(("fitted", 1, corner, text) for corner, text in zip(WALKED, TRIAL_15, strict=True)),
        ]
        assert d.readings == expected
        assert d.app.job is not None
        on_disk = d.app.job.context.library.read(d.app.job.file.path)
        assert on_disk.damage is None
        heights = [e.payload for e in on_disk.events if isinstance(e.payload, HeightRead)]
        # 1 in = 25.4 mm exactly.
        assert [w.mm for w in heights] == [read_height(w.entered, "inch").mm for w in heights]
        assert heights[0].mm == pytest.approx(28.625 * 25.4, rel=1e-15)


async def test_a_preset_opens_on_the_first_reading(tmp_path: Path) -> None:
    """With a vehicle stated, nothing stands between opening and the first height."""
    async with walk(tmp_path) as d:
        assert "Left front" in d.said
        await d.key_in("28 5/8")
        assert d.readings == [("unloaded", 1, "LF", "28 5/8")]


async def test_what_is_typed_is_said_back_after_every_key(tmp_path: Path) -> None:
    """Value in both systems, and against the same corner before, while it is typed and before Enter."""
    async with walk(tmp_path) as d:
        await d.key_in(*UNLOADED, "", *LOADED[:2])
        await d.type("27 5/")
        assert "27.625 in" not in d.text
        await d.type("8")
        assert "27.625 in · 701.7 mm" in d.said
        assert "unloaded here 29 3/16, so down 1 9/16" in d.said
        assert len(d.readings) == 6


async def test_results_follow_the_text_and_say_that_it_is_not_kept(tmp_path: Path) -> None:
    """The beam stands on the screen before the last reading is kept, marked as such; Esc takes it away again."""
    async with walk(tmp_path) as d:
        await d.key_in(*UNLOADED, "", *LOADED[:3])
        assert "nose up" not in d.text
        await d.type(LOADED[3])
        assert "what it means if kept" in d.text
        # method.md's worked case: 0.857567 deg (u 0.024565), 4.490296 in (u 0.128629): shown with U = 2u.
        assert "nose up 0.86° ± 0.05" in d.text
        assert "beam 4.49 in ± 0.26 higher at 25 ft" in d.text
        await d.press("escape")
        assert "nose up" not in d.text
        assert "if kept" not in d.text


async def test_a_refused_text_stays_with_its_reason_and_likely_meaning(tmp_path: Path) -> None:
    """Nothing is recorded, the text is still there to be mended, and Tab writes what was likely meant."""
    async with walk(tmp_path) as d:
        before = len(d.events)
        await d.key_in("29 17/16")
        assert len(d.events) == before
        assert "29 17/16" in d.said
        assert "a fraction of an inch is less than one" in d.said
        await d.press("tab")
        await d.press("enter")
        assert d.readings == [("unloaded", 1, "LF", "30 1/16")]


@pytest.mark.parametrize(
    "text", ["", "x", "-3", "1e3", "0", "99999", "28 5/0", "28 5/8 28", "1_0", "28,5,1", "½½", "\\"]
)
async def test_no_text_is_kept_that_is_no_height(tmp_path: Path, text: str) -> None:
    """Enter on nonsense records nothing and goes nowhere."""
    async with walk(tmp_path) as d:
        before = len(d.events)
        await d.key_in(text)
        assert len(d.events) == before
        assert d.page == "WalkScreen"


async def test_a_far_value_needs_a_second_enter(tmp_path: Path) -> None:
    """A whole-inch slip is remarked on; the same Enter again keeps it, since it may be true."""
    async with walk(tmp_path) as d:
        await d.key_in("28 5/8", "38 11/16")
        assert [r[3] for r in d.readings] == ["28 5/8"]
        assert "38 11/16" in d.said
        assert "Enter again keeps it" in d.said
        await d.press("enter")
        assert [r[3] for r in d.readings] == ["28 5/8", "38 11/16"]


async def test_a_mended_far_value_needs_no_second_enter(tmp_path: Path) -> None:
    """The confirmation belongs to the text it was given for."""
    async with walk(tmp_path) as d:
        await d.key_in("28 5/8", "38 11/16")
        await d.press(*["backspace"] * 8)
        await d.key_in("28 11/16")
        assert [r[3] for r in d.readings] == ["28 5/8", "28 11/16"]


async def test_the_honest_readings_of_the_worked_case_need_no_second_enter(tmp_path: Path) -> None:
    """Sixteen true readings, sixteen Enters."""
    async with walk(tmp_path) as d:
        await d.key_in(*UNLOADED, "", *LOADED, "15", *TRIAL_15, "25", *TRIAL_25)
        assert len(d.readings) == 16


async def test_a_height_typed_before_the_stage_is_begun_is_not_lost(tmp_path: Path) -> None:
    """The first Enter says that the vehicle stands ready, the second keeps the height."""
    async with walk(tmp_path) as d:
        await d.key_in(*UNLOADED, LOADED[0])
        assert isinstance(d.events[-1].payload, StageBegun)
        assert len(d.readings) == 4
        await d.press("enter")
        assert d.readings[-1] == ("loaded", 1, "LF", LOADED[0])


async def test_several_pasted_readings_fill_the_corners_after_a_look(tmp_path: Path) -> None:
    """They are laid out first; Enter keeps them in walking order, Esc would drop them."""
    async with walk(tmp_path) as d:
        await d.paste("28 5/8, 28 11/16, 29 3/16, 29 1/4")
        assert d.readings == []
        assert "Enter keeps these" in d.said
        await d.press("escape")
        assert d.readings == []
        await d.paste("28 5/8\n28 11/16\n29 3/16\n29 1/4\n")
        await d.press("enter")
        assert [(r[2], r[3]) for r in d.readings] == list(zip(WALKED, UNLOADED, strict=True))
        assert "Loaded" in d.text


async def test_a_paste_with_one_bad_value_keeps_none(tmp_path: Path) -> None:
    """All or nothing, and the corner of the bad one is named."""
    async with walk(tmp_path) as d:
        await d.paste("28 5/8, 28 17/16, 29 3/16, 29 1/4")
        assert "right front" in d.said
        await d.press("enter")
        assert d.readings == []


async def test_a_tape_that_types_for_itself_loses_nothing(tmp_path: Path) -> None:
    """Four readings with their Enters in one burst arrive as four readings."""
    async with walk(tmp_path) as d:
        from textual import events

        for reading in UNLOADED:
            for character in reading:
                d.app.post_message(events.Key({" ": "space", "/": "slash"}.get(character, character), character))
            d.app.post_message(events.Key("enter", "\r"))
        await d.press()
        await d.pilot.pause(0.1)
        assert [r[3] for r in d.readings] == list(UNLOADED)


async def test_number_pad_keys_by_name_type_their_characters(tmp_path: Path) -> None:
    """Under some protocols the pad's keys come as names without a character."""
    async with walk(tmp_path) as d:
        from textual import events

        for name in ("kp_2", "kp_8", "kp_add", "kp_1", "kp_0", "kp_enter"):
            d.app.post_message(events.Key(name, None))
        await d.press()
        assert d.readings == [("unloaded", 1, "LF", "28+10")]
        for name in ("2", "8", "decimal", "5", "enter"):
            d.app.post_message(events.Key(name, None))
        await d.press()
        assert d.readings[-1] == ("unloaded", 1, "RF", "28.5")


async def test_a_click_asks_for_a_corner(tmp_path: Path) -> None:
    """The four quarters of the plan are the four corners."""
    async with walk(tmp_path) as d:
        for offset, name in (((30, 9), "Right rear"), ((4, 9), "Left rear"), ((30, 2), "Right front")):
            await d.pilot.click("#plan", offset=offset)
            await d.press()
            assert name in d.said


async def test_walk_order_follows_the_job(tmp_path: Path) -> None:
    """Start corner and direction are the job's own."""
    async with walk(tmp_path, facts={"job.start_corner": "RR", "job.direction": "anticlockwise"}) as d:
        await d.key_in(*UNLOADED)
        assert [r[2] for r in d.readings] == ["RR", "RF", "LF", "LR"]


async def test_metric_heights_need_no_unit(tmp_path: Path) -> None:
    """In a metric job bare numbers are millimetres, and a decimal comma is a decimal comma."""
    async with walk(tmp_path, facts={"job.unit": "mm"}) as d:
        await d.key_in("727", "728,5")
        stage = d.session.stages[0]
        assert stage.corner("LF").mean_mm == 727.0
        assert stage.corner("RF").mean_mm == 728.5


async def test_without_a_wheelbase_the_heights_still_work(tmp_path: Path) -> None:
    """The results say what they need, and nothing is made up."""
    async with walk(tmp_path, facts={}) as d:
        await d.key_in(*UNLOADED, "", *LOADED)
        assert "front up 0.25 in ± 0.07" in d.text
        assert "needs the wheelbase" in d.text
        assert "nose up" not in d.text


async def test_a_kill_at_any_reading_lands_on_the_same_corner(tmp_path: Path) -> None:
    """A new app on the same library goes on where the old one was, with nothing lost."""
    context = context_of(tmp_path)
    path = new_session(context)
    typed = [*UNLOADED, "", *LOADED, "15", *TRIAL_15]
    for line in typed:
        async with walk(tmp_path, context=context, path=path) as d:
            before = len(d.readings)
            await d.key_in(line)
            assert len(d.readings) == before + (" " in line)
    stored = context.library.read(path)
    assert stored.damage is None
    heights = [e.payload.entered for e in stored.events if isinstance(e.payload, HeightRead)]
    assert heights == [*UNLOADED, *LOADED, *TRIAL_15]
