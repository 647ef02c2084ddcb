"""The results document: everything an assessment holds, for machines; its schema, from the same fields.

A figure that is not known is null, and `not_checked` says what it needs. Numbers are written so that they read back
to the same value.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from cornerwalk import __version__
from cornerwalk.assess.assessment import Assessment, Finding, LeakResult
from cornerwalk.report.result_fields import (
    AIR,
    AXLES,
    BEAM,
    BUDGET,
    LEAK,
    NOT_CHECKED,
    READING,
    SIDES,
    STAGE,
    TABLE_ROW,
    VERDICT,
    Field,
    flag,
    number,
    stage_text,
    text,
)
from cornerwalk.session.model import Session
from cornerwalk.session.stages import CORNERS
from cornerwalk.wording.figures import Wording
from cornerwalk.wording.findings import finding_text

FORMAT = "cornerwalk results"
VERSION = 1
"""Raised when a field changes its meaning, its unit or its type, or is gone. A field more does not raise it."""

Json = dict[str, Any]

FINDING = (
    text("code", "what was found"),
    text("level", "note, caution or stop"),
    text("stage", "at which stage, if at one", stage_text),
    text("text", "the same in words, in the units the heights were typed in"),
    text("source", "whose word it is"),
    Field("fields", "object", "its figures, named with their units"),
)

DOCUMENT = (
    text("format", "always: cornerwalk results"),
    number("version", "version of this format"),
    text("session", "id of the session"),
    text("program", "version of the program that computed this"),
    text("written_by", "version of the program that opened the session"),
    text("overall", "the worst verdict; not checked is worse than conditional pass"),
    Field("reading", "object", "how sure one reading is", READING),
    Field("stages", "list", "in the order recorded", STAGE),
    Field("axles", "object", "what the axles carry", AXLES),
    number("ride_rate_N_per_mm", "rear ride rate, the axle's gain over its drop; an estimate"),
    number("u_ride_rate_N_per_mm", "standard uncertainty of ride_rate_N_per_mm"),
    number("carried_N", "load carried by the helper springs at the last trial"),
    number("u_carried_N", "standard uncertainty of carried_N"),
    Field("air", "list", "height against pressure, and the pressure for the target", AIR),
    Field("sides", "object", "what separate lines would do for a rear that shares one", SIDES),
    Field("pressure_table", "list", "pressure by load", TABLE_ROW),
    Field("leak", "object", "the hold test; of several lines the one that lost most", LEAK),
    Field("leaks", "list", "the hold test of every line", LEAK),
    number("falr_percent", "front-axle load restored by a load-distributing hitch"),
    number("u_falr_percent", "standard uncertainty of falr_percent"),
    text("falr_by", "weights or heights"),
    number("screen_mm", "distance of the wall"),
    text("rule", "id of the aim rule chosen; null where none was"),
    text("rule_title", "what that rule is called"),
    text("rule_load_state", "how the vehicle is to be loaded where the rule is applied; empty where it does not say"),
    flag("aim_assumed", "the aim when unloaded is the rule's nominal, neither stated nor measured"),
    Field("beam", "object", "what the beam does on this vehicle", BEAM),
    Field("budget", "object", "what makes up the uncertainty of the beam", BUDGET),
    Field("verdicts", "list", "every check that was made", VERDICT),
    Field("not_checked", "list", "every check that could not be made", NOT_CHECKED),
    Field("findings", "list", "what the technician should know, stops first", FINDING),
)


def results_document(session: Session, assessment: Assessment) -> Json:
    """The document, ready for JSON: the fixed names of the format, in their order."""
    restored = assessment.restoration
    whole: Json = {
        "format": FORMAT,
        "version": VERSION,
        "session": session.id,
        "program": __version__,
        "written_by": session.program,
        "leak": _worst(assessment.leak),
        "leaks": assessment.leak,
        "falr_percent": restored.percent if restored is not None else None,
        "u_falr_percent": restored.u_percent if restored is not None else None,
        "falr_by": restored.by if restored is not None else None,
        "findings": _findings(session, assessment),
    }
    return {
        field.name: _plain(field, whole[field.name] if field.name in whole else getattr(assessment, field.name))
        for field in DOCUMENT
    }


def _worst(leaks: Sequence[LeakResult]) -> LeakResult | None:
    return max(leaks, key=lambda leak: -1e9 if leak.loss_kPa is None else leak.loss_kPa, default=None)


def _findings(session: Session, assessment: Assessment) -> list[Json]:
    wording = Wording.for_tape("inch" if session.job.unit == "inch" else "metric", assessment.reading.graduation_mm)
    return [_finding(finding, wording) for finding in assessment.findings]


def _finding(finding: Finding, wording: Wording) -> Json:
    words = finding_text(finding, wording)
    return {
        "code": finding.code,
        "level": finding.level,
        "stage": stage_text(finding),
        "text": words.text,
        "source": words.source,
        "fields": dict(finding.fields),
    }


def _plain(field: Field, value: Any) -> Any:
    """A value in the form JSON has for its kind."""
    if value is None:
        return None
    match field.kind:
        case "corners":
            return {corner: value.get(corner) for corner in CORNERS}
        case "object":
            return _object(field.parts, value) if field.parts else value
        case "list":
            return [_object(field.parts, one) for one in value] if field.parts else list(value)
        case _:
            return value


def _object(fields: Iterable[Field], value: Any) -> Json:
    return {field.name: _plain(field, _read(field, value)) for field in fields}


def _read(field: Field, value: Any) -> Any:
    if isinstance(value, dict):
        return value[field.name]
    return field.read(value) if field.read is not None else getattr(value, field.name)


def results_schema() -> Json:
    """JSON Schema (draft 2020-12) of the document. Further fields are allowed, as a later program may add some."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": FORMAT,
        "description": (
            "u_ is a standard uncertainty, U an expanded one (k = 2). Units end the names: mm, kPa (gauge), N, deg, "
            "percent, m, h. Corners LF RF RR LR are left and right front, right and left rear, as the driver sits."
        ),
        **_object_schema(DOCUMENT),
    }


_SCALARS: dict[str, Json] = {
    "number": {"type": ["number", "null"]},
    "text": {"type": ["string", "null"]},
    "flag": {"type": ["boolean", "null"]},
    "corners": {
        "type": ["object", "null"],
        "properties": {corner: {"type": ["number", "null"]} for corner in CORNERS},
        "required": list(CORNERS),
    },
}


def _schema(field: Field) -> Json:
    if field.kind in _SCALARS:
        body = _SCALARS[field.kind]
    elif field.kind == "list":
        entry = _object_schema(field.parts) if field.parts else {"type": "string"}
        body = {"type": ["array", "null"], "items": entry}
    else:
        body = _object_schema(field.parts)
        body = {**body, "type": ["object", "null"]}
    return {"description": field.meaning, **body}


def _object_schema(fields: Iterable[Field]) -> Json:
    parts = list(fields)
    if not parts:
        return {"type": "object"}
    return {
        "type": "object",
        "properties": {field.name: _schema(field) for field in parts},
        "required": [field.name for field in parts],
    }
