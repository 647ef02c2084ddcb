"""Ready questions to an export, as SQL that anybody can read and change: `questions/*.sql`, one file a question.

The head of each file says what it answers and what its columns are. Tables are those of the data dictionary.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from importlib import resources
from pathlib import Path
from typing import Any

from cornerwalk.tables.engines import FleetError, engine
from cornerwalk.tables.forms import arrow_schema
from cornerwalk.tables.tables import PARTITION, TABLES
from cornerwalk.tables.targets import read_manifest

_FOLDER = "questions"
_HEAD = re.compile(r"-- (?P<key>title|answers|column \w+): (?P<text>.+)")

_SETTINGS = {
    # Nothing is fetched, and nothing is left beside the export.
    "autoinstall_known_extensions": False,
    "autoload_known_extensions": False,
    "temp_directory": "",
}


class UnknownQuestion(FleetError):  # noqa: N818 - named for what is wrong
    """There is no ready question of that name."""


@dataclass(frozen=True, slots=True)
class Question:
    """A ready question: what it answers, and the meaning of each column of its answer."""

    name: str
    title: str
    answers: str
    columns: Mapping[str, str]
    sql: str


@dataclass(frozen=True, slots=True)
class Answer:
    """The rows that answer a question, in the order of its columns."""

    question: Question
    rows: tuple[tuple[Any, ...], ...]

    @property
    def columns(self) -> tuple[str, ...]:
        """The names of the columns."""
        return tuple(self.question.columns)


def questions() -> tuple[Question, ...]:
    """Every ready question, in the order of their names."""
    folder = resources.files("cornerwalk.tables") / _FOLDER
    files = sorted((file for file in folder.iterdir() if file.name.endswith(".sql")), key=lambda file: file.name)
    return tuple(_question(file.name.removesuffix(".sql"), file.read_text("utf-8")) for file in files)


def _question(name: str, sql: str) -> Question:
    head = {found["key"]: found["text"] for found in _HEAD.finditer(sql)}
    columns = {key.removeprefix("column "): text for key, text in head.items() if key.startswith("column ")}
    return Question(name, head["title"], head["answers"], columns, sql)


def question(name: str) -> Question:
    """The ready question of that name.

    Raises:
        UnknownQuestion: there is none; the text names the nearest, or all.
    """
    known = {each.name: each for each in questions()}
    if name in known:
        return known[name]
    close = difflib.get_close_matches(name[:80].lower(), known, n=1, cutoff=0.4)
    if close:
        raise UnknownQuestion('there is no question "{name}"; did you mean {nearest}?', name=name, nearest=close[0])
    raise UnknownQuestion('there is no question "{name}"; there are {known}', name=name, known=", ".join(known))


def ask(name: str, folder: Path) -> Answer:
    """Put a ready question to an export.

    Raises:
        UnknownQuestion: there is none of that name.
        NotAnExport: the folder holds no export.
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
        return Answer(asked, tuple(answered.fetchall()))


def open_tables(connection: Any, folder: Path) -> None:
    """Make each table of an export a view of the connection, one without a row included.

    Raises:
        EngineMissing: the extra [fleet] is not installed.
    """
    for table in TABLES:
        files = [str(file) for file in _parquet_files(folder / "parquet" / table.name)]
        if files:
            connection.read_parquet(files, hive_partitioning=True).create_view(table.name)
        else:
            connection.from_arrow(_no_rows(arrow_schema(table))).create_view(table.name)


def _parquet_files(folder: Path) -> Iterator[Path]:
    return iter(sorted(folder.glob("year=*/month=*/part-*.parquet")))


def _no_rows(schema: Any) -> Any:
    arrow = engine("pyarrow")
    months: Sequence[Any] = [arrow.field(name, arrow.int64()) for name, _ in PARTITION]
    return arrow.schema([*schema, *months]).empty_table()
