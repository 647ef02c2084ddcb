"""The tutorial is played in the real app, in every language: each picture is what the screen shows after the keys."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from markdown_it import MarkdownIt

from cornerwalk.guide import page
from cornerwalk.sheet import read_job_sheet
from cornerwalk.words import languages, use_language
from tests.guide.test_pages import PAGES
from tests.support.jobs import NOW
from tests.support.snapshots import UPDATE, tidied
from tests.tui.driving import PLAIN_KEYS, context_of, walk

SIZE = (72, 24)
KEYS = {"Enter": "enter", "Esc": "escape", "F4": "f4", "F5": "f5", "F9": "f9"}
"""Keys by the name that the page gives them; any other word is typed."""


def blocks() -> Iterator[tuple[str, str]]:
    """The page's blocks in order: kind and content."""
    for token in MarkdownIt("commonmark").parse(page("tutorial").text):
        if token.type == "fence":
            yield token.info, token.content


def pressed(block: str) -> Iterator[str]:
    """The keys of a block: `28 5/8 Enter` types six characters and presses Enter."""
    for line in block.splitlines():
        typed: list[str] = []
        for word in line.split():
            if word in KEYS:
                yield from _characters(typed)
                typed = []
                yield KEYS[word]
            else:
                typed.append(word)
        yield from _characters(typed)


def _characters(words: list[str]) -> Iterator[str]:
    for character in " ".join(words):
        yield PLAIN_KEYS.get(character, character)


async def played(folder: Path) -> list[str]:
    """Each screen that the page shows, from the app."""
    context = context_of(folder)
    sheet = next(content for kind, content in blocks() if kind == "toml")
    session_id = "11111111-2222-4333-8444-555555555555"
    contents = read_job_sheet(sheet, name="van.toml", session_id=session_id, now=NOW)
    with context.library.create(*contents.events) as session:
        path = session.path
    screens: list[str] = []

    async with walk(folder, size=SIZE, context=context, path=path) as d:
        for kind, content in blocks():
            if kind == "keys":
                for key in pressed(content):
                    await d.press(key)
            elif kind == "screen":
                screens.append(tidied(d.text))
    return screens


@pytest.mark.parametrize("code", languages())
async def test_each_picture_is_what_the_screen_shows(code: str, tmp_path: Path, request: pytest.FixtureRequest) -> None:
    """`--update-snapshots` puts the pictures into the page anew."""
    use_language(code)
    screens = await played(tmp_path)
    shown = [content for kind, content in blocks() if kind == "screen"]
    assert len(screens) == len(shown) > 3
    if request.config.getoption(UPDATE):
        file = (PAGES if code == "en" else PAGES / code) / "02-tutorial.md"
        head, *rest = file.read_text("utf-8").split("```screen\n")
        told = [each.partition("```\n")[2] for each in rest]
        made = (f"```screen\n{screen}```\n{after}" for screen, after in zip(screens, told, strict=True))
        file.write_text(head + "".join(made), encoding="utf-8")
        return
    assert screens == shown


def test_the_keys_are_read_as_a_person_would() -> None:
    """Words are typed with their blanks, names of keys are pressed."""
    assert list(pressed("28 5/8 Enter\nF5")) == ["2", "8", "space", "5", "slash", "8", "enter", "f5"]
