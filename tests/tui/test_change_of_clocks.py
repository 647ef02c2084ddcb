"""What a page says over the night in which the clocks are changed, and of a clock that was set back."""

from __future__ import annotations

import asyncio
from datetime import datetime, timedelta, timezone
from pathlib import Path

import pytest

from cornerwalk.assess import assess
from cornerwalk.context import ReplayView, WalkView
from cornerwalk.store import read_session
from cornerwalk.store.check import check_file
from tests.support.clock import FrozenClock
from tests.support.jobs import job_of
from tests.tui.chapters import TRIALS, ask, cut_off, open_chapter, words
from tests.tui.driving import DATA, Driver, context_of, driven

# Offsets in place of a zone's name: not every system has a table of zones. Summer time is an hour further ahead.
SUMMER, WINTER = timezone(timedelta(hours=2)), timezone(timedelta(hours=1))
EVENING = datetime(2026, 10, 24, 20, 0, tzinfo=SUMMER)
MORNING = datetime(2026, 10, 25, 9, 0, tzinfo=WINTER)
"""The hands moved 13 hours; 14 hours have passed."""


class SetClock(FrozenClock):
    """A clock that can be set."""

    def set(self, now: datetime) -> None:
        """Tell this time from now on."""
        self._now = now


async def start_read(d: Driver) -> None:
    await open_chapter(d, "7")
    await ask(d, "leak.both.start")
    await d.key_in("30", "71")
    await d.press("1")


async def end_read(d: Driver) -> str:
    await d.press("f9")
    await d.press("7")
    said = words(d)
    await ask(d, "leak.both.end")
    await d.key_in("29", "50")
    await d.press("1")
    return said + words(d)


def held(folder: Path, begun: datetime, ended: datetime) -> tuple[str, str, Path]:
    """A hold test between two times: what its page says, what the replay's steps say, and the file."""
    clock = SetClock(begun)
    said = []

    async def both() -> None:
        context = context_of(folder, clock)
        path = cut_off(folder, job_of(TRIALS).events)
        said.append(str(path))
        async with driven(context, WalkView(path), size=(80, 40)) as d:
            await start_read(d)
        clock.set(ended)
        async with driven(context, WalkView(path), size=(80, 40)) as d:
            said.append(await end_read(d))
        async with driven(context, ReplayView(path), size=(80, 40)) as d:
            await d.press("end")
            said.append(d.text)

    asyncio.run(both())
    return said[1], said[2], Path(said[0])


def test_a_night_of_thirteen_hours_on_the_clock_is_told_as_fourteen(tmp_path: Path) -> None:
    """How long it held is what has passed, not what the hands moved; the times shown are those of the wall's clock."""
    said, _, path = held(tmp_path, EVENING, MORNING)
    assert "you started 14 h ago" in said
    assert "2026-10-24 20:00" in said
    assert "13 h" not in said
    assert not [finding for finding in check_file(path).findings if "clock" in finding.template]


def test_a_clock_that_was_set_back_claims_no_hold(tmp_path: Path) -> None:
    """An end before its start is no hold test: it passes nothing, and the check of the file tells of the clock."""
    said, replayed, path = held(tmp_path, EVENING, EVENING - timedelta(hours=30))
    assert "psi after not known" in said
    assert "Verdict" not in said
    assert "leak-down test finished" in replayed
    session = read_session(path).session
    found = assess(session, DATA(None))
    assert [check for check in found.verdicts if check.id.startswith("pressure-held")] == []
    assert "test time" in {m.id: m.needs for m in found.not_checked}["pressure-held-both"]
    assert [finding.fields["seconds"] for finding in check_file(path).findings if "clock" in finding.template] == [
        pytest.approx(30 * 3600, abs=60)
    ]
