"""Front-axle load restoration (FALR): how much load a load-distributing hitch gives back to the front axle.

In percent of what the front axle lost when the trailer was attached, from scale weights or, as the trade does, from
front heights:

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
from cornerwalk.assess.weighing import NO_TICKET, ScaleTicket, u_of_scale

NoRestoration = Literal["readings missing", "front did not lighten", "front change within its uncertainty"]


@dataclass(frozen=True, slots=True, kw_only=True)
class FrontRestoration:
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


def restoration_by_weights(
    *,
    unhitched: ScaleTicket = NO_TICKET,
    hitched: ScaleTicket = NO_TICKET,
    distributed: ScaleTicket = NO_TICKET,
    step_N: float | None = None,
) -> FrontRestoration:
    """FALR from the front axle's three weights.

    >>> restoration_by_weights(
    ...     unhitched=ScaleTicket(front_N=12000.0),
    ...     hitched=ScaleTicket(front_N=11000.0),
    ...     distributed=ScaleTicket(front_N=11600.0),
    ... ).percent
    60.0
    """
    u_N = u_of_scale(step_N)
    weights_N = (unhitched.front_N, hitched.front_N, distributed.front_N)
    return _restored("weights", weights_N, None if u_N is None else (u_N, u_N, u_N))


def restoration_by_heights(
    *,
    unhitched_mm: float | None,
    hitched_mm: float | None,
    distributed_mm: float | None,
    u_unhitched_mm: float,
    u_hitched_mm: float,
    u_distributed_mm: float,
) -> FrontRestoration:
    """FALR from the front's mean height at three times, with u(r) = 100·√(u₃² + (1 − ρ)²u₂² + ρ²u₁²)/|H2 − H1|.

    Bars that only lift the rear, or air, leave H3 = H2: 0 %.
    """
    u_mm = (u_unhitched_mm, u_hitched_mm, u_distributed_mm)
    if not all(usable(u) for u in u_mm):
        return FrontRestoration(by="heights", reason="readings missing")
    return _restored("heights", (unhitched_mm, hitched_mm, distributed_mm), u_mm)


def _restored(
    by: Literal["weights", "heights"],
    front: tuple[float | None, float | None, float | None],
    u: tuple[float, float, float] | None,
) -> FrontRestoration:
    """By the front unhitched, hitched and distributed. A divisor within its own U may be nought: no band is so wide."""
    first, second, third = front
    if not (usable(first) and usable(second) and usable(third)):
        return FrontRestoration(by=by, reason="readings missing")
    lightened = first - second if by == "weights" else second - first
    if not positive(lightened):
        return FrontRestoration(by=by, reason="front did not lighten")
    part = (third - second) / (first - second)
    if u is None:
        return FrontRestoration(by=by, percent=100 * part)
    u_first, u_second, u_third = u
    if lightened <= COVERAGE * root_sum_square(u_first, u_second):
        return FrontRestoration(by=by, reason="front change within its uncertainty")
    u_part = root_sum_square(u_third, (1 - part) * u_second, part * u_first) / lightened
    return FrontRestoration(by=by, percent=100 * part, u_percent=100 * u_part)
