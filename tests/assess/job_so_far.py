"""Events of an invented job up to a point, by what was done: heights read, kit known, springs in, tried, driven."""

from __future__ import annotations

from cornerwalk.session.checklist import load_checklists
from cornerwalk.session.conditions import answer_check
from cornerwalk.session.events import (
    Answer,
    Event,
    HandedOver,
    HeightRead,
    JobOpened,
    JobReopened,
    LeakRead,
    StageBegun,
    WeighingRecorded,
)
from cornerwalk.session.hold_test import SOAPED_JOINTS, soap_joint
from cornerwalk.session.stages import CORNERS, Corner, JobKind, StageName
from cornerwalk.session.statements import state_fact

INCH_MM = 25.4
PSI_KPA = 6.894757293168361
LISTS = load_checklists()

Events = tuple[Event, ...]


def opened(kind: JobKind = "fit") -> Events:
    return (JobOpened(session="1a2b3c4d-0000-4000-8000-000000000000", job=kind, title="Invented", program="0.1.0"),)


def fact(name: str, text: str) -> Event:
    return state_fact(name, text, "inch")


def read(stage: StageName, corner: Corner, inches: float, number: int = 1, how: str = "first") -> Event:
    return HeightRead(stage=stage, corner=corner, entered=f"{inches} in", mm=inches * INCH_MM, number=number, how=how)  # type: ignore[arg-type]


def begun(stage: StageName, psi: float | None = None, number: int = 1) -> Event:
    if psi is None:
        return StageBegun(stage=stage, number=number)
    return StageBegun(stage=stage, number=number, pressure_entered=f"{psi:g} psi", pressure_kPa=psi * PSI_KPA)


def stage(name: StageName, heights: tuple[float, ...], psi: float | None = None, number: int = 1) -> Events:
    """A stage in LF, RF, RR, LR, inches."""
    return (begun(name, psi, number), *(read(name, c, h, number) for c, h in zip(CORNERS, heights, strict=True)))


UNLOADED = stage("unloaded", (28.625, 28.6875, 29.1875, 29.25))
LOADED = stage("loaded", (28.875, 28.9375, 27.625, 27.75))
TRIAL_8 = stage("fitted", (28.875, 28.9375, 27.9375, 28.0625), 8)
TRIAL_15 = stage("fitted", (28.875, 28.9375, 28.25, 28.375), 15, 2)
TRIAL_30 = stage("fitted", (28.875, 28.9375, 28.9375, 29.0625), 30, 3)
# By hand: 0.0456 in a psi from 28 in at 8 psi; 29.22 less U of 0.072 and half a mark of the tape ask for 32.5 psi.
AT_HEIGHT = stage("fitted", (28.875, 28.9375, 29.0625, 29.125), 32, 4)
ROAD = stage("road-test", (28.875, 28.9375, 29.0625, 29.125), 32)

SETTLED = (fact("uncertainty.friction_front", "0 in"), fact("uncertainty.friction_rear", "0 in"))
KIT = (fact("kit.min", "8 psi"), fact("kit.max", "40 psi"), *SETTLED)
NO_VALVE = (answer_check("brake-valve", "no"),)
FITTED = tuple(
    answer_check(item.id, item.good or "yes")
    for item in LISTS["fitting"].items
    if item.id not in ("some-air-in", "wheels-torqued", "bolts-at-height")
)
SOME_AIR = (answer_check("some-air-in", "yes"),)
WHEELS = (answer_check("wheels-torqued", "yes"),)
ARMS = (answer_check("bolts-at-height", "yes"),)
DRY = tuple(soap_joint(joint, bubbles=False) for joint in SOAPED_JOINTS)
ON_THE_ROAD = tuple(answer_check(item.id, item.good or "yes") for item in LISTS["road"].items)
GAWR = (fact("vehicle.gawr_rear", "3100 lb"),)
TICKET = (
    WeighingRecorded(
        weighing="unhitched", front_entered="2500 lb", front_N=11120.6, rear_entered="2400 lb", rear_N=10675.7,
        trailer_entered="", trailer_N=None,
    ),
)  # fmt: skip


def gauge(moment: str, psi: float = 30, line: str = "both", at: str = "2026-05-04T16:00:00-06:00") -> Event:
    return LeakRead(
        moment=moment, line=line, pressure_entered=f"{psi:g} psi", pressure_kPa=psi * PSI_KPA,  # type: ignore[arg-type]
        temperature_entered="71 °F", temperature_C=21.67, read_at=at, loaded=True,
    )  # fmt: skip


HELD = (gauge("start"), gauge("end", at="2026-05-05T16:00:00-06:00"))
LOST = (gauge("start"), gauge("end", 20, at="2026-05-05T16:00:00-06:00"))

HEIGHTS = (*opened(), *UNLOADED, *LOADED)
ALLOWED = (*HEIGHTS, *NO_VALVE, *KIT)
READY = (*ALLOWED, *FITTED, *SOME_AIR, *WHEELS, *DRY, *ARMS)
TRIED = (*READY, *TRIAL_8, *TRIAL_15, *TRIAL_30)
SET = (*TRIED, *AT_HEIGHT)
DRIVEN = (*SET, *ROAD, *ON_THE_ROAD)
TESTED = (*DRIVEN, *HELD)
WEIGHED = (*TESTED, *GAWR, *TICKET)
CLOSED = (*TESTED, HandedOver(to="", figures={}, program="0.1.0"))
BACK = (*CLOSED, JobReopened(reason="sags again"))
ADJUST = (*opened("adjust"), *UNLOADED, *NO_VALVE, *KIT)
CHECK = (*opened("load check"), *UNLOADED, *LOADED)


def given(check: str, answer: Answer, note: str = "") -> Event:
    return answer_check(check, answer, note)


def without(events: Events, *checks: str) -> Events:
    """The same without the answers to these questions."""
    return tuple(each for each in events if getattr(each, "check", None) not in checks)
