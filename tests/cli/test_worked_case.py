"""Paper in, figures out, through the commands: held against the same job reckoned apart from the program."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cornerwalk.assess import assess
from cornerwalk.cli import main
from cornerwalk.report.results import results_document
from cornerwalk.session import RecordedEvent, fold, record_event
from cornerwalk.sheet import read_job_sheet
from cornerwalk.standards import load_standards
from tests.cli.reckoned import (
    KPA,
    MM,
    Paper,
    StageRead,
    held_psi,
    session_figures,
    stage_figures,
    table_pressures,
)
from tests.support.clock import MORNING
from tests.support.jobs import EXACT

SHEET = Path(__file__).parents[1] / "sheet" / "sheets" / "worked-case.toml"
STANDARDS = load_standards()


def heights(*texts: str) -> tuple[Fraction, Fraction, Fraction, Fraction]:
    first, second, third, fourth = (sum(Fraction(part) for part in text.split()) for text in texts)
    return Fraction(first), Fraction(second), Fraction(third), Fraction(fourth)


# The job sheet, read by eye.
WORKED = Paper(
    wheelbase=Fraction(119),
    arch_width=Fraction(66),
    lamp_height=Fraction("28.5"),
    lamp_ahead=Fraction(31),
    ball_overhang=Fraction(46),
    screen=Fraction(300),
    aim_deg=-0.4,
    load=Fraction(410),
    behind=Fraction(46),
    kit_min=Fraction(8),
    kit_max=Fraction(40),
    stages=(
        StageRead("unloaded", heights("28 5/8", "28 11/16", "29 3/16", "29 1/4")),
        StageRead("loaded", heights("28 7/8", "28 15/16", "27 5/8", "27 3/4")),
        StageRead("fitted", heights("28 7/8", "28 15/16", "28 1/4", "28 3/8"), Fraction(15)),
        StageRead("fitted", heights("28 7/8", "28 15/16", "28 11/16", "28 13/16"), Fraction(25)),
    ),
)


@pytest.fixture
def results(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> dict[str, Any]:
    """What `import` and `results` make of the worked case."""
    session = tmp_path / "worked.json"
    assert main(["import", str(SHEET), "--out", str(session)]) == 0
    assert capsys.readouterr().out == f"{session}\n"
    assert main(["results", str(session)]) == 0
    document: dict[str, Any] = json.loads(capsys.readouterr().out)
    return document


def at(document: Any, path: str) -> float:
    for key in path.split("."):
        document = document[int(key)] if isinstance(document, list) else document[key]
    assert isinstance(document, float)
    return document


def agree(document: Any, expected: Mapping[str, float], largest: float = 0.0) -> None:
    """Every expected figure to 1e-9 of its value; a difference that is nothing, to 1e-12 of the heights it is from."""
    for path, value in expected.items():
        assert math.isclose(at(document, path), value, rel_tol=1e-9, abs_tol=1e-12 * largest), path


def test_stages_of_the_worked_case(results: dict[str, Any]) -> None:
    """Every figure of every stage agrees with the reckoning by fractions."""
    expected = list(stage_figures(WORKED))
    assert len(expected) == len(results["stages"]) - 1 == 3
    for stage, figures in zip(results["stages"][1:], expected, strict=True):
        agree(stage, figures)


def test_axles_rate_and_air_of_the_worked_case(results: dict[str, Any]) -> None:
    """Axle loads, spring rate and pressure agree with the reckoning by fractions."""
    agree(results, session_figures(WORKED))
    assert results["air"][0]["where"] == "rear"


def test_the_pressure_table_of_the_worked_case(results: dict[str, Any]) -> None:
    """Each load's pressure agrees, and none is beyond the kit's limits."""
    loads = [Fraction(load) for load in (300, 350, 410, 450, 500)]
    expected = table_pressures(WORKED, Fraction(1, 4), loads)
    rows = results["pressure_table"]
    for row, pressure in zip(rows, expected, strict=True):
        agree(row, {"pressure_kPa": pressure, "recommended_kPa": math.floor(pressure / KPA + 1e-6) * KPA})
    assert [row["beyond"] for row in rows] == [None] * 5


def test_the_hold_test_of_the_worked_case(results: dict[str, Any]) -> None:
    """What cold alone takes and the loss beyond it agree with the gas law by hand; its gauge is taken as exact."""
    expected = held_psi(30, 72, 41)
    agree(
        results["leak"],
        {"expected_kPa": expected * KPA, "loss_kPa": (expected - 27) * KPA, "u_loss_kPa": 0.0, "hours": 14.0},
    )


def in_sixteenths(low: int, high: int) -> st.SearchStrategy[Fraction]:
    return st.integers(low * 16, high * 16).map(lambda count: Fraction(count, 16))


@st.composite
def papers(draw: st.DrawFn) -> Paper:
    """Vehicles and readings of every plausible kind, in which the load sinks the rear and air lifts it."""
    front, rear = draw(in_sixteenths(24, 38)), draw(in_sixteenths(26, 38))
    jitter = [draw(st.integers(-1, 1)) * Fraction(1, 16) for _ in range(20)]
    rise, drop = draw(in_sixteenths(0, 1)), draw(in_sixteenths(1, 4))
    quarters = st.integers(4, 12).map(lambda count: Fraction(count, 4))
    lifts = sorted(draw(st.lists(quarters, min_size=2, max_size=3, unique=True)))
    pressures = sorted(draw(st.lists(st.integers(6, 34), min_size=len(lifts), max_size=len(lifts), unique=True)))
    ups = [Fraction(0), *(-drop + lift for lift in (Fraction(0), *lifts))]
    stages = []
    for index, up in enumerate(ups):
        own = jitter[4 * index : 4 * index + 4]
        ahead = front + (rise if index else 0)
        read = (ahead + own[0], ahead + own[1], rear + up + own[2], rear + up + own[3])
        name = ("unloaded", "loaded", "fitted")[min(index, 2)]
        stages.append(StageRead(name, read, Fraction(pressures[index - 2]) if index >= 2 else None))
    return Paper(
        wheelbase=draw(in_sixteenths(90, 160)),
        arch_width=draw(in_sixteenths(55, 75)),
        lamp_height=draw(in_sixteenths(22, 45)),
        lamp_ahead=draw(in_sixteenths(20, 45)),
        ball_overhang=draw(in_sixteenths(30, 70)),
        screen=draw(in_sixteenths(120, 400)),
        aim_deg=-0.4,
        load=Fraction(draw(st.integers(50, 900))),
        behind=draw(in_sixteenths(1, 70)),
        kit_min=Fraction(8),
        kit_max=Fraction(40),
        stages=tuple(stages),
    )


def sheet_of(paper: Paper) -> str:
    """The paper as a job sheet, every value as a decimal that is exact."""
    lines = [
        'unit = "inch"',
        '[tape]\ngraduation = "1/16 in"\nplace = "1/32 in"',
        f'[vehicle]\nwheelbase = "{float(paper.wheelbase)}"\narch_width = "{float(paper.arch_width)}"',
        f'lamp_height = "{float(paper.lamp_height)}"\nlamp_ahead = "{float(paper.lamp_ahead)}"',
        f'ball_overhang = "{float(paper.ball_overhang)}"\nlevelling = "none"',
        'tire_rate = "1450 lb/in"',
        f'[lamps]\nscreen = "{float(paper.screen)}"\nrule = "us-vol"',
        f'[kit]\nmin = "{paper.kit_min} psi"\nmax = "{paper.kit_max} psi"',
        f'[[load]]\nname = "tongue"\nweight = "{paper.load} lb"\nbehind_rear_axle = "{float(paper.behind)}"',
    ]
    for stage in paper.stages:
        lines.append(f'[[stage]]\nname = "{stage.name}"')
        if stage.psi is not None:
            lines.append(f'pressure = "{stage.psi} psi"')
        lines += [f'{c} = "{float(h)}"' for c, h in zip(("LF", "RF", "RR", "LR"), stage.heights, strict=True)]
    return "\n".join(lines) + EXACT


@given(papers())
def test_vehicles_not_shown_anywhere(paper: Paper) -> None:
    """Any vehicle and any readings: every figure of every stage and of the session, as reckoned apart."""
    contents = read_job_sheet(sheet_of(paper), name="sheet", session_id="x", now=MORNING)
    events: list[RecordedEvent] = []
    for what in contents.events:
        events.append(record_event(events, what, at=MORNING.isoformat(), by="MT"))
    session = fold(events)
    document = results_document(session, assess(session, STANDARDS))
    largest = float(paper.stages[0].heights[0] * MM)
    for stage, figures in zip(document["stages"][1:], stage_figures(paper), strict=True):
        agree(stage, figures, largest)
    expected = session_figures(paper)
    if document["air"][0]["pressure_kPa"] is None:  # too little lift for its uncertainty
        expected = {path: value for path, value in expected.items() if not path.startswith("air.0.")}
    if document["air"][0]["off_line"]:
        # The u of the line is then that of its scatter, not of the readings.
        expected = {path: value for path, value in expected.items() if not path.startswith("air.0.u_")}
    agree(document, expected, largest)
