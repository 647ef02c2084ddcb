"""What a recorded number can be at all, so that a forged file says nothing that no figure could be made of.

Ten times what the readers of typed text take (`quantity`), so that no reading of any version is ever refused here. A
quantity that has no sign is not below zero.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields

from cornerwalk.session.events import Event, FactStated
from cornerwalk.session.facts import FACTS, FORCE_BOUNDS_N, PRESSURE_BOUNDS_KPA, Bounds

OF_FIELDS: dict[str, Bounds] = {
    "mm": (0.0, 25e3),
    "ahead_mm": (-1e6, 1e6),
    "above_mm": (-1e6, 1e6),
    "kPa": PRESSURE_BOUNDS_KPA,
    "N": FORCE_BOUNDS_N,
    "Nm": (0.0, 2e4),
    "C": (-600.0, 1e3),
    "hours": (0.0, 1e6),
}
"""By the name of an event's field, or by the unit at its end."""


def bounds_of(field: str) -> Bounds | None:
    """Between what an event's field of this name can be; None where it is no number, or may be any."""
    return OF_FIELDS.get(field) or OF_FIELDS.get(field.rpartition("_")[2])


def beyond(what: Event) -> Iterator[tuple[str, float]]:
    """The fields that hold a number which nothing on a vehicle can have, each with that number."""
    for field in fields(what):
        value = getattr(what, field.name)
        bounds = bounds_of(field.name)
        if isinstance(what, FactStated) and field.name == "value":
            bounds = FACTS[what.name].bounds if what.name in FACTS else None
        if bounds is None:
            continue
        for number in value if isinstance(value, list) else [value]:
            if isinstance(number, int | float) and not bounds[0] <= number <= bounds[1]:
                yield field.name, number
