"""The end of a job: handed over with what was decided, closed to everything, taken up again with a reason."""

from __future__ import annotations

from pathlib import Path

from cornerwalk.session.conditions import answer_check
from cornerwalk.session.walk import hand_over
from tests.support.jobs import WORKED_CASE, job_of
from tests.tui.chapters import NEW, TRIALS, ask, open_chapter, opened, words

# ---- the end ----


async def test_a_stop_is_handed_over_only_with_a_decision_on_record(tmp_path: Path) -> None:
    """Who decided what happens with it is asked, and an empty answer is none."""
    async with opened(tmp_path, WORKED_CASE, answer_check("brake-valve", "yes")) as d:
        await open_chapter(d, "9")
        await ask(d, "handover")
        await d.key_in("Z. A.", "")
        assert "write who decided what happens" in words(d)
        await d.key_in("towed to the dealer, Z. A.")
        await d.press("1")
        assert not d.session.open
        assert [note.text for note in d.session.notes] == ["towed to the dealer, Z. A."]


async def test_enter_alone_never_hands_over(tmp_path: Path) -> None:
    """The end of the job is taken by its number, not by going on."""
    async with opened(tmp_path, WORKED_CASE) as d:
        await open_chapter(d, "9")
        await ask(d, "handover")
        await d.press("enter", "enter", "enter", "enter")
        assert d.session.open


HANDED = hand_over(job_of(NEW).session, "Z. A.", {}, "0.1.0")


async def test_nothing_is_added_to_a_job_that_is_handed_over(tmp_path: Path) -> None:
    """An answer, a fact, a note, a trial: all refused in words, and the file stays as it was."""
    async with opened(tmp_path, TRIALS, *HANDED) as d:
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


async def test_a_job_is_taken_up_again_with_a_reason(tmp_path: Path) -> None:
    """Without one it stays closed; with one its follow-up is next, and compared with the stage of the same pressure."""
    async with opened(tmp_path, TRIALS, *HANDED) as d:
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
