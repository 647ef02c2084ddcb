"""Every page around the heights, as it stands on three sizes of terminal; and on none of them is anything cut."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import pytest
from textual.containers import VerticalScroll

from cornerwalk.context import WalkView
from cornerwalk.session import RecordedEvent
from cornerwalk.session.conditions import answer_check
from cornerwalk.session.events import Event, LeakRead
from cornerwalk.session.walk import hand_over
from cornerwalk.tui.widgets.air_plot import AirPlot
from cornerwalk.tui.widgets.plan import Plan
from cornerwalk.tui.widgets.rows import RowWidget
from cornerwalk.tui.widgets.side import Side
from tests.support.clock import FrozenClock
from tests.support.jobs import SEPARATE_LINES, WORKED_CASE, job_of
from tests.support.snapshots import SnapshotText
from tests.tui.chapters import cut_off
from tests.tui.driving import Driver, context_of, driven

SIZES = ((80, 24), (120, 40), (60, 20))
NARROW = (40, 24)

BEFORE_AIR = WORKED_CASE.partition('[[stage]]\nname = "fitted"')[0]
TRIALS = WORKED_CASE.partition("[leak]")[0]
"""Sheets of the worked case, broken off before the springs, and before the hold test."""

BRAKE_VALVE: tuple[Event, ...] = (answer_check("brake-valve", "yes", "asks the maker"),)
HOLDING: tuple[Event, ...] = (
    LeakRead(
        moment="start",
        line="both",
        pressure_entered="30 psi",
        pressure_kPa=206.843,
        temperature_entered="71 °F",
        temperature_C=21.667,
        read_at="2026-05-03T15:12:31-06:00",
        loaded=True,
    ),
)
HANDED: tuple[Event, ...] = hand_over(job_of("").session, "Z. A.", {}, "0.1.0")


@dataclass(frozen=True, slots=True)
class Shown:
    """A page: the sheet and what happened after it, the keys that lead there, the page's class."""

    sheet: str
    keys: tuple[str, ...]
    page: str
    more: tuple[Event, ...] = ()


PAGES: dict[str, Shown] = {
    "whole job, new": Shown('[job]\ntitle = "Just opened"\n', ("f9",), "WholeJobScreen"),
    "whole job": Shown(WORKED_CASE, ("f9",), "WholeJobScreen", BRAKE_VALVE),
    "intake": Shown(BEFORE_AIR, ("f9", "1"), "chapter intake"),
    "intake, a load": Shown(TRIALS, ("f9", "1"), "chapter intake"),
    "before": Shown(BEFORE_AIR, ("f9", "2"), "chapter before"),
    "before, stopped": Shown(BEFORE_AIR, ("f9", "2", "up"), "chapter before", BRAKE_VALVE),
    "fitting": Shown(BEFORE_AIR, ("f9", "5", "down"), "chapter fitting"),
    "air, no trial": Shown(BEFORE_AIR, ("f9", "6"), "AirScreen"),
    "air": Shown(TRIALS, ("f9", "6"), "AirScreen"),
    "air, what if": Shown(TRIALS, ("f9", "6", "right", "right", "up"), "AirScreen"),
    "air, over the maximum": Shown(TRIALS, ("f9", "6", "4", "5", "enter"), "AirScreen"),
    "air, two lines": Shown(SEPARATE_LINES, ("f9", "6"), "AirScreen"),
    "leak, holding": Shown(TRIALS, ("f9", "7"), "chapter leak", HOLDING),
    "leak": Shown(WORKED_CASE, ("f9", "7"), "chapter leak"),
    "road": Shown(TRIALS, ("f9", "8"), "chapter road"),
    "handover": Shown(WORKED_CASE, ("f9", "9", *["pagedown"] * 3), "chapter handover", BRAKE_VALVE),
    "follow-up": Shown(WORKED_CASE, ("f9", "0"), "chapter follow-up", HANDED),
    "stage": Shown(TRIALS, ("f10",), "StageScreen"),
    "side": Shown(TRIALS, ("f12",), "SideScreen"),
    "side, in blocks": Shown(TRIALS, ("f12", "f6"), "SideScreen"),
    "side, nothing yet": Shown('[job]\ntitle = "Just opened"\n', ("f12",), "SideScreen"),
    "sheet": Shown(WORKED_CASE, ("f9", *["down"] * 8, "enter"), "SheetScreen", HANDED),
}


WITHOUT_A_LINE = frozenset({"sheet"})
"""Pages to read, without a line in hand: the sign stands before what a finding says to do."""


@cache
def events_of(name: str) -> tuple[RecordedEvent, ...]:
    """The job that a page is shown of."""
    return job_of(PAGES[name].sheet, *PAGES[name].more).events


async def on_page(d: Driver, shown: Shown) -> None:
    """Press the keys, and be there."""
    for key in shown.keys:
        await d.press(key)
    assert d.page == shown.page, d.text


@pytest.mark.parametrize("name", PAGES)
async def test_a_page_looks_as_agreed_and_nothing_on_it_is_cut(
    tmp_path: Path, name: str, snapshot_text: SnapshotText
) -> None:
    """What stands on the page, in a usual, a large and a small window: a change is seen and agreed to.

    In none of them, nor in a narrow one, is a row wider than its widget or does a figure end in an ellipsis, and what
    is not in sight can be scrolled to. The line in hand stays in sight when the window changes.
    """
    async with driven(context_of(tmp_path, FrozenClock()), WalkView(cut_off(tmp_path, events_of(name)))) as d:
        await on_page(d, PAGES[name])
        in_hand = d.text.count("▸")
        for size in SIZES:
            await d.resize(*size)
            # How far down a scroll bar stands hangs on how long the page is, which is no business of a look.
            seen = re.sub("[▁▂▃▄▅▆▇]+$", "", d.text, flags=re.MULTILINE)
            snapshot_text(seen, "x".join(map(str, size)))
            _nothing_is_cut(d, size)
            assert name in WITHOUT_A_LINE or d.text.count("▸") == in_hand, d.text
        await d.resize(*NARROW)
        _nothing_is_cut(d, NARROW)
        if "f6" in PAGES[name].keys:
            await d.press("f6")  # the characters of drawings are chosen for every page: put them back


def _nothing_is_cut(d: Driver, size: tuple[int, int]) -> None:
    for widget in d.app.screen.query(RowWidget):
        if not widget.display or not widget.size or widget.id == "too-small":
            continue
        texts = _texts(widget)
        assert max(map(len, texts), default=0) <= widget.size.width, (widget, size)
        if isinstance(widget, Plan | Side | AirPlot):
            continue
        cut = [text for text in texts if re.search(r"\d…|…\d", text)]
        assert not cut, (widget, size, cut)
        assert not any(texts[widget.size.height :]), (widget, size, d.text)
        assert _in_sight_or_scrolled_to(widget, size), (widget, widget.region, size, d.text)


def _texts(widget: RowWidget) -> Sequence[str]:
    return ["".join(text for _, text in row).rstrip() for row in widget.rows(widget.size.width)]


def _in_sight_or_scrolled_to(widget: RowWidget, size: tuple[int, int]) -> bool:
    """All of the widget is within the window, or within a part of the page that scrolls and has room to scroll in."""
    above = [node for node in widget.ancestors if isinstance(node, VerticalScroll) and node.display]
    if above:
        return above[0].size.height > 0
    return widget.region.y >= 0 and widget.region.bottom <= size[1] and widget.region.right <= size[0]
