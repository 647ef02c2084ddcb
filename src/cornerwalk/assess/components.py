"""Uncertainty components: the standard uncertainty of every value that was read, stated or assumed, and its origin.

Each component is one row: a figure that was measured or stated in this job, else the program's assumed one, which is a
figure of `standards` with its source. What is one thing in a job (the wheelbase, the rate of the tires, how well loads
are known) is one source of error wherever it enters; what happens anew (a reading, a mark, how the springs settle) is a
source of its own each time.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Literal

from cornerwalk.assess.estimate import ErrorSource, Estimate, Share, Spread, shares_of
from cornerwalk.assess.friction import (
    Axle,
    AxleFriction,
    FoundFriction,
    Origin,
    Pair,
    friction_of_pairs,
    loaded_leaf_factor,
)
from cornerwalk.assess.gauge import gauge_step_kPa
from cornerwalk.assess.uncertainty import quantum_u, reading_u_mm
from cornerwalk.session.model import CornerRecord, Session, StageKey
from cornerwalk.session.stages import LOADED_STAGES, Corner
from cornerwalk.standards import Standards
from cornerwalk.standards.aim import SCREEN_MM

ComponentName = Literal[
    "graduation",
    "placing",
    "friction front",
    "friction rear",
    "wheelbase",
    "lamp place",
    "overhang",
    "load place",
    "wall",
    "mark",
    "aim unloaded",
    "loads",
    "scale",
    "tire rate",
    "gauge",
    "temperature",
    "weather",
    "bag",
]

GRADUATION: ComponentName = "graduation"
PLACE: ComponentName = "placing"
AXLE_CORNERS: Mapping[Axle, tuple[Corner, Corner]] = {"front": ("LF", "RF"), "rear": ("RR", "LR")}
FRICTION: Mapping[Axle, ComponentName] = {"front": "friction front", "rear": "friction rear"}


@dataclass(frozen=True, slots=True)
class Component:
    """One row: a standard uncertainty in the unit named, and where it comes from."""

    name: ComponentName
    u: float
    unit: str
    origin: Origin


@dataclass(frozen=True, slots=True, kw_only=True)
class Components:
    """Every component of a job.

    Attributes:
        rows: the components by name; those of friction are unloaded, without a pair.
        friction: what is known of each axle's friction, for every stage.
        placing: the scatter that the u of placing the tape was estimated from; None where it was judged.
        u_guessed_percent: of a load that no scale weighed; `rows["loads"]` is of one that was.
    """

    rows: Mapping[ComponentName, Component]
    friction: Mapping[Axle, AxleFriction]
    placing: Spread | None = None
    u_guessed_percent: float
    _sources: dict[str, ErrorSource] = field(default_factory=dict)
    _readings: dict[tuple[int, tuple[ComponentName, float] | None], tuple[tuple[Share, ...], float]] = field(
        default_factory=dict
    )

    def u(self, name: ComponentName) -> float:
        """The standard uncertainty of a component, in its unit."""
        return self.rows[name].u

    def source(self, name: ComponentName, thing: str = "") -> ErrorSource:
        """The source of error that is this thing's in the whole job, the same at every call."""
        return self._sources.setdefault(f"{name} {thing}", ErrorSource(Share(name)))

    def of(self, name: ComponentName, value: float | None, thing: str = "") -> Estimate | None:
        """A stated value with the u of its component; None where it is not stated."""
        return None if value is None else Estimate(value, self.u(name), self.source(name, thing))

    def reading(self, readings: int, also: tuple[ComponentName, float] | None = None) -> tuple[ErrorSource, float]:
        """One height as read so many times: the source of its error, and its u in mm.

        `also` is a component that adds to this height alone.
        """
        key = (readings, also)
        if key not in self._readings:
            parts: dict[str, float] = {GRADUATION: self.u(GRADUATION), PLACE: self.u(PLACE) / math.sqrt(readings)}
            if also is not None:
                parts[also[0]] = also[1]
            self._readings[key] = shares_of(parts, {PLACE: self.placing} if self.placing is not None else {})
        shares, u_mm = self._readings[key]
        return ErrorSource(*shares), u_mm

    def again(self, name: ComponentName, value: float) -> Estimate:
        """A value read anew, independent of every other reading of its kind."""
        return Estimate(value, self.u(name), name)


_ASSUMED: tuple[tuple[ComponentName, str, str], ...] = (
    ("wheelbase", "u-wheelbase", "wheelbase_mm"),
    ("lamp place", "u-lamp-place", "places_mm"),
    ("overhang", "u-overhang", "places_mm"),
    ("load place", "u-load-place", "places_mm"),
    ("wall", "u-wall", "wall_mm"),
    ("aim unloaded", "u-aim", "aim_deg"),
    ("loads", "u-load-weighed", "loads_percent"),
    ("tire rate", "u-tire-rate", "tire_rate_percent"),
    ("temperature", "u-temperature", "temperature_K"),
    ("weather", "u-weather", "weather_kPa"),
)
"""Components that are one stated figure, else one assumed figure: the limit, and the field of what is stated."""


def components_of(session: Session, standards: Standards) -> Components:
    """The components of a session; see the module for what replaces what."""
    stated = session.uncertainty
    friction = {axle: axle_friction(session, standards, axle) for axle in FRICTION}
    rows = {row.name: row for row in _rows(session, standards, friction)}
    freedom = session.tape.place_freedom
    guessed_percent = standards.limits["u-load-guessed"].value if stated.loads_percent is None else stated.loads_percent
    return Components(
        rows=rows,
        friction=friction,
        placing=Spread(rows["placing"].u, int(freedom)) if freedom is not None and freedom >= 1 else None,
        u_guessed_percent=guessed_percent,
    )


def _rows(session: Session, standards: Standards, friction: Mapping[Axle, AxleFriction]) -> Iterator[Component]:
    stated, limits = session.uncertainty, standards.limits
    graduation = graduation_mm(session, standards)
    yield Component(
        GRADUATION, quantum_u(graduation), "mm", "assumed" if session.tape.graduation_mm is None else "stated"
    )
    place_origin: Origin = "stated" if session.tape.place_freedom is None else "measured"
    yield _row(PLACE, session.tape.place_mm, limits["place-u"].value, "mm", place_origin)
    for axle, name in FRICTION.items():
        found = friction[axle].at(("unloaded", 0), loaded=False)
        yield Component(name, found.u_axle_mm, "mm", found.origin)
    seen_mm = screen_mm(session) * math.tan(math.radians(limits["u-mark"].value))
    yield _row("mark", stated.mark_mm, seen_mm, "mm")
    yield _row("scale", stated.scale_N, quantum_u(scale_step_N(session, standards)), "N")
    yield _row("gauge", stated.gauge_kPa, quantum_u(gauge_step_kPa(session)), "kPa")
    for name, limit, attribute in _ASSUMED:
        yield _row(name, getattr(stated, attribute), limits[limit].value, limits[limit].unit)


def _row(name: ComponentName, stated: float | None, assumed: float, unit: str, origin: Origin = "stated") -> Component:
    return Component(name, assumed, unit, "assumed") if stated is None else Component(name, stated, unit, origin)


def graduation_mm(session: Session, standards: Standards) -> float:
    """Distance of the tape's marks: as stated, else the usual one of the session's units."""
    if session.tape.graduation_mm is not None:
        return session.tape.graduation_mm
    return standards.limits["graduation-inch" if session.job.unit == "inch" else "graduation-metric"].value


def screen_mm(session: Session) -> float:
    """Distance of the wall: as stated, else the usual 25 ft."""
    return session.lamps.screen_mm if session.lamps.screen_mm is not None else SCREEN_MM


def scale_step_N(session: Session, standards: Standards) -> float:
    """Step of the scale: as stated, else that of a public scale."""
    return session.scale.step_N if session.scale.step_N is not None else standards.limits["scale-step"].value


# ---- friction of a session ----


def axle_friction(session: Session, standards: Standards, axle: Axle) -> AxleFriction:
    """What a session knows of one axle's friction."""
    vehicle, stated = session.vehicle, session.uncertainty
    leaf = axle == "rear" and vehicle.rear_springs != "coil"
    return AxleFriction(
        assumed_mm=standards.limits["friction-leaf" if leaf else "friction-coil"].value,
        stated_mm=vehicle.friction_front_mm if axle == "front" else vehicle.friction_rear_mm,
        pairs=_pairs(session, standards, axle),
        stated_u_mm=stated.friction_front_mm if axle == "front" else stated.friction_rear_mm,
        loaded_factor=loaded_leaf_factor(*_rear_weights_N(session)) if leaf else 1.0,
    )


def _rear_weights_N(session: Session) -> tuple[float | None, float | None]:
    """The rear axle unhitched and hitched, where both were weighed."""
    tickets = session.weighings
    alone, hitched = tickets.get("unhitched"), tickets.get("hitched")
    return (None, None) if alone is None or hitched is None else (alone.rear_N, hitched.rear_N)


def _pairs(session: Session, standards: Standards, axle: Axle) -> dict[StageKey, FoundFriction]:
    """F at every stage at which a corner of the axle was read after lifting and after pressing."""
    u_read_mm = reading_u_mm(graduation_mm(session, standards), _place_mm(session, standards))
    found = {}
    for stage in session.stages:
        pairs = (pair for corner in AXLE_CORNERS[axle] if (pair := corner_pair(stage.corner(corner), u_read_mm)))
        f_mm = friction_of_pairs(pairs)
        if f_mm is not None:
            found[stage.key] = FoundFriction(f_mm, loaded=stage.name in LOADED_STAGES)
    return found


def _place_mm(session: Session, standards: Standards) -> float:
    return session.tape.place_mm if session.tape.place_mm is not None else standards.limits["place-u"].value


def corner_pair(record: CornerRecord, u_read_mm: float) -> Pair | None:
    """The lift-and-press pair of a corner; None where it was not read both ways."""
    if all(reading.after is None for reading in record.readings):
        return None
    lifted_mm, pressed_mm = record.mean_after_mm("lifting"), record.mean_after_mm("pressing")
    if lifted_mm is None or pressed_mm is None:
        return None
    return Pair(Estimate(lifted_mm, u_read_mm), Estimate(pressed_mm, u_read_mm))
