"""The pictures of the README are what the app shows today: none is ever old."""

from __future__ import annotations

import asyncio
import html
import re
from itertools import pairwise
from xml.etree import ElementTree as ET

import pytest

from cornerwalk.samples import sample_folder
from tests.samples import animation
from tests.samples.pictures import PICTURES, picture

README = (sample_folder().parent / "README.md").read_text("utf-8")


def words_of(svg: str) -> list[str]:
    """The texts of a picture, line for line."""
    return [html.unescape(text) for text in re.findall(r">([^<>]+)</text>", svg)]


@pytest.mark.parametrize("name", PICTURES)
def test_a_still_shows_the_page_of_today(name: str) -> None:
    """After a change of texts or pages, `python -m tests.samples.pictures` takes them anew."""
    kept = (sample_folder() / f"{name}.svg").read_text("utf-8")
    assert words_of(kept) == words_of(asyncio.run(picture(name)))


def test_the_moving_picture_shows_the_walk_of_today() -> None:
    """After a change of texts or pages, `python -m tests.samples.animation` takes it anew."""
    kept = (sample_folder() / animation.NAME).read_text("utf-8")
    assert words_of(kept) == words_of(animation.made())


def test_the_moving_picture_is_a_picture() -> None:
    """XML that fetches nothing, small enough for a front page, still where motion is not wanted."""
    text = (sample_folder() / animation.NAME).read_text("utf-8")
    ET.fromstring(text)
    assert not re.search(r"https?://(?!www\.w3\.org/2000/svg)|<script|@import", text)
    assert len(text) < 200_000
    assert "prefers-reduced-motion" in text


def test_at_every_moment_each_line_is_seen_once() -> None:
    """The runs of frames of one line follow one another: no two are seen at once, and the last stays to the end."""
    text = (sample_folder() / animation.NAME).read_text("utf-8")
    seen: dict[str, list[tuple[int, int]]] = {}
    for first, last, group in re.findall(r'<g class="f(\d+)-(\d+)">\n(.*?)\n</g>', text, re.DOTALL):
        for y in {y for line in group.splitlines() for y in re.findall(r'<text [^>]*\by="([\d.]+)"', line)}:
            seen.setdefault(y, []).append((int(first), int(last)))
    assert len(seen) > 20
    for runs in seen.values():
        runs.sort()
        assert all(before[1] < after[0] for before, after in pairwise(runs))


def test_every_picture_of_the_readme_is_one_of_them() -> None:
    """And none lies there that it does not show."""
    shown = set(re.findall(r"\(sample_sessions/([a-z]+\.svg)\)", README))
    assert (
        shown
        == {path.name for path in sample_folder().glob("*.svg")}
        == {f"{n}.svg" for n in PICTURES} | {animation.NAME}
    )
