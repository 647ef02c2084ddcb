"""The arithmetic of a finished session: does every stored value follow from the text beside it, and every handed-over
figure from the events before it?

Shape, order and chain are the store's to check. What is compared here is text against value, with today's reading of
the text, and stored figures against today's computation.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from cornerwalk.assess import assess
from cornerwalk.quantity import (
    QuantityError,
    read_force,
    read_height,
    read_length,
    read_pressure,
    read_signed_length,
    read_temperature,
    read_torque,
)
from cornerwalk.report.figures import handed_over_figures
from cornerwalk.session import Event, fold
from cornerwalk.session import happenings as h
from cornerwalk.session.facts import FACTS
from cornerwalk.session.journal import live
from cornerwalk.session.parts import BareUnit, Job
from cornerwalk.session.statements import bare_units, fact_value
from cornerwalk.session.walk import WalkError
from cornerwalk.standards import Standards

TOLERANCE = 1e-9
"""Relative difference that the stored decimals and this machine's arithmetic may leave."""


@dataclass(frozen=True, slots=True)
class AuditProblem:
    """Something that does not follow. `figure` problems are only news: a newer program may rightly differ."""

    seq: int
    kind: Literal["unreadable text", "value", "figure"]
    what: str
    stored: str
    follows: str


def audit(events: Sequence[Event], standards: Standards) -> tuple[AuditProblem, ...]:
    """Every value and figure of a session that does not follow from its own events, in their order."""
    problems: list[AuditProblem] = []
    unit: BareUnit = Job().unit
    for position, event in enumerate(events):
        if isinstance(event.what, h.Undone) or _states_unit(event):
            unit = _unit_after(events[: position + 1])
        problems += _values(event, unit)
        if isinstance(event.what, h.HandedOver):
            problems += _figures(events[:position], event, standards)
    return tuple(problems)


def _states_unit(event: Event) -> bool:
    return isinstance(event.what, h.FactStated) and event.what.name == "job.unit"


def _unit_after(events: Sequence[Event]) -> BareUnit:
    return fold([event for event in live(events) if _states_unit(event)]).job.unit


Reader = Callable[[str], float]


def _values(event: Event, unit: BareUnit) -> Iterator[AuditProblem]:
    for what, entered, stored, reader in _pairs(event, unit):
        try:
            follows = reader(entered)
        except (QuantityError, WalkError) as error:
            yield AuditProblem(event.seq, "unreadable text", what, entered, str(error))
            continue
        if not math.isclose(follows, stored, rel_tol=TOLERANCE, abs_tol=TOLERANCE):
            yield AuditProblem(event.seq, "value", f"{what} {entered!r}", repr(stored), repr(follows))


def _pairs(event: Event, unit: BareUnit) -> Iterator[tuple[str, str, float, Reader]]:
    bare = bare_units(unit)

    def pressure_kPa(text: str) -> float:
        return read_pressure(text, bare=bare["pressure"]).kPa

    def force_N(text: str) -> float:
        return read_force(text, bare=bare["force"]).N

    match event.what:
        case h.HeightRead() as what:
            yield f"{what.corner} {what.stage}", what.entered, what.mm, lambda text: read_height(text, unit).mm
        case h.FactStated() as what:
            yield from _fact_pairs(what, unit)
        case h.LoadStated() as what:
            yield what.name, what.entered, what.weight_N, force_N
            yield (
                f"place of {what.name}",
                what.place_entered,
                what.ahead_mm,
                lambda text: _place_mm(text, bare["length"]),
            )
        case h.StageBegun() | h.PressureStated() as what:
            for name in ("pressure", "left", "right"):
                entered, stored = getattr(what, f"{name}_entered"), getattr(what, f"{name}_kPa")
                if entered is not None and stored is not None:
                    yield f"pressure {what.stage}", entered, stored, pressure_kPa
        case h.MarkRead() as what:
            yield "wall mark", what.entered, what.above_mm, lambda text: read_signed_length(text, bare=bare["length"]).mm
        case h.WeighingRecorded() as what:
            for where in ("front", "rear", "trailer"):
                stored = getattr(what, f"{where}_N")
                if stored is not None:
                    yield f"{where} axle {what.weighing}", getattr(what, f"{where}_entered"), stored, force_N
        case h.LeakRead() as what:
            yield "hold test", what.pressure_entered, what.pressure_kPa, pressure_kPa
            if what.temperature_C is not None:
                yield "temperature", what.temperature_entered, what.temperature_C, lambda text: _celsius(text, unit)
        case h.TorqueRecorded() as what:
            for entered, stored in (
                (what.specified_entered, what.specified_Nm),
                (what.reached_entered, what.reached_Nm),
            ):
                if stored is not None:
                    yield what.joint, entered, stored, lambda text: read_torque(text).Nm
        case _:
            return


def _fact_pairs(what: h.FactStated, unit: BareUnit) -> Iterator[tuple[str, str, float, Reader]]:
    fact = FACTS.get(what.name)
    if fact is None or isinstance(what.value, str | None):
        return
    if isinstance(what.value, list):
        for position, stored in enumerate(what.value):
            yield what.name, what.entered, stored, lambda text, at=position: _nth(fact_value(fact, text, unit), at)  # type: ignore[misc]
        return
    yield what.name, what.entered, what.value, lambda text: _nth(fact_value(fact, text, unit), 0)


def _nth(value: h.Scalar, position: int) -> float:
    values = value if isinstance(value, list) else [value]
    if position >= len(values) or not isinstance(values[position], float | int):
        return math.nan
    number = values[position]
    return float(number) if number is not None else math.nan


def _place_mm(text: str, bare: str) -> float:
    for side, sign in ((" behind the rear axle", -1), (" ahead of the rear axle", 1)):
        if text.endswith(side):
            return sign * read_length(text.removesuffix(side), bare=bare).mm
    return math.nan


def _celsius(text: str, unit: BareUnit) -> float:
    return read_temperature(text, bare="degF" if unit == "inch" else "degC").C


def _figures(before: Sequence[Event], event: Event, standards: Standards) -> Iterator[AuditProblem]:
    if not isinstance(event.what, h.HandedOver):
        return
    session = fold(before)
    today = handed_over_figures(session, assess(session, standards))
    for name, stored in event.what.figures.items():
        follows = today.get(name)
        same = (
            math.isclose(stored, follows, rel_tol=TOLERANCE, abs_tol=TOLERANCE)
            if isinstance(stored, float | int) and isinstance(follows, float | int)
            else stored == follows
        )
        if not same:
            yield AuditProblem(event.seq, "figure", name, repr(stored), repr(follows))
