"""Rigid-body likelihood: how well a job's readings, with or without one correction, fit a body on springs.

The four heights of a stage are taken apart into warp W = (LF − RF − LR + RR)/4, side difference, front and rear: where
the readings are equally sure their noise is independent. Each is then a random walk from stage to stage, seen through
noise:

- W is the body's own and the floor's, hence the same at every stage;
- left and right stand alike, and a load or air changes their difference little;
- air does not move the front, and raises the rear, never lowers it; a load in or behind the trunk lowers the rear.

The constants below are judgement, no source; the tests measure what they lead to on simulated jobs of another making.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import pairwise
from typing import Literal, NamedTuple

from cornerwalk.assess.attitude import WARP_SIGN
from cornerwalk.assess.estimate import Estimate
from cornerwalk.assess.usable import root_sum_square
from cornerwalk.session.stages import CORNERS, Corner

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

SLIP_CHANCE = 0.01
"""Of one reading; published rates of retyping errors are 1 to 4 % a field (second-hand)."""

AIR_MM_PER_KPA = 0.16
"""What air does to a rear height, roughly."""


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure of the body: what each height adds to it, and what is expected of it before anything is read.

    At the first stage it is zero give or take `start_sd_mm`; from stage to stage it steps by one of the other two,
    standard deviations in mm.
    """

    parts: Mapping[Corner, float]
    start_sd_mm: float
    same_load_sd_mm: float
    other_load_sd_mm: float


_UNKNOWN_SD_MM = 1e6
WARP = Figure({corner: sign / 4 for corner, sign in WARP_SIGN.items()}, 3.0, 0.0, 0.0)
SIDE = Figure({"LF": 0.5, "LR": 0.5, "RF": -0.5, "RR": -0.5}, 6.0, 2.0, 5.0)
FRONT = Figure({"LF": 0.5, "RF": 0.5}, _UNKNOWN_SD_MM, 3.0, 20.0)
REAR = Figure({"LR": 0.5, "RR": 0.5}, _UNKNOWN_SD_MM, 4.0, 60.0)
_REAR_DROP_MM = 30.0
"""Under a load; back up without it."""
_AIR_SPREAD = 0.35
"""Of the expected rise, as a part of it."""
_AIR_UNKNOWN_SD_MM = 20.0


@dataclass(frozen=True, slots=True, kw_only=True)
class StageHeights:
    """The four heights of one stage, in the order they were taken.

    `air_kPa` is what the helper springs held: 0 before they were fitted, None where it was not stated.
    """

    heights: Mapping[Corner, Estimate]
    loaded: bool
    air_kPa: float | None = 0.0
    entered: Mapping[Corner, str] = field(default_factory=dict)


class Correction(NamedTuple):
    """One reading, by its stage's place in the list, and by how much it is taken to be higher than it was read."""

    stage: int
    corner: Corner
    by_mm: float


@dataclass(frozen=True, slots=True)
class Explanation:
    """A slip that would settle the alarm; `log_odds` as in `RigidBody.log_odds`, with the slip's own chance in it."""

    stage: int
    corner: Corner
    slip: Slip
    log_odds: float


@dataclass(frozen=True, slots=True)
class _Row:
    """One figure of the body at every stage, with its u, and how it is expected to step from one to the next."""

    figure: Figure
    values: tuple[float, ...]
    u: tuple[float, ...]
    steps: tuple[tuple[float, float], ...]

    def misfit(self, correction: Correction | None) -> float:
        """−2 log of how well the row fits what is expected of it, but for a constant.

        A random walk seen through noise, one step at a time (a Kalman filter of one dimension).
        """
        values = list(self.values)
        if correction is not None:
            values[correction.stage] += self.figure.parts.get(correction.corner, 0.0) * correction.by_mm
        expected, variance, misfit = 0.0, self.figure.start_sd_mm**2, 0.0
        for value, u, (rise, sd) in zip(values, self.u, ((0.0, 0.0), *self.steps), strict=True):
            expected, variance = expected + rise, variance + sd * sd
            off, total = value - expected, variance + u * u
            misfit += off * off / total
            expected, variance = expected + off * variance / total, variance * (u * u / total)
        return misfit


class RigidBody:
    """The stages of a job, each with all four heights, taken apart into warp, side difference, front and rear."""

    def __init__(self, walked: Sequence[StageHeights]) -> None:
        self.walked = walked
        self._bound = chi_square_bound(len(walked) - 1)
        self._warp = _row(walked, WARP)
        self._weights = [1 / (u * u) for u in self._warp.u]
        weighed = tuple(zip(self._weights, self._warp.values, strict=True))
        self._mean_mm = sum(w * v for w, v in weighed) / sum(self._weights)
        self._q = sum(w * (v - self._mean_mm) ** 2 for w, v in weighed)

    @cached_property
    def _rows(self) -> tuple[_Row, ...]:
        """Asked for only after an alarm, as the check runs at every key."""
        return (self._warp, *(_row(self.walked, figure) for figure in (SIDE, FRONT, REAR)))

    @property
    def disagree(self) -> bool:
        """The alarm: the warps differ by more than their u lets them."""
        return self._q > self._bound

    def settling(self, stage: int) -> tuple[float, float] | None:
        """By how much the warp of one stage would have to be off, from least to most, for all to agree.

        Q of the corrected warps is a parabola in the correction x: Q + 2bx + ax².
        """
        weight = self._weights[stage]
        a = weight * (1 - weight / sum(self._weights))
        b = weight * (self._warp.values[stage] - self._mean_mm)
        root = b * b - a * (self._q - self._bound)
        return None if root < 0 else ((-b - math.sqrt(root)) / a, (-b + math.sqrt(root)) / a)

    def explanations(self, tape: Tape) -> list[Explanation]:
        """Every slip of every reading without which the stages would agree, and how likely it is."""
        found = []
        for index, stage in enumerate(self.walked):
            settling = self.settling(index)
            if settling is None:
                continue
            for corner in CORNERS:
                read_mm = stage.heights[corner].value
                low, high = sorted(x / WARP.parts[corner] for x in settling)
                for slip in slips(read_mm, tape, stage.entered.get(corner, ""), (read_mm + low, read_mm + high)):
                    odds = self.log_odds(Correction(index, corner, slip.true_mm - read_mm))
                    found.append(Explanation(index, corner, slip, odds + math.log(SLIP_CHANCE * slip.weight)))
        return found

    def log_odds(self, correction: Correction | None) -> float:
        """Log of the likelihood of the readings, one of them corrected, but for a constant."""
        return -sum(row.misfit(correction) for row in self._rows) / 2


def _row(walked: Sequence[StageHeights], figure: Figure) -> _Row:
    parts = figure.parts.items()
    return _Row(
        figure=figure,
        values=tuple(sum(part * stage.heights[c].value for c, part in parts) for stage in walked),
        u=tuple(root_sum_square(*(part * stage.heights[c].u for c, part in parts)) for stage in walked),
        steps=tuple(_step(before, now, figure) for before, now in pairwise(walked)),
    )


def _step(before: StageHeights, now: StageHeights, figure: Figure) -> tuple[float, float]:
    sd = figure.same_load_sd_mm if before.loaded == now.loaded else figure.other_load_sd_mm
    if figure is not REAR:
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


# ---- typing and calling slips ----
#
# A slip is of the hand or the eye, so it has a shape: a whole inch, a fraction read from its wrong end, two digits
# swapped. Weights say how common each is among slips; they are this project's judgement, no source, and only rank.

MM_PER_INCH = 25.4
FINEST = 64
"""Fractions of an inch are halves to sixty-fourths."""

ANYWHERE = (-math.inf, math.inf)

Tape = Literal["inch", "metric"]


@dataclass(frozen=True, slots=True)
class Slip:
    """A height that may have been meant, how it would have become what was read (a code), and how common that is."""

    true_mm: float
    code: str
    weight: float


_Way = tuple[float, str, float]
"""The fields of a slip, before it is known to be wanted."""


def slips(read_mm: float, tape: Tape, entered: str = "", within_mm: tuple[float, float] = ANYWHERE) -> tuple[Slip, ...]:
    """Every plausible slip behind one reading from such a tape, each true height once.

    `entered` is the text as typed, empty if unknown. Only true heights `within_mm` are given.

    >>> [slip.code for slip in slips(27.625 * 25.4, "inch", "27 5/8", within_mm=(720.0, 730.0))]
    ['whole inch']
    """
    low_mm, high_mm = within_mm
    best: dict[float, Slip] = {}
    for true_mm, code, weight in _metric(read_mm) if tape == "metric" else _inches(read_mm, entered):
        if not low_mm <= true_mm <= high_mm or true_mm <= 0 or abs(true_mm - read_mm) < 1e-6:
            continue
        key = round(true_mm, 6)
        if key not in best or best[key].weight < weight:
            best[key] = Slip(true_mm, code, weight)
    return tuple(best.values())


def _metric(read_mm: float) -> Iterator[_Way]:
    for step in (-10.0, 10.0):
        yield read_mm + step, "whole centimetre", 0.35
    for step in (-5.0, 5.0):
        yield read_mm + step, "half centimetre", 0.1
    for step in (-100.0, 100.0):
        yield read_mm + step, "wrong digit", 0.1
    tenths = round(read_mm * 10)
    digits, unit_mm = (str(tenths // 10), 1.0) if tenths % 10 == 0 else (str(tenths), 0.1)
    for swapped in _swaps(digits):
        yield int(swapped) * unit_mm, "swapped digits", 0.2
    yield read_mm * 10, "cm for mm", 0.05
    yield read_mm / 10, "mm for cm", 0.05


def _inches(read_mm: float, entered: str) -> Iterator[_Way]:
    for step in (-1, 1):
        yield read_mm + step * MM_PER_INCH, "whole inch", 0.35
        yield read_mm + step * MM_PER_INCH / 2, "half inch", 0.15
        yield read_mm + step * MM_PER_INCH * 10, "wrong digit", 0.05
    read = read_mm / MM_PER_INCH
    parts = round(read * FINEST)
    if "." in entered or "," in entered or abs(read * FINEST - parts) > 1e-6:
        for swapped in _swaps(str(round(read * 100))):
            yield int(swapped) / 100 * MM_PER_INCH, "swapped digits", 0.1
        return
    whole, rest = divmod(parts, FINEST)
    for swapped in _swaps(str(whole)):
        yield (int(swapped) + rest / FINEST) * MM_PER_INCH, "swapped digits", 0.1
    if rest:
        for inches, code, weight in _fractions(whole, rest):
            yield inches * MM_PER_INCH, code, weight


def _fractions(whole: int, rest: int) -> Iterator[_Way]:
    """In inches, the slips that only a height with a fraction can suffer; `rest` counts sixty-fourths."""
    yield whole + 1 - rest / FINEST, "fraction from the wrong end", 0.1
    for step in (FINEST // 4, FINEST // 8):
        yield whole + (rest - step) / FINEST, "wrong fraction", 0.05
        yield whole + (rest + step) / FINEST, "wrong fraction", 0.05
    if 2 * rest < FINEST:
        yield whole + 2 * rest / FINEST, "wrong denominator", 0.05
    if rest % 2 == 0:
        yield whole + rest / 2 / FINEST, "wrong denominator", 0.05
    common = math.gcd(rest, FINEST)
    top, bottom, digit = rest // common, FINEST // common, whole % 10
    if top < 10 and 0 < digit < bottom:
        yield whole - digit + top + digit / bottom, "digit and fraction swapped", 0.05


def _swaps(digits: str) -> Iterator[str]:
    """Each pair of adjacent digits the other way round."""
    for at in range(len(digits) - 1):
        swapped = digits[:at] + digits[at + 1] + digits[at] + digits[at + 2 :]
        if swapped != digits and swapped[0] != "0":
            yield swapped
