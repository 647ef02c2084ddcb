"""Uncertainty: of one reading, from repeats, and how it propagates.

Everything here is a *standard* uncertainty u; users see U = 2u. For one reading:

    u_read² = g²/12 + u_place²/n

g the tape's graduation (a reading is right to the nearest mark: rectangular, half-width g/2), u_place that of putting
the tape on the same point, n the repeats that were averaged. The graduation's part is not divided by n: the same
height lands on the same mark each time.

Sources: JCGM 100 (GUM) 4.3.7 and 5.1.2; g/√12 and a/√3 as in published calibration guides (seen, second-hand);
k = 2 as in NIST's examples (seen). u_place has no source: it is a setting, and `place_u_of_repeats` measures it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from cornerwalk.assess.estimate import Estimate, Spread, usable_estimate
from cornerwalk.assess.usable import root_sum_square


def quantum_u(quantum: float) -> float:
    """Standard uncertainty of a figure right to the nearest step of `quantum` (of a tape, a gauge): quantum/√12.

    In the unit of the quantum.

    >>> round(quantum_u(1.0), 6)
    0.288675
    """
    return quantum / math.sqrt(12)


def rectangular_u(half_width: float) -> float:
    """Standard uncertainty of a figure known to lie within ± `half_width`, anywhere alike, in its unit: half_width/√3.

    >>> round(rectangular_u(1.5), 2)
    0.87
    """
    return half_width / math.sqrt(3)


def reading_u_mm(graduation_mm: float, place_u_mm: float, repeats: int = 1) -> float:
    """Standard uncertainty of one corner's height, the mean of `repeats` readings with one tape.

    Raises:
        ValueError: fewer repeats than one.

    >>> round(reading_u_mm(1 / 16, 1 / 32), 7)                # worked case, inches
    0.0360844
    """
    if repeats < 1:
        raise ValueError(f"{repeats} readings make no mean")
    return root_sum_square(quantum_u(graduation_mm), place_u_mm / math.sqrt(repeats))


def absolute_u_mm(read_u_mm: float, limit_of_error_mm: float) -> float:
    """Standard uncertainty of a height held against a legal limit: the tape's own limit of error joins in.

    It is a rectangle. In changes it cancels: the same tape was off by the same at both ends.
    """
    return root_sum_square(read_u_mm, rectangular_u(limit_of_error_mm))


def pooled_spread(groups: Iterable[Sequence[float]]) -> Spread | None:
    """What repeats of *different* heights say together: s² = Σ(nᵢ − 1)sᵢ² / Σ(nᵢ − 1); None without any repeat."""
    import statistics  # imported late: it pulls in decimal and random

    repeated = [group for group in groups if len(group) > 1]
    freedom = sum(len(group) - 1 for group in repeated)
    if not freedom:
        return None
    squares = sum((len(group) - 1) * statistics.variance(group) for group in repeated)
    return Spread(math.sqrt(squares / freedom), freedom)


def place_u_of_repeats(groups_mm: Iterable[Sequence[float]]) -> Spread | None:
    """u_place as the repeats in a library show it, one group a corner and stage.

    It is the pooled standard deviation. Rounding to the tape's marks is in it too and is counted again in u_read,
    which errs on the safe side.
    """
    return pooled_spread(groups_mm)


# ---- pooled mean ----
#
#     mean  x̄ = Σwᵢxᵢ/Σwᵢ, wᵢ = 1/uᵢ²        u(x̄) = √(1/Σwᵢ)·max(1, R)        R² = Σwᵢ(xᵢ − x̄)²/(n − 1)
#
# R is the Birge ratio: where the jobs differ by more than their own uncertainties explain (another load, more friction,
# another gauge), the u of the mean grows with it; it never shrinks below what the readings say.
# Source: the weighted mean is that of any textbook; the ratio after R. T. Birge (1932), from memory.


@dataclass(frozen=True, slots=True)
class PooledMean:
    """A figure from `count` jobs: its mean with u, and the plain standard deviation between them.

    All in the unit of the estimates; `spread` is None of one.
    """

    mean: Estimate
    spread: float | None
    count: int


def pooled_mean(estimates: Iterable[Estimate]) -> PooledMean | None:
    """The mean of several estimates of one figure; None without any that says how sure it is.

    >>> both = pooled_mean([Estimate(10.0, 1.0), Estimate(13.0, 1.0)])
    >>> both.mean.value, round(both.mean.u, 4), round(both.spread, 4)
    (11.5, 1.5, 2.1213)
    """
    known = [each for each in estimates if usable_estimate(each) is not None and each.u > 0]
    if not known:
        return None
    import statistics  # imported late: it pulls in decimal and random

    weights = [1 / each.u**2 for each in known]
    total = math.fsum(weights)
    mean = math.fsum(weight * each.value for weight, each in zip(weights, known, strict=True)) / total
    if len(known) == 1:
        return PooledMean(known[0], None, 1)
    squares = math.fsum(weight * (each.value - mean) ** 2 for weight, each in zip(weights, known, strict=True))
    birge = math.sqrt(squares / (len(known) - 1))
    spread = statistics.stdev(each.value for each in known)
    return PooledMean(Estimate(mean, max(1.0, birge) / math.sqrt(total)), spread, len(known))
