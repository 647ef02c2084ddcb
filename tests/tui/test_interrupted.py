"""Cut off after anything that was called kept, and started again: nothing is lost, and the same question is asked."""

from __future__ import annotations

import asyncio
from pathlib import Path

import pytest

from cornerwalk.context import WalkView
from cornerwalk.job.cursor import line_of
from cornerwalk.session import RecordedEvent, fold
from cornerwalk.session.events import (
    CheckAnswered,
    FactStated,
    HandedOver,
    HeightRead,
    JobReopened,
    JointSoaped,
    LeakRead,
    LoadStated,
    StageBegun,
    TorqueRecorded,
    WeighingRecorded,
)
from cornerwalk.session.stages import _STAGE_KINDS, ChapterId
from cornerwalk.tui.screens.chapter import ChapterScreen
from tests.tui.chapters import LISTS, cut_off
from tests.tui.driving import Driver, context_of, driven
from tests.tui.whole_job import whole_job

DIGITS: dict[ChapterId, str] = {
    "intake": "1", "before": "2", "unloaded": "3", "loaded": "4", "fitting": "5",
    "air": "6", "leak": "7", "road": "8", "handover": "9", "follow-up": "0",
}  # fmt: skip
LIST_OF = {item.id: group.id for group in LISTS.lists for item in group.items}
CHAPTER_OF_LIST: dict[str, ChapterId] = {
    "found": "before", "touches": "before", "fitting": "fitting", "road": "road", "handover": "handover",
}  # fmt: skip


def chapter_of(event: RecordedEvent) -> ChapterId:
    """The chapter in which this happened."""
    match event.payload:
        case HeightRead(stage=stage) | StageBegun(stage=stage):
            return _STAGE_KINDS[stage].chapter
        case CheckAnswered(stage=stage) if stage is not None:
            return _STAGE_KINDS[stage].chapter
        case CheckAnswered(check=check):
            return CHAPTER_OF_LIST[LIST_OF[check]]
        case TorqueRecorded():
            return "fitting"
        case LeakRead() | JointSoaped():
            return "leak"
        case HandedOver():
            return "handover"
        case JobReopened():
            return "follow-up"
        case FactStated(name=name) if name.startswith("leak."):
            return "leak"
        case FactStated(name="service.retorque_distance"):
            return "fitting"
        case FactStated() | LoadStated() | WeighingRecorded():
            return "intake"
        case _:
            raise AssertionError(event.payload)


async def where(d: Driver, following: RecordedEvent) -> None:
    """The question that was answered next stands on the page that asked it."""
    what = following.payload
    if isinstance(what, HeightRead) and what.how == "first":
        assert d.page == "WalkScreen"
        assert (
            what.corner in d.said
            or {"LF": "Left front", "RF": "Right front", "RR": "Right rear", "LR": "Left rear"}[what.corner] in d.said
        ), d.text
        return
    if isinstance(what, CheckAnswered) and what.stage is not None:
        await d.press("f10")
    else:
        await d.press("f9", DIGITS[chapter_of(following)])
    if isinstance(what, StageBegun) and d.page in ("WalkScreen", "AirScreen"):
        return
    page = d.app.screen
    assert isinstance(page, ChapterScreen), d.text
    assert page.course.line is not None, d.text
    stage = (what.stage, what.number or 1) if isinstance(what, CheckAnswered) and what.stage else None
    wanted = {line_of(what, stage), *(("as before",) if stage else ())}
    wanted |= {"load.add"} if isinstance(what, LoadStated) else set()
    wanted |= {"handover"} if isinstance(what, HandedOver) else set()
    wanted |= {"reopen"} if isinstance(what, JobReopened) else set()
    ids = [line.id for line in page.course.lines]
    here = page.course.line.id
    passed = ids[ids.index(here) :] if here in ids else []
    assert wanted & {here, *passed}, f"{wanted} is asked no more; {here} is:\n{d.text}"


def places() -> list[int]:
    """Every number of events at which the program may be cut off."""
    return sorted(set(whole_job().kept))


async def started_again(folder: Path, number: int) -> None:
    """Start on the file as it was after so many events, and look for the question that was answered next."""
    events = whole_job().events
    folder.mkdir()
    async with driven(context_of(folder), WalkView(cut_off(folder, events[:number]))) as d:
        assert len(d.events) == number
        assert d.session == fold(events[:number])
        if number < len(events):
            await where(d, events[number])


def test_after_every_tenth_event_the_same_question_is_asked_again(tmp_path: Path) -> None:
    """A quick look at what the slow test below says of every event."""
    for number in places()[::10]:
        asyncio.run(started_again(tmp_path / str(number), number))


@pytest.mark.slow
def test_after_every_event_the_same_question_is_asked_again(tmp_path: Path) -> None:
    """The program is killed after each event in turn; the next start has all of them and asks what was asked."""
    for number in places():
        asyncio.run(started_again(tmp_path / str(number), number))
