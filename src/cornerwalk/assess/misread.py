"""Has one of the readings been misread, and which? Asked of all stages of a job together.

Each stage's four heights have a warp W = (LF − RF − LR + RR)/4. It is the body's own and the floor's, hence the same
at every stage whatever springs and load do; the change of it is w of `attitude`. The alarm asks whether the W of all
stages agree:

    Q = Σ (Wᵢ − W̄)²/u²(Wᵢ),  W̄ their weighted mean;  alarm if Q > χ²(stages − 1) at 97 %

With two stages Q is (w/u(w))², and the alarm |w| > 2.17u(w). Asking |w| > 2u(w) of each stage in turn instead would
stop 5 to 11 of 100 honest jobs of three stages: a false alarm gets likelier with every trial, and since heights come
in whole marks of the tape, even one w jumps past 2u in up to 6 of 100. Q keeps it below 4 for any number of stages and
the tapes in use; the tests count it. A w beyond 2u is reported as `beyond` besides.

w alone cannot say which corner: a whole inch at any of the four moves it by a quarter inch. So every plausible slip
(`slips`) of every reading that would settle the alarm is weighed by what else is known of bodies on springs:

- left and right of an axle stand alike, and a load or air changes their difference little;
- air does not move the front, and raises the rear, never lowers it; a load in or behind the trunk lowers the rear;
- an honest reading is far more common than a slip.

A corner is named only if every slip within 1 : 50 of the likeliest is of that one reading; the true height only if
there is one such slip. Otherwise the readings it may be are listed. The constants below are judgement, no source; the
tests measure what they lead to on simulated jobs of another making.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import pairwise

from cornerwalk.assess.attitude import WARP_SIGN, changes, warp_mm
from cornerwalk.assess.slips import Slip, Tape, slips
from cornerwalk.assess.uncertainty import COVERAGE, Estimate
from cornerwalk.assess.usable import positive, root_sum_square, usable
from cornerwalk.session.corners import CLOCKWISE, Corner

CHI_SQUARE_97 = (
    4.709292,
    7.013116,
    8.947287,
    10.711898,
    12.374618,
    13.967617,
    15.50909,
    17.010493,
    18.479586,
    19.92191,
)
"""Quantiles at 97 % for 1 to 10 degrees of freedom."""

PLAUSIBLE = math.log(50)
"""A slip this much less likely than the likeliest (log of the odds) is left out."""

SLIP_CHANCE = 0.01
"""Of one reading; published rates of retyping errors are 1 to 4 % a field (second-hand)."""

AIR_MM_PER_KPA = 0.16
"""What air does to a rear height, roughly."""


@dataclass(frozen=True, slots=True)
class _Prior:
    """What is expected of one figure of the body: where it starts, and how it steps, as mean and spread in mm."""

    start_sd: float
    same_load_sd: float
    other_load_sd: float


_WARP = _Prior(start_sd=3.0, same_load_sd=0.0, other_load_sd=0.0)
_SIDE = _Prior(start_sd=6.0, same_load_sd=2.0, other_load_sd=5.0)
_FRONT = _Prior(start_sd=1e4, same_load_sd=3.0, other_load_sd=20.0)
_REAR = _Prior(start_sd=1e4, same_load_sd=4.0, other_load_sd=60.0)
_REAR_DROP_MM = 30.0
"""Under a load; back up without it."""
_AIR_SPREAD = 0.35
"""Of the expected rise, as a part of it."""
_AIR_UNKNOWN_SD_MM = 20.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Walked:
    """The four heights of one stage, in the order they were taken.

    `air_kPa` is what the helper springs held: 0 before they were fitted, None where it was not stated.
    """

    heights: Mapping[Corner, Estimate]
    loaded: bool
    air_kPa: float | None = 0.0
    entered: Mapping[Corner, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Suspect:
    """A reading that may be a slip: stage by its place in the list, the slip and the height that was there.

    `slip` and `likely_mm` are None where several slips of this reading are plausible.
    """

    stage: int
    corner: Corner
    slip: str | None
    likely_mm: float | None


@dataclass(frozen=True, slots=True)
class Detected:
    """`beyond`: for each stage whether its |w| exceeds 2u(w) (the first never). `suspects`: the likeliest first."""

    alarm: bool
    beyond: tuple[bool, ...]
    suspects: tuple[Suspect, ...] = ()

    @property
    def named(self) -> Suspect | None:
        """The one reading it must be."""
        return self.suspects[0] if len(self.suspects) == 1 else None


NOTHING = Detected(alarm=False, beyond=())


def detect(walked: Sequence[Walked], tape: Tape) -> Detected:
    """Look through the stages of a job, the unloaded one first. Stages with less than four heights are left out.

    `tape` says what the readings were taken with, since slips on an inch tape have other shapes than metric ones.
    """
    if len(walked) < 2 or not all(_complete(stage) for stage in walked):
        return NOTHING
    beyond = (False, *(_beyond(walked[0], stage) for stage in walked[1:]))
    body = _Body(walked)
    if not body.disagree:
        return Detected(alarm=False, beyond=beyond)
    weighed = sorted(body.explanations(tape), key=lambda found: found.log_odds, reverse=True)
    honest = body.log_odds(None) + math.log(1 - SLIP_CHANCE)
    if not weighed or honest > weighed[0].log_odds - PLAUSIBLE:
        return Detected(alarm=True, beyond=beyond)
    plausible = [found for found in weighed if found.log_odds > weighed[0].log_odds - PLAUSIBLE]
    places = dict.fromkeys((found.stage, found.corner) for found in plausible)
    return Detected(alarm=True, beyond=beyond, suspects=tuple(_suspect(place, plausible) for place in places))


def _complete(stage: Walked) -> bool:
    heights = (stage.heights.get(corner) for corner in CLOCKWISE)
    return all(h is not None and usable(h.value) and positive(h.u) for h in heights)


def _beyond(reference: Walked, stage: Walked) -> bool:
    w = warp_mm(changes(stage.heights, reference.heights))
    return w is not None and abs(w.value) > COVERAGE * w.u


@dataclass(frozen=True, slots=True)
class _Explanation:
    stage: int
    corner: Corner
    slip: Slip
    log_odds: float


def _suspect(place: tuple[int, Corner], plausible: Sequence[_Explanation]) -> Suspect:
    own = [found.slip for found in plausible if (found.stage, found.corner) == place]
    stage, corner = place
    return Suspect(stage, corner, own[0].code, own[0].true_mm) if len(own) == 1 else Suspect(stage, corner, None, None)


@dataclass(frozen=True, slots=True)
class _Row:
    """One figure of the body at every stage, with its u, and how it is expected to step from one to the next."""

    values: tuple[float, ...]
    u: tuple[float, ...]
    prior: _Prior
    steps: tuple[tuple[float, float], ...]

    def misfit(self, stage: int, shift: float) -> float:
        """−2 log of how well the row fits its prior, but for a constant; with `shift` added at one stage.

        A random walk seen through noise, one step at a time (a Kalman filter of one dimension).
        """
        expected, variance, misfit = self.values[0], self.prior.start_sd**2, 0.0
        if self.prior.start_sd < 1e3:
            expected = 0.0
        for index, (value, u) in enumerate(zip(self.values, self.u, strict=True)):
            if index:
                rise, sd = self.steps[index - 1]
                expected, variance = expected + rise, variance + sd * sd
            off = value - expected + (shift if index == stage else 0.0)
            total = variance + u * u
            misfit += off * off / total
            gain = variance / total
            expected, variance = expected + gain * off, variance * (1 - gain)
        return misfit


class _Body:
    """The stages taken apart into warp, side difference, front and rear: independent of each other in their noise."""

    def __init__(self, walked: Sequence[Walked]) -> None:
        self.walked = walked
        self.warp = _row(walked, {c: WARP_SIGN[c] / 4 for c in CLOCKWISE}, _WARP)

    # The rest is asked for only after an alarm, and the check runs at every key.

    @cached_property
    def side(self) -> _Row:
        return _row(self.walked, {"LF": 0.5, "LR": 0.5, "RF": -0.5, "RR": -0.5}, _SIDE)

    @cached_property
    def front(self) -> _Row:
        return _row(self.walked, {"LF": 0.5, "RF": 0.5}, _FRONT)

    @cached_property
    def rear(self) -> _Row:
        return _row(self.walked, {"LR": 0.5, "RR": 0.5}, _REAR)

    @property
    def disagree(self) -> bool:
        """The alarm."""
        return self._q(self._warp_mean) > chi_square_bound(len(self.walked) - 1)

    @property
    def _warp_mean(self) -> float:
        weights = [1 / (u * u) for u in self.warp.u]
        return sum(w * v for w, v in zip(weights, self.warp.values, strict=True)) / sum(weights)

    def _q(self, mean: float) -> float:
        return sum((v - mean) ** 2 / (u * u) for v, u in zip(self.warp.values, self.warp.u, strict=True))

    def settling(self, stage: int) -> tuple[float, float] | None:
        """By how much the warp of one stage would have to be off, from least to most, for all to agree.

        Q of the corrected warps is a parabola in the correction x: Q + 2bx + ax².
        """
        mean = self._warp_mean
        weight = 1 / self.warp.u[stage] ** 2
        a = weight * (1 - weight / sum(1 / (u * u) for u in self.warp.u))
        b = weight * (self.warp.values[stage] - mean)
        root = b * b - a * (self._q(mean) - chi_square_bound(len(self.walked) - 1))
        return None if root < 0 else ((-b - math.sqrt(root)) / a, (-b + math.sqrt(root)) / a)

    def explanations(self, tape: Tape) -> list[_Explanation]:
        """Every slip of every reading without which the stages would agree, and how likely it is."""
        found = []
        for index, stage in enumerate(self.walked):
            settling = self.settling(index)
            if settling is None:
                continue
            for corner in CLOCKWISE:
                read_mm, sign = stage.heights[corner].value, 4 * WARP_SIGN[corner]
                low, high = sorted(sign * x for x in settling)
                for slip in slips(read_mm, tape, stage.entered.get(corner, ""), (read_mm + low, read_mm + high)):
                    odds = self.log_odds((index, corner, slip.true_mm - read_mm)) + math.log(SLIP_CHANCE * slip.weight)
                    found.append(_Explanation(index, corner, slip, odds))
        return found

    def log_odds(self, correction: tuple[int, Corner, float] | None) -> float:
        """Log of the likelihood of the readings, one of them corrected, but for a constant."""
        if correction is None:
            return -sum(row.misfit(0, 0.0) for row in (self.warp, self.side, self.front, self.rear)) / 2
        stage, corner, error_mm = correction
        side = 0.5 if corner in ("LF", "LR") else -0.5
        front, rear = (0.5, 0.0) if corner in ("LF", "RF") else (0.0, 0.5)
        misfit = self.warp.misfit(stage, WARP_SIGN[corner] * error_mm / 4) + self.side.misfit(stage, side * error_mm)
        return -(misfit + self.front.misfit(stage, front * error_mm) + self.rear.misfit(stage, rear * error_mm)) / 2


def _row(walked: Sequence[Walked], parts: Mapping[Corner, float], prior: _Prior) -> _Row:
    return _Row(
        values=tuple(sum(part * stage.heights[c].value for c, part in parts.items()) for stage in walked),
        u=tuple(root_sum_square(*(part * stage.heights[c].u for c, part in parts.items())) for stage in walked),
        prior=prior,
        steps=tuple(_step(before, now, prior) for before, now in pairwise(walked)),
    )


def _step(before: Walked, now: Walked, prior: _Prior) -> tuple[float, float]:
    sd = prior.same_load_sd if before.loaded == now.loaded else prior.other_load_sd
    if prior is not _REAR:
        return 0.0, sd
    drop_mm = _REAR_DROP_MM * (now.loaded - before.loaded)
    if before.air_kPa is None or now.air_kPa is None:
        return -drop_mm, root_sum_square(sd, _AIR_UNKNOWN_SD_MM)
    rise_mm = AIR_MM_PER_KPA * (now.air_kPa - before.air_kPa)
    return rise_mm - drop_mm, root_sum_square(sd, _AIR_SPREAD * rise_mm)


def chi_square_bound(freedom: int) -> float:
    """χ² at 97 %; beyond the table by Wilson and Hilferty's approximation.

    >>> chi_square_bound(1)
    4.709292
    """
    if freedom <= len(CHI_SQUARE_97):
        return CHI_SQUARE_97[freedom - 1]
    spread = 2 / (9 * freedom)
    return freedom * (1 - spread + 1.880794 * math.sqrt(spread)) ** 3
