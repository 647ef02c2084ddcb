"""Questions to an export, in SQL: the ready ones (`questions/*.sql`), the shop's own files, and one just typed.

The head of a file says what it answers and what its columns mean. Tables are those of the data dictionary. A question
only reads: one SELECT, and no file but those of the export.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from importlib import resources
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import Any

from cornerwalk.tables.catalog import PARTITION, TABLES
from cornerwalk.tables.engines import TablesError, engine
from cornerwalk.tables.export_folder import NotAnExportError, read_manifest
from cornerwalk.tables.formats import arrow_schema

_FOLDER = "questions"
_LARGEST_BYTES = 1_000_000
_HEAD = re.compile(r"-- (?P<key>title|answers|column \w+): (?P<text>.+)")

_SETTINGS = {
    # Nothing is fetched, and nothing is left beside the export.
    "autoinstall_known_extensions": False,
    "autoload_known_extensions": False,
    "temp_directory": "",
}


class UnknownQuestionError(TablesError):
    """There is no ready question of that name."""


class BadQuestionError(TablesError):
    """The SQL is not one SELECT over the tables of an export."""


@dataclass(frozen=True, slots=True)
class SqlQuestion:
    """A question: what it answers, and the meaning of those columns of its answer that its head explains."""

    name: str
    title: str
    answers: str
    columns: Mapping[str, str]
    sql: str


@dataclass(frozen=True, slots=True)
class ResultSet:
    """The rows that answer a question, in the order of its columns."""

    question: SqlQuestion
    columns: tuple[str, ...]
    rows: tuple[tuple[Any, ...], ...]


def questions(own_folder: Path | None = None) -> tuple[SqlQuestion, ...]:
    """Every ready question, in the order of their names; a file of the shop's folder replaces one of its name.

    Raises:
        BadQuestionError: a file of the shop cannot be read as text.
    """
    ready = resources.files("cornerwalk.tables") / _FOLDER
    known = {each.name: each for each in map(_ready, ready.iterdir()) if each is not None}
    if own_folder is not None and own_folder.is_dir():
        known |= {file.stem: question_of_file(file) for file in own_folder.glob("*.sql") if file.is_file()}
    return tuple(known[name] for name in sorted(known))


def _ready(file: Traversable) -> SqlQuestion | None:
    if not file.name.endswith(".sql"):
        return None
    return _question(file.name.removesuffix(".sql"), file.read_text("utf-8"))


def question_of_file(path: Path) -> SqlQuestion:
    """The question that a file holds; the head of comments may be missing.

    Raises:
        BadQuestionError: the file cannot be read as text, or is larger than any question.
    """
    try:
        if path.stat().st_size > _LARGEST_BYTES:
            raise BadQuestionError("{path} is too large for a question", path=str(path))
        return _question(path.stem, path.read_text("utf-8-sig"))
    except OSError as error:
        raise BadQuestionError("{path} cannot be read: {reason}", path=str(path), reason=error.strerror) from error
    except UnicodeDecodeError as error:
        raise BadQuestionError("{path} is not text in UTF-8", path=str(path)) from error


def question_of_text(sql: str) -> SqlQuestion:
    """The question that was typed."""
    return _question("", sql)


def _question(name: str, sql: str) -> SqlQuestion:
    head = {match["key"]: match["text"].strip() for match in _HEAD.finditer(sql)}
    columns = {key.removeprefix("column "): text for key, text in head.items() if key.startswith("column ")}
    return SqlQuestion(name, head.get("title", name), head.get("answers", ""), columns, sql)


def question(name: str, own_folder: Path | None = None) -> SqlQuestion:
    """The question of that name, the shop's own among them.

    Raises:
        UnknownQuestionError: there is none; the text names the nearest, or all.
        BadQuestionError: a file of the shop cannot be read as text.
    """
    known = {each.name: each for each in questions(own_folder)}
    if name in known:
        return known[name]
    close = difflib.get_close_matches(name[:80].lower(), known, n=1, cutoff=0.4)
    if close:
        raise UnknownQuestionError(
            'there is no question "{name}"; did you mean {nearest}?', name=name, nearest=close[0]
        )
    raise UnknownQuestionError('there is no question "{name}"; there are {known}', name=name, known=", ".join(known))


def ask(asked: SqlQuestion, folder: Path) -> ResultSet:
    """Put a question to an export.

    Raises:
        BadQuestionError: its SQL is not one SELECT over the tables; the text says where.
        NotAnExportError: the folder holds no export, or one that an earlier version wrote.
        MissingEngineError: the extra [fleet] is not installed.
    """
    read_manifest(folder)
    duckdb = engine("duckdb")
    with duckdb.connect(config=_SETTINGS) as connection:
        open_tables(connection, folder)
        _shut_in(connection, folder)
        try:
            _require_one_select(connection, asked.sql)
            answer = connection.execute(asked.sql)
            columns = tuple(column[0] for column in answer.description)
            return ResultSet(asked, columns, tuple(answer.fetchall()))
        except duckdb.Error as error:
            reason = " ".join(str(error).partition("\n\n")[0].split())
            raise BadQuestionError("this question cannot be answered: {reason}", reason=reason) from error


def _shut_in(connection: Any, folder: Path) -> None:
    """Let the connection read the export and nothing else on this machine or beyond it."""
    connection.execute("SET allowed_directories = [$folder]", {"folder": str(folder.resolve())})
    connection.execute("SET enable_external_access = false")
    connection.execute("SET lock_configuration = true")


def _require_one_select(connection: Any, sql: str) -> None:
    statements = connection.extract_statements(sql)
    if len(statements) != 1 or statements[0].type.name != "SELECT":
        raise BadQuestionError("a question is one SELECT; nothing else is carried out")


def open_tables(connection: Any, folder: Path) -> None:
    """Make each table of an export a view of the connection, one without a row included.

    Raises:
        NotAnExportError: a table lacks columns that it has today.
        MissingEngineError: the extra [fleet] is not installed.
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
