"""The journal: events with their order, time, author and chain; what an undo takes back.

The chain of an event is SHA-256 over the chain before it and the event in canonical form (JSON, keys sorted, no
spaces, UTF-8). It shows accidental or casual change. It is no proof against somebody who recomputes it.
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
VERSION = 1
"""What a session file says it is, and the version of it that this program writes."""

FIRST_CHAIN = ""
"""What the first event's chain is computed over in place of an earlier one."""

_canonical = json.JSONEncoder(sort_keys=True, ensure_ascii=False, separators=(",", ":"), allow_nan=False).encode

JsonEvent = dict[str, Any]
"""An event in the form of its JSON object."""


@dataclass(frozen=True, slots=True)
class RecordedEvent:
    """An event as recorded: `at` is ISO 8601 with its offset from UTC, `by` the technician's initials."""

    seq: int
    at: str
    by: str
    payload: Event
    chain: str


def event_body(what: Event) -> JsonEvent:
    """The fields of an event, `kind` first, without those that stand at their default.

    Leaving defaults out keeps the file short and lets a later version add a field without breaking old chains.
    """
    body: JsonEvent = {"kind": what.kind}
    for field in fields(what):
        value = getattr(what, field.name)
        if value != field.default:
            body[field.name] = value
    return body


def chain_of(earlier: str, event: JsonEvent) -> str:
    """SHA-256 (hex) over the earlier chain and this event's canonical form; `event` without its own chain.

    Raises:
        ValueError: the event holds what no UTF-8 JSON file can: a lone surrogate, NaN, an infinity.
    """
    return hashlib.sha256((earlier + _canonical(event)).encode("utf-8")).hexdigest()


def event_to_json(event: RecordedEvent) -> JsonEvent:
    """The JSON object of an event, as it stands in the session file."""
    return {
        "seq": event.seq,
        "at": event.at,
        "by": event.by,
        **event_body(event.payload),
        "chain": event.chain,
    }


def record_event(earlier: Sequence[RecordedEvent], what: Event, *, at: str, by: str) -> RecordedEvent:
    """The event that follows `earlier`, with its number and its chain.

    Raises:
        ValueError: the event holds what no UTF-8 JSON file can.
    """
    what = _with_floats(what)
    seq = earlier[-1].seq + 1 if earlier else 1
    before = earlier[-1].chain if earlier else FIRST_CHAIN
    body: JsonEvent = {"seq": seq, "at": at, "by": by, **event_body(what)}
    return RecordedEvent(seq=seq, at=at, by=by, payload=what, chain=chain_of(before, body))


def _with_floats(what: Event) -> Event:
    """Whole numbers in place of floats as the floats they are read back as, so that both give the same chain."""
    changed = {}
    for name in _float_fields(what.kind):
        value = getattr(what, name)
        floated = _as_floats(value)
        if floated is not value:
            changed[name] = floated
    return replace(what, **changed) if changed else what


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
"""What an undo does not reach."""


def active_events(events: Iterable[RecordedEvent]) -> list[RecordedEvent]:
    """The events that count: those undone are left out, and so are the undos themselves.

    What lasts counts whatever an undo says: opening, handing over and reopening stay on the record.
    """
    dead: set[int] = set()
    kept: list[RecordedEvent] = []
    for event in reversed(list(events)):
        if event.seq in dead and not isinstance(event.payload, PERMANENT_EVENTS):
            continue
        if isinstance(event.payload, Undone):
            dead.add(event.payload.undoes)
            continue
        kept.append(event)
    kept.reverse()
    return kept


def undoable(events: Sequence[RecordedEvent]) -> RecordedEvent | None:
    """The latest event that counts and may be taken back, or None."""
    for event in reversed(active_events(events)):
        return None if isinstance(event.payload, PERMANENT_EVENTS) else event
    return None


def redoable(events: Sequence[RecordedEvent]) -> RecordedEvent | None:
    """The undo that a redo would take back, or None once anything else has been recorded since."""
    dead: set[int] = set()
    for event in reversed(events):
        if not isinstance(event.payload, Undone):
            return None
        if event.seq in dead:
            continue
        dead.add(event.payload.undoes)
        if not _is_undo(events, event.payload.undoes):
            return event
    return None


def _is_undo(events: Sequence[RecordedEvent], seq: int) -> bool:
    return any(event.seq == seq and isinstance(event.payload, Undone) for event in events)
