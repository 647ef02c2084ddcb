"""Integrity check: whether a file is exactly as this program wrote it (schema, order, chain, layout), and its clock.

What the chain proves: each event's chain is computed from the event and all before it, so it reveals a changed,
missing, added or moved event, and mostly which. Events cut off at the end show only if the end of the file is cut as
well, or if their number is known, as it is to the library's index, or the last chain, as it stands on paper. Someone
who recomputes the chain leaves no trace: against a forger it proves nothing.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from itertools import pairwise
from pathlib import Path
from typing import Literal, LiteralString

from cornerwalk.session.events import Undone
from cornerwalk.session.log import RecordedEvent
from cornerwalk.store.disk import Disk
from cornerwalk.store.errors import Damage, DamagedFileError, StoreError
from cornerwalk.store.format import file_bytes
from cornerwalk.store.loader import StoredSession, load_session, outline
from cornerwalk.store.safe_read import read_bytes
from cornerwalk.store.tampering import find_tampering

Level = Literal["fault", "remark"]
"""Fault: the file is not as it was written. Remark: it is, but a reader should know."""


_CHAIN = 64
_SHORTEST_CHAIN = 8


@dataclass(frozen=True, slots=True)
class CheckFinding:
    """A finding; `template` is English with {named} `fields`, `event` the one it is about, where it can be read."""

    level: Level
    template: LiteralString
    fields: Mapping[str, object] = field(default_factory=dict)
    event: RecordedEvent | None = None

    def __str__(self) -> str:
        """The English text."""
        return self.template.format(**self.fields)


@dataclass(frozen=True, slots=True)
class FileCheck:
    """The findings about a file; `stored` is its session, None if it cannot be read at all."""

    path: Path
    findings: tuple[CheckFinding, ...]
    stored: StoredSession | None

    @property
    def ok(self) -> bool:
        """Whether the file is as it was written."""
        return all(finding.level != "fault" for finding in self.findings)


def check_file(path: Path, *, had_events: int = 0, against: str | None = None, disk: Disk | None = None) -> FileCheck:
    """Check a session file. A change of any character in it is a fault.

    Args:
        path: the file.
        had_events: how many events it is known to have had (`Library.had_events`); fewer are a fault.
        against: the chain that a paper names, or its beginning (`is_chain_start`): the file must hold that event.
        disk: the system calls.
    """
    try:
        data, _ = read_bytes(disk or Disk(), path)
        stored = load_session(path, data)
    except StoreError as error:
        return FileCheck(path, (_fault(error),), None)
    findings = [*_findings(stored, data), *_cut_off(stored, had_events)]
    if against is not None:
        findings += _against(stored, against)
    return FileCheck(path, tuple(findings), stored)


def _findings(stored: StoredSession, data: bytes) -> Iterator[CheckFinding]:
    if stored.damage is None:
        yield from _layout(stored, data)
    else:
        yield from _damage(stored.damage, data)
    yield from _undos(stored.events)
    yield from _clock(stored.events)


def _damage(damage: Damage, data: bytes) -> Iterator[CheckFinding]:
    parts = outline(data)
    tampering = find_tampering(parts.raw_events)
    for each in tampering:
        yield CheckFinding("fault", each.template, each.fields, each.event)
    if not tampering or not damage.chain_broken:
        yield _fault(DamagedFileError(damage))
    elif parts.trouble is not None:
        yield CheckFinding("fault", parts.trouble.template, parts.trouble.fields)
    if parts.beyond > 1:
        yield CheckFinding("remark", "the {count} lines from there on were not examined", {"count": parts.beyond})


def _cut_off(stored: StoredSession, had_events: int) -> Iterator[CheckFinding]:
    if stored.damage is None and len(stored.events) < had_events:
        yield CheckFinding(
            "fault",
            "it holds {events} events, and the list of the library has seen {had} in it: its last events were cut off, "
            "or an older copy was put in its place",
            {"events": len(stored.events), "had": had_events},
        )


def is_chain_start(text: str) -> bool:
    """Whether a text can be a chain as a paper prints it: at least its first eight characters; blanks do not count."""
    start = _chain_start(text)
    return _SHORTEST_CHAIN <= len(start) <= _CHAIN and all(character in "0123456789abcdef" for character in start)


def _chain_start(text: str) -> str:
    return "".join(text.split()).lower()


def _against(stored: StoredSession, text: str) -> Iterator[CheckFinding]:
    start = _chain_start(text)
    number = next((event.seq for event in stored.events if event.chain.startswith(start)), None)
    if number is None:
        yield CheckFinding("fault", "the event whose chain the paper names is not in it as it was recorded")
    elif number < len(stored.events):
        yield CheckFinding(
            "remark",
            "the paper was made after event {number}; {count} more were recorded since",
            {"number": number, "count": len(stored.events) - number},
        )


def _fault(error: StoreError) -> CheckFinding:
    return CheckFinding("fault", error.template, error.fields)


def _layout(stored: StoredSession, data: bytes) -> Iterator[CheckFinding]:
    right = file_bytes(stored.id, stored.lines, stored.version)
    if data != right:
        lines = zip(data.split(b"\n"), right.split(b"\n"), strict=False)
        line = next((number for number, (is_, was) in enumerate(lines, 1) if is_ != was), 1)
        yield CheckFinding(
            "fault",
            "line {line} is not written as this program writes it, though every value is as recorded: something else "
            "has saved the file",
            {"line": line},
        )


def _undos(events: Sequence[RecordedEvent]) -> Iterator[CheckFinding]:
    for event in events:
        if isinstance(event.payload, Undone) and event.payload.undoes >= event.seq:
            yield CheckFinding(
                "fault",
                "event {number} takes back event {undoes}, which does not come before it",
                {"number": event.seq, "undoes": event.payload.undoes},
            )


def _clock(events: Sequence[RecordedEvent]) -> Iterator[CheckFinding]:
    for earlier, later in pairwise(events):
        back = datetime.fromisoformat(earlier.at) - datetime.fromisoformat(later.at)
        if back.total_seconds() > 0:
            yield CheckFinding(
                "remark",
                "the clock went back by {seconds} s before event {number}",
                {"seconds": round(back.total_seconds()), "number": later.seq},
            )
