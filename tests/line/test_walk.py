"""The four corners line by line: digits and Enter, said back, kept before that is said, doubted, taken back."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from cornerwalk.session.events import CornerSkipped, HeightRead, NoteWritten, PressureStated, StageBegun
from tests.line.talking import VEHICLE, WORKED_WALK, Talk, as_one, job_from, new_job


@pytest.fixture
def talk(tmp_path: Path) -> Talk:
    """A job with everything stated but the readings, at its first corner."""
    return job_from(tmp_path, VEHICLE)


def test_the_walk_takes_digits_and_enter_and_nothing_else(talk: Talk) -> None:
    """Sixteen readings and two pressures go in by what a number pad and a space have, one line each."""
    assert talk.prompt == "Left front, unloaded, 1 of 4:"
    for line in WORKED_WALK:
        assert re.fullmatch(r"[0-9 /]*", line)
        talk.say(line)
        assert not talk.conversation.refused, line
    heights = [what for what in talk.recorded() if isinstance(what, HeightRead)]
    assert [what.entered for what in heights] == [line for line in WORKED_WALK if "/" in line]
    assert [(what.stage, what.number) for what in heights[::4]] == [
        ("unloaded", 1), ("loaded", 1), ("fitted", 1), ("fitted", 2),
    ]  # fmt: skip


def test_every_reading_is_said_back_with_what_it_changed_and_when_it_was_kept(talk: Talk) -> None:
    """Corner, height, the height unloaded, the change, the time."""
    talk.say(*WORKED_WALK[:7])
    (said,) = talk.say("27 5/8")
    assert re.fullmatch(
        r"Right rear 27 5/8; unloaded here 29 3/16, so down 1 9/16\. Saved 08:\d\d:\d\d\.",
        said,
    )


# Source: the method's worked case (invented vehicle), recomputed independently of the program: nose up 0.857567°,
# front +0.25 in, rear −1.53125 in, beam shift 4.490296 in (u 0.128629); at 25 psi 0.346057° and 1.811987 in.
def test_a_finished_stage_says_what_it_means(talk: Talk) -> None:
    """Body, lamps and air come with their ± as soon as the fourth corner is kept."""
    loaded = as_one(talk.say(*WORKED_WALK[:9]))
    assert "Body: front up 0.25 in ± 0.12, rear down 1.53 in ± 0.21, nose up 0.86° ± 0.11." in loaded
    assert "beam 4.5 in ± 0.6 higher at 25 ft" in loaded
    fitted = as_one(talk.say(*WORKED_WALK[9:]))
    assert "nose up 0.35° ± 0.11" in fitted
    assert "beam 1.8 in ± 0.6 higher at 25 ft" in fitted
    assert "36 psi ± 9 for the unloaded height; set 30 psi" in fitted


def test_nothing_is_said_to_be_kept_before_it_is_on_the_disk(talk: Talk) -> None:
    """After each sentence that ends in Kept, the file as it lies on the disk holds the reading."""
    for line in WORKED_WALK:
        said = as_one(talk.say(line))
        if "/" in line:
            assert "Saved" in said
            assert [w.entered for w in talk.recorded() if isinstance(w, HeightRead)][-1] == line


@pytest.mark.parametrize(
    ("typed", "reason"),
    [
        ("29 17/16", "less than one; did you mean 30 1/16?"),
        ("27 13", "more than one number"),
        ("twelve", ""),
        ("", "nothing typed"),
        ("28..5", ""),
    ],
)
def test_nonsense_is_refused_with_its_reason_and_asked_again(talk: Talk, typed: str, reason: str) -> None:
    """A text that is no height keeps the question and records nothing."""
    before, prompt = talk.stored, talk.prompt
    said = as_one(talk.say(typed))
    assert reason in said
    assert said
    assert talk.conversation.refused
    assert (talk.stored, talk.prompt) == (before, prompt)


# ---- a height that looks odd ----


def test_an_odd_height_needs_a_second_enter(talk: Talk) -> None:
    """Far from its other side: told why, not recorded; Enter alone keeps it after all."""
    talk.say("28 5/8", "28 11/16", "29 3/16")
    before = talk.stored
    said = as_one(talk.say("33 1/4"))
    assert "Left rear 33 1/4" in said
    assert "right rear, 29 3/16 in" in said
    assert talk.stored == before
    assert "Saved" in as_one(talk.say(""))
    assert len(talk.stored) == len(before) + 1


def test_an_odd_height_typed_once_more_is_kept(talk: Talk) -> None:
    """Who reads the tape again and finds the same has looked twice."""
    talk.say("28 5/8", "28 11/16", "29 3/16", "33 1/4")
    assert "Left rear 33 1/4" in as_one(talk.say("33 1/4"))
    last = talk.recorded()[-1]
    assert isinstance(last, HeightRead)
    assert (last.corner, last.entered, last.how) == ("LR", "33 1/4", "first")
    assert last.mm == pytest.approx(33.25 * 25.4)


def test_another_height_takes_an_odd_ones_place(talk: Talk) -> None:
    """The doubted height is forgotten as soon as anything else is typed."""
    talk.say("28 5/8", "28 11/16", "29 3/16", "33 1/4", "29 1/4")
    last = talk.recorded()[-1]
    assert isinstance(last, HeightRead)
    assert last.entered == "29 1/4"


def test_a_word_in_between_drops_an_odd_height(talk: Talk) -> None:
    """An Enter after something else was said does not keep what was doubted before it."""
    talk.say("28 5/8", "28 11/16", "29 3/16", "33 1/4", "where")
    before = talk.stored
    talk.say("")
    assert talk.stored == before


def test_finer_than_the_tape_is_kept_as_typed_and_said(talk: Talk) -> None:
    """A height between the marks needs no second Enter, and is said back as exactly as it was typed."""
    said = as_one(talk.say("28.7"))
    assert "Finer than the tape's 1/16 in graduation: used as typed." in said
    assert "Left front 28.7; 28.7 in" in said
    assert "Saved" in said


def test_a_height_in_another_unit_is_said_back_in_both(talk: Talk) -> None:
    """727 mm in a job of inches cannot be mistaken for anything else."""
    said = as_one(talk.say("727mm"))
    assert "28.622 in · 727 mm" in said


# ---- taking back, once more, instead, skipping ----


def test_undo_says_what_it_took_and_asks_for_it_again(talk: Talk) -> None:
    """The corner is due again, and the file says that it was taken back."""
    talk.say("28 5/8", "28 11/16")
    assert "Undone: right front, unloaded: 28 11/16. redo redoes it. Saved" in as_one(talk.say("undo"))
    assert talk.prompt == "Right front, unloaded, 2 of 4:"
    assert "Redone: right front, unloaded: 28 11/16. Saved" in as_one(talk.say("redo"))
    assert talk.prompt == "Right rear, unloaded, 3 of 4:"


def test_everything_can_be_taken_back_one_by_one(talk: Talk) -> None:
    """Undo goes back to the opening of the job and then says that there is no more."""
    talk.say(*WORKED_WALK)
    opened = 1
    for _ in range(100):
        if talk.conversation.refused:
            break
        talk.say("u")
    assert talk.conversation.refused
    assert not talk.session.stages
    assert len(talk.stored) > opened


def test_again_reads_in_place_and_repeat_averages(talk: Talk) -> None:
    """Both ask for the corner by name; Enter alone leaves what stands."""
    said = as_one(talk.say("28 5/8", "28 11/16", "again LF"))
    assert "Saved here: 28 5/8.\nWhat you type takes its place." in said
    assert talk.prompt == "Left front, unloaded:"
    said = as_one(talk.say("28 1/2", "repeat left front"))
    assert "Saved here: 28 1/2.\nWhat you type is averaged with it." in said
    assert talk.prompt == "Left front, unloaded:"
    talk.say("28 9/16")
    unloaded = talk.session.first_stage("unloaded")
    assert unloaded is not None
    assert [reading.entered for reading in unloaded.corner("LF").readings] == ["28 1/2", "28 9/16"]
    assert talk.prompt == "Right rear, unloaded, 3 of 4:"
    talk.say("r LF", "")
    assert talk.prompt == "Right rear, unloaded, 3 of 4:"


def test_a_corner_of_an_earlier_stage_can_be_read_again(talk: Talk) -> None:
    """The stage is named after the corner."""
    assert "Saved here: 29 3/16." in as_one(talk.say(*WORKED_WALK[:9], "again RR unloaded"))
    assert talk.prompt == "Right rear, unloaded:"


def test_a_corner_is_skipped_with_a_reason(talk: Talk) -> None:
    """In the same line, or chosen by its number; never without."""
    talk.say("skip tape too short", "s")
    assert "Why skip right front?" in talk.prompt
    talk.say("2")
    skipped = [what for what in talk.recorded() if isinstance(what, CornerSkipped)]
    assert [what.reason for what in skipped] == ["tape too short", "no clear point to measure to"]
    talk.say("skip", "")
    assert talk.prompt == "Right rear, unloaded, 3 of 4:"


def test_a_note_belongs_to_the_corner_in_hand(talk: Talk) -> None:
    """And the question stays."""
    talk.say("28 5/8", "note arch lip bent")
    note = talk.recorded()[-1]
    assert note == NoteWritten(text="arch lip bent", stage="unloaded", number=1, corner="RF")
    assert talk.prompt == "Right front, unloaded, 2 of 4:"


# ---- stages and air ----


def test_a_height_typed_before_the_stage_is_begun_is_not_taken(talk: Talk) -> None:
    """The vehicle has to stand as asked first; the height is not recorded for the stage before."""
    talk.say(*WORKED_WALK[:4])
    before = talk.stored
    talk.say("28 7/8")
    assert talk.conversation.refused
    assert talk.stored == before
    talk.say("", "28 7/8")
    assert [type(what) for what in talk.recorded()[-2:]] == [StageBegun, HeightRead]


def test_more_than_the_kits_maximum_is_refused(talk: Talk) -> None:
    """Nothing is recorded, and the words say what to do first."""
    talk.say(*WORKED_WALK[:9])
    before = talk.stored
    said = as_one(talk.say("41"))
    assert "over the kit maximum of 40 psi: bleed down" in said
    assert talk.stored == before


@pytest.mark.parametrize("typed", ["28 1/4", "28 3/4", "28-1/4"])
def test_a_fraction_is_no_pressure_without_a_second_enter(talk: Talk, typed: str) -> None:
    """Gauges have no fractions: a reading called out early would begin a trial. Common practice, no source."""
    talk.say(*WORKED_WALK[:9])
    before = talk.stored
    said = as_one(talk.say(typed))
    assert talk.conversation.refused
    assert talk.stored == before
    assert "this asks for a pressure" in said
    talk.say("")
    assert talk.recorded()[-1].pressure_entered == typed  # type: ignore[union-attr]


def test_what_stands_at_a_corner_is_no_pressure_without_a_second_enter(talk: Talk) -> None:
    """27.75 stands at the left rear since a minute ago; 25 stands nowhere."""
    talk.say(*WORKED_WALK[:9])
    before = talk.stored
    assert "stands at left rear" in as_one(talk.say("27.75"))
    assert talk.stored == before
    talk.say("25")
    assert talk.recorded()[-1].pressure_entered == "25"  # type: ignore[union-attr]


def test_a_trial_without_a_pressure_needs_a_second_enter(talk: Talk) -> None:
    """What is lost is said first."""
    talk.say(*WORKED_WALK[:9])
    assert "this trial then cannot find one" in as_one(talk.say(""))
    assert "Installed, trial 1. Saved" in as_one(talk.say(""))


def test_a_pressure_is_corrected_by_its_word(talk: Talk) -> None:
    """`pressure 16` after the stage was begun with another."""
    talk.say(*WORKED_WALK[:10], "pressure 16")
    stated = talk.recorded()[-1]
    assert isinstance(stated, PressureStated)
    assert (stated.pressure_entered, stated.stage, stated.number) == ("16", "fitted", 1)


# Source: arithmetic: rear means 28 5/16 at 15 psi 28 3/4 at 25 psi, 29 7/32 unloaded: midway, 0.6875 down.
def test_another_pressure_is_tried_in_thought(talk: Talk) -> None:
    """Between two trials the line through both; nothing is recorded, the question stays; never beyond the kit."""
    assert "once two pressures were tried" in as_one(talk.say("what if 20"))
    talk.say(*WORKED_WALK, "fact kit.max 40 psi")
    prompt, recorded = talk.prompt, talk.recorded()
    assert talk.say("what if")[0] == "As read: 25 psi, 410 lb tongue weight."
    said = talk.say("what if 20")
    assert said[0] == "What if: 20 psi, 410 lb tongue weight."
    assert said[1].startswith("Body: rear down 0.69 in")
    assert "40 psi is the kit's maximum" in as_one(talk.say("what if 41"))
    assert talk.conversation.refused
    assert "miles" in as_one(talk.say("what if 3 miles"))
    assert (talk.prompt, talk.recorded()) == (prompt, recorded)


def test_separate_lines_are_asked_left_then_right(tmp_path: Path) -> None:
    """Each side keeps its own pressure; the second question follows the first by itself."""
    talk = job_from(tmp_path, VEHICLE.replace('"tee"', '"separate"'))
    talk.say(*WORKED_WALK[:9])
    assert talk.prompt == "Left air pressure, installed, trial 1, psi:"
    talk.say("15")
    assert talk.prompt == "Right air pressure, installed, trial 1, psi:"
    talk.say("18")
    begun = talk.recorded()[-1]
    assert isinstance(begun, StageBegun)
    assert (begun.left_entered, begun.right_entered, begun.pressure_entered) == ("15", "18", None)
    talk.say("pressure 16; 19")
    assert "left 16 psi, right 19 psi" not in talk.prompt
    stated = talk.recorded()[-1]
    assert isinstance(stated, PressureStated)
    assert (stated.left_entered, stated.right_entered) == ("16", "19")


def test_a_doubtful_left_pressure_is_asked_about_too(tmp_path: Path) -> None:
    """Nothing is begun by the left one yet, and the right one follows the second Enter."""
    talk = job_from(tmp_path, VEHICLE.replace('"tee"', '"separate"'))
    talk.say(*WORKED_WALK[:9], "28 1/4")
    assert talk.conversation.refused
    talk.say("")
    assert talk.prompt == "Right air pressure, installed, trial 1, psi:"


# Source: the usual cautions of the trade (common practice, no source), each at the step where it matters.
@pytest.mark.parametrize(
    ("lines", "caution"),
    [
        (WORKED_WALK[:4], "Nobody between vehicle and trailer"),
        (WORKED_WALK[:4], "ratings on the door label"),
        (WORKED_WALK[:9], "never a jack alone"),
        (WORKED_WALK[:9], "A coil spring can kill: unload it before you disconnect anything"),
        (WORKED_WALK[:9], "Goggles on. Short bursts of air, fingers clear; kit maximum 40 psi"),
        (WORKED_WALK[:14], "Level is not safe"),
        (("leak start",), "Goggles on"),
        ((*WORKED_WALK[:9], "fitting"), "Never get under a vehicle held only by a jack."),
        ((*WORKED_WALK[:9], "fitting", "1"), "A coil spring stores enough energy to kill."),
        (("before", *["-"] * 11), "The exhaust can burn you long after"),
        (("before",), "STOP. The valve sees a raised body as an unloaded vehicle"),
        (("torque",), "The vehicle maker's torque, never ours"),
    ],
)
def test_each_caution_stands_at_its_step(talk: Talk, lines: tuple[str, ...], caution: str) -> None:
    """The last answer before the dangerous step brings its caution, and no earlier answer does."""
    *earlier, last = lines
    before = as_one(talk.say(*earlier))
    assert caution in as_one(talk.say(last))
    assert caution not in before


def test_a_load_check_asks_for_no_air(tmp_path: Path) -> None:
    """Two stages, and on to the handover."""
    talk = new_job(tmp_path, kind="3")
    talk.say(*WORKED_WALK[:9])
    assert talk.prompt == "All stages are done:"
    talk.say("25")
    assert talk.conversation.refused
    said = as_one(talk.say(""))
    assert "HANDOVER:" in said
