"""The conversation on the page about the line mode is a real one."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from cornerwalk.guide import page
from cornerwalk.words import languages, use_language
from tests.guide.reading import fenced
from tests.guide.test_pages import PAGES
from tests.line.talking import VEHICLE, job_from
from tests.support.snapshots import UPDATE


def without_times(said: list[str]) -> list[str]:
    """When something was kept is another matter each time."""
    return [re.sub(r"\d\d:\d\d:\d\d", "--:--:--", line) for line in said]


def typed_in(talk: str) -> list[str]:
    """What the technician typed: the lines after the questions of the English page."""
    return [line.partition(": ")[2] for line in talk.splitlines() if re.search(r", \d of 4: ", line)]


@pytest.mark.parametrize("code", languages())
def test_the_conversation_shown_is_what_is_said(code: str, tmp_path: Path, request: pytest.FixtureRequest) -> None:
    """Every question stands there as it is asked, and every sentence as it is said, but for the clock.

    `--update-snapshots` puts the same conversation into the page anew.
    """
    (english,) = fenced(page("lines"), "talk")
    use_language(code)
    (shown,) = fenced(page("lines"), "talk")
    talk = job_from(tmp_path, VEHICLE)
    talk.conversation.greeting()
    if request.config.getoption(UPDATE):
        told = "".join(f"{talk.prompt} {typed}\n{talk.say(typed)[0]}\n" for typed in typed_in(english))
        file = (PAGES if code == "en" else PAGES / code) / "25-lines.md"
        head, fence, rest = file.read_text("utf-8").partition("```talk\n")
        after = rest.partition("```\n")[2]
        file.write_text(f"{head}{fence}{told}```\n{after}", encoding="utf-8")
        return
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
