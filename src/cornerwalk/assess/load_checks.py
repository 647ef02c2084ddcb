"""Load checks: ratings in the worst weighing, tongue share, hitch, and whether the weighings agree.

Helper springs raise no rating and move no load between the axles, so these checks read weights, never heights. The one
exception is the front-axle load restored by a load-distributing hitch, which the trade reads from front heights.
"""

from __future__ import annotations

from cornerwalk.assess.checks import Check, CheckContext
from cornerwalk.assess.ratings import RatingName, payload_left
from cornerwalk.assess.verdict import Side

_LABEL = "the rating label; helper springs do not raise it"
_RATINGS: dict[RatingName, tuple[str, str, str]] = {
    "front axle": ("front axle against its rating", "vehicle.gawr_front", "the front axle weighed as loaded"),
    "rear axle": ("rear axle against its rating", "vehicle.gawr_rear", "the rear axle weighed as loaded"),
    "front tyres": (
        "front tyres against their rating",
        "vehicle.tyre_rating_front",
        "the front axle weighed as loaded",
    ),
    "rear tyres": ("rear tyres against their rating", "vehicle.tyre_rating_rear", "the rear axle weighed as loaded"),
    "gross": ("vehicle against its gross rating", "vehicle.gvwr", "both axles weighed as loaded"),
    "combined": (
        "vehicle and trailer against the combined rating",
        "vehicle.gcwr",
        "vehicle and trailer weighed together",
    ),
    "hitch": ("tongue load against the hitch rating", "hitch.rating", "the tongue load"),
    "trailer": ("trailer against its gross rating", "trailer.gvwr", "the trailer's weight"),
}
_ALWAYS_ASKED: frozenset[RatingName] = frozenset(("front axle", "rear axle", "gross"))
"""Ratings every vehicle has; the others are asked for only where the job has such a thing."""


def _ratings(found: CheckContext) -> None:
    hitched = found.axles.tongue_N is not None or found.session.hitch.kind is not None
    for rating in found.against:
        check, fact, needs = _RATINGS[rating.rating]
        if rating.limit_N is None:
            asked = rating.rating in _ALWAYS_ASKED or (rating.rating == "hitch" and hitched)
            if asked:
                found.need(check, "the rating, from its label", fact)
            continue
        if rating.value_N is None:
            found.need(check, f"{needs}; heights do not weigh")
            continue
        found.hold(
            check,
            rating.value_N,
            rating.limit_N,
            U=2 * (rating.u_N or 0.0),
            unit="N",
            side="upper",
            source=f"{_LABEL}; hitched load by lever from the unhitched weighing" if found.by_lever else _LABEL,
            standing="own",
        )
        if hitched and "hitched" in rating.missing and rating.rating not in ("hitch", "trailer"):
            found.need(f"{check}, hitched", f"{needs}, with the trailer on; heights do not weigh")


def _capacity(found: CheckContext) -> None:
    """People and stated loads, the tongue among them, against the tyre-and-loading label; a check without a scale."""
    vehicle = found.session.vehicle
    check = "people and loads against the loading label"
    if vehicle.capacity_N is None:
        return
    if vehicle.occupants is None:
        found.need(check, "how many people are aboard", "vehicle.occupants")
        return
    seat = found.standards.limits["seat-allowance"]
    aboard_N = [load.weight_N for load in found.session.loads] + [vehicle.occupants * seat.value]
    left_N = payload_left(vehicle.capacity_N, aboard_N)
    if left_N is None:
        return
    found.hold(
        check,
        vehicle.capacity_N - left_N,
        vehicle.capacity_N,
        U=0.0,
        unit="N",
        side="upper",
        source=f"the vehicle's loading label; 150 lb a person: {seat.source}; helper springs do not raise it",
        standing=seat.standing,
    )


def _weighings_agree(found: CheckContext) -> None:
    change, u = found.tickets.combined_change_N, found.tickets.u_combined_change_N
    check = "combined weight agrees between weighings"
    if change is not None and u is not None:
        source = "statics: a hitch moves load and makes none"
        found.hold(check, abs(change), 2 * u, U=0.0, unit="N", side="upper", source=source, standing="derived")
    elif {"hitched", "distributed"} <= set(found.session.weighings):
        found.need(check, "all three axle groups of both weighings")


def _tongue_share(found: CheckContext) -> None:
    axles, trailer = found.axles, found.session.trailer
    check = "tongue share of the trailer"
    if axles.tongue_N is None:
        return
    if axles.trailer_N is None or axles.tongue_share_percent is None:
        found.need(check, "the trailer's weight", "trailer.weight")
        return
    share = axles.tongue_share_percent
    low, high = found.standards.limits["tongue-share-low"], found.standards.limits["tongue-share-high"]
    own_low, own_high = trailer.tongue_share_low_percent, trailer.tongue_share_high_percent
    lowest, highest = low.value if own_low is None else own_low, high.value if own_high is None else own_high
    U = 2 * (axles.u_tongue_share_percent or 0.0)
    middle = (lowest + highest) / 2
    own, limit = (own_low, low) if share < middle else (own_high, high)
    found.hold(
        check,
        share,
        limit.value if own is None else own,
        U=U,
        unit="%",
        side="lower" if share < middle else "upper",
        source=limit.source if own is None else "the maker's own rule, as entered",
        standing=limit.standing if own is None else "own",
    )


def _restoration(found: CheckContext) -> None:
    if found.session.hitch.kind != "load-distributing":
        return
    check = "front-axle load restored"
    restored = found.restoration
    if restored is None:
        found.need(check, "three weighings, or front heights unhitched, hitched and with the bars on")
        return
    rule_id = found.session.hitch.restoration_rule
    rule = found.standards.restoration_rules.get(rule_id) if rule_id else None
    if rule is None:
        found.need(f"{check} against the maker's rule", "which rule the maker gives", "hitch.restoration_rule")
        return
    U = 2 * restored.u_percent if restored.u_percent is not None else 0.0
    limits: tuple[tuple[Side, float | None], ...] = (("lower", rule.low_percent), ("upper", rule.high_percent))
    for side, limit in limits:
        if limit is not None:
            found.hold(
                f"{check}, {side} limit",
                restored.percent,
                limit,
                U=U,
                unit="%",
                side=side,
                source=rule.source,
                standing=rule.standing,
            )


LOAD_CHECKS: tuple[Check, ...] = (_ratings, _capacity, _weighings_agree, _tongue_share, _restoration)
