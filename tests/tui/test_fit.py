"""Everything fits: nothing scrolls at 80 × 24, and no figure or caution is cut at any size."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from cornerwalk.tui.widgets.drawn import Drawn
from cornerwalk.tui.widgets.plan import Plan
from cornerwalk.tui.widgets.vehicle import Vehicle
from tests.tui.driving import LOADED, TRIAL_15, TRIAL_25, UNLOADED, Driver, context_of, new_session, start, walk

WALKED: dict[str, tuple[str, ...]] = {
    "first corner": (),
    "unloaded read": UNLOADED,
    "loaded begun": (*UNLOADED, ""),
    "loaded": (*UNLOADED, "", *LOADED[:3]),
    "loaded read": (*UNLOADED, "", *LOADED),
    "air in": (*UNLOADED, "", *LOADED, "15"),
    "trial": (*UNLOADED, "", *LOADED, "15", *TRIAL_15[:3]),
    "one trial": (*UNLOADED, "", *LOADED, "15", *TRIAL_15),
    "two trials": (*UNLOADED, "", *LOADED, "15", *TRIAL_15, "25", *TRIAL_25),
}
TYPED = {"loaded": LOADED[3], "trial": TRIAL_15[3], "first corner": "28 15/16", "loaded read": "40"}


@pytest.mark.parametrize("state", WALKED)
@pytest.mark.parametrize("facts", ["all", "none"])
def test_the_walk_fits_80_by_24(tmp_path: Path, state: str, facts: str) -> None:
    """At every step of the walk, with a text typed or without, there is nothing to scroll to."""

    async def act(d: Driver) -> None:
        await d.key_in(*WALKED[state])
        assert d.app.screen.max_scroll_y == 0
        if state in TYPED:
            await d.type(TYPED[state])
            assert d.app.screen.max_scroll_y == 0

    walk(tmp_path, act, facts=None if facts == "all" else {})


@pytest.mark.parametrize("size", [(80, 24), (60, 20), (40, 24), (120, 40)])
@pytest.mark.parametrize("state", ["loaded", "loaded read", "two trials"])
def test_no_text_is_clipped(tmp_path: Path, size: tuple[int, int], state: str) -> None:
    """Every word of every widget is on the screen or a scroll away: no row is wider than its widget, none is cut."""

    async def act(d: Driver) -> None:
        await d.key_in(*WALKED[state])
        await d.type(TYPED.get(state, ""))
        _nothing_clipped(d)
        for keys in (("escape", "f4"), ("escape", "f5"), ("2",), ("3",), ("4",), ("5",), ("escape", "f1")):
            await d.press(*keys)
            _nothing_clipped(d)

    walk(tmp_path, act, size=size)


def _nothing_clipped(d: Driver) -> None:
    for widget in d.app.screen.query(Drawn):
        if not widget.display or not widget.size or widget.id == "too-small":
            continue
        rows = widget.rows(widget.size.width)
        texts = ["".join(text for _, text in row).rstrip() for row in rows]
        assert max(map(len, texts), default=0) <= widget.size.width, widget
        assert len([t for t in texts if t]) <= widget.size.height or not any(texts[widget.size.height :]), widget
        if not isinstance(widget, Plan | Vehicle):
            cut = [text for text in texts if re.search(r"\d…|…\d", text)]
            assert not cut, (widget, cut)


@pytest.mark.parametrize("size", [(80, 24), (60, 20), (40, 24)])
def test_a_long_name_gives_way_to_what_is_kept(tmp_path: Path, size: tuple[int, int]) -> None:
    """Whatever a job is called, when the last reading was kept can be read in full."""

    async def act(d: Driver) -> None:
        await d.key_in("28 5/8")
        assert "kept 08:12:31" in d.text.splitlines()[0]

    walk(tmp_path, act, size=size, facts={"job.title": "W" * 200})


def test_the_start_page_fits(tmp_path: Path) -> None:
    """All choices are in sight."""
    context = context_of(tmp_path)
    new_session(context)

    async def act(d: Driver) -> None:
        for number in "1234":
            assert re.search(rf" {number}  \w", d.text)

    start(context, act)


def test_metric_figures_fit_too(tmp_path: Path) -> None:
    """Millimetres and kilopascals are longer; still nothing scrolls."""
    heights = ("727", "728,5", "741", "743", "", "733,5", "735", "701,5", "705", "105", "733", "735", "718", "721")

    async def act(d: Driver) -> None:
        await d.key_in(*heights)
        assert d.app.screen.max_scroll_y == 0
        assert "kPa" in d.text

    facts = {"job.unit": "mm", "vehicle.wheelbase": "3023 mm", "kit.max": "240 kPa", "vehicle.lamp_ahead": "787 mm"}
    walk(tmp_path, act, facts=facts)
