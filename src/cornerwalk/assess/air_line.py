"""Trial line: height against pressure, a straight line through the trials, and its uncertainty.

Over the pressures a helper spring is used at, height is taken as linear in pressure, h = c0 + c1·p; with three trials
or more the fit itself shows whether that holds (`off_line`). Trials are made with the same load, one after another on
the same spots, and the pressure is read on the gauge that will set it later, so a constant error of the gauge cancels;
how finely it is read does not, and counts as c1·u(p) in the height.

The u of the line comes from what is known of each trial. Only where the trials scatter about it by more than that
explains is it taken from the scatter, with as many degrees of freedom as there are trials over two.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Literal, NamedTuple

from cornerwalk.assess.estimate import COVERAGE, ErrorSource, Estimate, Share, Spread, combine
from cornerwalk.assess.usable import positive, usable

CHANCE_OFF_LINE = 0.0455
"""Share of straight lines that are called off the line by chance: what lies outside ± 2u of a normal distribution."""

NoLineReason = Literal["no trials", "one trial", "one pressure", "readings missing"]


@dataclass(frozen=True, slots=True)
class Trial:
    """A pressure in kPa, and the height in mm that it gave: of the axle's mean, or of one side."""

    pressure: Estimate
    height: Estimate


@dataclass(frozen=True, slots=True, kw_only=True)
class NoLine:
    """Why no line can be fitted."""

    reason: NoLineReason


@dataclass(frozen=True, kw_only=True)
class Line:
    """h = c0 + c1·p through the trials, each with its weight.

    `center_kPa` and `center_mm` are the weighted means, where the line is best known. `chi_square` is the scatter about
    the line in units of what the trials' own u explains, `freedom` its degrees.
    """

    trials: tuple[Trial, ...]
    weights: tuple[float, ...]
    center_kPa: float
    center_mm: float
    c1_mm_per_kPa: float
    s_xx: float
    chi_square: float
    freedom: int

    @property
    def lowest_kPa(self) -> float:
        """The lowest pressure tried."""
        return min(trial.pressure.value for trial in self.trials)

    @property
    def highest_kPa(self) -> float:
        """The highest pressure tried."""
        return max(trial.pressure.value for trial in self.trials)

    @property
    def c0(self) -> Estimate:
        """Height of the line at zero pressure, mm; not a height the vehicle ever has."""
        return self.height(0.0)

    @cached_property
    def slope(self) -> Estimate:
        """c1 in mm/kPa."""
        return self._from_trials(self.c1_mm_per_kPa, [self._lever(index) for index in range(len(self.trials))])

    @property
    def u_center_mm(self) -> float:
        """Standard uncertainty of the height at the center, where it is least."""
        return self.height(self.center_kPa).u

    @property
    def cov_c0_c1(self) -> float:
        """Covariance of c0 and c1, mm²/kPa."""
        return -self.center_kPa * self.slope.u**2

    @property
    def rises(self) -> bool:
        """More air raises the body, and by more than twice the slope's own u."""
        return self.c1_mm_per_kPa > COVERAGE * self.slope.u

    @property
    def span_kPa(self) -> float:
        """From the lowest pressure tried to the highest."""
        return self.highest_kPa - self.lowest_kPa

    @cached_property
    def off_line(self) -> bool:
        """The trials scatter about the line more than their readings allow; always False for two trials."""
        return self.freedom > 0 and chi_square_tail(self.chi_square, self.freedom) < CHANCE_OFF_LINE

    def height_mm(self, pressure_kPa: float) -> float:
        """The height the line gives at a pressure."""
        return self.center_mm + self.c1_mm_per_kPa * (pressure_kPa - self.center_kPa)

    def height(self, pressure_kPa: float) -> Estimate:
        """The same with its uncertainty, which grows away from the center of the trials."""
        away_kPa, total = pressure_kPa - self.center_kPa, math.fsum(self.weights)
        shares = [weight / total + away_kPa * self._lever(index) for index, weight in enumerate(self.weights)]
        return self._from_trials(self.height_mm(pressure_kPa), shares)

    def pressure(self, height: Estimate) -> Estimate:
        """The pressure at which the line meets a height, first order; the line must rise."""
        value = self.center_kPa + (height.value - self.center_mm) / self.c1_mm_per_kPa
        per_mm = 1 / self.c1_mm_per_kPa
        return combine(value, (per_mm, height), (-per_mm, self.height(value)))

    def beyond_trials(self, pressure_kPa: float) -> bool:
        """More than half the tried span below the lowest trial or above the highest."""
        reach_kPa = self.span_kPa / 2 * (1 + 1e-9)
        return not self.lowest_kPa - reach_kPa <= pressure_kPa <= self.highest_kPa + reach_kPa

    def _lever(self, index: int) -> float:
        """By how much the slope grows with one trial's height, 1/kPa."""
        return self.weights[index] * (self.trials[index].pressure.value - self.center_kPa) / self.s_xx

    def _from_trials(self, value: float, shares: Sequence[float]) -> Estimate:
        """A figure of the line: `shares` are how it depends on the height of each trial, a pressure c1 times as much.

        Where the scatter says more than the readings' u, it takes their place.
        """
        if not self.off_line:
            terms = []
            for share, trial in zip(shares, self.trials, strict=True):
                terms += [(share, trial.height), (-share * self.c1_mm_per_kPa, trial.pressure)]
            return combine(value, *terms)
        ratio = math.sqrt(self.chi_square / self.freedom)
        spread = Spread(ratio, self.freedom)
        parts = {
            ErrorSource(Share("trials", 1.0, spread)): share * ratio / math.sqrt(w)
            for share, w in zip(shares, self.weights, strict=True)
        }
        return Estimate.of_parts(value, parts)


def fit_line(trials: Sequence[Trial]) -> Line | NoLine:
    """Least squares, each trial weighted by 1/u², u² = u²(h) + c1²·u²(p).

    With weights w: c1 = Σw(p − p̄)(h − h̄)/Sxx, u(c1) = 1/√Sxx, Sxx = Σw(p − p̄)², u of the center 1/√Σw. For equal u
    this is u/√Σ(p − p̄)² and u/√n. Sources: JCGM 100:2008 H.3 for the form; NIST StRD Norris in the tests; the
    effective variance u² is that of any text on fitting with errors in both (from memory).
    """
    if not trials:
        return NoLine(reason="no trials")
    if not all(_usable(trial) for trial in trials):
        return NoLine(reason="readings missing")
    if len(trials) == 1:
        return NoLine(reason="one trial")
    pressures = [trial.pressure.value for trial in trials]
    if not positive(max(pressures) - min(pressures)):
        return NoLine(reason="one pressure")
    weights = [1 / trial.height.u**2 for trial in trials]
    means = _means(trials, weights)
    for _ in range(_ROUNDS if any(trial.pressure.u for trial in trials) else 0):
        weights = [1 / (trial.height.u**2 + (means.c1 * trial.pressure.u) ** 2) for trial in trials]
        means = _means(trials, weights)
    misfits = [t.height.value - means.mm - means.c1 * (t.pressure.value - means.kPa) for t in trials]
    return Line(
        trials=tuple(trials),
        weights=tuple(weights),
        center_kPa=means.kPa,
        center_mm=means.mm,
        c1_mm_per_kPa=means.c1,
        s_xx=means.s_xx,
        chi_square=math.fsum([w * misfit * misfit for w, misfit in zip(weights, misfits, strict=True)]),
        freedom=len(trials) - 2,
    )


_ROUNDS = 2
"""The weights depend on the slope, which they hardly change: a second round moves it by parts in a million."""


def _usable(trial: Trial) -> bool:
    pressure, height = trial.pressure, trial.height
    return usable(pressure.value) and usable(pressure.u) and usable(height.value) and positive(height.u)


class _Means(NamedTuple):
    """Weighted means of pressure and height, and the slope through them."""

    kPa: float
    mm: float
    c1: float
    s_xx: float


def _means(trials: Sequence[Trial], weights: Sequence[float]) -> _Means:
    total = math.fsum(weights)
    rows = [(w, t.pressure.value, t.height.value) for w, t in zip(weights, trials, strict=True)]
    kPa = math.fsum([w * p for w, p, _ in rows]) / total
    mm = math.fsum([w * h for w, _, h in rows]) / total
    s_xx = math.fsum([w * (p - kPa) ** 2 for w, p, _ in rows])
    return _Means(kPa, mm, math.fsum([w * (p - kPa) * (h - mm) for w, p, h in rows]) / s_xx, s_xx)


@dataclass(frozen=True, slots=True, kw_only=True)
class BandPoint:
    """The line at one pressure: height and U, for drawing."""

    pressure_kPa: float
    height_mm: float
    U_mm: float


def height_band(line: Line, pressures_kPa: Sequence[float]) -> tuple[BandPoint, ...]:
    """The line and its ± U at each of the pressures, those that are usable."""
    return tuple(
        BandPoint(pressure_kPa=p, height_mm=line.height_mm(p), U_mm=line.height(p).U)
        for p in pressures_kPa
        if usable(p)
    )


def chi_square_tail(chi_square: float, freedom: int) -> float:
    """The chance that a chi-square of so many degrees of freedom exceeds this; 1.0 at or below zero.

    Closed forms for whole degrees: even, e^(−x/2)·Σ (x/2)^i/i!; odd, erfc(√(x/2)) + e^(−x/2)·Σ (x/2)^(i−½)/Γ(i+½).

    >>> round(chi_square_tail(3.841459, 1), 6), round(chi_square_tail(5.991465, 2), 6)
    (0.05, 0.05)
    """
    if chi_square <= 0 or freedom < 1:
        return 1.0
    half = chi_square / 2
    if freedom % 2 == 0:
        first, start = math.exp(-half), 1.0
        tail = first
    else:
        tail = math.erfc(math.sqrt(half))
        first, start = math.exp(-half) * math.sqrt(half) / math.gamma(1.5), 1.5
        tail += first if freedom > 1 else 0.0
    term = first
    for step in range((freedom - 1) // 2 if freedom % 2 == 0 else (freedom - 3) // 2):
        term *= half / (start + step)
        tail += term
    return min(tail, 1.0)
