"""Fact register: every single value of a job is one row, with all that forms, sheets, files and help show of it.

A fact's name is the table and key it has in a job sheet (`vehicle.wheelbase`). To add a fact, add its row here, its
field in `model`, and its texts to the catalogs.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal, LiteralString

FactKind = Literal[
    "text", "choice", "length", "graduation", "altitude", "pressure", "force", "forces", "percent", "number", "moment"
]
Bounds = tuple[float, float]

PRESSURE_BOUNDS_KPA: Bounds = (0.0, 2e4)
FORCE_BOUNDS_N: Bounds = (0.0, 5e6)

_UNIT_AND_BOUNDS: dict[FactKind, tuple[str, Bounds | None]] = {
    "text": ("", None),
    "choice": ("", None),
    "length": ("mm", (0.0, 1e6)),
    "graduation": ("mm", (1e-3, 254.0)),
    "altitude": ("m", (-5e3, 9e4)),
    "pressure": ("kPa", PRESSURE_BOUNDS_KPA),
    "force": ("N", FORCE_BOUNDS_N),
    "forces": ("N", FORCE_BOUNDS_N),
    "percent": ("%", (-1e3, 1e3)),
    "number": ("", (-1e3, 1e3)),
    "moment": ("", None),
}


@dataclass(frozen=True, slots=True)
class Fact:
    """One row. Its texts are English, the keys of their own translations.

    Attributes:
        name: the part of the session it belongs to and its key there, as in a job sheet.
        kind: what its text is read as.
        label: what it is called where a person reads it.
        help: what it means and how it is found, in a sentence or two.
        cost: what leaving it out costs: figures and checks that then are missing; "" where only the record is.
        labels: the codes a choice may take, as in files, each with what it is called where a person reads it.
        example: a text that may be typed, in US customary and in metric units; "" where any words will do.
    """

    name: str
    kind: FactKind
    label: LiteralString
    help: LiteralString
    cost: LiteralString = ""
    labels: Mapping[str, LiteralString] = field(default_factory=dict)
    example: tuple[str, str] = ("", "")

    @property
    def choices(self) -> tuple[str, ...]:
        """The codes a choice may take, in their order."""
        return tuple(self.labels)

    @property
    def part(self) -> str:
        """The part of the session it belongs to, which is also its table in a job sheet."""
        return self.name.partition(".")[0]

    @property
    def key(self) -> str:
        """Its key within that table."""
        return self.name.partition(".")[2]

    @property
    def attribute(self) -> str:
        """The field of the part where it is kept: the key with its unit at the end."""
        ending = {"": "", "%": "_percent"}.get(self.unit, f"_{self.unit}")
        return self.key.removesuffix(ending) + ending

    @property
    def unit(self) -> str:
        """The unit its value is stored in; "" where it has none."""
        return _UNIT_AND_BOUNDS[self.kind][0]

    @property
    def bounds(self) -> Bounds | None:
        """Between what its value can be at all, in that unit; None where it is no number (see `bounds`)."""
        return _UNIT_AND_BOUNDS[self.kind][1]


_REGISTER = (
    Fact("job.title", "text", "job",
        "A name you will find the job by: customer, vehicle, date.", cost="the list shows only the day"),
    Fact("job.kind", "choice", "kind of job",
        "What is done to the vehicle; it decides which stages are read. You can change it later.",
        labels={"fit": "fit", "adjust": "adjust", "load check": "load check"}),
    Fact("job.technician", "text", "technician",
        "Who reads the tape and signs for the job.", cost="the report names the account instead"),
    Fact("job.second_reader", "text", "second reader", "Who calls the heights out or reads them a second time."),
    Fact("job.customer", "text", "customer", "Whose vehicle it is. Printed on the customer copy."),
    Fact("job.complaint", "text", "complaint", "The customer's complaint, in their words."),
    Fact("job.site", "text", "place", "Where the vehicle is: bay, street, lot."),
    Fact("job.date", "moment", "date",
        "The day of the work, where it is not today.", example=("2026-05-04", "2026-05-04")),
    Fact("job.unit", "choice", "heights typed in",
        "What a height without a unit means. A unit typed with a number always counts.", cost="inches are taken",
        labels={"inch": "inch", "mm": "mm", "cm": "cm"}),
    Fact("job.datum", "choice", "heights measured from",
        "Ground to lip includes the tire; hub to lip does not. Use the same one for the whole job.",
        cost="ground to wheel-opening lip is used, tires included", labels={
            "ground to arch lip": "ground to wheel-opening lip",
            "wheel centre to arch lip": "hub center to wheel-opening lip"}),
    Fact("job.start_corner", "choice", "first corner",
        "The corner where you start.", cost="the walk starts at the left front",
        labels={
            "LF": "left front", "RF": "right front", "RR": "right rear", "LR": "left rear"}),
    Fact("job.direction", "choice", "direction of the walk",
        "Which way you go around, seen from above.", cost="the walk goes clockwise",
        labels={"clockwise": "clockwise", "anticlockwise": "counterclockwise"}),
    Fact("tape.graduation", "graduation", "tape graduation",
        "Finest graduation of the tape. It goes into the ± of every figure.",
        cost="1/16 in is used, 1 mm for metric heights", example=("1/16 in", "1 mm")),
    Fact("tape.place", "length", "tape repeatability (one standard deviation)",
        "How closely you can repeat a reading, as a standard deviation.",
        cost="1/32 in is used", example=("1/32 in", "0.8 mm")),
    Fact("vehicle.description", "text", "vehicle", "Year, make and model, or whatever tells it apart."),
    Fact("vehicle.registration", "text", "license plate", "License plate."),
    Fact("vehicle.wheelbase", "length", "wheelbase",
        "Center of front wheel to center of rear wheel, along the ground.",
        cost="no tilt, no beam, no axle loads", example=("119 in", "3023 mm")),
    Fact("vehicle.arch_width", "length", "width between measuring points",
        "Across the vehicle, left measuring point to right.", cost="no lean",
        example=("66 in", "1676 mm")),
    Fact("vehicle.lamp_height", "length", "headlight center height",
        "Ground to center of low-beam headlight, unloaded.",
        cost="no reach of the beam; specs by headlight height are not checked", example=("28 1/2 in", "724 mm")),
    Fact("vehicle.lamp_lower_edge", "length", "headlight lower edge height",
        "Ground to the lower edge of the lit part of the headlight, unloaded.",
        cost="rules that count from the lower edge are not checked", example=("26 1/2 in", "673 mm")),
    Fact("vehicle.lamp_ahead", "length", "headlight ahead of front hub center",
        "How far the headlight is ahead of the front hub center.", cost="no headlight rise, no wall mark",
        example=("24 in", "610 mm")),
    Fact("vehicle.ball_overhang", "length", "ball behind rear axle",
        "Center of rear wheel back to center of hitch ball.",
        cost="no height change at the ball, no tongue weight", example=("46 in", "1168 mm")),
    Fact("vehicle.gawr_front", "force", "front GAWR",
        "Front GAWR, from the door label.",
        cost="the front axle is not checked against its rating", example=("2900 lb", "1315 kg")),
    Fact("vehicle.gawr_rear", "force", "rear GAWR",
        "Rear GAWR, from the door label. Helper springs do not raise it.",
        cost="the rear axle is not checked against its rating", example=("3100 lb", "1406 kg")),
    Fact("vehicle.gvwr", "force", "GVWR",
        "GVWR, the maximum loaded weight, from the door label. Helper springs do not raise it.",
        cost="the vehicle is not checked against its rating", example=("5700 lb", "2585 kg")),
    Fact("vehicle.gcwr", "force", "GCWR",
        "GCWR, the maximum of vehicle and trailer together, from the owner's manual.",
        cost="vehicle and trailer are not checked together", example=("11000 lb", "4990 kg")),
    Fact("vehicle.capacity", "force", "payload (people and cargo)",
        "Payload: the most that people and cargo may weigh, from the tire and loading label.",
        cost="the loading label is not checked", example=("1400 lb", "635 kg")),
    Fact("vehicle.occupants", "number", "people aboard",
        "How many people ride in it.", cost="the loading label is not checked", example=("2", "2")),
    Fact("vehicle.tyre_rating_front", "force", "front tires' rating, both",
        "What both front tires together may carry, by their load index at this pressure.",
        cost="the front tires are not checked", example=("3900 lb", "1769 kg")),
    Fact("vehicle.tyre_rating_rear", "force", "rear tires' rating, both",
        "What both rear tires together may carry, by their load index at this pressure.",
        cost="the rear tires are not checked", example=("3900 lb", "1769 kg")),
    Fact("vehicle.tyre_size", "text", "tire size", "As printed on the tire sidewall."),
    Fact("vehicle.tyre_pressure", "text", "tire pressure", "Cold, per the door label for this load."),
    Fact("vehicle.levelling", "choice", "headlight leveling",
        "Whether the headlights level themselves, have a dial, or neither.",
        cost="whether the beam moves as calculated stays unconfirmed", labels={
            "none": "none", "manual": "manual", "automatic": "automatic", "unknown": "unknown"}),
    Fact("lamps.screen", "length", "wall distance",
        "Headlights to the wall, straight ahead.", cost="25 ft is used", example=("25 ft", "10 m")),
    Fact("lamps.rule", "text", "aim spec",
        "The spec the beam is compared with. Local law and the vehicle maker come first.",
        cost="no aim spec is checked"),
    Fact("lamps.aim_percent", "percent", "aim unloaded, percent",
        "Aim from an aiming device, unloaded; down is negative.",
        cost="the spec's own nominal aim is used", example=("-0.7", "-0.7")),
    Fact("kit.name", "text", "helper-spring kit", "Which air helper springs are installed."),
    Fact("kit.sheet", "text", "kit instructions", "The instructions that came with the kit: number and date."),
    Fact("kit.min", "pressure", "kit's minimum pressure",
        "Never run below this, even unloaded: a slack bag pinches and wears through.",
        cost="nothing says when there is too little air", example=("5 psi", "35 kPa")),
    Fact("kit.max", "pressure", "kit's maximum pressure",
        "Never exceed this. From the kit's instructions.", cost="nothing stops too much air",
        example=("35 psi", "240 kPa")),
    Fact("kit.rated_support", "force", "kit rated load (pair)",
        "What both bags together may carry, per the kit's instructions.", cost="what the bags carry is not checked",
        example=("1000 lb", "450 kg")),
    Fact("kit.lines", "choice", "air lines",
        "A tee feeds both bags from one valve; separate lines have a valve each.",
        cost="one line to both springs is taken", labels={"tee": "tee", "separate": "separate"}),
    Fact("kit.target", "choice", "target (height or beam)",
        "What the air should restore: rear height as unloaded, or the beam where it was.",
        cost="the unloaded height is used", labels={
            "unloaded height": "unloaded height", "beam level": "beam level"}),
    Fact("hitch.kind", "choice", "hitch",
        "Weight-carrying, or weight-distributing with spring bars that move load to the front axle.",
        cost="front-axle load restoration is not checked", labels={
            "ball only": "weight-carrying", "load-distributing": "weight-distributing"}),
    Fact("hitch.setting", "text", "hitch setting", "Which chain link, hole or mark the spring bars are set to."),
    Fact("hitch.rating", "force", "hitch tongue weight rating",
        "Maximum tongue weight for the hitch, from its label.", cost="the hitch is not checked",
        example=("500 lb", "227 kg")),
    Fact("hitch.restoration_rule", "text", "front-axle load restoration rule",
        "How much front-axle load the bars should restore (FALR), per the hitch maker.",
        cost="front-axle load restoration is not checked"),
    Fact("trailer.weight", "force", "trailer's weight",
        "What the trailer weighs as it will be towed.", cost="tongue weight percent is not checked",
        example=("4100 lb", "1860 kg")),
    Fact("trailer.gvwr", "force", "trailer GVWR",
        "Maximum trailer weight, from its label.", cost="the trailer is not checked against its rating",
        example=("5000 lb", "2270 kg")),
    Fact("trailer.tongue_share_low", "percent", "tongue weight minimum, percent",
        "Minimum tongue weight, as a percent of trailer weight.", cost="taken as 10 %", example=("10", "10")),
    Fact("trailer.tongue_share_high", "percent", "tongue weight maximum, percent",
        "Maximum tongue weight, as a percent of trailer weight.", cost="taken as 15 %", example=("15", "15")),
    Fact("scale.step", "force", "step of the scale",
        "The steps in which the scale shows a weight, such as 20 lb.", cost="weights from tickets are taken as exact",
        example=("20 lb", "10 kg")),
    Fact("leak.altitude", "altitude", "altitude",
        "Elevation here. A weather app or map has it.", cost="sea level is taken",
        example=("900 ft", "300 m")),
    Fact("leak.barometer", "pressure", "barometer",
        "Barometer reading here, not corrected to sea level.", cost="the standard atmosphere is taken",
        example=("14.2 psi", "98 kPa")),
    Fact("leak.gauge_graduation", "pressure", "gauge graduation",
        "Finest graduation of the pressure gauge.", cost="the leak check has no ±", example=("1 psi", "5 kPa")),
    Fact("leak.allowed_loss", "pressure", "allowed loss",
        "Losing more than this in 24 hours is a leak.", cost="2 psi in 24 h is used",
        example=("2 psi", "14 kPa")),
    Fact("table.drop_allowed", "length", "drop allowed in the pressure table",
        "How far the rear may stay below unloaded height at other loads.", cost="no pressure table",
        example=("1/4 in", "6 mm")),
    Fact("table.loads", "forces", "loads of the pressure table",
        "Tongue weights to list pressures for, separated by semicolons.", cost="no pressure table",
        example=("300 lb; 400 lb", "140 kg; 180 kg")),
    Fact("limits.side_to_side", "length", "left-right difference limit",
        "Most that the two sides of an axle may differ.", cost="12 mm is used", example=("1/2 in", "12 mm")),
    Fact("service.retorque_distance", "text", "torque recheck after",
        "Distance to the torque recheck; from the kit's instructions.",
        cost="no reminder to recheck torque"),
)  # fmt: skip

FACTS: dict[str, Fact] = {fact.name: fact for fact in _REGISTER}
"""Every fact by name, in the order in which forms and sheets show them."""
