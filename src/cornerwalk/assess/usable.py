"""Number guard: a figure is stated, finite, and of a size that something on a vehicle can have.

Every public function of this room accepts figures that are missing or absurd and returns None rather than a NaN, an
infinity or a traceback. Checking once at the entrance keeps the formulas free of guards: with every input below
`LARGEST` and every divisor above `SMALLEST`, products of four and quotients of two stay within the range of a float.
"""

from __future__ import annotations

import math
from typing import TypeGuard

LARGEST = 1e12
"""Beyond any length in mm, force in N or pressure in kPa that a vehicle knows."""

SMALLEST = 1e-9
"""A divisor below this counts as zero: a thousandth of an atom's width in mm, a millionth of a pascal in kPa."""


def usable(value: float | None) -> TypeGuard[float]:
    """Stated, and of a size to calculate with, in any unit here; False for NaN and the infinities.

    >>> usable(701.675), usable(None), usable(float("nan")), usable(1e300)
    (True, False, False, False)
    """
    return value is not None and -LARGEST <= value <= LARGEST


def positive(value: float | None) -> TypeGuard[float]:
    """Usable, and large enough to divide by, in any unit here.

    >>> positive(3022.6), positive(0.0), positive(-1.0)
    (True, False, False)
    """
    return value is not None and SMALLEST <= value <= LARGEST


def root_sum_square(*parts: float) -> float:
    """√(Σ part²): standard uncertainties of independent inputs, each times its sensitivity, in one unit.

    Source: law of propagation of uncertainty, JCGM 100:2008, 5.1.2.

    >>> root_sum_square(3.0, 4.0)
    5.0
    """
    return math.hypot(*parts)
