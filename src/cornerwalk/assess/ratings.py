"""Ratings: the worst weighing against each, and how much tongue load there is room for.

A rating is set by the maker of the vehicle, hitch or tire and is on their label. Helper springs raise none of them.
Sources: 49 CFR 571.3 (GVWR, GAWR) and 571.110 S3, S4.3 (vehicle capacity weight), seen second-hand and seen.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

from cornerwalk.assess.axles import rear_share
from cornerwalk.assess.usable import positive, usable
from cornerwalk.assess.weighing import NO_TICKET, ScaleTicket, Tickets, WeighingName, u_of_scale

RatingName = Literal["front axle", "rear axle", "front tyres", "rear tyres", "gross", "combined", "hitch", "trailer"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Ratings:
    """The ratings as forces; None is "not stated". Gross is GVWR, combined GCWR, hitch its tongue load."""

    front_axle_N: float | None = None
    rear_axle_N: float | None = None
    front_tyres_N: float | None = None
    rear_tyres_N: float | None = None
    gross_N: float | None = None
    combined_N: float | None = None
    hitch_N: float | None = None
    trailer_N: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class RatingComparison:
    """The worst weighing against one rating.

    `value_N` is None where no ticket says it, `limit_N` where the rating is not stated: then it is not checked.
    `missing` are weighings that could have been worse and were not made.
    """

    rating: RatingName
    limit_N: float | None
    value_N: float | None
    u_N: float | None
    weighing: WeighingName | None
    missing: tuple[WeighingName, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class TongueRoom:
    """The largest tongue load within one rating; zero and `over_already` where it is exceeded without any."""

    rating: RatingName
    largest_N: float
    u_N: float | None
    over_already: bool


def compare_to_ratings(
    weighings: Mapping[WeighingName, ScaleTicket], tickets: Tickets, ratings: Ratings, *, step_N: float | None = None
) -> tuple[RatingComparison, ...]:
    """Each rating with the heaviest figure of any weighing: the rear axle is often worst hitched, bars off.

    Every rating is returned, so that one not stated or not weighed cannot be overlooked.
    """
    u_N = u_of_scale(step_N)
    all_three: tuple[WeighingName, ...] = ("unhitched", "hitched", "distributed")
    towing: tuple[WeighingName, ...] = ("hitched", "distributed")
    made = {name: weighings.get(name, NO_TICKET) for name in all_three}
    fronts = {name: made[name].front_N for name in all_three}
    rears = {name: made[name].rear_N for name in all_three}
    hitched: WeighingName = "hitched"
    return (
        _worst("front axle", ratings.front_axle_N, fronts, u_N, figures=1),
        _worst("rear axle", ratings.rear_axle_N, rears, u_N, figures=1),
        _worst("front tyres", ratings.front_tyres_N, fronts, u_N, figures=1),
        _worst("rear tyres", ratings.rear_tyres_N, rears, u_N, figures=1),
        _worst("gross", ratings.gross_N, {name: made[name].gross_N for name in all_three}, u_N, figures=2),
        _worst("combined", ratings.combined_N, {name: made[name].combined_N for name in towing}, u_N, figures=3),
        _worst("hitch", ratings.hitch_N, {hitched: tickets.tongue_N}, u_N, figures=4),
        _worst("trailer", ratings.trailer_N, {hitched: tickets.trailer_N}, u_N, figures=5),
    )


def _worst(
    rating: RatingName,
    limit_N: float | None,
    values_N: Mapping[WeighingName, float | None],
    u_N: float | None,
    *,
    figures: int,
) -> RatingComparison:
    """The heaviest of the values; `figures` of the scale went into each."""
    known = {name: value for name, value in values_N.items() if usable(value)}
    worst = max(known, key=known.__getitem__, default=None)
    return RatingComparison(
        rating=rating,
        limit_N=limit_N if usable(limit_N) else None,
        value_N=known[worst] if worst is not None else None,
        u_N=u_N * math.sqrt(figures) if u_N is not None and worst is not None else None,
        weighing=worst,
        missing=tuple(name for name in values_N if name not in known),
    )


def tongue_room(
    unhitched: ScaleTicket,
    ratings: Ratings,
    *,
    wheelbase_mm: float | None,
    overhang_mm: float | None,
    step_N: float | None = None,
) -> tuple[TongueRoom, ...]:
    """The largest tongue load W on a ball `overhang_mm` behind the rear axle, for each rating, the smallest first.

    rear: R + W(L + b)/L ≤ rating; front: F − Wb/L ≤ rating; gross: F + R + W ≤ rating; hitch: W ≤ rating. A rating
    that a tongue load cannot reach (the front's, as it lightens) is not in the answer unless it is over already. GCWR
    and the trailer's own rating limit the trailer, not its tongue, and are not here either. Without distribution bars.
    """
    u_N = u_of_scale(step_N)
    share = rear_share(wheelbase_mm, None if overhang_mm is None else -overhang_mm)
    rooms = [
        _room("gross", ratings.gross_N, unhitched.gross_N, 1.0, u_N, figures=2),
        _room("hitch", ratings.hitch_N, 0.0, 1.0, 0.0, figures=1),
    ]
    if share is not None:
        rooms += [
            _room("rear axle", ratings.rear_axle_N, unhitched.rear_N, share, u_N, figures=1),
            _room("rear tyres", ratings.rear_tyres_N, unhitched.rear_N, share, u_N, figures=1),
            _room("front axle", ratings.front_axle_N, unhitched.front_N, 1 - share, u_N, figures=1),
            _room("front tyres", ratings.front_tyres_N, unhitched.front_N, 1 - share, u_N, figures=1),
        ]
    return tuple(sorted((room for room in rooms if room is not None), key=lambda room: room.largest_N))


def _room(
    rating: RatingName, limit_N: float | None, now_N: float | None, share: float, u_N: float | None, *, figures: int
) -> TongueRoom | None:
    """W where now + share·W meets the limit."""
    if not usable(limit_N) or not usable(now_N):
        return None
    left_N = limit_N - now_N
    if left_N < 0:
        return TongueRoom(rating=rating, largest_N=0.0, u_N=None, over_already=True)
    if not positive(share):
        return None
    u_room_N = u_N * math.sqrt(figures) / share if u_N is not None else None
    return TongueRoom(rating=rating, largest_N=left_N / share, u_N=u_room_N, over_already=False)


def payload_left(capacity_N: float | None, aboard_N: Iterable[float]) -> float | None:
    """What the tyre-and-loading label's capacity still allows, N; negative is over. A tongue load counts as aboard.

    Source: the steps printed with the label, FMVSS 110 S4.3 and owner's manuals (seen).

    >>> payload_left(1000.0, [5 * 150.0])
    250.0
    """
    weights_N = tuple(aboard_N)
    if not usable(capacity_N) or not all(usable(weight_N) for weight_N in weights_N):
        return None
    return capacity_N - sum(weights_N)
