"""Session loader: reads a session file and verifies its schema, order and chain.

A file is as it was written (`StoredSession` without damage), or not (with `Damage`, and the events that still verify),
or this version cannot read it (an exception).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, LiteralString

from cornerwalk.session.events import JobOpened
from cornerwalk.session.log import FIRST_CHAIN, FORMAT, VERSION, JsonEvent, RecordedEvent, chain_of
from cornerwalk.session.model import Session
from cornerwalk.session.projection import fold
from cornerwalk.store.disk import Disk
from cornerwalk.store.errors import Damage, NewerVersionError, NotASessionError, TooLargeError, UnknownContentError
from cornerwalk.store.format import MAX_EVENTS, JsonError, event_line, migrate, parse_json
from cornerwalk.store.safe_read import read_bytes

_HEADING = ("format", "version", "id", "events")
_HEADING_WITHIN_BYTES = 1000


@dataclass(frozen=True, slots=True)
class Defect:
    """What is wrong in a file, as an English template with {named} `fields`."""

    template: LiteralString
    fields: Mapping[str, object] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class StoredSession:
    """A session as its file has it; if there is `damage`, as far as it can be read."""

    path: Path
    version: int
    id: str
    events: tuple[RecordedEvent, ...]
    session: Session
    damage: Damage | None
    lines: tuple[str, ...] = field(repr=False)


@dataclass(frozen=True, slots=True)
class Outline:
    """The parts of a file before anything is verified."""

    version: int
    id: str | None
    raw_events: Sequence[Any]
    beyond: int
    trouble: Defect | None
    ours: bool


def read_session(path: Path, disk: Disk | None = None) -> StoredSession:
    """Read a session without a lock; a damaged one as far as it can be read, with its `damage`.

    Raises:
        StoreError: it is not a session, too new, too large, or the disk failed; see `errors`.
    """
    data, _ = read_bytes(disk or Disk(), path)
    return load_session(path, data)


def load_session(path: Path, data: bytes) -> StoredSession:
    """The session in these bytes.

    Raises:
        NotASessionError: nothing in them looks like a session.
        NewerVersionError: they are in a newer version of the format.
        UnknownContentError: the chain is intact, but an event does not fit the schema.
        TooLargeError: more events than any job has.
    """
    parts = outline(data)
    if len(parts.raw_events) > MAX_EVENTS:
        raise TooLargeError("it holds more events than any job: over {most}", most=f"{MAX_EVENTS:,}")
    good, broken = _verify_chain(parts.raw_events)
    if not good and not parts.ours:
        raise NotASessionError("this is no cornerwalk session: {reason}", reason=_defect_text(parts.trouble or broken))
    document = {"id": parts.id, "events": list(parts.raw_events[:good])}
    raw = migrate(document, parts.version)["events"]
    events = _parse_events(raw)
    session = fold(events)
    lines = tuple(event_line(plain) for plain in raw)
    trouble = broken or parts.trouble or _id_defect(parts.id, session.id)
    damage = None
    if trouble is not None:
        damage = Damage(
            path=path,
            template=trouble.template,
            fields=trouble.fields,
            events=events,
            session=session,
            lost=len(parts.raw_events) - good + parts.beyond,
            chain_broken=broken is not None,
            lines=lines,
        )
    return StoredSession(
        path=path,
        version=parts.version,
        id=session.id or parts.id or "",
        events=events,
        session=session,
        damage=damage,
        lines=lines,
    )


def outline(data: bytes) -> Outline:
    """The parts of a file, unverified: all that can be parsed, and what is wrong with its layout.

    Raises:
        NewerVersionError: they are in a newer version of the format.
    """
    try:
        return _outline(data)
    except JsonError as error:
        return _outline_by_line(data, str(error))


def _defect_text(trouble: Defect | None) -> str:
    return trouble.template.format(**trouble.fields) if trouble else ""


def _outline(data: bytes) -> Outline:
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise JsonError(f"byte {error.start + 1} is no UTF-8") from error
    document = parse_json(text)
    if not isinstance(document, dict):
        document = {}
    trouble = _header_defect(document)
    raw = document.get("events")
    session = document.get("id")
    return Outline(
        version=VERSION if trouble else document["version"],
        id=session if isinstance(session, str) else None,
        raw_events=raw if isinstance(raw, list) else [],
        beyond=0,
        trouble=trouble,
        ours=document.get("format") == FORMAT,
    )


def _header_defect(document: Mapping[str, Any]) -> Defect | None:
    if document.get("format") != FORMAT:
        return Defect("its heading does not say that it is one")
    version = document.get("version")
    if type(version) is not int or version < 1:
        return Defect("the heading's version is {version}", {"version": repr(version)})
    if version > VERSION:
        raise NewerVersionError(version)
    for name in document:
        if name not in _HEADING:
            return Defect("the heading has a field this version does not know: {name}", {"name": repr(name)})
    if not isinstance(document.get("id"), str):
        return Defect("the heading has no id")
    if not isinstance(document.get("events"), list):
        return Defect("the heading is not followed by a list of events")
    return None if document["events"] else Defect("it holds no event")


def _outline_by_line(data: bytes, reason: str) -> Outline:
    """What can be read of a file that is not JSON as a whole: our format has one event a line."""
    first, *others = data.split(b"\n")
    heading = _parse_line(first.rstrip(b"\r") + b"]}")
    head = heading if isinstance(heading, dict) else {}
    version = head.get("version")
    if head.get("format") == FORMAT and type(version) is int and version > VERSION:
        raise NewerVersionError(version)
    texts = [(number, line.strip(b" \t\r").removesuffix(b",")) for number, line in enumerate(others, 2)]
    texts = [(number, line) for number, line in texts if line not in (b"", b"]}")]
    raw: list[Any] = []
    trouble = Defect("its beginning or its end is not as it was written: {reason}", {"reason": reason})
    for number, line in texts:
        value = _parse_line(line)
        if value is None:
            trouble = Defect("line {line} cannot be read: {reason}", {"line": number, "reason": reason})
            break
        raw.append(value)
        if len(raw) > MAX_EVENTS:  # refused in any case
            break
    session = head.get("id")
    return Outline(
        version=VERSION,
        id=session if isinstance(session, str) else None,
        raw_events=raw,
        beyond=len(texts) - len(raw),
        trouble=trouble,
        ours=FORMAT.encode() in data[:_HEADING_WITHIN_BYTES],
    )


def _parse_line(line: bytes) -> Any:
    try:
        return parse_json(line.decode("utf-8-sig"))
    except ValueError:
        return None


def _verify_chain(raw: Sequence[Any]) -> tuple[int, Defect | None]:
    """How many events, from the first on, match their chain, and what is wrong with the next one."""
    before = FIRST_CHAIN
    for number, plain in enumerate(raw, 1):
        if not isinstance(plain, dict):
            return number - 1, Defect("event {number} is none", {"number": number})
        body = {name: value for name, value in plain.items() if name != "chain"}
        try:
            chain = chain_of(before, body)
        except (ValueError, RecursionError):
            return number - 1, Defect("event {number} holds what none can hold", {"number": number})
        if chain != plain.get("chain"):
            return number - 1, _chain_defect(number, plain)
        before = chain
    return len(raw), None


def _chain_defect(number: int, plain: JsonEvent) -> Defect:
    from cornerwalk.session.schema import SchemaError, event_from_json

    try:
        event_from_json(plain)
    except SchemaError as error:
        return Defect(
            "event {number} is not as it was recorded, or one before it is missing: {reason}",
            {"number": number, "reason": str(error)},
        )
    return Defect("event {number} is not as it was recorded, or one before it is missing", {"number": number})


def _parse_events(raw: Sequence[JsonEvent]) -> tuple[RecordedEvent, ...]:
    from cornerwalk.session.schema import SchemaError, event_from_json

    events = []
    for number, plain in enumerate(raw, 1):
        try:
            event = event_from_json(plain)
        except SchemaError as error:
            raise UnknownContentError("{where}: {reason}", where=error.where, reason=error.reason) from error
        if event.seq != number:
            raise UnknownContentError("event {number} has the number {seq}", number=number, seq=event.seq)
        if isinstance(event.payload, JobOpened) != (number == 1):
            raise UnknownContentError("event {number} is out of place: a job is opened once, at first", number=number)
        events.append(event)
    return tuple(events)


def _id_defect(heading: str | None, session: str) -> Defect | None:
    return None if heading == session else Defect("the heading names another session than the first event")
