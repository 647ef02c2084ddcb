"""Chapters answered line by line: one question at a time, kept at once, left or taken out at will."""

from __future__ import annotations

import asyncio
from pathlib import Path

import pytest

from cornerwalk.context import Walk
from cornerwalk.session.at_stage import answer_check
from cornerwalk.session.closing import hand_over
from cornerwalk.session.happenings import (
    CheckAnswered,
    FactStated,
    Happening,
    LeakRead,
    LoadStated,
    NoteWritten,
    TorqueRecorded,
    WeighingRecorded,
)
from cornerwalk.tui.screens.chapter import ChapterScreen
from tests.support.clock import FrozenClock
from tests.support.jobs import WORKED_CASE, job_of
from tests.tui.chapters import open_chapter
from tests.tui.driving import LOADED, UNLOADED, Act, Driver, context_of, driven
from tests.tui.test_cautions import ask, words
from tests.tui.test_interrupted import cut_off

NEW = '[job]\ntitle = "Just opened"\n'
TRIALS = WORKED_CASE.partition("[leak]")[0]


def opened(
    folder: Path,
    sheet: str,
    act: Act,
    *more: Happening,
    clock: FrozenClock | None = None,
    size: tuple[int, int] = (80, 24),
) -> None:
    """Open the walk of a job and do something."""

    async def run() -> None:
        context = context_of(folder, clock)
        async with driven(context, Walk(cut_off(folder, job_of(sheet, *more).events)), size=size) as d:
            await act(d)

    asyncio.run(run())


def last(d: Driver) -> Happening:
    """What was recorded last."""
    return d.events[-1].what


def line(d: Driver) -> str:
    """The line that is asked."""
    page = d.app.screen
    assert isinstance(page, ChapterScreen)
    return page.course.line.id if page.course.line is not None else ""


# ---- checklists ----


@pytest.mark.parametrize(
    ("key", "answer"),
    [("y", "yes"), ("1", "yes"), ("kp_1", "yes"), ("n", "no"), ("2", "no"), ("minus", "not checked"),
     ("3", "not checked"), ("4", "not fitted"), ("5", "referred"), ("6", "customer declined")],
)  # fmt: skip
def test_one_key_answers(tmp_path: Path, key: str, answer: str) -> None:
    """By letter, by digit or on the number pad, without Enter, and the answer is kept at once."""

    async def act(d: Driver) -> None:
        await open_chapter(d, "2")
        await ask(d, "lamp-sensors")
        await d.press(key)
        what = last(d)
        assert isinstance(what, CheckAnswered)
        assert (what.check, what.answer, what.stage) == ("lamp-sensors", answer, None)

    opened(tmp_path, NEW, act)


def test_a_key_that_is_no_answer_records_nothing_and_says_which_are(tmp_path: Path) -> None:
    """There is no "not fitted" for a brake valve."""

    async def act(d: Driver) -> None:
        await open_chapter(d, "2")
        before = d.events
        await d.press("4", "x")
        assert d.events == before
        assert "Choose by number: 1 yes, 2 no" in words(d)

    opened(tmp_path, NEW, act)


def test_an_answer_as_hoped_goes_on_and_another_asks_what_was_found(tmp_path: Path) -> None:
    """No sag: the next question. A leaking damper: what was found, kept with the answer."""

    async def act(d: Driver) -> None:
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

    opened(tmp_path, NEW, act)


def test_a_clearance_asks_for_its_gap_whatever_the_answer(tmp_path: Path) -> None:
    """Loaded and empty, the smallest gap goes on record: the usual ways a bag dies are in it."""

    async def act(d: Driver) -> None:
        await open_chapter(d, "8")
        for check, gap in (("clearance-loaded", "5/8 in"), ("clearance-unloaded", "1 in")):
            await ask(d, check)
            await d.press("1")
            await d.key_in(gap)
            what = last(d)
            assert isinstance(what, CheckAnswered)
            assert (what.check, what.answer, what.note) == (check, "yes", gap)

    opened(tmp_path, TRIALS, act)


def test_enter_alone_leaves_a_question_and_says_what_that_costs(tmp_path: Path) -> None:
    """Nothing is recorded of a question passed over, and before it is passed over its price is read."""

    async def act(d: Driver) -> None:
        await open_chapter(d, "2")
        before = d.events
        assert "Left out, it stands as not checked" in words(d)
        await d.press("enter")
        assert line(d) == "lamp-sensors"
        assert d.events == before

    opened(tmp_path, NEW, act)


def test_f3_writes_a_note_beside_the_question_in_hand(tmp_path: Path) -> None:
    """With its answer where it has one; the question stays."""

    async def act(d: Driver) -> None:
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

    opened(tmp_path, NEW, act)


def test_undo_takes_an_answer_back_and_the_question_is_open_again(tmp_path: Path) -> None:
    """F2 works in a chapter as it does on the walk."""

    async def act(d: Driver) -> None:
        await open_chapter(d, "2")
        await d.press("2")
        assert d.session.answers
        await d.press("f2")
        assert d.session.answers == ()
        await d.press("up")
        assert line(d) == "brake-valve"

    opened(tmp_path, NEW, act)


def test_the_shops_own_list_takes_the_place_of_the_packaged_one(tmp_path: Path) -> None:
    """A list in the shop's folder is asked; one that cannot be read is named and the packaged one asked."""

    async def own(d: Driver) -> None:
        await open_chapter(d, "5")
        assert "Ramp arms locked?" in words(d)

    async def broken(d: Driver) -> None:
        await open_chapter(d, "5")
        assert "4-fitting.toml was not used" in words(d)
        assert line(d) == "stands"

    lists = tmp_path / "own" / "checklists"
    lists.mkdir(parents=True)
    (lists / "4-fitting.toml").write_text(
        'id = "fitting"\ntitle = "Our fitting"\n[[item]]\nid = "ramp"\nquestion = "Ramp arms locked?"\n', "utf-8"
    )
    opened(tmp_path / "own", TRIALS, own)
    lists = tmp_path / "broken" / "checklists"
    lists.mkdir(parents=True)
    (lists / "4-fitting.toml").write_text('id = "fitting"\n', "utf-8")
    opened(tmp_path / "broken", TRIALS, broken)


# ---- conditions of a stage ----


def test_conditions_belong_to_the_stage_and_a_change_is_flagged(tmp_path: Path) -> None:
    """Answered again as before with one key; changed, the line and the page say so, and so do the results."""

    async def act(d: Driver) -> None:
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

    opened(tmp_path, NEW, act)


def test_a_mark_and_a_dial_are_kept_with_their_stage(tmp_path: Path) -> None:
    """Below is negative, in words or by sign; the dial is kept as it stands on it."""

    async def act(d: Driver) -> None:
        await d.key_in(*UNLOADED, "", *LOADED)
        await d.press("f10")
        await ask(d, "mark")
        await d.type("2 1/8 below")
        assert "2.12 in below the lamp's height" in words(d)
        await d.press("enter")
        await ask(d, "leveller")
        await d.key_in("1")
        stage = d.session.first("loaded")
        assert stage is not None
        assert stage.mark_mm == pytest.approx(-2.125 * 25.4)
        assert stage.leveller == "1"

    opened(tmp_path, NEW, act)


# ---- loads, the scale, torques ----


def test_loads_are_added_changed_and_taken_out(tmp_path: Path) -> None:
    """Name, weight, distance and side one after the other; a wrong weight is refused before the next is asked."""

    async def act(d: Driver) -> None:
        await open_chapter(d, "1")
        await ask(d, "load.add")
        await d.key_in("kitchen", "heavy")
        assert not d.session.loads
        await d.press("ctrl+u")
        await d.key_in("90 lb", "20 in")
        assert not d.session.loads, "a load without its side is none"
        await d.press("2")
        (load,) = d.session.loads
        assert load.name == "kitchen"
        assert load.ahead_mm == pytest.approx(508.0)
        await ask(d, "load:kitchen")
        await d.key_in("110 lb", "", "")
        what = last(d)
        assert isinstance(what, LoadStated)
        assert (what.entered, what.place_entered) == ("110 lb", "20 in ahead of the rear axle")
        await ask(d, "load:kitchen")
        await d.press("f7")
        assert d.session.loads == ()

    opened(tmp_path, NEW, act)


def test_an_axle_is_kept_as_soon_as_it_is_typed(tmp_path: Path) -> None:
    """Cut off after the first axle, its weight is there; the pass is asked again where it was left."""

    async def act(d: Driver) -> None:
        await open_chapter(d, "1")
        await ask(d, "weighing.hitched")
        await d.key_in("2340")
        what = last(d)
        assert isinstance(what, WeighingRecorded)
        assert (what.front_entered, what.rear_N) == ("2340", None)
        await d.press("escape", "escape")
        await open_chapter(d, "1")
        assert line(d) == "weighing.hitched"
        await d.key_in("", "2970", "")
        what = last(d)
        assert isinstance(what, WeighingRecorded)
        assert (what.front_entered, what.rear_entered) == ("2340", "2970")

    opened(tmp_path, NEW, act)


def test_a_torque_without_unit_is_refused_and_one_short_of_it_is_flagged(tmp_path: Path) -> None:
    """80 of what is not guessed; 80 N·m of 98 asked for says by how much."""

    async def act(d: Driver) -> None:
        await open_chapter(d, "5")
        await ask(d, "torque:wheel nuts")
        await d.key_in("98")
        assert "the unit is missing" in words(d)
        assert not d.session.torques
        await d.press("ctrl+u")
        await d.key_in("98 N·m", "vehicle's manual", "80 N·m")
        what = last(d)
        assert isinstance(what, TorqueRecorded)
        assert (what.specified_Nm, what.source, what.reached_Nm) == (98.0, "vehicle's manual", 80.0)
        # (98 − 80)/98 = 18.4 %
        assert "18 % under" in words(d)

    opened(tmp_path, TRIALS, act)


# ---- facts and presets ----


def test_a_kit_figure_without_its_sheet_is_flagged(tmp_path: Path) -> None:
    """Where a limit comes from is part of it."""

    async def act(d: Driver) -> None:
        await open_chapter(d, "1")
        await ask(d, "kit.max")
        await d.key_in("35 psi")
        await d.press("up")
        assert "35 psi, from no named sheet" in words(d)
        await ask(d, "kit.sheet")
        await d.key_in("sheet 3, 2026")
        await ask(d, "kit.max")
        assert "from no named sheet" not in words(d)

    opened(tmp_path, NEW, act)


def test_what_was_kept_for_next_time_starts_the_next_job(tmp_path: Path) -> None:
    """Keep the kit in one job, start from it in another: the same limits, and nothing of the first customer."""

    async def keep(d: Driver) -> None:
        await open_chapter(d, "1")
        await ask(d, "preset.keep.kit")
        await d.key_in("usual kit")
        assert "kept for next time: usual kit" in words(d)

    async def start(d: Driver) -> None:
        await open_chapter(d, "1")
        assert line(d) == "preset.start"
        await d.press("1")
        kit = d.session.kit
        assert kit.sheet == "invented sheet 3, 2026"
        assert kit.max_kPa == pytest.approx(35 * 6.894757293168361)
        assert d.session.job.customer == ""

    opened(tmp_path, WORKED_CASE, keep)
    (tmp_path / "sessions").rename(tmp_path / "first")
    opened(tmp_path, NEW, start)


def test_nine_keys_lead_from_a_cold_start_with_a_preset_to_the_first_reading(tmp_path: Path) -> None:
    """Start page, new job, its preset, and the first height may be typed: under ten keys."""
    keys = ["1", "enter", "f9", "enter", "1", "escape", "escape"]
    context = context_of(tmp_path)
    context.presets_folder.mkdir()
    (context.presets_folder / "van.toml").write_text('[vehicle]\nwheelbase = "119 in"\n', "utf-8")

    async def run() -> None:
        async with driven(context) as d:
            for key in keys:
                await d.press(key)
            assert d.page == "WalkScreen"
            assert d.session.vehicle.wheelbase_mm == pytest.approx(3022.6)
            await d.key_in("28 5/8")
            assert d.readings == [("unloaded", 1, "LF", "28 5/8")]

    asyncio.run(run())
    assert len(keys) < 10


# ---- the hold test ----


def test_a_hold_test_goes_on_over_a_night_and_a_start_of_the_program(tmp_path: Path) -> None:
    """How long it has run is told from the clock when the page is looked at; nothing ticks meanwhile."""
    clock = FrozenClock()

    async def begin(d: Driver) -> None:
        await open_chapter(d, "7")
        await ask(d, "leak.both.start")
        await d.key_in("30", "71")
        await d.press("1")
        what = last(d)
        assert isinstance(what, LeakRead)
        assert (what.pressure_entered, what.temperature_entered, what.loaded) == ("30", "71", True)
        assert what.read_at == "2026-05-04T08:12:31-06:00"

    async def next_day(d: Driver) -> None:
        await d.press("f9")
        assert "holding for 17 h" in d.text
        await d.press("7")
        assert "you started 17 h ago at 71 °F, with 30 psi in (2026-05-04 08:12)." in words(d)
        assert "about 7 h to go" in words(d) or "7 h to go" in words(d)
        await ask(d, "leak.both.end")
        await d.key_in("29", "50")
        await d.press("2")
        assert "Loaded at one end of the test and empty at the other" in words(d)
        assert "17 h is shorter than a day: a pass now is no pass for the night." in words(d)
        # By hand: (30 + 14.696) psi·(50 + 459.67)/(71 + 459.67) − 14.696 = 28.23 psi expected at sea level.
        assert "28.2 psi was to be expected" in words(d)

    async def both_days() -> None:
        context = context_of(tmp_path, clock)
        path = cut_off(tmp_path, job_of(TRIALS).events)
        async with driven(context, Walk(path)) as d:
            await begin(d)
        clock.advance(hours=17)
        async with driven(context, Walk(path), size=(80, 40)) as d:
            await next_day(d)

    asyncio.run(both_days())


def test_a_temperature_left_out_can_be_added_without_beginning_the_test_anew(tmp_path: Path) -> None:
    """The time of the reading stays, and so does the reading."""
    clock = FrozenClock()

    async def act(d: Driver) -> None:
        await open_chapter(d, "7")
        await ask(d, "leak.both.start")
        await d.key_in("30", "", "")
        clock.advance(minutes=20)
        await d.press("escape")
        await open_chapter(d, "7")
        assert line(d) == "leak.both.start"
        await d.press("1")
        await d.key_in("71")
        await d.press("1")
        what = last(d)
        assert isinstance(what, LeakRead)
        assert (what.pressure_entered, what.temperature_entered, what.loaded) == ("30", "71", True)
        assert what.read_at == "2026-05-04T08:12:31-06:00"

    opened(tmp_path, TRIALS, act, clock=clock)


# ---- the end ----


def test_a_stop_is_handed_over_only_with_a_decision_on_record(tmp_path: Path) -> None:
    """Who decided what happens with it is asked, and an empty answer is none."""

    async def act(d: Driver) -> None:
        await open_chapter(d, "9")
        await ask(d, "handover")
        await d.key_in("Z. A.", "")
        assert "write who decided what happens" in words(d)
        await d.key_in("towed to the dealer, Z. A.")
        await d.press("1")
        assert not d.session.open
        assert [note.text for note in d.session.notes] == ["towed to the dealer, Z. A."]

    opened(tmp_path, WORKED_CASE, act, answer_check("brake-valve", "yes"))


def test_enter_alone_never_hands_over(tmp_path: Path) -> None:
    """The end of the job is taken by its number, not by going on."""

    async def act(d: Driver) -> None:
        await open_chapter(d, "9")
        await ask(d, "handover")
        await d.press("enter", "enter", "enter", "enter")
        assert d.session.open

    opened(tmp_path, WORKED_CASE, act)


HANDED = hand_over(job_of(NEW).session, "Z. A.", {}, "0.1.0")


def test_nothing_is_added_to_a_job_that_is_handed_over(tmp_path: Path) -> None:
    """An answer, a fact, a note, a trial: all refused in words, and the file stays as it was."""

    async def act(d: Driver) -> None:
        before = d.events
        await open_chapter(d, "2")
        await d.press("2")
        assert "The job is handed over; nothing changes any more" in words(d)
        await open_chapter(d, "1")
        await ask(d, "vehicle.tyre_size")
        await d.key_in("205/55 R16")
        await d.press("f9", "6")
        await d.key_in("20")
        await d.press("escape", "escape", "f4")
        await d.key_in("120 in")
        await d.press("f2")
        assert d.events == before

    opened(tmp_path, TRIALS, act, *HANDED)


def test_a_job_is_taken_up_again_with_a_reason(tmp_path: Path) -> None:
    """Without one it stays closed; with one its follow-up is next, and compared with the stage of the same pressure."""

    async def act(d: Driver) -> None:
        await open_chapter(d, "0")
        await d.key_in("sags again")
        assert d.session.open
        await d.key_in("25 psi")
        assert d.page == "WalkScreen"
        await d.key_in("28 7/8", "28 15/16", "28 1/4", "28 3/8")
        await open_chapter(d, "0")
        told = words(d)
        # By hand against trial 2 at 25 psi: RR 28 11/16 to 28 1/4, LR 28 13/16 to 28 3/8: both down 7/16 in.
        assert "Against fitted, trial 2" in told
        assert "rear down 0.44 in ± 0.07" in told
        assert "moved by more than the tape's uncertainty" in told

    opened(tmp_path, TRIALS, act, *HANDED)


# ---- the page of the whole job ----


def test_every_chapter_and_page_opens_by_its_key_and_enter(tmp_path: Path) -> None:
    """Digits open chapters; arrows and Enter open whatever is marked, the pages to look at included."""
    chapters = {
        "1": "IntakeScreen", "2": "BeforeScreen", "3": "WalkScreen", "4": "WalkScreen", "5": "FittingScreen",
        "6": "AirScreen", "7": "LeakScreen", "8": "RoadScreen", "9": "HandoverScreen", "0": "FollowUpScreen",
    }  # fmt: skip
    looks = ["StageScreen", "SideScreen", "FactsScreen", "ResultsScreen", "SheetScreen"]

    async def act(d: Driver) -> None:
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

    opened(tmp_path, TRIALS, act)


@pytest.mark.parametrize(("kind", "count"), [("adjust", 8), ("load check", 6)])
def test_the_kind_of_job_decides_its_chapters(tmp_path: Path, kind: str, count: int) -> None:
    """Adjusting needs no loaded stage without air and no fitting, a load check no springs at all."""

    async def act(d: Driver) -> None:
        await d.press("f9")
        assert ("Fitting" in words(d).replace("fitting of", "")) is False
        assert f"  {count % 10} · Follow-up" in d.text
        if kind == "load check":
            await d.press("1")
            assert "Kit, from its own sheet" not in words(d)

    opened(tmp_path, f'[job]\ntitle = "Another kind"\nkind = "{kind}"\n', act)


def test_a_fact_can_be_taken_out_and_an_answer_is_given_anew_instead(tmp_path: Path) -> None:
    """F7 takes a value out; where there is nothing to take out it says what to do."""

    async def act(d: Driver) -> None:
        await open_chapter(d, "1")
        await ask(d, "vehicle.wheelbase")
        await d.press("f7")
        what = last(d)
        assert isinstance(what, FactStated)
        assert (what.name, what.value) == ("vehicle.wheelbase", None)
        await open_chapter(d, "2")
        await d.press("f7")
        assert "an answer is given anew instead" in words(d)

    opened(tmp_path, TRIALS, act)


def test_pages_never_pile_up(tmp_path: Path) -> None:
    """However often one goes back and forth, two Escapes lead from a chapter to the walk."""

    async def act(d: Driver) -> None:
        for digit in "157895":
            await d.press("f9")
            await d.press(digit)
            await d.press("f5")
        await d.press("f9", "2")
        assert d.page == "BeforeScreen"
        await d.press("escape", "escape")
        assert d.page == "WalkScreen", d.text

    opened(tmp_path, TRIALS, act)
