"""Sheet schema: the JSON Schema of a job sheet, for editors that check TOML."""

from __future__ import annotations

from typing import Any

from cornerwalk.session.facts import FACTS, Fact
from cornerwalk.session.stages import CORNERS, STAGE_NAMES
from cornerwalk.session.statements import WEIGHINGS
from cornerwalk.sheet.contents import LOAD_KEYS, UNIT_FACT, facts_of
from cornerwalk.sheet.measurements import ANSWERS, LEAK_KEYS, LINES, SOAP_KEYS, TORQUE_KEYS, WEIGHING_KEYS
from cornerwalk.sheet.stages import AIR_KEYS, HALVES

Schema = dict[str, Any]

_TEXT: Schema = {"type": "string"}
_NUMBER: Schema = {"type": ["string", "number"]}
_FLAG: Schema = {"anyOf": [{"type": "boolean"}, {"enum": ["yes", "no"]}]}
_MOMENT: Schema = {"type": "string", "description": "a date, or a date and time with its offset; TOML's own is best"}
_TEXTS: Schema = {"anyOf": [_TEXT, {"type": "array", "items": _TEXT}]}
_QUANTITY: Schema = {"type": "string", "description": "a value with its unit, as typed on screen"}

_OF_KIND: dict[str, Schema] = {
    "text": _TEXT,
    "moment": _MOMENT,
    "percent": _NUMBER,
    "number": _NUMBER,
    "forces": {"type": "array", "items": _QUANTITY},
}


def sheet_schema() -> Schema:
    """The JSON Schema (2020-12) of a job sheet."""
    properties: Schema = {"unit": {"enum": list(FACTS[UNIT_FACT].choices), "description": "what a bare height means"}}
    for part in dict.fromkeys(fact.part for fact in FACTS.values()):
        properties[part] = _table(_facts(part) | _beside_facts(part))
    properties |= {
        "load": _several(
            _table(dict.fromkeys(LOAD_KEYS, _QUANTITY) | {"name": _TEXT, "weighed": _FLAG}, "name", "weight")
        ),
        "stage": _several(_stage()),
        "checks": _answers(),
        "weighing": _several(
            _table(dict.fromkeys(WEIGHING_KEYS, _QUANTITY) | {"name": {"enum": list(WEIGHINGS)}}, "name")
        ),
        "torque": _several(_table(dict.fromkeys(TORQUE_KEYS, _TEXT), "joint")),
        "soap": _several(_table(dict.fromkeys(SOAP_KEYS, _TEXT) | {"bubbles": _FLAG}, "joint", "bubbles")),
    }
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "cornerwalk job sheet",
        **_table(properties),
    }


def _table(properties: Schema, *required: str) -> Schema:
    table: Schema = {"type": "object", "properties": properties, "additionalProperties": False}
    return table | {"required": list(required)} if required else table


def _several(table: Schema) -> Schema:
    return {"type": "array", "items": table}


def _facts(part: str) -> Schema:
    return {fact.key: _fact(fact) for fact in facts_of(part) if fact.name != UNIT_FACT}


def _fact(fact: Fact) -> Schema:
    if fact.choices:
        return {"enum": list(fact.choices)}
    return _OF_KIND.get(fact.kind, _QUANTITY)


def _beside_facts(part: str) -> Schema:
    match part:
        case "job":
            return {"note": _TEXT}
        case "leak":
            own: Schema = {"line": {"enum": list(LINES)}, "hours": _NUMBER, "loaded": _FLAG}
            times = dict.fromkeys(("time_before", "time_after"), _MOMENT)
            return dict.fromkeys(LEAK_KEYS, _QUANTITY) | own | times
        case _:
            return {}


def _stage() -> Schema:
    properties: Schema = {
        "name": {"enum": list(STAGE_NAMES)},
        **dict.fromkeys(AIR_KEYS, _QUANTITY),
        **{corner: {"anyOf": [_TEXTS, _table(dict.fromkeys(HALVES, _TEXT), *HALVES)]} for corner in CORNERS},
        "skip": _table(dict.fromkeys(CORNERS, _TEXT)),
        "mark": _QUANTITY,
        "leveller": _NUMBER,
        "checks": _answers(),
        "note": _TEXT,
    }
    return _table(properties, "name")


def _answers() -> Schema:
    """Answers by question id; a shop may add questions, so any id is allowed."""
    answer: Schema = {"enum": list(ANSWERS)}
    with_note = _table({"answer": answer, "note": _TEXT}, "answer")
    return {"type": "object", "additionalProperties": {"anyOf": [answer, with_note]}}
