"""File formats of the tables: Parquet in folders by month, JSON Lines, and CSV that is safe in a spreadsheet.

Each chunk of sessions writes its part of every table; the parts of JSON Lines and CSV are then joined in order.
"""

from __future__ import annotations

import json
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from functools import lru_cache
from pathlib import Path
from typing import Any, Literal

from cornerwalk.report.results_csv import ENCODING, text_cell
from cornerwalk.tables.catalog import PARTITION, TABLES, TableRows
from cornerwalk.tables.columns import Kind, Row, TidyTable
from cornerwalk.tables.engines import engine

Format = Literal["parquet", "jsonl", "csv"]
FORMATS: tuple[Format, ...] = ("parquet", "jsonl", "csv")

_END_OF_LINE = "\r\n"
_MONTHS = tuple(name for name, _ in PARTITION)


def write_part(folder: Path, part: str, sessions: Iterable[TableRows], formats: Sequence[Format]) -> dict[str, int]:
    """Write the rows of some sessions as part `part` of every table; return how many rows each table got.

    Raises:
        MissingEngineError: Parquet is asked for and its engine is not installed.
        OSError: the disk failed.
    """
    by_month: dict[tuple[int, int], dict[str, list[Row]]] = defaultdict(lambda: defaultdict(list))
    for session in sessions:
        month = by_month[session.year, session.month]
        for name, rows in session.rows.items():
            month[name].extend(rows)
    counts = dict.fromkeys((table.name for table in TABLES), 0)
    for table in TABLES:
        months = {month: rows[table.name] for month, rows in sorted(by_month.items()) if rows[table.name]}
        counts[table.name] = sum(map(len, months.values()))
        for format_ in formats:
            _WRITERS[format_](folder, part, table, months)
    return counts


Months = Mapping[tuple[int, int], Sequence[Row]]


def _write_parquet(folder: Path, part: str, table: TidyTable, months: Months) -> None:
    arrow, parquet = engine("pyarrow"), engine("pyarrow.parquet")
    schema = arrow_schema(table)
    for (year, month), rows in months.items():
        place = folder / "parquet" / table.name / f"year={year}" / f"month={month:02}"
        place.mkdir(parents=True, exist_ok=True)
        columns = [
            arrow.array(values, field.type) for values, field in zip(zip(*rows, strict=True), schema, strict=True)
        ]
        parquet.write_table(
            arrow.Table.from_arrays(columns, schema=schema), place / f"{part}.parquet", compression="zstd"
        )


def _write_jsonl(folder: Path, part: str, table: TidyTable, months: Months) -> None:
    names = (*table.names, *_MONTHS)
    encode = json.JSONEncoder(ensure_ascii=False, allow_nan=False, default=_iso).encode
    lines = (encode(dict(zip(names, (*row, *month), strict=True))) for month, rows in months.items() for row in rows)
    _write_text(folder / "jsonl" / table.name / f"{part}.jsonl", "".join(f"{line}\n" for line in lines))


def _write_csv(folder: Path, part: str, table: TidyTable, months: Months) -> None:
    rows = ((*row, *month) for month, rows in months.items() for row in rows)
    _write_text(folder / "csv" / table.name / f"{part}.csv", csv_text(rows))


_WRITERS = {"parquet": _write_parquet, "jsonl": _write_jsonl, "csv": _write_csv}


def _write_text(path: Path, text: str) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8", newline="")


def csv_text(rows: Iterable[Iterable[Any]]) -> str:
    """Rows as CSV: figures bare, texts in quotation marks and none of them a formula, null as an empty cell."""
    return "".join(",".join(map(_cell, row)) + _END_OF_LINE for row in rows)


def _cell(value: Any) -> str:
    match value:
        case None:
            return ""
        case bool():
            return "true" if value else "false"
        case int() | float():
            return repr(value)
        case str():
            return _text_cell(value)
        case _:
            return _iso(value)


_text_cell = lru_cache(maxsize=10_000)(text_cell)
"""Ids, names, kinds and units stand in thousands of rows."""


def _iso(value: date) -> str:
    return value.isoformat()


def join_parts(chunks: Sequence[Path], folder: Path, formats: Sequence[Format]) -> None:
    """Join the parts of all chunks, in order, into the tables in `folder`.

    Raises:
        OSError: the disk failed.
    """
    for table in TABLES:
        if "parquet" in formats:
            _move_parquet(chunks, folder, table)
        if "jsonl" in formats:
            parts = [part for chunk in chunks for part in (chunk / "jsonl" / table.name).glob("*.jsonl")]
            _append(folder / "jsonl" / f"{table.name}.jsonl", b"", parts)
        if "csv" in formats:
            head = csv_text([(*table.names, *_MONTHS)]).encode(ENCODING)
            parts = [part for chunk in chunks for part in (chunk / "csv" / table.name).glob("*.csv")]
            _append(folder / "csv" / f"{table.name}.csv", head, parts)


def _move_parquet(chunks: Sequence[Path], folder: Path, table: TidyTable) -> None:
    root = Path("parquet") / table.name
    (folder / root).mkdir(parents=True, exist_ok=True)
    for chunk in chunks:
        for part in sorted((chunk / root).rglob("*.parquet")):
            target = folder / part.relative_to(chunk)
            target.parent.mkdir(parents=True, exist_ok=True)
            part.replace(target)


def _append(target: Path, head: bytes, parts: Sequence[Path]) -> None:
    target.parent.mkdir(parents=True, exist_ok=True)
    with target.open("wb") as out:
        out.write(head)
        for part in parts:
            out.write(part.read_bytes())


def arrow_schema(table: TidyTable) -> Any:
    """The table's schema for Parquet, with unit and meaning of each column beside it.

    Raises:
        MissingEngineError: the engine is not installed.
    """
    arrow = engine("pyarrow")
    types: dict[Kind, Any] = {
        "text": arrow.string(),
        "number": arrow.float64(),
        "whole": arrow.int64(),
        "flag": arrow.bool_(),
        "moment": arrow.timestamp("us"),
        "day": arrow.date32(),
    }
    return arrow.schema(
        [
            arrow.field(column.name, types[column.kind], metadata={"unit": column.unit, "meaning": column.meaning})
            for column in table.columns
        ]
    )


# ---- engines ----
