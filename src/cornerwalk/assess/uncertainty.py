"""How sure one reading is, what repeats say, and how uncertainties add up.

Everything here is a *standard* uncertainty u; what is shown is U = 2u. A reading's own:

    u_read² = g²/12 + u_place²/n

g the tape's graduation (a reading is right to the nearest mark: rectangular, half-width g/2), u_place that of putting
the tape on the same point, n the repeats that were averaged. The graduation's part is not divided by n: the same height
falls on the same mark each time.

Sources: JCGM 100 (GUM) 4.3.7 and 5.1.2; g/√12 and a/√3 as in published calibration guides (seen, second-hand);
k = 2 as in NIST's examples (seen). u_place has no source; it is a setting, and `place_u_of_repeats` measures it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from cornerwalk.assess.usable import root_sum_square, usable

COVERAGE = 2.0
"""k: U = k·u covers about 95 %."""


@dataclass(frozen=True, slots=True)
class Estimate:
    """A figure and its standard uncertainty, both in the unit that the name holding it says."""

    value: float
    u: float = 0.0

    @property
    def U(self) -> float:
        """Expanded uncertainty, k = 2, in the same unit."""
        return COVERAGE * self.u


def estimate(value: float | None, u: float | None) -> Estimate | None:
    """A figure with its u, both in one unit; None where either is missing."""
    return None if value is None or u is None else Estimate(value, u)


def stated(value: float | None) -> Estimate | None:
    """A figure that was stated, in the unit that its name says, without an uncertainty; None where it was not."""
    return None if value is None else Estimate(value)


def usable_estimate(estimate: Estimate | None) -> Estimate | None:
    """The estimate itself, or None where it is missing, no number, or of no size that a vehicle has.

    >>> usable_estimate(Estimate(701.7, 0.9)), usable_estimate(Estimate(float("nan"), 0.9))
    (Estimate(value=701.7, u=0.9), None)
    """
    if estimate is None or not usable(estimate.value) or not usable(estimate.u) or estimate.u < 0:
        return None
    return estimate


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


@dataclass(frozen=True, slots=True)
class Spread:
    """A standard deviation, and the degrees of freedom it rests on: it is itself sure to one part in √(2·freedom)."""

    sd: float
    freedom: int


def pooled_spread(groups: Iterable[Sequence[float]]) -> Spread | None:
    """What repeats of *different* heights say together: s² = Σ(nᵢ − 1)sᵢ² / Σ(nᵢ − 1); None without any repeat."""
    import statistics  # here, as it brings decimals and random numbers with it

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
