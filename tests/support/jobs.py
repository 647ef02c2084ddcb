"""Invented jobs to try reports and exports on: whole sessions made from job sheets, as the program makes them.

Vehicles, people and readings are invented.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import cache

from cornerwalk.assess import Assessment, assess
from cornerwalk.session import RecordedEvent, Session, fold, record_event
from cornerwalk.session.events import Event
from cornerwalk.sheet import read_job_sheet
from cornerwalk.standards import Standards, load_standards

NOW = datetime.fromisoformat("2026-05-04T08:12:00-06:00")


@dataclass(frozen=True, slots=True)
class InventedJob:
    """A session with its events and what it means."""

    events: tuple[RecordedEvent, ...]
    session: Session
    assessment: Assessment


def job_of(sheet: str, *more: Event) -> InventedJob:
    """The session of a job sheet, and whatever happened after it; one event a minute."""
    contents = read_job_sheet(sheet, name="sheet.toml", session_id="11111111-2222-4333-8444-555555555555", now=NOW)
    return job_of_events([*contents.events, *more], begun=contents.at)


def job_of_events(new_events: Sequence[Event], begun: datetime = NOW) -> InventedJob:
    """The session of these events."""
    events: list[RecordedEvent] = []
    for minute, what in enumerate(new_events):
        events.append(record_event(events, what, at=(begun + timedelta(minutes=minute)).isoformat(), by="MT"))
    session = fold(events)
    return InventedJob(tuple(events), session, assess(session, standards()))


@cache
def standards() -> Standards:
    """The packaged standards, read once."""
    return load_standards()


EXACT = """
[uncertainty]
friction_front = "0 in"
friction_rear = "0 in"
wheelbase = "0 in"
places = "0 in"
wall = "0 in"
mark = "0 in"
aim = "0 deg"
loads = "0 %"
tire_rate = "0 %"
scale = "0 lb"
gauge = "0 psi"
temperature = "0 K"
weather = "0 kPa"
bag = "rigid"
"""
"""Everything but the tape taken as exact."""

WORKED_CASE = (
    """
unit = "inch"
[job]
title = "Worked case"
customer = "Zoë Ångström"
complaint = "oncoming drivers flash their lamps when the trailer is on"
technician = "MT"
date = 2026-05-04T08:12:00-06:00
[tape]
graduation = "1/16 in"
place = "1/32 in"
[vehicle]
description = "mid-size people carrier, invented"
registration = "INV 123"
wheelbase = "119 in"
arch_width = "66 in"
lamp_height = "28 1/2 in"
lamp_ahead = "31 in"
ball_overhang = "46 in"
gawr_front = "2900 lb"
gawr_rear = "3100 lb"
gvwr = "5800 lb"
levelling = "none"
tire_rate = "1450 lb/in"
[lamps]
screen = "25 ft"
rule = "us-vol"
[kit]
name = "invented kit"
sheet = "invented sheet 3, 2026"
min = "8 psi"
max = "40 psi"
rated_support = "960 lb"
lines = "tee"
[service]
retorque_distance = "60 miles"
[[load]]
name = "trailer tongue"
weight = "410 lb"
behind_rear_axle = "46 in"
[[stage]]
name = "unloaded"
LF = "28 5/8"
RF = "28 11/16"
RR = "29 3/16"
LR = "29 1/4"
[[stage]]
name = "loaded"
LF = "28 7/8"
RF = "28 15/16"
RR = "27 5/8"
LR = "27 3/4"
[[stage]]
name = "fitted"
pressure = "15 psi"
LF = "28 7/8"
RF = "28 15/16"
RR = "28 1/4"
LR = "28 3/8"
[[stage]]
name = "fitted"
pressure = "25 psi"
LF = "28 7/8"
RF = "28 15/16"
RR = "28 11/16"
LR = "28 13/16"
[leak]
before = "30 psi"
temperature_before = "72 degF"
after = "27 psi"
temperature_after = "41 degF"
hours = 14
altitude = "0 ft"
gauge_graduation = "1 psi"
allowed_loss = "2 psi"
[table]
drop_allowed = "1/4 in"
loads = ["300 lb", "350 lb", "410 lb", "450 lb", "500 lb"]
"""
    + EXACT
)
"""One plain fitting, tee'd lines, in inches: complete but for the weighing and the conditions."""

SEPARATE_LINES = """
unit = "mm"
[job]
title = "Horse box"
technician = "KL"
date = 2026-05-05T14:00:00+02:00
[tape]
graduation = "1 mm"
[vehicle]
description = "estate car, invented"
wheelbase = "2843 mm"
arch_width = "1560 mm"
lamp_height = "690 mm"
lamp_ahead = "640 mm"
ball_overhang = "1120 mm"
gawr_front = "1220 kg"
gawr_rear = "1300 kg"
gvwr = "2350 kg"
levelling = "manual"
[lamps]
screen = "10 m"
aim_percent = "-1.2"
[kit]
min = "40 kPa"
max = "250 kPa"
rated_support = "400 kg"
lines = "separate"
[trailer]
weight = "1300 kg"
[[load]]
name = "tongue"
weight = "95 kg"
behind_rear_axle = "1120 mm"
[[stage]]
name = "unloaded"
LF = ["702", "703"]
RF = "704"
RR = "718"
LR = "716"
[[stage]]
name = "loaded"
LF = "707"
RF = "709"
RR = "688"
LR = "681"
[[stage]]
name = "fitted"
pressure_left = "120 kPa"
pressure_right = "100 kPa"
LF = "707"
RF = "709"
RR = "703"
LR = "699"
[[stage]]
name = "fitted"
pressure_left = "180 kPa"
pressure_right = "150 kPa"
LF = "707"
RF = "709"
RR = "711"
LR = "708"
[[weighing]]
name = "unhitched"
front = "1090 kg"
rear = "940 kg"
[[weighing]]
name = "hitched"
front = "1050 kg"
rear = "1075 kg"
trailer = "1205 kg"
"""
"""A line to each bag, metric, with scale tickets and one corner read twice."""

HALF_DONE = """
unit = "inch"
[job]
title = "Left half done"
[[stage]]
name = "unloaded"
LF = "30 1/2"
RF = "30 9/16"
"""
"""Two corners read, nothing known of the vehicle."""


@cache
def worked_case() -> InventedJob:
    """The plain fitting."""
    return job_of(WORKED_CASE)


@cache
def separate_lines() -> InventedJob:
    """The metric job with two lines."""
    return job_of(SEPARATE_LINES)


@cache
def half_done() -> InventedJob:
    """The job that was broken off."""
    return job_of(HALF_DONE)


@cache
def nothing_yet() -> InventedJob:
    """A job just opened."""
    return job_of('[job]\ntitle = "Just opened"\n')
