"""Tables of results: stages, trials, lines of air, hold tests, checks and findings."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from typing import Any, NamedTuple

from cornerwalk.assess.assessment import (
    CheckResult,
    Finding,
    LeakResult,
    NotChecked,
    StageResult,
    TrialPoint,
)
from cornerwalk.report.results import AIR, LEAK, STAGE, TRIAL, VERDICT, ResultField
from cornerwalk.session.model import LeakReading, Session, Stage
from cornerwalk.session.stages import CORNERS
from cornerwalk.tables.columns import (
    Column,
    Source,
    TidyTable,
    Value,
    from_field,
    moment,
    number,
    plain,
    text,
    utc,
    whole,
)

_NOT_FLAT = frozenset(("name", "number", "stage", "trials", "where"))
"""Fields that are columns of their own here, or a table."""


def _columns(fields: tuple[ResultField, ...], of: Callable[[Any], Any]) -> tuple[Column, ...]:
    return tuple(column for field in fields if field.name not in _NOT_FLAT for column in from_field(field, of))


def _stage_columns(key: Callable[[Any], Any]) -> tuple[Column, ...]:
    return (
        text("stage", "the stage, if at one", lambda item: (key(item) or (None, None))[0]),
        whole("number", "its number among the stages of that name", lambda item: (key(item) or (None, None))[1]),
    )


class _StageItem(NamedTuple):
    position: int
    recorded: Stage
    result: StageResult


def _stages(source: Source) -> Iterator[_StageItem]:
    stages = zip(source.session.stages, source.assessment.stages, strict=True)
    return (_StageItem(position, recorded, result) for position, (recorded, result) in enumerate(stages, 1))


def _mark_mm(item: _StageItem) -> Value:
    return item.recorded.mark_mm


def _skipped(item: _StageItem) -> Value:
    records = ((corner, item.recorded.corner(corner)) for corner in CORNERS)
    return plain([f"{corner}: {record.skipped}" for corner, record in records if record.skipped is not None])


STAGES = TidyTable(
    "stages",
    "One row for each time a vehicle stood to be read; changes are from its unloaded stage.",
    _stages,
    (
        whole("position", "its place among the stages of the session, from 1", lambda item: item.position),
        text(
            "stage", "unloaded, loaded, fitted, fitted-unloaded, road-test or follow-up", lambda item: item.result.name
        ),
        whole("number", "its number among the stages of that name, from 1", lambda item: item.result.number),
        moment("begun_utc", "when it was begun, in UTC", lambda item: utc(item.recorded.begun_at)),
        whole(
            "readings",
            "heights that count",
            lambda item: sum(len(item.recorded.corner(corner).readings) for corner in CORNERS),
        ),
        text("skipped", "corners that could not be read, and why", _skipped),
        number("mark_mm", "cut-off on the wall above the lamp's unloaded height, as read", _mark_mm),
        text("leveller", "position of a manual headlamp leveller", lambda item: plain(item.recorded.leveller)),
        *_columns(STAGE, lambda item: item.result),
    ),
)


class _TrialItem(NamedTuple):
    place: str
    trial: TrialPoint


def _trials(source: Source) -> Iterator[_TrialItem]:
    return (_TrialItem(air.where, trial) for air in source.assessment.air for trial in air.trials)


_PLACE = "rear for joined lines, LR or RR for a line to each bag"

TRIALS = TidyTable(
    "trials",
    "One row for each pressure tried on each line of air.",
    _trials,
    (
        text("place", _PLACE, lambda item: item.place),
        *_stage_columns(lambda item: item.trial.stage),
        *_columns(TRIAL, lambda item: item.trial),
    ),
)


LINES = TidyTable(
    "lines",
    "One row for each line of air: height against pressure, and the pressure for the height asked for.",
    lambda source: source.assessment.air,
    (
        text("place", _PLACE, lambda air: air.where),
        whole("trials", "pressures tried", lambda air: len(air.trials)),
        *_columns(AIR, lambda air: air),
    ),
)


class _LeakItem(NamedTuple):
    result: LeakResult
    start: LeakReading | None
    end: LeakReading | None


def _leaks(source: Source) -> Iterator[_LeakItem]:
    for leak in source.assessment.leak:
        start, end = (_leak_reading(source.session, leak.line, moment) for moment in ("start", "end"))
        yield _LeakItem(leak, start, end)


def _leak_reading(session: Session, line: str, moment: str) -> LeakReading | None:
    return next((r for r in session.leak_readings if r.line == line and r.moment == moment), None)


def _of_reading(which: str, name: str) -> Callable[[_LeakItem], Value]:
    return lambda item: plain(getattr(getattr(item, which), name, None))


LEAKS = TidyTable(
    "leaks",
    "One row for each hold test.",
    _leaks,
    (
        *_columns(LEAK, lambda item: item.result),
        number("start_kPa", "gauge pressure at the start", _of_reading("start", "pressure_kPa")),
        number("start_C", "temperature at the start", _of_reading("start", "temperature_C")),
        number("end_C", "temperature at the end", _of_reading("end", "temperature_C")),
    ),
)


def _checks(source: Source) -> tuple[CheckResult | NotChecked, ...]:
    return (*source.assessment.verdicts, *source.assessment.not_checked)


def _verdict(check: CheckResult | NotChecked) -> str:
    return check.verdict if isinstance(check, CheckResult) else "not checked"


def _if_any(name: str) -> Callable[[CheckResult | NotChecked], Value]:
    return lambda check: plain(getattr(check, name, None))


_RENAMED = {"check": "check_name", "id": "check_id", "limit": "limit_value"}
"""Names that SQL keeps for itself."""


def _check_column(field: ResultField) -> Column:
    """A field of a check that was made, null for one that was not."""
    name = _RENAMED.get(field.name, field.name)
    read = _verdict if field.name == "verdict" else _if_any(field.name)
    if field.kind == "number":
        return Column(name, "number", field.meaning, read, "as in unit")
    return text(name, field.meaning, read)


VERDICTS = TidyTable(
    "verdicts",
    'One row for each check that was made, and for each that could not be made, with the verdict "not checked".',
    _checks,
    (
        *_stage_columns(lambda check: getattr(check, "stage", None)),
        *(_check_column(field) for field in VERDICT if field.name != "stage"),
        text("check_kind", "what was held against a limit, without its stage", lambda check: check.kind.code),
        text("needs", "what a check that was not made needs", _if_any("needs")),
        text("fact", "the fact that would supply it, if one would", _if_any("fact")),
    ),
)


class _FindingItem(NamedTuple):
    position: int
    finding: Finding


def _findings(source: Source) -> Iterator[_FindingItem]:
    return (_FindingItem(position, finding) for position, finding in enumerate(source.assessment.findings, 1))


def _figures(item: _FindingItem) -> str:
    return json.dumps({name: plain(value) for name, value in item.finding.fields.items()}, ensure_ascii=False)


FINDINGS = TidyTable(
    "findings",
    "One row for each thing the technician should know, stops first.",
    _findings,
    (
        whole("position", "its place, from 1", lambda item: item.position),
        text("level", "note, caution or stop", lambda item: item.finding.level),
        text("code", "what was found", lambda item: item.finding.code),
        *_stage_columns(lambda item: item.finding.stage),
        text("figures", "its figures as JSON, named with their units", _figures),
        text("source", "whose word it is", lambda item: plain(item.finding.source)),
    ),
)
