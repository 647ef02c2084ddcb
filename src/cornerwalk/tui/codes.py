"""The key figures as codes that fit into a window: one where there is room, several small ones where there is not.

Each code is read by itself; together, in their order, they say what the one would. No figure is cut from its ±.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from cornerwalk.report.qr import Matrix, code_matrix

_MAY_BREAK = re.compile(r"(?<=[,:;]) |\n")
"""After a comma, colon or semicolon, or at the end of a line: between figures, never within one."""


@dataclass(frozen=True, slots=True)
class Code:
    """A text and its modules, the quiet zone included."""

    text: str
    matrix: Matrix

    @property
    def columns(self) -> int:
        """Columns it takes: one a module."""
        return len(self.matrix[0])

    @property
    def rows(self) -> int:
        """Rows it takes: two rows of modules each."""
        return (len(self.matrix) + 1) // 2


def codes_that_fit(text: str, columns: int, rows: int) -> tuple[Code, ...]:
    """The fewest codes, in order, that hold the text in a window of this size; none where it is too small.

    Raises:
        CodesMissingError: the library that makes them is not installed.
    """
    codes: list[Code] = []
    held = ""
    best: Code | None = None
    for piece in _pieces(text):
        tried = Code((held + piece).strip(), code_matrix((held + piece).strip()))
        if tried.columns <= columns and tried.rows <= rows:
            held, best = held + piece, tried
            continue
        if best is None:
            return ()
        codes.append(best)
        held, best = piece, Code(piece.strip(), code_matrix(piece.strip()))
        if best.columns > columns or best.rows > rows:
            return ()
    return (*codes, best) if best is not None else tuple(codes)


def _pieces(text: str) -> Iterator[str]:
    """The parts that stay together, each with what separates it from the next."""
    begin = 0
    for gap in _MAY_BREAK.finditer(text):
        yield text[begin : gap.end()]
        begin = gap.end()
    yield text[begin:]


def size_needed(text: str) -> tuple[int, int]:
    """Columns and rows for one code of the whole text.

    Raises:
        CodesMissingError: the library that makes them is not installed.
    """
    whole = Code(text, code_matrix(text))
    return whole.columns, whole.rows
