"""Answer page: the rows that answer a question as a report, figures in the user's units.

A column `u_x` is the standard uncertainty of the column `x`: it is shown with it and has no column of its own. File
names stand below the table, each in one piece, so that they can be copied.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from datetime import date, datetime
from decimal import Decimal
from typing import Any, cast, get_args

from cornerwalk.assess.assessment import Overall
from cornerwalk.report.document import Block, Document, Facts, Heading, Paragraph, Table
from cornerwalk.session.stages import JobKind, StageName
from cornerwalk.tables.ask import ResultSet
from cornerwalk.tables.catalog import meaning_of
from cornerwalk.tables.columns import unit_of
from cornerwalk.wording.checks import recorded_name
from cornerwalk.wording.figures import FigureText, Wording
from cornerwalk.wording.names import air_place, job_name, stage_title, verdict_word
from cornerwalk.words import tr, tr_n

_NOTHING = "–"
_TIME = "_utc"
_FILE = "file"


def answer_page(answer: ResultSet, wording: Wording) -> Document:
    """The answer as a report, for any form."""
    return Document(
        title=_words(answer.question.title) or tr("Your question"),
        subtitle=_words(answer.question.answers),
        blocks=tuple(_blocks(answer, wording)),
        footer=tr("± U is twice the standard uncertainty (k = 2, about 95 %)."),
    )


def _blocks(answer: ResultSet, wording: Wording) -> Iterator[Block]:
    if not answer.rows:
        yield Paragraph(tr("Nothing: no session answers this."))
        return
    columns = answer.columns
    u_of = {name: columns.index(f"u_{name}") for name in columns if f"u_{name}" in columns}
    hidden = {*u_of.values(), *(at for at, name in enumerate(columns) if name == _FILE)}
    shown = [(at, name) for at, name in enumerate(columns) if at not in hidden]
    numbered = _FILE in columns

    def cells(row: tuple[Any, ...]) -> Iterator[str]:
        for at, name in shown:
            yield _cell(name, row[at], row[u_of[name]] if name in u_of else None, wording)

    yield Table(
        head=(*([""] if numbered else []), *(_head(name) for _, name in shown)),
        rows=tuple((*([str(n)] if numbered else []), *cells(row)) for n, row in enumerate(answer.rows, 1)),
        note=tr_n("{count} row", "{count} rows", len(answer.rows)),
    )
    if numbered:
        file_at = columns.index(_FILE)
        yield Heading(tr("Files"))
        yield Facts(tuple((str(number), str(row[file_at])) for number, row in enumerate(answer.rows, 1)))
    explained = {name: _words(answer.question.columns.get(name) or meaning_of(name)) for _, name in shown}
    if any(explained.values()):
        yield Heading(tr("What the columns mean"))
        yield Facts(tuple((_head(name), meaning) for name, meaning in explained.items() if meaning))


def _words(text: str) -> str:
    """A text in the user's language where there is one: a catalog answers an empty text with its own head."""
    return tr(text) if text else ""


def _head(name: str) -> str:
    """The name of a column without its unit, which stands with each figure."""
    for end in ("mm_per_kPa", "N_per_mm", "kPa_per_h", "percent", "deg", "kPa", "mm", "N", "utc"):
        name = name.removesuffix(f"_{end}")
    return tr(name.replace("_", " "))


def _cell(name: str, value: Any, u: float | None, wording: Wording) -> str:
    match value:
        case None:
            return _NOTHING
        case bool():
            return tr("yes") if value else tr("no")
        case float() if not math.isfinite(value):
            return _NOTHING
        case int() | float() | Decimal():
            text_of = _figure_text(unit_of(name), wording)
            return str(value) if text_of is None else text_of(float(value), u)
        case datetime():
            time = value.isoformat(sep=" ", timespec="minutes")
            return tr("{time} UTC", time=time) if name.endswith(_TIME) else time
        case date():
            return value.isoformat()
        case _:
            return _word(name, str(value))


def _word(name: str, text: str) -> str:
    """The program's own names in the user's language; what a person wrote as it is."""
    match name:
        case "verdict" if text in get_args(Overall):
            return verdict_word(cast("Overall", text))
        case "kind" if text in get_args(JobKind):
            return job_name(cast("JobKind", text))
        case "stage":
            return _stage(text)
        case "stages_read":
            return "; ".join(_stage(each) for each in text.split("; "))
        case "check" | "rating":
            return recorded_name(text)
        case "needs":
            return tr(text)
        case "place":
            return air_place(text)
        case _:
            return text


def _stage(text: str) -> str:
    """`fitted 2` as it is called."""
    name, _, number = text.rpartition(" ")
    if name not in get_args(StageName) or not number.isdecimal():
        return text
    return stage_title((cast("StageName", name), int(number)))


def _figure_text(unit: str, wording: Wording) -> FigureText | None:
    """How figures of a unit are worded; None for counts."""
    own: dict[str, FigureText] = {
        "kPa/h": lambda kPa, u: tr("{pressure} in an hour", pressure=wording.pressure(kPa, u)),
        "°": lambda deg, u: _up_or_down(deg, u, wording),
    }
    return own.get(unit) or wording.in_unit(unit)


def _up_or_down(deg: float, u: float | None, wording: Wording) -> str:
    figure = wording.degrees(abs(deg), u)
    return tr("{figure} up", figure=figure) if deg >= 0 else tr("{figure} down", figure=figure)
