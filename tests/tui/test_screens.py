"""Every page of the app in every look: what of it can be held without eyes. Pictures: `tests/samples/screens.py`."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

import pytest
from rich.segment import Segment

from cornerwalk.tui import walk_view
from cornerwalk.tui.themes import LOOKS
from tests.samples.screens import SCENES, moments, on, turn
from tests.tui.driving import FACTS, Driver
from tests.tui.test_looks import contrast
from tests.words.test_left_english import NAMES, command_words, left_english, made_up, own_words, words_of

DRAWN = re.compile(r"[\s\u2500-\u259f\u2800-\u28ff◖◗]")
"""Blanks, lines, blocks and braille: drawn, not written. Held to 3:1 in `test_looks.py`."""

SIGNS = re.compile(r"[▸◂›▦]|^\s*\d")
"""What stands where something is marked or waits for a key: a pointer, the mark of the entry, or the key itself."""


LARGE = (130, 60)
"""Most pages stand whole in it."""


@pytest.fixture(autouse=True)
def _job_done() -> Iterator[None]:
    """The job of the pages is done first: it runs a loop of its own. And no page remembers another's words."""
    moments()
    remembering = (walk_view._height, walk_view._change, walk_view._bounds)
    for words in remembering:
        words.cache_clear()
    yield
    for words in remembering:
        words.cache_clear()


@cache
def allowed() -> set[str]:
    """Names, and what the invented people of the pages typed."""
    typed = [key for scene in SCENES.values() for key in scene.keys]
    return NAMES | own_words() | command_words() | words_of([*FACTS.values(), *typed])


def _segments(d: Driver) -> Iterator[tuple[str, Segment]]:
    """What is written on the screen now: the text of its row, and the piece."""
    for strip in d.app.screen._compositor.render_strips():
        for segment in strip:
            if DRAWN.sub("", segment.text):
                yield strip.text, segment


def _poor(d: Driver) -> dict[tuple[str, str], tuple[float, str]]:
    """Pairs of writing and ground below 7:1, or dimmed by the terminal, with what is written so."""
    poor = {}
    for _, segment in _segments(d):
        style = segment.style
        if style is None or style.color is None or style.bgcolor is None:
            continue
        assert style.color.triplet is not None
        assert style.bgcolor.triplet is not None
        pair = (style.color.triplet.hex, style.bgcolor.triplet.hex)
        if contrast(*pair) < 7 or style.dim:
            poor[pair] = (round(contrast(*pair), 2), segment.text)
    return poor


@pytest.mark.parametrize("name", SCENES)
async def test_every_text_reaches_seven_to_one_in_every_language(name: str) -> None:
    """Figures, cautions, hints, what is focused, marked or out of use: in each look, as it arrives on the screen.

    The language is made up: a plain letter, here or at the page's end, is one that passed through no catalogue.
    """
    with made_up():
        async with on(SCENES[name], (80, 24)) as d:
            for look in LOOKS:
                await turn(d, look)
                assert list(_segments(d)), look
                assert not _poor(d), look
            await d.resize(*LARGE)
            whole = d.text
            await d.press("end")
            shown = f"{whole}\n{d.text}"
    assert left_english(shown, allowed()) == set()


WITHOUT_STATE = ("walk, pad", "palette")
"""Keys of the pad are buttons, all alike; the library's palette marks by its ground alone."""


@pytest.mark.parametrize("name", [name for name in SCENES if name not in WITHOUT_STATE])
async def test_what_is_marked_is_marked_by_a_sign_too(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """With NO_COLOR no row hangs on its ground: where writing and ground are exchanged, a sign or a key stands."""
    monkeypatch.setenv("NO_COLOR", "1")
    async with on(SCENES[name], (80, 24)) as d:
        usual = d.app.screen.styles.background.hex6
        for row, segment in _segments(d):
            style = segment.style
            assert style is not None
            ground = style.bgcolor.triplet.hex if style.bgcolor and style.bgcolor.triplet else usual
            if _far(ground, usual):
                assert SIGNS.search(row) or SIGNS.search(segment.text), (row, segment.text)


def _far(one: str, other: str) -> bool:
    """Not merely the place to type in, whose ground differs a little."""
    return contrast(one, other) > 3
