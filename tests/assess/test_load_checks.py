"""Checks on what the axles carry, each from figures given to it: value, limit, uncertainty, side, source, and needs."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from cornerwalk.assess.assessment import AxleResult, Restoration
from cornerwalk.assess.load_checks import LOAD_CHECKS
from cornerwalk.assess.ratings import RatingComparison
from cornerwalk.assess.weighing import Tickets
from cornerwalk.session.model import AxleWeights, Hitch, Load, Session, Trailer, Vehicle
from tests.assess.given import NO_AXLES, Asked, Made, checked, result, tickets
from tests.support.jobs import standards

LABEL = "the rating label; helper springs do not raise it"
AGREE = "weighings-agree"
SHARE = "tongue-share"
RESTORED = "front-axle-restored"


def held(session: Session | None = None, **known: Any) -> tuple[Made, Asked]:
    """What the checks on loads make of it, and what they ask for."""
    return checked(LOAD_CHECKS, session, **known)


def against(rating: Any = "rear axle", **given: Any) -> RatingComparison:
    """The rear axle at 13 000 N of 14 000."""
    known = {"limit_N": 14_000.0, "value_N": 13_000.0, "u_N": 30.0, "weighing": "hitched", "missing": ()}
    return RatingComparison(rating=rating, **(known | given))  # type: ignore[arg-type]


def test_nothing_known_is_nothing_held_and_nothing_asked() -> None:
    """A job without scale, tongue or label has none of these checks; the ratings are asked for by what lists them."""
    assert held() == ({}, {})


@pytest.mark.parametrize(("u_N", "U"), [(30.0, 60.0), (None, 0.0)])
@pytest.mark.parametrize(
    ("by_lever", "more"), [(False, ""), (True, "; hitched load by lever from the unhitched weighing")]
)
def test_a_rating_is_held_with_two_u(u_N: float | None, U: float, by_lever: bool, more: str) -> None:  # noqa: FBT001
    """Its value above the limit is bad; the source is the label, and says where the load was not weighed as it is."""
    made, asked = held(against=(against(u_N=u_N),), by_lever=by_lever)
    name = "rear-axle-rating"
    assert made == {name: result(name, (13_000.0, 14_000.0, U, "N"), "pass", (LABEL + more, "own"))}
    assert asked == {}


HITCHED = replace(Session(), hitch=Hitch(kind="ball only"))


@pytest.mark.parametrize(
    ("rating", "session", "asked"),
    [
        (against(missing=("hitched",)), HITCHED, {"rear-axle-rating-hitched"}),
        (against("front axle", missing=("hitched",)), HITCHED, {"front-axle-rating-hitched"}),
        (against(missing=("hitched",)), Session(), set()),
        (against(missing=("distributed",)), HITCHED, set()),
        (against("hitch", missing=("hitched",)), HITCHED, set()),
        (against("trailer", missing=("hitched",)), HITCHED, set()),
    ],
)
def test_a_worse_weighing_that_was_not_made_is_asked_for(
    rating: RatingComparison, session: Session, asked: set[str]
) -> None:
    """With a trailer on, an axle weighed without it is not the last word; hitch and trailer have no such weighing."""
    _, missing = held(session, against=(rating,))
    assert set(missing) == asked
    for check, (needs, fact) in missing.items():
        axle = check.partition("-axle")[0]
        assert (needs, fact) == (
            f"the {axle} axle weighed as loaded, with the trailer on; heights are not weights",
            None,
        )


def test_a_trailers_tongue_is_enough_to_be_hitched() -> None:
    """Where the hitch's kind is not stated a tongue load says that something hangs there."""
    _, missing = held(against=(against(missing=("hitched",)),), axles=replace(NO_AXLES, tongue_N=900.0))
    assert set(missing) == {"rear-axle-rating-hitched", SHARE}


def test_people_and_loads_say_whose_allowance_they_use() -> None:
    """With source and standing of the seat allowance beside the label."""
    vehicle = Vehicle(capacity_N=4000.0, occupants=2)
    session = replace(Session(), vehicle=vehicle, loads=(Load(name="load", weight_N=1000.0, ahead_mm=-100.0),))
    seat = standards().limits["seat-allowance"]
    made = held(session)[0]["loading-label"]
    assert made.value == pytest.approx(1000.0 + 2 * seat.value)
    assert made.source == f"the vehicle's loading label; 150 lb a person: {seat.source}; helper springs do not raise it"
    assert made.standing == seat.standing


@pytest.mark.parametrize(
    ("change_N", "verdict"), [(150.0, "pass"), (-150.0, "pass"), (-170.0, "fail"), (170.0, "fail")]
)
def test_weighings_agree_within_their_own_step(change_N: float, verdict: str) -> None:
    """A hitch moves load and makes none: 2 u is allowed either way, and the limit holds the uncertainty already."""
    made, asked = held(tickets=tickets(combined_change_N=change_N, u_combined_change_N=80.0))
    basis = ("statics: a hitch moves load and makes none", "derived")
    assert made == {AGREE: result(AGREE, (abs(change_N), 160.0, 0.0, "N"), verdict, basis)}
    assert asked == {}


WEIGHED = AxleWeights(weighing="hitched", front_N=1.0, rear_N=None, trailer_N=None)


@pytest.mark.parametrize(
    ("made", "known", "asked"),
    [
        (("hitched", "distributed"), tickets(), True),
        (("unhitched", "hitched", "distributed"), tickets(), True),
        (("hitched", "distributed"), tickets(combined_change_N=10.0), True),
        (("hitched", "distributed"), tickets(u_combined_change_N=10.0), True),
        (("unhitched", "hitched"), tickets(), False),
        (("unhitched", "distributed"), tickets(), False),
    ],
)
def test_two_weighings_that_cannot_be_held_together_ask_for_their_groups(
    made: tuple[Any, ...],
    known: Tickets,
    asked: bool,  # noqa: FBT001
) -> None:
    """Only where both were made and a figure of one is missing."""
    session = replace(Session(), weighings={name: replace(WEIGHED, weighing=name) for name in made})
    held_ones, missing = held(session, tickets=known)
    assert AGREE not in held_ones
    assert missing == ({AGREE: ("all three axle groups of both weighings", None)} if asked else {})


def share(percent: float, u: float | None = 0.25) -> AxleResult:
    """A tongue of this share of its trailer."""
    figures: dict[str, Any] = {
        "tongue_N": 1000.0,
        "trailer_N": 10_000.0,
        "tongue_share_percent": percent,
        "u_tongue_share_percent": u,
    }
    return replace(NO_AXLES, **figures)


OWN = "the maker's own rule, as entered"


@pytest.mark.parametrize(
    ("trailer", "percent", "u", "limit", "U", "verdict", "own"),
    [
        # Published: 10 to 15 %; the middle is 12.5 and belongs to the upper limit.
        (Trailer(), 9.0, 0.25, 10.0, 0.5, "fail", False),
        (Trailer(), 12.4, None, 10.0, 0.0, "pass", False),
        (Trailer(), 12.5, 0.25, 15.0, 0.5, "pass", False),
        (Trailer(), 16.0, 0.25, 15.0, 0.5, "fail", False),
        (Trailer(tongue_share_low_percent=4.0), 5.0, 0.25, 4.0, 0.5, "pass", True),
        (Trailer(tongue_share_low_percent=4.0), 14.0, 0.25, 15.0, 0.5, "pass", False),
        (Trailer(tongue_share_high_percent=11.0), 12.0, 0.25, 11.0, 0.5, "fail", True),
        (Trailer(tongue_share_high_percent=0.0), 6.0, 0.25, 0.0, 0.5, "fail", True),
        (Trailer(tongue_share_low_percent=0.0, tongue_share_high_percent=12.0), 7.3, 0.25, 12.0, 0.5, "pass", True),
    ],
)
def test_the_tongues_share_is_held_against_the_nearer_limit(
    trailer: Trailer,
    percent: float,
    u: float | None,
    limit: float,
    U: float,
    verdict: str,
    own: bool,  # noqa: FBT001
) -> None:
    """Below the middle against the low limit, else against the high one; a maker's own limit is said to be that."""
    made, _ = held(replace(Session(), trailer=trailer), axles=share(percent, u))
    check = made[SHARE]
    assert (check.value, check.limit, check.U, check.unit, check.verdict) == (percent, limit, U, "%", verdict)
    published = standards().limits["tongue-share-low" if limit in (10.0, 4.0) else "tongue-share-high"]
    assert (check.source, check.standing) == ((OWN, "own") if own else (published.source, published.standing))


DISTRIBUTING = replace(Session(), hitch=Hitch(kind="load-distributing"))


def test_what_a_load_distributing_hitch_gave_back_asks_for_its_weighings_and_its_rule() -> None:
    """First for what it is read from, then for the rule of the maker; a rule that is not known counts as none."""
    needs = "three weighings, or front heights unhitched, hitched and with the bars on"
    assert held(DISTRIBUTING) == ({}, {RESTORED: (needs, None)})
    restored = Restoration(percent=60.0, u_percent=2.0, by="weights")
    which = {"front-axle-restored-by-rule": ("which rule the maker gives", "hitch.restoration_rule")}
    assert held(DISTRIBUTING, restoration=restored) == ({}, which)
    unknown = replace(Session(), hitch=Hitch(kind="load-distributing", restoration_rule="nobody's"))
    assert held(unknown, restoration=restored) == ({}, which)
    assert held(HITCHED, restoration=restored) == ({}, {})


@pytest.mark.parametrize("rule_id", sorted(standards().restoration_rules))
@pytest.mark.parametrize(("u", "U"), [(2.0, 4.0), (None, 0.0)])
def test_what_was_given_back_is_held_against_both_sides_of_the_rule(rule_id: str, u: float | None, U: float) -> None:
    """Each side that the rule has, in per cent; far below it fails the lower, far above the upper."""
    rule = standards().restoration_rules[rule_id]
    session = replace(Session(), hitch=Hitch(kind="load-distributing", restoration_rule=rule_id))
    sides = {"lower": rule.low_percent, "upper": rule.high_percent}
    for percent, failing in ((-50.0, "lower"), (300.0, "upper")):
        made, asked = held(session, restoration=Restoration(percent=percent, u_percent=u, by="heights"))
        assert asked == {}
        basis = (rule.source, rule.standing)
        assert list(made.values()) == [
            result(f"{RESTORED}-{side}", (percent, limit, U, "%"), "fail" if side == failing else "pass", basis)
            for side, limit in sides.items()
            if limit is not None
        ]
