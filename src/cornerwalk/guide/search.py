"""Search of the guide: pages by the words people use, whatever the page calls the thing.

A section is found where it holds every word asked for, by its beginning: `ticket` finds `tickets`. Words in a title
count most, then those in a heading. A row of a table that sends the reader to other pages, as the rows of *People also
say* do, stands for those pages.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass

from cornerwalk.guide import GuidePage, pages

_LINK = re.compile(r"\]\(#(?P<id>[a-z-]+)\)")
_WORD = re.compile(r"\w+")
_SHORTEST_STEM = 4
_IN_TITLE, _IN_HEADING, _SENT_THERE, _IN_TEXT = 8, 4, 6, 1
_INDEXES = ("start", "words")
"""Pages that name everything: their rows send elsewhere, and are no answer themselves."""


@dataclass(frozen=True, slots=True)
class FoundPage:
    """A page that holds the words: its weight, and the heading of the section that holds them best."""

    page: GuidePage
    heading: str
    weight: int


def search(words: str) -> list[FoundPage]:
    """The pages that hold all of these words, the likeliest first."""
    stems = [_stem(word) for word in _WORD.findall(_folded(words))]
    if not stems:
        return []
    by_id = {page.id: page for page in pages()}
    found: dict[str, list[FoundPage]] = {}
    for page in pages():
        for heading, section in _sections(page):
            for each in (*_in_section(page, heading, section, stems), *_sent(by_id, section, stems)):
                found.setdefault(each.page.id, []).append(each)
    order = list(by_id)
    return sorted(map(_together, found.values()), key=lambda each: (-each.weight, order.index(each.page.id)))


def _together(sections: list[FoundPage]) -> FoundPage:
    """The section that holds the words best; its page weighs a little more with every other one."""
    best = max(sections, key=lambda each: each.weight)
    return FoundPage(best.page, best.heading, best.weight + len(sections) - 1)


def _in_section(page: GuidePage, heading: str, section: str, stems: list[str]) -> Iterator[FoundPage]:
    if page.id in _INDEXES or not _holds(f"{page.title} {page.id} {heading} {section}", stems):
        return
    weight = _IN_TEXT + min(3, *(_folded(section).count(stem) for stem in stems))
    weight += _IN_HEADING * _holds(heading, stems) + _IN_TITLE * _holds(f"{page.title} {page.id}", stems)
    yield FoundPage(page, heading, weight)


def _sent(by_id: dict[str, GuidePage], section: str, stems: list[str]) -> Iterator[FoundPage]:
    """The pages that a row with these words links to."""
    for line in section.splitlines():
        if line.startswith("|") and _holds(line, stems):
            for match in _LINK.finditer(line):
                yield FoundPage(by_id[match["id"]], by_id[match["id"]].title, _SENT_THERE)


def _sections(page: GuidePage) -> Iterator[tuple[str, str]]:
    """Heading and text of each section, the title's own first."""
    for part in re.split(r"^#+ ", page.text, flags=re.MULTILINE)[1:]:
        heading, _, text = part.partition("\n")
        yield heading.strip(), text


def _holds(text: str, stems: list[str]) -> bool:
    held = _WORD.findall(_folded(text))
    return all(any(word.startswith(stem) for word in held) for stem in stems)


def _stem(word: str) -> str:
    """The word without an ending that only says how many: `tickets` is `ticket`."""
    for ending in ("es", "en", "s", "n", "e"):
        if word.endswith(ending) and len(word) - len(ending) >= _SHORTEST_STEM:
            return word.removesuffix(ending)
    return word


def _folded(text: str) -> str:
    """Small letters without accents, so that `Prüfung` is found as `prufung`."""
    split = unicodedata.normalize("NFKD", text.casefold())
    return "".join(letter for letter in split if not unicodedata.combining(letter))
