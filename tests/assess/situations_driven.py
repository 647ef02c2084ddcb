"""Rows of the table of situations from the road test on, and of jobs that fit nothing; as in `situations`."""

from __future__ import annotations

from collections.abc import Iterator

from cornerwalk.session.hold_test import soap_joint
from tests.assess.job_so_far import (
    ADJUST,
    AT_HEIGHT,
    BACK,
    CHECK,
    CLOSED,
    DRIVEN,
    GAWR,
    LOST,
    NO_VALVE,
    ON_THE_ROAD,
    READY,
    ROAD,
    SET,
    TESTED,
    TICKET,
    TRIAL_8,
    TRIAL_15,
    TRIAL_30,
    UNLOADED,
    WEIGHED,
    Events,
    begun,
    fact,
    gauge,
    given,
    opened,
    stage,
)


def rows_from_the_road_on() -> Iterator[tuple[str, Events, str, str, dict[str, object]]]:
    """Name, what happened, the act, why, what it is about."""
    # -- road --
    yield (
        "back from the road, heights begun",
        (*SET, begun("road-test", 34)),
        "read-corner",
        "what is begun is read",
        {"stage": ("road-test", 1), "corner": "LF"},
    )
    yield (
        "back from the road, heights read",
        (*SET, *ROAD),
        "answer-road-list",
        "look while it is warm",
        {"check": "rubbing"},
    )
    yield "road list begun", (*SET, *ON_THE_ROAD[:1]), "read-after-road", "heights while it stands settled", {}
    yield (
        "road list answered, not read",
        (*SET, *ON_THE_ROAD),
        "read-after-road",
        "what settled shows only in heights",
        {},
    )
    yield (
        "heights read, half the list",
        (*SET, *ROAD, *ON_THE_ROAD[:3]),
        "answer-road-list",
        "the next line",
        {"check": ON_THE_ROAD[3].check},
    )
    yield (
        "road test passed over",
        (*SET, given("road-test", "customer declined", "customer drives it home")),
        "start-hold",
        "passed over with a reason",
        {},
    )
    # -- hold test --
    yield "driven", DRIVEN, "start-hold", "parked overnight, gauge read first", {"line": "both"}
    yield (
        "hold test runs",
        (*DRIVEN, gauge("start")),
        "read-hold-gauge",
        "leave it parked until tomorrow",
        {"line": "both", "since": "2026-05-04T16:00:00-06:00", "not_before": "2026-05-05T16:00:00-06:00"},
    )
    yield (
        "hold test runs, trials open",
        (*READY, *TRIAL_8, gauge("start")),
        "read-hold-gauge",
        "air put in now would spoil it",
        {},
    )
    yield "hold test runs, no road test", (*SET, gauge("start")), "read-hold-gauge", "driving would spoil it", {}
    yield (
        "hold test runs, nothing weighed",
        (*DRIVEN, *GAWR, gauge("start")),
        "read-hold-gauge",
        "the scale can wait",
        {},
    )
    yield (
        "hold test runs, corner open",
        (*SET, *ROAD[:3], gauge("start")),
        "read-corner",
        "a tape disturbs nothing",
        {"corner": "RR"},
    )
    yield (
        "hold test runs, bubbles seen",
        (*DRIVEN, gauge("start"), soap_joint("gauge", bubbles=True)),
        "mend-leak",
        "the test is lost already",
        {"joint": "gauge"},
    )
    yield (
        "hold test runs, not soaped",
        (*(e for e in DRIVEN if e.kind != "joint soaped"), gauge("start")),
        "soap-joints",
        "water disturbs nothing, and shows it now",
        {},
    )
    yield (
        "separate lines, left held",
        (
            *opened(),
            fact("kit.lines", "separate"),
            *DRIVEN[1:],
            gauge("start", line="left"),
            gauge("end", line="left", at="2026-05-05T16:00:00-06:00"),
        ),
        "start-hold",
        "each line has its own test",
        {"line": "right"},
    )
    yield "held", TESTED, "hand-over", "nothing to hold a ticket against", {}
    yield "lost ten psi in a day", (*DRIVEN, *LOST), "find-leak", "it is flat in three days", {"line": "both"}
    yield (
        "lost, mended, begun again",
        (*DRIVEN, *LOST, gauge("start", at="2026-05-06T09:00:00-06:00")),
        "read-hold-gauge",
        "a new test runs",
        {"since": "2026-05-06T09:00:00-06:00"},
    )
    # -- weighing, handing over --
    yield "ratings known, not weighed", (*TESTED, *GAWR), "weigh", "level is not safe: the axle says", {}
    yield (
        "weighing declined",
        (*TESTED, *GAWR, given("weigh", "customer declined", "no time for the scale")),
        "hand-over",
        "passed over with a reason",
        {},
    )
    yield "weighed", WEIGHED, "hand-over", "all is done", {}
    yield (
        "rear axle over its rating",
        (*TESTED, fact("vehicle.gawr_rear", "2300 lb"), *TICKET),
        "settle-stop",
        "nobody drives off with an axle over its rating",
        {"finding": "axle-over-rating"},
    )
    yield "handed over", CLOSED, "closed", "it is the customer's", {}
    yield "came back", BACK, "read-follow-up", "what moved since?", {"stage": ("follow-up", 1)}
    yield (
        "came back, begun",
        (*BACK, begun("follow-up", 30)),
        "read-corner",
        "what is begun is read",
        {"stage": ("follow-up", 1)},
    )
    yield (
        "came back, read",
        (*BACK, *stage("follow-up", (28.875, 28.9375, 28.5, 28.5625), 30)),
        "hand-over",
        "told, and handed over again",
        {},
    )
    # -- the other kinds --
    yield "adjust, read", (*opened("adjust"), *UNLOADED), "answer-brake-valve", "air is air, whoever fitted the bag", {}
    yield (
        "adjust, valve answered",
        (*opened("adjust"), *UNLOADED, *NO_VALVE),
        "state-kit-limits",
        "the bag has limits all the same",
        {},
    )
    yield "adjust, ready", ADJUST, "try-pressure", "nothing is taken apart: no list, no torque", {"psi": 8.0}
    yield "adjust, set", (*ADJUST, *TRIAL_8, *TRIAL_15, *TRIAL_30, *AT_HEIGHT), "soap-joints", "old joints leak too", {}
    yield "load check, read", CHECK, "hand-over", "nothing known to hold it against", {}
    yield "load check, ratings known", (*CHECK, *GAWR), "weigh", "a check of the load ends on a scale", {}
    yield "load check, weighed", (*CHECK, *GAWR, *TICKET), "hand-over", "told", {}
