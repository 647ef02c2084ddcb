"""Headlamp aim: where the low beam points as the body tilts, and how far the cut-off moved on a wall.

θ pitch (nose up), α₀ the aim when unloaded and α now (up positive), D the distance of the wall, L the wheelbase,
a how far the lamps lie ahead of the front wheel centre, H the height of the lamp centre when unloaded:

    aim     α = α₀ + θ                       shift  s = D·(tan α − tan α₀), relative to the lamp: what aim rules use
    rise    r = ΔF + a·(ΔF − ΔR)/L           wall   s + r, the movement of a mark on a fixed wall
    reach   (H + r)/tan(−α), where the cut-off meets a level road; never where it points level or up

Without a levelling device the beam tilts exactly as the body does (annex of UN R48, second-hand); `prediction_holds`
says when that is not so. s and r come from the same four changes, which the u of their sum takes into account.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from cornerwalk.assess.attitude import tilt_deg
from cornerwalk.assess.estimate import Estimate, combine, usable_estimate
from cornerwalk.assess.usable import positive
from cornerwalk.standards import AimRule

Levelling = Literal["none", "manual", "automatic", "unknown"]
Holds = Literal["yes", "no", "unknown"]

STEEPEST_DEG = 45.0
"""Beyond this the heights or the wheelbase are wrong and no figure of a beam means anything; assumed."""

LEVEL = Estimate(0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class LampFacts:
    """What is known of the lamps, vehicle unloaded. Every one of them may be missing.

    Without `aim_deg` the shift is still given, computed from a level beam: within 1° of level that changes it by less
    than one part in a thousand.
    """

    screen_mm: Estimate | None
    aim_deg: Estimate | None = None
    height_mm: Estimate | None = None
    ahead_mm: Estimate | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Reach:
    """Where the cut-off meets a level road.

    `u_mm` is None where level lies within U of the aim: then it may be anywhere beyond `nearest_mm`, or never.
    """

    at_mm: float
    u_mm: float | None
    nearest_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Beam:
    """The low beam at one stage. `reach` None with `above_level` True means never.

    `shift_mm_per_rear_mm` is what the beam does for each millimeter the rear goes up.
    """

    shift_mm: Estimate | None
    rise_mm: Estimate | None
    wall_mm: Estimate | None
    aim_deg: Estimate | None
    aim_percent: Estimate | None
    reach: Reach | None
    above_level: bool | None
    shift_mm_per_rear_mm: float | None


NO_BEAM = Beam(
    shift_mm=None,
    rise_mm=None,
    wall_mm=None,
    aim_deg=None,
    aim_percent=None,
    reach=None,
    above_level=None,
    shift_mm_per_rear_mm=None,
)


def beam(front: Estimate | None, rear: Estimate | None, wheelbase_mm: Estimate | None, lamp: LampFacts) -> Beam:
    """The beam after the ends of the body moved by `front` and `rear`, mm, means of two corners each.

    >>> facts = LampFacts(screen_mm=Estimate(300.0), aim_deg=Estimate(-0.4), height_mm=Estimate(28.5),
    ...                   ahead_mm=Estimate(31.0))
    >>> u = 0.0510310 / 2**0.5
    >>> worked = beam(Estimate(0.25, u), Estimate(-1.53125, u), Estimate(119.0), facts)
    >>> round(worked.shift_mm.value, 6), round(worked.wall_mm.value, 6), round(worked.aim_deg.value, 6)
    (4.490296, 5.204319, 0.457567)
    """
    front, rear, wheelbase_mm = usable_estimate(front), usable_estimate(rear), usable_estimate(wheelbase_mm)
    pitch_deg = tilt_deg(front, rear, wheelbase_mm)
    if front is None or rear is None or wheelbase_mm is None or pitch_deg is None:
        return NO_BEAM
    aim_before = usable_estimate(lamp.aim_deg)
    start_deg = aim_before or LEVEL
    now_deg = pitch_deg + start_deg
    if abs(start_deg.value) >= STEEPEST_DEG or abs(now_deg.value) >= STEEPEST_DEG:
        return NO_BEAM
    screen_mm, ahead_mm = usable_estimate(lamp.screen_mm), usable_estimate(lamp.ahead_mm)
    rise = None if ahead_mm is None else _rise(front, rear, wheelbase_mm, ahead_mm)
    shift = None if screen_mm is None or not positive(screen_mm.value) else _shift(now_deg, start_deg, screen_mm)
    aim_deg = None if aim_before is None else now_deg
    return Beam(
        shift_mm=shift,
        rise_mm=rise,
        wall_mm=None if rise is None or shift is None else shift + rise,
        aim_deg=aim_deg,
        aim_percent=None if aim_deg is None else percent_of_aim(aim_deg),
        reach=None if aim_deg is None else _reach(aim_deg, usable_estimate(lamp.height_mm), rise),
        above_level=None if aim_deg is None else aim_deg.value >= 0,
        shift_mm_per_rear_mm=None
        if screen_mm is None or shift is None
        else _per_rear(front, rear, wheelbase_mm, now_deg, screen_mm),
    )


def _rise(front: Estimate, rear: Estimate, wheelbase_mm: Estimate, ahead_mm: Estimate) -> Estimate:
    part = ahead_mm.value / wheelbase_mm.value
    slope = (front.value - rear.value) / wheelbase_mm.value
    value = front.value + ahead_mm.value * slope
    return combine(value, (1 + part, front), (-part, rear), (-part * slope, wheelbase_mm), (slope, ahead_mm))


def _shift(now_deg: Estimate, start_deg: Estimate, screen_mm: Estimate) -> Estimate:
    now, start = math.radians(now_deg.value), math.radians(start_deg.value)
    tilted = math.tan(now) - math.tan(start)
    per_deg = math.radians(screen_mm.value)
    by_now, by_start = per_deg / math.cos(now) ** 2, per_deg / math.cos(start) ** 2
    return combine(screen_mm.value * tilted, (by_now, now_deg), (-by_start, start_deg), (tilted, screen_mm))


def _per_rear(front: Estimate, rear: Estimate, wheelbase_mm: Estimate, now_deg: Estimate, screen_mm: Estimate) -> float:
    slope = (front.value - rear.value) / wheelbase_mm.value
    turn = -1 / (1 + slope * slope) / wheelbase_mm.value
    return screen_mm.value * turn / math.cos(math.radians(now_deg.value)) ** 2


def _reach(aim_deg: Estimate, height_mm: Estimate | None, rise: Estimate | None) -> Reach | None:
    """The length of the line from the lamp down to the road; None where it never gets there."""
    aim = math.radians(aim_deg.value)
    dip = -math.tan(aim)
    if height_mm is None or rise is None or dip <= 0:
        return None
    lamp_mm = height_mm + rise
    at_mm = lamp_mm.value / dip
    if not positive(at_mm):
        return None
    by_aim = math.radians(at_mm / dip / math.cos(aim) ** 2)
    return Reach(
        at_mm=at_mm,
        u_mm=combine(at_mm, (1 / dip, lamp_mm), (by_aim, aim_deg)).u if -aim_deg.value > aim_deg.U else None,
        nearest_mm=lamp_mm.value / math.tan(math.radians(aim_deg.U) - aim),
    )


def percent_of_aim(aim_deg: Estimate) -> Estimate:
    """100·tan α, as aim rules outside North America give it; u = 100·u(α)/cos²α.

    >>> round(percent_of_aim(Estimate(1.0)).value, 4)
    1.7455
    """
    aim = math.radians(aim_deg.value)
    return combine(100 * math.tan(aim), (math.radians(100) / math.cos(aim) ** 2, aim_deg))


def aim_of_percent(percent: Estimate) -> Estimate:
    """The angle in degrees of an aim in per cent.

    >>> round(aim_of_percent(Estimate(1.0)).value, 6)
    0.572939
    """
    slope = percent.value / 100
    return combine(math.degrees(math.atan(slope)), (math.degrees(1 / 100 / (1 + slope * slope)), percent))


def aim_of_mark(mark_mm: Estimate, screen_mm: Estimate) -> Estimate | None:
    """The aim in degrees of a beam whose cut-off falls `mark_mm` above (below: negative) the lamp's own height.

    >>> round(aim_of_mark(Estimate(-53.198), Estimate(7620.0)).value, 4)
    -0.4
    """
    return tilt_deg(mark_mm, LEVEL, screen_mm)


@dataclass(frozen=True, slots=True)
class PredictionStatus:
    """Whether the beam tilts with the body, and why: a code."""

    holds: Holds
    reason: str


def prediction_holds(
    levelling: Levelling, dial_unloaded: str | None = None, dial_now: str | None = None
) -> PredictionStatus:
    """Whether the beam can be predicted from the heights.

    An automatic device moves it by itself, and has to be calibrated again after the ride height was changed; a manual
    one only if its dial was moved between the stages.

    >>> prediction_holds("manual", "0", "2")
    PredictionStatus(holds='no', reason='dial moved')
    """
    if levelling == "none":
        return PredictionStatus("yes", "no levelling")
    if levelling == "automatic":
        return PredictionStatus("no", "automatic levelling")
    if levelling != "manual":
        return PredictionStatus("unknown", "levelling not stated")
    if dial_unloaded is None or dial_now is None:
        return PredictionStatus("unknown", "dial not recorded")
    return (
        PredictionStatus("yes", "dial as before") if dial_unloaded == dial_now else PredictionStatus("no", "dial moved")
    )


def rule_height_mm(rule: AimRule, centre_mm: float | None, lower_edge_mm: float | None) -> float | None:
    """The lamp's height that a rule's limits depend on: to the centre, or to the lower edge of the lit surface."""
    return lower_edge_mm if rule.datum == "lower edge" else centre_mm
