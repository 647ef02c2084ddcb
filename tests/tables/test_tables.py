"""The rows of one session, held against its bare JSON and its results document; the dictionary against both."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Mapping, Sequence
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from cornerwalk.assess import assess
from cornerwalk.report.results import results_document
from cornerwalk.samples import sample_folder
from cornerwalk.session.events import NoteWritten, Undone
from cornerwalk.session.facts import FACTS
from cornerwalk.store.loader import StoredSession, load_session
from cornerwalk.tables.catalog import PARTITION, TABLES, TableRows, dictionary, rows_of
from cornerwalk.tables.columns import unit_of
from tests.support.jobs import WORKED_CASE, InventedJob, half_done, job_of, nothing_yet, separate_lines, standards
from tests.support.jobs import worked_case as worked
from tests.tables.shop import counting, heights, plainly, write_job

Rows = Sequence[Mapping[str, Any]]


def stored_of(folder: Path, job: InventedJob) -> StoredSession:
    path = write_job(folder, "job", job)
    return load_session(path, path.read_bytes())


def tables_of(stored: StoredSession) -> dict[str, Rows]:
    return named(rows_of(stored, assess(stored.session, standards())))


def named(made: TableRows) -> dict[str, Rows]:
    return {t.name: [dict(zip(t.names, row, strict=True)) for row in made.rows[t.name]] for t in TABLES}


SAMPLES = sorted(sample_folder().glob("*.json"))


@pytest.fixture(params=[*(path.stem for path in SAMPLES), "worked", "separate lines", "half done", "nothing yet"])
def stored(request: pytest.FixtureRequest, tmp_path: Path) -> StoredSession:
    """Every sample, and jobs with a tee, with two lines, broken off, and only just opened."""
    jobs = {"worked": worked, "separate lines": separate_lines, "half done": half_done, "nothing yet": nothing_yet}
    if request.param in jobs:
        return stored_of(tmp_path, jobs[request.param]())
    path = sample_folder() / f"{request.param}.json"
    return load_session(path, path.read_bytes())


def test_every_event_and_every_height_that_counts_is_a_row(stored: StoredSession) -> None:
    """Counted from the file's bare JSON: events are events, heights are those not taken back or replaced."""
    document = plainly(stored.path.parent)[stored.path.name]
    tables = tables_of(stored)
    assert [(row["seq"], row["kind"]) for row in tables["events"]] == [
        (event["seq"], event["kind"]) for event in document["events"]
    ]
    assert [row["seq"] for row in tables["events"] if row["counts"]] == [e["seq"] for e in counting(document)]
    read = {place: sorted(values) for place, values in heights(document).items()}
    rows: dict[tuple[str, int, str], list[float]] = {}
    for row in tables["readings"]:
        rows.setdefault((row["stage"], row["number"], row["corner"]), []).append(row["height_mm"])
        assert row["repeats"] == len(read[row["stage"], row["number"], row["corner"]])
    assert {place: sorted(values) for place, values in rows.items()} == read


def test_every_row_belongs_to_the_session(stored: StoredSession) -> None:
    """The id that joins the tables is in each of them."""
    ids = {row["session"] for rows in tables_of(stored).values() for row in rows}
    assert ids == {stored.session.id}


def test_stages_say_what_the_results_document_says(stored: StoredSession) -> None:
    """A figure of a stage is the same in the table and in the results, which are checked against the worked case."""
    document = results_document(stored.session, assess(stored.session, standards()))
    rows = tables_of(stored)["stages"]
    assert len(rows) == len(document["stages"])
    for row, stage in zip(rows, document["stages"], strict=True):
        for corner in ("LF", "RF", "RR", "LR"):
            assert row[f"height_{corner}_mm"] == stage["height_mm"][corner]
            assert row[f"u_delta_{corner}_mm"] == stage["u_delta_mm"][corner]
        for name in ("front_mm", "u_front_mm", "nose_up_deg", "u_nose_up_deg", "warp_mm", "ball_mm", "pressure_kPa"):
            assert row[name] == stage[name]
        lamp = stage["lamp"] or {}
        assert row["lamp_shift_mm"] == lamp.get("shift_mm")
        assert row["u_lamp_aim_deg"] == lamp.get("u_aim_deg")


def test_checks_made_and_not_made_are_rows(stored: StoredSession) -> None:
    """None of the checks is lost, and one that was not made never looks like one that was."""
    document = results_document(stored.session, assess(stored.session, standards()))
    rows = tables_of(stored)["verdicts"]
    made = [row for row in rows if row["verdict"] != "not checked"]
    missing = [row for row in rows if row["verdict"] == "not checked"]
    assert Counter((row["check_name"], row["verdict"]) for row in made) == Counter(
        (check["check"], check["verdict"]) for check in document["verdicts"]
    )
    assert Counter((row["check_name"], row["needs"]) for row in missing) == Counter(
        (check["check"], check["needs"]) for check in document["not_checked"]
    )
    assert all(row["value"] is None and row["limit_value"] is None and row["U"] is None for row in missing)


def test_separate_lines_have_a_row_each(tmp_path: Path) -> None:
    """Two lines of air are two rows, with their own trials."""
    tables = tables_of(stored_of(tmp_path, separate_lines()))
    assert [(row["place"], row["trials"]) for row in tables["lines"]] == [("LR", 2), ("RR", 2)]
    assert [(row["place"], row["stage"], row["number"], round(row["pressure_kPa"])) for row in tables["trials"]] == [
        ("LR", "fitted", 1, 120),
        ("LR", "fitted", 2, 180),
        ("RR", "fitted", 1, 100),
        ("RR", "fitted", 2, 150),
    ]


def test_facts_are_columns_in_their_unit(tmp_path: Path) -> None:
    """The sheet's own words, converted by hand: 119 in, 5800 lb, 40 psi, and a hold test from 72 °F to 41 °F."""
    tables = tables_of(stored_of(tmp_path, worked()))
    (session,) = tables["sessions"]
    assert session["vehicle_wheelbase_mm"] == pytest.approx(119 * 25.4)
    assert session["vehicle_gvwr_N"] == pytest.approx(5800 * 0.45359237 * 9.80665)
    assert session["kit_max_kPa"] == pytest.approx(40 * 4.4482216152605 / 0.0254**2 / 1000)
    assert (session["technician"], session["vehicle"], session["hitch_kind"]) == ("MT", "INV 123", None)
    (leak,) = tables["leaks"]
    assert (leak["start_C"], leak["end_C"], leak["hours"]) == (pytest.approx(200 / 9), pytest.approx(5), 14)


def test_times_are_told_in_utc_and_as_recorded(tmp_path: Path) -> None:
    """8:12 six hours behind is 14:12 in UTC; the month is that of the place."""
    sheet = WORKED_CASE.replace("2026-05-04T08:12:00-06:00", "2026-05-31T23:30:00-06:00")
    made = rows_of(
        stored := stored_of(tmp_path, job_of(sheet)),
        assess(stored.session, standards()),
    )
    (session,) = named(made)["sessions"]
    assert session["opened_at"] == "2026-05-31T23:30:00-06:00"
    assert session["opened_utc"] == datetime(2026, 6, 1, 5, 30)  # noqa: DTZ001 - as the table holds it
    assert str(session["opened_on"]) == "2026-05-31"
    assert (made.year, made.month) == (2026, 5)


def test_what_was_taken_back_is_on_record_and_does_not_count(tmp_path: Path) -> None:
    """An undone event and its undo stand among the events, neither of them counting."""
    job = job_of(WORKED_CASE, NoteWritten(text="wrong job"))
    job = job_of(WORKED_CASE, NoteWritten(text="wrong job"), Undone(undoes=len(job.events)))
    events = tables_of(stored_of(tmp_path, job))["events"]
    assert [(row["kind"], row["counts"]) for row in events[-2:]] == [("note written", False), ("undone", False)]
    assert events[-1]["subject"] == str(events[-2]["seq"])


def test_half_a_session_has_no_rows(tmp_path: Path) -> None:
    """A damaged file gives none rather than those of what is left of it."""
    path = write_job(tmp_path, "job", worked())
    cut = load_session(path, path.read_bytes()[:-400])
    assert cut.damage is not None
    with pytest.raises(ValueError, match="damaged"):
        rows_of(cut, assess(cut.session, standards()))


def test_no_table_holds_what_is_no_number(stored: StoredSession) -> None:
    """Whatever a session lacks is null, never NaN or an infinity."""
    values = [value for rows in tables_of(stored).values() for row in rows for value in row.values()]
    assert all(math.isfinite(value) for value in values if isinstance(value, float))


# ---- the dictionary ----


def test_the_dictionary_names_every_column_and_nothing_else() -> None:
    """Every column of every table has a kind and a meaning of its own in the dictionary."""
    head, *rows = dictionary()
    assert head == ("table", "column", "kind", "unit", "meaning")
    columns = [(table, column) for table, column, *_ in rows if column]
    assert len(columns) == len(set(columns))
    for table in TABLES:
        assert [c for t, c in columns if t == table.name] == [*table.names, *(name for name, _ in PARTITION)]
    assert all(meaning for *_, meaning in rows)
    assert all(kind for _, column, kind, _, _ in rows if column)


def test_every_figure_has_a_unit() -> None:
    """A column of figures says in the dictionary what they are measured in, and it is what its name ends with."""
    for table in TABLES:
        for column in table.columns:
            if column.kind == "number":
                assert column.unit, f"{table.name}.{column.name}"
            assert column.unit in (unit_of(column.name), "as in unit", "1"), f"{table.name}.{column.name}"


def test_every_fact_of_the_register_is_a_column() -> None:
    """What can be stated can be asked for; a new fact is exported without another line."""
    (sessions,) = (table for table in TABLES if table.name == "sessions")
    assert {f"{fact.part}_{fact.attribute}" for fact in FACTS.values()} <= set(sessions.names)


def test_names_differ_by_more_than_their_capitals() -> None:
    """SQL does not tell `U` from `u`."""
    for table in TABLES:
        assert len({name.lower() for name in table.names}) == len(table.names)
