"""The answer to a ready question as a page: figures in the user's units, each with its ± U, and what a column means.

A column `u_x` is the standard uncertainty of the column `x`: it is told with it and has no column of its own. Names of
files stand below the table, each in one piece, so that they can be copied.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date, datetime
from typing import Any, cast, get_args

from cornerwalk.assess.assessment import Overall
from cornerwalk.report.check_words import check_name
from cornerwalk.report.document import Block, Document, Facts, Heading, Paragraph, Table
from cornerwalk.report.names import air_place, job_name, stage_title, verdict_word
from cornerwalk.report.wording import Wording
from cornerwalk.session.stages import JobKind, StageName
from cornerwalk.tables.ask import Answer
from cornerwalk.tables.columns import unit_of
from cornerwalk.words import tr, tr_n, tr_parts

Told = Callable[[float, float | None], str]
"""A figure and its u in words."""

_NOTHING = "–"
_TIME = "_utc"
_FILE = "file"


def answer_page(answer: Answer, wording: Wording) -> Document:
    """The answer as a report, for any form."""
    return Document(
        title=tr(answer.question.title),
        subtitle=tr(answer.question.answers),
        blocks=tuple(_blocks(answer, wording)),
        footer=tr("± U is twice the standard uncertainty (k = 2, about 95 %)."),
    )


def _blocks(answer: Answer, wording: Wording) -> Iterator[Block]:
    if not answer.rows:
        yield Paragraph(tr("Nothing: no session answers this."))
        return
    shown = [name for name in answer.columns if not _is_u(name, answer) and name != _FILE]
    rows = [dict(zip(answer.columns, row, strict=True)) for row in answer.rows]
    cells = [_row(row, shown, wording) for row in rows]
    numbered = _FILE in answer.columns
    yield Table(
        head=(*([""] if numbered else []), *map(_head, shown)),
        rows=tuple((*([str(n)] if numbered else []), *row) for n, row in enumerate(cells, 1)),
        note=tr_n("{count} row", "{count} rows", len(rows)),
    )
    if numbered:
        yield Heading(tr("Files"))
        yield Facts(tuple((str(number), str(row[_FILE])) for number, row in enumerate(rows, 1)))
    yield Heading(tr("What the columns mean"))
    yield Facts(tuple((_head(name), tr(answer.question.columns[name])) for name in shown))


def _is_u(name: str, answer: Answer) -> bool:
    return name.startswith("u_") and name.removeprefix("u_") in answer.columns


def _head(name: str) -> str:
    """The name of a column without its unit, which stands with each figure."""
    for end in ("mm_per_kPa", "N_per_mm", "kPa_per_h", "percent", "deg", "kPa", "mm", "N", "utc"):
        name = name.removesuffix(f"_{end}")
    return tr(name.replace("_", " "))


def _row(values: dict[str, Any], shown: list[str], wording: Wording) -> tuple[str, ...]:
    return tuple(_cell(name, values[name], values.get(f"u_{name}"), wording) for name in shown)


def _cell(name: str, value: Any, u: float | None, wording: Wording) -> str:
    match value:
        case None:
            return _NOTHING
        case bool():
            return tr("yes") if value else tr("no")
        case int() | float():
            told = _told(unit_of(name), wording)
            return str(value) if told is None else told(float(value), u)
        case datetime():
            told_at = value.isoformat(sep=" ", timespec="minutes")
            return tr("{time} UTC", time=told_at) if name.endswith(_TIME) else told_at
        case date():
            return value.isoformat()
        case _:
            return _worded(name, str(value))


def _worded(name: str, text: str) -> str:
    """What the program named itself, in the user's language; what a person wrote stays as it is."""
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
            return check_name(text)
        case "needs":
            return tr_parts(text)
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


def _told(unit: str, wording: Wording) -> Told | None:
    """How figures of a unit are told; None for counts."""
    told: dict[str, Told] = {
        "mm": wording.length,
        "kPa": wording.pressure,
        "N": wording.weight,
        "N/mm": wording.rate,
        "mm/kPa": wording.slope,
        "%": wording.percent,
        "kPa/h": lambda kPa, u: tr("{pressure} in an hour", pressure=wording.pressure(kPa, u)),
        "°": lambda deg, u: _up_or_down(deg, u, wording),
    }
    return told.get(unit)


def _up_or_down(deg: float, u: float | None, wording: Wording) -> str:
    figure = wording.degrees(abs(deg), u)
    return tr("{figure} up", figure=figure) if deg >= 0 else tr("{figure} down", figure=figure)
