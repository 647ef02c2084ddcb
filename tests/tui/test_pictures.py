"""What the pages of the walk show, as text, at three sizes: a change is seen and agreed to before it is kept."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.support.snapshots import SnapshotText
from tests.tui.driving import LOADED, TRIAL_15, TRIAL_25, UNLOADED, Driver, context_of, start, walk

SIZES = [(80, 24), (120, 40), (60, 20)]

SCENES: dict[str, tuple[tuple[str, ...], str, tuple[str, ...]]] = {
    "first corner": ((), "", ()),
    "first corner typed": ((), "28 5/8", ()),
    "between stages": (UNLOADED, "", ()),
    "fourth corner typed": ((*UNLOADED, "", *LOADED[:3]), LOADED[3], ()),
    "pressure asked": ((*UNLOADED, "", *LOADED), "", ()),
    "over the maximum": ((*UNLOADED, "", *LOADED, "45"), "", ()),
    "trial": ((*UNLOADED, "", *LOADED, "15", *TRIAL_15[:2]), TRIAL_15[2], ()),
    "all read": ((*UNLOADED, "", *LOADED, "15", *TRIAL_15, "25", *TRIAL_25), "", ()),
    "far value": (("28 5/8", "38 11/16"), "", ()),
    "read again": (("28 5/8",), "", ("up",)),
    "skip": (("28 5/8",), "", ("f7",)),
    "another stage": (UNLOADED, "", ("f8",)),
    "form": (UNLOADED, "", ("f4",)),
    "findings": ((*UNLOADED, "", *LOADED, "15", *TRIAL_15), "", ("f5",)),
    "help": ((), "", ("f1",)),
}
"""What was typed with Enter, what stands typed, the keys after it."""


async def look_at_every_size(d: Driver, snapshot_text: SnapshotText, name: str = "") -> None:
    """The page as it stands, in one window after the other."""
    for columns, lines in SIZES:
        await d.resize(columns, lines)
        snapshot_text(d.text, f"{name}{'.' if name else ''}{columns}x{lines}")


@pytest.mark.parametrize("scene", SCENES)
async def test_a_scene_looks_as_agreed(tmp_path: Path, scene: str, snapshot_text: SnapshotText) -> None:
    """The walk of an invented vehicle, step by step."""
    entered, typed, keys = SCENES[scene]
    async with walk(tmp_path) as d:
        await d.key_in(*entered)
        await d.type(typed)
        await d.press(*keys)
        await look_at_every_size(d, snapshot_text)


async def test_the_start_looks_as_agreed(tmp_path: Path, snapshot_text: SnapshotText) -> None:
    """The first page, and the one for a new job."""
    async with start(context_of(tmp_path)) as d:
        await look_at_every_size(d, snapshot_text, "start")
        await d.press("1")
        await look_at_every_size(d, snapshot_text, "new job")
