"""The way of a newcomer from the start page to the customer's sheet, key by key, as the guide's table counts it."""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import Path

from cornerwalk.guide import page
from cornerwalk.session import fold
from tests.tui.driving import LOADED, PLAIN_KEYS, TRIAL_15, UNLOADED, context_of, start

COMMAND = "cornerwalk"
NAMED = {"Enter": "enter", "Esc": "escape", "F4": "f4", "F9": "f9"}
"""Keys that the table names; every other word of it is typed character by character."""


def typed(*lines: str) -> list[str]:
    """The keys of these lines, with Enter after each."""
    return [key for line in lines for key in (*(PLAIN_KEYS.get(each, each) for each in line), "enter")]


STEPS: tuple[tuple[str, list[str]], ...] = (
    ("start the program", typed(COMMAND)),
    ("a new job", ["1", "enter"]),
    ("the wheelbase, for tilt and beam", ["f4", *typed("119"), "escape"]),
    ("four heights unloaded", typed(*UNLOADED)),
    ("start the next stage", ["enter"]),
    ("four heights loaded", typed(*LOADED)),
    ("start the trial, by its pressure", typed("15")),
    ("four heights with the bags in", typed(*TRIAL_15)),
    ("the job, its handover", ["f9", "9", "enter"]),
    ("seven things told the customer", ["1"] * 7),
    ("hand over: the copy is on the screen", ["enter", "1"]),
)
HEIGHTS = ("four heights unloaded", "four heights loaded", "four heights with the bags in")


async def test_a_newcomer_reaches_the_customers_sheet(tmp_path: Path) -> None:
    """With exactly these keys the twelve readings are kept, the job is handed over and the sheet is shown."""
    async with start(context_of(tmp_path)) as d:
        for _, keys in STEPS[1:]:
            await d.press(*keys)
        session = fold(d.events)
        assert [stage.name for stage in session.stages] == ["unloaded", "loaded", "fitted"]
        assert all(stage.all_read for stage in session.stages)
        assert len(d.readings) == 12
        assert session.vehicle.wheelbase_mm == 119 * 25.4
        assert not session.open
        assert d.page == "SheetScreen"


def test_twelve_readings_take_the_digits_and_enter_and_nothing_else() -> None:
    """Between the stages no key is pressed but those of the heights themselves; a stage begins with Enter alone."""
    steps = dict(STEPS)
    allowed = {*"0123456789", "space", "slash", "enter"}
    for name in HEIGHTS:
        assert set(steps[name]) <= allowed
        assert steps[name].count("enter") == 4
    assert steps["start the next stage"] == ["enter"]


def test_the_guide_says_how_many_keys_it_takes() -> None:
    """Every row of the table has the keys and the count of the way that is driven above, and so has the sum."""
    rows = re.findall(r"^\| ([^|]+) \| (\d+) \| ([^|]+) \|$", page("start").text, re.MULTILINE)
    assert [(step, int(count)) for step, count, _ in rows[:-1]] == [(step, len(keys)) for step, keys in STEPS]
    for (_, keys), (_, _, told) in zip(STEPS, rows, strict=False):
        if "…" not in told:
            assert _keys_told(told) == keys
    name, count, _ = rows[-1]
    assert (name, int(count)) == ("together", sum(len(keys) for _, keys in STEPS))


def _keys_told(told: str) -> Sequence[str]:
    keys: list[str] = []
    for word in told.split(" "):
        word, _, times = word.partition("×")
        one = [NAMED[word]] if word in NAMED else list(word)
        keys += one * int(times or 1)
    return keys
