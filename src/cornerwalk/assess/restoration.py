"""How much of the front axle's load a load-distributing hitch gives back, by weights or, as the trade does, by heights.

FALR, front-axle load restoration, in per cent of what the front axle lost when the trailer was attached:

    by weights  100 · (F3 − F2)/(F1 − F2)        by heights  100 · (H2 − H3)/(H2 − H1)

1 unhitched, 2 hitched with the bars off, 3 with the bars on; both are the same expression. It is a quotient of two
small differences, so its ± is large: one 1/16 in in H3 is 25 points where the front rose 1/4 in, 6 where it rose 1 in.
What is to be shown is the band. Helper springs restore none of it.

Sources: the definition as quoted from SAE J2807 by a trailer builders' journal of 1 October 2009 (second-hand);
halfway and same-height rules by front height in hitch and vehicle makers' manuals (seen). The rule to hold the figure
against differs by maker and is handed in where it is judged.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from cornerwalk.assess.uncertainty import COVERAGE
from cornerwalk.assess.usable import positive, root_sum_square, usable
from cornerwalk.assess.weighing import NOT_WEIGHED, Weighed, u_of_scale

NoRestoration = Literal["readings missing", "front did not lighten", "front change within its uncertainty"]


@dataclass(frozen=True, slots=True, kw_only=True)
class FrontRestored:
    """FALR with its standard uncertainty; None with a `reason` where it cannot be told.

    `u_percent` is None where the scale's step is not stated. `low_percent` and `high_percent` are the band ± 2u.
    """

    by: Literal["weights", "heights"]
    percent: float | None = None
    u_percent: float | None = None
    reason: NoRestoration | None = None

    @property
    def low_percent(self) -> float | None:
        """The lower end of the band."""
        if self.percent is None or self.u_percent is None:
            return None
        return self.percent - COVERAGE * self.u_percent

    @property
    def high_percent(self) -> float | None:
        """The upper end of the band."""
        if self.percent is None or self.u_percent is None:
            return None
        return self.percent + COVERAGE * self.u_percent


def restored_by_weights(
    *,
    unhitched: Weighed = NOT_WEIGHED,
    hitched: Weighed = NOT_WEIGHED,
    distributed: Weighed = NOT_WEIGHED,
    step_N: float | None = None,
) -> FrontRestored:
    """FALR from the front axle's three weights.

    >>> restored_by_weights(
    ...     unhitched=Weighed(front_N=12000.0), hitched=Weighed(front_N=11000.0), distributed=Weighed(front_N=11600.0)
    ... ).percent
    60.0
    """
    weights_N = (unhitched.front_N, hitched.front_N, distributed.front_N)
    u_N = u_of_scale(step_N)
    lost, u_lost = _change(weights_N[1], weights_N[0], u_N, u_N)
    reason = _why_not(lost, u_lost, weights_N[2])
    if reason is not None:
        return FrontRestored(by="weights", reason=reason)
    percent, u_percent = _regained(*weights_N, u_N, u_N, u_N)
    return FrontRestored(by="weights", percent=percent, u_percent=u_percent)


def restored_by_heights(
    *,
    unhitched_mm: float | None,
    hitched_mm: float | None,
    distributed_mm: float | None,
    u_unhitched_mm: float,
    u_hitched_mm: float,
    u_distributed_mm: float,
) -> FrontRestored:
    """FALR from the front's mean height at three times, with u(r) = 100·√(u₃² + (1 − ρ)²u₂² + ρ²u₁²)/|H2 − H1|.

    Bars that only lift the rear, or air, leave H3 = H2: 0 %.
    """
    heights_mm = (unhitched_mm, hitched_mm, distributed_mm)
    if not (usable(u_unhitched_mm) and usable(u_hitched_mm) and usable(u_distributed_mm)):
        return FrontRestored(by="heights", reason="readings missing")
    risen, u_risen = _change(heights_mm[0], heights_mm[1], u_unhitched_mm, u_hitched_mm)
    reason = _why_not(risen, u_risen, heights_mm[2])
    if reason is not None:
        return FrontRestored(by="heights", reason=reason)
    percent, u_percent = _regained(*heights_mm, u_unhitched_mm, u_hitched_mm, u_distributed_mm)
    return FrontRestored(by="heights", percent=percent, u_percent=u_percent)


def _change(
    start: float | None, end: float | None, u_start: float | None, u_end: float | None
) -> tuple[float | None, float | None]:
    if not usable(start) or not usable(end):
        return None, None
    if not usable(u_start) or not usable(u_end):
        return end - start, None
    return end - start, root_sum_square(u_start, u_end)


def _why_not(change: float | None, u_change: float | None, third: float | None) -> NoRestoration | None:
    """Why the quotient says nothing. A divisor within its own U may be nought, so no band would be wide enough."""
    if change is None or not usable(third):
        return "readings missing"
    if not positive(change):
        return "front did not lighten"
    if u_change is not None and change <= COVERAGE * u_change:
        return "front change within its uncertainty"
    return None


def _regained(
    first: float | None,
    second: float | None,
    third: float | None,
    u_first: float | None,
    u_second: float | None,
    u_third: float | None,
) -> tuple[float | None, float | None]:
    """100·(third − second)/(first − second) and its u."""
    if not (usable(first) and usable(second) and usable(third)):
        return None, None
    part = (third - second) / (first - second)
    if not (usable(u_first) and usable(u_second) and usable(u_third)):
        return 100 * part, None
    u_part = root_sum_square(u_third, (1 - part) * u_second, part * u_first) / abs(first - second)
    return 100 * part, 100 * u_part
