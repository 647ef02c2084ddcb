"""Leaving at any moment, by any way, loses nothing that was said to be kept; and the job goes on where it was."""

from __future__ import annotations

import re
import shutil
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from cornerwalk.context import WalkView
from cornerwalk.session import RecordedEvent
from tests.line.talking import VEHICLE, WORKED_WALK, Talk, job_from, new_job, sessions_in, talk_in
from tests.line.whole_job import SCRIPT

HALF_TYPED = (
    "Weight of", "How far from", "Behind the", "Is the vehicle loaded", "Gauge", "Right pressure", "Why skip",
    "What was found?", "Write down:", "How warm is it", "Loaded or unloaded?",
    "Lug nuts: whose", "Lug nuts: what did the wrench",
    "Unhitched: what does the scale read for the rear", "Hitched, bars off: what does the scale read for the rear",
    "Hitched, bars off: what does the scale read for the trailer",
)  # fmt: skip
"""Questions in the middle of an entry of several parts: it begins anew, with what was kept of it standing there."""

NOT_RECORDED = (
    "Which ",
    "Handed over to",
    "A STOP",
    "Hand over now",
    "Tightened joint",
    "Why is the job",
    "Name of a load",
)
"""Questions that a word alone leads to: they are asked again when the word is typed again."""


def resumed(talk: Talk, folder: Path) -> Talk:
    """The job as a second program finds it on the disk, the first one having vanished this moment."""
    (path,) = sessions_in(talk.folder)
    folder.mkdir()
    copied = Path(shutil.copy(path, folder))
    return talk_in(folder, WalkView(copied))


def uncounted(prompt: str) -> str:
    """A question without its place: one that a word led to is asked again among all of its chapter."""
    return re.sub(r"\d+ of \d+", "", prompt)


def test_the_whole_walk_resumes_at_the_same_question_after_every_line(tmp_path: Path) -> None:
    """Stopped after any line of the walk, the next program asks what this one would have asked."""
    talk = job_from(tmp_path / "first", VEHICLE)
    for number, line in enumerate(("", *WORKED_WALK)):
        if number:
            talk.say(line)
        again = resumed(talk, tmp_path / f"after-{number}")
        assert again.prompt == talk.prompt
        assert again.stored == talk.stored


def test_the_whole_job_resumes_after_every_line(tmp_path: Path) -> None:
    """After every line of a whole job the same events are there, and the question after the last answer is asked.

    After the last question that a word led to, the first program is back on the walk and the next one goes on in the
    chapter of that question.
    """
    talk = new_job(tmp_path / "first")
    elsewhere, compared = [], 0
    for number, line in enumerate(SCRIPT):
        before = len(talk.stored)
        talk.say(line)
        kept = len(talk.stored) > before
        again = resumed(talk, tmp_path / f"after-{number}")
        assert again.stored == talk.stored
        follows_itself = not talk.prompt.startswith((*HALF_TYPED, *NOT_RECORDED))
        back_on_the_walk = talk.on_the_walk and not again.on_the_walk
        if kept and follows_itself and not back_on_the_walk:
            compared += 1
            if uncounted(again.prompt) != uncounted(talk.prompt):
                elsewhere.append((line, talk.prompt, again.prompt))
    assert elsewhere == []
    assert compared > 100


def events_of(folder: Path) -> tuple[RecordedEvent, ...]:
    return talk_in(folder, WalkView(sessions_in(folder)[0])).stored


@pytest.mark.skipif(sys.platform == "win32", reason="needs POSIX signals")
@pytest.mark.parametrize("way", [signal.SIGKILL, signal.SIGTERM, signal.SIGINT, None], ids=str)
def test_a_program_that_dies_has_kept_what_it_said(tmp_path: Path, way: signal.Signals | None) -> None:
    """Killed, terminated, interrupted, or its input ended: each reading that was said to be kept is in the file."""
    sheet = tmp_path / "van.toml"
    sheet.write_text(VEHICLE, encoding="utf-8")
    library = tmp_path / "library"
    command = [sys.executable, "-m", "cornerwalk", "--library", str(library), "walk", str(sheet), "--plain"]
    with subprocess.Popen(
        command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, encoding="utf-8", bufsize=1
    ) as program:
        assert program.stdin is not None
        assert program.stdout is not None
        said = []
        for line in WORKED_WALK[:3]:
            program.stdin.write(line + "\n")
        for heard in program.stdout:
            said.append(heard)
            if heard.startswith("Right rear 29 3/16"):
                break
        if way is None:
            program.stdin.close()
        else:
            program.send_signal(way)
        program.wait(timeout=30)
    heights = [getattr(event.payload, "entered", "") for event in events_of(library)][-3:]
    assert heights == list(WORKED_WALK[:3])
    assert talk_in(library, WalkView(sessions_in(library)[0])).prompt == "Left rear, unloaded, 4 of 4:"


def test_a_line_cut_off_by_the_end_of_the_input_is_still_an_answer(tmp_path: Path) -> None:
    """The last line may lack its line feed: it was typed, so it is taken, and its keeping is said."""
    talk = job_from(tmp_path, VEHICLE)
    assert "Saved" in talk.conversation.answer("28 5/8")[0]


def test_what_the_settings_or_a_preset_stated_is_nobodys_last_answer(tmp_path: Path) -> None:
    """A job just made from a sheet opens on its first corner, not on the fact after the sheet's last."""
    assert job_from(tmp_path, VEHICLE).prompt == "Left front, unloaded, 1 of 4:"
