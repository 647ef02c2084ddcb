"""Taking a page of the guide apart: its fenced blocks by what they hold, and its prose."""

from __future__ import annotations

from collections.abc import Iterator

from markdown_it import MarkdownIt

from cornerwalk.guide import GuidePage, pages


def fenced(page: GuidePage, kind: str) -> list[str]:
    """The blocks of this kind: `sh`, `toml`, `json`, `pycon`, `talk`, `install`."""
    tokens = MarkdownIt("commonmark").parse(page.text)
    return [token.content for token in tokens if token.type == "fence" and token.info == kind]


def every_block(kind: str) -> Iterator[tuple[str, str]]:
    """The blocks of this kind on every page, each with its page's id."""
    for page in pages():
        for block in fenced(page, kind):
            yield page.id, block


def prose(page: GuidePage) -> str:
    """The page without its fenced blocks."""
    kept, inside = [], False
    for line in page.text.splitlines():
        if line.startswith("```"):
            inside = not inside
        elif not inside:
            kept.append(line)
    return "\n".join(kept)
