from __future__ import annotations

import json
import math
from collections.abc import Sequence
from typing import Any

import pytest
from hypothesis import given

from cornerwalk.session.events import EVENT_TYPES, Event, FactStated, HeightRead
from cornerwalk.session.facts import FACTS
from cornerwalk.session.log import FORMAT, VERSION, event_to_json
from cornerwalk.session.schema import SchemaError, event_from_json, session_schema
from tests.session.support import any_job, events_of, opened, read

GOOD = event_to_json(events_of(opened(), read("RR", 701.675, stage="loaded", entered="27 5/8"))[1])


@given(any_job)
def test_every_event_comes_back_from_json_as_it_was(job: Sequence[Event]) -> None:
    """Event → JSON text → event is the same event, whatever happened in it."""
    for event in events_of(*job):
        assert event_from_json(json.loads(json.dumps(event_to_json(event)))) == event


# One row a way of being wrong: what is changed of a good event, what the message must name.
WRONG: list[tuple[dict[str, Any], str]] = [
    ({"kind": "height guessed"}, "event 2: unknown kind 'height guessed'"),
    ({"kind": None}, "unknown kind None"),
    ({"kind": ["height read"]}, "unknown kind"),
    ({"surprise": 1}, "event 2, surprise: this version knows no such field"),
    ({"mm": ...}, "event 2, mm: the field is missing"),
    ({"by": ...}, "event 2, by: the field is missing"),
    ({"mm": "701.675"}, "event 2, mm: Input should be a valid number"),
    ({"stage": 1}, "event 2, stage: Input should be 'unloaded', "),
    ({"mm": True}, "event 2, mm"),
    ({"mm": math.nan}, "event 2, mm"),
    ({"mm": math.inf}, "event 2, mm"),
    ({"mm": 10**400}, "event 2, mm"),
    ({"mm": None}, "event 2, mm"),
    ({"mm": -0.1}, "event 2, mm: -0.1 is more or less than anything here can be"),
    ({"mm": 1e12}, "event 2, mm: 1e+12 is more or less than anything here can be"),
    ({"corner": "XX"}, "event 2, corner"),
    ({"stage": "unladen"}, "event 2, stage"),
    ({"how": "twice"}, "event 2, how"),
    ({"number": 0}, "event 2, number"),
    ({"number": 1.0}, "event 2, number"),
    ({"number": 10**1000}, "event 2, number"),
    ({"seq": 0}, "event 0, seq"),
    ({"seq": True}, "event True, seq"),
    ({"seq": ...}, "event ?, seq: the field is missing"),
    ({"chain": "xyz"}, "event 2, chain"),
    ({"chain": "A" * 64}, "event 2, chain"),
    ({"entered": 27}, "event 2, entered"),
    ({"at": "yesterday"}, "event 2, at: 'yesterday' is no ISO 8601 time"),
    ({"at": "2026-05-04T08:12:31"}, "event 2, at: '2026-05-04T08:12:31' has no offset from UTC"),
    ({"at": 5}, "event 2, at"),
]


@pytest.mark.parametrize(("change", "said"), WRONG, ids=[str(change)[:40] for change, _ in WRONG])
def test_what_is_wrong_is_refused_by_name(change: dict[str, Any], said: str) -> None:
    """An unknown field, a missing one, a value of the wrong type: never coerced, never dropped, always named."""
    plain = {name: value for name, value in (GOOD | change).items() if value is not ...}
    with pytest.raises(SchemaError) as caught:
        event_from_json(plain)
    assert str(caught.value).startswith(said) or said in str(caught.value)
    assert str(caught.value) == f"{caught.value.where}: {caught.value.reason}"


def fact_event(name: str, value: object) -> dict[str, Any]:
    envelope = {key: GOOD[key] for key in ("seq", "at", "by", "chain")}
    return envelope | {"kind": "fact stated", "name": name, "entered": "", "value": value}


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("vehicle.wheelbase", "3 m"),
        ("vehicle.description", 5.0),
        ("job.unit", "furlong"),
        ("job.unit", 1.0),
        ("table.loads", 5.0),
        ("vehicle.wheelbase", [1.0]),
    ],
)
def test_a_fact_has_a_value_of_its_kind(name: str, value: object) -> None:
    """A fact must be in the register, and its value of the fact's kind and among its choices; both are named."""
    with pytest.raises(SchemaError) as caught:
        event_from_json(fact_event(name, value))
    assert str(caught.value) == f"event 2, value: {value!r} is no value of {name}"
    with pytest.raises(SchemaError, match=r"event 2, name: unknown fact 'vehicle\.colour'"):
        event_from_json(fact_event("vehicle.colour", "blue"))


@pytest.mark.parametrize("name", FACTS)
def test_every_fact_may_be_taken_back(name: str) -> None:
    """No value is a value of every fact: it takes it back."""
    what = event_from_json(fact_event(name, None)).payload
    assert isinstance(what, FactStated)
    assert what.value is None


def test_the_schema_describes_every_kind_and_forbids_the_rest() -> None:
    """The printed JSON Schema names the format, and has each kind once with its own fields and no others."""
    schema = session_schema()
    assert json.loads(json.dumps(schema)) == schema
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert set(schema["properties"]) == set(schema["required"]) == {"format", "version", "id", "events"}
    assert schema["additionalProperties"] is False
    assert schema["title"] == "SessionFile"
    assert schema["description"] == "One job: the list of what happened, in order."
    assert schema["properties"]["events"]["items"]["discriminator"]["propertyName"] == "kind"
    assert schema["properties"]["format"]["const"] == FORMAT
    assert schema["properties"]["version"]["const"] == VERSION
    kinds = {shape["properties"]["kind"]["const"]: shape for shape in schema["$defs"].values()}
    assert kinds.keys() == EVENT_TYPES.keys()
    assert all(shape["additionalProperties"] is False for shape in kinds.values())
    assert kinds["height read"]["description"] == HeightRead.__doc__
    assert {"seq", "at", "by", "kind", "chain", "mm"} <= set(kinds["height read"]["required"])
