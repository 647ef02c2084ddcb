"""Rendering of guide pages: as lines for a terminal, and as one web page to print. A library parses the Markdown."""

from __future__ import annotations

import html
import textwrap
from collections.abc import Iterable, Iterator, Sequence, Set
from typing import cast

from markdown_it import MarkdownIt
from markdown_it.token import Token

from cornerwalk.guide import GuidePage

WIDTH = 78
_GAP = "  "
_NARROWEST = 8
_STYLE = """
body{font:11pt/1.45 sans-serif;max-width:44em;margin:2em auto;padding:0 1em}
pre{background:#f3f3f3;padding:.6em;white-space:pre-wrap}
code{font-family:monospace}
table{border-collapse:collapse}
th,td{border:1px solid #888;padding:.2em .5em;text-align:left;vertical-align:top}
nav ol{columns:2}
@media print{section{break-before:page}section:first-of-type{break-before:auto}pre,table{break-inside:avoid}}
"""


def _parser() -> MarkdownIt:
    return MarkdownIt("commonmark", {"html": False}).enable("table")


def as_lines(page: GuidePage, width: int = WIDTH) -> list[str]:
    """The page for a terminal of so many columns: words wrapped, code and tables as they stand."""
    lines: list[str] = []
    for block in _LineRenderer(width).blocks(_parser().parse(page.text)):
        lines += [*block, ""]
    return lines[:-1]


def as_html(shown: Sequence[GuidePage], *, language: str = "en") -> str:
    """The pages as one web page that needs nothing else, each on a sheet of its own where it is printed."""
    ids = {page.id for page in shown}
    sections = "\n".join(f'<section id="{page.id}">\n{_linked(page, ids)}</section>' for page in shown)
    contents = _contents(shown) if len(shown) > 1 else ""
    title = html.escape(shown[0].title if len(shown) == 1 else "cornerwalk")
    return (
        f'<!DOCTYPE html>\n<html lang="{html.escape(language)}">\n<head>\n<meta charset="utf-8">\n'
        f"<title>{title}</title>\n<style>{_STYLE}</style>\n</head>\n<body>\n{contents}{sections}\n</body>\n</html>\n"
    )


def _contents(shown: Sequence[GuidePage]) -> str:
    """Links to the pages in reading order."""
    links = "".join(f'<li><a href="#{page.id}">{html.escape(page.title)}</a></li>\n' for page in shown)
    return f"<nav><ol>\n{links}</ol></nav>\n"


def _linked(page: GuidePage, ids: Set[str]) -> str:
    """The page in HTML; a link to a page that is not shown is its text alone."""
    parser = _parser()
    tokens = parser.parse(page.text)
    for token in tokens:
        if token.children:
            token.children = list(_without_dead_links(token.children, ids))
    return cast("str", parser.renderer.render(tokens, parser.options, {}))


def _without_dead_links(tokens: Iterable[Token], ids: Set[str]) -> Iterator[Token]:
    dead = False
    for token in tokens:
        if token.type == "link_open":
            dead = str(token.attrGet("href")).removeprefix("#") not in ids
        if not (dead and token.type in ("link_open", "link_close")):
            yield token


class _LineRenderer:
    """Renders the tokens of a page, block by block, as lines."""

    def __init__(self, width: int) -> None:
        self._width = width
        self._lists: list[int | None] = []
        self._lead = ""

    def blocks(self, tokens: Sequence[Token]) -> Iterator[list[str]]:
        place = 0
        while place < len(tokens):
            token = tokens[place]
            match token.type:
                case "heading_open":
                    yield self._heading(tokens[place + 1], int(token.tag[1:]))
                    place += 2
                case "paragraph_open":
                    yield self._paragraph(tokens[place + 1])
                    place += 2
                case "fence" | "code_block":
                    yield [f"    {line}".rstrip() for line in token.content.rstrip("\n").split("\n")]
                case "table_open":
                    end = next(n for n in range(place, len(tokens)) if tokens[n].type == "table_close")
                    yield self._table(tokens[place:end])
                    place = end
                case "bullet_list_open":
                    self._lists.append(None)
                case "ordered_list_open":
                    self._lists.append(int(token.attrGet("start") or 1))
                case "bullet_list_close" | "ordered_list_close":
                    self._lists.pop()
                case "list_item_open":
                    self._lead = self._item()
                case _:
                    pass
            place += 1

    def _item(self) -> str:
        number = self._lists[-1]
        if number is None:
            return "- "
        self._lists[-1] = number + 1
        return f"{number}. "

    def _heading(self, inline: Token, level: int) -> list[str]:
        lines = _wrapped(_words(inline), self._width)
        if level > 2:
            return lines
        return [*lines, ("=" if level == 1 else "-") * max(map(len, lines))]

    def _paragraph(self, inline: Token) -> list[str]:
        indent = "  " * len(self._lists)
        lead = indent[:-2] + self._lead if self._lead else indent
        self._lead = ""
        after = indent if not lead.strip() else " " * len(lead)
        first, *others = _wrapped(_words(inline), max(_NARROWEST, self._width - len(lead)))
        return [lead + first, *(after + line for line in others)]

    def _table(self, tokens: Sequence[Token]) -> list[str]:
        """Columns side by side; the widest shrink until they fit, and their cells are wrapped.

        Where even the longest words do not fit side by side, each row is written cell by cell.
        """
        rows: list[list[str]] = []
        for place, token in enumerate(tokens):
            if token.type == "tr_open":
                rows.append([])
            elif token.type in ("th_open", "td_open"):
                rows[-1].append(_words(tokens[place + 1]))
        columns = list(zip(*rows, strict=True))
        widths = [max(len(cell) for cell in column) for column in columns]
        least = [max(len(word) for cell in column for word in cell.split() or ("",)) for column in columns]
        room = self._width - len(_GAP) * (len(widths) - 1)
        if sum(least) > room:
            return self._row_by_row(rows)
        while sum(widths) > room:
            wide = max(width for width, word in zip(widths, least, strict=True) if width > word)
            widths[next(n for n, width in enumerate(widths) if width == wide > least[n])] -= 1
        lines: list[str] = []
        for number, row in enumerate(rows):
            cells = [_wrapped(cell, width) for cell, width in zip(row, widths, strict=True)]
            for line in range(max(map(len, cells))):
                parts = [cell[line] if line < len(cell) else "" for cell in cells]
                padded = (f"{part:<{width}}" for part, width in zip(parts, widths, strict=True))
                lines.append(_GAP.join(padded).rstrip())
            if number == 0:
                lines.append(_GAP.join("-" * width for width in widths))
        return lines

    def _row_by_row(self, rows: Sequence[Sequence[str]]) -> list[str]:
        head, *others = rows
        lines: list[str] = []
        for row in others:
            lines += [""] if lines else []
            for name, cell in zip(head, row, strict=True):
                lines += _wrapped(f"{name}: {cell}" if name else cell, self._width)
        return lines


def _wrapped(text: str, width: int) -> list[str]:
    return textwrap.wrap(text, width, break_long_words=False, break_on_hyphens=False) or [""]


def _words(inline: Token) -> str:
    """The text of a line without its marks; code keeps its backticks, since a blank may belong to it."""
    parts = []
    for child in inline.children or ():
        match child.type:
            case "code_inline":
                parts.append(f"`{child.content}`")
            case "softbreak" | "hardbreak":
                parts.append(" ")
            case _:
                parts.append(child.content)
    return "".join(parts)
