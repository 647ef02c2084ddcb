"""The results document and its schema."""

from __future__ import annotations

import json
from dataclasses import fields
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from cornerwalk.assess import assessment as a
from cornerwalk.report import results as f
from cornerwalk.report.results import DOCUMENT, VERSION, results_document, results_schema
from tests.support.jobs import InventedJob, half_done, nothing_yet, separate_lines, worked_case

JOBS = [worked_case, separate_lines, half_done, nothing_yet]
IN, PSI, LB = 25.4, 6.894757293168361, 4.4482216152605
FROZEN = Path(__file__).parent / "frozen" / f"results-{VERSION}.schema.json"


def document(job: InventedJob) -> dict[str, Any]:
    """The document as whoever reads the file gets it."""
    written = json.dumps(results_document(job.session, job.assessment), allow_nan=False)
    read: dict[str, Any] = json.loads(written)
    return read


# The names that are fixed for the format, by the place they stand in.
FIXED = {
    (): [
        "session",
        "program",
        "reading",
        "stages",
        "axles",
        "ride_rate_N_per_mm",
        "carried_N",
        "air",
        "pressure_table",
    ],
    (0,): ["leak", "falr_percent", "verdicts", "not_checked", "findings"],
    ("reading",): ["graduation_mm", "u_place_mm", "u_read_mm"],
    ("stages", 0): [
        *("name", "pressure_kPa", "height_mm", "delta_mm", "u_delta_mm", "front_mm", "rear_mm", "u_front_mm"),
        *("u_rear_mm", "nose_up_deg", "u_nose_up_deg", "left_up_deg", "warp_mm", "u_warp_mm", "ball_mm", "lamp"),
    ],
    ("stages", 1, "lamp"): ["rise_mm", "shift_mm", "u_shift_mm", "wall_mm", "aim_deg", "aim_percent", "reach_m"],
    ("axles",): ["rear_gain_N", "front_gain_N"],
    ("air", 0): [
        *("where", "c0_mm", "c1_mm_per_kPa", "u_c1_mm_per_kPa", "target", "target_mm", "pressure_kPa"),
        *("u_pressure_kPa", "recommended_kPa", "left_mm"),
    ],
    ("pressure_table", 0): ["load_N", "pressure_kPa", "recommended_kPa"],
    ("leak",): ["expected_kPa", "loss_kPa", "u_loss_kPa"],
    ("verdicts", 0): ["check", "id", "value", "limit", "U", "unit", "verdict", "source", "standing"],
    ("not_checked", 0): ["check", "id", "needs"],
    ("findings", 0): ["code", "level", "text", "source"],
}


@pytest.mark.parametrize("place", FIXED)
def test_the_fixed_names_are_there(place: tuple[str | int, ...]) -> None:
    """Whoever reads results by the names of the format finds them."""
    part: Any = document(worked_case())
    for step in place if place != (0,) else ():
        part = part[step]
    assert [name for name in FIXED[place] if name not in part] == []


# Source: the worked case of the method (invented vehicle; every figure recomputed independently).
@pytest.mark.parametrize(
    ("place", "expected"),
    [
        (("reading", "u_read_mm"), 0.0360844 * IN),
        (("stages", 1, "front_mm"), 0.25 * IN),
        (("stages", 1, "rear_mm"), -1.53125 * IN),
        (("stages", 3, "rear_mm"), -0.46875 * IN),
        (("stages", 1, "nose_up_deg"), 0.857567),
        (("stages", 1, "u_nose_up_deg"), 0.024565),
        (("stages", 1, "left_up_deg"), 0.027129),
        (("stages", 1, "warp_mm"), -0.015625 * IN),
        (("stages", 1, "ball_mm"), -2.219800 * IN),
        (("stages", 1, "lamp", "shift_mm"), 4.490296 * IN),
        (("stages", 1, "lamp", "u_shift_mm"), 0.128629 * IN),
        (("stages", 1, "lamp", "rise_mm"), 0.714023 * IN),
        (("stages", 1, "lamp", "wall_mm"), 5.204319 * IN),
        (("stages", 3, "lamp", "aim_deg"), -0.053943),
        (("stages", 3, "lamp", "aim_percent"), -0.094147),
        (("stages", 3, "lamp", "reach_m"), 2561.3 * 0.3048),
        (("axles", "rear_gain_N"), 568.487 * LB),
        (("axles", "front_gain_N"), -158.487 * LB),
        (("ride_rate_N_per_mm",), 65.0171),
        (("carried_N",), 452.373 * LB),
        (("air", 0, "c0_mm"), 27.65625 * IN),
        (("air", 0, "c1_mm_per_kPa"), 0.04375 * IN / PSI),
        (("air", 0, "pressure_kPa"), 35.7143 * PSI),
        (("air", 0, "u_pressure_kPa"), 1.480 * PSI),
        (("air", 0, "recommended_kPa"), 33 * PSI),
        (("air", 0, "left_mm"), 0.11875 * IN),
        (("pressure_table", 0, "pressure_kPa"), 20.610 * PSI),
        (("pressure_table", 4, "pressure_kPa"), 37.683 * PSI),
        (("leak", "expected_kPa"), 27.3939 * PSI),
    ],
)
def test_the_worked_case_reads_back(place: tuple[str | int, ...], expected: float) -> None:
    """Each figure stands under its name in its unit, to the digits the worked case prints."""
    part: Any = document(worked_case())
    for step in place:
        part = part[step]
    assert part == pytest.approx(expected, rel=1e-4)


@pytest.mark.parametrize("job", JOBS)
def test_the_document_keeps_to_its_schema(job: Any) -> None:
    """An independent validator finds nothing wrong, for whole and for broken-off jobs."""
    jsonschema.Draft202012Validator.check_schema(results_schema())
    jsonschema.validate(document(job()), results_schema())


@pytest.mark.parametrize("job", JOBS)
def test_a_stage_without_figures_is_listed_as_not_checked(job: Any) -> None:
    """Where figures are null, something says what they need."""
    read = document(job())
    if not read["stages"] or any(stage["nose_up_deg"] is None for stage in read["stages"]):
        assert read["not_checked"]
        assert all(missing["needs"] for missing in read["not_checked"])


# What machines get in another form: the two texts of a finding's level and words, the heads of stages.
NOT_UNDER_ITS_NAME = {"estimates", "restoration", "leak", "fields", "kind", "stage_missed"}
SHAPES = {
    a.Assessment: DOCUMENT,
    a.ReadingTerms: f.READING,
    a.StageResult: f.STAGE,
    a.LampResult: f.LAMP,
    a.Misread: f.MISREAD,
    a.AxleResult: f.AXLES,
    a.TrialPoint: f.TRIAL,
    a.AirResult: f.AIR,
    a.SidesResult: f.SIDES,
    a.TableRow: f.TABLE_ROW,
    a.LeakResult: f.LEAK,
    a.CheckResult: f.VERDICT,
    a.NotChecked: f.NOT_CHECKED,
    a.BudgetRow: f.BUDGET_ROW,
    a.ComponentRow: f.COMPONENT,
    a.ShiftBudget: f.BUDGET,
    a.BeamPer: f.BEAM,
}


@pytest.mark.parametrize("shape", SHAPES)
def test_nothing_the_reckoning_knows_is_kept_from_machines(shape: type) -> None:
    """Every field of what `assess` returns is a field of the document."""
    known = {field.name for field in fields(shape)} - NOT_UNDER_ITS_NAME
    assert known - {field.name for field in SHAPES[shape]} == set()


def test_no_field_changed_its_meaning_unversioned() -> None:
    """Every field of the frozen schema of this version is still there, of the same type and with the same meaning.

    A field more is no new version; keep it by writing the schema anew. For any other change raise VERSION.
    """
    frozen, now = json.loads(FROZEN.read_text("utf-8")), results_schema()
    assert list(_changes(frozen, now, "")) == []


def _changes(frozen: dict[str, Any], now: dict[str, Any], place: str) -> Any:
    for key in ("type", "description"):
        if frozen.get(key) != now.get(key):
            yield f"{place}: {key} was {frozen.get(key)!r} and is {now.get(key)!r}"
    for name, part in frozen.get("properties", {}).items():
        if name not in now.get("properties", {}):
            yield f"{place}.{name} is gone"
        else:
            yield from _changes(part, now["properties"][name], f"{place}.{name}")
    if "items" in frozen:
        yield from _changes(frozen["items"], now["items"], f"{place}[]")


def test_the_frozen_schema_holds_every_field_of_today() -> None:
    """A field that was added is frozen with the others, so that it cannot change later."""
    assert list(_changes(results_schema(), json.loads(FROZEN.read_text("utf-8")), "")) == []


def test_a_changed_meaning_is_noticed() -> None:
    """The comparison above finds a changed unit, type and name."""
    old = {"properties": {"a_mm": {"type": "number", "description": "height"}, "b": {"type": "string"}}}
    new = {"properties": {"a_mm": {"type": "number", "description": "depth"}, "c": {"type": "string"}}}
    assert len(list(_changes(old, new, ""))) == 2


def test_the_document_names_the_next_act() -> None:
    """Of the worked case: its springs are tried, and nobody has looked for a brake valve yet."""
    job = worked_case()
    act = results_document(job.session, job.assessment)["next_act"]
    assert act["code"] == "answer-brake-valve"
    assert act["check"] == "brake-valve"
    assert act["since"] is None
    assert act["text"].startswith("Look for the brake valve.")
