"""Measurements of a sheet besides the heights: hold test, soapy water, weighings, torques, checklist answers."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Literal, cast, get_args

from cornerwalk.quantity import read_force, read_hours, read_pressure, read_temperature, read_torque
from cornerwalk.session.checklist import Checklists, Frequency, load_checklists
from cornerwalk.session.events import (
    Answer,
    CheckAnswered,
    JointSoaped,
    LeakRead,
    TorqueRecorded,
    Weighing,
    WeighingRecorded,
)
from cornerwalk.session.hold_test import AirLine
from cornerwalk.session.model import StageKey
from cornerwalk.session.statements import WEIGHINGS, bare_units
from cornerwalk.sheet.contents import DefaultUnit
from cornerwalk.textfiles import TomlTable

LINES: tuple[AirLine, ...] = get_args(AirLine)

LEAK_KEYS = (
    "line",
    "before",
    "after",
    *(f"{moment}_{side}" for moment in ("before", "after") for side in ("left", "right")),
    "temperature_before",
    "temperature_after",
    "hours",
    "time_before",
    "time_after",
    "loaded",
)
"""Keys of `[leak]` besides its facts."""

WEIGHING_KEYS = ("name", "front", "rear", "trailer")
TORQUE_KEYS = ("joint", "specified", "source", "reached")
SOAP_KEYS = ("joint", "bubbles", "note")


@dataclass(frozen=True, slots=True)
class _HoldTime:
    """When the gauge was read at the start and at the end; `hours` if the sheet states the duration itself."""

    start: datetime
    end: datetime
    hours: float | None


def read_leak(table: TomlTable, bare: DefaultUnit, at: datetime) -> Iterator[LeakRead]:
    """The hold tests of `[leak]`: one with a tee, one a side with separate lines. `at` is the time of the sheet."""
    lines = _lines_tested(table)
    ended = any(f"after{suffix}" in table for suffix in lines.values())
    span = _hold_time(table, at, ended=ended)
    for line, suffix in lines.items():
        if f"after{suffix}" in table and f"before{suffix}" not in table:
            table.wrong(f"after{suffix}", "a leak-down test starts with {key}", key=f"before{suffix}")
            continue
        yield from _reading(table, bare, line, suffix, "before", span)
        yield from _reading(table, bare, line, suffix, "after", span)


def _lines_tested(table: TomlTable) -> dict[AirLine, str]:
    """The lines under test, each with the suffix of its keys: `before`, or `before_left` and `before_right`."""
    sides: dict[AirLine, str] = {
        side: f"_{side}" for side in LINES[1:] if f"before_{side}" in table or f"after_{side}" in table
    }
    single = "before" in table or "after" in table
    if sides and (single or "line" in table):
        table.missing("either one leak-down test, or before_left, after_left, before_right and after_right")
        return {}
    if sides:
        return sides
    line = cast("AirLine", table.choice("line", LINES) or "both")
    return {line: ""} if single else {}


def _hold_time(table: TomlTable, at: datetime, *, ended: bool) -> _HoldTime:
    text = table.number_text("hours")
    hours = None if text is None else table.parse("hours", text, read_hours)
    start, end = (_moment(table, key, at) for key in ("time_before", "time_after"))
    if hours is not None:
        return _HoldTime(start or at, (start or at) + timedelta(hours=float(hours)), float(hours))
    if ended and "hours" not in table and (start is None or end is None):
        table.missing("how long the test ran is missing: hours = 14, or time_before and time_after")
    if start is not None and end is not None and end < start:
        table.wrong("time_after", "this is before time_before")
    return _HoldTime(start or at, end or at, None)


def _moment(table: TomlTable, key: str, at: datetime) -> datetime | None:
    moment = table.moment(key)
    if moment is None:
        return None
    if not isinstance(moment, datetime):
        table.wrong(key, "the time of day is missing: write 2026-05-04T18:30:00")
        return None
    return with_offset(moment, at)


def with_offset(moment: date, near: datetime) -> datetime:
    """A time with an offset, that of `near` if it has none; a date becomes the start of its day."""
    if not isinstance(moment, datetime):
        return datetime(moment.year, moment.month, moment.day, tzinfo=near.tzinfo)
    return moment if moment.tzinfo is not None else moment.replace(tzinfo=near.tzinfo)


def _reading(
    table: TomlTable, bare: DefaultUnit, line: AirLine, suffix: str, moment: Literal["before", "after"], span: _HoldTime
) -> Iterator[LeakRead]:
    key = f"{moment}{suffix}"
    pressure = table.read(key, bare.bind(lambda t, unit: read_pressure(t, bare=bare_units(unit)["pressure"])))
    if pressure is None:
        return
    warmth = f"temperature_{moment}"
    temperature = table.read(
        warmth, bare.bind(lambda t, unit: read_temperature(t, bare="degF" if unit == "inch" else "degC"))
    )
    at_end = moment == "after"
    yield LeakRead(
        moment="end" if at_end else "start",
        line=line,
        pressure_entered=table.text(key) or "",
        pressure_kPa=pressure.kPa,
        temperature_entered=table.text(warmth) or "",
        temperature_C=None if temperature is None else temperature.C,
        read_at=(span.end if at_end else span.start).isoformat(),
        hours=span.hours if at_end else None,
        loaded=table.flag("loaded"),
    )


def read_soap(table: TomlTable) -> JointSoaped | None:
    """One `[[soap]]`, None if something is wrong or missing."""
    joint, bubbles = table.text("joint"), table.flag("bubbles")
    if joint is None or bubbles is None:
        if joint is None or "bubbles" not in table:
            table.missing('a joint in the soap test needs joint = "…" and bubbles = "no"')
        return None
    return JointSoaped(joint=joint, bubbles=bubbles, note=table.text("note") or "")


def read_weighing(table: TomlTable, bare: DefaultUnit) -> WeighingRecorded | None:
    """One `[[weighing]]`, None if something is wrong or missing."""
    name = table.choice("name", WEIGHINGS)
    if name is None:
        if "name" not in table:
            table.missing("a weighing needs its name: {choices}", choices=", ".join(WEIGHINGS))
        return None
    weights = {
        where: table.read(where, bare.bind(lambda t, unit: read_force(t, bare=bare_units(unit)["force"])))
        for where in WEIGHING_KEYS[1:]
    }
    if all(weight is None for weight in weights.values()):
        table.missing("a weighing needs at least one axle's weight: front, rear or trailer")
        return None
    entered = {where: table.text(where) or "" if weight is not None else "" for where, weight in weights.items()}
    front, rear, trailer = (None if weight is None else weight.N for weight in weights.values())
    return WeighingRecorded(
        weighing=cast("Weighing", name),
        front_entered=entered["front"],
        front_N=front,
        rear_entered=entered["rear"],
        rear_N=rear,
        trailer_entered=entered["trailer"],
        trailer_N=trailer,
    )


def read_torque_record(table: TomlTable) -> TorqueRecorded | None:
    """One `[[torque]]`, None if something is missing."""
    joint = table.text("joint")
    specified, reached = table.read("specified", read_torque), table.read("reached", read_torque)
    if joint is None or not ("specified" in table or "reached" in table):
        table.missing("a torque needs its joint, and what was specified or reached")
        return None
    return TorqueRecorded(
        joint=joint,
        specified_entered=table.text("specified") or "",
        specified_Nm=None if specified is None else specified.Nm,
        source=table.text("source") or "",
        reached_entered=table.text("reached") or "",
        reached_Nm=None if reached is None else reached.Nm,
    )


# ---- checklist answers ----

ANSWERS: tuple[Answer, ...] = get_args(Answer)
_ANSWER_KEYS = ("answer", "note")


@dataclass(slots=True)
class CheckIds:
    """The ids of the checklist questions. The checklists are read on first use: most sheets answer none."""

    checklists: Checklists | None

    def asked(self, when: Frequency) -> tuple[str, ...]:
        """The questions asked once, or those asked at every stage."""
        if self.checklists is None:
            self.checklists = load_checklists()
        return tuple(item.id for group in self.checklists.lists if group.asked == when for item in group.items)


def read_checks(table: TomlTable, ids: CheckIds, stage: StageKey | None = None) -> Iterator[CheckAnswered]:
    """The answers in the table `checks` of the sheet, or of one of its stages."""
    if "checks" not in table:
        return
    once, each_stage = ids.asked("once"), ids.asked("each stage")
    checks = table.table("checks", once + each_stage)
    if checks is None:
        return
    asked = once if stage is None else each_stage
    for check in checks.values:
        if check in asked:
            yield from _check_answer(checks, check, stage)
        elif check in each_stage:
            checks.wrong(check, "this is asked at every stage: write it there, checks = {{ {check} = … }}", check=check)
        elif check in once:
            checks.wrong(check, "this is asked once: write it in a table [checks] of its own")


def _check_answer(checks: TomlTable, check: str, stage: StageKey | None) -> Iterator[CheckAnswered]:
    words = checks.table(check, _ANSWER_KEYS) if isinstance(checks.values[check], dict) else None
    answer = checks.choice(check, ANSWERS) if words is None else words.choice("answer", ANSWERS)
    if answer is not None:
        yield CheckAnswered(
            check=check,
            answer=cast("Answer", answer),
            note="" if words is None else words.text("note") or "",
            stage=None if stage is None else stage[0],
            number=None if stage is None else stage[1],
        )
    elif words is not None and "answer" not in words:
        checks.wrong(check, "there is no answer; write one of: {choices}", choices=", ".join(ANSWERS))
