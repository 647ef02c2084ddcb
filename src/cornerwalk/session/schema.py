"""Session schema: pydantic models that validate a session file and give its JSON Schema.

The events are plain dataclasses, so that the first screen needs no pydantic. This module builds a strict model from
each of them; it is imported when the first file is read.
"""

from __future__ import annotations

from dataclasses import MISSING, fields
from datetime import datetime
from functools import cache
from typing import Annotated, Any, Literal, Union, get_type_hints

from pydantic import BaseModel, ConfigDict, Field, TypeAdapter, ValidationError, create_model

from cornerwalk.session.bounds import beyond
from cornerwalk.session.events import EVENT_TYPES, EVENTS, Event, FactStated
from cornerwalk.session.facts import FACTS
from cornerwalk.session.log import FORMAT, VERSION, JsonEvent, RecordedEvent

_STRICT = ConfigDict(strict=True, extra="forbid", allow_inf_nan=False, frozen=True)
_TEXT_KINDS = ("text", "choice", "moment")
_COUNTS = ("seq", "number", "undoes")
_MOST = 1_000_000
"""More events or trials than any job has: a larger number is a mistake, or meant to be too long to print."""

_REASONS = {"extra_forbidden": "this version knows no such field", "missing": "the field is missing"}
"""Our texts for the most common errors; pydantic words the others."""


class SchemaError(ValueError):
    """An event does not fit the schema of its kind: `where` names the event and field, `reason` what is wrong."""

    def __init__(self, where: str, reason: str) -> None:
        """Keep both parts for the message."""
        super().__init__(f"{where}: {reason}")
        self.where = where
        self.reason = reason


def _model(event: type[Event]) -> type[BaseModel]:
    hints = get_type_hints(event)
    shape: dict[str, Any] = {
        "seq": (int, ...),
        "at": (str, ...),
        "by": (str, ...),
        "kind": (Literal[event.kind], ...),
        "chain": (Annotated[str, Field(pattern="^[0-9a-f]{64}$")], ...),
    }
    for field in fields(event):
        shape[field.name] = (hints[field.name], ... if field.default is MISSING else field.default)
    for name in shape.keys() & set(_COUNTS):
        hint, default = shape[name]
        shape[name] = (Annotated[hint, Field(ge=1, le=_MOST)], default)
    return create_model(event.__name__, __config__=_STRICT, __doc__=event.__doc__, **shape)


@cache
def _models() -> dict[str, type[BaseModel]]:
    return {event.kind: _model(event) for event in EVENTS}


def event_from_json(plain: JsonEvent) -> RecordedEvent:
    """The event of a JSON object.

    Raises:
        SchemaError: an unknown kind, an unknown or missing field, a value of the wrong type or out of bounds, or an
            invalid time.
    """
    where = f"event {plain.get('seq', '?')!s}"
    kind = plain.get("kind")
    if not isinstance(kind, str) or kind not in EVENT_TYPES:
        raise SchemaError(where, f"unknown kind {kind!r}")
    try:
        shaped = _models()[kind].model_validate(plain)
    except ValidationError as error:
        first = error.errors(include_url=False, include_input=False)[0]
        reason = _REASONS.get(first["type"], first["msg"])
        raise SchemaError(f"{where}, {'.'.join(map(str, first['loc']))}", reason) from error
    _require_moment(where, plain["at"])
    cls = EVENT_TYPES[kind]
    event = cls(**{field.name: getattr(shaped, field.name) for field in fields(cls)})
    if isinstance(event, FactStated):
        _require_fact(where, event)
    for name, number in beyond(event):
        raise SchemaError(f"{where}, {name}", f"{number:g} is more or less than anything here can be")
    return RecordedEvent(seq=plain["seq"], at=plain["at"], by=plain["by"], payload=event, chain=plain["chain"])


def _require_moment(where: str, at: str) -> None:
    try:
        moment = datetime.fromisoformat(at)
    except ValueError as error:
        raise SchemaError(f"{where}, at", f"{at!r} is no ISO 8601 time") from error
    if moment.tzinfo is None:
        raise SchemaError(f"{where}, at", f"{at!r} has no offset from UTC")


def _require_fact(where: str, event: FactStated) -> None:
    fact = FACTS.get(event.name)
    if fact is None:
        raise SchemaError(f"{where}, name", f"unknown fact {event.name!r}")
    if event.value is None:
        return
    wanted: type | tuple[type, ...] = (int, float)
    if fact.kind in _TEXT_KINDS:
        wanted = str
    elif fact.kind == "forces":
        wanted = list
    if not isinstance(event.value, wanted) or (fact.choices and event.value not in fact.choices):
        raise SchemaError(f"{where}, value", f"{event.value!r} is no value of {event.name}")


def session_schema() -> dict[str, Any]:
    """The JSON Schema (2020-12) of a session file."""
    union = Annotated[Union[tuple(_models().values())], Field(discriminator="kind")]  # type: ignore[valid-type]  # noqa: UP007
    shape: dict[str, Any] = {
        "format": (Literal[FORMAT], ...),
        "version": (Literal[VERSION], ...),
        "id": (str, ...),
        "events": (list[union], ...),  # type: ignore[valid-type]
    }
    file = create_model(
        "SessionFile", __config__=_STRICT, __doc__="One job: the list of what happened, in order.", **shape
    )
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **TypeAdapter(file).json_schema()}
