"""The ready questions, each answered a second time from the files' bare JSON by other means."""

from __future__ import annotations

import itertools
import math
import re
import statistics
from collections import Counter, defaultdict
from datetime import datetime
from pathlib import Path
from typing import Any

import numpy as np
import pyarrow.parquet as parquet
import pytest

from cornerwalk.assess import assess
from cornerwalk.report.results import results_document
from cornerwalk.store.loader import load_session
from cornerwalk.tables.ask import (
    BadQuestionError,
    UnknownQuestionError,
    ask,
    question,
    question_of_file,
    question_of_text,
    questions,
)
from cornerwalk.tables.export import export
from cornerwalk.tables.export_folder import NotAnExportError
from tests.support.checks import check_kinds
from tests.support.jobs import standards
from tests.tables.conftest import Shop
from tests.tables.shop import counting, heights, plainly, stated, summaries

NAMES = [each.name for each in questions()]
U_PLACE_MM = 25.4 / 32
"""What is assumed where a session states nothing else."""


def answer(shop: Shop, name: str) -> list[dict[str, Any]]:
    given = ask(question(name), shop.folder)
    return [dict(zip(given.columns, row, strict=True)) for row in given.rows]


def by_name(shop: Shop) -> dict[str, dict[str, Any]]:
    return plainly(shop.library)


def vehicle_of(document: dict[str, Any]) -> Any:
    return stated(document, "vehicle.registration") or stated(document, "vehicle.description") or None


def technician_of(document: dict[str, Any]) -> str:
    return str(stated(document, "job.technician") or document["events"][0]["by"])


def test_repeatability_is_what_the_residuals_say(shop: Shop) -> None:
    """√(Σ(x − x̄)²/Σ(n − 1)) over every corner read more than once, for each technician."""
    residuals: dict[str, list[np.ndarray[Any, Any]]] = defaultdict(list)
    for document in by_name(shop).values():
        for values in heights(document).values():
            if len(values) > 1:
                residuals[technician_of(document)].append(np.array(values) - np.mean(values))
    found = {row["technician"]: row for row in answer(shop, "repeatability")}
    assert set(found) == set(residuals)
    for technician, groups in residuals.items():
        freedom = sum(len(group) - 1 for group in groups)
        pooled = math.sqrt(float(np.sum(np.concatenate(groups) ** 2)) / freedom)
        assert found[technician]["place_mm"] == pytest.approx(pooled)
        assert (found[technician]["corners"], found[technician]["freedom"]) == (len(groups), freedom)
        assert found[technician]["u_place_mm"] == pytest.approx(pooled / math.sqrt(2 * freedom))


def test_leak_rates_are_pressure_lost_over_hours(shop: Shop) -> None:
    """At one temperature the gas law asks for nothing: what the gauge lost, over the hours stated.

    Each rate is as sure as two readings of the gauge, of the temperature and the weather, over the hours. The mean is
    as sure as these say, or as the tests scatter, whichever is worse.
    """
    rates: dict[str | None, list[tuple[float, float]]] = defaultdict(list)
    for document in by_name(shop).values():
        read = {event["moment"]: event for event in counting(document) if event["kind"] == "leak read"}
        if len(read) == 2 and read["start"]["temperature_C"] == read["end"]["temperature_C"]:
            lost = read["start"]["pressure_kPa"] - read["end"]["pressure_kPa"]
            u = u_loss_kPa(document, read["end"]["hours"], read["start"]["pressure_kPa"])
            rates[stated(document, "kit.name")].append((lost / read["end"]["hours"], u / read["end"]["hours"]))
    found = {row["kit"]: row for row in answer(shop, "leaks")}
    assert len(rates) == 3
    for kit, tests in rates.items():
        values, us = zip(*tests, strict=True)
        inner = math.sqrt(sum(u**2 for u in us)) / len(us)
        outer = statistics.stdev(values) / math.sqrt(len(values))
        assert found[kit]["tests"] == len(values)
        assert found[kit]["mean_kPa_per_h"] == pytest.approx(statistics.mean(values), abs=1e-9)
        assert found[kit]["u_mean_kPa_per_h"] == pytest.approx(max(inner, outer))
        assert found[kit]["worst_kPa_per_h"] == pytest.approx(max(values), abs=1e-9)
    assert found["kit A, invented"]["beyond_U"] == 0


def u_loss_kPa(document: dict[str, Any], hours: float, gauge_kPa: float) -> float:
    """Two readings of the gauge; 2 K at each end, taken up by bags that give way in 0.75 of it; the weather."""
    start = next(e for e in counting(document) if e["kind"] == "leak read" and e["moment"] == "start")
    altitude_m = stated(document, "leak.altitude") or 0.0
    altitude_m *= 6356766 / (6356766 + altitude_m)  # geopotential, US Standard Atmosphere 1976
    atmosphere_kPa = 101.325 * (1 - 2.25577e-5 * altitude_m) ** 5.25588
    per_K = (gauge_kPa + atmosphere_kPa) / (start["temperature_C"] + 273.15)
    graduation_kPa = stated(document, "leak.gauge_graduation")
    return math.sqrt(graduation_kPa**2 / 6 + 2 * (0.75 * per_K * 2.0) ** 2 + (0.6 * min(1.0, hours / 3)) ** 2)


def weighted(values: list[float], us: list[float]) -> tuple[float, float]:
    """Mean by 1/u², and its u: the larger of what the u say and what the values do."""
    weights = np.array(us) ** -2.0
    mean = float(np.average(values, weights=weights))
    inner = 1 / math.sqrt(float(np.sum(weights)))
    if len(values) == 1:
        return mean, inner
    outer = math.sqrt(float(np.sum(weights * (np.array(values) - mean) ** 2)) / ((len(values) - 1) * np.sum(weights)))
    return mean, max(inner, outer)


def u_read_mm(repeats: int) -> float:
    return math.hypot(25.4 / 16 / math.sqrt(12), U_PLACE_MM / math.sqrt(repeats))


def test_height_per_pressure_is_a_least_squares_line(shop: Shop) -> None:
    """Numpy's polynomial fit through the trials of each generated job, and the mean over a vehicle's jobs."""
    slopes: dict[tuple[Any, ...], list[tuple[float, float]]] = defaultdict(list)
    for name, document in by_name(shop).items():
        if "trailer-job" not in name:
            continue
        kPa: dict[tuple[str, int], float] = {
            (e["stage"], e.get("number", 1)): e["pressure_kPa"]
            for e in counting(document)
            if e["kind"] == "stage begun" and e["stage"] == "fitted"
        }
        read = heights(document)
        whole = [key for key in kPa if (*key, "RR") in read and (*key, "LR") in read]
        if len(whole) < 2:
            continue
        x = [kPa[key] for key in whole]
        y = [statistics.mean(read[*key, "RR"] + read[*key, "LR"]) for key in whole]
        repeats = {len(read[*key, corner]) for key in whole for corner in ("RR", "LR")}
        if len(repeats) > 1:
            pytest.fail("the generated jobs repeat all of their corners or none")
        slope = float(np.polyfit(x, y, 1)[0])
        # Friction of springs that were not stated, 3 mm, and the gauge's step, both rectangular.
        step_kPa = stated(document, "leak.gauge_graduation") or 6.894757293168361
        u_height_mm = math.hypot(
            u_read_mm(repeats.pop()) / math.sqrt(2), 3 / math.sqrt(3), slope * step_kPa / math.sqrt(12)
        )
        u = u_height_mm / math.sqrt(float(np.var(x)) * len(x))
        slopes[vehicle_of(document), stated(document, "kit.name")].append((slope, u))
    found = {(row["vehicle"], row["kit"]): row for row in answer(shop, "rise")}
    assert len(slopes) > 20
    assert max(map(len, slopes.values())) > 1
    for key, lines in slopes.items():
        mean, u = weighted([slope for slope, _ in lines], [u for _, u in lines])
        assert found[key]["jobs"] == len(lines)
        assert found[key]["rise_mm_per_kPa"] == pytest.approx(mean, rel=1e-9)
        assert found[key]["u_rise_mm_per_kPa"] == pytest.approx(u, rel=1e-9)


def test_ride_rate_is_gain_over_drop(shop: Shop) -> None:
    """W(L + b)/L over the drop of the rear, by hand, for each generated job whose rear surely dropped."""
    rates: dict[Any, list[tuple[float, float]]] = defaultdict(list)
    for name, document in by_name(shop).items():
        read = heights(document)
        whole = all((stage, 1, corner) in read for stage in ("unloaded", "loaded") for corner in ("RR", "LR"))
        if "trailer-job" not in name or not whole:
            continue
        load = next(e for e in counting(document) if e["kind"] == "load stated")
        wheelbase = stated(document, "vehicle.wheelbase")
        gain = load["weight_N"] * (wheelbase - load["ahead_mm"]) / wheelbase
        rear = {s: statistics.mean(read[s, 1, "RR"] + read[s, 1, "LR"]) for s in ("unloaded", "loaded")}
        drop = rear["unloaded"] - rear["loaded"]
        weight, behind = load["weight_N"], -load["ahead_mm"]
        # A stated load is sure to 15 %, its place to 25 mm, the wheelbase to 3 mm; friction of 3 mm is in each height.
        u_gain = math.hypot(0.15 * gain, 25 * weight / wheelbase, 3 * weight * behind / wheelbase**2)
        u_drop = math.hypot(u_read_mm(len(read["loaded", 1, "RR"])), 3 * math.sqrt(2 / 3))
        rates[vehicle_of(document)].append((gain / drop, gain / drop * math.hypot(u_gain / gain, u_drop / drop)))
    found = {row["vehicle"]: row for row in answer(shop, "ride-rate")}
    assert len(rates) > 20
    for vehicle, values in rates.items():
        mean, u = weighted([rate for rate, _ in values], [u for _, u in values])
        assert found[vehicle]["jobs"] == len(values)
        assert found[vehicle]["rate_N_per_mm"] == pytest.approx(mean, rel=1e-9)
        assert found[vehicle]["u_rate_N_per_mm"] == pytest.approx(u, rel=1e-9)


def test_unfinished_jobs_are_those_never_handed_over(shop: Shop) -> None:
    """Every file without a handover, the one left longest first."""
    documents = by_name(shop)
    last = {
        name: document["events"][-1]["at"]
        for name, document in documents.items()
        if not any(event["kind"] == "handed over" for event in document["events"])
    }
    assert [row["file"] for row in answer(shop, "unfinished")] == sorted(last, key=lambda name: last[name])
    assert 0 < len(last) < len(documents)


def test_a_check_not_made_is_counted_once_a_job(shop: Shop) -> None:
    """A rating nobody stated: as many jobs as files without that fact. One check at several stages is one job."""
    documents = by_name(shop).values()
    rows = answer(shop, "not-checked")
    lacking = sum(stated(document, "vehicle.gawr_front") is None for document in documents)
    (front,) = [row for row in rows if row["check"] == "front axle against its rating" and "label" in row["needs"]]
    assert front["jobs"] == lacking > 0
    assert front["share_percent"] == pytest.approx(100 * lacking / len(documents))
    assert all(row["jobs"] <= len(documents) for row in rows)
    assert not [row for row in rows if row["check"].endswith((" 1", " 2", "loaded", "fitted"))]


def test_jobs_over_a_rating_are_those_the_scale_shows(shop: Shop) -> None:
    """Every generated job whose rear axle weighed more than its 3100 lb."""
    over = {
        name
        for name, document in by_name(shop).items()
        for event in counting(document)
        if "trailer-job" in name and event["kind"] == "weighing recorded"
        if event["rear_N"] > 3100 * 0.45359237 * 9.80665
    }
    found = {row["file"] for row in answer(shop, "ratings") if row["rating"] == "rear axle against its rating"}
    assert found == over
    assert over


def test_vehicles_that_dazzle_are_those_whose_last_job_says_so(shop: Shop) -> None:
    """From each file's own results: the last job of a vehicle, its beam above level or the rule, air in."""
    last: dict[Any, tuple[str, str]] = {}
    for name, document in by_name(shop).items():
        vehicle = vehicle_of(document) or name
        last[vehicle] = max(last.get(vehicle, ("", "")), (document["events"][0]["at"], name))
    dazzling = set()
    for _, name in last.values():
        stored = load_session(shop.library / name, (shop.library / name).read_bytes())
        document = results_document(stored.session, assess(stored.session, standards()))
        for check in document["verdicts"]:
            if check["id"] in ("beam-below-level", "beam-within-rule-upper"):
                with_air = check["stage"].split()[0] in ("fitted", "road-test", "follow-up")
                if with_air and check["verdict"] in ("fail", "conditional fail"):
                    dazzling.add(name)
    rows = answer(shop, "dazzle")
    assert Counter(row["file"] for row in rows) == Counter(dazzling)
    assert dazzling
    assert [row["aim_deg"] for row in rows] == sorted((row["aim_deg"] for row in rows), reverse=True)


# ---- every question ----


@pytest.mark.parametrize("name", NAMES)
def test_the_head_of_a_question_names_its_columns(shop: Shop, name: str) -> None:
    """Title, sentence and the meaning of every column stand in the file, and the answer has those columns."""
    asked = question(name)
    assert asked.title
    assert asked.answers.endswith(".")
    given = ask(asked, shop.folder)
    assert given.rows
    assert given.columns == tuple(asked.columns)


@pytest.mark.parametrize("name", NAMES)
def test_an_export_without_a_session_answers_with_no_row(tmp_path: Path, name: str) -> None:
    """Nothing to count is no error."""
    export([], tmp_path / "tables", standards=standards())
    assert ask(question(name), tmp_path / "tables").rows == ()


def test_names_of_folders_are_names(shop: Shop, tmp_path: Path) -> None:
    """Quotes, stars and brackets in the name of a folder are neither SQL nor patterns."""
    folder = tmp_path / "it's [a] *; DROP TABLE sessions; --"
    export(summaries(shop.library)[:3], folder, standards=standards())
    assert len(ask(question("not-checked"), folder).rows) > 0


def test_a_question_names_checks_that_there_are() -> None:
    """By their ids, each of which is one."""
    known = {kind.id for kind in check_kinds()}
    named = set(re.findall(r"'([a-z]+-[a-z-]+)'", " ".join(each.sql for each in questions() if "check_id" in each.sql)))
    assert {"beam-below-level", "beam-within-rule-upper", "rated-support"} <= named
    assert named - known <= {"road-test", "follow-up"}


def test_an_export_of_an_earlier_version_is_refused(shop: Shop, tmp_path: Path) -> None:
    """A table without a column of today answers nothing: an answer without it could be taken for "none"."""
    folder = tmp_path / "tables"
    export(summaries(shop.library)[:3], folder, standards=standards())
    for file in (folder / "parquet" / "verdicts").rglob("part-*.parquet"):
        parquet.write_table(parquet.ParquetFile(file).read().drop_columns(["check_id"]), file)
    with pytest.raises(NotAnExportError, match="export the sessions again"):
        ask(question("dazzle"), folder)


def test_files_of_somebody_elses_are_not_read(shop: Shop, tmp_path: Path) -> None:
    """Another Parquet file among ours changes no answer."""
    folder = tmp_path / "tables"
    export(summaries(shop.library), folder, standards=standards())
    ours = next((folder / "parquet" / "sessions").rglob("part-*.parquet"))
    ours.with_name("copy of mine.parquet").write_bytes(ours.read_bytes())
    assert ask(question("unfinished"), folder).rows == ask(question("unfinished"), shop.folder).rows


def test_a_question_that_is_not_there_is_told(shop: Shop, tmp_path: Path) -> None:
    """The nearest name is offered, or all of them; a folder that is no export is named."""
    with pytest.raises(UnknownQuestionError, match="did you mean dazzle"):
        ask(question("dazle"), shop.folder)
    with pytest.raises(UnknownQuestionError, match="there are dazzle, hurried, "):
        ask(question("x"), shop.folder)
    with pytest.raises(NotAnExportError):
        ask(question("dazzle"), tmp_path)


def test_verdicts_are_counted_as_each_job_ends(shop: Shop) -> None:
    """From each file's own results, by month, kit and technician."""
    counted: dict[tuple[Any, ...], Counter[str]] = defaultdict(Counter)
    for name, document in by_name(shop).items():
        stored = load_session(shop.library / name, (shop.library / name).read_bytes())
        overall = results_document(stored.session, assess(stored.session, standards()))["overall"]
        month = document["events"][0]["at"][:7]
        counted[month, stated(document, "kit.name"), technician_of(document)][overall] += 1
    rows = answer(shop, "verdicts")
    assert len(rows) == len(counted) > 10
    for row in rows:
        of = counted[row["month"], row["kit"], row["technician"]]
        assert row["jobs"] == sum(of.values())
        assert (row["failed"], row["perhaps_failed"]) == (of["fail"], of["conditional fail"])
        assert (row["not_checked"], row["passed"]) == (of["not checked"], of["pass"] + of["conditional pass"])


def test_pressure_left_is_that_of_the_last_trial(shop: Shop) -> None:
    """From each file's events; what is recommended, from its own results."""
    apart = {}
    for name, document in by_name(shop).items():
        stored = load_session(shop.library / name, (shop.library / name).read_bytes())
        air = results_document(stored.session, assess(stored.session, standards()))["air"]
        trials = [e for e in counting(document) if e["kind"] == "stage begun" and e.get("pressure_kPa") is not None]
        for line in air:
            if line["where"] == "rear" and trials and line["recommended_kPa"] is not None:
                over = trials[-1]["pressure_kPa"] - line["recommended_kPa"]
                if abs(over) > 0.01:
                    apart[name] = over
    found = {row["file"]: row["over_kPa"] for row in answer(shop, "left") if row["place"] == "rear"}
    assert found == pytest.approx(apart)
    assert apart


def test_hurried_jobs_are_those_nobody_walked(shop: Shop) -> None:
    """From the times of each file: heights of two corners, one after the other, within a second."""
    expected = {}
    for name, document in by_name(shop).items():
        kept: dict[tuple[str, int, str], list[tuple[int, datetime, str]]] = {}
        for event in counting(document):
            if event["kind"] == "height read":
                place = (event["stage"], event.get("number", 1), event["corner"])
                if event.get("how") != "repeat":
                    kept[place] = []
                kept[place].append((event["seq"], datetime.fromisoformat(event["at"]), event["corner"]))
        read = sorted(each for readings in kept.values() for each in readings)
        close = sum(
            later[2] != earlier[2] and (later[1] - earlier[1]).total_seconds() <= 1
            for earlier, later in itertools.pairwise(read)
        )
        if close:
            expected[name] = close
    assert {row["file"]: row["hurried"] for row in answer(shop, "hurried")} == expected
    assert expected


# ---- questions of one's own ----


def test_a_select_of_ones_own_is_answered(shop: Shop) -> None:
    """Counted again from the files' bare JSON."""
    given = ask(question_of_text("SELECT corner, count(*) FROM readings GROUP BY corner ORDER BY corner"), shop.folder)
    counted = Counter(
        corner
        for document in by_name(shop).values()
        for (_, _, corner), values in heights(document).items()
        for _ in values
    )
    assert given.rows == tuple(sorted(counted.items()))


@pytest.mark.parametrize(
    "sql",
    [
        "CREATE TABLE mine AS SELECT 1",
        "SELECT 1; SELECT 2",
        "SET threads = 1",
        "PRAGMA version",
        "INSERT INTO sessions SELECT * FROM sessions",
        "DROP VIEW sessions",
        "CALL duckdb_settings()",
        "-- nothing",
        "  ",
    ],
)
def test_a_question_is_one_select(shop: Shop, sql: str) -> None:
    """Nothing else is carried out."""
    with pytest.raises(BadQuestionError, match="one SELECT"):
        ask(question_of_text(sql), shop.folder)


def test_a_question_writes_no_file(shop: Shop) -> None:
    """Neither beside the export nor into it."""
    before = {path: path.stat().st_mtime_ns for path in shop.folder.rglob("*")}
    out = shop.folder / "copy.csv"
    with pytest.raises(BadQuestionError):
        ask(question_of_text(f"COPY sessions TO '{out}'"), shop.folder)
    assert {path: path.stat().st_mtime_ns for path in shop.folder.rglob("*")} == before


def test_a_question_reads_no_file_but_the_export(shop: Shop, tmp_path: Path) -> None:
    """What else lies on the machine is not its business."""
    secret = tmp_path / "secret.csv"
    secret.write_text("word\nhidden\n")
    for read in (f"read_csv('{secret}')", f"read_text('{secret}')", f"'{secret}'", f"glob('{tmp_path}/*')"):
        with pytest.raises(BadQuestionError, match=r"(?i)permission"):
            ask(question_of_text(f"SELECT * FROM {read}"), shop.folder)


def test_sql_that_is_wrong_is_told_where(shop: Shop) -> None:
    """The engine's own sentence, with the name it did not find."""
    with pytest.raises(BadQuestionError, match="heigth_mm"):
        ask(question_of_text("SELECT heigth_mm FROM readings"), shop.folder)


def test_a_shop_keeps_questions_in_a_folder(shop: Shop, tmp_path: Path) -> None:
    """Each file is a question of its name, beside the ready ones; one of a ready name takes its place."""
    (tmp_path / "by-corner.sql").write_text("-- title: Readings by corner\nSELECT corner FROM readings", "utf-8")
    (tmp_path / "dazzle.sql").write_text("SELECT 1 AS one", "utf-8")
    (tmp_path / "notes.txt").write_text("no question", "utf-8")
    assert [each.name for each in questions(tmp_path)] == sorted([*NAMES, "by-corner"])
    assert question("by-corner", tmp_path).title == "Readings by corner"
    assert ask(question("dazzle", tmp_path), shop.folder).rows == ((1,),)


@pytest.mark.parametrize("content", [b"SELECT '\xff'", b"-" * 1_000_001, None])
def test_a_file_that_is_no_question_is_named(tmp_path: Path, content: bytes | None) -> None:
    """Bytes that are no text, a file too large, a file that is not there."""
    file = tmp_path / "mine.sql"
    if content is not None:
        file.write_bytes(content)
    with pytest.raises(BadQuestionError, match=r"mine\.sql"):
        question_of_file(file)
