"""A page in lines for a terminal, and as a web page to print."""

from __future__ import annotations

import re
from html.parser import HTMLParser

import pytest

from cornerwalk.guide import GuidePage, pages
from cornerwalk.guide.rendering import as_html, as_lines
from tests.cli.calling import Said, run

KINDS = ("sh", "toml", "json", "pycon", "talk", "install", "keys", "screen")
"""What blocks are marked with, which no reader sees."""


def words_of(text: str) -> set[str]:
    """The words of a text, without the marks of Markdown."""
    return set(re.findall(r"\w+", text))


@pytest.mark.parametrize("width", [40, 60, 78])
@pytest.mark.parametrize("each", pages(), ids=lambda each: each.id)
def test_no_line_is_wider_than_the_terminal_and_no_word_is_lost(each: GuidePage, width: int) -> None:
    """Prose and tables are wrapped; examples stand as they are, and nothing is left out."""
    lines = as_lines(each, width)
    wide = [line for line in lines if len(line) > width and not line.startswith("    ")]
    assert [line for line in wide if len(line.split()) > 3] == []
    missing = words_of(each.text) - words_of("\n".join(lines))
    assert {word for word in missing if word not in KINDS} == set()


def test_examples_stand_as_they_are() -> None:
    """A line of an example keeps its blanks, so that it can be typed."""
    page = GuidePage("x", "X", "# X\n\n```toml\na  =  1   # two blanks\n```\n")
    assert "    a  =  1   # two blanks" in as_lines(page)


def test_lists_and_headings_are_told_apart() -> None:
    """Bullets, numbers and underlines."""
    lines = as_lines(GuidePage("x", "X", "# X\n\n## Y\n\n- one\n- two\n\n1. first\n2. second\n"))
    assert lines[:2] == ["X", "="]
    assert "- two" in lines
    assert "2. second" in lines


class Outline(HTMLParser):
    """What is opened and never closed, and every section."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.sections: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag not in ("meta", "br", "hr"):
            self.open.append(tag)
        if tag == "section":
            self.sections.append(dict(attrs)["id"] or "")

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag


def test_all_pages_make_one_web_page() -> None:
    """Well formed, a section a page, nothing loaded from anywhere."""
    text = as_html(pages())
    outline = Outline()
    outline.feed(text)
    assert outline.open == []
    assert outline.sections == [each.id for each in pages()]
    assert not re.search(r"\bsrc=", text)
    assert set(re.findall(r'\bhref="([^"]*)"', text)) == {f"#{each.id}" for each in pages()}


def test_a_page_alone_has_no_link_that_leads_nowhere() -> None:
    """Printed by itself, what is a link among all pages is plain text."""
    text = as_html([GuidePage("x", "X", "# X\n\nSee page [`air`](#air), and [`x`](#x) itself.\n")])
    assert re.findall(r"<a [^>]*>", text) == ['<a href="#x">']
    assert "See page <code>air</code>, and" in text


def test_markup_in_a_page_is_shown_not_done() -> None:
    """A page of the shop's own could hold anything."""
    assert "<script>" not in as_html([GuidePage("x", "X", "# X\n\n<script>alert(1)</script>\n")])


# ---- the command ----


def test_the_command_lists_shows_and_prints(capsys: Said) -> None:
    """Without a page the list; a page as text, as Markdown, as a web page; all of them."""
    assert run("guide") == 0
    listed = capsys.readouterr().out
    assert all(each.title in listed for each in pages())
    assert run("guide", "leak") == 0
    assert capsys.readouterr().out.startswith("Leak check\n==========\n")
    assert run("guide", "leak", "--to", "markdown") == 0
    assert capsys.readouterr().out.startswith("# Leak check\n")
    assert run("guide", "all", "--to", "html") == 0
    assert capsys.readouterr().out.count("<section") == len(pages())
    assert run("guide", "all") == 0
    assert capsys.readouterr().out.count("\n====") >= len(pages()) - 1


def test_an_unknown_page_is_bad_input(capsys: Said) -> None:
    """The nearest one is named, nothing is printed."""
    assert run("guide", "headlihgts") == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert "did you mean headlights" in said.err
