"""The register of facts: everything about a job that is a single value, each with its kind and where it is kept.

A fact's name is the table and key it has in a job sheet (`vehicle.wheelbase`). Forms, sheets, presets, the session
file and the list of what is still missing all read this one table: a new fact is one line here and one field in
`parts`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, LiteralString

FactKind = Literal[
    "text", "choice", "length", "graduation", "altitude", "pressure", "force", "forces", "percent", "number", "moment"
]

UNIT_OF_KIND: dict[FactKind, str] = {
    "text": "",
    "choice": "",
    "length": "mm",
    "graduation": "mm",
    "altitude": "m",
    "pressure": "kPa",
    "force": "N",
    "forces": "N",
    "percent": "%",
    "number": "",
    "moment": "",
}
"""Unit in which the value of a fact of each kind is stored."""


@dataclass(frozen=True, slots=True)
class Fact:
    """One entry of the register.

    `attribute` is the field of the part named by the first half of `name`; `choices` the words a choice may take;
    `bare` the unit of a number without one, None where the unit must be typed.
    """

    name: str
    kind: FactKind
    attribute: str
    choices: tuple[str, ...] = ()

    @property
    def part(self) -> str:
        """The part of the session it belongs to, which is also its table in a job sheet."""
        return self.name.partition(".")[0]

    @property
    def key(self) -> str:
        """Its key within that table."""
        return self.name.partition(".")[2]


UNITS: tuple[LiteralString, ...] = ("inch", "mm", "cm")
DATUMS: tuple[LiteralString, ...] = ("ground to arch lip", "wheel centre to arch lip")
JOB_KINDS: tuple[LiteralString, ...] = ("fit", "adjust", "load check")
LEVELLING: tuple[LiteralString, ...] = ("none", "manual", "automatic", "unknown")
LINES: tuple[LiteralString, ...] = ("tee", "separate")
TARGETS: tuple[LiteralString, ...] = ("unloaded height", "beam level")
HITCHES: tuple[LiteralString, ...] = ("ball only", "load-distributing")
CORNERS = ("LF", "RF", "RR", "LR")
DIRECTIONS: tuple[LiteralString, ...] = ("clockwise", "anticlockwise")

_REGISTER: tuple[Fact, ...] = (
    Fact("job.title", "text", "title"),
    Fact("job.kind", "choice", "kind", JOB_KINDS),
    Fact("job.technician", "text", "technician"),
    Fact("job.second_reader", "text", "second_reader"),
    Fact("job.customer", "text", "customer"),
    Fact("job.complaint", "text", "complaint"),
    Fact("job.site", "text", "site"),
    Fact("job.date", "moment", "date"),
    Fact("job.unit", "choice", "unit", UNITS),
    Fact("job.datum", "choice", "datum", DATUMS),
    Fact("job.start_corner", "choice", "start_corner", CORNERS),
    Fact("job.direction", "choice", "direction", DIRECTIONS),
    Fact("tape.graduation", "graduation", "graduation_mm"),
    Fact("tape.place", "length", "place_mm"),
    Fact("vehicle.description", "text", "description"),
    Fact("vehicle.registration", "text", "registration"),
    Fact("vehicle.wheelbase", "length", "wheelbase_mm"),
    Fact("vehicle.arch_width", "length", "arch_width_mm"),
    Fact("vehicle.lamp_height", "length", "lamp_height_mm"),
    Fact("vehicle.lamp_lower_edge", "length", "lamp_lower_edge_mm"),
    Fact("vehicle.lamp_ahead", "length", "lamp_ahead_mm"),
    Fact("vehicle.ball_overhang", "length", "ball_overhang_mm"),
    Fact("vehicle.gawr_front", "force", "gawr_front_N"),
    Fact("vehicle.gawr_rear", "force", "gawr_rear_N"),
    Fact("vehicle.gvwr", "force", "gvwr_N"),
    Fact("vehicle.gcwr", "force", "gcwr_N"),
    Fact("vehicle.capacity", "force", "capacity_N"),
    Fact("vehicle.occupants", "number", "occupants"),
    Fact("vehicle.tyre_rating_front", "force", "tyre_rating_front_N"),
    Fact("vehicle.tyre_rating_rear", "force", "tyre_rating_rear_N"),
    Fact("vehicle.tyre_size", "text", "tyre_size"),
    Fact("vehicle.tyre_pressure", "text", "tyre_pressure"),
    Fact("vehicle.levelling", "choice", "levelling", LEVELLING),
    Fact("lamps.screen", "length", "screen_mm"),
    Fact("lamps.rule", "text", "rule"),
    Fact("lamps.aim_percent", "percent", "aim_percent"),
    Fact("kit.name", "text", "name"),
    Fact("kit.sheet", "text", "sheet"),
    Fact("kit.min", "pressure", "min_kPa"),
    Fact("kit.max", "pressure", "max_kPa"),
    Fact("kit.rated_support", "force", "rated_support_N"),
    Fact("kit.lines", "choice", "lines", LINES),
    Fact("kit.target", "choice", "target", TARGETS),
    Fact("hitch.kind", "choice", "kind", HITCHES),
    Fact("hitch.setting", "text", "setting"),
    Fact("hitch.rating", "force", "rating_N"),
    Fact("hitch.restoration_rule", "text", "restoration_rule"),
    Fact("trailer.weight", "force", "weight_N"),
    Fact("trailer.gvwr", "force", "gvwr_N"),
    Fact("trailer.tongue_share_low", "percent", "tongue_share_low_percent"),
    Fact("trailer.tongue_share_high", "percent", "tongue_share_high_percent"),
    Fact("scale.step", "force", "step_N"),
    Fact("leak.altitude", "altitude", "altitude_m"),
    Fact("leak.barometer", "pressure", "barometer_kPa"),
    Fact("leak.gauge_graduation", "pressure", "gauge_graduation_kPa"),
    Fact("leak.allowed_loss", "pressure", "allowed_loss_kPa"),
    Fact("table.drop_allowed", "length", "drop_allowed_mm"),
    Fact("table.loads", "forces", "loads_N"),
    Fact("limits.side_to_side", "length", "side_to_side_mm"),
    Fact("service.retorque_distance", "text", "retorque_distance"),
)

FACTS: dict[str, Fact] = {fact.name: fact for fact in _REGISTER}
"""Every fact by name, in the order in which forms and sheets show them."""
