"""Search of the guide: whatever people call a thing, the page on it comes first."""

from __future__ import annotations

import pytest

from cornerwalk.guide import pages
from cornerwalk.guide.search import search
from cornerwalk.words import use_language
from tests.cli.calling import Said, run

# Common practice, no source: what people in the trade and their customers say.
ASKED = {
    "scale tickets": "scale",
    "weighbridge ticket": "scale",
    "hitch weight": "scale",
    "bars and bags": "bars",
    "weight distribution": "bars",
    "airbags": "installation",
    "jack stands": "installation",
    "why is it not level": "not-level",
    "squat": "not-level",
    "why not checked": "not-checked",
    "dictation": "dictation",
    "voice typing": "dictation",
    "number pad": "dictation",
    "headlight aim": "headlights",
    "low beam": "headlights",
    "soap": "leak",
    "leak-down": "leak",
    "customer copy": "handover",
    "preset": "paper",
    "screen reader": "terminal",
}


@pytest.mark.parametrize(("words", "page_id"), ASKED.items())
def test_the_page_people_mean_comes_first_or_second(words: str, page_id: str) -> None:
    """Its own word is not needed, its ending neither."""
    assert page_id in [found.page.id for found in search(words)[:2]]


def test_every_word_has_to_be_there() -> None:
    """A word that stands nowhere finds nothing, alone or beside others; no word finds nothing."""
    assert search("xylophone") == search("scale xylophone") == search("  ") == []
    assert search("scale")


def test_every_title_finds_its_page() -> None:
    """By all its words."""
    for page in pages():
        if page.id not in ("start", "words"):  # they name everything, and would come first for everything
            assert page.id in [found.page.id for found in search(page.title)], page.title


@pytest.mark.parametrize(
    ("language", "words", "page_id"),
    [
        ("de", "wiegeschein", "scale"),
        ("de", "federstabe", "bars"),
        ("es", "boletos", "scale"),
        ("es", "dictado", "dictation"),
    ],
)
def test_other_languages_are_searched_in_their_words(language: str, words: str, page_id: str) -> None:
    """With the accents or without."""
    use_language(language)
    assert search(words)[0].page.id == page_id


def test_the_command_lists_what_it_finds(capsys: Said) -> None:
    """A page's own name opens it; other words list pages, each with the section; none is bad input."""
    assert run("guide", "spring", "bars") == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[0].split()[0] == "bars"
    assert run("guide", "dictation") == 0
    assert capsys.readouterr().out.startswith("Dictation")
    assert run("guide", "xylophone") == 2
    assert "no page xylophone" in capsys.readouterr().err
    assert run("guide", "scale", "xylophone") == 2
    assert "no section of the guide holds all of these words: scale xylophone" in capsys.readouterr().err
