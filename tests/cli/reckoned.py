"""A job reckoned a second time, apart from the program: exact fractions in, the `uncertainties` package for every u.

The formulas are the textbook ones, written down again from their statement (rigid body on its wheelbase, lever of a
load, least squares, gas at constant volume); nothing of the package is imported. Inches, pounds and psi inside.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from uncertainties import UFloat, ufloat, umath

MM = Fraction(254, 10)
"""Millimetres in an inch, by definition."""
N = float(Fraction("0.45359237") * Fraction("9.80665"))
"""Newtons in the weight of a pound, by definition."""
KPA = N / float(MM) ** 2 * 1000
"""Kilopascals in a psi, a pound's weight on a square inch."""
M = float(MM) / 1000

# Source: U.S. Standard Atmosphere 1976, sea level.
ATMOSPHERE_PSI = 101.325 / KPA

CORNERS = ("LF", "RF", "RR", "LR")


@dataclass(frozen=True)
class StageRead:
    """Heights in inches by corner, in the order of `CORNERS`; psi where there is air."""

    name: str
    heights: tuple[Fraction, Fraction, Fraction, Fraction]
    psi: Fraction | None = None


@dataclass(frozen=True)
class Paper:
    """What stands on the job sheet. Lengths in inches, loads in pounds, pressures in psi, temperatures in °F."""

    wheelbase: Fraction
    arch_width: Fraction
    lamp_height: Fraction
    lamp_ahead: Fraction
    ball_overhang: Fraction
    screen: Fraction
    aim_deg: float
    load: Fraction
    behind: Fraction
    kit_min: Fraction
    kit_max: Fraction
    stages: tuple[StageRead, ...]
    graduation: Fraction = Fraction(1, 16)
    place: Fraction = Fraction(1, 32)


Flat = dict[str, float]


def u_read(paper: Paper) -> float:
    """GUM: a graduation is a rectangular distribution, so its standard deviation is g/√12; the placing adds to it."""
    return math.sqrt(float(paper.graduation) ** 2 / 12 + float(paper.place) ** 2)


class Measured:
    """A stage with each reading a random variable of its own, so that `uncertainties` knows what hangs together."""

    def __init__(self, stage: StageRead, u: float) -> None:
        self.psi = stage.psi
        self.at = {corner: ufloat(float(h), u) for corner, h in zip(CORNERS, stage.heights, strict=True)}
        self.front = (self.at["LF"] + self.at["RF"]) / 2
        self.rear = (self.at["LR"] + self.at["RR"]) / 2


def stage_figures(paper: Paper) -> Iterator[Flat]:
    """The figures of each stage after the first, which is the unloaded one."""
    u = u_read(paper)
    reference = Measured(paper.stages[0], u)
    for stage in paper.stages[1:]:
        yield _stage(paper, reference, Measured(stage, u))


def _stage(paper: Paper, before: Measured, now: Measured) -> Flat:
    moved = {corner: now.at[corner] - before.at[corner] for corner in CORNERS}
    front, rear = now.front - before.front, now.rear - before.rear
    wheelbase = float(paper.wheelbase)
    pitch = umath.atan((front - rear) / wheelbase)
    left, right = (moved["LF"] + moved["LR"]) / 2, (moved["RF"] + moved["RR"]) / 2
    lean = umath.atan((left - right) / float(paper.arch_width))
    warp = (moved["LF"] - moved["RF"] - moved["LR"] + moved["RR"]) / 4
    ball = rear - (front - rear) * float(paper.ball_overhang / paper.wheelbase)
    before_rad = math.radians(paper.aim_deg)
    aim = before_rad + pitch
    screen = float(paper.screen)
    rise = front + float(paper.lamp_ahead / paper.wheelbase) * (front - rear)
    shift = screen * (umath.tan(aim) - math.tan(before_rad))
    told = {
        **_both("front_mm", front, MM),
        **_both("rear_mm", rear, MM),
        **_both("nose_up_deg", pitch, math.degrees(1)),
        **_both("left_up_deg", lean, math.degrees(1)),
        **_both("warp_mm", warp, MM),
        **_both("ball_mm", ball, MM),
        **_both("lamp.rise_mm", rise, MM),
        **_both("lamp.shift_mm", shift, MM),
        **_both("lamp.wall_mm", shift + rise, MM),
        **_both("lamp.aim_deg", aim, math.degrees(1)),
        **_both("lamp.aim_percent", 100 * umath.tan(aim), 1),
    }
    for corner in CORNERS:
        told |= _both(f"delta_mm.{corner}", moved[corner], MM)
    if aim.nominal_value < 0:
        told["lamp.reach_m"] = (float(paper.lamp_height) + rise.nominal_value) / math.tan(-aim.nominal_value) * M
    return told


def _both(name: str, value: UFloat, unit: float | Fraction) -> Flat:
    """The value and its standard uncertainty, under the names they have in the results document."""
    *inside, last = name.split(".")
    # delta_mm.LF has its uncertainty in u_delta_mm.LF; every other name gets the u_ before its last part.
    u_name = f"u_{name}" if name.startswith("delta_mm.") else ".".join((*inside, f"u_{last}"))
    return {name: value.nominal_value * float(unit), u_name: value.std_dev * float(unit)}


def session_figures(paper: Paper) -> Flat:
    """Axles, ride rate, load carried, the line of height on pressure and what it asks for."""
    u = u_read(paper)
    unloaded, loaded, *trials = (Measured(stage, u) for stage in paper.stages)
    lever = 1 + paper.behind / paper.wheelbase
    gain = float(paper.load * lever)
    rate = gain / (unloaded.rear - loaded.rear)
    lift, tires = (trials[-1].rear - loaded.rear).nominal_value, 2 * 1450.0
    springs = (unloaded.rear - loaded.rear) / gain - 1 / tires  # inches a pound, springs and tires one behind the other
    known = springs.nominal_value > 2 * springs.std_dev
    carried = lift / springs.nominal_value if known else rate.nominal_value * lift  # else at least this
    told = {
        "reading.u_read_mm": u * float(MM),
        "axles.rear_gain_N": gain * N,
        "axles.front_gain_N": float(-paper.load * paper.behind / paper.wheelbase) * N,
        "ride_rate_N_per_mm": rate.nominal_value * N / float(MM),
        "carried_N": carried * N,
    }
    c0, c1 = least_squares([float(t.psi or 0) for t in trials], [t.rear for t in trials])
    wanted = (unloaded.rear - c0) / c1
    told |= _both("air.0.c1_mm_per_kPa", c1, float(MM) / KPA)
    told |= _both("air.0.pressure_kPa", wanted, KPA)
    told["air.0.c0_mm"] = c0.nominal_value * float(MM)
    told["air.0.target_mm"] = unloaded.rear.nominal_value * float(MM)
    low, high = float(paper.kit_min), float(paper.kit_max)
    # Aimed below the unloaded height by U of the rear's change and half a mark of the tape; then down to a whole psi.
    guard = 2 * (trials[-1].rear - unloaded.rear).std_dev + float(paper.graduation) / 2
    mark = min(max(math.floor((wanted - guard / c1).nominal_value + 1e-6), low), high)
    if (c0 + c1 * mark - unloaded.rear).nominal_value <= 0 and all(
        float(t.psi or 0) > low or t.rear.nominal_value <= unloaded.rear.nominal_value for t in trials
    ):
        told["air.0.recommended_kPa"] = mark * KPA
        told["air.0.left_mm"] = (unloaded.rear - c0 - c1 * mark).nominal_value * float(MM)
    return told


def least_squares(x: Sequence[float], y: Sequence[UFloat]) -> tuple[UFloat, UFloat]:
    """Intercept and slope of the straight line, as linear forms in y."""
    mean_x, mean_y = sum(x) / len(x), sum(y) / len(y)
    square = sum((value - mean_x) ** 2 for value in x)
    slope = sum((value - mean_x) * (height - mean_y) for value, height in zip(x, y, strict=True)) / square
    return mean_y - slope * mean_x, slope


def table_pressures(paper: Paper, allowed: Fraction, loads: Sequence[Fraction]) -> list[float]:
    """The kPa at which each load leaves the rear `allowed` below its unloaded height, as if nothing held it back.

    Without air a load sinks the rear in proportion to the load; air lifts it by the slope of the trials.
    """
    u = u_read(paper)
    unloaded, loaded, *trials = (Measured(stage, u) for stage in paper.stages)
    c0, c1 = least_squares([float(t.psi or 0) for t in trials], [t.rear for t in trials])
    drop = (unloaded.rear - loaded.rear).nominal_value
    lifted_at_no_pressure = (c0 - loaded.rear).nominal_value
    return [
        (drop * float(load / paper.load) - float(allowed) - lifted_at_no_pressure) / c1.nominal_value * KPA
        for load in loads
    ]


def held_psi(psi: float, before: float, after: float) -> float:
    """Gauge psi at sea level of a sealed volume that went from `before` to `after` °F: absolute p/T is constant."""
    kelvin = [(f - 32) * 5 / 9 + 273.15 for f in (before, after)]
    return (psi + ATMOSPHERE_PSI) * kelvin[1] / kelvin[0] - ATMOSPHERE_PSI
