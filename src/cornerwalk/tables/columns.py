"""Columns of the tidy tables: each with its name, kind, unit and meaning, and where its value comes from.

The tables, their Parquet schema and the data dictionary are all made from the same columns, so that none of them can
contradict another.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any, Literal

from cornerwalk.assess.assessment import Assessment
from cornerwalk.report.results import ResultField
from cornerwalk.session.facts import FACTS, FactKind
from cornerwalk.session.log import RecordedEvent
from cornerwalk.session.model import Session
from cornerwalk.session.stages import CORNERS

Kind = Literal["text", "number", "whole", "flag", "moment", "day"]
"""Text, 64-bit float, 64-bit integer, true or false, time in UTC without an offset, calendar day."""

Value = str | float | int | bool | datetime | date | None
Read = Callable[[Any], Value]

_UNITS = {
    "mm_per_kPa": "mm/kPa",
    "mm_per_rear_mm": "mm/mm",
    "N_per_mm": "N/mm",
    "kPa_per_h": "kPa/h",
    "percent": "%",
    "deg": "°",
    "kPa": "kPa",
    "mm": "mm",
    "N": "N",
    "C": "°C",
    "K": "K",
    "liters": "L",
    "m": "m",
}
"""Ends of names and their units, each before those that are an end of it."""

_UNITS_BY_NAME = {"hours": "h", "hours_to_minimum": "h", "hours_to_minimum_at_least": "h", "hours_needed": "h"} | {
    "cov_c0_c1": "mm²/kPa"
}
_KIND_OF_FACT: dict[FactKind, Kind] = {"text": "text", "choice": "text", "moment": "text", "forces": "text"}
_SEPARATOR = "; "


@dataclass(frozen=True, slots=True)
class Column:
    """One column; `read` takes an item of its table. Every value may be null."""

    name: str
    kind: Kind
    meaning: str
    read: Read
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Source:
    """One session with its assessment, from which rows are read; `events` are the events that are exported."""

    path: Path
    version: int
    events: Sequence[RecordedEvent]
    session: Session
    assessment: Assessment


Row = tuple[Value, ...]


@dataclass(frozen=True, slots=True)
class TidyTable:
    """One table: a row for each item that `items` finds in a session, led by the session's id."""

    name: str
    meaning: str
    items: Callable[[Source], Iterable[Any]]
    own_columns: tuple[Column, ...]

    @property
    def columns(self) -> tuple[Column, ...]:
        """Its columns in order, the session's id first."""
        return (SESSION, *self.own_columns)

    @property
    def names(self) -> tuple[str, ...]:
        """The names of its columns, in order."""
        return tuple(column.name for column in self.columns)

    def rows(self, source: Source) -> list[Row]:
        """The rows of one session."""
        session = SESSION.read(source)
        return [(session, *(column.read(item) for column in self.own_columns)) for item in self.items(source)]


def unit_of(name: str) -> str:
    """The unit that a name ends with; empty where it has none.

    >>> unit_of("u_c1_mm_per_kPa"), unit_of("hours"), unit_of("corner")
    ('mm/kPa', 'h', '')
    """
    if name in _UNITS_BY_NAME:
        return _UNITS_BY_NAME[name]
    return next((unit for end, unit in _UNITS.items() if name.endswith(f"_{end}")), "")


def text(name: str, meaning: str, read: Read) -> Column:
    """Words, a code or an id."""
    return Column(name, "text", meaning, read)


SESSION = text("session", "id of the session; the same in every table", lambda source: source.session.id)
"""The first column of every table."""


def number(name: str, meaning: str, read: Read) -> Column:
    """A figure in the unit its name ends with."""
    return Column(name, "number", meaning, read, unit_of(name))


def whole(name: str, meaning: str, read: Read) -> Column:
    """A count or a position."""
    return Column(name, "whole", meaning, read)


def flag(name: str, meaning: str, read: Read) -> Column:
    """Yes or no."""
    return Column(name, "flag", meaning, read)


def moment(name: str, meaning: str, read: Read) -> Column:
    """A time."""
    return Column(name, "moment", meaning, read)


def fact(name: str, meaning: str, of: Callable[[Any], Any]) -> Column:
    """A fact of the register as stated: `vehicle.wheelbase` is the column `vehicle_wheelbase_mm`."""
    entry = FACTS[name]
    kind = _KIND_OF_FACT.get(entry.kind, "number")
    column = f"{entry.part}_{entry.attribute}"

    def read(item: Any) -> Value:
        return plain(getattr(getattr(of(item), entry.part), entry.attribute))

    counted = "1" if entry.kind == "number" else ""
    return Column(column, kind, meaning, read, unit_of(column) or counted)


def from_field(field: ResultField, of: Callable[[Any], Any], prefix: str = "") -> tuple[Column, ...]:
    """The columns of a field of the results document: one, or one for each corner or part.

    A corner stands before the unit (`u_height_LF_mm`), the name of the whole before that of its part
    (`lamp_aim_deg`, `u_lamp_aim_deg`), so that a unit still ends and `u_` still begins the name.
    """
    read = field.read

    def value(item: Any) -> Any:
        owner = of(item)
        if owner is None:
            return None
        return read(owner) if read is not None else getattr(owner, field.name)

    if field.kind == "corners":
        return tuple(_of_corner(field, value, corner) for corner in CORNERS)
    if field.kind == "object":
        return tuple(column for part in field.parts for column in from_field(part, value, f"{prefix}{field.name}_"))
    name = _prefixed(field.name, prefix)
    kind: Kind = "text" if field.kind == "list" else field.kind
    return (Column(name, kind, field.meaning, lambda item: plain(value(item)), unit_of(field.name)),)


def _of_corner(field: ResultField, value: Callable[[Any], Any], corner: str) -> Column:
    stem, _, unit = field.name.rpartition("_")
    name = f"{stem}_{corner}_{unit}"
    return Column(name, "number", f"{field.meaning}, {corner}", lambda item: plain(value(item)[corner]), unit_of(name))


def _prefixed(name: str, prefix: str) -> str:
    return f"u_{prefix}{name.removeprefix('u_')}" if name.startswith("u_") else prefix + name


def plain(value: Any) -> Value:
    """A value as a table holds it: null where it is not known, empty or no number; several values are one text."""
    match value:
        case float() if not math.isfinite(value):
            return None
        case "":
            return None
        case list() | tuple():
            return _SEPARATOR.join(map(str, value)) or None
        case str() | float() | int() | None:
            return value
        case _:
            raise TypeError(f"{value!r} is nothing a table holds")


def utc(at: str) -> datetime | None:
    """A recorded time in UTC, without its offset; None where it cannot be read.

    >>> utc("2026-05-04T08:12:31-06:00").isoformat()
    '2026-05-04T14:12:31'
    """
    try:
        when = datetime.fromisoformat(at)
        return when.astimezone(UTC).replace(tzinfo=None) if when.tzinfo is not None else None
    except (ValueError, OverflowError):  # the first and last days of the calendar have no other zone
        return None


def day(at: str) -> date | None:
    """The calendar day of a recorded time, where it was recorded."""
    try:
        return datetime.fromisoformat(at).date()
    except ValueError:
        return None


# ---- a session as text ----


def file_name(path: Path) -> str:
    r"""The name of a file as text; bytes that are no UTF-8 are spelled out, as `\udcff`."""
    return path.name.encode("utf-8", "backslashreplace").decode("utf-8")


def vehicle_of(session: Session) -> str | None:
    """Which vehicle it is: its registration, else its description."""
    return session.vehicle.registration.strip() or session.vehicle.description.strip() or None
