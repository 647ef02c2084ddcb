"""Presets: a vehicle, a kit or a whole set-up saved for the next job, as a job sheet without readings.

A preset holds facts and loads with their units, and nothing of the customer, the day or the readings. It is an ordinary
job sheet: it can be written by hand, and `cornerwalk walk` opens it too.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from math import isclose
from pathlib import Path
from typing import Literal, get_args

from cornerwalk.quantity import BareUnit, QuantityError
from cornerwalk.session.events import Event, FactStated, FactValue, LoadStated
from cornerwalk.session.facts import FACTS, Fact, FactKind
from cornerwalk.session.model import Session
from cornerwalk.session.statements import SEPARATOR, AxleSide, bare_units, fact_value, state_load
from cornerwalk.session.walk import EntryError
from cornerwalk.sheet.job_sheet import read_job_sheet
from cornerwalk.textfiles import read_text_file, replace_text_file
from cornerwalk.textfiles.toml_text import toml_string

PresetKind = Literal["vehicle", "kit", "set-up"]

PRESET_TABLES: Mapping[PresetKind, tuple[str, ...]] = {
    "vehicle": ("vehicle", "lamps"),
    "kit": ("kit", "service"),
    "set-up": (
        "tape",
        "vehicle",
        "lamps",
        "kit",
        "hitch",
        "trailer",
        "leak",
        "table",
        "limits",
        "service",
        "uncertainty",
    ),
}
"""The tables of a job sheet that each kind of preset has; a set-up has the loads too."""

EXCLUDED_FACTS = ("vehicle.registration",)
"""Facts of one vehicle, not of its kind."""

SUFFIX = ".toml"
_NOT_IN_NAMES = re.compile(r"[^\w() .+-]+")
_LONGEST_NAME = 60
MAX_PRESETS = 200


@dataclass(frozen=True, slots=True)
class Preset:
    """A preset file and its name."""

    name: str
    path: Path


def list_presets(folder: Path) -> tuple[Preset, ...]:
    """The presets of a folder by name; none if the folder is missing or cannot be read."""
    try:
        found = [path for path in folder.iterdir() if path.suffix == SUFFIX and not path.name.startswith(".")]
    except OSError:
        return ()
    return tuple(Preset(path.stem, path) for path in sorted(found, key=lambda path: path.stem)[:MAX_PRESETS])


def preset_events(path: Path, now: datetime) -> tuple[Event, ...]:
    """The facts and loads that a preset puts into a new job; anything else in the file is ignored.

    Raises:
        TextFileError: it cannot be read, or something in it is wrong; lists every problem with its line.
    """
    contents = read_job_sheet(read_text_file(path), name=path.name, session_id="", now=now)
    stated: list[Event] = []
    for event in contents.events:
        match event:
            case FactStated(name=name) if not name.startswith("job."):
                stated.append(with_units(event))
            case LoadStated():
                stated.append(load_with_units(event))
    return tuple(stated)


def can_save_preset(session: Session, kind: PresetKind) -> bool:
    """Whether the session has anything that belongs in such a preset."""
    stated = any(fact.part in PRESET_TABLES[kind] and _is_included(session, fact) for fact in FACTS.values())
    return stated or (kind == "set-up" and bool(session.loads))


def preset_text(session: Session, kind: PresetKind) -> str:
    """The job sheet of such a preset from a session; empty if there is nothing for it."""
    tables = [_table(session, part) for part in PRESET_TABLES[kind]]
    if kind == "set-up":
        tables += [_load_table(session, load.name) for load in session.loads]
    return "\n".join(table for table in tables if table)


def save_preset(session: Session, kind: PresetKind, name: str, folder: Path) -> Path:
    """Write a preset; returns its path. An existing preset is never overwritten: the new one gets a number.

    Raises:
        EntryError: there is nothing to save, or the name has no character that a file name may have.
        OSError: it cannot be written.
    """
    text = preset_text(session, kind)
    if not text:
        raise EntryError("nothing entered yet to save for next time")
    stem = _NOT_IN_NAMES.sub(" ", name).strip(" .")[:_LONGEST_NAME].strip(" .")
    if not stem:
        raise EntryError("a preset needs a name of letters or digits")
    path, number = folder / f"{stem}{SUFFIX}", 2
    while path.exists():
        path, number = folder / f"{stem} {number}{SUFFIX}", number + 1
    replace_text_file(path, text)
    return path


def _is_included(session: Session, fact: Fact) -> bool:
    return fact.name in session.entered and fact.name not in EXCLUDED_FACTS


def _table(session: Session, part: str) -> str:
    lines = []
    for fact in FACTS.values():
        if fact.part != part or not _is_included(session, fact):
            continue
        value = getattr(getattr(session, part), fact.attribute)
        held: FactValue = list(value) if isinstance(value, tuple) else value
        stated = with_units(FactStated(name=fact.name, entered=session.entered[fact.name], value=held))
        if fact.kind == "forces":
            texts = ", ".join(toml_string(text.strip()) for text in stated.entered.split(";") if text.strip())
            lines.append(f"{fact.key} = [{texts}]")
        else:
            lines.append(f"{fact.key} = {toml_string(stated.entered)}")
    return "\n".join([f"[{part}]", *lines, ""]) if lines else ""


def _load_table(session: Session, name: str) -> str:
    load = next(each for each in session.loads if each.name == name)
    stated = load_with_units(
        LoadStated(
            name=name,
            entered=session.entered[f"load.{name}.weight"],
            weight_N=load.weight_N,
            place_entered=session.entered[f"load.{name}.place"],
            ahead_mm=load.ahead_mm,
        )
    )
    place, side = load_place(stated)
    key = "behind_rear_axle" if side == "behind" else "ahead_of_rear_axle"
    rows = [f"name = {toml_string(name)}", f"weight = {toml_string(stated.entered)}", f"{key} = {toml_string(place)}"]
    return "\n".join(["[[load]]", *rows, ""])


# ---- texts with their units ----
#
# A preset may be used in a job with other units than the one it came from, where a bare `119` would be another length.

_BARE_UNITS: tuple[BareUnit, ...] = get_args(BareUnit)
_BARE_KIND: dict[FactKind, str] = {
    "length": "length",
    "altitude": "altitude",
    "pressure": "pressure",
    "force": "force",
    "forces": "force",
    "rate": "rate",
    "volume": "volume",
    "temperature step": "temperature step",
}
"""Kinds of fact that may be typed without a unit, and their kind of quantity."""


def with_units(stated: FactStated) -> FactStated:
    """The statement with a text that has the same value whatever the unit of bare numbers."""
    fact = FACTS.get(stated.name)
    if fact is None or stated.value is None or fact.kind not in _BARE_KIND:
        return stated
    for text in _candidates(stated.entered, fact.kind):
        if all(_means(stated.name, text, unit, stated.value) for unit in _BARE_UNITS):
            return replace(stated, entered=text)
    values = stated.value if isinstance(stated.value, list) else [stated.value]
    return replace(stated, entered=f"{SEPARATOR} ".join(f"{value} {fact.unit}" for value in values))


def _candidates(entered: str, kind: FactKind) -> list[str]:
    """The text as it is, and with each unit that may have been meant."""
    parts = [part.strip() for part in entered.split(SEPARATOR)] if kind == "forces" else [entered]
    words = dict.fromkeys(bare_units(unit)[_BARE_KIND[kind]].replace("inch", "in") for unit in _BARE_UNITS)
    return [entered, *(f"{SEPARATOR} ".join(f"{part} {word}" for part in parts) for word in words)]


def _means(name: str, text: str, unit: BareUnit, value: FactValue) -> bool:
    try:
        read = fact_value(FACTS[name], text, unit)
    except (QuantityError, EntryError):
        return False
    return _same(read, value)


def _same(one: FactValue, other: FactValue) -> bool:
    match one, other:
        case list(), list():
            return len(one) == len(other) and all(_same(a, b) for a, b in zip(one, other, strict=True))
        case float() | int(), float() | int():
            return isclose(one, other, rel_tol=1e-12, abs_tol=1e-12)
        case _:
            return one == other


def load_with_units(load: LoadStated) -> LoadStated:
    """The load with texts that have the same value whatever the unit of bare numbers."""
    place, side = load_place(load)
    for weight_word in ("", " lb", " kg"):
        for place_word in ("", " in", " mm", " cm"):
            weight, distance = f"{load.entered}{weight_word}", f"{place}{place_word}"
            told = [_load(load.name, weight, distance, side, unit) for unit in _BARE_UNITS]
            if all(each is not None and _same_load(each, load) for each in told):
                return replace(load, entered=weight, place_entered=f"{distance} {side} the rear axle")
    distance = f"{abs(load.ahead_mm)} mm"
    return replace(load, entered=f"{load.weight_N} N", place_entered=f"{distance} {side} the rear axle")


def load_place(load: LoadStated) -> tuple[str, AxleSide]:
    """The distance as typed, and its side of the rear axle."""
    for side in get_args(AxleSide):
        ending = f" {side} the rear axle"
        if load.place_entered.endswith(ending):
            return load.place_entered.removesuffix(ending), side
    return f"{abs(load.ahead_mm)} mm", "behind" if load.ahead_mm < 0 else "ahead of"


def _load(name: str, weight: str, place: str, side: AxleSide, unit: BareUnit) -> LoadStated | None:
    try:
        return state_load(name, weight, place=place, side=side, unit=unit)
    except (QuantityError, EntryError):
        return None


def _same_load(one: LoadStated, other: LoadStated) -> bool:
    return _same(one.weight_N, other.weight_N) and _same(one.ahead_mm, other.ahead_mm)
