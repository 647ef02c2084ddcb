"""What loads put on each axle, by the lever about the other one.

A load W at x ahead of the rear axle (behind it x is negative), wheelbase L, vehicle standing still on level ground:

    front axle  + W · x / L          rear axle  + W · (L − x) / L

With x = −b that is the hitch ball: rear + W (L + b)/L, front − W b/L. Several loads add. The body's own tilt moves the
arms by its cosine (0.01 % at 1°) and is left out. Helper springs appear nowhere in it: their force is internal between
axle and body, so they move heights and no axle load.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from cornerwalk.assess.usable import positive, root_sum_square, usable


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadAt:
    """A load as a force, and where it acts: `ahead_mm` of the rear axle, behind it negative.

    `u_weight_N` is None where the weight was stated and not weighed: then nothing reckoned from it has a ±.
    """

    weight_N: float
    ahead_mm: float
    u_weight_N: float | None = None
    u_ahead_mm: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class AxleGains:
    """What the loads add to each axle; `u_…` None where a weight was stated without one."""

    rear_N: float
    front_N: float
    u_rear_N: float | None
    u_front_N: float | None


def axle_gains(loads: Sequence[LoadAt], wheelbase_mm: float | None, *, u_wheelbase_mm: float = 0.0) -> AxleGains | None:
    """What the loads together add to each axle, N, with its standard uncertainty.

    None without a load or a wheelbase. Source: statics; open textbooks' beams on two supports (see the tests).

    >>> tongue = LoadAt(weight_N=700.0, ahead_mm=-52.0)
    >>> gains = axle_gains([tongue], 145.0)
    >>> round(gains.rear_N, 4), round(gains.front_N, 4)
    (951.0345, -251.0345)
    """
    if not positive(wheelbase_mm) or not usable(u_wheelbase_mm) or not loads:
        return None
    if not all(usable(load.weight_N) and usable(load.ahead_mm) and usable(load.u_ahead_mm) for load in loads):
        return None
    total_N = sum(load.weight_N for load in loads)
    moment_N_mm = sum(load.weight_N * load.ahead_mm for load in loads)
    front_N = moment_N_mm / wheelbase_mm
    u_rear_N, u_front_N = _u_of_gains(loads, wheelbase_mm, front_N, u_wheelbase_mm)
    return AxleGains(rear_N=total_N - front_N, front_N=front_N, u_rear_N=u_rear_N, u_front_N=u_front_N)


def _u_of_gains(
    loads: Sequence[LoadAt], wheelbase_mm: float, front_N: float, u_wheelbase_mm: float
) -> tuple[float | None, float | None]:
    """The u of the rear's and of the front's gain: ∂/∂W, ∂/∂x and ∂/∂L in quadrature; None if a weight has no u."""
    for_rear = [front_N / wheelbase_mm * u_wheelbase_mm]
    for_front = list(for_rear)
    for load in loads:
        u_weight_N = load.u_weight_N
        if not usable(u_weight_N):
            return None, None
        arm = load.ahead_mm / wheelbase_mm
        place = load.weight_N / wheelbase_mm * load.u_ahead_mm
        for_rear += [(1 - arm) * u_weight_N, place]
        for_front += [arm * u_weight_N, place]
    return root_sum_square(*for_rear), root_sum_square(*for_front)


def rear_share(wheelbase_mm: float | None, ahead_mm: float | None) -> float | None:
    """The part of a load that the rear axle bears, (L − x)/L: more than one for a load behind it.

    >>> round(rear_share(3022.6, -1168.4), 6)
    1.386555
    """
    if not positive(wheelbase_mm) or not usable(ahead_mm):
        return None
    return (wheelbase_mm - ahead_mm) / wheelbase_mm


def load_of_rear_gain(rear_gain_N: float | None, wheelbase_mm: float | None, ahead_mm: float | None) -> float | None:
    """The load at x that puts this much on the rear axle, N: the lever read backwards.

    None for a load over the front axle, which puts nothing on the rear one.

    >>> round(load_of_rear_gain(951.0344827586207, 145.0, -52.0), 6)
    700.0
    """
    share = rear_share(wheelbase_mm, ahead_mm)
    if not usable(rear_gain_N) or share is None or not positive(abs(share)):
        return None
    return rear_gain_N / share
