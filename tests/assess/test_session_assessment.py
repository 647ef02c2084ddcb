"""A whole session through `assess`: the method's worked case, vehicles at random, and anything missing."""

from __future__ import annotations

import dataclasses
import json
import math
import random
from typing import Any, get_args

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from uncertainties import ufloat, umath

from cornerwalk.assess import Assessment, assess
from cornerwalk.assess.what_if import WhatIfChange, basis, what_if
from cornerwalk.session import RecordedEvent, fold, record_event
from cornerwalk.session import events as h
from cornerwalk.session.stages import CORNERS, JobKind
from tests.assess.given import key_of
from tests.support.jobs import SEPARATE_LINES, WORKED_CASE, InventedJob, job_of, standards
from tests.support.known import known
from tests.support.units import IN, LBF, PSI

# Source: the worked case of this project's method (invented vehicle), to its printed digits.
# Columns: change front, rear (in); nose up, u (°); shift, u (in); rise, wall (in); aim (°), aim (%); ball (in).
WORKED = [
    ("loaded", 1, (0.25, -1.53125, 0.857567, 0.024565, 4.490296, 0.128629,
                   0.714023, 5.204319, 0.457567, 0.798622, -2.2198)),
    ("fitted", 1, (0.25, -0.90625, 0.55669, 0.024568, 2.91486, 0.128638,
                   0.551208, 3.466068, 0.15669, 0.273477, -1.353204)),
    ("fitted", 2, (0.25, -0.46875, 0.346057, 0.024569, 1.811987, 0.128645,
                   0.437237, 2.249224, -0.053943, -0.094147, -0.746586)),
]  # fmt: skip


@pytest.fixture
def worked() -> InventedJob:
    return job_of(WORKED_CASE)


@pytest.mark.parametrize(("name", "number", "printed"), WORKED)
def test_worked_case_stage_by_stage(worked: InventedJob, name: Any, number: int, printed: tuple[float, ...]) -> None:
    """Changes, pitch, lean, warp, beam and ball of every stage agree with the worked case's printed figures."""
    front, rear, nose, u_nose, shift, u_shift, rise, wall, aim, percent, ball = printed
    stage = known(worked.assessment.stage((name, number)))
    lamp = known(stage.lamp)
    lengths = (stage.front_mm, stage.rear_mm, lamp.shift_mm, lamp.u_shift_mm, lamp.rise_mm, lamp.wall_mm, stage.ball_mm)
    angles = (stage.nose_up_deg, stage.u_nose_up_deg, lamp.aim_deg, lamp.aim_percent, stage.left_up_deg)
    expected_mm = [each * IN for each in (front, rear, shift, u_shift, rise, wall, ball, -0.015625, 0.0255155)]
    assert (*lengths, stage.warp_mm, stage.u_warp_mm) == pytest.approx(expected_mm, abs=0.6e-6 * IN)
    assert angles == pytest.approx((nose, u_nose, aim, percent, 0.027129), abs=0.6e-6 * IN)


def test_worked_case_reading_and_reach(worked: InventedJob) -> None:
    """The u of a reading, and where the cut-off meets the road: 340.188 ft unloaded, never, never, 2561.3 ft."""
    assessment = worked.assessment
    assert assessment.reading.u_read_mm / IN == pytest.approx(0.0360844, abs=5e-8)
    reaches = [stage.lamp.reach_m if stage.lamp else math.nan for stage in assessment.stages]
    assert reaches[0] == pytest.approx(340.188 * 0.3048, abs=0.0005 * 0.3048)
    assert reaches[1:3] == [None, None]
    assert reaches[3] == pytest.approx(2561.3 * 0.3048, abs=0.05 * 0.3048)


def test_worked_case_loads_air_and_leak(worked: InventedJob) -> None:
    """Axle gains, ride rate, fit, pressure, table and expected gauge agree with the worked case's printed figures."""
    a = worked.assessment
    air = a.air[0]
    pairs = [
        (a.axles.rear_gain_N, 568.487 * LBF, 5e-4 * LBF),
        (a.axles.front_gain_N, -158.487 * LBF, 5e-4 * LBF),
        (a.ride_rate_N_per_mm, 65.0171, 5e-5),
        (a.carried_N, 452.373 * LBF, 5e-4 * LBF),
        (air.c0_mm, 27.65625 * IN, 1e-9),
        (air.c1_mm_per_kPa, 0.04375 * IN / PSI, 1e-12),
        (air.u_c1_mm_per_kPa, 0.0036084 * IN / PSI, 5e-8 * IN / PSI),
        (air.pressure_kPa, 35.7143 * PSI, 5e-5 * PSI),
        (air.u_pressure_kPa, 1.480 * PSI, 5e-4 * PSI),
        (air.recommended_kPa, 33 * PSI, 1e-9),
        (air.left_mm, 0.11875 * IN, 1e-9),
        (a.leak[0].expected_kPa, 27.3939 * PSI, 5e-5 * PSI),
    ]
    for value, expected, tolerance in pairs:
        assert value == pytest.approx(expected, abs=tolerance)
    table = [row.pressure_kPa for row in a.pressure_table]
    assert table == pytest.approx([x * PSI for x in (20.610, 24.878, 30.000, 33.415, 37.683)], abs=5e-4 * PSI)
    assert [row.beyond for row in a.pressure_table] == [None, None, None, None, None]
    marks = [row.recommended_kPa for row in a.pressure_table]
    assert marks == pytest.approx([x * PSI for x in (20, 24, 30, 33, 37)], rel=1e-12)


def test_the_pressure_table_is_held_at_the_kits_maximum() -> None:
    """On a kit of 34 psi the 37.683 psi that 500 lb would need says that it is beyond, and 34 psi is told."""
    *within, last = job_of(WORKED_CASE.replace('max = "40 psi"', 'max = "34 psi"')).assessment.pressure_table
    assert [row.beyond for row in within] == [None, None, None, None]
    assert last.beyond == "above maximum"
    assert last.pressure_kPa == pytest.approx(37.683 * PSI, abs=5e-4 * PSI)
    assert last.recommended_kPa == pytest.approx(34 * PSI)


def _random_sheet(rng: random.Random) -> tuple[str, dict[str, Any]]:
    """A vehicle at random, metric, as a sheet, and its numbers."""
    n: dict[str, Any] = {
        "L": rng.randint(2300, 3900), "t": rng.randint(1350, 1750), "H": rng.randint(560, 1100),
        "a": rng.randint(300, 1100), "D": rng.choice([3000, 7620, 10000]), "aim": rng.choice([-0.5, -1.0, -1.3]),
        "b": rng.randint(700, 1500), "W": rng.randint(40, 200), "g": rng.choice([1, 2]),
        "place": rng.choice(["0.5", "0.8", "1.2"]),
    }  # fmt: skip
    fall = {"LF": -rng.randint(0, 8), "RF": -rng.randint(0, 8), "RR": rng.randint(15, 60), "LR": rng.randint(15, 60)}
    n["unloaded"] = {c: rng.randint(600, 900) for c in CORNERS}
    n["loaded"] = {c: n["unloaded"][c] - fall[c] for c in CORNERS}
    head = f"""unit = "mm"
[tape]
graduation = "{n["g"]} mm"
place = "{n["place"]} mm"
[vehicle]
wheelbase = "{n["L"]} mm"
arch_width = "{n["t"]} mm"
lamp_height = "{n["H"]} mm"
lamp_ahead = "{n["a"]} mm"
ball_overhang = "{n["b"]} mm"
levelling = "none"
[lamps]
screen = "{n["D"]} mm"
aim_percent = "{n["aim"]}"
[[load]]
name = "tongue"
weight = "{n["W"]} kg"
behind_rear_axle = "{n["b"]} mm"
"""
    heights = ("\n".join(f'{c} = "{n[name][c]}"' for c in CORNERS) for name in ("unloaded", "loaded"))
    return head + '[[stage]]\nname = "unloaded"\n{}\n[[stage]]\nname = "loaded"\n{}\n'.format(*heights), n


def _with_friction(n: dict[str, Any], stage: str) -> dict[str, tuple[Any, Any]]:
    """Each corner's height with the friction of its axle, and with its wheel's own share of it beside.

    Friction f is 1.5 mm in front and 3 mm behind, where the springs are not stated: f/√3 for the axle, f/(3√3) for the
    wheel.
    """
    u = math.sqrt(n["g"] ** 2 / 12 + float(n["place"]) ** 2)
    heights = {}
    for pair, f in ((("LF", "RF"), 1.5), (("RR", "LR"), 3.0)):
        axle = ufloat(0.0, f / math.sqrt(3))
        for c in pair:
            read = ufloat(n[stage][c], u) + axle
            heights[c] = read, read + ufloat(0.0, f / 3 / math.sqrt(3))
    return heights


# Oracle: the `uncertainties` package, which propagates through the plain formulas by itself, every component at what is
# taken where nothing is stated.
@pytest.mark.parametrize("seed", range(40))
def test_random_vehicles_against_automatic_propagation(seed: int) -> None:
    """Every figure and every u of a random vehicle's loaded stage agrees to 1e-9 with automatic propagation."""
    sheet, n = _random_sheet(random.Random(seed))
    stage = known(job_of(sheet).assessment.stage(("loaded", 1)))
    now, was = _with_friction(n, "loaded"), _with_friction(n, "unloaded")
    d = {c: now[c][0] - was[c][0] for c in CORNERS}  # as each axle moves
    e = {c: now[c][1] - was[c][1] for c in CORNERS}  # with each wheel's own share
    base, a, b = (ufloat(n[name], u_mm) for name, u_mm in (("L", 3.0), ("a", 5.0), ("b", 10.0)))
    wall, seen = ufloat(n["D"], 10.0), ufloat(0.0, 100 * math.tan(math.radians(0.05)))
    front, rear = (d["LF"] + d["RF"]) / 2, (d["RR"] + d["LR"]) / 2
    theta = umath.atan((front - rear) / base)
    lean = umath.atan(((e["LF"] + e["LR"]) / 2 - (e["RF"] + e["RR"]) / 2) / n["t"])
    start = umath.atan((n["aim"] + seen) / 100)
    shift = wall * (umath.tan(start + theta) - umath.tan(start))
    rise = front + a * (front - rear) / base
    percent = 100 * umath.tan(start + theta)
    lamp = known(stage.lamp)
    pairs = [
        (stage.front_mm, stage.u_front_mm, front),
        (stage.rear_mm, stage.u_rear_mm, rear),
        (stage.nose_up_deg, stage.u_nose_up_deg, umath.degrees(theta)),
        (stage.left_up_deg, stage.u_left_up_deg, umath.degrees(lean)),
        (stage.warp_mm, stage.u_warp_mm, (e["LF"] - e["RF"] - e["LR"] + e["RR"]) / 4),
        (stage.ball_mm, stage.u_ball_mm, rear - (front - rear) * b / base),
        (lamp.shift_mm, lamp.u_shift_mm, shift),
        (lamp.rise_mm, lamp.u_rise_mm, rise),
        (lamp.wall_mm, lamp.u_wall_mm, shift + rise),
        (lamp.aim_percent, lamp.u_aim_percent, percent),
    ]
    for value, uncertainty, oracle in pairs:
        assert value == pytest.approx(oracle.nominal_value, rel=1e-9, abs=1e-9)
        assert uncertainty == pytest.approx(oracle.std_dev, rel=1e-9)
    if percent.nominal_value < 0:
        assert lamp.reach_m == pytest.approx((n["H"] + rise.nominal_value) / -percent.nominal_value * 0.1, rel=1e-9)
    else:
        assert lamp.reach_m is None
        assert lamp.above_level


def test_without_wheelbase_the_heights_still_work() -> None:
    """With no wheelbase the changes stand, pitch and beam are missing, and the result says that it needs it."""
    sheet = "\n".join(line for line in WORKED_CASE.splitlines() if not line.startswith("wheelbase"))
    a = job_of(sheet).assessment
    assert a.stages[1].rear_mm == pytest.approx(-1.53125 * IN)
    assert a.stages[1].nose_up_deg is None
    assert a.stages[1].lamp is None
    needs = {(key_of(missing), missing.needs) for missing in a.not_checked}
    assert ("beam-below-level", "the wheelbase") in needs


def _numbers(value: Any) -> list[float]:
    if isinstance(value, float):
        return [value]
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return [n for field in dataclasses.fields(value) for n in _numbers(getattr(value, field.name))]
    if isinstance(value, dict):
        return [n for v in value.values() for n in _numbers(v)]
    if isinstance(value, list | tuple):
        return [n for v in value for n in _numbers(v)]
    return []


_EVERYTHING = [*job_of(WORKED_CASE).events, *job_of(SEPARATE_LINES).events[1:]]


_ODD: list[h.Event] = [
    h.HeightRead(stage="loaded", corner="RR", entered="1", mm=25.4, how="instead"),
    h.HeightRead(stage="follow-up", corner="LF", entered="2500 mm", mm=2500.0),
    h.StageBegun(stage="fitted-unloaded", pressure_entered="0", pressure_kPa=0.0),
    h.StageBegun(stage="fitted", number=3, pressure_entered="900 psi", pressure_kPa=6205.0),
    h.CornerSkipped(stage="unloaded", corner="LF", reason="rubble"),
    h.FactStated(name="vehicle.wheelbase", entered="0", value=0.0),
    h.FactStated(name="vehicle.wheelbase", entered="1 mm", value=1.0),
    h.FactStated(name="tape.graduation", entered="0 mm", value=0.0),
    h.FactStated(name="lamps.rule", entered="no such rule", value="no such rule"),
    h.FactStated(name="lamps.screen", entered="0 mm", value=0.0),
    h.FactStated(name="kit.target", entered="beam level", value="beam level"),
    h.FactStated(name="kit.min", entered="99 psi", value=700.0),
    h.FactStated(name="hitch.kind", entered="load-distributing", value="load-distributing"),
    h.FactStated(name="trailer.weight", entered="0 kg", value=0.0),
    h.CheckAnswered(check="brake-valve", answer="yes"),
    h.CheckAnswered(check="level-floor", answer="yes", stage="unloaded"),
    h.CheckAnswered(check="level-floor", answer="no", stage="loaded"),
    h.MarkRead(stage="unloaded", entered="0", above_mm=0.0),
    h.MarkRead(stage="loaded", entered="300 mm", above_mm=300.0),
    h.JointSoaped(joint="valve", bubbles=True),
    h.LoadRemoved(name="tongue"),
]


@settings(max_examples=400)
@given(st.data())
def test_whatever_is_missing_nothing_breaks(data: st.DataObject) -> None:
    """Any subset of events in any order, odd ones among them: no crash, no NaN, and what-ifs answer or say why not."""
    pool: list[h.Event] = [*(event.payload for event in _EVERYTHING), *_ODD]
    chosen = data.draw(st.lists(st.sampled_from(range(len(pool))), max_size=60, unique=True))
    opened = h.JobOpened(session="s", job=data.draw(st.sampled_from(get_args(JobKind))), title="", program="0")
    events: list[RecordedEvent] = []
    for event in (opened, *(pool[index] for index in chosen)):
        events.append(record_event(events, event, at="2026-05-04T08:00:00+00:00", by=""))
    session = fold(events)
    a = assess(session, standards())
    assert all(math.isfinite(number) for number in _numbers(a))
    expected = what_if(basis(session, standards()), WhatIfChange(pressure_kPa=120.0, tongue_N=900.0))
    assert all(math.isfinite(number) for number in _numbers(expected))
    assert (expected.needs is None) == (expected.rear_mm is not None)
    json.dumps(dataclasses.asdict(a), allow_nan=False, default=str)


def _with(*more: h.Event) -> Assessment:
    return job_of(WORKED_CASE, *more).assessment


def test_not_checked_is_never_hidden_by_passes() -> None:
    """A job whose every made check passed is still "not checked" overall while one could not be made."""
    a = _with()
    assert {check.verdict for check in a.verdicts} == {"pass"}
    assert a.not_checked
    assert a.overall == "not checked"


def test_stops_come_first() -> None:
    """A brake valve, a bubble and a pressure over the kit's maximum are stops and head the list."""
    a = _with(
        h.CheckAnswered(check="brake-valve", answer="yes"),
        h.JointSoaped(joint="tee", bubbles=True),
        h.StageBegun(stage="fitted", number=3, pressure_entered="45 psi", pressure_kPa=45 * PSI),
    )
    stops = [finding.code for finding in a.findings if finding.level == "stop"]
    assert set(stops) == {"brake-valve", "bubbles", "over-kit-maximum"}
    assert [finding.code for finding in a.findings[: len(stops)]] == stops
    assert a.overall == "fail"


@pytest.mark.parametrize(
    ("loaded", "judged"), [((True, True), "yes"), ((True, False), "no"), ((False, True), "no"), ((None, False), "yes")]
)
def test_a_hold_test_under_two_loads_is_not_judged(loaded: tuple[bool | None, bool | None], judged: str) -> None:
    """A bag under load reads higher: a gauge read loaded and then empty, or the reverse, passes and fails nothing."""
    moments: tuple[tuple[h.LeakMoment, int, bool | None], ...] = (("start", 4, loaded[0]), ("end", 5, loaded[1]))
    gauge: Any = {"pressure_entered": "30 psi", "pressure_kPa": 30 * PSI, "temperature_entered": "", "line": "both"}
    ends = [
        h.LeakRead(moment=at, temperature_C=20.0, read_at=f"2026-05-0{day}T08:00:00-06:00", loaded=state, **gauge)
        for at, day, state in moments
    ]
    a = _with(*ends)
    assert any(key_of(check) == "pressure-held-both" for check in a.verdicts) is (judged == "yes")
    assert any(key_of(missing) == "pressure-held-both" for missing in a.not_checked) is (judged == "no")


def test_level_body_is_never_a_safe_load() -> None:
    """Wherever the rear stands on air, a finding says what the axles carry and that air restores no front load."""
    for sheet in (WORKED_CASE, SEPARATE_LINES):
        a = job_of(sheet).assessment
        codes = {finding.code for finding in a.findings}
        assert {"level-is-not-safe", "no-rating-raised"} <= codes
        assert a.restoration is None


def test_a_load_behind_the_axle_is_no_trailer() -> None:
    """A kitchen behind the rear axle asks for no hitch rating and no tongue share; a tongue does."""
    kitchen = WORKED_CASE.replace("trailer tongue", "kitchen").replace('ball_overhang = "46 in"', "")
    checks = {key_of(missing) for missing in job_of(kitchen).assessment.not_checked}
    assert "hitch-rating" not in checks
    assert "hitch-rating" in {key_of(m) for m in job_of(WORKED_CASE).assessment.not_checked}
