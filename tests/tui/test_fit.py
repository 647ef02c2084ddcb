"""Everything fits: nothing scrolls at 80 × 24, and no figure or caution is cut at any size."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from cornerwalk.tui.widgets.plan import Plan
from cornerwalk.tui.widgets.rows import RowWidget
from cornerwalk.tui.widgets.vehicle import VehicleArt
from tests.tui.driving import LOADED, TRIAL_15, TRIAL_25, UNLOADED, Driver, context_of, new_session, start, walk

WHOLE_WALK = (*UNLOADED, "", *LOADED, "15", *TRIAL_15, "25", *TRIAL_25)
"""What is typed from the first corner to the end of the second trial."""

WALKED: dict[str, tuple[str, ...]] = {
    "loaded": (*UNLOADED, "", *LOADED[:3]),
    "loaded read": (*UNLOADED, "", *LOADED),
    "two trials": WHOLE_WALK,
}
TYPED = {"loaded": LOADED[3], "loaded read": "45"}
"""Where the walk stands, and what stands typed there."""


@pytest.mark.parametrize("facts", ["all", "none"])
async def test_the_walk_fits_80_by_24(tmp_path: Path, facts: str) -> None:
    """At every step of the walk, with a text typed or without, there is nothing to scroll to."""
    async with walk(tmp_path, facts=None if facts == "all" else {}) as d:
        assert d.app.screen.max_scroll_y == 0
        for text in WHOLE_WALK:
            if text == "15":
                await d.type("45")
                assert d.app.screen.max_scroll_y == 0, d.text
                await d.press("backspace", "backspace")
            await d.type(text)
            assert d.app.screen.max_scroll_y == 0, d.text
            await d.key_in("")
            assert d.app.screen.max_scroll_y == 0, d.text
        assert len(d.readings) == len(UNLOADED + LOADED + TRIAL_15 + TRIAL_25)


SIZES = ((80, 24), (60, 20), (40, 24), (120, 40))


@pytest.mark.parametrize("state", WALKED)
async def test_no_text_is_clipped(tmp_path: Path, state: str) -> None:
    """Every word of every widget is on the screen or a scroll away: no row is wider than its widget, none is cut."""
    async with walk(tmp_path) as d:
        await d.key_in(*WALKED[state])
        await d.type(TYPED.get(state, ""))
        for keys in ((), ("escape", "f4"), ("escape", "f5"), ("2",), ("3",), ("4",), ("5",), ("escape", "f1")):
            await d.press(*keys)
            for size in SIZES:
                await d.resize(*size)
                _nothing_clipped(d)


def _nothing_clipped(d: Driver) -> None:
    for widget in d.app.screen.query(RowWidget):
        if not widget.display or not widget.size or widget.id == "too-small":
            continue
        rows = widget.rows(widget.size.width)
        texts = ["".join(text for _, text in row).rstrip() for row in rows]
        assert max(map(len, texts), default=0) <= widget.size.width, widget
        assert len([t for t in texts if t]) <= widget.size.height or not any(texts[widget.size.height :]), widget
        if not isinstance(widget, Plan | VehicleArt):
            cut = [text for text in texts if re.search(r"\d…|…\d", text)]
            assert not cut, (widget, cut)


async def test_a_long_name_gives_way_to_what_is_kept(tmp_path: Path) -> None:
    """Whatever a job is called, when the last reading was kept can be read in full."""
    async with walk(tmp_path, facts={"job.title": "W" * 200}) as d:
        await d.key_in("28 5/8")
        for size in SIZES:
            await d.resize(*size)
            assert "kept 08:12:31" in d.text.splitlines()[0]


async def test_the_start_page_fits(tmp_path: Path) -> None:
    """All choices are in sight."""
    context = context_of(tmp_path)
    new_session(context)
    async with start(context) as d:
        for number in "1234":
            assert re.search(rf" {number}  \w", d.text)


async def test_metric_figures_fit_too(tmp_path: Path) -> None:
    """Millimetres and kilopascals are longer; still nothing scrolls."""
    heights = ("727", "728,5", "741", "743", "", "733,5", "735", "701,5", "705", "105", "733", "735", "718", "721")
    facts = {"job.unit": "mm", "vehicle.wheelbase": "3023 mm", "kit.max": "240 kPa", "vehicle.lamp_ahead": "787 mm"}
    async with walk(tmp_path, facts=facts) as d:
        await d.key_in(*heights)
        assert d.app.screen.max_scroll_y == 0
        assert "kPa" in d.text
