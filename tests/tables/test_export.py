"""The export: the same tables in three forms, in the place of its own output and of nothing else."""

from __future__ import annotations

import csv
import io
import json
import re
import sys
from collections import Counter
from pathlib import Path
from typing import Any

import duckdb
import pyarrow.dataset
import pytest

from cornerwalk.session import RecordedEvent
from cornerwalk.session.events import HeightRead, NoteWritten
from cornerwalk.store import Summary
from cornerwalk.tables.catalog import PARTITION, TABLES, dictionary
from cornerwalk.tables.engines import MissingEngineError
from cornerwalk.tables.export import export
from cornerwalk.tables.formats import csv_text
from tests.support.jobs import WORKED_CASE, job_of, standards, worked_case
from tests.tables.conftest import Shop
from tests.tables.shop import everything, heights, plainly, stages, summaries, write_job

MONTHS = [name for name, _ in PARTITION]


def from_parquet(folder: Path, table: str) -> list[dict[str, Any]]:
    read = pyarrow.dataset.dataset(folder / "parquet" / table, partitioning="hive").to_table()
    return list(read.to_pylist())


def from_jsonl(folder: Path, table: str) -> list[dict[str, Any]]:
    lines = (folder / "jsonl" / f"{table}.jsonl").read_text(encoding="utf-8").split("\n")
    assert lines[-1] == ""
    return [json.loads(line) for line in lines[:-1]]


def from_csv(folder: Path, table: str) -> list[dict[str, str]]:
    text = (folder / "csv" / f"{table}.csv").read_text(encoding="utf-8-sig")
    return list(csv.DictReader(io.StringIO(text, newline="")))


def test_rows_equal_a_plain_count(shop: Shop) -> None:
    """DuckDB counts in the Parquet what is counted in the files' bare JSON, and the export says the same."""
    documents = plainly(shop.library).values()
    plain = {
        "sessions": len(documents),
        "events": sum(len(document["events"]) for document in documents),
        "readings": sum(len(values) for document in documents for values in heights(document).values()),
        "stages": sum(len(stages(document)) for document in documents),
        "leaks": sum(
            sum(e["kind"] == "leak read" and e["moment"] == "start" for e in document["events"])
            for document in documents
        ),
    }
    for table, count in plain.items():
        files = str(shop.folder / "parquet" / table / "**" / "*.parquet")
        assert duckdb.execute("SELECT count(*) FROM read_parquet(?)", [files]).fetchone() == (count,), table
        assert shop.exported.rows[table] == count
    assert plain["sessions"] == 64 == shop.exported.sessions


@pytest.mark.parametrize("table", TABLES, ids=lambda table: table.name)
def test_three_forms_hold_the_same_rows(shop: Shop, table: Any) -> None:
    """Value by value: Parquet, JSON Lines and CSV agree, each read by a library that knows nothing of the others."""
    kinds = {column.name: column.kind for column in table.columns} | dict.fromkeys(MONTHS, "whole")
    rows = from_jsonl(shop.folder, table.name)
    assert rows
    assert all(list(row) == [*table.names, *MONTHS] for row in rows)

    def as_json(name: str, value: Any) -> Any:
        return value.isoformat() if kinds[name] in ("moment", "day") and value is not None else value

    parquet = [{name: as_json(name, row[name]) for name in kinds} for row in from_parquet(shop.folder, table.name)]
    assert Counter(map(json.dumps, parquet)) == Counter(map(json.dumps, rows))

    def as_csv(name: str, value: Any) -> str:
        if value is None:
            return ""
        return {True: "true", False: "false"}[value] if kinds[name] == "flag" else str(value)

    kept = [name for name in kinds if kinds[name] != "text"]
    told = [[as_csv(name, row[name]) for name in kept] for row in rows]
    assert [[row[name] for name in kept] for row in from_csv(shop.folder, table.name)] == told


def test_parquet_lies_in_folders_by_month(shop: Shop) -> None:
    """Each file lies in the month in which its jobs were opened."""
    for file in (shop.folder / "parquet" / "sessions").rglob("*.parquet"):
        opened = duckdb.execute(
            "SELECT DISTINCT strftime(opened_on, 'year=%Y/month=%m') FROM read_parquet(?)", [str(file)]
        )
        assert opened.fetchall() == [(file.parent.relative_to(shop.folder / "parquet" / "sessions").as_posix(),)]


def test_columns_carry_unit_and_meaning(shop: Shop) -> None:
    """The Parquet schema and the dictionary beside it say the same of every column."""
    written = list(csv.reader(io.StringIO((shop.folder / "dictionary.csv").read_text(encoding="utf-8-sig"))))
    assert written == [list(row) for row in dictionary()]
    meant = {(table, column): (unit, meaning) for table, column, _, unit, meaning in written[1:]}
    for table in TABLES:
        schema = pyarrow.dataset.dataset(shop.folder / "parquet" / table.name, partitioning="hive").schema
        for field in schema:
            if field.name not in MONTHS:
                unit, meaning = (field.metadata[key].decode() for key in (b"unit", b"meaning"))
                assert meant[table.name, field.name] == (unit, meaning)


def test_the_same_sessions_give_the_same_bytes(shop: Shop, tmp_path: Path) -> None:
    """An export says nothing of when or where it was made."""
    export(summaries(shop.library), tmp_path / "again", standards=standards(), jobs_in_chunk=20)
    assert everything(tmp_path / "again") == everything(shop.folder)


def test_what_cannot_be_exported_is_listed(shop: Shop, tmp_path: Path) -> None:
    """A damaged file, one of a newer version and one that is gone are named with the reason; others are exported."""
    library = tmp_path / "library"
    whole = write_job(library, "2026-05-04-whole-11111111", worked_case())
    (library / "2026-05-05-cut-22222222.json").write_bytes(whole.read_bytes()[:-500])
    newer = re.sub(rb'"version": \d+', b'"version": 9', whole.read_bytes(), count=1)
    (library / "2026-05-06-newer-33333333.json").write_bytes(newer)
    listed = [*summaries(library), Summary.of_path(library / "2026-05-07-gone-44444444.json")]
    exported = export(listed, tmp_path / "tables", standards=standards())
    assert exported.sessions == 1
    reasons = {one.file: one.reason for one in exported.left_out}
    assert reasons["2026-05-05-cut-22222222.json"].startswith("damaged: ")
    assert reasons["2026-05-07-gone-44444444.json"].startswith("there is no file")
    assert "version 9" in reasons["2026-05-06-newer-33333333.json"]
    written = csv.DictReader(io.StringIO((tmp_path / "tables" / "left_out.csv").read_text(encoding="utf-8-sig")))
    assert {row["file"]: row["reason"] for row in written} == reasons
    assert shop.exported.left_out == ()


def test_a_job_counts_once(tmp_path: Path) -> None:
    """Of two files of one job, as after a copy by e-mail, the one worked on last is exported, the other listed."""
    write_job(tmp_path / "library", "2026-05-04-old-11111111", worked_case())
    write_job(tmp_path / "library", "2026-05-04-new-11111111", job_of(WORKED_CASE, NoteWritten(text="later")))
    exported = export(summaries(tmp_path / "library"), tmp_path / "tables", standards=standards())
    assert exported.sessions == 1
    (left_out,) = exported.left_out
    assert left_out.file == "2026-05-04-old-11111111.json"
    assert "2026-05-04-new-11111111.json" in left_out.reason
    (session,) = from_jsonl(tmp_path / "tables", "sessions")
    assert session["file"] == "2026-05-04-new-11111111.json"


def test_of_two_copies_the_one_that_is_whole_counts(tmp_path: Path) -> None:
    """A later copy that was changed since does not take the whole one out with it; both are accounted for."""
    write_job(tmp_path / "library", "2026-05-04-old-11111111", worked_case())
    new = write_job(tmp_path / "library", "2026-05-04-new-11111111", job_of(WORKED_CASE, NoteWritten(text="later")))
    new.write_bytes(new.read_bytes().replace(b"27 5/8", b"27 6/8"))
    exported = export(summaries(tmp_path / "library"), tmp_path / "tables", standards=standards())
    assert [(one.file, one.reason[:8]) for one in exported.left_out] == [("2026-05-04-new-11111111.json", "damaged:")]
    assert exported.sessions == 1


def test_a_library_without_a_session_gives_tables_without_rows(tmp_path: Path) -> None:
    """Nothing to export is no error: every table is there, with its head."""
    exported = export([], tmp_path / "tables", standards=standards())
    assert set(exported.rows.values()) == {0}
    for table in TABLES:
        assert from_csv(tmp_path / "tables", table.name) == []
        assert from_jsonl(tmp_path / "tables", table.name) == []


HOSTILE = [
    '=HYPERLINK("http://x","y")',
    "+1+1",
    "-2+3",
    "@SUM(A1)",
    "\t=1",
    "a;=1",
    "a,@b",
    '"=1',
    "line\nbreak\r\n=1",
    "\x1b[31mred\u202e",
    "'; DROP TABLE sessions; --",
    "NUL\x00byte",
    "½ ° − Zoë 車",
]


@pytest.mark.parametrize("text", HOSTILE)
def test_text_from_a_field_stays_text(tmp_path: Path, text: str) -> None:
    """Nothing typed acts as a formula in a spreadsheet, breaks a row or is lost; figures below nought stay figures."""
    job = job_of(WORKED_CASE.replace("Worked case", "plain"), NoteWritten(text=text))
    write_job(tmp_path / "library", "2026-05-04-hostile-11111111", job)
    export(summaries(tmp_path / "library"), tmp_path / "tables", standards=standards())
    note = from_jsonl(tmp_path / "tables", "events")[-1]
    assert json.loads(note["fields"])["text"] == text
    assert json.loads(from_parquet(tmp_path / "tables", "events")[-1]["fields"])["text"] == text
    rows = from_csv(tmp_path / "tables", "events")
    assert len(rows) == len(job.events)
    stages_csv = (tmp_path / "tables" / "csv" / "stages.csv").read_text(encoding="utf-8-sig")
    assert "," + str(-0.90625 * 25.4)[:6] in stages_csv  # the rear, down 29/32 in at 15 psi


@pytest.mark.parametrize("text", HOSTILE)
def test_no_cell_is_a_formula(text: str) -> None:
    """A cell of text begins with none of the signs a spreadsheet acts on; a negative figure stays bare."""
    row = csv_text([[text, -1.5, None, True]])
    assert row.endswith(",-1.5,,true\r\n")
    (cell, *_), *more = csv.reader(io.StringIO(row, newline=""))
    assert not more
    assert cell.lstrip()[:1] not in set("=+-@\t\r")


def test_what_is_not_to_be_shown_is_in_no_form(tmp_path: Path) -> None:
    """`shown` says which events are exported; what it leaves out is nowhere, and the figures are of what is left."""
    write_job(tmp_path / "library", "2026-05-04-job-11111111", worked_case())
    export(
        summaries(tmp_path / "library"), tmp_path / "tables", standards=standards(), event_filter=without_the_customer
    )
    raw = b"".join(everything(tmp_path / "tables").values())
    assert "Ångström".encode() not in raw
    (session,) = from_jsonl(tmp_path / "tables", "sessions")
    assert session["job_customer"] is None
    assert session["readings"] == 16


def without_the_customer(events: Any) -> Any:
    return [event for event in events if getattr(event.payload, "name", "") != "job.customer"]


def test_heights_left_out_are_not_reckoned_with(tmp_path: Path) -> None:
    """The assessment is of the events shown, not of those in the file."""
    write_job(tmp_path / "library", "2026-05-04-job-11111111", worked_case())
    export(summaries(tmp_path / "library"), tmp_path / "tables", standards=standards(), event_filter=without_heights)
    assert from_jsonl(tmp_path / "tables", "readings") == []
    assert {stage["rear_mm"] for stage in from_jsonl(tmp_path / "tables", "stages")} == {None}


def without_heights(events: Any) -> list[RecordedEvent]:
    return [event for event in events if not isinstance(event.payload, HeightRead)]


def test_progress_is_told(tmp_path: Path) -> None:
    """After each chunk: how many of how many."""
    for day in range(1, 6):
        sheet = WORKED_CASE.replace("2026-05-04", f"2026-05-0{day}")
        write_job(tmp_path / "library", f"2026-05-0{day}-job-{day}1111111", job_of(sheet))
    told: list[tuple[int, int]] = []
    listed = [Summary.of_path(path) for path in (tmp_path / "library").iterdir()]
    export(
        listed,
        tmp_path / "tables",
        standards=standards(),
        jobs_in_chunk=2,
        progress=lambda done, of: told.append((done, of)),
    )
    assert told == [(2, 5), (4, 5), (5, 5)]


def test_without_the_engine_it_says_what_to_install(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The extra is named in a sentence, before anything is written."""
    monkeypatch.setitem(sys.modules, "pyarrow.parquet", None)
    with pytest.raises(MissingEngineError, match=r"pip install 'cornerwalk\[fleet\]'"):
        export([], tmp_path / "tables", standards=standards())
    assert list(tmp_path.iterdir()) == []
