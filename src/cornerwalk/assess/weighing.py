"""Scale tickets: the same vehicle weighed unhitched, hitched, and hitched with load distribution.

F, R, T are the front axle, the rear axle and the trailer's axles in one weighing, 1 to 3 the weighings in that order,
all loaded as it travels:

    tongue load        (F2 + R2) − (F1 + R1)        front axle lost      F1 − F2
    trailer            T2 + tongue load             front axle regained  F3 − F2
    combined weight    F + R + T, the same in 2 and 3: a mistyped digit shows here

Every scale figure is taken as right to its step: u = step/√12 (rectangular over one step, JCGM 100:2008, 4.3.7), and
as independent. Any figure may be missing; what needs it is then None.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from cornerwalk.assess.estimate import COVERAGE
from cornerwalk.assess.uncertainty import quantum_u
from cornerwalk.assess.usable import positive, root_sum_square, usable

WeighingName = Literal["unhitched", "hitched", "distributed"]


@dataclass(frozen=True, slots=True, kw_only=True)
class ScaleTicket:
    """One weighing. `trailer_N` is the load on the trailer's own axles: on the scale, not on the ball."""

    front_N: float | None = None
    rear_N: float | None = None
    trailer_N: float | None = None

    @property
    def gross_N(self) -> float | None:
        """Both axles of the vehicle."""
        if not usable(self.front_N) or not usable(self.rear_N):
            return None
        return self.front_N + self.rear_N

    @property
    def combined_N(self) -> float | None:
        """Vehicle and trailer."""
        gross_N = self.gross_N
        if gross_N is None or not usable(self.trailer_N):
            return None
        return gross_N + self.trailer_N


NO_TICKET = ScaleTicket()


@dataclass(frozen=True, slots=True, kw_only=True)
class Tickets:
    """What three weighings say together. Every `u_…` is None where the scale's step is not stated.

    `combined_change_N` is weighing 3 less weighing 2; `combined_agrees` is None where either is missing or the step is.
    """

    tongue_N: float | None
    u_tongue_N: float | None
    front_lost_N: float | None
    u_front_lost_N: float | None
    front_regained_N: float | None
    u_front_regained_N: float | None
    trailer_N: float | None
    u_trailer_N: float | None
    tongue_share_percent: float | None
    u_tongue_share_percent: float | None
    combined_change_N: float | None
    u_combined_change_N: float | None
    combined_agrees: bool | None


def u_of_scale(step_N: float | None) -> float | None:
    """Standard uncertainty of one figure of a scale, N: step/√12; None without a step."""
    if not positive(step_N):
        return None
    return quantum_u(step_N)


def read_tickets(
    *,
    unhitched: ScaleTicket = NO_TICKET,
    hitched: ScaleTicket = NO_TICKET,
    distributed: ScaleTicket = NO_TICKET,
    step_N: float | None = None,
) -> Tickets:
    """Tongue load, what the front axle lost and regained, the trailer and its tongue share, and whether 2 and 3 agree.

    The tongue load is taken from the second weighing only: with distribution on, part of it stands on the trailer's
    axles.
    """
    u_N = u_of_scale(step_N)
    tongue_N = _change(unhitched.gross_N, hitched.gross_N)
    trailer_N = _sum(tongue_N, hitched.trailer_N)
    share_percent, u_share_percent = _tongue_share(tongue_N, hitched.trailer_N, u_N)
    combined_change_N = _change(hitched.combined_N, distributed.combined_N)
    u_combined_N = _u_of(combined_change_N, u_N, figures=6)
    return Tickets(
        tongue_N=tongue_N,
        u_tongue_N=_u_of(tongue_N, u_N, figures=4),
        front_lost_N=_change(hitched.front_N, unhitched.front_N),
        u_front_lost_N=_u_of(_change(hitched.front_N, unhitched.front_N), u_N, figures=2),
        front_regained_N=_change(hitched.front_N, distributed.front_N),
        u_front_regained_N=_u_of(_change(hitched.front_N, distributed.front_N), u_N, figures=2),
        trailer_N=trailer_N,
        u_trailer_N=_u_of(trailer_N, u_N, figures=5),
        tongue_share_percent=share_percent,
        u_tongue_share_percent=u_share_percent,
        combined_change_N=combined_change_N,
        u_combined_change_N=u_combined_N,
        combined_agrees=_agree(combined_change_N, u_combined_N),
    )


def _change(before_N: float | None, after_N: float | None) -> float | None:
    if not usable(before_N) or not usable(after_N):
        return None
    return after_N - before_N


def _sum(one_N: float | None, other_N: float | None) -> float | None:
    if not usable(one_N) or not usable(other_N):
        return None
    return one_N + other_N


def _u_of(value_N: float | None, u_N: float | None, *, figures: int) -> float | None:
    """The u of a sum or difference of so many figures of the scale."""
    if value_N is None or u_N is None:
        return None
    return u_N * math.sqrt(figures)


def _agree(change_N: float | None, u_N: float | None) -> bool | None:
    if change_N is None or u_N is None:
        return None
    return abs(change_N) <= COVERAGE * u_N


def _tongue_share(
    tongue_N: float | None, trailer_axles_N: float | None, u_N: float | None
) -> tuple[float | None, float | None]:
    """100·t/(T + t) and its u: ∂/∂t = T/(T + t)², ∂/∂T = −t/(T + t)², u(t) = 2u for its four figures."""
    if not usable(tongue_N) or not usable(trailer_axles_N):
        return None, None
    trailer_N = tongue_N + trailer_axles_N
    if not positive(trailer_N):
        return None, None
    share_percent = 100 * tongue_N / trailer_N
    if u_N is None:
        return share_percent, None
    u_share = root_sum_square(trailer_axles_N / trailer_N * 2 * u_N, tongue_N / trailer_N * u_N) / trailer_N
    return share_percent, 100 * u_share
