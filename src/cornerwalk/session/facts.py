"""Fact register: every single value of a job is one row, with all that forms, sheets, files and help show of it.

A fact's name is the table and key it has in a job sheet (`vehicle.wheelbase`). To add a fact, add its row here, its
field in `model`, and its texts to the catalogs.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal, LiteralString

FactKind = Literal[
    "text",
    "choice",
    "length",
    "graduation",
    "altitude",
    "pressure",
    "force",
    "forces",
    "rate",
    "volume",
    "angle",
    "temperature step",
    "percent",
    "number",
    "moment",
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
    "rate": ("N_per_mm", (0.0, 5e4)),
    "volume": ("liters", (0.0, 2e3)),
    "angle": ("deg", (-900.0, 900.0)),
    "temperature step": ("K", (0.0, 1e3)),
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
    Fact("tape.place_freedom", "number", "degrees of freedom of that",
        "How many repeats the placing was worked out from, less one for each corner that was repeated.",
        cost="the placing is taken as known without doubt", example=("6", "6")),
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
    Fact("vehicle.tire_rate", "rate", "rate of one tire",
        "How much more load it takes to press one tire down by an inch or a millimeter.",
        cost="250 N/mm is taken, which may be a quarter off", example=("1450 lb/in", "250 N/mm")),
    Fact("vehicle.tires_rear", "number", "tires on the rear axle",
        "Two, or four with dual rear wheels.", cost="two are taken", example=("2", "2")),
    Fact("vehicle.rear_springs", "choice", "rear springs",
        "What carries the rear axle. It decides how much friction is taken.",
        cost="the friction of leaf springs is taken",
        labels={"coil": "coil", "leaf": "leaf", "two-stage leaf": "two-stage leaf"}),
    Fact("vehicle.friction_front", "length", "friction of the front springs",
        "Half the difference between a front height read after lifting the body and one read after pressing it.",
        cost="1.5 mm is taken", example=("1/16 in", "1.5 mm")),
    Fact("vehicle.friction_rear", "length", "friction of the rear springs",
        "Half the difference between a rear height read after lifting the body and one read after pressing it.",
        cost="1.5 mm is taken for coil springs, else 3 mm", example=("1/8 in", "3 mm")),
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
    Fact("kit.bag_volume", "volume", "volume of one bag",
        "How much one bag holds at its working height, from the kit's sheet.",
        cost="how far a bag gives way to warm air is guessed", example=("120 cu in", "2 L")),
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
    Fact("uncertainty.friction_front", "length", "uncertainty of settling, front",
        "One standard deviation of how far off the front settles. Zero takes it as exact.",
        cost="taken from the friction", example=("1/32 in", "0.9 mm")),
    Fact("uncertainty.friction_rear", "length", "uncertainty of settling, rear",
        "One standard deviation of how far off the rear settles. Zero takes it as exact.",
        cost="taken from the friction", example=("1/16 in", "1.7 mm")),
    Fact("uncertainty.wheelbase", "length", "uncertainty of the wheelbase",
        "One standard deviation. Zero takes the wheelbase as exact.", cost="3 mm is taken", example=("1/8 in", "3 mm")),
    Fact("uncertainty.places", "length", "uncertainty of places",
        "One standard deviation of where loads, ball and lamp are. Zero takes them as exact.",
        cost="5 mm for lamps, 10 for the ball, 25 for loads are taken", example=("1/2 in", "10 mm")),
    Fact("uncertainty.wall", "length", "uncertainty of the wall's distance",
        "One standard deviation. Zero takes the distance as exact.", cost="10 mm is taken",
        example=("3/8 in", "10 mm")),
    Fact("uncertainty.mark", "length", "uncertainty of the mark on the wall",
        "One standard deviation of seeing where the cut-off is. Zero takes the mark as exact.",
        cost="0.05 degrees are taken", example=("1/4 in", "6 mm")),
    Fact("uncertainty.aim", "angle", "uncertainty of an aim that was not measured",
        "One standard deviation of the unloaded aim. Zero takes it as exact.", cost="0.3 degrees are taken",
        example=("0.3 deg", "0.3 deg")),
    Fact("uncertainty.loads", "percent", "uncertainty of stated loads",
        "One standard deviation, in percent of each load. Zero takes loads as exact.",
        cost="taken as 5 %, not weighed 15 %", example=("5 %", "5 %")),
    Fact("uncertainty.scale", "force", "uncertainty of the scale",
        "One standard deviation of each weight on a ticket. Zero takes tickets as exact.",
        cost="taken from the step of the scale", example=("6 lb", "3 kg")),
    Fact("uncertainty.tire_rate", "percent", "uncertainty of the tires' rate",
        "One standard deviation, in percent. Zero takes the rate as exact.", cost="taken as 25 %",
        example=("25 %", "25 %")),
    Fact("uncertainty.gauge", "pressure", "uncertainty of the gauge",
        "One standard deviation of a pressure read on it. Zero takes it as exact.",
        cost="taken from the marks of the gauge", example=("0.3 psi", "2 kPa")),
    Fact("uncertainty.temperature", "temperature step", "uncertainty of the line's temperature",
        "One standard deviation at each end of a hold test. Zero takes it as exact.", cost="2 K is taken",
        example=("4 °F", "2 K")),
    Fact("uncertainty.weather", "pressure", "uncertainty of the weather",
        "One standard deviation of how the air pressure outside changes in three hours. Zero takes it as steady.",
        cost="0.6 kPa is taken", example=("0.1 psi", "0.6 kPa")),
    Fact("uncertainty.bag", "choice", "whether the bags give way",
        "A rigid bag keeps its volume when the air in it warms up.", cost="taken as giving way",
        labels={"rigid": "rigid"}),
)  # fmt: skip

FACTS: dict[str, Fact] = {fact.name: fact for fact in _REGISTER}
"""Every fact by name, in the order in which forms and sheets show them."""
