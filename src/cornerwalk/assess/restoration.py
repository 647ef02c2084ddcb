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

from cornerwalk.assess.estimate import Estimate, combine, usable_estimate
from cornerwalk.assess.usable import positive
from cornerwalk.assess.weighing import NO_TICKET, ScaleTicket, u_of_scale

NoRestoration = Literal["readings missing", "front did not lighten", "front change within its uncertainty"]


@dataclass(frozen=True, slots=True, kw_only=True)
class FrontRestoration:
    """FALR in percent; None with a `reason` where it cannot be told.

    `u_known` False: the scale's step is not stated, so there is no band.
    """

    by: Literal["weights", "heights"]
    share: Estimate | None = None
    u_known: bool = True
    reason: NoRestoration | None = None

    @property
    def percent(self) -> float | None:
        """The figure alone; what is to be shown is the band."""
        return None if self.share is None else self.share.value

    @property
    def u_percent(self) -> float | None:
        """Its standard uncertainty."""
        return self.share.u if self.share is not None and self.u_known else None

    @property
    def low_percent(self) -> float | None:
        """The lower end of the band."""
        return self.share.value - self.share.U if self.share is not None and self.u_known else None

    @property
    def high_percent(self) -> float | None:
        """The upper end of the band."""
        return self.share.value + self.share.U if self.share is not None and self.u_known else None


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
    first, second, third = (
        None if ticket.front_N is None else Estimate(-ticket.front_N, u_N or 0.0)
        for ticket in (unhitched, hitched, distributed)
    )
    return _restoration("weights", first, second, third, u_known=u_N is not None)


def restoration_by_heights(
    unhitched: Estimate | None, hitched: Estimate | None, distributed: Estimate | None
) -> FrontRestoration:
    """FALR from the front's mean height in mm at three times.

    Bars that only lift the rear, or air, leave H3 = H2: 0 %.
    """
    return _restoration("heights", unhitched, hitched, distributed, u_known=True)


def _restoration(
    by: Literal["weights", "heights"],
    first: Estimate | None,
    second: Estimate | None,
    third: Estimate | None,
    *,
    u_known: bool,
) -> FrontRestoration:
    """By the front unhitched, hitched and distributed, up where it is light.

    ∂r/∂H3 = −1/(H2 − H1), ∂r/∂H2 = (1 − r)/(H2 − H1), ∂r/∂H1 = r/(H2 − H1). A divisor within its own U may be zero: no
    band is so wide.
    """
    first, second, third = usable_estimate(first), usable_estimate(second), usable_estimate(third)
    if first is None or second is None or third is None:
        return FrontRestoration(by=by, reason="readings missing")
    rise = second - first
    if not positive(rise.value):
        return FrontRestoration(by=by, reason="front did not lighten")
    if u_known and rise.value <= rise.U:
        return FrontRestoration(by=by, reason="front change within its uncertainty")
    part = (second.value - third.value) / rise.value
    each = 100 / rise.value
    share = combine(100 * part, (-each, third), (each * (1 - part), second), (each * part, first))
    return FrontRestoration(by=by, share=share, u_known=u_known)
