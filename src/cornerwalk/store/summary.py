"""Summary: what a list shows of a session, taken from its JSON without checking schema or chain, for speed.

A file with a good summary may still turn out to be damaged when it is opened.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any, NamedTuple

from cornerwalk.session.log import FORMAT, PERMANENT_EVENTS, VERSION
from cornerwalk.session.stages import CORNERS
from cornerwalk.store.names import is_our_name

_FACTS = {
    "job.title": "title",
    "job.technician": "technician",
    "job.customer": "customer",
    "vehicle.description": "vehicle",
    "vehicle.registration": "registration",
    "kit.name": "kit",
}
"""Facts that a list shows, and their field of the summary."""

_LASTING_KINDS = {event.kind for event in PERMANENT_EVENTS}
_EARLIEST = datetime.min.replace(tzinfo=UTC)


class Summary(NamedTuple):
    """One line of a list. Times are ISO 8601 as recorded; what is not known is empty.

    Attributes:
        folder: the folder of the file; with `name`, since ten thousand Path objects would take longer than the rest.
        stages: names of the stages whose four corners are read or skipped, in the order begun.
        readings: how many heights count.
        open: whether the job is not handed over.
        damaged: whether the file cannot be read, or was found damaged when it was last opened.
        events: how many the file holds, undone ones included.
        had_events: the most that the index has seen in this file; more than `events` if its end was cut off.
        version: of the file's format, 0 if it cannot be read. Of a newer version, nothing else is known.
    """

    folder: Path
    name: str
    id: str = ""
    title: str = ""
    technician: str = ""
    customer: str = ""
    vehicle: str = ""
    registration: str = ""
    kit: str = ""
    opened_at: str = ""
    opened_by: str = ""
    last_at: str = ""
    stages: tuple[str, ...] = ()
    readings: int = 0
    open: bool = True
    damaged: bool = False
    events: int = 0
    had_events: int = 0
    version: int = 0

    @classmethod
    def of_path(cls, path: Path, **known: Any) -> Summary:
        """The summary of the file at this path."""
        return cls(path.parent, path.name, **known)

    @property
    def path(self) -> Path:
        """Its file."""
        return self.folder / self.name

    @property
    def stem(self) -> str:
        """The file's name without its suffix."""
        return self.path.stem

    @property
    def unfinished(self) -> bool:
        """Whether the job can be resumed."""
        return self.open and not self.damaged and 1 <= self.version <= VERSION

    @property
    def searched(self) -> str:
        """The text that a search looks in, case-folded."""
        names = (self.title, self.technician, self.customer, self.vehicle, self.registration, self.kit, self.name)
        return "\n".join(names).casefold()

    @property
    def last_moment(self) -> datetime:
        """`last_at` as a time; the earliest time if it is not valid."""
        return parse_time(self.last_at)

    def after(self, before: Summary | None) -> Summary:
        """This summary with `had_events` of the file's earlier summary: a session only grows."""
        if before is None or before.had_events <= self.had_events or self.id not in ("", before.id):
            return self
        return self._replace(had_events=before.had_events)

    def recency(self) -> tuple[float, str]:
        """The sort key of a list: when the job was worked on last, then the file's name."""
        return self.last_moment.timestamp(), self.name

    @property
    def day(self) -> date:
        """The day on which the job was opened, in the time zone where it was opened."""
        return parse_time(self.opened_at).date()


def parse_time(text: str) -> datetime:
    """A recorded time; the earliest time if the text is not valid or has no offset."""
    try:
        when = datetime.fromisoformat(text)
    except ValueError:
        return _EARLIEST
    return when if when.tzinfo is not None else _EARLIEST


def summarize(path: Path, data: bytes) -> Summary | None:
    """The summary of a file; None if it is not a session, so that a list leaves it out."""
    try:
        document = json.loads(data)
    except (ValueError, RecursionError):
        ours = is_our_name(path.name) or FORMAT.encode() in data[:1000]
        return damaged_summary(path) if ours else None
    if not isinstance(document, dict) or document.get("format") != FORMAT:
        return None
    version = document.get("version")
    if type(version) is not int:
        return damaged_summary(path)
    if version > VERSION:
        return Summary.of_path(path, title=path.stem, version=version)
    try:
        # A search in the bytes is quicker than one in each event; a note that has the word does no harm.
        return _summarize(path, version, document, _active_events if b'"undone"' in data else _all_events)
    except (TypeError, ValueError, LookupError, AttributeError):
        return damaged_summary(path)


def damaged_summary(path: Path) -> Summary:
    """The summary of a file that cannot be read."""
    return Summary.of_path(path, title=path.stem, damaged=True)


def _summarize(
    path: Path, version: int, document: Mapping[str, Any], counting: Callable[[list[Any]], list[Any]]
) -> Summary:
    events: list[Any] = document["events"]
    shown: dict[str, Any] = {}
    stages: dict[tuple[str, int], dict[str, int]] = {}
    still_open = True
    for event in counting(events):
        kind = event["kind"]
        if kind == "height read":
            corners = stages.setdefault((event["stage"], event.get("number", 1)), {})
            corner = event["corner"]
            corners[corner] = corners.get(corner, 0) + 1 if event.get("how") == "repeat" else 1
        elif kind == "fact stated":
            field = _FACTS.get(event["name"])
            if field is not None:
                shown[field] = _text(event["value"] or "")
        elif kind == "corner skipped":
            stages.setdefault((event["stage"], event.get("number", 1)), {})[event["corner"]] = 0
        elif kind in ("stage begun", "pressure stated", "wall mark read", "leveller set"):
            stages.setdefault((event["stage"], event.get("number", 1)), {})
        elif kind == "job opened":
            shown["title"] = _text(event["title"])
        elif kind in ("handed over", "job reopened"):
            still_open = kind == "job reopened"
    return Summary.of_path(
        path,
        id=_text(document["id"]),
        opened_at=_text(events[0]["at"]),
        opened_by=_text(events[0].get("by", "")),
        last_at=_text(events[-1]["at"]),
        stages=tuple(_text(name) for (name, _), corners in stages.items() if all(c in corners for c in CORNERS)),
        readings=sum(sum(corners.values()) for corners in stages.values()),
        open=still_open,
        events=len(events),
        had_events=len(events),
        version=version,
        **shown,
    )


def _all_events(events: list[Any]) -> list[Any]:
    return events


def _active_events(events: list[Any]) -> list[Any]:
    """The events that are not undone, as in `log.active_events`."""
    dead: set[int] = set()
    kept: list[Any] = []
    for event in reversed(events):
        if event["seq"] in dead and event["kind"] not in _LASTING_KINDS:
            continue
        if event["kind"] == "undone":
            dead.add(event["undoes"])
            continue
        kept.append(event)
    kept.reverse()
    return kept


def _text(value: object) -> str:
    if not isinstance(value, str):
        raise TypeError("not a text")
    return value
