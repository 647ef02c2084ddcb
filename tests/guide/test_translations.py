"""The guide in other languages: page for page, link for link and example for example what the English one is."""

from __future__ import annotations

import re
from functools import cache
from unicodedata import combining, normalize

import pytest
from babel.messages.pofile import read_po

from cornerwalk.guide import ENGLISH, GuidePage, pages
from cornerwalk.guide.rendering import WIDTH, as_lines
from cornerwalk.line.words import spoken
from cornerwalk.words import languages, use_language
from tests.guide.reading import fenced, prose
from tests.guide.test_pages import KEY, LINK, ORDER, PAGES
from tests.support.snapshots import UPDATE
from tests.words.listening import HOUSE

OTHERS = [code for code in languages() if code != ENGLISH]
SAME = ("sh", "toml", "json", "pycon", "install", "keys")
"""Blocks that are typed or run: they are no words. `--update-snapshots` copies them from the English page."""

FILES = [(code, each.id) for code in OTHERS for each in pages()]


@cache
def english() -> dict[str, GuidePage]:
    """By id."""
    use_language(ENGLISH)
    return {each.id: each for each in pages()}


@cache
def translated(code: str) -> dict[str, GuidePage]:
    """By id."""
    use_language(code)
    try:
        return {each.id: each for each in pages()}
    finally:
        use_language(ENGLISH)


def shape(page: GuidePage) -> list[str]:
    """Level of each heading, rows and columns of each table, items of each list, blocks: the page without its words."""
    told = prose(page) if page.id != "findings" else prose(page).partition("\n## ")[0]
    lines = re.sub(r"\\\|", "/", told).splitlines()
    marks = [re.match(r"#+ |- |\d+\. |\|", line) for line in lines]
    return [
        f"{mark[0]}{line.count('|') if mark[0] == '|' else ''}" for mark, line in zip(marks, lines, strict=True) if mark
    ]


@pytest.mark.parametrize("code", OTHERS)
def test_every_page_is_there(code: str) -> None:
    """In the same order, with a title of its own in that language."""
    assert [each.id for each in translated(code).values()] == ORDER
    assert [each.id for each in translated(code).values() if each.language != code] == []
    titles = [each.title for each in translated(code).values()]
    assert len(set(titles)) == len(titles)


@pytest.mark.parametrize(("code", "page_id"), FILES)
def test_it_has_the_shape_of_the_english_page(code: str, page_id: str) -> None:
    """No section, row or item is left out, and none is new; links and keys are the same."""
    ours, theirs = english()[page_id], translated(code)[page_id]
    if page_id != "words":  # sorted by the words of the language
        assert shape(theirs) == shape(ours)
    assert sorted(LINK.findall(theirs.text)) == sorted(LINK.findall(ours.text))
    assert sorted(KEY.findall(prose(theirs))) == sorted(KEY.findall(prose(ours)))


@pytest.mark.parametrize(("code", "page_id"), FILES)
def test_what_is_typed_is_the_same(code: str, page_id: str, request: pytest.FixtureRequest) -> None:
    """Commands, files and examples stand letter for letter as on the English page."""
    ours, theirs = english()[page_id], translated(code)[page_id]
    if request.config.getoption(UPDATE):
        _copy_blocks(code, page_id)
        return
    for kind in SAME:
        assert fenced(theirs, kind) == fenced(ours, kind)


def _copy_blocks(code: str, page_id: str) -> None:
    (name,) = [file.name for file in PAGES.glob(f"??-{page_id}.md")]
    pattern = re.compile(rf"^```(?:{'|'.join(SAME)})\n.*?^```$", re.MULTILINE | re.DOTALL)
    blocks = iter(pattern.findall((PAGES / name).read_text("utf-8")))
    file = PAGES / code / name
    file.write_text(pattern.sub(lambda _: next(blocks), file.read_text("utf-8")), encoding="utf-8")


@pytest.mark.parametrize(("code", "page_id"), FILES)
def test_a_translated_page_is_fit_to_be_read(code: str, page_id: str) -> None:
    """No line too long to edit, and no sentence left in English."""
    theirs, ours = translated(code)[page_id], english()[page_id]
    assert max(map(len, theirs.text.splitlines())) <= 130
    sentences = re.findall(r"[A-Z][a-z]+ [^.|`*]{25,}\.", " ".join(prose(ours).split()))
    assert [each for each in sentences if each in " ".join(prose(theirs).split())] == []


@pytest.mark.parametrize("code", OTHERS)
def test_the_terms_are_in_the_order_of_their_letters(code: str) -> None:
    """So that one can be found; an accent does not count."""
    terms = translated(code)["words"].text.partition("\n## ")[0]
    listed = re.findall(r"^\| ([^|]+) \|", terms, re.MULTILINE)[2:]
    assert listed == sorted(listed, key=_letters)
    assert len(listed) > 30


def _letters(term: str) -> str:
    return "".join(each for each in normalize("NFKD", term.casefold()) if not combining(each))


@pytest.mark.parametrize("code", OTHERS)
def test_the_words_of_the_line_mode_are_those_of_the_language(code: str) -> None:
    """Each word in the table of the page on the line mode is taken there."""
    use_language(code)
    rows = re.findall(r"^\| (`.*?) \|", translated(code)["lines"].text, re.MULTILINE)
    typed = [text for row in rows for text in re.findall(r"`([^`]+)`", row)]
    assert len(typed) > 15
    assert [text for text in typed if spoken(text, alone=False) is None] == []


@pytest.mark.parametrize(("code", "page_id"), FILES)
def test_it_fits_a_terminal(code: str, page_id: str) -> None:
    """Prose and tables are wrapped at the width the command uses, and no word is lost."""
    theirs = translated(code)[page_id]
    lines = as_lines(theirs, WIDTH)
    assert [line for line in lines if len(line) > WIDTH and not line.startswith("    ")] == []
    words = set(re.findall(r"\w+", "\n".join(lines)))
    assert set(re.findall(r"\w+", prose(theirs))) - words == set()


OTHER_ITALICS = {
    "Norris", "Report", "Results", "Replay", "Check", "Export", "Ask", "absolute", "absoluten", "absoluta",
    "was wäre wenn",
}  # fmt: skip
"""Commands, a data set and stressed words: no names of the screens."""


@pytest.mark.parametrize("code", languages())
def test_what_the_guide_quotes_from_the_screens_stands_there(code: str) -> None:
    """Each name in italics is a text of the program in that language, or a part of one."""
    said = {text.casefold() for text in _texts(code)}
    quoted = {
        (page_id, name)
        for page_id, each in translated(code).items()
        if page_id != "findings"
        for name in re.findall(r"(?<![\w*])\*([^*\n]+)\*(?![\w*])", prose(each))
    }
    assert len(quoted) > 10
    strange = {
        (page_id, name)
        for page_id, name in quoted
        if name not in OTHER_ITALICS
        and not any(re.search(rf"(?<!\w){re.escape(name.casefold())}(?!\w)", text) for text in said)
    }
    assert strange == set()


def _texts(code: str) -> list[str]:
    """Every text of the program as it is said in a language."""
    other = code if code != ENGLISH else OTHERS[0]
    with (HOUSE / "words" / "locale" / other / "LC_MESSAGES" / "cornerwalk.po").open("rb") as stream:
        messages = [message for message in read_po(stream) if message.id]
    spoken_forms = [message.id if code == ENGLISH else message.string for message in messages]
    return [text for form in spoken_forms for text in ([form] if isinstance(form, str) else form or ())]
