"""Event log: recorded events with sequence number, time, author and hash chain; undo and redo.

The chain of an event is SHA-256 over the chain before it and the event in canonical form (JSON, keys sorted, no
spaces, UTF-8). It reveals accidental or casual change. It proves nothing against someone who recomputes it.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, fields, replace
from functools import cache
from typing import Any

from cornerwalk.session.events import EVENT_TYPES, Event, HandedOver, JobOpened, JobReopened, Undone

FORMAT = "cornerwalk session"
VERSION = 2
"""The format name in a session file, and the version that this program writes."""

FIRST_CHAIN = ""
"""Takes the place of an earlier chain for the first event."""

_canonical = json.JSONEncoder(sort_keys=True, ensure_ascii=False, separators=(",", ":"), allow_nan=False).encode

JsonEvent = dict[str, Any]
"""A recorded event as its JSON object."""


@dataclass(frozen=True, slots=True)
class RecordedEvent:
    """An entry of the log: `at` is ISO 8601 with its offset from UTC, `by` the technician's initials."""

    seq: int
    at: str
    by: str
    payload: Event
    chain: str


def event_body(event: Event) -> JsonEvent:
    """The fields of an event, `kind` first, without those that have their default.

    Leaving defaults out keeps the file short and lets a later version add a field without breaking old chains.
    """
    body: JsonEvent = {"kind": event.kind}
    for field in fields(event):
        value = getattr(event, field.name)
        if value != field.default:
            body[field.name] = value
    return body


def chain_of(earlier: str, event: JsonEvent) -> str:
    """SHA-256 (hex) over the earlier chain and this event, without its own chain, in canonical form.

    Raises:
        ValueError: the event holds what UTF-8 JSON cannot: a lone surrogate, NaN, an infinity.
    """
    return hashlib.sha256((earlier + _canonical(event)).encode("utf-8")).hexdigest()


def event_to_json(event: RecordedEvent) -> JsonEvent:
    """The JSON object of an event, as in the session file."""
    return {
        "seq": event.seq,
        "at": event.at,
        "by": event.by,
        **event_body(event.payload),
        "chain": event.chain,
    }


def record_event(earlier: Sequence[RecordedEvent], event: Event, *, at: str, by: str) -> RecordedEvent:
    """The log entry of an event after those of `earlier`, with its number and its chain.

    Raises:
        ValueError: the event holds what UTF-8 JSON cannot.
    """
    event = _with_floats(event)
    seq = earlier[-1].seq + 1 if earlier else 1
    before = earlier[-1].chain if earlier else FIRST_CHAIN
    body: JsonEvent = {"seq": seq, "at": at, "by": by, **event_body(event)}
    return RecordedEvent(seq=seq, at=at, by=by, payload=event, chain=chain_of(before, body))


def _with_floats(event: Event) -> Event:
    """The event with ints in float fields turned to floats, as they are read back, so that both give the same chain."""
    changed = {}
    for name in _float_fields(event.kind):
        value = getattr(event, name)
        floated = _as_floats(value)
        if floated is not value:
            changed[name] = floated
    return replace(event, **changed) if changed else event


@cache
def _float_fields(kind: str) -> tuple[str, ...]:
    # Annotations are strings here, and FactValue is the one alias among them that holds floats.
    return tuple(f.name for f in fields(EVENT_TYPES[kind]) if "float" in str(f.type) or f.type == "FactValue")


def _as_floats(value: Any) -> Any:
    match value:
        case bool():
            return value
        case int():
            return float(value)
        case list() | tuple():
            return [_as_floats(item) for item in value]
        case dict():
            return {name: _as_floats(item) for name, item in value.items()}
        case _:
            return value


PERMANENT_EVENTS = (JobOpened, HandedOver, JobReopened)
"""Events that cannot be undone."""


def active_events(events: Iterable[RecordedEvent]) -> list[RecordedEvent]:
    """The events that count: without those undone, and without the undos themselves.

    Permanent events always count: opening, handing over and reopening stay on the record.
    """
    undone: set[int] = set()
    active: list[RecordedEvent] = []
    for event in reversed(list(events)):
        if event.seq in undone and not isinstance(event.payload, PERMANENT_EVENTS):
            continue
        if isinstance(event.payload, Undone):
            undone.add(event.payload.undoes)
            continue
        active.append(event)
    active.reverse()
    return active


def undoable(events: Sequence[RecordedEvent]) -> RecordedEvent | None:
    """The event that an undo would undo, None if there is none."""
    for event in reversed(active_events(events)):
        return None if isinstance(event.payload, PERMANENT_EVENTS) else event
    return None


def redoable(events: Sequence[RecordedEvent]) -> RecordedEvent | None:
    """The undo that a redo would undo, None once anything else has been recorded since."""
    undone: set[int] = set()
    for event in reversed(events):
        if not isinstance(event.payload, Undone):
            return None
        if event.seq in undone:
            continue
        undone.add(event.payload.undoes)
        if not _is_undo(events, event.payload.undoes):
            return event
    return None


def _is_undo(events: Sequence[RecordedEvent], seq: int) -> bool:
    return any(event.seq == seq and isinstance(event.payload, Undone) for event in events)
