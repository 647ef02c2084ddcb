"""A whole invented job, done in the app from the keyboard alone: three days, the program started anew on each."""

from __future__ import annotations

import asyncio
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from cornerwalk.context import WalkView
from cornerwalk.job.open_job import OpenJob
from cornerwalk.session import RecordedEvent
from cornerwalk.session.events import Event
from tests.support.at_rest import wait_by_the_event_loop
from tests.support.clock import FrozenClock
from tests.tui.chapters import as_hoped, fill, open_chapter
from tests.tui.driving import LOADED, TRIAL_15, TRIAL_25, UNLOADED, Driver, context_of, driven

EMPTY_AGAIN = ("28 5/8", "28 11/16", "29 5/16", "29 3/8")
ROAD = ("28 7/8", "28 15/16", "28 11/16", "28 3/4")
CAME_BACK = ("28 7/8", "28 15/16", "28 1/4", "28 5/16")
"""Readings after the road test and months later, in walking order; invented like those of the worked case."""

INTAKE = {
    "job.customer": ("Z. A.",),
    "job.complaint": ("oncoming drivers flash when the trailer is on",),
    "vehicle.description": ("people carrier, invented",),
    "vehicle.wheelbase": ("119 in",),
    "vehicle.arch_width": ("66 in",),
    "vehicle.ball_overhang": ("46 in",),
    "kit.name": ("invented kit",),
    "kit.sheet": ("invented sheet 3",),
    "kit.min": ("8 psi",),
    "kit.max": ("40 psi",),
    "kit.rated_support": ("960 lb",),
    "kit.lines": ("1",),
    "vehicle.gawr_front": ("2900 lb",),
    "vehicle.gawr_rear": ("3100 lb",),
    "vehicle.gvwr": ("5800 lb",),
    "vehicle.lamp_height": ("28 1/2 in",),
    "vehicle.lamp_ahead": ("31 in",),
    "vehicle.levelling": ("1",),
    "lamps.screen": ("25 ft",),
    "lamps.rule": ("us-vol",),
    "load.add": ("trailer tongue", "410 lb", "", ""),
    "hitch.kind": ("1",),
    "hitch.rating": ("500 lb",),
    "trailer.weight": ("3400 lb",),
    "weighing.unhitched": ("2500", "2400"),
    "weighing.hitched": ("2340", "2970", "2990"),
    "table.drop_allowed": ("1/4 in",),
    "table.loads": ("300 lb; 410 lb",),
}
FITTING = {
    "torque:wheel nuts": ("98 N·m", "vehicle's manual", "98 N·m"),
    "torque:control-arm bolts, at ride height": ("120 N·m", "vehicle's manual", "120 N·m"),
    "service.retorque_distance": ("60 miles",),
}
LEAK_BEGINS = {"leak.both.start": ("30", "71", "1"), **{f"soap.{joint}": ("1",) for joint in (
    "left bag", "right bag", "tee or line joints", "valve", "valve core, cap off", "gauge")}}  # fmt: skip
JUDGED = {"leak.gauge_graduation": ("1 psi",), "leak.altitude": ("0 ft",), "leak.allowed_loss": ("2 psi",)}


async def conditions(d: Driver) -> None:
    """Answer the conditions of the stage in hand: one by one the first time, as before the next times."""
    await d.press("f10")
    await fill(d, {"as before": ("1",), "mark": ("",)}, otherwise=as_hoped)
    await d.press("escape")
    assert d.page == "WalkScreen", d.text


async def until_the_hold_test(d: Driver) -> None:
    """A new job from the start page to the gauge at the start."""
    await d.press("1")
    await d.key_in("Box trailer")
    await open_chapter(d, "1")
    await fill(d, INTAKE)
    await d.press("enter")
    assert d.page == "WholeJobScreen"
    await d.press("enter")
    assert d.page == "chapter before", "the chapter after the intake is next"
    await fill(d, {}, otherwise=as_hoped)
    await d.press("enter", "enter")
    assert d.page == "WalkScreen", "then the heights"
    await conditions(d)
    await d.key_in(*UNLOADED, "")
    await conditions(d)
    await d.key_in(*LOADED)
    await d.press("f9", "enter")
    assert d.page == "chapter fitting", "then the fitting"
    await fill(d, FITTING, otherwise=as_hoped)
    await d.press("enter", "enter")
    assert d.page == "AirScreen", "then the air"
    await d.key_in("15")
    assert d.page == "WalkScreen", "a trial begins, and the walk reads it"
    await conditions(d)
    await d.key_in(*TRIAL_15)
    await open_chapter(d, "6")
    await d.key_in("25")
    await conditions(d)
    await d.key_in(*TRIAL_25, "")
    assert d.page == "WholeJobScreen", "Enter alone leads to what comes next"
    await d.press("enter")
    assert d.page == "chapter leak"
    await fill(d, {**LEAK_BEGINS, **JUDGED})


async def from_the_next_morning(d: Driver) -> None:
    """The next day: the end of the hold test, the road, the handover."""
    await d.press("f9")
    assert "running for 17 h" in d.text
    await d.press("7")
    assert d.page == "chapter leak"
    assert "you started 17 h ago at 71 °F" in " ".join(d.text.split()), d.text
    await fill(d, {"leak.both.end": ("29", "50", "1")})
    await open_chapter(d, "8")
    await d.key_in("25")
    assert d.page == "WalkScreen"
    await conditions(d)
    await d.key_in(*ROAD)
    await open_chapter(d, "8")
    await fill(d, {"stage.fitted-unloaded": ("8",)}, otherwise=as_hoped)
    assert d.page == "WalkScreen"
    await conditions(d)
    await d.key_in(*EMPTY_AGAIN)
    await d.press("enter", "enter")
    assert d.page == "chapter handover", d.text
    await fill(d, {"handover": ("", "1")}, otherwise=as_hoped)
    assert d.page == "SheetScreen", "the sheet is what the customer sees"
    assert not d.session.open


async def months_later(d: Driver) -> None:
    """The customer comes back."""
    await open_chapter(d, "0")
    assert d.page == "chapter follow-up"
    await d.key_in("sags again")
    await d.key_in("25")
    assert d.page == "WalkScreen"
    await d.key_in(*CAME_BACK)
    await open_chapter(d, "0")


@dataclass(frozen=True, slots=True)
class WholeJob:
    """What it left behind.

    Attributes:
        events: all of them.
        kept: how many there were each time something was called kept: where a program can be cut off.
        last_page: what the screen showed at the end.
    """

    events: tuple[RecordedEvent, ...]
    kept: tuple[int, ...]
    last_page: str


@cache
def whole_job() -> WholeJob:
    """The job, done once for all tests that look at it."""
    kept: list[int] = []
    record = OpenJob.record

    def recorded(job: OpenJob, events: Sequence[Event]) -> bool:
        done = record(job, events)
        kept.append(len(job.events))
        return done

    with TemporaryDirectory() as folder, pytest.MonkeyPatch.context() as patch:
        wait_by_the_event_loop(patch)
        patch.setattr(OpenJob, "record", recorded)
        return asyncio.run(_three_days(Path(folder), kept))


async def _three_days(folder: Path, kept: list[int]) -> WholeJob:
    clock = FrozenClock()
    context = context_of(folder, clock)
    async with driven(context) as d:
        await until_the_hold_test(d)
        assert d.app.job is not None
        path = d.app.job.file.path
    clock.advance(hours=17)
    async with driven(context, WalkView(path)) as d:
        await from_the_next_morning(d)
    clock.advance(days=90)
    async with driven(context, WalkView(path)) as d:
        await months_later(d)
        return WholeJob(d.events, tuple(kept), d.text)
