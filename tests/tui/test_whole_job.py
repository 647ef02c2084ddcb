"""The entire job, from the customer's question to the follow-up, as the three kinds of hands do it."""

from __future__ import annotations

from pathlib import Path

import pytest

from cornerwalk.assess import assess
from cornerwalk.report.audit import audit
from cornerwalk.report.handover import handed_over_figures
from cornerwalk.session import fold
from cornerwalk.session.events import HandedOver, HeightRead, JobReopened, StageBegun
from cornerwalk.tui.widgets.pad import Pad
from tests.support.jobs import standards
from tests.tui.chapters import click
from tests.tui.driving import LOADED, TRIAL_15, UNLOADED, Driver, context_of, driven
from tests.tui.whole_job import whole_job


def test_the_entire_job_is_done_from_the_keyboard() -> None:
    """Intake to follow-up with keys alone, and every value in the file follows from what was typed."""
    events = whole_job().events
    session = fold(events)
    assert [stage.key for stage in session.stages] == [
        ("unloaded", 1), ("loaded", 1), ("fitted", 1), ("fitted", 2),
        ("road-test", 1), ("fitted-unloaded", 1), ("follow-up", 1),
    ]  # fmt: skip
    assert all(stage.all_read for stage in session.stages)
    assert session.job.complaint == "oncoming drivers flash when the trailer is on"
    assert [(load.name, session.entered[f"load.{load.name}.place"]) for load in session.loads] == [
        ("trailer tongue", "46 in behind the rear axle")
    ]
    assert set(session.weighings) == {"unhitched", "hitched"}
    assert {torque.joint: torque.reached_Nm for torque in session.torques} == {
        "wheel nuts": 98.0,
        "control-arm bolts, at ride height": 120.0,
    }
    assert len(session.joints) == 6
    assert [reading.moment for reading in session.leak_readings] == ["start", "end"]
    assert audit(events, standards()) == ()


def test_what_was_handed_over_is_not_changed_by_the_follow_up() -> None:
    """The events before the handover are the same to the last chain, and its figures are those of that moment."""
    events = whole_job().events
    place = next(i for i, event in enumerate(events) if isinstance(event.payload, HandedOver))
    handed = events[place].payload
    assert isinstance(handed, HandedOver)
    then = fold(events[:place])
    assert dict(handed.figures) == pytest.approx(handed_over_figures(then, assess(then, standards())))
    assert isinstance(events[place + 1].payload, JobReopened)
    later = [event.payload for event in events[place + 2 :]]
    assert {type(what) for what in later} == {StageBegun, HeightRead}
    assert {what.stage for what in later if isinstance(what, HeightRead | StageBegun)} == {"follow-up"}


PAD = {" ": "␣", "\n": "↵"}


async def tap(d: Driver, text: str) -> None:
    """Type on the pad of the screen: every character a click."""
    for character in text:
        await click_pad(d, PAD.get(character, character))


async def click_pad(d: Driver, shown: str) -> None:
    """Click a key of the pad."""
    pad = d.app.screen.query_one(Pad)
    rows = ["".join(text for _, text in row) for row in pad.rows(pad.size.width)]
    row = next(y for y, line in enumerate(rows) if y and shown in line)
    x, y = pad.region.offset
    await d.pilot.click(offset=(x + rows[row].index(shown), y + row))
    await d.pilot.pause()


async def test_the_job_is_done_with_the_mouse_alone(tmp_path: Path) -> None:
    """From the start page to the handed-over sheet without a key: choices, chapters and the pad are clicked."""
    async with driven(context_of(tmp_path)) as d:
        await click(d, "New job")
        await click(d, "make the job")
        assert d.page == "WalkScreen", d.text
        await click(d, "▦ pad")
        for stage in (UNLOADED, LOADED):
            for height in stage:
                await tap(d, height + "\n")
            await tap(d, "\n" if stage is UNLOADED else "")
        await click_pad(d, "✕")
        await click(d, "F9 job")
        await click(d, "Before anything is changed")
        await click(d, "2  no")
        await click(d, "4  not fitted")
        await click(d, "dampers")
        await click(d, "2  no")
        await click(d, "F9 job")
        await click(d, "Air, trial by trial")
        await click(d, "▦ pad")
        await tap(d, "15\n")
        assert d.page == "WalkScreen", d.text
        if not d.app.screen.query("Pad"):
            await click(d, "▦ pad")
        for height in TRIAL_15:
            await tap(d, height + "\n")
        await click_pad(d, "✕")
        await click(d, "F9 job")
        await click(d, "Handover")
        await click(d, "hand it over")
        await click(d, "Enter keep, next")
        await click(d, "hand it over now")
        assert d.page == "SheetScreen", d.text
        assert [stage.key for stage in d.session.stages] == [("unloaded", 1), ("loaded", 1), ("fitted", 1)]
        assert all(stage.all_read for stage in d.session.stages)
        assert {answer.check: answer.answer for answer in d.session.answers} == {
            "brake-valve": "no",
            "lamp-sensors": "not fitted",
            "dampers": "no",
        }
        assert len(d.session.handovers) == 1


NUMBER_PAD = {**{str(n): f"kp_{n}" for n in range(10)}, "+": "kp_add", ".": "kp_decimal", "\n": "kp_enter"}


async def test_walk_and_trials_take_the_number_pad_alone(tmp_path: Path) -> None:
    """Heights in sixteenths, stages and three trials: nothing but digits, plus and Enter of the number pad."""
    sixteenths = {
        "unloaded": ("28+10", "28+11", "29+3", "29+4"),
        "loaded": ("28+14", "28+15", "27+10", "27+12"),
        "fitted": ("28+14", "28+15", "28+4", "28+6"),
    }

    async def keys(d: Driver, text: str) -> None:
        await d.pilot.press(*(NUMBER_PAD[character] for character in text))
        await d.pilot.pause()

    async with driven(context_of(tmp_path)) as d:
        await keys(d, "1")
        await keys(d, "\n")
        for stage, heights in sixteenths.items():
            await keys(d, {"unloaded": "", "loaded": "\n", "fitted": "15\n"}[stage])
            for height in heights:
                await keys(d, height + "\n")
        for pressure in ("20", "25"):
            await keys(d, pressure + "\n")
            for height in sixteenths["fitted"]:
                await keys(d, height + "\n")
        assert len(d.readings) == 20
        assert [stage.pressure_entered for stage in d.session.trials] == ["15", "20", "25"]
        assert all(stage.all_read for stage in d.session.stages)


def test_the_follow_up_says_what_moved_since() -> None:
    """Rear 28.6875 and 28.75 after the road test, 28.25 and 28.3125 when it came back: 0.44 in lower, same air."""
    told = " ".join(whole_job().last_page.split())
    assert "Against after the road test" in told
    assert "rear down 0.44 in ± 0.07" in told
