"""Results as CSV: one flat table, a row for each stage, for a spreadsheet.

The columns are the fields of the results document: those of a stage first, then those of the whole session, repeated
in each row. Nested names are joined by a full stop (`height_mm.LF`, `lamp.aim_deg`, `air.rear.pressure_kPa`).

Where the language writes a decimal comma, figures have it and semicolons stand between the cells: a spreadsheet of
that country would take 1.5 for the first of May, and a line with commas for one cell.

What a spreadsheet may not take for a formula: every text stands in quotation marks, and a text that begins with
= + - @, a tab or a line break, or has one of them after a comma, semicolon, tab or quotation mark, gets an apostrophe
before it. Figures are written by this program alone, without quotation marks, so a negative figure stays a figure.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from cornerwalk.assess.assessment import Assessment
from cornerwalk.report.results import AIR, DOCUMENT, STAGE, ResultField, results_document
from cornerwalk.session.model import Session
from cornerwalk.session.stages import CORNERS
from cornerwalk.words import decimal_mark
from cornerwalk.words.safe import harmless

ENCODING = "utf-8-sig"
"""What a file of this is written in: spreadsheets take a file without the mark for another encoding."""

_FORMULA = re.compile(r"""(^|[,;\t"'])(\s*)(?=[=+\-@＝＋－＠−])""")
_PLACES = ("rear", "LR", "RR")
_LEFT_OUT = frozenset(
    ("stages", "pressure_table", "leaks", "verdicts", "budget", "reading", "trials", "misread", "text", "why")
)
"""Tables within the table, and sentences: a cell has codes and figures. The results document has them."""


def results_csv(session: Session, assessment: Assessment) -> str:
    """The table with its head; a session without a stage has one row."""
    document = results_document(session, assessment)
    columns = [*(f"stage.{name}" for name, _ in _flat(STAGE)), *(name for name, _ in _session_columns())]
    stages = document["stages"] or [{}]
    lines = [[text_cell(name) for name in columns]]
    for stage in stages:
        cells = [_cell(_at(stage, path)) for _, path in _flat(STAGE)]
        lines.append([*cells, *(_cell(_at(_reshaped(document), path)) for _, path in _session_columns())])
    separator = "," if decimal_mark() == "." else ";"
    return "".join(f"{separator.join(line)}\r\n" for line in lines)


def no_formula(text: str) -> str:
    """A text that no spreadsheet reads as a formula, whichever separator it is opened with.

    >>> no_formula("=1+1"), no_formula("5 mm; -2"), no_formula("well-kept")
    ("'=1+1", "5 mm;' -2", 'well-kept')
    """
    return _FORMULA.sub(r"\1'\2", harmless(text))


def text_cell(text: str) -> str:
    """A text in quotation marks that no spreadsheet reads as a formula."""
    return '"' + no_formula(text).replace('"', '""') + '"'


Path = tuple[str, ...]


def _flat(fields: tuple[ResultField, ...], before: Path = ()) -> Iterator[tuple[str, Path]]:
    for field in fields:
        if field.name in _LEFT_OUT:
            continue
        path = (*before, field.name)
        if field.kind == "corners":
            yield from ((".".join((*path, corner)), (*path, corner)) for corner in CORNERS)
        elif field.kind == "object":
            yield from _flat(field.parts, path)
        else:
            yield (".".join(path), path)


def _session_columns() -> Iterator[tuple[str, Path]]:
    for field in DOCUMENT:
        if field.name in _LEFT_OUT:
            continue
        if field.name == "air":
            for place in _PLACES:
                yield from _flat(AIR, ("air", place))
        elif field.kind == "list":
            yield (field.name, (field.name,))
        else:
            yield from _flat((field,))


def _reshaped(document: dict[str, Any]) -> dict[str, Any]:
    """Lists as what one cell or one group of columns holds."""
    return {
        **document,
        "air": {air["where"]: air for air in document["air"]},
        "findings": "; ".join(finding["code"] for finding in document["findings"]),
        "not_checked": "; ".join(missing["check"] for missing in document["not_checked"]),
    }


def _at(value: Any, path: Path) -> Any:
    for name in path:
        if not isinstance(value, dict):
            return None
        value = value.get(name)
    return value


def _cell(value: Any) -> str:
    match value:
        case bool():
            return text_cell("yes" if value else "no")
        case int() | float():
            return repr(value).replace(".", decimal_mark())
        case _:
            return text_cell("" if value is None else str(value))
