"""Questions to an export, as SQL that anybody can read and change: `questions/*.sql`, one file a question.

The head of each file says what it answers and what its columns mean. Tables are those of the data dictionary.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from importlib import resources
from pathlib import Path
from typing import Any, cast, get_args

from cornerwalk.assess.assessment import Overall
from cornerwalk.report.document import Block, Document, Facts, Heading, Paragraph, Table
from cornerwalk.session.stages import JobKind, StageName
from cornerwalk.tables.catalog import PARTITION, TABLES
from cornerwalk.tables.columns import unit_of
from cornerwalk.tables.engines import TablesError, engine
from cornerwalk.tables.export_folder import NotAnExportError, read_manifest
from cornerwalk.tables.formats import arrow_schema
from cornerwalk.wording.figures import Wording
from cornerwalk.wording.names import air_place, job_name, stage_title, verdict_word
from cornerwalk.words import tr, tr_n

_FOLDER = "questions"
_HEAD = re.compile(r"-- (?P<key>title|answers|column \w+): (?P<text>.+)")

_SETTINGS = {
    # Nothing is fetched, and nothing is left beside the export.
    "autoinstall_known_extensions": False,
    "autoload_known_extensions": False,
    "temp_directory": "",
}


class UnknownQuestionError(TablesError):
    """There is no ready question of that name."""


@dataclass(frozen=True, slots=True)
class ReadyQuestion:
    """A ready question: what it answers, and the meaning of each column of its answer."""

    name: str
    title: str
    answers: str
    columns: Mapping[str, str]
    sql: str


@dataclass(frozen=True, slots=True)
class ResultSet:
    """The rows that answer a question, in the order of its columns."""

    question: ReadyQuestion
    rows: tuple[tuple[Any, ...], ...]

    @property
    def columns(self) -> tuple[str, ...]:
        """The names of the columns."""
        return tuple(self.question.columns)


def questions() -> tuple[ReadyQuestion, ...]:
    """Every ready question, in the order of their names."""
    folder = resources.files("cornerwalk.tables") / _FOLDER
    files = sorted((file for file in folder.iterdir() if file.name.endswith(".sql")), key=lambda file: file.name)
    return tuple(_question(file.name.removesuffix(".sql"), file.read_text("utf-8")) for file in files)


def _question(name: str, sql: str) -> ReadyQuestion:
    head = {match["key"]: match["text"] for match in _HEAD.finditer(sql)}
    columns = {key.removeprefix("column "): text for key, text in head.items() if key.startswith("column ")}
    return ReadyQuestion(name, head["title"], head["answers"], columns, sql)


def question(name: str) -> ReadyQuestion:
    """The ready question of that name.

    Raises:
        UnknownQuestion: there is none; the text names the nearest, or all.
    """
    known = {each.name: each for each in questions()}
    if name in known:
        return known[name]
    close = difflib.get_close_matches(name[:80].lower(), known, n=1, cutoff=0.4)
    if close:
        raise UnknownQuestionError(
            'there is no question "{name}"; did you mean {nearest}?', name=name, nearest=close[0]
        )
    raise UnknownQuestionError('there is no question "{name}"; there are {known}', name=name, known=", ".join(known))


def ask(name: str, folder: Path) -> ResultSet:
    """Put a ready question to an export.

    Raises:
        UnknownQuestion: there is none of that name.
        NotAnExportError: the folder holds no export, or one that an earlier version wrote.
        EngineMissing: the extra [fleet] is not installed.
    """
    asked = question(name)
    read_manifest(folder)
    duckdb = engine("duckdb")
    with duckdb.connect(config=_SETTINGS) as connection:
        open_tables(connection, folder)
        answered = connection.execute(asked.sql)
        names = [column[0] for column in answered.description]
        assert names == list(asked.columns), f"{name}: its head does not name its columns"
        return ResultSet(asked, tuple(answered.fetchall()))


def open_tables(connection: Any, folder: Path) -> None:
    """Make each table of an export a view of the connection, one without a row included.

    Raises:
        NotAnExportError: a table lacks columns that it has today.
        EngineMissing: the extra [fleet] is not installed.
    """
    for table in TABLES:
        files = [str(file) for file in _parquet_files(folder / "parquet" / table.name)]
        if files:
            rows = connection.read_parquet(files, hive_partitioning=True)
            if not set(table.names) <= set(rows.columns):
                raise NotAnExportError(
                    "an earlier version wrote {folder}: export the sessions again", folder=str(folder)
                )
            rows.create_view(table.name)
        else:
            connection.from_arrow(_no_rows(arrow_schema(table))).create_view(table.name)


def _parquet_files(folder: Path) -> Iterator[Path]:
    return iter(sorted(folder.glob("year=*/month=*/part-*.parquet")))


def _no_rows(schema: Any) -> Any:
    arrow = engine("pyarrow")
    months: Sequence[Any] = [arrow.field(name, arrow.int64()) for name, _ in PARTITION]
    return arrow.schema([*schema, *months]).empty_table()


# ---- answers in words ----
#
# A column `u_x` is the standard uncertainty of the column `x`: it is shown with it and has no column of its own. File
# names stand below the table, each in one piece, so that they can be copied.

FigureText = Callable[[float, float | None], str]
"""A figure and its u in words."""

_NOTHING = "–"
_TIME = "_utc"
_FILE = "file"


def answer_page(answer: ResultSet, wording: Wording) -> Document:
    """The answer as a report, for any form."""
    return Document(
        title=tr(answer.question.title),
        subtitle=tr(answer.question.answers),
        blocks=tuple(_blocks(answer, wording)),
        footer=tr("± U is twice the standard uncertainty (k = 2, about 95 %)."),
    )


def _blocks(answer: ResultSet, wording: Wording) -> Iterator[Block]:
    if not answer.rows:
        yield Paragraph(tr("Nothing: no session answers this."))
        return
    names = [name for name in answer.columns if not _is_u(name, answer) and name != _FILE]
    rows = [dict(zip(answer.columns, row, strict=True)) for row in answer.rows]
    cells = [_row(row, names, wording) for row in rows]
    numbered = _FILE in answer.columns
    yield Table(
        head=(*([""] if numbered else []), *map(_head, names)),
        rows=tuple((*([str(n)] if numbered else []), *row) for n, row in enumerate(cells, 1)),
        note=tr_n("{count} row", "{count} rows", len(rows)),
    )
    if numbered:
        yield Heading(tr("Files"))
        yield Facts(tuple((str(number), str(row[_FILE])) for number, row in enumerate(rows, 1)))
    yield Heading(tr("What the columns mean"))
    yield Facts(tuple((_head(name), tr(answer.question.columns[name])) for name in names))


def _is_u(name: str, answer: ResultSet) -> bool:
    return name.startswith("u_") and name.removeprefix("u_") in answer.columns


def _head(name: str) -> str:
    """The name of a column without its unit, which stands with each figure."""
    for end in ("mm_per_kPa", "N_per_mm", "kPa_per_h", "percent", "deg", "kPa", "mm", "N", "utc"):
        name = name.removesuffix(f"_{end}")
    return tr(name.replace("_", " "))


def _row(values: dict[str, Any], names: list[str], wording: Wording) -> tuple[str, ...]:
    return tuple(_cell(name, values[name], values.get(f"u_{name}"), wording) for name in names)


def _cell(name: str, value: Any, u: float | None, wording: Wording) -> str:
    match value:
        case None:
            return _NOTHING
        case bool():
            return tr("yes") if value else tr("no")
        case int() | float():
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
            return tr(text)
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
    text_of: dict[str, FigureText] = {
        "mm": wording.length,
        "kPa": wording.pressure,
        "N": wording.weight,
        "N/mm": wording.rate,
        "mm/kPa": wording.slope,
        "%": wording.percent,
        "kPa/h": lambda kPa, u: tr("{pressure} in an hour", pressure=wording.pressure(kPa, u)),
        "°": lambda deg, u: _up_or_down(deg, u, wording),
    }
    return text_of.get(unit)


def _up_or_down(deg: float, u: float | None, wording: Wording) -> str:
    figure = wording.degrees(abs(deg), u)
    return tr("{figure} up", figure=figure) if deg >= 0 else tr("{figure} down", figure=figure)
