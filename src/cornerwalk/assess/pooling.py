"""One figure from several jobs: the mean by how sure each is, and how far they lie apart.

    mean  x̄ = Σwᵢxᵢ/Σwᵢ, wᵢ = 1/uᵢ²        u(x̄) = √(1/Σwᵢ)·max(1, R)        R² = Σwᵢ(xᵢ − x̄)²/(n − 1)

R is the Birge ratio: where the jobs differ by more than their own uncertainties explain (another load, more friction,
another gauge), the u of the mean grows with it; it never shrinks below what the readings say.
Source: the weighted mean is that of any textbook; the ratio after R. T. Birge (1932), from memory.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from cornerwalk.assess.uncertainty import Estimate, usable_estimate


@dataclass(frozen=True, slots=True)
class Pooled:
    """A figure from `count` jobs: its mean with u, and the plain standard deviation between them.

    All in the unit of the estimates; `spread` is None of one.
    """

    mean: Estimate
    spread: float | None
    count: int


def pooled(estimates: Iterable[Estimate]) -> Pooled | None:
    """The mean of several estimates of one figure; None without any that says how sure it is.

    >>> both = pooled([Estimate(10.0, 1.0), Estimate(13.0, 1.0)])
    >>> both.mean.value, round(both.mean.u, 4), round(both.spread, 4)
    (11.5, 1.5, 2.1213)
    """
    known = [each for each in estimates if usable_estimate(each) is not None and each.u > 0]
    if not known:
        return None
    import statistics  # here, as it brings decimals and random numbers with it

    weights = [1 / each.u**2 for each in known]
    total = math.fsum(weights)
    mean = math.fsum(weight * each.value for weight, each in zip(weights, known, strict=True)) / total
    if len(known) == 1:
        return Pooled(known[0], None, 1)
    squares = math.fsum(weight * (each.value - mean) ** 2 for weight, each in zip(weights, known, strict=True))
    birge = math.sqrt(squares / (len(known) - 1))
    spread = statistics.stdev(each.value for each in known)
    return Pooled(Estimate(mean, max(1.0, birge) / math.sqrt(total)), spread, len(known))
