"""Axle loads: what each load puts on each axle, by leverage about the other axle.

A load W at x ahead of the rear axle (behind it x is negative), wheelbase L, vehicle standing still on level ground:

    front axle  + W · x / L          rear axle  + W · (L − x) / L

With x = −b that is the hitch ball: rear + W (L + b)/L, front − W b/L. Several loads add. The body's own tilt moves the
arms by its cosine (0.01 % at 1°) and is left out. Helper springs do not appear: their force is internal between axle
and body, so they change heights and no axle load.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from cornerwalk.assess.uncertainty import COVERAGE
from cornerwalk.assess.usable import positive, root_sum_square, usable


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadAt:
    """A load as a force, and where it acts: `ahead_mm` of the rear axle, behind it negative.

    `u_weight_N` is None where the weight was stated and not weighed: then nothing computed from it has a ±.
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
    """The share of a load that the rear axle carries, (L − x)/L: more than one for a load behind it.

    >>> round(rear_share(3022.6, -1168.4), 6)
    1.386555
    """
    if not positive(wheelbase_mm) or not usable(ahead_mm):
        return None
    return (wheelbase_mm - ahead_mm) / wheelbase_mm


def load_of_rear_gain(rear_gain_N: float | None, wheelbase_mm: float | None, ahead_mm: float | None) -> float | None:
    """The load at x that puts this much on the rear axle, N: the lever solved for the load.

    None for a load over the front axle, which puts nothing on the rear one.

    >>> round(load_of_rear_gain(951.0344827586207, 145.0, -52.0), 6)
    700.0
    """
    share = rear_share(wheelbase_mm, ahead_mm)
    if not usable(rear_gain_N) or share is None or not positive(abs(share)):
        return None
    return rear_gain_N / share


# ---- ride rate and carried load ----
#
#     ride rate  K = G / D₀        carried  C = K · (h_fitted − h_loaded)
#
# G is what the load put on the rear axle, D₀ = h_unloaded − h_loaded the drop it caused without air. K is an estimate:
# friction holds the body up or down and a bump stop stiffens it; both show as a rate that does not repeat.
#
# Heights from the ground give K of suspension and tire in series. Air acts on the suspension only, since the tire
# carries the same with it, so C then reads low by K/K_suspension: 10 to 11 % for two published cars (see the tests).

NoRate = Literal["readings missing", "no load on the rear", "rear did not drop", "drop within its uncertainty"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Height:
    """A rear height, mm, with its standard uncertainty."""

    mm: float
    u_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RideRate:
    """K with its standard uncertainty, or the reason why there is none.

    `gain_has_u` False: the load was stated, not weighed, and u holds for the heights alone.
    """

    rate_N_per_mm: float | None = None
    u_rate_N_per_mm: float | None = None
    gain_has_u: bool = False
    reason: NoRate | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ForceEstimate:
    """A force with its standard uncertainty, N; u without the load's own where that was stated, not weighed."""

    force_N: float
    u_force_N: float


def ride_rate(
    gain_N: float | None, unloaded: Height | None, loaded: Height | None, *, u_gain_N: float | None = None
) -> RideRate:
    """K = G/D₀; u(K)/K = √((u(G)/G)² + (u(D₀)/D₀)²), heights independent.

    >>> worked = ride_rate(568.487395, Height(mm=29.21875, u_mm=0.0255), Height(mm=27.6875, u_mm=0.0255))
    >>> round(worked.rate_N_per_mm, 3)
    371.257
    """
    if unloaded is None or loaded is None or not usable(gain_N) or not (_usable(unloaded) and _usable(loaded)):
        return RideRate(reason="readings missing")
    if not positive(gain_N):
        return RideRate(reason="no load on the rear")
    drop_mm = unloaded.mm - loaded.mm
    u_drop_mm = root_sum_square(unloaded.u_mm, loaded.u_mm)
    if not positive(drop_mm):
        return RideRate(reason="rear did not drop")
    if drop_mm <= COVERAGE * u_drop_mm:
        return RideRate(reason="drop within its uncertainty")
    rate = gain_N / drop_mm
    u_rate = root_sum_square(rate / drop_mm * u_drop_mm, _u_or_zero(u_gain_N) / drop_mm)
    return RideRate(rate_N_per_mm=rate, u_rate_N_per_mm=u_rate, gain_has_u=usable(u_gain_N))


def carried_load(
    gain_N: float | None,
    unloaded: Height | None,
    loaded: Height | None,
    fitted: Height | None,
    *,
    u_gain_N: float | None = None,
) -> ForceEstimate | None:
    """What the helper springs carry, C = G·ρ with ρ = (h_fitted − h_loaded)/D₀; None without a ride rate.

    The loaded height is in both differences, so its u enters once: u(C)² = K²·[u²(h_f) + (1 − ρ)²u²(h_l) + ρ²u²(h_u)]
    + ρ²u²(G). `fitted` may be read, or what the trials' line gives at a pressure. At ρ = 1 the springs carry all that
    the load put on the rear axle. From ground heights the true figure is somewhat more, as above.
    """
    rate = ride_rate(gain_N, unloaded, loaded, u_gain_N=u_gain_N).rate_N_per_mm
    if rate is None or unloaded is None or loaded is None or fitted is None or not _usable(fitted):
        return None
    part = (fitted.mm - loaded.mm) / (unloaded.mm - loaded.mm)
    by_heights = root_sum_square(fitted.u_mm, (1 - part) * loaded.u_mm, part * unloaded.u_mm)
    return ForceEstimate(
        force_N=rate * (fitted.mm - loaded.mm),
        u_force_N=root_sum_square(rate * by_heights, part * _u_or_zero(u_gain_N)),
    )


def rear_gain_of_drop(rate: RideRate, drop_mm: float | None, u_drop_mm: float | None) -> ForceEstimate | None:
    """The load on the rear axle that another drop without air indicates, K·drop, N; an estimate.

    The drop must be of other readings than the rate, and the helper springs at the pressure they had for it.
    """
    if not (usable(rate.rate_N_per_mm) and usable(rate.u_rate_N_per_mm) and usable(drop_mm) and usable(u_drop_mm)):
        return None
    return ForceEstimate(
        force_N=rate.rate_N_per_mm * drop_mm,
        u_force_N=root_sum_square(rate.rate_N_per_mm * u_drop_mm, drop_mm * rate.u_rate_N_per_mm),
    )


def _usable(height: Height) -> bool:
    return usable(height.mm) and usable(height.u_mm)


def _u_or_zero(u: float | None) -> float:
    return u if usable(u) else 0.0
