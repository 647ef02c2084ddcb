"""What is typed in chapters: loads, the scale, torques, presets, the gauge."""

from __future__ import annotations

from pathlib import Path

import pytest

from cornerwalk.context import WalkView
from cornerwalk.session.events import (
    LeakRead,
    LoadStated,
    TorqueRecorded,
    WeighingRecorded,
)
from tests.support.clock import FrozenClock
from tests.support.jobs import WORKED_CASE, job_of
from tests.tui.chapters import NEW, TRIALS, ask, cut_off, last, line, open_chapter, opened, words
from tests.tui.driving import context_of, driven

# ---- loads, the scale, torques ----


async def test_loads_are_added_changed_and_taken_out(tmp_path: Path) -> None:
    """Name, weight, distance and side one after the other; a wrong weight is refused before the next is asked."""
    async with opened(tmp_path, NEW) as d:
        await open_chapter(d, "1")
        await ask(d, "load.add")
        await d.key_in("kitchen", "heavy")
        assert not d.session.loads
        await d.press("ctrl+u")
        await d.key_in("90 lb", "20 in")
        assert not d.session.loads, "a load without its side is none"
        await d.press("2")
        (load,) = d.session.loads
        assert load.name == "kitchen"
        assert load.ahead_mm == pytest.approx(508.0)
        await ask(d, "load:kitchen")
        await d.key_in("110 lb", "", "")
        what = last(d)
        assert isinstance(what, LoadStated)
        assert (what.entered, what.place_entered) == ("110 lb", "20 in ahead of the rear axle")
        await ask(d, "load:kitchen")
        await d.press("f7")
        assert d.session.loads == ()


async def test_an_axle_is_kept_as_soon_as_it_is_typed(tmp_path: Path) -> None:
    """Cut off after the first axle, its weight is there; the pass is asked again where it was left."""
    async with opened(tmp_path, NEW) as d:
        await open_chapter(d, "1")
        await ask(d, "weighing.hitched")
        await d.key_in("2340")
        what = last(d)
        assert isinstance(what, WeighingRecorded)
        assert (what.front_entered, what.rear_N) == ("2340", None)
        await d.press("escape", "escape")
        await open_chapter(d, "1")
        assert line(d) == "weighing.hitched"
        await d.key_in("", "2970", "")
        what = last(d)
        assert isinstance(what, WeighingRecorded)
        assert (what.front_entered, what.rear_entered) == ("2340", "2970")


async def test_a_torque_without_unit_is_refused_and_one_short_of_it_is_flagged(tmp_path: Path) -> None:
    """80 of what is not guessed; 80 N·m of 98 asked for says by how much."""
    async with opened(tmp_path, TRIALS) as d:
        await open_chapter(d, "5")
        await ask(d, "torque:wheel nuts")
        await d.key_in("98")
        assert "the unit is missing" in words(d)
        assert not d.session.torques
        await d.press("ctrl+u")
        await d.key_in("98 N·m", "vehicle's manual", "80 N·m")
        what = last(d)
        assert isinstance(what, TorqueRecorded)
        assert (what.specified_Nm, what.source, what.reached_Nm) == (98.0, "vehicle's manual", 80.0)
        # (98 − 80)/98 = 18.4 %
        assert "18 % under" in words(d)


# ---- facts and presets ----


async def test_a_kit_figure_without_its_sheet_is_flagged(tmp_path: Path) -> None:
    """Where a limit comes from is part of it."""
    async with opened(tmp_path, NEW) as d:
        await open_chapter(d, "1")
        await ask(d, "kit.max")
        await d.key_in("40 psi")
        await d.press("up")
        assert "40 psi, from no named sheet" in words(d)
        await ask(d, "kit.sheet")
        await d.key_in("sheet 3, 2026")
        await ask(d, "kit.max")
        assert "from no named sheet" not in words(d)


async def test_what_was_kept_for_next_time_starts_the_next_job(tmp_path: Path) -> None:
    """Keep the kit in one job, start from it in another: the same limits, and nothing of the first customer."""
    async with opened(tmp_path, WORKED_CASE) as d:
        await open_chapter(d, "1")
        await ask(d, "preset.keep.kit")
        await d.key_in("usual kit")
        assert "kept for next time: usual kit" in words(d)
    (tmp_path / "sessions").rename(tmp_path / "first")
    async with opened(tmp_path, NEW) as d:
        await open_chapter(d, "1")
        assert line(d) == "preset.start"
        await d.press("1")
        kit = d.session.kit
        assert kit.sheet == "invented sheet 3, 2026"
        assert kit.max_kPa == pytest.approx(40 * 6.894757293168361)
        assert d.session.job.customer == ""


async def test_nine_keys_lead_from_a_cold_start_with_a_preset_to_the_first_reading(tmp_path: Path) -> None:
    """Start page, new job, its preset, and the first height may be typed: under ten keys."""
    keys = ["1", "enter", "f9", "enter", "1", "escape", "escape"]
    context = context_of(tmp_path)
    context.presets_folder.mkdir()
    (context.presets_folder / "van.toml").write_text('[vehicle]\nwheelbase = "119 in"\n', "utf-8")
    async with driven(context) as d:
        for key in keys:
            await d.press(key)
        assert d.page == "WalkScreen"
        assert d.session.vehicle.wheelbase_mm == pytest.approx(3022.6)
        await d.key_in("28 5/8")
        assert d.readings == [("unloaded", 1, "LF", "28 5/8")]
    assert len(keys) < 10


# ---- the hold test ----


async def test_a_hold_test_goes_on_over_a_night_and_a_start_of_the_program(tmp_path: Path) -> None:
    """How long it has run is told from the clock when the page is looked at; nothing ticks meanwhile."""
    clock = FrozenClock()
    context, path = context_of(tmp_path, clock), cut_off(tmp_path, job_of(TRIALS).events)
    async with driven(context, WalkView(path)) as d:
        await open_chapter(d, "7")
        await ask(d, "leak.both.start")
        await d.key_in("30", "71")
        await d.press("1")
        what = last(d)
        assert isinstance(what, LeakRead)
        assert (what.pressure_entered, what.temperature_entered, what.loaded) == ("30", "71", True)
        assert what.read_at == "2026-05-04T08:12:31-06:00"
    clock.advance(hours=17)
    async with driven(context, WalkView(path), size=(80, 40)) as d:
        await d.press("f9")
        assert "holding for 17 h" in d.text
        await d.press("7")
        assert "you started 17 h ago at 71 °F, with 30 psi in (2026-05-04 08:12)." in words(d)
        assert "about 7 h to go" in words(d) or "7 h to go" in words(d)
        await ask(d, "leak.both.end")
        await d.key_in("29", "50")
        await d.press("2")
        assert "Loaded at one end of the test and empty at the other" in words(d)
        assert "17 h is shorter than a day: a pass now is no pass for the night." in words(d)
        # By hand: (30 + 14.696) psi·(50 + 459.67)/(71 + 459.67) − 14.696 = 28.23 psi expected at sea level.
        assert "28.2 psi was to be expected" in words(d)


async def test_a_temperature_left_out_can_be_added_without_beginning_the_test_anew(tmp_path: Path) -> None:
    """The time of the reading stays, and so does the reading."""
    clock = FrozenClock()
    async with opened(tmp_path, TRIALS, clock=clock) as d:
        await open_chapter(d, "7")
        await ask(d, "leak.both.start")
        await d.key_in("30", "", "")
        clock.advance(minutes=20)
        await d.press("escape")
        await open_chapter(d, "7")
        assert line(d) == "leak.both.start"
        await d.press("1")
        await d.key_in("71")
        await d.press("1")
        what = last(d)
        assert isinstance(what, LeakRead)
        assert (what.pressure_entered, what.temperature_entered, what.loaded) == ("30", "71", True)
        assert what.read_at == "2026-05-04T08:12:31-06:00"


async def test_a_rule_from_memory_says_so_where_it_is_chosen(tmp_path: Path) -> None:
    """Whoever chooses an aim rule sees which of them nobody could look up, and what the chosen one is."""
    async with opened(tmp_path, TRIALS) as d:
        await open_chapter(d, "1")
        await ask(d, "lamps.rule")
        told = words(d)
        assert d.app.job is not None
        rules = d.app.job.context.standards().aim_rules
        for rule in rules.values():
            marked = f"{rule.id} (from memory)" in told
            assert marked is (rule.standing == "memory"), rule.id
        assert rules["us-vol"].title in told
