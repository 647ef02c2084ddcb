"""Tampering: which events of a file were changed, taken out, moved or added since it was written, by their chain.

Each event is held against the event whose number comes before its own, wherever that stands. So a moved event is told
from a changed one, and what stands after the first break is examined as well.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, LiteralString

from cornerwalk.session.log import FIRST_CHAIN, JsonEvent, RecordedEvent, chain_of


@dataclass(frozen=True, slots=True)
class Tampering:
    """One thing that was done to a file; `event` is the changed, moved or added event, where it can still be read."""

    template: LiteralString
    fields: Mapping[str, object] = field(default_factory=dict)
    event: RecordedEvent | None = None


def find_tampering(raw: Sequence[Any]) -> tuple[Tampering, ...]:
    """What was done to the events of a file since they were recorded, in their order; nothing where all are intact.

    Args:
        raw: the events as the file's JSON has them. What is no event at all is passed over: the loader tells it.
    """
    events = [plain for plain in raw if isinstance(plain, dict) and type(plain.get("seq")) is int]
    found = [*_missing(events), *_out_of_order(events), *_changed(events)]
    return tuple(tampering for _, tampering in sorted(found, key=lambda each: each[0]))


_Placed = tuple[int, Tampering]
"""The number of an event, and what was done there."""


def _missing(events: Sequence[JsonEvent]) -> Iterator[_Placed]:
    last = 0
    for number in sorted({event["seq"] for event in events if event["seq"] > 0}):
        if number == last + 2:
            yield last + 1, Tampering("event {number} is missing", {"number": last + 1})
        elif number > last + 2:
            fields = {"first": last + 1, "last": number - 1}
            yield last + 1, Tampering("events {first} to {last} are missing", fields)
        last = number


def _out_of_order(events: Sequence[JsonEvent]) -> Iterator[_Placed]:
    seen: set[int] = set()
    highest = 0
    for event in events:
        number = event["seq"]
        if number in seen:
            yield number, Tampering("event {number} stands there a second time", {"number": number}, _parsed(event))
        elif number < highest:
            fields = {"number": number, "other": highest}
            yield number, Tampering("event {number} was moved: it stands after event {other}", fields, _parsed(event))
        seen.add(number)
        highest = max(highest, number)


def _changed(events: Sequence[JsonEvent]) -> Iterator[_Placed]:
    first_of = {event["seq"]: event for event in reversed(events)}
    intact_chain: dict[int, str] = {0: FIRST_CHAIN}
    """The chain of each event as it was recorded, as far as it is known."""
    for number in sorted(first_of):
        event = first_of[number]
        before = intact_chain.get(number - 1)
        stored = event.get("chain")
        chain = None if before is None else _chain(before, event)
        if before is not None and chain != stored:
            after = first_of.get(number + 1)
            if chain is not None and after is not None and _chain(chain, after) == after.get("chain"):
                yield (
                    number,
                    Tampering(
                        "the chain of event {number} was changed; the event itself is as it was recorded",
                        {"number": number},
                        _parsed(event),
                    ),
                )
                stored = chain
            else:
                yield number, _change(number, event)
        if isinstance(stored, str):
            intact_chain[number] = stored


def _chain(before: str, event: JsonEvent) -> str | None:
    try:
        return chain_of(before, {name: value for name, value in event.items() if name != "chain"})
    except (ValueError, RecursionError):
        return None


def _change(number: int, event: JsonEvent) -> Tampering:
    from cornerwalk.session.schema import SchemaError, event_from_json

    try:
        return Tampering("event {number} was changed after it was recorded", {"number": number}, event_from_json(event))
    except SchemaError as error:
        return Tampering(
            "event {number} was changed after it was recorded, and is none any more: {reason}",
            {"number": number, "reason": str(error)},
        )


def _parsed(event: JsonEvent) -> RecordedEvent | None:
    from cornerwalk.session.schema import SchemaError, event_from_json

    try:
        return event_from_json(event)
    except SchemaError:
        return None
