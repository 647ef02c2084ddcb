"""Paper: a report's blocks on the screen, headings, sentences, tables and findings, in the width there is.

It is our own and no `Markdown`, which makes a widget of every block and lets a table's columns run out of the window:
here they narrow where that breaks the fewest lines, else a row becomes a paragraph.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Any

from rich.cells import cell_len

from cornerwalk.job.notice import Span
from cornerwalk.report.document import (
    Alert,
    Beside,
    Block,
    Bullets,
    CutOutCard,
    Facts,
    Heading,
    LargeFigure,
    Paragraph,
    Spare,
    Table,
)
from cornerwalk.tui.widgets.rows import Row, RowWidget, fitted, unbroken, wrapped
from cornerwalk.words.safe import harmless

GAP = 2
NARROWEST, MOST_LINES = 9, 3
"""A column of a table is never narrower, nor its rows more lines high than that on average; else a row becomes a
paragraph."""


class Paper(RowWidget):
    """Blocks, one below the other. What is a picture on paper is left to the pages that draw."""

    _blocks: tuple[Block, ...] = ()

    def show_blocks(self, blocks: Iterable[Block]) -> None:
        """Show these."""
        self._blocks = tuple(blocks)
        self.redraw()

    def rows(self, width: int) -> list[Row]:
        """All of them, an empty row between."""
        rows: list[Row] = []
        for block in _opened(self._blocks):
            drawn = _DRAWN.get(type(block))
            if drawn is not None:
                rows += [*([[]] if rows else []), *drawn(block, max(1, width - 2))]
        return [[("ink", " "), *row] for row in rows]


def _opened(blocks: Iterable[Block]) -> Iterator[Block]:
    """The blocks one below the other: what stands side by side on paper, too."""
    for block in blocks:
        match block:
            case Beside():
                yield from _opened((block.left, block.right))
            case Spare():
                yield from _opened(block.blocks)
            case _:
                yield block


def _heading(block: Heading, width: int) -> list[Row]:
    return [[("due", line)] for line in wrapped(harmless(block.text), width)]


def _paragraph(block: Paragraph, width: int) -> list[Row]:
    return [[("ink", line)] for line in wrapped(harmless(block.text), width)]


def _bullets(block: Bullets, width: int) -> list[Row]:
    rows: list[Row] = []
    for item in block.items:
        for at, line in enumerate(wrapped(harmless(item), max(1, width - 2))):
            rows.append([("quiet", "· " if at == 0 else "  "), ("quiet", line)])
    return rows


def _alert(block: Alert, width: int) -> list[Row]:
    part = "ink" if block.level == "note" else "caution"
    heading = f"{block.level_word}: {block.heading}"
    rows: list[Row] = [[("alarm" if block.level == "stop" else part, line)] for line in wrapped(heading, width)]
    for at, text in enumerate(block.lines):
        rows += [[("ink" if at == 0 else "quiet", f"  {line}")] for line in wrapped(harmless(text), max(1, width - 2))]
    for at, line in enumerate(wrapped(harmless(block.action), max(1, width - 4)) if block.action else ()):
        rows.append([("due", f"  {'▸' if at == 0 else ' '} {line}")])
    rows += [[("quiet", f"  {line}")] for line in wrapped(harmless(block.source), max(1, width - 2)) if line]
    return rows


def _large_figure(block: LargeFigure, width: int) -> list[Row]:
    figures = ", ".join(f"{name} {figure}" if name else figure for name, figure in block.figures)
    label = [[("ink", line)] for line in wrapped(harmless(f"{block.label}:"), width)]
    rows: list[Row] = [*label, *([("strong", f"  {line}")] for line in wrapped(harmless(figures), max(1, width - 2)))]
    return [*rows, *_note(block.note, width)]


def _cut_out_card(block: CutOutCard, width: int) -> list[Row]:
    title: list[Row] = [[("strong", line)] for line in wrapped(harmless(block.title), width)]
    return [*title, *_table(Table((), block.rows), width)]


def _facts(block: Facts, width: int) -> list[Row]:
    return _table(Table((), block.rows), width)


def _table(block: Table, width: int) -> list[Row]:
    head = [harmless(cell) for cell in block.head]
    body = [[harmless(cell) for cell in row] for row in block.rows]
    columns = _column_widths([*([head] if head else []), *body], width)
    if columns is None:
        return [*_stacked(head, body, width), *_note(block.note, width)]
    rows: list[Row] = []
    if head:
        rows += _cells(head, columns, ["quiet"] * len(head))
    for row in body:
        rows += _cells(row, columns, ["quiet", *["ink"] * (len(row) - 1)])
    return [*rows, *_note(block.note, width)]


def _note(note: str, width: int) -> list[Row]:
    return [[("quiet", line)] for line in wrapped(harmless(note), width)] if note else []


def _column_widths(rows: Sequence[Sequence[str]], width: int) -> list[int] | None:
    """What each column gets: all it wants, or less where that breaks the fewest lines; None where it cannot."""
    if not rows:
        return []
    columns = [[row[at] for row in rows if at < len(row)] for at in range(max(map(len, rows)))]
    wanted = [max(map(cell_len, column)) for column in columns]
    room = width - GAP * (len(wanted) - 1)
    least = [_least_width(column, want) for column, want in zip(columns, wanted, strict=True)]
    if sum(least) > room:
        return None
    lengths = [[cell_len(cell) for cell in column] for column in columns]
    while sum(wanted) > room:
        _, _, at = min(
            (_lines(lengths[at], wanted[at] - 1) - _lines(lengths[at], wanted[at]), -wanted[at], at)
            for at in range(len(wanted))
            if wanted[at] > least[at]
        )
        wanted[at] -= 1
    lines = sum(
        max(-(-length // width) for length, width in zip(row, wanted, strict=False))
        for row in ([cell_len(cell) for cell in row] for row in rows)
    )
    return None if lines > MOST_LINES * len(rows) else wanted


def _least_width(column: Sequence[str], wanted: int) -> int:
    """No word of it and no figure is broken."""
    longest = max(cell_len(piece) for cell in column for piece in unbroken(cell))
    return min(wanted, max(NARROWEST, longest))


def _lines(lengths: Sequence[int], width: int) -> int:
    """About how many lines the cells of a column take in a width."""
    return sum(-(-length // width) for length in lengths)


def _cells(row: Sequence[str], columns: Sequence[int], parts: Sequence[str]) -> list[Row]:
    """One row of a table, as many lines as its fullest cell takes."""
    cells = [wrapped(cell, column) for cell, column in zip(row, columns, strict=False)]
    lines: list[Row] = []
    for at in range(max(map(len, cells), default=0)):
        line: list[Span] = []
        for cell, column, part in zip(cells, columns, parts, strict=False):
            line.append((part, fitted(cell[at] if at < len(cell) else "", column) + " " * GAP))
        lines.append(line)
    return lines


def _stacked(head: Sequence[str], body: Sequence[Sequence[str]], width: int) -> list[Row]:
    """A row of the table as a few lines, each with the head of its column."""
    rows: list[Row] = []
    for row in body:
        rows += [[("strong", line)] for line in wrapped(row[0], width)]
        for at, cell in enumerate(row[1:], start=1):
            label = f"{head[at]}: " if at < len(head) and head[at] else ""
            rows += [[("ink", f"  {line}")] for line in wrapped(label + cell, max(1, width - 2))]
    return rows


_DRAWN: dict[type[Any], Callable[[Any, int], list[Row]]] = {
    Heading: _heading,
    Paragraph: _paragraph,
    Bullets: _bullets,
    Alert: _alert,
    Facts: _facts,
    Table: _table,
    LargeFigure: _large_figure,
    CutOutCard: _cut_out_card,
}
