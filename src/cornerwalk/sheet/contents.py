"""Sheet contents: what a sheet holds, the unit of its bare numbers, and its facts and loads."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from datetime import date, datetime
from functools import partial
from typing import LiteralString, TypeVar, cast

from cornerwalk.quantity import BareUnit, QuantityError
from cornerwalk.session.events import Event, FactStated, LoadStated
from cornerwalk.session.facts import FACTS, Fact
from cornerwalk.session.model import JobFacts
from cornerwalk.session.statements import SEPARATOR, AxleSide, state_fact, state_load
from cornerwalk.session.walk import EntryError
from cornerwalk.textfiles import TextFileError, TomlTable

T = TypeVar("T")

UNIT_LINE = 'unit = "inch", "mm" or "cm"'
_UNIT_MISSING: LiteralString = '"{text}" has no unit, and the sheet names none; add {line}'


class SheetError(TextFileError):
    """A job sheet or a list of heights has a mistake; nothing of it was used."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetContents:
    """A sheet as events, `JobOpened` first.

    `at` is the sheet's date, else the time that was passed in. `job` says how heights are measured in it; `unit` is the
    unit of a bare height, None if the sheet does not say.
    """

    events: tuple[Event, ...]
    at: datetime
    job: JobFacts
    unit: BareUnit | None


class DefaultUnit:
    """The unit of numbers typed without one in a sheet; `unit` is None if the sheet does not say."""

    def __init__(self, unit: BareUnit | None) -> None:
        self.unit = unit
        self._told = False

    def bind(self, reader: Callable[[str, BareUnit], T]) -> Callable[[str], T]:
        """`reader` with the unit filled in.

        The result raises what `reader` raises, and EntryError for the first text whose value depends on the missing
        unit, but only once: one missing line is not a problem of every number in the sheet.
        """

        def read(text: str) -> T:
            if self.unit is not None:
                return reader(text, self.unit)
            in_inches, in_mm = _try_read(reader, text, "inch"), _try_read(reader, text, "mm")
            if isinstance(in_inches, QuantityError) and isinstance(in_mm, QuantityError):
                raise in_inches
            if in_inches != in_mm and not self._told:
                self._told = True
                raise EntryError(_UNIT_MISSING, text=text, line=UNIT_LINE)
            return cast("T", in_mm if isinstance(in_inches, QuantityError) else in_inches)

        return read


def _try_read(reader: Callable[[str, BareUnit], T], text: str, unit: BareUnit) -> T | QuantityError:
    try:
        return reader(text, unit)
    except QuantityError as error:
        return error


# ---- facts and loads ----

UNIT_FACT = "job.unit"
"""At the top of a sheet, outside every table, since it applies to all of it."""

OPENING_FACTS = ("job.title", "job.kind", UNIT_FACT)
"""Facts that are in the opening of the job or at the top of the sheet."""

LOAD_KEYS = ("name", "weight", "behind_rear_axle", "ahead_of_rear_axle", "weighed")
_SIDE_OF_KEY: dict[str, AxleSide] = {"behind_rear_axle": "behind", "ahead_of_rear_axle": "ahead of"}


def facts_of(part: str) -> tuple[Fact, ...]:
    """The facts of one table of a sheet, in order."""
    return tuple(fact for fact in FACTS.values() if fact.part == part)


def read_facts(table: TomlTable, part: str, bare: DefaultUnit) -> Iterator[FactStated]:
    """The facts in a table."""
    for fact in facts_of(part):
        if fact.name in OPENING_FACTS or fact.key not in table:
            continue
        text = _fact_text(table, fact)
        if not text:
            continue
        stated = table.parse(fact.key, text, bare.bind(partial(state_fact, fact.name)))
        if stated is not None:
            yield stated


def _fact_text(table: TomlTable, fact: Fact) -> str | None:
    match fact.kind:
        case "forces":
            return f"{SEPARATOR} ".join(table.texts(fact.key))
        case "percent" | "number":
            return table.number_text(fact.key)
        case "moment":
            moment = table.moment(fact.key)
            return moment.isoformat() if isinstance(moment, date) else None
        case _:
            return table.text(fact.key)


def read_load(table: TomlTable, bare: DefaultUnit) -> LoadStated | None:
    """One `[[load]]`, None if something is wrong or missing."""
    name, weight = table.text("name"), table.text("weight")
    places = [key for key in _SIDE_OF_KEY if table.text(key) is not None]
    if name is None or weight is None:
        table.missing("a load needs its name and its weight")
        return None
    if len(places) != 1:
        table.missing("a load needs one place: behind_rear_axle or ahead_of_rear_axle")
        return None
    key = places[0]
    place = table.text(key) or ""
    # Each text is read by itself first, so that an error names its key.
    tried = bare.bind(lambda text, unit: state_load("load", text, place="1 m", side="behind", unit=unit))
    if table.parse("weight", weight, tried) is None:
        return None
    load = table.parse(
        key,
        place,
        bare.bind(lambda text, unit: state_load(name, weight, place=text, side=_SIDE_OF_KEY[key], unit=unit)),
    )
    weighed = table.flag("weighed")
    return replace(load, weighed=True) if load is not None and weighed else load
