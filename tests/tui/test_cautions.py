"""Each caution stands at its step, before the step is done, in full and without scrolling; a STOP is loud."""

from __future__ import annotations

from pathlib import Path

import pytest

from cornerwalk.session.checklist import load_checklists
from cornerwalk.session.conditions import answer_check
from cornerwalk.session.events import JointSoaped
from cornerwalk.tui.widgets.rows import RowWidget
from tests.support.jobs import WORKED_CASE
from tests.tui.chapters import BEFORE_AIR, TRIALS, UNLOADED_ONLY, ask, open_chapter, opened, words

CHAPTER_OF_LIST = {"found": "2", "touches": "2", "fitting": "5", "road": "8", "handover": "9"}

IN_LISTS = [
    (group.id, item.id, item.caution) for group in load_checklists().lists for item in group.items if item.caution
]
"""Every caution of the packaged checklists."""

AT_LINES = [
    ("5", "torque:wheel nuts", "The vehicle maker's torque, never ours, with a torque wrench"),
    ("7", "leak.both.start", "Goggles on. Short bursts of air, fingers clear; kit maximum 40 psi."),
    ("8", "stage.road-test", "Goggles on. Short bursts of air, fingers clear; kit maximum 40 psi."),
    ("8", "stage.fitted-unloaded", "Goggles on. Short bursts of air, fingers clear; kit maximum 40 psi."),
]  # fmt: skip
"""Cautions of steps that are no questions of a list: chapter, line, words."""

ON_THE_WALK = [
    (UNLOADED_ONLY, "Nobody between vehicle and trailer while either moves."),
    (UNLOADED_ONLY, "Stay within the ratings on the door label and the hitch."),
    (BEFORE_AIR, "Rated stands on firm ground, never a jack alone. Exhaust may be hot."),
    (BEFORE_AIR, "A coil holds energy: take its load off before any link is freed."),
    (BEFORE_AIR, "Goggles on. Short bursts of air, fingers clear; kit maximum 40 psi."),
    (TRIALS, "Level is not safe: bags raise no rating and take no load off an axle."),
]
"""Cautions of the walk, and the sheet after which their step is next."""

USUAL = [
    ("jack and stands", "Never under a vehicle that only a jack holds"),
    ("spring and control arm under tension", "The coil spring holds enough energy to kill"),
    ("fingers between coils", "Fingers never between the coils while anything can move"),
    ("drilling", "Look behind before drilling"),
    ("hot exhaust", "An exhaust burns long after the engine stops"),
    ("compressed air", "Compressed air: goggles, short bursts"),
    ("wheel torque", "The vehicle maker's torque, never ours"),
    ("brake valve", "STOP. The valve reads a raised body as an empty vehicle"),
    ("ratings", "bags raise no rating"),
]
"""What can hurt somebody in this work; common practice, no source."""


@pytest.mark.parametrize(("list_id", "item_id", "caution"), IN_LISTS, ids=[each[1] for each in IN_LISTS])
async def test_a_caution_of_a_list_stands_at_its_question(
    tmp_path: Path, list_id: str, item_id: str, caution: str
) -> None:
    """In a small window too it is read in one look with the question and its answers, before any answer is given."""
    async with opened(tmp_path, BEFORE_AIR) as d:
        await open_chapter(d, CHAPTER_OF_LIST[list_id])
        await ask(d, item_id)
        for size in ((80, 24), (60, 20)):
            await d.resize(*size)
            seen = words(d)
            assert caution in seen, d.text
            assert "1 yes" in seen, d.text
            assert d.session.answers == ()


@pytest.mark.parametrize(("chapter", "line_id", "caution"), AT_LINES, ids=[each[1] for each in AT_LINES])
async def test_a_caution_stands_at_its_line(tmp_path: Path, chapter: str, line_id: str, caution: str) -> None:
    """Air and torque are warned of wherever they are asked for."""
    async with opened(tmp_path, TRIALS) as d:
        await open_chapter(d, chapter)
        await ask(d, line_id)
        assert caution in words(d), d.text


@pytest.mark.parametrize(("sheet", "caution"), ON_THE_WALK, ids=[each[1][:20] for each in ON_THE_WALK])
async def test_a_caution_of_the_walk_stands_before_its_stage(tmp_path: Path, sheet: str, caution: str) -> None:
    """What can hurt on the way to a stage is told before Enter says that the vehicle is in it."""
    async with opened(tmp_path, sheet) as d:
        assert d.page == "WalkScreen"
        assert caution in " ".join(d.text.split()), d.text


@pytest.mark.parametrize(("danger", "words_of_it"), USUAL, ids=[each[0] for each in USUAL])
def test_every_usual_danger_has_its_caution(danger: str, words_of_it: str) -> None:
    """Nothing that usually hurts people in this work goes without a caution at some step."""
    cautions = [caution for _, _, caution in [*IN_LISTS, *AT_LINES]] + [caution for _, caution in ON_THE_WALK]
    assert any(words_of_it in caution for caution in cautions), danger


async def test_a_stop_is_loud_at_its_question_and_on_the_page_of_the_whole_job(tmp_path: Path) -> None:
    """Answered so that it ends the job, it fills its rows, and it stands wherever the job is looked at."""
    async with opened(tmp_path, BEFORE_AIR) as d:
        await open_chapter(d, "2")
        await d.press("1")
        alarms = [
            "".join(text for _, text in row)
            for row in d.app.screen.query_one("#asker", RowWidget).rows(44)
            if row and row[0][0] == "alarm"
        ]
        assert "STOP." in alarms[0]
        assert "Who decides" in d.text
        await d.press("escape", "f9")
        assert "STOP: Height-sensing brake valve" in d.text


async def test_no_pressure_is_suggested_while_a_brake_valve_forbids_the_springs(tmp_path: Path) -> None:
    """The air page tells the STOP, and neither a pressure to set nor a trial to make."""
    async with opened(tmp_path, TRIALS, answer_check("brake-valve", "yes")) as d:
        await open_chapter(d, "6")
        assert "Fit no helper springs and put no air in" in words(d), d.text
        assert "set 35.7 psi" not in words(d)
        assert "a trial at" not in words(d)
        assert "▲" not in d.text


async def test_bubbles_are_a_stop_whatever_the_gauge_says(tmp_path: Path) -> None:
    """A joint that bubbles fails the check even where the hold test passed."""
    async with opened(tmp_path, WORKED_CASE, JointSoaped(joint="valve", bubbles=True)) as d:
        await open_chapter(d, "7")
        assert "Bubbles at valve: none are allowed." in words(d), d.text
