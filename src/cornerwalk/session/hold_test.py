"""The hold test and the soapy water: typed gauge readings → what is recorded; how long a test has been running.

A test has a start and an end for each line; both lines are one where they are joined by a tee. It may run overnight
and over many starts of the program: how long it runs follows from the time of its start and the time now.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from typing import Literal, LiteralString

from cornerwalk.quantity import read_pressure, read_temperature
from cornerwalk.session.events import JointSoaped, LeakMoment, LeakRead
from cornerwalk.session.model import LeakReading, Session
from cornerwalk.session.statements import bare_units
from cornerwalk.session.walk import EntryError

AirLine = Literal["both", "left", "right"]

SOAPED_JOINTS: tuple[LiteralString, ...] = (
    "left bag",
    "right bag",
    "tee or line joints",
    "valve",
    "valve core, cap off",
    "gauge",
)
"""Joints wetted with soapy water, valve core and gauge included; common practice, no source."""


def lines_to_test(session: Session) -> tuple[AirLine, ...]:
    """The lines that each have a test of their own."""
    return ("left", "right") if session.kit.lines == "separate" else ("both",)


def find_leak_reading(session: Session, line: AirLine, moment: LeakMoment) -> LeakReading | None:
    """The reading of a line at one end of its test, None if it was not taken."""
    found = (reading for reading in session.leak_readings if (reading.line, reading.moment) == (line, moment))
    return next(found, None)


def running_tests(session: Session) -> tuple[LeakReading, ...]:
    """Where each test that was begun and not ended was begun."""
    starts = (find_leak_reading(session, line, "start") for line in lines_to_test(session))
    return tuple(s for s in starts if s is not None and find_leak_reading(session, s.line, "end") is None)


def load_changed(session: Session, line: AirLine) -> bool:
    """Loaded at one end of the test and empty at the other: a bag under load reads higher, so they do not compare."""
    start, end = find_leak_reading(session, line, "start"), find_leak_reading(session, line, "end")
    if start is None or end is None or start.loaded is None or end.loaded is None:
        return False
    return start.loaded != end.loaded


def joints_to_soap(session: Session, after: str = "") -> tuple[str, ...]:
    """The usual joints that were not wetted yet, in their order; of those after one, where it is named."""
    seen = {joint.joint for joint in session.joints}
    usual = SOAPED_JOINTS[SOAPED_JOINTS.index(after) + 1 :] if after in SOAPED_JOINTS else SOAPED_JOINTS
    return tuple(joint for joint in usual if joint not in seen)


def hours_since(reading: LeakReading, now: datetime) -> float | None:
    """How long ago a gauge was read; None where its time says nothing, never less than nought."""
    try:
        begun = datetime.fromisoformat(reading.at)
    except ValueError:
        return None
    if begun.tzinfo is None or now.tzinfo is None:
        return None
    return max(0.0, (now - begun).total_seconds() / 3600)


def read_gauge(session: Session, line: AirLine, moment: LeakMoment, text: str, now: datetime) -> LeakRead:
    """The gauge read now, at the start or the end of a test. A start begins the test anew.

    Raises:
        EntryError: an end without a start.
        QuantityError: the text is no pressure.
    """
    if moment == "end" and find_leak_reading(session, line, "start") is None:
        raise EntryError("a hold test begins with a reading of the gauge at its start")
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
    """The same reading with the temperature beside it, as typed.

    Raises:
        QuantityError: the text is no temperature.
    """
    bare = "degF" if session.job.unit == "inch" else "degC"
    return replace(read, temperature_entered=text.strip(), temperature_C=read_temperature(text, bare=bare).C)


def with_load(read: LeakRead, loaded: bool) -> LeakRead:  # noqa: FBT001 - the state itself, not a switch
    """The same reading with the load state of the vehicle beside it: a bag under load reads higher."""
    return replace(read, loaded=loaded)


def soap_joint(joint: str, note: str = "", *, bubbles: bool) -> JointSoaped:
    """A joint wetted with soapy water and looked at.

    Raises:
        EntryError: the joint has no name.
    """
    if not joint.strip():
        raise EntryError("a joint under soapy water needs a name")
    return JointSoaped(joint=joint.strip(), bubbles=bubbles, note=note.strip())
