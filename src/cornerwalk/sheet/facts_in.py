"""The tables of single values, and the loads: → facts and loads stated."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from functools import partial

from cornerwalk.session.facts import FACTS, Fact
from cornerwalk.session.happenings import FactStated, LoadStated
from cornerwalk.session.statements import SEPARATOR, Side, state_fact, state_load
from cornerwalk.sheet.contents import Bare
from cornerwalk.textfiles import Table

UNIT_FACT = "job.unit"
"""Stands at the top of a sheet, outside every table, since it holds for all of it."""

OPENING_FACTS = ("job.title", "job.kind", UNIT_FACT)
"""What the opening of the job and the top of the sheet say themselves."""

LOAD_KEYS = ("name", "weight", "behind_rear_axle", "ahead_of_rear_axle")
_SIDE_OF_KEY: dict[str, Side] = {"behind_rear_axle": "behind", "ahead_of_rear_axle": "ahead of"}


def facts_of(part: str) -> tuple[Fact, ...]:
    """The facts of one table of a sheet, in their usual order."""
    return tuple(fact for fact in FACTS.values() if fact.part == part)


def read_facts(table: Table, part: str, bare: Bare) -> Iterator[FactStated]:
    """Every fact a table states."""
    for fact in facts_of(part):
        if fact.name in OPENING_FACTS or fact.key not in table:
            continue
        text = _fact_text(table, fact)
        if not text:
            continue
        stated = table.understood(fact.key, text, bare.reading(partial(state_fact, fact.name)))
        if stated is not None:
            yield stated


def _fact_text(table: Table, fact: Fact) -> str | None:
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


def read_load(table: Table, bare: Bare) -> LoadStated | None:
    """One `[[load]]`, None where something of it is wrong or missing."""
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
    # Each text is tried by itself first, so that a refusal names the key it stands under.
    tried = bare.reading(lambda text, unit: state_load("load", text, place="1 m", side="behind", unit=unit))
    if table.understood("weight", weight, tried) is None:
        return None
    return table.understood(
        key,
        place,
        bare.reading(lambda text, unit: state_load(name, weight, place=text, side=_SIDE_OF_KEY[key], unit=unit)),
    )
