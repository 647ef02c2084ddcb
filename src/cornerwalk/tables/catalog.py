"""Catalog of the tidy tables: all of them, the rows of one session, and the data dictionary."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from cornerwalk.assess.assessment import Assessment
from cornerwalk.store import StoredSession
from cornerwalk.tables.columns import Row, Source, TidyTable
from cornerwalk.tables.result_tables import FINDINGS, LEAKS, LINES, STAGES, TRIALS, VERDICTS
from cornerwalk.tables.session_tables import EVENTS, READINGS, SESSIONS

TABLES: tuple[TidyTable, ...] = (SESSIONS, READINGS, STAGES, TRIALS, LINES, LEAKS, VERDICTS, FINDINGS, EVENTS)
"""All tables, in the order of the dictionary."""

PARTITION = (
    ("year", "year in which the job was opened, where it was"),
    ("month", "month of it, 1 to 12"),
)
"""Two columns at the end of every table; in Parquet they are names of folders."""

LEFT_OUT = (("file", "name of the file"), ("reason", "why none of it is in the tables"))
"""Columns of the list of files that could not be exported."""


@dataclass(frozen=True, slots=True)
class TableRows:
    """The rows of one session, by table, in the order of the table's columns; and the month it belongs to."""

    year: int
    month: int
    rows: Mapping[str, Sequence[Row]]


def rows_of(stored: StoredSession, assessment: Assessment) -> TableRows:
    """The rows of one undamaged session and its assessment.

    Raises:
        ValueError: the session is damaged, and rows of half a session would be taken for those of a whole one.
    """
    if stored.damage is not None:
        raise ValueError("a damaged session has no rows")
    source = Source(stored.path, stored.version, stored.events, stored.session, assessment)
    rows = {table.name: table.rows(source) for table in TABLES}
    year, month, _ = (int(part) for part in stored.session.opened_at[:10].split("-"))
    return TableRows(year, month, rows)


def dictionary() -> list[tuple[str, str, str, str, str]]:
    """The data dictionary: table, column, kind, unit and meaning; a row without a column says what the table is."""
    rows = [("table", "column", "kind", "unit", "meaning")]
    for table in TABLES:
        rows.append((table.name, "", "", "", table.meaning))
        rows += [(table.name, c.name, c.kind, c.unit, c.meaning) for c in table.columns]
        rows += [(table.name, name, "whole", "", meaning) for name, meaning in PARTITION]
    rows.append(("left_out", "", "", "", "One row for each file that could not be exported."))
    rows += [("left_out", name, "text", "", meaning) for name, meaning in LEFT_OUT]
    return rows


def meaning_of(name: str) -> str:
    """What a column of that name means, the same in every table that has it; "" where there is none."""
    meanings = {column.meaning for table in TABLES for column in table.columns if column.name == name}
    return meanings.pop() if len(meanings) == 1 else ""
