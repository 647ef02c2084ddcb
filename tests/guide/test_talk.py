"""The conversation on the page about the line mode is a real one."""

from __future__ import annotations

import re
from pathlib import Path

from cornerwalk.guide import page
from tests.guide.reading import fenced
from tests.line.talking import VEHICLE, job_from


def without_times(said: list[str]) -> list[str]:
    """When something was kept is another matter each time."""
    return [re.sub(r"\d\d:\d\d:\d\d", "--:--:--", line) for line in said]


def test_the_conversation_shown_is_what_is_said(tmp_path: Path) -> None:
    """Every question stands there as it is asked, and every sentence as it is said, but for the clock."""
    (shown,) = fenced(page("lines"), "talk")
    talk = job_from(tmp_path, VEHICLE)
    talk.conversation.greeting()
    lines = without_times(shown.splitlines())
    place = 0
    while place < len(lines):
        prompt = talk.prompt
        assert lines[place].startswith(prompt + " ")
        said = without_times(talk.say(lines[place][len(prompt) + 1 :]))
        shown_here = lines[place + 1 : place + 1 + len(said)]
        assert shown_here == said[: len(shown_here)]  # the page ends before the last answer is told to its end
        assert shown_here
        place += 1 + len(said)
