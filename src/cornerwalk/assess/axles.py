"""Axle loads: what each load puts on each axle, by leverage about the other axle.

A load W at x ahead of the rear axle (behind it x is negative), wheelbase L, vehicle standing still on level ground:

    front axle  + W · x / L          rear axle  + W · (L − x) / L

With x = −b that is the hitch ball: rear + W (L + b)/L, front − W b/L. Several loads add. The body's own tilt moves the
arms by its cosine (0.01 % at 1°) and is left out. Helper springs do not appear: their force is internal between axle
and body, so they change heights and no axle load.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from cornerwalk.assess.estimate import Estimate, combine, usable_estimate
from cornerwalk.assess.usable import positive, usable


@dataclass(frozen=True, slots=True)
class LoadAt:
    """A load as a force, N, and where it acts, mm ahead of the rear axle; behind it is negative."""

    weight: Estimate
    ahead: Estimate


@dataclass(frozen=True, slots=True)
class AxleGains:
    """What the loads add to each axle, N."""

    rear: Estimate
    front: Estimate


def axle_gains(loads: Sequence[LoadAt], wheelbase_mm: Estimate | None) -> AxleGains | None:
    """What the loads together add to each axle, N.

    None without a load or a wheelbase. Source: statics; open textbooks' beams on two supports (see the tests).

    >>> tongue = LoadAt(Estimate(700.0), Estimate(-52.0))
    >>> gains = axle_gains([tongue], Estimate(145.0))
    >>> round(gains.rear.value, 4), round(gains.front.value, 4)
    (951.0345, -251.0345)
    """
    wheelbase_mm = usable_estimate(wheelbase_mm)
    if wheelbase_mm is None or not positive(wheelbase_mm.value) or not loads:
        return None
    if any(usable_estimate(load.weight) is None or usable_estimate(load.ahead) is None for load in loads):
        return None
    length = wheelbase_mm.value
    total_N = sum(load.weight.value for load in loads)
    front_N = sum(load.weight.value * load.ahead.value for load in loads) / length
    front = [(-front_N / length, wheelbase_mm)]
    rear = [(front_N / length, wheelbase_mm)]
    for load in loads:
        arm, per_mm = load.ahead.value / length, load.weight.value / length
        front += [(arm, load.weight), (per_mm, load.ahead)]
        rear += [(1 - arm, load.weight), (-per_mm, load.ahead)]
    return AxleGains(rear=combine(total_N - front_N, *rear), front=combine(front_N, *front))


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


# ---- ride rate, and what the springs carry ----
#
#     ride rate  K = G/D₀        springs alone  1/K_s = D₀/G − C_t        carried  C = K_s · (h_fitted − h_loaded)
#
# G is what was put on the rear axle, D₀ = h_unloaded − h_loaded the drop it caused without air, C_t the compliance of
# the axle's tires. Heights from the ground have springs and tires in series in them. Air moves the body on its springs
# only, as the tires carry the same with it, so the load carried follows from K_s: with K in its place it reads low, by
# 15 to 35 % on a stiff truck. Heights from the wheel center give K_s directly, C_t = 0.
#
# The bounds of C are worked out on 1/C = (D₀/G − C_t)/lift, which is linear in G's inverse and in the tires, and turned
# back: they are not symmetric. Where 1/K_s is not above its own U only a lower bound is known, K·lift.
#
# Everything is at the wheel. A bag inside a coil on an arm carries more, by the arm's ratio.

NoRate = Literal["readings missing", "no load on the rear", "rear did not drop", "drop within its uncertainty"]


@dataclass(frozen=True, slots=True, kw_only=True)
class RideRate:
    """K in N/mm, or the reason why there is none."""

    rate: Estimate | None = None
    reason: NoRate | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class CarriedLoad:
    """What the helper springs carry, N.

    `high_N` None: there is no upper bound. `at_least`: only the lower one is known, and `force_N` is it.
    """

    force_N: float
    u_force_N: float
    low_N: float
    high_N: float | None
    k: float
    at_least: bool = False


def ride_rate(gain_N: Estimate | None, unloaded: Estimate | None, loaded: Estimate | None) -> RideRate:
    """K = G/D₀, of the rear axle's gain and its two heights in mm.

    >>> worked = ride_rate(Estimate(568.487395), Estimate(29.21875, 0.0255), Estimate(27.6875, 0.0255))
    >>> round(worked.rate.value, 3)
    371.257
    """
    gain_N, unloaded, loaded = usable_estimate(gain_N), usable_estimate(unloaded), usable_estimate(loaded)
    if gain_N is None or unloaded is None or loaded is None:
        return RideRate(reason="readings missing")
    if not positive(gain_N.value):
        return RideRate(reason="no load on the rear")
    drop_mm = unloaded - loaded
    if not positive(drop_mm.value):
        return RideRate(reason="rear did not drop")
    if drop_mm.value <= drop_mm.U:
        return RideRate(reason="drop within its uncertainty")
    rate = gain_N.value / drop_mm.value
    return RideRate(rate=combine(rate, (-rate / drop_mm.value, drop_mm), (1 / drop_mm.value, gain_N)))


def spring_compliance(
    gain_N: Estimate | None,
    unloaded: Estimate | None,
    loaded: Estimate | None,
    tires_mm_per_N: Estimate | None,
) -> Estimate | None:
    """1/K_s in mm/N; `tires_mm_per_N` is that of the axle's tires, None where heights are from the wheel center.

    >>> tires = Estimate(1 / 2900)                # 1450 lb/in each, in pounds and inches
    >>> round(1 / spring_compliance(Estimate(568.487395), Estimate(29.21875), Estimate(27.6875), tires).value, 3)
    425.763
    """
    rate = ride_rate(gain_N, unloaded, loaded).rate
    if rate is None or gain_N is None or unloaded is None or loaded is None:
        return None
    whole = 1 / rate.value
    compliance = combine(whole, (-whole * whole, rate))
    return compliance if tires_mm_per_N is None else compliance - tires_mm_per_N


def carried_load(
    gain_N: Estimate | None,
    unloaded: Estimate | None,
    loaded: Estimate | None,
    fitted: Estimate | None,
    tires_mm_per_N: Estimate | None = None,
) -> CarriedLoad | None:
    """What the helper springs carry once they lift the rear from `loaded` to `fitted`; None without a ride rate.

    `fitted` may be read, or be what the trials' line gives at a pressure.
    """
    rate = ride_rate(gain_N, unloaded, loaded).rate
    springs = spring_compliance(gain_N, unloaded, loaded, tires_mm_per_N)
    fitted = usable_estimate(fitted)
    if rate is None or springs is None or loaded is None or fitted is None:
        return None
    lift_mm = fitted - loaded
    if springs.value <= springs.U:
        least_N = rate.value * lift_mm.value
        whole = combine(least_N, (rate.value, lift_mm), (lift_mm.value, rate))
        return CarriedLoad(
            force_N=least_N, u_force_N=whole.u, low_N=least_N - whole.U, high_N=None, k=whole.k, at_least=True
        )
    force_N = lift_mm.value / springs.value
    carried = combine(force_N, (1 / springs.value, lift_mm), (-force_N / springs.value, springs))
    low_N, high_N = force_N - carried.U, force_N + carried.U
    if lift_mm.value > lift_mm.U:
        inverse, U = 1 / force_N, carried.U / force_N**2
        low_N, high_N = 1 / (inverse + U), 1 / (inverse - U) if inverse > U else math.inf
    return CarriedLoad(
        force_N=force_N,
        u_force_N=carried.u,
        low_N=low_N,
        high_N=high_N if usable(high_N) else None,
        k=carried.k,
    )


def rear_gain_of_drop(rate: Estimate | None, drop_mm: Estimate | None) -> Estimate | None:
    """The load on the rear axle that another drop without air indicates, K·drop, N; an estimate.

    The helper springs hold the pressure they held for the rate.
    """
    rate, drop_mm = usable_estimate(rate), usable_estimate(drop_mm)
    if rate is None or drop_mm is None:
        return None
    return combine(rate.value * drop_mm.value, (rate.value, drop_mm), (drop_mm.value, rate))
