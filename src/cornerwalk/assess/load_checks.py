"""Load checks: ratings in the worst weighing, tongue share, hitch, and whether the weighings agree.

Helper springs raise no rating and move no load between the axles, so these checks read weights, never heights. The one
exception is the front-axle load restored by a load-distributing hitch, which the trade reads from front heights.
"""

from __future__ import annotations

from typing import LiteralString

from cornerwalk.assess.assessment import CheckKind
from cornerwalk.assess.checks import Check, CheckContext
from cornerwalk.assess.ratings import RatingName, payload_left
from cornerwalk.assess.verdict import Side

RATINGS: dict[RatingName, CheckKind] = {
    "front axle": CheckKind(
        id="front-axle-rating",
        name="front axle against its rating",
        needs="the front axle weighed as loaded; heights are not weights",
    ),
    "rear axle": CheckKind(
        id="rear-axle-rating",
        name="rear axle against its rating",
        needs="the rear axle weighed as loaded; heights are not weights",
    ),
    "front tyres": CheckKind(
        id="front-tires-rating",
        name="front tires against their rating",
        recorded="front tyres against their rating",
        needs="the front axle weighed as loaded; heights are not weights",
    ),
    "rear tyres": CheckKind(
        id="rear-tires-rating",
        name="rear tires against their rating",
        recorded="rear tyres against their rating",
        needs="the rear axle weighed as loaded; heights are not weights",
    ),
    "gross": CheckKind(
        id="gross-rating",
        name="vehicle against GVWR",
        recorded="vehicle against its gross rating",
        needs="both axles weighed as loaded; heights are not weights",
    ),
    "combined": CheckKind(
        id="combined-rating",
        name="vehicle and trailer against GCWR",
        recorded="vehicle and trailer against the combined rating",
        needs="vehicle and trailer weighed together; heights are not weights",
    ),
    "hitch": CheckKind(
        id="hitch-rating",
        name="tongue weight against the hitch rating",
        recorded="tongue load against the hitch rating",
        needs="the tongue weight; heights are not weights",
    ),
    "trailer": CheckKind(
        id="trailer-rating",
        name="trailer against trailer GVWR",
        recorded="trailer against its gross rating",
        needs="the trailer's weight; heights are not weights",
    ),
}
WITH_TRAILER: dict[RatingName, CheckKind] = {
    "front axle": CheckKind(
        id="front-axle-rating-hitched",
        name="front axle against its rating, hitched",
        needs="the front axle weighed as loaded, with the trailer on; heights are not weights",
    ),
    "rear axle": CheckKind(
        id="rear-axle-rating-hitched",
        name="rear axle against its rating, hitched",
        needs="the rear axle weighed as loaded, with the trailer on; heights are not weights",
    ),
    "front tyres": CheckKind(
        id="front-tires-rating-hitched",
        name="front tires against their rating, hitched",
        recorded="front tyres against their rating, hitched",
        needs="the front axle weighed as loaded, with the trailer on; heights are not weights",
    ),
    "rear tyres": CheckKind(
        id="rear-tires-rating-hitched",
        name="rear tires against their rating, hitched",
        recorded="rear tyres against their rating, hitched",
        needs="the rear axle weighed as loaded, with the trailer on; heights are not weights",
    ),
    "gross": CheckKind(
        id="gross-rating-hitched",
        name="vehicle against GVWR, hitched",
        recorded="vehicle against its gross rating, hitched",
        needs="both axles weighed as loaded, with the trailer on; heights are not weights",
    ),
    "combined": CheckKind(
        id="combined-rating-hitched",
        name="vehicle and trailer against GCWR, hitched",
        recorded="vehicle and trailer against the combined rating, hitched",
        needs="vehicle and trailer weighed together, with the trailer on; heights are not weights",
    ),
}
"""The same with the trailer on, where the ticket is of the vehicle alone."""
_FACTS: dict[RatingName, str] = {
    "front axle": "vehicle.gawr_front",
    "rear axle": "vehicle.gawr_rear",
    "front tyres": "vehicle.tyre_rating_front",
    "rear tyres": "vehicle.tyre_rating_rear",
    "gross": "vehicle.gvwr",
    "combined": "vehicle.gcwr",
    "hitch": "hitch.rating",
    "trailer": "trailer.gvwr",
}
"""Where each rating is stated."""
CAPACITY = CheckKind(
    id="loading-label", name="people and loads against the loading label", needs="how many people are aboard"
)
WEIGHINGS_AGREE = CheckKind(
    id="weighings-agree",
    name="combined weight agrees between weighings",
    needs="all three axle groups of both weighings",
    source="statics: a hitch moves load and makes none",
    standing="derived",
)
TONGUE_SHARE = CheckKind(
    id="tongue-share",
    name="tongue weight, percent of the trailer",
    recorded="tongue share of the trailer",
    needs="the trailer's weight",
)
RESTORED = CheckKind(
    id="front-axle-restored",
    name="front-axle load restored",
    needs="three weighings, or front heights unhitched, hitched and with the bars on",
)
RESTORED_BY_RULE = CheckKind(
    id="front-axle-restored-by-rule",
    name="front-axle load restored against the maker's rule",
    needs="which rule the maker gives",
)
RESTORED_LIMITS: dict[Side, CheckKind] = {
    "lower": CheckKind(id="front-axle-restored-lower", name="front-axle load restored, lower limit"),
    "upper": CheckKind(id="front-axle-restored-upper", name="front-axle load restored, upper limit"),
}
_RATING_LABEL: LiteralString = "the rating label; helper springs do not raise it"
_RATING_LABEL_BY_LEVER: LiteralString = (
    "the rating label; helper springs do not raise it; hitched load by lever from the unhitched weighing"
)
_LOADING_LABEL: LiteralString = "the vehicle's loading label"
_A_PERSON: LiteralString = "150 lb a person"
_OWN_RULE: LiteralString = "the maker's own rule, as entered"
_NOT_RAISED: LiteralString = "helper springs do not raise it"
_ALWAYS_ASKED: frozenset[RatingName] = frozenset(("front axle", "rear axle", "gross"))
"""Ratings every vehicle has; the others are asked for only where the job has such a thing."""


def _ratings(found: CheckContext) -> None:
    hitched = found.axles.tongue_N is not None or found.session.hitch.kind is not None
    for rating in found.against:
        kind = RATINGS[rating.rating]
        if rating.limit_N is None:
            asked = rating.rating in _ALWAYS_ASKED or (rating.rating == "hitch" and hitched)
            if asked:
                found.need(kind, "the rating, from its label", fact=_FACTS[rating.rating])
            continue
        if rating.value_N is None:
            found.need(kind)
            continue
        found.hold(
            kind,
            rating.value_N,
            rating.limit_N,
            U=2 * (rating.u_N or 0.0),
            unit="N",
            side="upper",
            source=_RATING_LABEL_BY_LEVER if found.by_lever else _RATING_LABEL,
            standing="own",
        )
        if hitched and "hitched" in rating.missing and rating.rating in WITH_TRAILER:
            found.need(WITH_TRAILER[rating.rating])


def _capacity(found: CheckContext) -> None:
    """People and stated loads, the tongue among them, against the tyre-and-loading label; a check without a scale."""
    vehicle = found.session.vehicle
    if vehicle.capacity_N is None:
        return
    if vehicle.occupants is None:
        found.need(CAPACITY, fact="vehicle.occupants")
        return
    seat = found.standards.limits["seat-allowance"]
    aboard_N = [load.weight_N for load in found.session.loads] + [vehicle.occupants * seat.value]
    left_N = payload_left(vehicle.capacity_N, aboard_N)
    if left_N is None:
        return
    found.hold(
        CAPACITY,
        vehicle.capacity_N - left_N,
        vehicle.capacity_N,
        U=0.0,
        unit="N",
        side="upper",
        source=f"{_LOADING_LABEL}; {_A_PERSON}: {seat.source}; {_NOT_RAISED}",
        standing=seat.standing,
    )


def _weighings_agree(found: CheckContext) -> None:
    change, u = found.tickets.combined_change_N, found.tickets.u_combined_change_N
    if change is not None and u is not None:
        found.hold(WEIGHINGS_AGREE, abs(change), 2 * u, U=0.0, unit="N", side="upper")
    elif {"hitched", "distributed"} <= set(found.session.weighings):
        found.need(WEIGHINGS_AGREE)


def _tongue_share(found: CheckContext) -> None:
    axles, trailer = found.axles, found.session.trailer
    if axles.tongue_N is None:
        return
    if axles.trailer_N is None or axles.tongue_share_percent is None:
        found.need(TONGUE_SHARE, fact="trailer.weight")
        return
    share = axles.tongue_share_percent
    low, high = found.standards.limits["tongue-share-low"], found.standards.limits["tongue-share-high"]
    own_low, own_high = trailer.tongue_share_low_percent, trailer.tongue_share_high_percent
    lowest, highest = low.value if own_low is None else own_low, high.value if own_high is None else own_high
    U = 2 * (axles.u_tongue_share_percent or 0.0)
    middle = (lowest + highest) / 2
    own, limit = (own_low, low) if share < middle else (own_high, high)
    found.hold(
        TONGUE_SHARE,
        share,
        limit.value if own is None else own,
        U=U,
        unit="%",
        side="lower" if share < middle else "upper",
        source=limit.source if own is None else _OWN_RULE,
        standing=limit.standing if own is None else "own",
    )


def _restoration(found: CheckContext) -> None:
    if found.session.hitch.kind != "load-distributing":
        return
    restored = found.restoration
    if restored is None:
        found.need(RESTORED)
        return
    rule_id = found.session.hitch.restoration_rule
    rule = found.standards.restoration_rules.get(rule_id) if rule_id else None
    if rule is None:
        found.need(RESTORED_BY_RULE, fact="hitch.restoration_rule")
        return
    U = restored.k * restored.u_percent if restored.u_percent is not None else 0.0
    limits: tuple[tuple[Side, float | None], ...] = (("lower", rule.low_percent), ("upper", rule.high_percent))
    for side, limit in limits:
        if limit is not None:
            found.hold(
                RESTORED_LIMITS[side],
                restored.percent,
                limit,
                U=U,
                unit="%",
                side=side,
                source=rule.source,
                standing=rule.standing,
            )


LOAD_CHECKS: tuple[Check, ...] = (_ratings, _capacity, _weighings_agree, _tongue_share, _restoration)
