"""Verdict: a value against a limit, with its uncertainty; four answers and never a fifth.

With TL the limit, U the expanded uncertainty (k = 2) and an upper limit:

    value ≤ TL − U   pass                 TL < value ≤ TL + U   conditional fail
    value ≤ TL       conditional pass     TL + U < value        fail

A lower limit is its mirror image; of two limits each is a check of its own, and the worst check counts. Source:
ILAC-G8:09/2019, 4.2.3 (seen), guard band w = U; U = 0 is simple acceptance, which right at the limit is wrong
up to half the time.
"""

from __future__ import annotations

import math
from typing import Literal

Verdict = Literal["pass", "conditional pass", "conditional fail", "fail"]
Side = Literal["upper", "lower"]
"""Which limit it is: above an upper one, or below a lower one, a value is bad."""


def judge(value: float, limit: float, U: float, side: Side) -> Verdict:
    """The verdict on `value` ± `U` against one limit, all in one unit.

    Raises:
        ValueError: one of the three is not a finite number, or U is negative.

    >>> [judge(inches, 4.00, 0.13, "upper") for inches in (3.80, 3.95, 4.05, 4.20)]
    ['pass', 'conditional pass', 'conditional fail', 'fail']
    """
    if not (math.isfinite(value) and math.isfinite(limit) and 0 <= U < math.inf):
        raise ValueError(f"cannot judge {value} ± {U} against {limit}")
    beyond = value - limit if side == "upper" else limit - value
    if beyond <= -U:
        return "pass"
    if beyond <= 0:
        return "conditional pass"
    return "conditional fail" if beyond <= U else "fail"
