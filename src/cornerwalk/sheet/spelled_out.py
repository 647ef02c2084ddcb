"""Statements whose texts mean the same wherever they are read: numbers typed without a unit are given theirs.

A preset is used in jobs read in other units than the one it came from, where a bare `119` would be another length.
"""

from __future__ import annotations

from dataclasses import replace
from math import isclose
from typing import get_args

from cornerwalk.quantity import QuantityError
from cornerwalk.session.facts import FACTS, UNIT_OF_KIND, FactKind
from cornerwalk.session.happenings import FactStated, LoadStated, Scalar
from cornerwalk.session.parts import BareUnit
from cornerwalk.session.statements import SEPARATOR, Side, bare_units, fact_value, state_load
from cornerwalk.session.walk import WalkError

_BARE_UNITS: tuple[BareUnit, ...] = get_args(BareUnit)
_BARE_KIND: dict[FactKind, str] = {
    "length": "length",
    "altitude": "altitude",
    "pressure": "pressure",
    "force": "force",
    "forces": "force",
}
"""Kinds of fact that may be typed without a unit, and the quantity they are."""


def spelled_out(stated: FactStated) -> FactStated:
    """The same statement with a text that has the same value whatever unit a bare number is taken in."""
    fact = FACTS.get(stated.name)
    if fact is None or stated.value is None or fact.kind not in _BARE_KIND:
        return stated
    for text in _candidates(stated.entered, fact.kind):
        if all(_means(stated.name, text, unit, stated.value) for unit in _BARE_UNITS):
            return replace(stated, entered=text)
    values = stated.value if isinstance(stated.value, list) else [stated.value]
    return replace(stated, entered=f"{SEPARATOR} ".join(f"{value} {UNIT_OF_KIND[fact.kind]}" for value in values))


def _candidates(entered: str, kind: FactKind) -> list[str]:
    """The text as it is, and with each unit that it may have been typed in."""
    parts = [part.strip() for part in entered.split(SEPARATOR)] if kind == "forces" else [entered]
    words = dict.fromkeys(bare_units(unit)[_BARE_KIND[kind]].replace("inch", "in") for unit in _BARE_UNITS)
    return [entered, *(f"{SEPARATOR} ".join(f"{part} {word}" for part in parts) for word in words)]


def _means(name: str, text: str, unit: BareUnit, value: Scalar) -> bool:
    try:
        read = fact_value(FACTS[name], text, unit)
    except (QuantityError, WalkError):
        return False
    return _same(read, value)


def _same(one: Scalar, other: Scalar) -> bool:
    match one, other:
        case list(), list():
            return len(one) == len(other) and all(_same(a, b) for a, b in zip(one, other, strict=True))
        case float() | int(), float() | int():
            return isclose(one, other, rel_tol=1e-12, abs_tol=1e-12)
        case _:
            return one == other


def load_spelled_out(load: LoadStated) -> LoadStated:
    """The same load with texts that mean the same whatever unit a bare number is taken in."""
    place, side = place_of(load)
    for weight_word in ("", " lb", " kg"):
        for place_word in ("", " in", " mm", " cm"):
            weight, distance = f"{load.entered}{weight_word}", f"{place}{place_word}"
            told = [_load(load.name, weight, distance, side, unit) for unit in _BARE_UNITS]
            if all(each is not None and _same_load(each, load) for each in told):
                return replace(load, entered=weight, place_entered=f"{distance} {side} the rear axle")
    distance = f"{abs(load.ahead_mm)} mm"
    return replace(load, entered=f"{load.weight_N} N", place_entered=f"{distance} {side} the rear axle")


def place_of(load: LoadStated) -> tuple[str, Side]:
    """The distance as typed, and the side of the rear axle it goes to."""
    for side in get_args(Side):
        ending = f" {side} the rear axle"
        if load.place_entered.endswith(ending):
            return load.place_entered.removesuffix(ending), side
    return f"{abs(load.ahead_mm)} mm", "behind" if load.ahead_mm < 0 else "ahead of"


def _load(name: str, weight: str, place: str, side: Side, unit: BareUnit) -> LoadStated | None:
    try:
        return state_load(name, weight, place=place, side=side, unit=unit)
    except (QuantityError, WalkError):
        return None


def _same_load(one: LoadStated, other: LoadStated) -> bool:
    return _same(one.weight_N, other.weight_N) and _same(one.ahead_mm, other.ahead_mm)
