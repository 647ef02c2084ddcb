"""What earlier jobs of the library say to a new one: a hint from its start on, and a figure that one key takes."""

from __future__ import annotations

import asyncio
import threading
from pathlib import Path

import pytest
from textual.widget import Widget

from cornerwalk.context import Context, ReplayView, WalkView
from cornerwalk.session.events import (
    CheckAnswered,
    Event,
    FactStated,
    HeightRead,
    JobOpened,
    StageBegun,
)
from cornerwalk.session.stages import CORNERS
from cornerwalk.session.statements import state_fact
from cornerwalk.tables.earlier_jobs import EarlierJobs
from cornerwalk.tui.job_app import JobApp
from cornerwalk.tui.widgets.masthead import Masthead
from cornerwalk.tui.widgets.outlook import Outlook
from cornerwalk.tui.widgets.prose import Ruler
from cornerwalk.tui.widgets.question import Panel
from tests.tui.driving import Driver, context_of, driven

VAN = {"vehicle.description": "van, invented", "vehicle.wheelbase": "119 in", "job.technician": "MT"}


def opened(name: str) -> list[Event]:
    """A job on the van, with what is known of it."""
    first = JobOpened(session=name, job="fit", title=name, program="0")
    return [first, *(state_fact(fact, text, "inch") for fact, text in VAN.items())]


def read(stage: str, number: int, heights_mm: tuple[float, ...], repeat_mm: float = 0.0) -> list[Event]:
    """Four heights, each read a second time `repeat_mm` higher where that is asked for."""
    told: list[Event] = []
    for corner, mm in zip(CORNERS, heights_mm, strict=True):
        place = {"stage": stage, "number": number, "corner": corner}
        told.append(HeightRead(**place, entered=f"{mm} mm", mm=mm))  # type: ignore[arg-type]
        if repeat_mm:
            again_mm = mm + repeat_mm
            told.append(HeightRead(**place, entered=f"{again_mm} mm", mm=again_mm, how="repeat"))  # type: ignore[arg-type]
    return told


def an_earlier_job() -> list[Event]:
    """Twelve corners read twice, 1 mm apart (invented): s = 1/√2 mm of 12 degrees of freedom; two trials of air."""
    return [
        *opened("earlier"),
        *read("unloaded", 1, (727.0, 728.0, 741.0, 742.0), 1.0),
        StageBegun(stage="fitted", number=1, pressure_entered="15 psi", pressure_kPa=15 * 6.894757293168361),
        *read("fitted", 1, (733.0, 735.0, 717.0, 720.0), 1.0),
        StageBegun(stage="fitted", number=2, pressure_entered="25 psi", pressure_kPa=25 * 6.894757293168361),
        *read("fitted", 2, (733.0, 735.0, 728.0, 731.0), 1.0),
    ]


def brake_valve() -> CheckAnswered:
    """Springs must not be fitted at all."""
    return CheckAnswered(check="brake-valve", answer="yes")


async def settled(d: Driver) -> None:
    """Until earlier jobs have been asked and what they said is shown."""
    await d.pilot.pause()
    await d.app.workers.wait_for_complete()
    await d.pilot.pause()
    await d.pilot.pause()


def a_new_job(folder: Path, *more: Event) -> tuple[Context, Path]:
    """A new job on the van, after the earlier one."""
    context = context_of(folder)
    context.library.create(*an_earlier_job()).close()
    file = context.library.create(*opened("new"), *more)
    file.close()
    return context, file.path


@pytest.mark.parametrize("keys", [(), ("f9",), ("f9", "1")], ids=["walk", "whole job", "intake"])
async def test_a_job_on_a_known_vehicle_starts_with_what_was_last_time(tmp_path: Path, keys: tuple[str, ...]) -> None:
    """From the first page on: slope with its ±, where it began, and that it is a hint."""
    context, path = a_new_job(tmp_path)
    async with driven(context, WalkView(path), size=(100, 40)) as d:
        await settled(d)
        await d.press(*keys)
        text = " ".join(d.text.split())
    assert "Last time 0.04" in text
    assert "in/psi ±" in text
    assert "began at 15 psi" in text
    assert "A hint of" in text


async def test_it_stands_at_the_air_page_too(tmp_path: Path) -> None:
    """Where the pressure is chosen; the advice itself stays that of today's readings."""
    context, path = a_new_job(tmp_path, *read("unloaded", 1, (727.0, 728.0, 741.0, 742.0)))
    async with driven(context, WalkView(path), size=(120, 40)) as d:
        await settled(d)
        await d.press("f9", "6")
        text = " ".join(d.text.split())
    assert "began at 15 psi" in text


async def test_a_vehicle_that_is_named_later_is_heard_of_then(tmp_path: Path) -> None:
    """As soon as the intake knows which vehicle it is."""
    context = context_of(tmp_path)
    context.library.create(*an_earlier_job()).close()
    file = context.library.create(JobOpened(session="new", job="fit", title="new", program="0"))
    file.close()
    async with driven(context, WalkView(file.path), size=(120, 40)) as d:
        await settled(d)
        before = d.text
        assert d.app.job is not None
        d.app.job.record([state_fact("vehicle.description", "VAN, invented", "inch")])
        await d.press("f9")
        await settled(d)
        after = d.text
    assert "Last time" not in before
    assert "Last time 0.04" in after


async def test_where_springs_are_forbidden_no_pressure_is_hinted(tmp_path: Path) -> None:
    """A brake valve ends the matter: what was done before is no reason to do it again."""
    context, path = a_new_job(tmp_path, brake_valve())
    async with driven(context, WalkView(path), size=(120, 40)) as d:
        await settled(d)
        walk = d.text
        await d.press("f9")
        shown = walk + d.text
    assert "15 psi" not in shown


async def test_a_replay_is_told_nothing(tmp_path: Path) -> None:
    """It shows what the technician saw, and the library of today is no part of that."""
    context, path = a_new_job(tmp_path)
    async with driven(context, ReplayView(path), size=(120, 40)) as d:
        await settled(d)
        shown = d.text
    assert "Last time" not in shown


async def test_one_key_takes_the_own_placing_as_what_it_is(tmp_path: Path) -> None:
    """A fact with the figure and what it rests on; then nothing is offered any more, and undo takes it back."""
    context, path = a_new_job(tmp_path)
    async with driven(context, WalkView(path), size=(120, 40)) as d:
        await settled(d)
        offered = d.text
        await d.press("ctrl+o")
        taken = d.text
        kept = [event.payload for event in context.library.read(path).events]
        await d.press("f2")
        undone = d.text
    assert "Ctrl+O takes your own placing of the tape, 0.0278 in" in " ".join(offered.split())
    fact = kept[-1]
    assert isinstance(fact, FactStated)
    assert (fact.name, fact.entered) == ("tape.place", "0.028 in")
    assert fact.basis == "from own repeats: 12 corners read again in one job"
    assert "Ctrl+O" not in taken
    assert "Ctrl+O takes" in undone


async def test_without_repeats_the_key_says_why_it_takes_nothing(tmp_path: Path) -> None:
    """A first job has nothing to go by."""
    context = context_of(tmp_path)
    file = context.library.create(*opened("new"))
    file.close()
    async with driven(context, WalkView(file.path), size=(120, 40)) as d:
        await settled(d)
        await d.press("ctrl+o")
        text, events = d.text, len(context.library.read(file.path).events)
    assert "No figure of your own is on offer" in " ".join(text.split())
    assert events == len(opened("new"))


async def test_a_key_is_not_kept_waiting_by_the_asking(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """While the library is being asked the page takes readings, and leaving ends the asking."""
    held = threading.Event()

    def slow(*_args: object, **_named: object) -> EarlierJobs:
        held.wait(20)
        return EarlierJobs()

    monkeypatch.setattr("cornerwalk.tables.earlier_jobs.earlier_jobs", slow)

    context, path = a_new_job(tmp_path)
    async with driven(context, WalkView(path)) as d:
        await d.key_in("28 5/8", "28 11/16")
        kept = [event.payload for event in context.library.read(path).events]
        held.set()
    assert [what.entered for what in kept if isinstance(what, HeightRead)] == ["28 5/8", "28 11/16"]


async def test_an_answer_while_the_app_is_left_is_let_go(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A page that is being taken down, its parts gone one by one, is not drawn on any more."""
    heard: list[int] = []

    def hear(part: Widget) -> None:
        job_desk = part.app
        assert isinstance(job_desk, JobApp)
        job_desk.earlier_jobs_heard()
        heard.append(len(job_desk.screen_stack))

    for part in (Ruler, Outlook, Panel, Masthead):
        monkeypatch.setattr(part, "on_unmount", hear, raising=False)
    context, path = a_new_job(tmp_path)
    async with driven(context, WalkView(path)) as d:
        await d.key_in("28 5/8")
    assert len(heard) >= 3


async def pages(folder: Path, *, earlier: bool) -> tuple[str, str]:
    """What the pages on air and on sureness say of a new job on the same van."""
    context = context_of(folder)
    if earlier:
        context.library.create(*an_earlier_job()).close()
    path = context.library.create(*opened("new"))
    path.close()
    said: list[str] = []

    async def see(d: Driver, page: str) -> None:
        await d.press(page)
        await d.app.workers.wait_for_complete()
        await d.pilot.pause()
        await d.press("end")
        said.append(d.text)

    async with driven(context, WalkView(path.path)) as d:
        await d.press("f5")
        await see(d, "3")
        await see(d, "5")
    return said[0], said[1]


def test_an_earlier_job_on_the_vehicle_is_a_hint(tmp_path: Path) -> None:
    """The page on air says where the last job began, the page on sureness offers the placing that its repeats show."""
    air, sure = asyncio.run(pages(tmp_path, earlier=True))
    assert "last time on a vehicle of this description" in air
    assert "began at 15 psi" in air
    assert "0.028 in" in sure  # 1/√2 mm = 0.0278 in
    assert "may be taken as the setting" in sure


def test_without_earlier_jobs_nothing_is_said(tmp_path: Path) -> None:
    """A first job is no hint to itself."""
    air, sure = asyncio.run(pages(tmp_path, earlier=False))
    assert "last time" not in air
    assert "puts the tape" not in sure
