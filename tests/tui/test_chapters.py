"""Chapters answered line by line: one question at a time, kept at once, left or taken out at will."""

from __future__ import annotations

from pathlib import Path

import pytest

from cornerwalk.session.events import (
    CheckAnswered,
    FactStated,
    NoteWritten,
)
from tests.tui.chapters import NEW, TRIALS, ask, last, line, open_chapter, opened, words
from tests.tui.driving import LOADED, UNLOADED

# ---- checklists ----


@pytest.mark.parametrize(
    ("key", "answer"),
    [("y", "yes"), ("1", "yes"), ("kp_1", "yes"), ("n", "no"), ("2", "no"), ("minus", "not checked"),
     ("3", "not checked"), ("4", "not fitted"), ("5", "referred"), ("6", "customer declined")],
)  # fmt: skip
async def test_one_key_answers(tmp_path: Path, key: str, answer: str) -> None:
    """By letter, by digit or on the number pad, without Enter, and the answer is kept at once."""
    async with opened(tmp_path, NEW) as d:
        await open_chapter(d, "2")
        await ask(d, "lamp-sensors")
        await d.press(key)
        what = last(d)
        assert isinstance(what, CheckAnswered)
        assert (what.check, what.answer, what.stage) == ("lamp-sensors", answer, None)


async def test_a_key_that_is_no_answer_records_nothing_and_says_which_are(tmp_path: Path) -> None:
    """There is no "not fitted" for a brake valve."""
    async with opened(tmp_path, NEW) as d:
        await open_chapter(d, "2")
        before = d.events
        await d.press("4", "x")
        assert d.events == before
        assert "Choose by number: 1 yes, 2 no" in words(d)


async def test_an_answer_as_hoped_goes_on_and_another_asks_what_was_found(tmp_path: Path) -> None:
    """No sag: the next question. A leaking damper: what was found, kept with the answer."""
    async with opened(tmp_path, NEW) as d:
        await open_chapter(d, "2")
        await ask(d, "sag-before")
        await d.press("2")
        assert line(d) == "dampers"
        await d.press("1")
        assert "What was found?" in words(d)
        await d.key_in("left rear weeps, picture 3")
        what = last(d)
        assert isinstance(what, CheckAnswered)
        assert (what.check, what.answer, what.note) == ("dampers", "yes", "left rear weeps, picture 3")
        assert line(d) == "bushes"


async def test_a_clearance_asks_for_its_gap_whatever_the_answer(tmp_path: Path) -> None:
    """Loaded and empty, the smallest gap goes on record: the usual ways a bag dies are in it."""
    async with opened(tmp_path, TRIALS) as d:
        await open_chapter(d, "8")
        for check, gap in (("clearance-loaded", "5/8 in"), ("clearance-unloaded", "1 in")):
            await ask(d, check)
            await d.press("1")
            await d.key_in(gap)
            what = last(d)
            assert isinstance(what, CheckAnswered)
            assert (what.check, what.answer, what.note) == (check, "yes", gap)


async def test_enter_alone_leaves_a_question_and_says_what_that_costs(tmp_path: Path) -> None:
    """Nothing is recorded of a question passed over, and before it is passed over its price is read."""
    async with opened(tmp_path, NEW) as d:
        await open_chapter(d, "2")
        before = d.events
        assert "Left out, it stands as not checked" in words(d)
        await d.press("enter")
        assert line(d) == "lamp-sensors"
        assert d.events == before


async def test_f3_writes_a_note_beside_the_question_in_hand(tmp_path: Path) -> None:
    """With its answer where it has one; the question stays."""
    async with opened(tmp_path, NEW) as d:
        await open_chapter(d, "2")
        await ask(d, "alignment")
        await d.press("1")
        await d.press("up")
        await d.press("f3")
        await d.key_in("booked for Friday")
        what = last(d)
        assert isinstance(what, CheckAnswered)
        assert (what.check, what.answer, what.note) == ("alignment", "yes", "booked for Friday")
        await open_chapter(d, "1")
        await d.press("f3")
        await d.key_in("calls back at noon")
        assert isinstance(last(d), NoteWritten)


async def test_undo_takes_an_answer_back_and_the_question_is_open_again(tmp_path: Path) -> None:
    """F2 works in a chapter as it does on the walk."""
    async with opened(tmp_path, NEW) as d:
        await open_chapter(d, "2")
        await d.press("2")
        assert d.session.answers
        await d.press("f2")
        assert d.session.answers == ()
        await d.press("up")
        assert line(d) == "brake-valve"


async def test_the_shops_own_list_takes_the_place_of_the_packaged_one(tmp_path: Path) -> None:
    """A list in the shop's folder is asked; one that cannot be read is named and the packaged one asked."""
    lists = tmp_path / "own" / "checklists"
    lists.mkdir(parents=True)
    (lists / "4-fitting.toml").write_text(
        'id = "fitting"\ntitle = "Our fitting"\n[[item]]\nid = "ramp"\nquestion = "Ramp arms locked?"\n', "utf-8"
    )
    async with opened(tmp_path / "own", TRIALS) as d:
        await open_chapter(d, "5")
        assert "Ramp arms locked?" in words(d)
    lists = tmp_path / "broken" / "checklists"
    lists.mkdir(parents=True)
    (lists / "4-fitting.toml").write_text('id = "fitting"\n', "utf-8")
    async with opened(tmp_path / "broken", TRIALS) as d:
        await open_chapter(d, "5")
        assert "4-fitting.toml was not used" in words(d)
        assert line(d) == "stands"


# ---- conditions of a stage ----


async def test_conditions_belong_to_the_stage_and_a_change_is_flagged(tmp_path: Path) -> None:
    """Answered again as before with one key; changed, the line and the page say so, and so do the results."""
    async with opened(tmp_path, NEW) as d:
        await d.press("f10")
        await ask(d, "driver")
        await d.press("2")
        assert line(d) == "doors-closed"
        await d.press("escape")
        await d.key_in(*UNLOADED, "")
        await d.press("f10")
        assert line(d) == "as before"
        await d.press("1")
        given = [(a.check, a.answer, a.stage) for a in d.session.answers]
        assert given == [("driver", "no", ("unloaded", 1)), ("driver", "no", ("loaded", 1))]
        await ask(d, "driver")
        await d.press("1")
        await d.press("up")
        assert "CHANGED: no at unloaded" in words(d)
        assert "Changed since an earlier stage: driver." in words(d)
        assert d.app.job is not None
        assert "condition-changed" in [finding.code for finding in d.app.job.assessment.findings]
        await d.press("pageup")
        assert "At this stage: unloaded" in d.text


async def test_a_mark_and_a_dial_are_kept_with_their_stage(tmp_path: Path) -> None:
    """Below is negative, in words or by sign; the dial is kept as it stands on it."""
    async with opened(tmp_path, NEW) as d:
        await d.key_in(*UNLOADED, "", *LOADED)
        await d.press("f10")
        await ask(d, "mark")
        await d.type("2 1/8 below")
        assert "2.12 in below the lamp's height" in words(d)
        await d.press("enter")
        await ask(d, "leveller")
        await d.key_in("1")
        stage = d.session.first_stage("loaded")
        assert stage is not None
        assert stage.mark_mm == pytest.approx(-2.125 * 25.4)
        assert stage.leveller == "1"


# ---- the page of the whole job ----


async def test_every_chapter_and_page_opens_by_its_key_and_enter(tmp_path: Path) -> None:
    """Digits open chapters; arrows and Enter open whatever is marked, the pages to look at included."""
    chapters = {
        "1": "chapter intake", "2": "chapter before", "3": "WalkScreen", "4": "WalkScreen", "5": "chapter fitting",
        "6": "AirScreen", "7": "chapter leak", "8": "chapter road", "9": "chapter handover", "0": "chapter follow-up",
    }  # fmt: skip
    looks = ["StageScreen", "SideScreen", "FactsScreen", "ResultsScreen", "SheetScreen"]
    async with opened(tmp_path, TRIALS) as d:
        for digit, page in chapters.items():
            await d.press("f9")
            await d.press(digit)
            assert d.page == page, digit
            if page != "WalkScreen":
                await d.press("escape")
        for place, page in enumerate(looks):
            await d.press("f9")
            await d.press(*["down"] * 20)
            await d.press(*["up"] * (len(looks) - 1 - place))
            await d.press("enter")
            assert d.page == page
            await d.press("escape")


@pytest.mark.parametrize(("kind", "count"), [("adjust", 8), ("load check", 6)])
async def test_the_kind_of_job_decides_its_chapters(tmp_path: Path, kind: str, count: int) -> None:
    """Adjusting needs no loaded stage without air and no fitting, a load check no springs at all."""
    async with opened(tmp_path, f'[job]\ntitle = "Another kind"\nkind = "{kind}"\n') as d:
        await d.press("f9")
        assert ("Fitting" in words(d).replace("fitting of", "")) is False
        assert f"  {count % 10} · Follow-up" in d.text
        if kind == "load check":
            await d.press("1")
            assert "Kit, from its own sheet" not in words(d)


async def test_a_fact_can_be_taken_out_and_an_answer_is_given_anew_instead(tmp_path: Path) -> None:
    """F7 takes a value out; where there is nothing to take out it says what to do."""
    async with opened(tmp_path, TRIALS) as d:
        await open_chapter(d, "1")
        await ask(d, "vehicle.wheelbase")
        await d.press("f7")
        what = last(d)
        assert isinstance(what, FactStated)
        assert (what.name, what.value) == ("vehicle.wheelbase", None)
        await open_chapter(d, "2")
        await d.press("f7")
        assert "an answer is given anew instead" in words(d)


async def test_pages_never_pile_up(tmp_path: Path) -> None:
    """However often one goes back and forth, two Escapes lead from a chapter to the walk."""
    async with opened(tmp_path, TRIALS) as d:
        for digit in "157895":
            await d.press("f9")
            await d.press(digit)
            await d.press("f5")
        await d.press("f9", "2")
        assert d.page == "chapter before"
        await d.press("escape", "escape")
        assert d.page == "WalkScreen", d.text
