"""Guide: its pages in Markdown, readable without a network; `rendering` turns them into lines or one web page.

A page is one file, `pages/NN-id.md`: NN gives its place, its first line (`# …`) its title. A new page takes no more
than a file. A link to another page is `[text](#id)`. The page of the findings is its file and the list of findings.
A translation lies under the same name in `pages/LANGUAGE/`; a page without one is shown in English. `search` finds
pages by the words people use.
"""

from __future__ import annotations

import difflib
import re
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from cornerwalk.guide.findings_page import findings_markdown
from cornerwalk.words import language
from cornerwalk.words.errors import TemplateError

FINDINGS = "findings"
ENGLISH = "en"
_NAME = re.compile(r"\d\d-(?P<id>[a-z-]+)\.md")


@dataclass(frozen=True, slots=True)
class GuidePage:
    """One page: its id as it is asked for, its title, its text in Markdown, title included, and its language."""

    id: str
    title: str
    text: str
    language: str = ENGLISH


class UnknownPageError(TemplateError, LookupError):
    """There is no such page."""


class NothingFoundError(TemplateError, LookupError):
    """No page holds the words looked for."""


def pages() -> tuple[GuidePage, ...]:
    """Every page in reading order, in the user's language where there is a translation."""
    return _pages(language())


@cache
def _pages(code: str) -> tuple[GuidePage, ...]:
    folder = files("cornerwalk.guide") / "pages"
    entries = sorted((entry.name, entry) for entry in folder.iterdir() if _NAME.fullmatch(entry.name))
    shown = []
    for name, entry in entries:
        translated = folder / code.partition("_")[0] / name
        if translated.is_file():
            shown.append(_page(name, translated.read_text("utf-8"), code.partition("_")[0]))
        else:
            shown.append(_page(name, entry.read_text("utf-8"), ENGLISH))
    return tuple(shown)


def _page(name: str, text: str, code: str) -> GuidePage:
    match = _NAME.fullmatch(name)
    assert match is not None
    if match["id"] == FINDINGS:
        text = f"{text}\n{findings_markdown()}"
    title = text.partition("\n")[0].removeprefix("# ").replace("*", "").strip()
    return GuidePage(id=match["id"], title=title, text=text, language=code)


def page(page_id: str) -> GuidePage:
    """One page.

    Raises:
        UnknownPageError: there is none of that id; it names the nearest.
    """
    match = next((each for each in pages() if each.id == page_id), None)
    if match is not None:
        return match
    nearest = difflib.get_close_matches(page_id, [each.id for each in pages()], n=1)
    if nearest:
        raise UnknownPageError(
            "the guide has no page {page}; did you mean {nearest}?", page=page_id, nearest=nearest[0]
        )
    raise UnknownPageError("the guide has no page {page}", page=page_id)
