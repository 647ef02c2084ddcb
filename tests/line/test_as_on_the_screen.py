"""The same digit means the same in the line mode and on the full screen."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

from cornerwalk.session.events import Answer, CheckAnswered, Event, JointSoaped
from tests.line.talking import new_job, talk_in
from tests.tui.chapters import ask, open_chapter
from tests.tui.driving import walk

SOAP, STANDS = "soap.left bag", "stands"


async def typed_on_the_screen(folder: Path, chapter: str, line_id: str, typed: str) -> Sequence[Event]:
    """What is recorded where these characters are typed at a line of a chapter, and Enter."""
    async with walk(folder, facts={}) as d:
        before = len(d.events)
        await open_chapter(d, chapter)
        await ask(d, line_id)
        await d.type(typed)
        await d.press("enter")
        return [event.payload for event in d.events[before:]]


def typed_line_by_line(folder: Path, word: str, typed: str) -> Sequence[Event]:
    """The same, behind the word that leads to the question."""
    talk = new_job(folder)
    talk.say(word)
    before = len(talk.stored)
    talk.say(typed)
    return [event.payload for event in talk.stored[before:]]


@pytest.mark.parametrize(("typed", "bubbles"), [("1", False), ("2", True)])
async def test_the_soap_test(tmp_path: Path, typed: str, *, bubbles: bool) -> None:
    """`1` is no bubbles, in both."""
    on_screen = await typed_on_the_screen(tmp_path / "screen", "7", SOAP, typed)
    by_line = typed_line_by_line(tmp_path / "line", "soap", typed)
    assert on_screen == by_line == [JointSoaped(joint="left bag", bubbles=bubbles)]


async def test_a_soap_test_takes_no_yes(tmp_path: Path) -> None:
    """A yes could mean that it is tight, or that it bubbles: neither skin takes it."""
    assert await typed_on_the_screen(tmp_path / "screen", "7", SOAP, "y") == []
    assert typed_line_by_line(tmp_path / "line", "soap", "y") == []


@pytest.mark.parametrize(
    ("typed", "answer"),
    [
        ("1", "yes"),
        ("2", "no"),
        ("3", "not checked"),
        ("5", "referred"),
        ("y", "yes"),
        ("n", "no"),
        ("-", "not checked"),
    ],
)
async def test_a_checklist(tmp_path: Path, typed: str, answer: Answer) -> None:
    """`3` is not checked, in both."""
    on_screen = await typed_on_the_screen(tmp_path / "screen", "5", STANDS, typed)
    by_line = typed_line_by_line(tmp_path / "line", "fitting", typed)
    assert on_screen == by_line == [CheckAnswered(check="stands", answer=answer)]


def test_the_settings_have_the_number_that_the_start_page_shows(tmp_path: Path) -> None:
    """Without a job to go on with: a new one, an earlier one, the sample, the settings."""
    talk = talk_in(tmp_path)
    talk.say("4")
    assert talk.prompt.startswith("Setting and value")
