"""What large windows show more of, and what narrow ones do to a table."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from rich.cells import cell_len

from cornerwalk.report.document import Table
from cornerwalk.session.events import StageBegun
from cornerwalk.tui.widgets.paper import Paper
from cornerwalk.tui.widgets.side import Side
from tests.tui.chapters import BEFORE_AIR, TRIALS, opened
from tests.tui.driving import LOADED, UNLOADED, Driver, walk


def view(d: Driver) -> str:
    """What the side view of the page shows."""
    shown = [side for side in d.app.screen.query(Side) if side.is_on_screen]
    return "\n".join("".join(text for _, text in row) for side in shown for row in side.rows(side.size.width))


async def test_the_side_view_moves_with_what_is_typed(tmp_path: Path) -> None:
    """From 110 x 38 on it stands beside the plan and shows the stage in hand as it would be if kept."""
    async with walk(tmp_path, size=(120, 40)) as d:
        await d.key_in(*UNLOADED, "", *LOADED[:3])
        assert "last read: unloaded ·" in view(d), "the stage that can be drawn last, and said to be that"
        assert "unchanged" not in view(d), "what all is counted from did not stand still: the front is up by now"
        await d.type(LOADED[3])
        await d.pilot.pause()
        assert "loaded against unloaded ·" in view(d)
        assert "rear down 1 9/16" in view(d)
        await d.press(*["backspace"] * len(LOADED[3]))
        await d.pilot.pause()
        assert "against" not in view(d), "what is not kept goes with the text"


async def test_it_comes_and_goes_with_the_window(tmp_path: Path) -> None:
    """A window made larger has it at once; a usual one has none."""
    async with walk(tmp_path) as d:
        await d.key_in(*UNLOADED)
        assert not view(d)
        await d.resize(120, 40)
        await d.pilot.pause()
        assert "unloaded ·" in view(d)
        assert "last read" not in view(d), "the next stage was not begun"


async def test_a_stage_with_air_is_told_by_its_name_unless_it_is_a_trial(tmp_path: Path) -> None:
    """In the line of stages: a trial by its pressure, the road test as what it is."""
    async with opened(
        tmp_path, TRIALS, StageBegun(stage="road-test", pressure_kPa=25 * 6.894757293168, pressure_entered="25 psi")
    ) as d:
        assert "25 psi ✓" in d.text
        assert "road test 25 psi" in d.text, d.text.splitlines()[1]


ROWS = (("no height- or load-sensing brake valve", "0.02 in ± 0.05", "28 15/16 in", "pass"),) * 3


@pytest.mark.parametrize("width", range(20, 130, 3))
def test_no_figure_of_a_table_is_broken(width: int) -> None:
    """At any width a figure, its unit and its ± stand on one line, and no line is wider than the page."""
    paper = Paper()
    paper._blocks = (Table(("check", "value", "limit", "verdict"), ROWS),)
    rows = paper.rows(width)
    text = "\n".join("".join(part for _, part in row) for row in rows)
    assert len(re.findall(r"0\.02 in ± 0\.05", text)) == len(ROWS)
    assert len(re.findall(r"28 15/16 in", text)) == len(ROWS)
    assert all(cell_len(line.rstrip()) <= width for line in text.split("\n"))


async def test_what_to_do_stands_apart_from_the_fact(tmp_path: Path) -> None:
    """Every finding's action has its pointer, in the part of what is due; the fact above it has neither."""
    async with opened(tmp_path, BEFORE_AIR) as d:
        await d.press("f5")
        paper = d.app.screen.query_one(Paper)
        rows = paper.rows(paper.size.width)
        actions = [row for row in rows if any(part == "due" and "▸" in text for part, text in row)]
        findings = [row for row in rows if any(part in ("caution", "alarm") for part, _ in row)]
        assert len(actions) >= len(findings) > 0
