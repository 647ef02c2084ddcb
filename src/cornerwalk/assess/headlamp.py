"""Headlamp aim: where the low beam points as the body tilts, and how far the cut-off moved on a wall.

θ pitch (nose up), α₀ the aim when unloaded and α now (up positive), D the distance of the wall, L the wheelbase,
a how far the lamps lie ahead of the front wheel centre, H the height of the lamp centre when unloaded:

    aim     α = α₀ + θ                       shift  s = D·(tan α − tan α₀), relative to the lamp: what aim rules use
    rise    r = ΔF + a·(ΔF − ΔR)/L           wall   s + r, the movement of a mark on a fixed wall
    reach   (H + r)/tan(−α), where the cut-off meets a level road; never where it points level or up

Without a levelling device the beam tilts exactly as the body does (annex of UN R48, second-hand); `prediction_holds`
says when that is not so. s and r come from the same four changes: the u of their sum is found from how the sum
depends on ΔF and ΔR, not from the two u's.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from cornerwalk.assess.attitude import tilt_deg
from cornerwalk.assess.uncertainty import COVERAGE, Budget, BudgetPart, Estimate, usable_estimate
from cornerwalk.assess.usable import positive, root_sum_square
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

    `shift_budget` holds what the shift's u is made of: "front", "rear", "wheelbase", "aim unloaded" (rad), "screen".
    `shift_mm_per_rear_mm` is what the beam does for each millimetre the rear goes up.
    """

    shift_mm: Estimate | None
    shift_budget: Budget | None
    rise_mm: Estimate | None
    wall_mm: Estimate | None
    aim_deg: Estimate | None
    aim_percent: Estimate | None
    reach: Reach | None
    above_level: bool | None
    shift_mm_per_rear_mm: float | None


NO_BEAM = Beam(
    shift_mm=None,
    shift_budget=None,
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
    if abs(start_deg.value) >= STEEPEST_DEG or abs(start_deg.value + pitch_deg.value) >= STEEPEST_DEG:
        return NO_BEAM
    moves = _BeamMovement(front, rear, wheelbase_mm, start_deg, pitch_deg.value)
    screen_mm, ahead_mm = usable_estimate(lamp.screen_mm), usable_estimate(lamp.ahead_mm)
    rise = None if ahead_mm is None else moves.rise(ahead_mm)
    shift = None if screen_mm is None or not positive(screen_mm.value) else moves.shift(screen_mm)
    wall = None if rise is None or shift is None else _sum(shift, rise)
    aim_deg = None
    if aim_before is not None:
        aim_deg = Estimate(moves.aim_deg, root_sum_square(pitch_deg.u, aim_before.u))
    return Beam(
        shift_mm=_estimate(shift),
        shift_budget=None if shift is None else shift.budget,
        rise_mm=_estimate(rise),
        wall_mm=_estimate(wall),
        aim_deg=aim_deg,
        aim_percent=None if aim_deg is None else percent_of_aim(aim_deg),
        reach=None if aim_before is None else moves.reach(usable_estimate(lamp.height_mm), rise),
        above_level=None if aim_deg is None else aim_deg.value >= 0,
        shift_mm_per_rear_mm=None if shift is None else shift.by["rear"],
    )


@dataclass(frozen=True, slots=True)
class _Figure:
    """A figure, how it depends on each source, and the u of each source."""

    value: float
    by: dict[str, float]
    u_of: dict[str, float]

    @property
    def budget(self) -> Budget:
        return Budget(tuple(BudgetPart(name, by, self.u_of[name]) for name, by in self.by.items()))


def _estimate(figure: _Figure | None) -> Estimate | None:
    if figure is None:
        return None
    return Estimate(figure.value, root_sum_square(*(by * figure.u_of[name] for name, by in figure.by.items())))


def _sum(one: _Figure, other: _Figure) -> _Figure:
    names = one.by.keys() | other.by.keys()
    by = {name: one.by.get(name, 0.0) + other.by.get(name, 0.0) for name in names}
    return _Figure(one.value + other.value, by, one.u_of | other.u_of)


class _BeamMovement:
    """What the two ends' movement does to the beam, with its sensitivity to everything it is reckoned from."""

    __slots__ = ("_before", "_slope", "_turn", "_u_of", "_wheelbase_mm", "aim_deg", "front_mm")

    def __init__(
        self, front: Estimate, rear: Estimate, wheelbase_mm: Estimate, aim_deg: Estimate, pitch_deg: float
    ) -> None:
        slope = (front.value - rear.value) / wheelbase_mm.value
        flat = 1 / (1 + slope * slope) / wheelbase_mm.value  # ∂θ/∂ΔF = cos²θ/L
        self.front_mm = front.value
        self.aim_deg = aim_deg.value + pitch_deg
        self._before = math.radians(aim_deg.value)
        self._slope = slope
        self._wheelbase_mm = wheelbase_mm.value
        self._turn = {"front": flat, "rear": -flat, "wheelbase": -flat * slope}
        self._u_of = {
            "front": front.u,
            "rear": rear.u,
            "wheelbase": wheelbase_mm.u,
            "aim unloaded": math.radians(aim_deg.u),
        }

    @property
    def _aim(self) -> float:
        return math.radians(self.aim_deg)

    def rise(self, ahead_mm: Estimate) -> _Figure:
        part = ahead_mm.value / self._wheelbase_mm
        by = {"front": 1 + part, "rear": -part, "wheelbase": -part * self._slope, "lamp ahead": self._slope}
        return _Figure(self.front_mm + ahead_mm.value * self._slope, by, self._u_of | {"lamp ahead": ahead_mm.u})

    def shift(self, screen_mm: Estimate) -> _Figure:
        tilted = math.tan(self._aim) - math.tan(self._before)
        by_aim = screen_mm.value / math.cos(self._aim) ** 2
        by = {name: by_aim * turn for name, turn in self._turn.items()}
        by["aim unloaded"] = by_aim - screen_mm.value / math.cos(self._before) ** 2
        by["screen"] = tilted
        return _Figure(screen_mm.value * tilted, by, self._u_of | {"screen": screen_mm.u})

    def reach(self, height_mm: Estimate | None, rise: _Figure | None) -> Reach | None:
        """The length of the line from the lamp down to the road; None where it never gets there."""
        dip = -math.tan(self._aim)
        if height_mm is None or rise is None or dip <= 0:
            return None
        lamp_mm = height_mm.value + rise.value
        at_mm = lamp_mm / dip
        if not positive(at_mm):
            return None
        by_aim = at_mm / dip / math.cos(self._aim) ** 2
        by = {name: part / dip for name, part in rise.by.items()} | {"lamp height": 1 / dip}
        for name, turn in (*self._turn.items(), ("aim unloaded", 1.0)):
            by[name] = by.get(name, 0.0) + by_aim * turn
        u_mm = _estimate(_Figure(at_mm, by, rise.u_of | {"lamp height": height_mm.u}))
        u_aim = root_sum_square(*(by * self._u_of[name] for name, by in self._turn.items()), self._u_of["aim unloaded"])
        sure = COVERAGE * u_aim < -self._aim
        return Reach(
            at_mm=at_mm,
            u_mm=u_mm.u if sure and u_mm is not None else None,
            nearest_mm=lamp_mm / math.tan(-self._aim + COVERAGE * u_aim),
        )


def percent_of_aim(aim_deg: Estimate) -> Estimate:
    """100·tan α, as aim rules outside North America give it; u = 100·u(α)/cos²α.

    >>> round(percent_of_aim(Estimate(1.0)).value, 4)
    1.7455
    """
    aim = math.radians(aim_deg.value)
    return Estimate(100 * math.tan(aim), 100 * math.radians(aim_deg.u) / math.cos(aim) ** 2)


def aim_of_percent(percent: Estimate) -> Estimate:
    """The angle in degrees of an aim in per cent.

    >>> round(aim_of_percent(Estimate(1.0)).value, 6)
    0.572939
    """
    slope = percent.value / 100
    return Estimate(math.degrees(math.atan(slope)), math.degrees(percent.u / 100 / (1 + slope * slope)))


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
