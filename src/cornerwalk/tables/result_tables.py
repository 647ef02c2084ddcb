"""Tables of what it means: a row for each stage, trial, line of air, hold test, check and finding."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from cornerwalk.assess.assessment import (
    AirResult,
    CheckResult,
    Finding,
    LeakResult,
    NotChecked,
    StageResult,
    TrialPoint,
)
from cornerwalk.report.result_fields import AIR, LEAK, STAGE, TRIAL, VERDICT, Field
from cornerwalk.session.model import LeakReading, Session, Stage
from cornerwalk.session.stages import CORNERS
from cornerwalk.tables.columns import Column, Source, Table, Value, from_field, moment, number, plain, text, utc, whole
from cornerwalk.tables.session_tables import of_session

_NOT_FLAT = frozenset(("name", "number", "stage", "trials", "where"))
"""Fields that are columns of their own here, or a table."""


def _columns(fields: tuple[Field, ...], of: Callable[[Any], Any]) -> tuple[Column, ...]:
    return tuple(column for field in fields if field.name not in _NOT_FLAT for column in from_field(field, of))


def _stage_columns(key: Callable[[Any], Any]) -> tuple[Column, ...]:
    return (
        text("stage", "the stage, if at one", lambda row: (key(row) or (None, None))[0]),
        whole("number", "its number among the stages of that name", lambda row: (key(row) or (None, None))[1]),
    )


@dataclass(frozen=True, slots=True)
class _StageRow:
    session: str
    position: int
    recorded: Stage
    result: StageResult


def _stages(source: Source) -> Iterator[_StageRow]:
    stages = zip(source.session.stages, source.assessment.stages, strict=True)
    return (
        _StageRow(source.session.id, position, recorded, result)
        for position, (recorded, result) in enumerate(stages, 1)
    )


def _mark_mm(row: _StageRow) -> Value:
    return row.recorded.mark_mm


def _skipped(row: _StageRow) -> Value:
    records = ((corner, row.recorded.corner(corner)) for corner in CORNERS)
    return plain([f"{corner}: {record.skipped}" for corner, record in records if record.skipped is not None])


STAGES = Table(
    "stages",
    "One row for each time a vehicle stood to be read; changes are from its unloaded stage.",
    _stages,
    (
        of_session(lambda row: row.session),
        whole("position", "its place among the stages of the session, from 1", lambda row: row.position),
        text("stage", "unloaded, loaded, fitted, fitted-unloaded, road-test or follow-up", lambda row: row.result.name),
        whole("number", "its number among the stages of that name, from 1", lambda row: row.result.number),
        moment("begun_utc", "when it was begun, in UTC", lambda row: utc(row.recorded.begun_at)),
        whole(
            "readings",
            "heights that count",
            lambda row: sum(len(row.recorded.corner(corner).readings) for corner in CORNERS),
        ),
        text("skipped", "corners that could not be read, and why", _skipped),
        number("mark_mm", "cut-off on the wall above the lamp's unloaded height, as read", _mark_mm),
        text("leveller", "position of a manual headlamp leveller", lambda row: plain(row.recorded.leveller)),
        *_columns(STAGE, lambda row: row.result),
    ),
)


@dataclass(frozen=True, slots=True)
class _TrialRow:
    session: str
    place: str
    trial: TrialPoint


def _trials(source: Source) -> Iterator[_TrialRow]:
    return (_TrialRow(source.session.id, air.where, trial) for air in source.assessment.air for trial in air.trials)


_PLACE = "rear for joined lines, LR or RR for a line to each bag"

TRIALS = Table(
    "trials",
    "One row for each pressure tried on each line of air.",
    _trials,
    (
        of_session(lambda row: row.session),
        text("place", _PLACE, lambda row: row.place),
        *_stage_columns(lambda row: row.trial.stage),
        *_columns(TRIAL, lambda row: row.trial),
    ),
)


@dataclass(frozen=True, slots=True)
class _Of:
    """A result with the session it belongs to."""

    session: str
    result: Any


def _air(source: Source) -> Iterator[_Of]:
    return (_Of(source.session.id, air) for air in source.assessment.air)


def _count_of_trials(row: _Of) -> int:
    air: AirResult = row.result
    return len(air.trials)


LINES = Table(
    "lines",
    "One row for each line of air: height against pressure, and the pressure for the height asked for.",
    _air,
    (
        of_session(lambda row: row.session),
        text("place", _PLACE, lambda row: row.result.where),
        whole("trials", "pressures tried", _count_of_trials),
        *_columns(AIR, lambda row: row.result),
    ),
)


@dataclass(frozen=True, slots=True)
class _LeakRow:
    session: str
    result: LeakResult
    start: LeakReading | None
    end: LeakReading | None


def _leaks(source: Source) -> Iterator[_LeakRow]:
    for leak in source.assessment.leak:
        start, end = (_leak_reading(source.session, leak.line, moment) for moment in ("start", "end"))
        yield _LeakRow(source.session.id, leak, start, end)


def _leak_reading(session: Session, line: str, moment: str) -> LeakReading | None:
    return next((r for r in session.leak_readings if r.line == line and r.moment == moment), None)


def _of_reading(which: str, name: str) -> Callable[[_LeakRow], Value]:
    return lambda row: plain(getattr(getattr(row, which), name, None))


LEAKS = Table(
    "leaks",
    "One row for each hold test.",
    _leaks,
    (
        of_session(lambda row: row.session),
        *_columns(LEAK, lambda row: row.result),
        number("start_kPa", "gauge pressure at the start", _of_reading("start", "pressure_kPa")),
        number("start_C", "temperature at the start", _of_reading("start", "temperature_C")),
        number("end_C", "temperature at the end", _of_reading("end", "temperature_C")),
    ),
)


def _checks(source: Source) -> Iterator[_Of]:
    for check in (*source.assessment.verdicts, *source.assessment.not_checked):
        yield _Of(source.session.id, check)


def _verdict(row: _Of) -> str:
    made: CheckResult | NotChecked = row.result
    return made.verdict if isinstance(made, CheckResult) else "not checked"


def _if_any(name: str) -> Callable[[_Of], Value]:
    return lambda row: plain(getattr(row.result, name, None))


_RENAMED = {"check": "check_name", "limit": "limit_value"}
"""Names that SQL keeps for itself."""


def _checked(field: Field) -> Column:
    """A field of a check that was made, null for one that was not."""
    name = _RENAMED.get(field.name, field.name)
    read = _verdict if field.name == "verdict" else _if_any(field.name)
    if field.kind == "number":
        return Column(name, "number", field.meaning, read, "as in unit")
    return text(name, field.meaning, read)


VERDICTS = Table(
    "verdicts",
    'One row for each check that was made, and for each that could not be made, with the verdict "not checked".',
    _checks,
    (
        of_session(lambda row: row.session),
        *_stage_columns(lambda row: getattr(row.result, "stage", None)),
        *(_checked(field) for field in VERDICT if field.name != "stage"),
        text("needs", "what a check that was not made needs", _if_any("needs")),
        text("fact", "the fact that would supply it, if one would", _if_any("fact")),
    ),
)


@dataclass(frozen=True, slots=True)
class _FindingRow:
    session: str
    position: int
    finding: Finding


def _findings(source: Source) -> Iterator[_FindingRow]:
    return (
        _FindingRow(source.session.id, position, finding)
        for position, finding in enumerate(source.assessment.findings, 1)
    )


def _figures(row: _FindingRow) -> str:
    return json.dumps({name: plain(value) for name, value in row.finding.fields.items()}, ensure_ascii=False)


FINDINGS = Table(
    "findings",
    "One row for each thing the technician should know, stops first.",
    _findings,
    (
        of_session(lambda row: row.session),
        whole("position", "its place, from 1", lambda row: row.position),
        text("level", "note, caution or stop", lambda row: row.finding.level),
        text("code", "what was found", lambda row: row.finding.code),
        *_stage_columns(lambda row: row.finding.stage),
        text("figures", "its figures as JSON, named with their units", _figures),
        text("source", "whose word it is", lambda row: plain(row.finding.source)),
    ),
)
