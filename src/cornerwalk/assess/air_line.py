"""Trial line: height against pressure, a straight line through the trials, and its uncertainty.

Over the pressures a helper spring is used at, height is taken as linear in pressure, h = c0 + c1·p; with three trials
or more the fit itself shows whether that holds (`off_line`). Trials are made with the same load, one after another on
the same spots, and the pressure is read on the gauge that will set it later, so a constant error of the gauge cancels;
its graduation is not part of the u here.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from cornerwalk.assess.uncertainty import COVERAGE
from cornerwalk.assess.usable import positive, usable

CHANCE_OFF_LINE = 0.0455
"""Share of straight lines that are called off the line by chance: what lies outside ± 2u of a normal distribution."""

NoLineReason = Literal["no trials", "one trial", "one pressure", "readings missing"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial:
    """A pressure, and the height it gave with its standard uncertainty (of the axle's mean, or of one side)."""

    pressure_kPa: float
    height_mm: float
    u_height_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class NoLine:
    """Why no line can be fitted."""

    reason: NoLineReason


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """h = c0 + c1·p with its covariance; u from the readings' own uncertainty, not from the scatter of a few trials.

    `centre_kPa` and `centre_mm` are the weighted means, where the line is best known (`u_centre_mm`) and slope and
    height are uncorrelated. `chi_square` is the scatter about the line in units of the readings' u, `freedom` its
    degrees.
    """

    trials: int
    lowest_kPa: float
    highest_kPa: float
    centre_kPa: float
    centre_mm: float
    u_centre_mm: float
    c1_mm_per_kPa: float
    u_c1_mm_per_kPa: float
    chi_square: float
    freedom: int

    @property
    def c0_mm(self) -> float:
        """Height of the line at zero pressure; not a height the vehicle ever has."""
        return self.centre_mm - self.c1_mm_per_kPa * self.centre_kPa

    @property
    def u_c0_mm(self) -> float:
        """Standard uncertainty of c0."""
        return self.u_height_mm(0.0)

    @property
    def cov_c0_c1(self) -> float:
        """Covariance of c0 and c1, mm²/kPa."""
        return -self.centre_kPa * self.u_c1_mm_per_kPa**2

    @property
    def rises(self) -> bool:
        """More air raises the body, and by more than the slope's own U."""
        return self.c1_mm_per_kPa > COVERAGE * self.u_c1_mm_per_kPa

    @property
    def span_kPa(self) -> float:
        """From the lowest pressure tried to the highest."""
        return self.highest_kPa - self.lowest_kPa

    @property
    def off_line(self) -> bool:
        """The trials scatter about the line more than their readings allow; always False for two trials."""
        return self.freedom > 0 and chi_square_tail(self.chi_square, self.freedom) < CHANCE_OFF_LINE

    def height_mm(self, pressure_kPa: float) -> float:
        """The height the line gives at a pressure."""
        return self.centre_mm + self.c1_mm_per_kPa * (pressure_kPa - self.centre_kPa)

    def u_height_mm(self, pressure_kPa: float) -> float:
        """Standard uncertainty of that height; least at the centre of the trials, growing away from it."""
        return math.hypot(self.u_centre_mm, self.u_c1_mm_per_kPa * (pressure_kPa - self.centre_kPa))

    def beyond_trials(self, pressure_kPa: float) -> bool:
        """More than half the tried span below the lowest trial or above the highest."""
        reach_kPa = self.span_kPa / 2 * (1 + 1e-9)
        return not self.lowest_kPa - reach_kPa <= pressure_kPa <= self.highest_kPa + reach_kPa


def fit_line(trials: Sequence[Trial]) -> Line | NoLine:
    """Least squares, each trial weighted by 1/u².

    With weights w: c1 = Σw(p − p̄)(h − h̄)/Sxx, u(c1) = 1/√Sxx, Sxx = Σw(p − p̄)², u of the centre 1/√Σw. For equal u
    this is u/√Σ(p − p̄)² and u/√n. Sources: JCGM 100:2008 H.3 for the form; NIST StRD Norris in the tests.
    """
    if not trials:
        return NoLine(reason="no trials")
    if not all(usable(t.pressure_kPa) and usable(t.height_mm) and positive(t.u_height_mm) for t in trials):
        return NoLine(reason="readings missing")
    if len(trials) == 1:
        return NoLine(reason="one trial")
    lowest_kPa = min(t.pressure_kPa for t in trials)
    highest_kPa = max(t.pressure_kPa for t in trials)
    if not positive(highest_kPa - lowest_kPa):
        return NoLine(reason="one pressure")
    weights = [1 / t.u_height_mm**2 for t in trials]
    total = math.fsum(weights)
    centre_kPa = math.fsum(w * t.pressure_kPa for w, t in zip(weights, trials, strict=True)) / total
    centre_mm = math.fsum(w * t.height_mm for w, t in zip(weights, trials, strict=True)) / total
    away = [t.pressure_kPa - centre_kPa for t in trials]
    s_xx = math.fsum(w * x * x for w, x in zip(weights, away, strict=True))
    c1 = math.fsum(w * x * (t.height_mm - centre_mm) for w, x, t in zip(weights, away, trials, strict=True)) / s_xx
    residuals = [t.height_mm - centre_mm - c1 * x for x, t in zip(away, trials, strict=True)]
    return Line(
        trials=len(trials),
        lowest_kPa=lowest_kPa,
        highest_kPa=highest_kPa,
        centre_kPa=centre_kPa,
        centre_mm=centre_mm,
        u_centre_mm=1 / math.sqrt(total),
        c1_mm_per_kPa=c1,
        u_c1_mm_per_kPa=1 / math.sqrt(s_xx),
        chi_square=math.fsum(w * r * r for w, r in zip(weights, residuals, strict=True)),
        freedom=len(trials) - 2,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class BandPoint:
    """The line at one pressure: height and U, for drawing."""

    pressure_kPa: float
    height_mm: float
    U_mm: float


def height_band(line: Line, pressures_kPa: Sequence[float]) -> tuple[BandPoint, ...]:
    """The line and its ± U at each of the pressures, those that are usable."""
    return tuple(
        BandPoint(pressure_kPa=p, height_mm=line.height_mm(p), U_mm=COVERAGE * line.u_height_mm(p))
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
