"""Every figure and every u of a stage's result, with repeats and marks on the wall, against automatic propagation."""

from __future__ import annotations

import math
from typing import Any

import pytest
from uncertainties import UFloat, ufloat, umath

from cornerwalk.assess.assessment import StageResult
from cornerwalk.session import events as h
from cornerwalk.session.stages import CORNERS, Corner
from tests.support.jobs import WORKED_CASE, job_of
from tests.support.known import known
from tests.support.units import IN

# The readings of the worked case (invented vehicle), inches, LF RF RR LR; the loaded LF is read twice here.
UNLOADED = (28.625, 28.6875, 29.1875, 29.25)
LOADED = ((28.875 + 28.9375) / 2, 28.9375, 27.625, 27.75)
MARKS_MM = {"unloaded": -60.0, "loaded": 75.0}


def reading(inches: float, times: int = 1) -> UFloat:
    """A reading and its u: 1/16 in marks are a rectangle; 1/32 in of placing is averaged, the marks are not."""
    return ufloat(inches * IN, IN * math.sqrt((1 / 16) ** 2 / 12 + (1 / 32) ** 2 / times))


def mark(above_mm: float) -> UFloat:
    """A mark on the wall is read with the same tape: its u is that of one reading."""
    return ufloat(above_mm, reading(0.0).std_dev)


def result(*more: h.Event) -> StageResult:
    again = h.HeightRead(stage="loaded", corner="LF", entered="28 15/16", mm=28.9375 * IN, how="repeat")
    return known(job_of(WORKED_CASE, again, *more).assessment.stage(("loaded", 1)))


THEN: dict[Corner, UFloat] = {c: reading(x) for c, x in zip(CORNERS, UNLOADED, strict=True)}
NOW: dict[Corner, UFloat] = {c: reading(x, 2 if c == "LF" else 1) for c, x in zip(CORNERS, LOADED, strict=True)}
MOVED: dict[Corner, Any] = {c: NOW[c] - THEN[c] for c in CORNERS}


def same(value: float | None, u: float | None, oracle: Any) -> None:
    assert value == pytest.approx(oracle.nominal_value, rel=1e-9, abs=1e-9)
    assert u == pytest.approx(oracle.std_dev, rel=1e-9)


def test_corners_and_stance() -> None:
    """Heights, their changes, each end, rake and sides carry the u that follows from each corner's own readings."""
    stage = result()
    for corner in CORNERS:
        same(stage.height_mm[corner], stage.u_height_mm[corner], NOW[corner])
        same(stage.delta_mm[corner], stage.u_delta_mm[corner], MOVED[corner])
    front, rear = (NOW["LF"] + NOW["RF"]) / 2, (NOW["LR"] + NOW["RR"]) / 2
    same(stage.rear_height_mm, stage.u_rear_height_mm, rear)
    same(stage.rake_mm, stage.u_rake_mm, front - rear)
    assert stage.front_height_mm == pytest.approx(front.nominal_value, rel=1e-12)
    sides = NOW["LF"] - NOW["RF"], NOW["LR"] - NOW["RR"]
    assert (stage.side_front_mm, stage.side_rear_mm) == pytest.approx([s.nominal_value for s in sides], abs=1e-9)
    assert stage.u_side_mm == pytest.approx(max(s.std_dev for s in sides), rel=1e-9)
    same(stage.front_mm, stage.u_front_mm, (MOVED["LF"] + MOVED["RF"]) / 2)
    same(stage.rear_mm, stage.u_rear_mm, (MOVED["LR"] + MOVED["RR"]) / 2)


def test_marks_on_the_wall() -> None:
    """The measured movement is that of two marks; the measured aim takes off what the lamp itself rose.

    Where no aim was stated, the unloaded mark gives it.
    """
    marks = [h.MarkRead(stage=s, entered=str(mm), above_mm=mm) for s, mm in MARKS_MM.items()]  # type: ignore[arg-type]
    stage = result(*marks)
    lamp = known(stage.lamp)
    before, now = mark(MARKS_MM["unloaded"]), mark(MARKS_MM["loaded"])
    same(lamp.measured_wall_mm, lamp.u_measured_wall_mm, now - before)
    front, rear = (MOVED["LF"] + MOVED["RF"]) / 2, (MOVED["LR"] + MOVED["RR"]) / 2
    screen_mm, start = 25 * 12 * IN, umath.atan(before / (25 * 12 * IN))
    tilt = umath.atan((front - rear) / (119 * IN))
    rise = front + (front - rear) * 31 / 119
    same(lamp.rise_mm, lamp.u_rise_mm, rise)
    same(lamp.aim_deg, lamp.u_aim_deg, umath.degrees(start + tilt))
    same(lamp.aim_percent, lamp.u_aim_percent, 100 * umath.tan(start + tilt))
    same(lamp.shift_mm, lamp.u_shift_mm, screen_mm * (umath.tan(start + tilt) - umath.tan(start)))
    same(lamp.measured_aim_deg, lamp.u_measured_aim_deg, umath.degrees(umath.atan((now - rise) / screen_mm)))
    same(lamp.measured_aim_percent, lamp.u_measured_aim_percent, 100 * (now - rise) / screen_mm)


# By hand: of u² = (1/16)²/12 + (1/32)² the marks make a quarter and the placing three; read twice, 1/4 + 3/8 is left.
def test_what_the_beams_uncertainty_is_made_of() -> None:
    """The worked case's u of the last shift, 0.128645 in, is a quarter marks and three quarters placing."""
    budget = known(job_of(WORKED_CASE).assessment.budget)
    assert budget.stage == ("fitted", 2)
    assert budget.u_shift_mm == pytest.approx(0.128645 * IN, rel=1e-5)
    assert [row.source for row in budget.rows][:2] == ["placing", "graduation"]
    # What was stated without a u, such as the wheelbase, adds nothing.
    assert [row.share for row in budget.rows] == pytest.approx([0.75, 0.25, 0.0, 0.0, 0.0], abs=1e-9)
    parts = [0.128645 * IN * math.sqrt(share) for share in (0.75, 0.25, 0.0, 0.0, 0.0)]
    assert [row.contribution_mm for row in budget.rows] == pytest.approx(parts, rel=1e-5)
    assert budget.u_shift_read_twice_mm == pytest.approx(0.128645 * IN * math.sqrt(0.625), rel=1e-5)
