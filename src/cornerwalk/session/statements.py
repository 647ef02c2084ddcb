"""Statements: a typed fact, load, weighing or torque to its event, with the text kept beside the value.

Screens, job sheets and the audit of a finished file all use this module, so a text means the same everywhere.
"""

from __future__ import annotations

import difflib
from collections.abc import Callable, Mapping, Sequence
from datetime import datetime
from typing import Literal, get_args

from cornerwalk.quantity import (
    BareUnit,
    read_altitude,
    read_angle,
    read_force,
    read_graduation,
    read_length,
    read_percent,
    read_pressure,
    read_rate,
    read_temperature_step,
    read_torque,
    read_volume,
)
from cornerwalk.session.events import (
    FactStated,
    FactValue,
    LoadRemoved,
    LoadStated,
    TorqueRecorded,
    Weighing,
    WeighingRecorded,
)
from cornerwalk.session.facts import FACTS, Fact, FactKind
from cornerwalk.session.model import Session, TorqueRecord
from cornerwalk.session.walk import EntryError

SEPARATOR = ";"
"""Between the values of a fact that holds several; a comma may be a decimal separator."""


AxleSide = Literal["behind", "ahead of"]


def bare_units(unit: BareUnit) -> dict[str, str]:
    """The unit of a number typed without one, by kind of quantity, if bare heights are in `unit`."""
    if unit == "inch":
        return {
            "length": "in",
            "pressure": "psi",
            "force": "lb",
            "altitude": "ft",
            "rate": "lb/in",
            "volume": "cu in",
            "temperature step": "°F",
        }
    return {
        "length": unit,
        "pressure": "kPa",
        "force": "kg",
        "altitude": "m",
        "rate": "N/mm",
        "volume": "L",
        "temperature step": "K",
    }


def state_fact(name: str, text: str, unit: BareUnit) -> FactStated:
    """A fact as stated; an empty text removes it.

    Raises:
        EntryError: there is no such fact, or no such choice.
        QuantityError: the text is not a quantity of its kind.
    """
    fact = FACTS.get(name)
    if fact is None:
        nearest = difflib.get_close_matches(name, FACTS, n=1)
        raise EntryError(
            "there is no fact called {name}; did you mean {nearest}?", name=name, nearest=nearest[0] if nearest else "…"
        )
    entered = text.strip()
    if not entered:
        return FactStated(name=name, entered="", value=None)
    return FactStated(name=name, entered=entered, value=fact_value(fact, entered, unit))


def fact_value(fact: Fact, entered: str, unit: BareUnit) -> FactValue:
    """The value a text has for a fact, in the fact's own unit (`Fact.unit`).

    Raises:
        EntryError: a choice that the fact does not have, or a time that is none.
        QuantityError: the text is no quantity of its kind.
    """
    bare = bare_units(unit)
    match fact.kind:
        case "text":
            return entered
        case "choice":
            return _choice(fact, entered)
        case "moment":
            return _moment(entered)
        case "forces":
            texts = [part for part in entered.split(SEPARATOR) if part.strip()]
            return [read_force(part, bare=bare["force"]).N for part in texts]
        case _:
            return _FIGURES[fact.kind](entered, bare)


_FIGURES: Mapping[FactKind, Callable[[str, Mapping[str, str]], float]] = {
    "length": lambda text, bare: read_length(text, bare=bare["length"]).mm,
    "graduation": lambda text, _: read_graduation(text).step.mm,
    "altitude": lambda text, bare: read_altitude(text, bare=bare["altitude"]).mm / 1000,
    "pressure": lambda text, bare: read_pressure(text, bare=bare["pressure"]).kPa,
    "force": lambda text, bare: read_force(text, bare=bare["force"]).N,
    "rate": lambda text, bare: float(read_rate(text, bare=bare["rate"])),
    "volume": lambda text, bare: float(read_volume(text, bare=bare["volume"])),
    "angle": lambda text, _: read_angle(text).deg,
    "temperature step": lambda text, bare: float(read_temperature_step(text, bare=bare["temperature step"])),
    "percent": lambda text, _: float(read_percent(text)),
    "number": lambda text, _: float(read_percent(text)),
}
"""How a figure of each kind is read, with the units of numbers that have none."""


def _choice(fact: Fact, entered: str) -> str:
    wanted = entered.casefold()
    for choice, label in fact.labels.items():
        if wanted in (choice.casefold(), label.casefold()):
            return choice
    raise EntryError("{text} is not one of: {choices}", text=entered, choices=", ".join(fact.choices), name=fact.name)


def _moment(entered: str) -> str:
    try:
        return datetime.fromisoformat(entered).isoformat()
    except ValueError as error:
        raise EntryError("{text} is no date; write it as 2026-05-04", text=entered) from error


def state_load(name: str, weight: str, *, place: str, side: AxleSide, unit: BareUnit) -> LoadStated:
    """A load and its distance from the rear axle; `side` is the direction of the distance.

    Raises:
        EntryError: it has no name.
        QuantityError: the weight or the distance cannot be read.
    """
    if not name.strip():
        raise EntryError("a load needs a name")
    bare = bare_units(unit)
    distance_mm = read_length(place, bare=bare["length"]).mm
    return LoadStated(
        name=name.strip(),
        entered=weight.strip(),
        weight_N=read_force(weight, bare=bare["force"]).N,
        place_entered=f"{place.strip()} {side} the rear axle",
        ahead_mm=-distance_mm if side == "behind" else distance_mm,
    )


def remove_load(name: str, known: Sequence[str]) -> LoadRemoved:
    """The removal of a load.

    Raises:
        EntryError: there is none of that name.
    """
    if name not in known:
        raise EntryError("there is no load called {name}", name=name)
    return LoadRemoved(name=name)


# ---- weighings ----


Axle = Literal["front", "rear", "trailer"]

WEIGHINGS: tuple[Weighing, ...] = get_args(Weighing)
AXLES: tuple[Axle, ...] = get_args(Axle)


def axles_weighed(weighing: Weighing) -> tuple[Axle, ...]:
    """The axles on the scale in this weighing; there is no trailer in the first."""
    return AXLES[:2] if weighing == "unhitched" else AXLES


def weighing_text(session: Session, weighing: Weighing, axle: Axle) -> str:
    """The weight of an axle in a weighing as typed, "" if there is none."""
    return session.entered.get(f"weighing.{weighing}.{axle}", "")


def record_weight(session: Session, weighing: Weighing, axle: Axle, text: str) -> WeighingRecorded:
    """The weighing with a new weight of one axle; an empty text removes it.

    Raises:
        QuantityError: the text is not a weight.
    """
    known = session.weighings.get(weighing)
    entered = {each: weighing_text(session, weighing, each) for each in AXLES}
    forces = {each: getattr(known, f"{each}_N") if known is not None else None for each in AXLES}
    entered[axle] = text.strip()
    forces[axle] = read_force(text, bare=bare_units(session.job.unit)["force"]).N if entered[axle] else None
    return WeighingRecorded(
        weighing=weighing,
        front_entered=entered["front"],
        front_N=forces["front"],
        rear_entered=entered["rear"],
        rear_N=forces["rear"],
        trailer_entered=entered["trailer"],
        trailer_N=forces["trailer"],
    )


# ---- torques ----


TorqueField = Literal["specified", "source", "reached"]

USUAL_JOINTS = ("wheel nuts", "control-arm bolts, at ride height")
"""Joints that every such fitting loosens; common practice, no source. Others can be added by name."""


def find_torque(session: Session, joint: str) -> TorqueRecord | None:
    """The torque record of a joint, None if there is none."""
    return next((torque for torque in session.torques if torque.joint == joint), None)


def record_torque(session: Session, joint: str, part: TorqueField, text: str) -> TorqueRecorded:
    """The joint with one field changed.

    Raises:
        EntryError: the joint has no name.
        QuantityError: a torque cannot be read; it needs its unit.
    """
    if not joint.strip():
        raise EntryError("a tightened joint needs a name")
    known = find_torque(session, joint)
    entered = {
        "specified": known.specified_entered if known is not None else "",
        "source": known.source if known is not None else "",
        "reached": known.reached_entered if known is not None else "",
    }
    entered[part] = text.strip()
    return TorqueRecorded(
        joint=joint.strip(),
        specified_entered=entered["specified"],
        specified_Nm=_torque_Nm(entered["specified"]),
        source=entered["source"],
        reached_entered=entered["reached"],
        reached_Nm=_torque_Nm(entered["reached"]),
    )


def _torque_Nm(text: str) -> float | None:
    return read_torque(text).Nm if text else None


def torque_ratio(torque: TorqueRecord) -> float | None:
    """Reached torque over specified torque, without a unit; None if either is unknown."""
    if torque.specified_Nm is None or torque.reached_Nm is None or torque.specified_Nm <= 0:
        return None
    return torque.reached_Nm / torque.specified_Nm
