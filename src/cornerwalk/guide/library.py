"""The pages of the guide, read from the package.

A page is one file, `NN-id.md`: NN gives its place, its first line (`# …`) its title, its second paragraph what it is
about. A new page takes no more than a file.
"""

from __future__ import annotations

import difflib
import re
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

_NAME = re.compile(r"\d\d-(?P<id>[a-z-]+)\.md")


@dataclass(frozen=True, slots=True)
class Page:
    """One page: its id as it is asked for, its title, and its text in Markdown, title included."""

    id: str
    title: str
    text: str


class UnknownPageError(LookupError):
    """There is no such page; `template` is English with {named} `fields`."""

    def __init__(self, page_id: str) -> None:
        known = [page.id for page in pages()]
        nearest = difflib.get_close_matches(page_id, known, n=1)
        super().__init__(page_id)
        self.template = (
            "the guide has no page {page}; did you mean {nearest}?" if nearest else "the guide has no page {page}"
        )
        self.fields: dict[str, object] = {"page": page_id, "nearest": nearest[0] if nearest else ""}

    def __str__(self) -> str:
        return self.template.format(**self.fields)


@cache
def pages() -> tuple[Page, ...]:
    """Every page in reading order."""
    folder = files("cornerwalk.guide") / "pages"
    found = sorted((entry.name, entry) for entry in folder.iterdir() if _NAME.fullmatch(entry.name))
    return tuple(_page(name, entry.read_text("utf-8")) for name, entry in found)


def _page(name: str, text: str) -> Page:
    named = _NAME.fullmatch(name)
    assert named is not None
    return Page(id=named["id"], title=text.partition("\n")[0].removeprefix("# ").strip(), text=text)


def page(page_id: str) -> Page:
    """One page.

    Raises:
        UnknownPage: there is none of that id; it names the nearest.
    """
    found = next((each for each in pages() if each.id == page_id), None)
    if found is None:
        raise UnknownPageError(page_id)
    return found
