"""Plain text: a document in lines of a fixed width, for a terminal, an email or a plain printer."""

from __future__ import annotations

import textwrap
import unicodedata
from collections.abc import Callable, Iterator, Sequence

from cornerwalk.report.document import (
    NO_BREAK,
    Alert,
    Beside,
    Blanks,
    Block,
    Bullets,
    Code,
    CutOutCard,
    Document,
    Facts,
    Form,
    Heading,
    LargeFigure,
    Letterhead,
    Paragraph,
    Pictures,
    Spare,
    Table,
    bind_figures,
)
from cornerwalk.words.safe import harmless

WIDTH = 78
_GAP = "  "
_NARROWEST = 6


def as_text(document: Document, width: int = WIDTH) -> str:
    """The report as lines of at most `width` columns, each ending in a line feed."""
    lines = [*_letterhead(document.letterhead, width), *_wrapped(document.title, width)]
    lines += [*_wrapped(document.subtitle, width), "═" * width]
    for block in document.blocks:
        drawn = list(_block(block, width))
        lines += ["", *drawn] if drawn else []
    if document.code is not None:
        lines += ["", *_code(document.code, width)]
    lines += ["", "─" * width, *_wrapped(document.footer, width)]
    return "\n".join(line.rstrip() for line in lines) + "\n"


def columns(text: str) -> int:
    """How many columns of a terminal a text takes: two for wide characters, none for combining ones."""
    if text.isascii():
        return len(text)
    return sum(_columns_of(character) for character in text)


def _columns_of(character: str) -> int:
    if unicodedata.combining(character) or unicodedata.category(character) in ("Mn", "Me", "Cf"):
        return 0
    return 2 if unicodedata.east_asian_width(character) in "WF" else 1


def _block(block: Block, width: int) -> Iterator[str]:
    yield from _RENDERERS[type(block)](block, width)


def _heading(block: Heading, width: int) -> Iterator[str]:
    lines = _wrapped(block.text, width)
    yield from lines
    yield "─" * max(map(columns, lines), default=0)


def _alert(block: Alert, width: int) -> Iterator[str]:
    yield from _wrapped(f"{block.level_word}: {block.heading}", width)
    for line in block.lines:
        yield from (f"  {part}" for part in _wrapped(line, width - 2))
    if block.action:
        yield from _hanging("  ▸ ", block.action, width)
    if block.source:
        yield from (f"  {part}" for part in _wrapped(block.source, width - 2))


def _code(block: Code, width: int) -> Iterator[str]:
    yield from _wrapped(block.caption, width)
    for line in block.text.split("\n"):
        yield from (f"  {part}" for part in _wrapped(line, width - 2))


def _bullets(block: Bullets, width: int) -> Iterator[str]:
    for item in block.items:
        yield from _hanging("- ", item, width)


def _letterhead(letterhead: Letterhead, width: int) -> Iterator[str]:
    line = " · ".join(part for part in (letterhead.name, letterhead.phone) if part)
    yield from _wrapped(line, width)


def _large_figure(block: LargeFigure, width: int) -> Iterator[str]:
    figures = ", ".join(f"{name} {figure}" if name else figure for name, figure in block.figures)
    yield from _wrapped(f"{block.label}: {figures}", width)
    yield from _wrapped(block.note, width)


def _cut_out_card(block: CutOutCard, width: int) -> Iterator[str]:
    yield from _wrapped(f"{block.title}:", width)
    yield from (f"  {line}" for line in _facts(block.rows, width - 2))


def _beside(block: Beside, width: int) -> Iterator[str]:
    yield from _block(block.left, width)
    if type(block.left) is not type(block.right):
        yield ""
    yield from _block(block.right, width)


def _spare(block: Spare, width: int) -> Iterator[str]:
    for place, inner in enumerate(block.blocks):
        yield from ([""] if place else [])
        yield from _block(inner, width)


def _blanks(block: Blanks, width: int) -> Iterator[str]:
    for label in block.labels:
        yield from _wrapped(f"{label} {'_' * max(8, width - 1 - columns(harmless(label)))}", width)
        yield ""


def _form(block: Form, width: int) -> Iterator[str]:
    empty = ("",) * (len(block.head) - 1)
    names = max(columns(harmless(name)) for name in (block.head[0], *block.names))
    first = max(_NARROWEST, min(names, width - (_NARROWEST + len(_GAP)) * len(empty)))
    each = (width - first - len(_GAP) * len(empty)) // max(1, len(empty))
    widths = [first, *(each for _ in empty)]
    yield from _row(block.head, widths)
    for name in block.names:
        yield from _row((name, *("_" * each for _ in empty)), widths)
        yield ""


def _table_block(block: Table, width: int) -> Iterator[str]:
    yield from _table(block.head, block.rows, width)
    yield from _wrapped(block.note, width)


_RENDERERS: dict[type[Block], Callable[..., Iterator[str]]] = {
    Heading: _heading,
    Paragraph: lambda block, width: iter(_wrapped(block.text, width)),
    Facts: lambda block, width: _facts(block.rows, width),
    Table: _table_block,
    Bullets: _bullets,
    Alert: _alert,
    Pictures: lambda _block, _width: iter(()),
    Blanks: _blanks,
    Form: _form,
    LargeFigure: _large_figure,
    CutOutCard: _cut_out_card,
    Beside: _beside,
    Spare: _spare,
}


def _facts(rows: Sequence[tuple[str, str]], width: int) -> Iterator[str]:
    left = min(max((columns(harmless(name)) for name, _ in rows), default=0), width // 3)
    for name, value in rows:
        names = _wrapped(name, left)
        values = _wrapped(value, width - left - len(_GAP))
        yield from _side_by_side([names, values], [left, width - left - len(_GAP)])


def _table(head: Sequence[str], rows: Sequence[Sequence[str]], width: int) -> Iterator[str]:
    widths = _column_widths([head, *rows], width)
    if widths is None:
        yield from _stacked(head, rows, width)
        return
    yield from _row(head, widths)
    yield _GAP.join("─" * column for column in widths)
    for row in rows:
        yield from _row(row, widths)


def _row(cells: Sequence[str], widths: Sequence[int]) -> Iterator[str]:
    yield from _side_by_side([_wrapped(cell, column) for cell, column in zip(cells, widths, strict=True)], widths)


def _side_by_side(parts: Sequence[Sequence[str]], widths: Sequence[int]) -> Iterator[str]:
    for line in range(max(map(len, parts), default=0)):
        cells = [column[line] if line < len(column) else "" for column in parts]
        yield _GAP.join(_padded(cell, width) for cell, width in zip(cells, widths, strict=True))


def _column_widths(rows: Sequence[Sequence[str]], width: int) -> list[int] | None:
    """Widths that fit the page: the widest columns give way first, and where a word would be cut last of all.

    None where not even narrow columns fit.
    """
    room = width - len(_GAP) * (len(rows[0]) - 1)
    if room < _NARROWEST * len(rows[0]):
        return None
    cells = [[harmless(cell) for cell in column] for column in zip(*rows, strict=True)]
    widths = [min(room, max(map(columns, column))) for column in cells]
    whole = [max(map(_longest_word, column)) for column in cells]
    while sum(widths) > room:
        giving = [place for place, least in enumerate(whole) if widths[place] > least] or range(len(widths))
        widths[max(giving, key=widths.__getitem__)] -= 1
    return widths


def _longest_word(text: str) -> int:
    """Columns of the longest piece that is not broken: a word, or a figure with its ±."""
    return max((columns(word) for word in bind_figures(text).split(" ")), default=0)


def _stacked(head: Sequence[str], rows: Sequence[Sequence[str]], width: int) -> Iterator[str]:
    for row in rows:
        yield from _facts([(name, cell) for name, cell in zip(head, row, strict=True) if cell], width)
        yield ""


def _hanging(lead: str, text: str, width: int) -> Iterator[str]:
    for position, line in enumerate(_wrapped(text, width - len(lead))):
        yield (lead if position == 0 else " " * len(lead)) + line


def _padded(text: str, width: int) -> str:
    return text + " " * (width - columns(text))


def _wrapped(text: str, width: int) -> list[str]:
    """The text in lines of at most `width` columns; words longer than a line are cut, a figure stays with its unit."""
    safe = harmless(text)
    bound = bind_figures(safe)
    lines = textwrap.wrap(bound, max(width, 1)) if safe.isascii() else _wrapped_by_columns(bound, max(width, 2))
    return [line.replace(NO_BREAK, " ") for line in lines]


def _wrapped_by_columns(text: str, width: int) -> list[str]:
    lines = [""]
    for word in text.split(" "):
        lead = " " if lines[-1] else ""
        if columns(lines[-1] + lead + word) <= width:
            lines[-1] += lead + word
        else:
            lines += _pieces(word, width)
    return [line for line in lines if line]


def _pieces(word: str, width: int) -> list[str]:
    pieces = [""]
    for character in word:
        if columns(pieces[-1]) + _columns_of(character) > width:
            pieces.append("")
        pieces[-1] += character
    return pieces
