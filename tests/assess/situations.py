"""Situations of a job, each with the act that a foreman would name next and why; none of it computed by the program.

The order is common practice, no source. A bag is never loaded empty, and bolts in rubber are tightened at ride height
(air-spring and vehicle makers' instructions, seen); height- and load-sensing brake valves end the job (a vehicle
maker's manual and a service guideline, seen). Vehicle, readings and kit are invented.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from cornerwalk.session.events import (
    PressureStated,
)
from cornerwalk.session.hold_test import soap_joint
from cornerwalk.session.model import Session
from cornerwalk.session.stages import CORNERS
from cornerwalk.session.statements import record_torque
from cornerwalk.session.walk import skip_corner
from tests.assess.job_so_far import (
    ALLOWED,
    ARMS,
    DRY,
    FITTED,
    HEIGHTS,
    KIT,
    LOADED,
    NO_VALVE,
    PSI_KPA,
    READY,
    SET,
    SOME_AIR,
    TRIAL_8,
    TRIAL_15,
    TRIED,
    UNLOADED,
    WHEELS,
    Events,
    begun,
    fact,
    given,
    opened,
    read,
    stage,
    without,
)
from tests.assess.situations_driven import rows_from_the_road_on


@dataclass(frozen=True, slots=True, kw_only=True)
class Situation:
    """What happened so far; the code of the act that is due, what it is about, and why a foreman says so."""

    name: str
    events: Events
    act: str
    why: str
    about: dict[str, object]


def _rows() -> Iterator[tuple[str, Events, str, str, dict[str, object]]]:  # noqa: PLR0915 - a table
    # -- heights --
    yield (
        "new job",
        opened(),
        "read-corner",
        "nothing is a change before the empty vehicle is read",
        {"corner": "LF", "stage": ("unloaded", 1)},
    )
    yield "new adjust job", opened("adjust"), "read-corner", "the same", {"corner": "LF"}
    yield "new load check", opened("load check"), "read-corner", "the same", {"corner": "LF"}
    yield "kit known, nothing read", (*opened(), *KIT), "read-corner", "a preset changes no tape", {"corner": "LF"}
    yield (
        "walk begins right rear",
        (*opened(), fact("job.start_corner", "RR")),
        "read-corner",
        "the shop walks so",
        {"corner": "RR"},
    )
    for place, corner in enumerate(CORNERS[1:], start=2):
        yield (
            f"unloaded, {place - 1} read",
            (*opened(), *UNLOADED[:place]),
            "read-corner",
            "go on round the vehicle",
            {"corner": corner, "stage": ("unloaded", 1)},
        )
    skipped = skip_corner(Session(), corner="LF", stage=("unloaded", 1), reason="can't reach it")
    yield (
        "first corner skipped",
        (*opened(), *skipped),
        "read-corner",
        "the next corner, not the one skipped",
        {"corner": "RF"},
    )
    yield (
        "anticlockwise, two read",
        (
            *opened(),
            fact("job.direction", "anticlockwise"),
            begun("unloaded"),
            read("unloaded", "LF", 28.6),
            read("unloaded", "LR", 29.2),
        ),
        "read-corner",
        "round the other way",
        {"corner": "RR"},
    )
    yield (
        "unloaded read, fit",
        (*opened(), *UNLOADED),
        "load-vehicle",
        "how far it hangs comes next",
        {"stage": ("loaded", 1)},
    )
    yield (
        "unloaded read, load check",
        (*opened("load check"), *UNLOADED),
        "load-vehicle",
        "the load is what is checked",
        {"stage": ("loaded", 1)},
    )
    for place, corner in enumerate(CORNERS[1:], start=2):
        yield (
            f"loaded, {place - 1} read",
            (*opened(), *UNLOADED, *LOADED[:place]),
            "read-corner",
            "the stage in hand is finished",
            {"corner": corner, "stage": ("loaded", 1)},
        )
    yield (
        "loaded right rear a whole inch off",
        (*opened(), *UNLOADED, *stage("loaded", (28.875, 28.9375, 28.625, 27.75))),
        "read-stage-again",
        "one does not fit the others, and two stages cannot tell which",
        {},
    )
    # -- before the first air --
    yield (
        "heights read, nothing asked",
        HEIGHTS,
        "answer-brake-valve",
        "it can end the job, and nothing is fitted yet",
        {"check": "brake-valve"},
    )
    yield (
        "brake valve: yes",
        (*HEIGHTS, given("brake-valve", "yes")),
        "settle-stop",
        "no springs with such a valve",
        {"finding": "brake-valve"},
    )
    yield (
        "brake valve: yes, after a kit was stated",
        (*HEIGHTS, *KIT, given("brake-valve", "yes", "asks the dealer")),
        "settle-stop",
        "asking somebody settles nothing yet",
        {"finding": "brake-valve"},
    )
    yield (
        "brake valve not looked at, no reason",
        (*HEIGHTS, given("brake-valve", "not checked")),
        "answer-brake-valve",
        "without a reason it is only put off",
        {},
    )
    yield (
        "brake valve referred, with a reason",
        (*HEIGHTS, given("brake-valve", "referred", "dealer looks on Monday")),
        "state-kit-limits",
        "passed over with a reason",
        {},
    )
    yield (
        "no brake valve, kit unknown",
        (*HEIGHTS, *NO_VALVE),
        "state-kit-limits",
        "nobody fills a bag without its limits",
        {},
    )
    yield (
        "no brake valve, only the minimum",
        (*HEIGHTS, *NO_VALVE, KIT[0]),
        "state-kit-limits",
        "the maximum is the one that bursts",
        {},
    )
    yield (
        "no brake valve, only the maximum",
        (*HEIGHTS, *NO_VALVE, KIT[1]),
        "state-kit-limits",
        "the minimum keeps the bag from folding",
        {},
    )
    yield (
        "kit limits passed over",
        (*HEIGHTS, *NO_VALVE, given("state-kit-limits", "not checked", "sheet comes by mail")),
        "fit-springs",
        "passed over with a reason",
        {"check": "stands"},
    )
    yield "valve and kit known", ALLOWED, "fit-springs", "up on stands first", {"check": "stands"}
    yield (
        "kit asked before the heights",
        (*opened(), *KIT, *NO_VALVE, *UNLOADED, *LOADED),
        "fit-springs",
        "what was asked already costs no key",
        {"check": "stands"},
    )
    yield "on stands", (*ALLOWED, given("stands", "yes")), "fit-springs", "a freed arm kills", {"check": "arm-held"}
    yield (
        "list half done",
        (*ALLOWED, *FITTED[:6]),
        "fit-springs",
        "the next line of the list",
        {"check": FITTED[6].check},
    )
    yield (
        "list but its last line",
        (*ALLOWED, *FITTED[:-1]),
        "fit-springs",
        "the list is finished first",
        {"check": FITTED[-1].check},
    )
    yield "springs in", (*ALLOWED, *FITTED), "minimum-air", "a bag is never loaded empty", {"psi": 8.0}
    yield (
        "springs in, no air yet",
        (*ALLOWED, *FITTED, given("some-air-in", "no")),
        "minimum-air",
        "no is not done",
        {"psi": 8.0},
    )
    yield (
        "minimum air in",
        (*ALLOWED, *FITTED, *SOME_AIR),
        "torque-wheels",
        "down on its wheels, and they are loose",
        {"check": "wheels-torqued"},
    )
    yield (
        "wheels by record of the wrench",
        (*ALLOWED, *FITTED, *SOME_AIR, record_torque(Session(), "wheel nuts", "reached", "98 N·m")),
        "soap-joints",
        "the wrench's figure says it is done",
        {},
    )
    yield (
        "wheels not torqued, said so",
        (*ALLOWED, *FITTED, *SOME_AIR, given("wheels-torqued", "no", "wrench is out")),
        "torque-wheels",
        "no is not done",
        {},
    )
    yield (
        "wheels torqued",
        (*ALLOWED, *FITTED, *SOME_AIR, *WHEELS),
        "soap-joints",
        "air in and still on the lift: look for bubbles",
        {"joint": "left bag"},
    )
    yield (
        "first joint dry",
        (*ALLOWED, *FITTED, *SOME_AIR, *WHEELS, *DRY[:1]),
        "soap-joints",
        "every joint",
        {"joint": "right bag"},
    )
    yield (
        "five joints dry",
        (*ALLOWED, *FITTED, *SOME_AIR, *WHEELS, *DRY[:5]),
        "soap-joints",
        "the gauge leaks too",
        {"joint": "gauge"},
    )
    yield (
        "bubbles at the tee",
        (*ALLOWED, *FITTED, *SOME_AIR, *WHEELS, *DRY[:2], soap_joint("tee or line joints", bubbles=True)),
        "mend-leak",
        "nothing is driven with bubbles",
        {"joint": "tee or line joints"},
    )
    yield (
        "bubbles mended",
        (
            *ALLOWED,
            *FITTED,
            *SOME_AIR,
            *WHEELS,
            *DRY[:2],
            soap_joint("tee or line joints", bubbles=True),
            soap_joint("tee or line joints", bubbles=False),
        ),
        "soap-joints",
        "wet again and dry: on with the others",
        {"joint": "valve"},
    )
    yield (
        "all dry",
        (*ALLOWED, *FITTED, *SOME_AIR, *WHEELS, *DRY),
        "torque-arms",
        "bolts in rubber at ride height, before heights are read",
        {"check": "bolts-at-height"},
    )
    # -- trials --
    yield "ready for air", READY, "try-pressure", "the first trial is at the minimum, which is in", {"psi": 8.0}
    yield (
        "trial begun",
        (*READY, TRIAL_8[0]),
        "read-corner",
        "what is begun is read",
        {"corner": "LF", "stage": ("fitted", 1)},
    )
    yield (
        "trial, three read",
        (*READY, *TRIAL_8[:4]),
        "read-corner",
        "what is begun is read",
        {"corner": "LR", "stage": ("fitted", 1)},
    )
    yield "one trial", (*READY, *TRIAL_8), "try-pressure", "one trial is no line", {"stage": ("fitted", 2)}
    yield (
        "trial below the heights list",
        (*ALLOWED, *TRIAL_8),
        "try-pressure",
        "air is in: the list was passed over, the trials go on",
        {},
    )
    yield (
        "trial without a word on the valve",
        (*HEIGHTS, *KIT, *TRIAL_8),
        "answer-brake-valve",
        "it can still end the job",
        {},
    )
    yield (
        "trial without the kit's limits",
        (*HEIGHTS, *NO_VALVE, *TRIAL_8),
        "state-kit-limits",
        "before any more air",
        {},
    )
    yield (
        "three trials",
        TRIED,
        "set-recommended",
        "the answer is sure enough: set it and read it",
        {"stage": ("fitted", 4)},
    )
    yield (
        "over the kit's maximum",
        (*READY, *stage("fitted", (28.875, 28.9375, 29.0, 29.0625), 45)),
        "settle-stop",
        "stand clear, let air out",
        {"finding": "over-kit-maximum"},
    )
    yield (
        "over the maximum by a correction",
        (*READY, *TRIAL_8, PressureStated(stage="fitted", pressure_entered="44 psi", pressure_kPa=44 * PSI_KPA)),
        "settle-stop",
        "the same",
        {"finding": "over-kit-maximum"},
    )
    yield (
        "over the maximum, let out since",
        (*READY, *stage("fitted", (28.875, 28.9375, 29.625, 29.6875), 45), *TRIAL_15),
        "set-recommended",
        "it stands otherwise now, and the answer lies between the two",
        {},
    )
    yield (
        "rear above unloaded",
        (*READY, *TRIAL_8, *stage("fitted", (28.875, 28.9375, 29.6875, 29.75), 39, 2)),
        "settle-stop",
        "let air out",
        {"finding": "rear-above-unloaded"},
    )
    yield (
        "more air, no rise",
        (*READY, *TRIAL_8, *stage("fitted", (28.875, 28.9375, 27.9375, 28.0625), 30, 2)),
        "find-why-no-rise",
        "a pinched line or a bag off its seat",
        {},
    )
    yield (
        "two trials, limits passed over",
        (
            *HEIGHTS,
            *NO_VALVE,
            given("state-kit-limits", "not checked", "no sheet"),
            *FITTED,
            *SOME_AIR,
            *WHEELS,
            *DRY,
            *ARMS,
            *TRIAL_8,
            *TRIAL_15,
        ),
        "road-test",
        "no pressure can be recommended without limits",
        {},
    )
    yield (
        "no limits, ready",
        (
            *HEIGHTS,
            *NO_VALVE,
            given("state-kit-limits", "not checked", "no sheet"),
            *FITTED,
            *SOME_AIR,
            *WHEELS,
            *DRY,
            *ARMS,
        ),
        "try-any-pressure",
        "nobody can say which",
        {},
    )
    # -- before driving --
    yield "recommended pressure read", SET, "road-test", "drive it", {}
    yield (
        "set, wheels never torqued",
        without(SET, "wheels-torqued"),
        "torque-wheels",
        "nothing is driven on loose wheels",
        {},
    )
    yield "set, arms never torqued", without(SET, "bolts-at-height"), "torque-arms", "nor with loose arms", {}
    yield (
        "set, minimum air never answered",
        without(SET, "some-air-in"),
        "minimum-air",
        "look at the bag before it is driven",
        {},
    )
    yield (
        "set, wheels passed over",
        (*without(SET, "wheels-torqued"), given("wheels-torqued", "referred", "tire shop next door does it")),
        "road-test",
        "passed over with a reason",
        {},
    )
    yield (
        "set, wheels passed over without a word",
        (*without(SET, "wheels-torqued"), given("wheels-torqued", "not checked")),
        "torque-wheels",
        "no reason, no pass",
        {},
    )
    yield (
        "set, never soaped",
        tuple(e for e in SET if e.kind != "joint soaped"),
        "soap-joints",
        "bubbles before the road, not after",
        {"joint": "left bag"},
    )
    yield (
        "set, bubbles at the valve",
        (*SET, soap_joint("valve", bubbles=True)),
        "mend-leak",
        "nothing is driven with bubbles",
        {"joint": "valve"},
    )
    yield from rows_from_the_road_on()


SITUATIONS: tuple[Situation, ...] = tuple(
    Situation(name=name, events=events, act=act, why=why, about=about) for name, events, act, why, about in _rows()
)
