"""Hold test and soapy water: typed gauge readings to events, and how long a test has been running.

Each air line has a test of its own, with a start and an end; lines joined by a tee are one. A test may run overnight
and over many starts of the program: its duration follows from the time of its start and the time now.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from typing import Literal

from cornerwalk.quantity import read_pressure, read_temperature
from cornerwalk.session.events import JointSoaped, LeakMoment, LeakRead
from cornerwalk.session.model import LeakReading, Session
from cornerwalk.session.statements import bare_units
from cornerwalk.session.walk import EntryError

AirLine = Literal["both", "left", "right"]

SOAPED_JOINTS = (
    "left bag",
    "right bag",
    "tee or line joints",
    "valve",
    "valve core, cap off",
    "gauge",
)
"""Joints to wet with soapy water, valve core and gauge included; common practice, no source."""


def lines_to_test(session: Session) -> tuple[AirLine, ...]:
    """The air lines, each with a test of its own."""
    return ("left", "right") if session.kit.lines == "separate" else ("both",)


def find_leak_reading(session: Session, line: AirLine, moment: LeakMoment) -> LeakReading | None:
    """The reading of a line at the start or the end of its test, None if there is none."""
    found = (reading for reading in session.leak_readings if (reading.line, reading.moment) == (line, moment))
    return next(found, None)


def running_tests(session: Session) -> tuple[LeakReading, ...]:
    """The start reading of each test that has no end yet."""
    starts = (find_leak_reading(session, line, "start") for line in lines_to_test(session))
    return tuple(s for s in starts if s is not None and find_leak_reading(session, s.line, "end") is None)


def load_changed(session: Session, line: AirLine) -> bool:
    """Whether the vehicle was loaded at only one end of the test, so that the readings do not compare."""
    start, end = find_leak_reading(session, line, "start"), find_leak_reading(session, line, "end")
    if start is None or end is None or start.loaded is None or end.loaded is None:
        return False
    return start.loaded != end.loaded


def joints_to_soap(session: Session, after: str = "") -> tuple[str, ...]:
    """The usual joints not wetted yet, in order; only those after the joint `after`, if given."""
    seen = {joint.joint for joint in session.joints}
    usual = SOAPED_JOINTS[SOAPED_JOINTS.index(after) + 1 :] if after in SOAPED_JOINTS else SOAPED_JOINTS
    return tuple(joint for joint in usual if joint not in seen)


def hours_since(reading: LeakReading, now: datetime) -> float | None:
    """How many hours ago the gauge was read, at least 0; None if its time is not known."""
    try:
        begun = datetime.fromisoformat(reading.at)
    except ValueError:
        return None
    if begun.tzinfo is None or now.tzinfo is None:
        return None
    return max(0.0, (now - begun).total_seconds() / 3600)


def read_gauge(session: Session, line: AirLine, moment: LeakMoment, text: str, now: datetime) -> LeakRead:
    """A gauge reading now, at the start or the end of a test. A start restarts the test.

    Raises:
        EntryError: an end without a start.
        QuantityError: the text is not a pressure.
    """
    if moment == "end" and find_leak_reading(session, line, "start") is None:
        raise EntryError("a leak-down test starts with a gauge reading")
    return LeakRead(
        moment=moment,
        line=line,
        pressure_entered=text.strip(),
        pressure_kPa=read_pressure(text, bare=bare_units(session.job.unit)["pressure"]).kPa,
        temperature_entered="",
        temperature_C=None,
        read_at=now.isoformat(timespec="seconds"),
    )


def with_temperature(read: LeakRead, text: str, session: Session) -> LeakRead:
    """The reading with the temperature.

    Raises:
        QuantityError: the text is not a temperature.
    """
    bare = "degF" if session.job.unit == "inch" else "degC"
    return replace(read, temperature_entered=text.strip(), temperature_C=read_temperature(text, bare=bare).C)


def with_load(read: LeakRead, loaded: bool) -> LeakRead:  # noqa: FBT001 - the state itself, not a switch
    """The reading with the load state of the vehicle: a bag under load reads higher."""
    return replace(read, loaded=loaded)


def soap_joint(joint: str, note: str = "", *, bubbles: bool) -> JointSoaped:
    """A joint checked with soapy water.

    Raises:
        EntryError: the joint has no name.
    """
    if not joint.strip():
        raise EntryError("a joint in the soap test needs a name")
    return JointSoaped(joint=joint.strip(), bubbles=bubbles, note=note.strip())
