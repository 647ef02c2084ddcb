"""Tables of what was recorded: sessions, the heights that count, and events."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from typing import NamedTuple

from cornerwalk.session.events import Undone
from cornerwalk.session.facts import FACTS
from cornerwalk.session.log import RecordedEvent, active_events, event_body
from cornerwalk.session.model import Reading, Stage
from cornerwalk.session.stages import CORNERS, Corner
from cornerwalk.tables.columns import (
    Column,
    Source,
    TidyTable,
    Value,
    day,
    fact,
    file_name,
    flag,
    moment,
    number,
    plain,
    text,
    utc,
    vehicle_of,
    whole,
)
from cornerwalk.tables.lessons import technician_of


def _result(name: str) -> Callable[[Source], Value]:
    return lambda source: plain(getattr(source.assessment, name))


def _axle(name: str) -> Callable[[Source], Value]:
    return lambda source: plain(getattr(source.assessment.axles, name))


def _restored(name: str) -> Callable[[Source], Value]:
    return lambda source: plain(getattr(source.assessment.restoration, name, None))


def _count_findings(level: str) -> Callable[[Source], int]:
    return lambda source: sum(finding.level == level for finding in source.assessment.findings)


def _count_checks(verdict: str) -> Callable[[Source], int]:
    return lambda source: sum(check.verdict == verdict for check in source.assessment.verdicts)


SESSIONS = TidyTable(
    "sessions",
    "One row for each job.",
    lambda source: (source,),
    (
        text("file", "name of the session file", lambda source: file_name(source.path)),
        whole("file_version", "version of the file's format", lambda source: source.version),
        text("program", "version of the program that opened the session", lambda s: plain(s.session.program)),
        text("opened_at", "when the job was opened, with the offset from UTC", lambda s: s.session.opened_at),
        moment("opened_utc", "the same in UTC", lambda source: utc(source.session.opened_at)),
        Column("opened_on", "day", "the day of it, where the job was", lambda s: day(s.session.opened_at)),
        moment("last_utc", "when the last event was recorded, in UTC", lambda source: utc(source.session.last_at)),
        flag("handed_over", "whether the vehicle went back and the job is closed", lambda s: not s.session.open),
        whole("events", "events recorded", lambda source: len(source.events)),
        whole("taken_back", "undos among them", lambda s: sum(isinstance(e.payload, Undone) for e in s.events)),
        text("technician", "as stated, else who recorded the heights", lambda s: technician_of(s.session, s.events)),
        text("vehicle", "the registration, else the description", lambda source: vehicle_of(source.session)),
        text("job_kind", "fit, adjust or load check", lambda source: source.session.job.kind),
        *(
            fact(name, f"as stated: {fact_row.label}", lambda source: source.session)
            for name, fact_row in FACTS.items()
            if name != "job.kind"  # above, as it was opened
        ),
        whole("loads", "loads stated", lambda source: len(source.session.loads)),
        number("loads_N", "their sum", lambda s: sum((load.weight_N for load in s.session.loads), 0.0)),
        whole("stages", "stages begun", lambda source: len(source.session.stages)),
        text(
            "stages_read",
            "stages whose four corners are read or skipped, in order",
            lambda s: plain([f"{stage.name} {stage.number}" for stage in s.session.stages if stage.complete]),
        ),
        whole("readings", "heights that count", lambda source: sum(1 for _ in _readings(source))),
        number("graduation_mm", "distance of the tape's marks, as used", lambda s: s.assessment.reading.graduation_mm),
        number("u_place_mm", "standard uncertainty of placing, as used", lambda s: s.assessment.reading.u_place_mm),
        number("u_read_mm", "standard uncertainty of one reading", lambda s: s.assessment.reading.u_read_mm),
        text("assumed", "which of these are defaults", lambda source: plain(source.assessment.reading.assumed)),
        number("rear_gain_N", "what the stated loads add to the rear axle, by lever", _axle("rear_gain_N")),
        number("front_gain_N", "what they add to the front axle; negative: it is lightened", _axle("front_gain_N")),
        number("tongue_N", "tongue load, by scale tickets or as stated", _axle("tongue_N")),
        number("u_tongue_N", "standard uncertainty of tongue_N", _axle("u_tongue_N")),
        number("tongue_share_percent", "tongue load against the trailer's weight", _axle("tongue_share_percent")),
        number(
            "u_tongue_share_percent",
            "standard uncertainty of tongue_share_percent",
            _axle("u_tongue_share_percent"),
        ),
        number("ride_rate_N_per_mm", "rear ride rate; an estimate", _result("ride_rate_N_per_mm")),
        number(
            "u_ride_rate_N_per_mm",
            "standard uncertainty of ride_rate_N_per_mm",
            _result("u_ride_rate_N_per_mm"),
        ),
        number("carried_N", "load on the helper springs at the last trial", _result("carried_N")),
        number("u_carried_N", "standard uncertainty of carried_N", _result("u_carried_N")),
        number("falr_percent", "front-axle load restored by a load-distributing hitch", _restored("percent")),
        number("u_falr_percent", "standard uncertainty of falr_percent", _restored("u_percent")),
        text("falr_by", "weights or heights", _restored("by")),
        text("overall", "the worst verdict; not checked is worse than conditional pass", _result("overall")),
        whole("checks_failed", "checks with the verdict fail", _count_checks("fail")),
        whole("checks_perhaps_failed", "checks with the verdict conditional fail", _count_checks("conditional fail")),
        whole("not_checked", "checks that could not be made", lambda source: len(source.assessment.not_checked)),
        whole("stops", "findings that say stop", _count_findings("stop")),
        whole("cautions", "findings that say caution", _count_findings("caution")),
    ),
)


class _ReadingItem(NamedTuple):
    stage: Stage
    corner: Corner
    position: int
    of: int
    reading: Reading
    by: str


def _readings(source: Source) -> Iterator[_ReadingItem]:
    by = {event.seq: event.by for event in source.events}
    for stage in source.session.stages:
        for corner in CORNERS:
            readings = stage.corner(corner).readings
            for position, reading in enumerate(readings, 1):
                yield _ReadingItem(stage, corner, position, len(readings), reading, by.get(reading.seq, ""))


READINGS = TidyTable(
    "readings",
    "One row for each height that counts; several of one corner and stage are repeats, and their mean is its height.",
    _readings,
    (
        text(
            "stage", "unloaded, loaded, fitted, fitted-unloaded, road-test or follow-up", lambda item: item.stage.name
        ),
        whole("number", "its number among the stages of that name, from 1", lambda item: item.stage.number),
        text("corner", "LF, RF, RR or LR, as the driver sits", lambda item: item.corner),
        whole("repeat", "which reading of this corner and stage it is, from 1", lambda item: item.position),
        whole("repeats", "how many there are", lambda item: item.of),
        text("entered", "as typed", lambda item: plain(item.reading.entered)),
        number("height_mm", "its exact value", lambda item: plain(item.reading.mm)),
        text("recorded_by", "who recorded it", lambda item: plain(item.by)),
        moment("recorded_utc", "when it was recorded, in UTC", lambda item: utc(item.reading.at)),
        whole("seq", "the event that holds it", lambda item: item.reading.seq),
    ),
)


class _EventItem(NamedTuple):
    event: RecordedEvent
    counts: bool


def _events(source: Source) -> Iterator[_EventItem]:
    counting = {event.seq for event in active_events(source.events)}
    return (_EventItem(event, event.seq in counting) for event in source.events)


_SUBJECTS = ("name", "check", "joint", "weighing", "line", "undoes")


def _subject(item: _EventItem) -> Value:
    found = next((getattr(item.event.payload, name) for name in _SUBJECTS if hasattr(item.event.payload, name)), None)
    return None if found is None else plain(str(found))


def _of_event(name: str) -> Callable[[_EventItem], Value]:
    return lambda item: plain(getattr(item.event.payload, name, None))


def _fields(item: _EventItem) -> str:
    body = event_body(item.event.payload)
    body.pop("kind")
    return json.dumps(body, ensure_ascii=False)


EVENTS = TidyTable(
    "events",
    "One row for everything that was recorded, what was taken back included.",
    _events,
    (
        whole("seq", "its number in the session, from 1", lambda item: item.event.seq),
        text("recorded_at", "when, with the offset from UTC", lambda item: item.event.at),
        moment("recorded_utc", "the same in UTC", lambda item: utc(item.event.at)),
        text("recorded_by", "who recorded it", lambda item: plain(item.event.by)),
        text("kind", "what happened", lambda item: item.event.payload.kind),
        flag("counts", "false for an event that was taken back, and for the undo itself", lambda item: item.counts),
        text("stage", "the stage it belongs to, if to one", _of_event("stage")),
        whole("number", "the stage's number", _of_event("number")),
        text("corner", "the corner it belongs to, if to one", _of_event("corner")),
        text("subject", "the fact, load, check, joint, weighing or line; the event that an undo takes back", _subject),
        text("entered", "as typed", _of_event("entered")),
        text("fields", "all its fields as JSON, without those at their default", _fields),
    ),
)
