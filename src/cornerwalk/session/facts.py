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
        "A name to find the job by: the customer, the vehicle, the day.", cost="the list shows only the day"),
    Fact("job.kind", "choice", "kind of job",
        "What is done to the vehicle; it decides which stages are asked for. It may be changed on the way.",
        labels={"fit": "fit", "adjust": "adjust", "load check": "load check"}),
    Fact("job.technician", "text", "technician",
        "Who reads the tape and answers for the job.", cost="the report names the account instead"),
    Fact("job.second_reader", "text", "second reader", "Who calls the heights out or reads them a second time."),
    Fact("job.customer", "text", "customer", "Whose vehicle it is. It stands on the customer's page."),
    Fact("job.complaint", "text", "complaint", "What the customer came with, in their words."),
    Fact("job.site", "text", "place", "Where the vehicle stands: the bay, the street, the yard."),
    Fact("job.date", "moment", "date",
        "The day of the work, where it is not today.", example=("2026-05-04", "2026-05-04")),
    Fact("job.unit", "choice", "heights typed in",
        "What a height without a unit means. A unit typed with a number always counts.", cost="inches are taken",
        labels={"inch": "inch", "mm": "mm", "cm": "cm"}),
    Fact("job.datum", "choice", "heights measured from",
        "From the ground has the tyre in it; from the wheel centre leaves the tyre out. One job, one of them.",
        cost="ground to arch lip is taken, tyres included", labels={
            "ground to arch lip": "ground to arch lip", "wheel centre to arch lip": "wheel centre to arch lip"}),
    Fact("job.start_corner", "choice", "first corner",
        "The corner where you begin to walk round.", cost="the walk begins at the left front",
        labels={
            "LF": "left front", "RF": "right front", "RR": "right rear", "LR": "left rear"}),
    Fact("job.direction", "choice", "direction of the walk",
        "Which way you go round, as seen from above.", cost="the walk goes clockwise",
        labels={"clockwise": "clockwise", "anticlockwise": "anticlockwise"}),
    Fact("tape.graduation", "graduation", "marks of the tape",
        "The finest marks on the tape. They go into the ± of every figure.",
        cost="1/16 in is taken, 1 mm for metric heights", example=("1/16 in", "1 mm")),
    Fact("tape.place", "length", "placing of the tape (one standard deviation)",
        "How far two readings differ when the tape is put there again, as a standard deviation.",
        cost="1/32 in is taken", example=("1/32 in", "0.8 mm")),
    Fact("vehicle.description", "text", "vehicle", "Make, model and year, or whatever tells it from others."),
    Fact("vehicle.registration", "text", "registration", "What stands on the plate."),
    Fact("vehicle.wheelbase", "length", "wheelbase",
        "From the middle of the front wheel to the middle of the rear wheel, along the ground.",
        cost="no tilt, no beam, no axle loads", example=("119 in", "3023 mm")),
    Fact("vehicle.arch_width", "length", "distance between the left and right points",
        "Across the vehicle, from the left measuring point to the right one.", cost="no lean",
        example=("66 in", "1676 mm")),
    Fact("vehicle.lamp_height", "length", "lamp centre above ground",
        "From the ground up to the middle of the low-beam lamp, unloaded.",
        cost="no reach of the beam; rules by lamp height are not checked", example=("28 1/2 in", "724 mm")),
    Fact("vehicle.lamp_lower_edge", "length", "lamp's lower edge above ground",
        "From the ground up to the lower edge of the lamp's lit part, unloaded.",
        cost="rules that count from the lower edge are not checked", example=("26 1/2 in", "673 mm")),
    Fact("vehicle.lamp_ahead", "length", "lamp ahead of the front wheel centre",
        "How far the lamp is ahead of the middle of the front wheel.", cost="no lamp rise, no mark on the wall",
        example=("24 in", "610 mm")),
    Fact("vehicle.ball_overhang", "length", "ball behind the rear axle",
        "From the middle of the rear wheel back to the middle of the hitch ball.",
        cost="no height change at the ball, no tongue load", example=("46 in", "1168 mm")),
    Fact("vehicle.gawr_front", "force", "front axle rating",
        "The most the front axle may carry. It stands on the door label.",
        cost="the front axle is not checked against its rating", example=("2900 lb", "1315 kg")),
    Fact("vehicle.gawr_rear", "force", "rear axle rating",
        "The most the rear axle may carry. It stands on the door label. Springs do not raise it.",
        cost="the rear axle is not checked against its rating", example=("3100 lb", "1406 kg")),
    Fact("vehicle.gvwr", "force", "gross vehicle rating",
        "The most the loaded vehicle may weigh. It stands on the door label. Springs do not raise it.",
        cost="the vehicle is not checked against its rating", example=("5700 lb", "2585 kg")),
    Fact("vehicle.gcwr", "force", "gross combined rating",
        "The most vehicle and trailer may weigh together. The vehicle's book has it.",
        cost="vehicle and trailer are not checked together", example=("11000 lb", "4990 kg")),
    Fact("vehicle.capacity", "force", "people and cargo allowed by the loading label",
        "What people and cargo together may weigh, from the tyre and loading label.",
        cost="the loading label is not checked", example=("1400 lb", "635 kg")),
    Fact("vehicle.occupants", "number", "people aboard",
        "How many sit in it as it will be driven.", cost="the loading label is not checked", example=("2", "2")),
    Fact("vehicle.tyre_rating_front", "force", "front tyres' rating, both",
        "What both front tyres together may carry, by their load index at this pressure.",
        cost="the front tyres are not checked", example=("3900 lb", "1769 kg")),
    Fact("vehicle.tyre_rating_rear", "force", "rear tyres' rating, both",
        "What both rear tyres together may carry, by their load index at this pressure.",
        cost="the rear tyres are not checked", example=("3900 lb", "1769 kg")),
    Fact("vehicle.tyre_size", "text", "tyre size", "As it stands on the side of the tyre."),
    Fact("vehicle.tyre_pressure", "text", "tyre pressure", "Cold, as the door label asks for this load."),
    Fact("vehicle.levelling", "choice", "headlamp levelling",
        "Whether the headlamps level themselves, have a dial, or have neither.",
        cost="whether the beam moves as reckoned stays open", labels={
            "none": "none", "manual": "manual", "automatic": "automatic", "unknown": "unknown"}),
    Fact("lamps.screen", "length", "distance of the wall",
        "From the lamps to the wall, straight ahead.", cost="25 ft is taken", example=("25 ft", "10 m")),
    Fact("lamps.rule", "text", "aim rule",
        "The rule the beam is held against. Local law and the vehicle maker come first.",
        cost="no aim rule is checked"),
    Fact("lamps.aim_percent", "percent", "aim measured unloaded, in per cent",
        "The aim as an aiming device showed it, unloaded; down is negative.",
        cost="the rule's own nominal aim is taken", example=("-0.7", "-0.7")),
    Fact("kit.name", "text", "helper-spring kit", "Which helper springs are fitted."),
    Fact("kit.sheet", "text", "kit's sheet", "The instructions that came with them, by number and date."),
    Fact("kit.min", "pressure", "kit's minimum pressure",
        "Never run them below this, empty either: a slack bag is pinched and wears through.",
        cost="nothing says when there is too little air", example=("5 psi", "35 kPa")),
    Fact("kit.max", "pressure", "kit's maximum pressure",
        "Never let in more than this. It stands in the kit's sheet.", cost="nothing stops too much air",
        example=("35 psi", "240 kPa")),
    Fact("kit.rated_support", "force", "kit's rated support",
        "What both springs together may carry, from the kit's sheet.", cost="what the springs carry is not checked",
        example=("1000 lb", "450 kg")),
    Fact("kit.lines", "choice", "air lines",
        "A tee joins both sides on one valve; separate lines have a valve for each side.",
        cost="one line to both springs is taken", labels={"tee": "tee", "separate": "separate"}),
    Fact("kit.target", "choice", "pressure asked for",
        "What the air is for: the rear as high as unloaded, or the beam where it was.",
        cost="the unloaded height is aimed at", labels={
            "unloaded height": "unloaded height", "beam level": "beam level"}),
    Fact("hitch.kind", "choice", "hitch",
        "Whether the hitch only carries the ball, or has bars that move load to the front axle.",
        cost="front-axle load given back is not checked", labels={
            "ball only": "ball only", "load-distributing": "load-distributing"}),
    Fact("hitch.setting", "text", "hitch setting", "Which chain link, hole or mark the bars are set to."),
    Fact("hitch.rating", "force", "hitch rating",
        "The most tongue load the hitch may carry. It stands on its label.", cost="the hitch is not checked",
        example=("500 lb", "227 kg")),
    Fact("hitch.restoration_rule", "text", "rule for the front axle",
        "How much of the front axle's load the bars shall give back, by the hitch maker's rule.",
        cost="front-axle load given back is not checked"),
    Fact("trailer.weight", "force", "trailer's weight",
        "What the trailer weighs as it will be towed.", cost="the tongue's share is not checked",
        example=("4100 lb", "1860 kg")),
    Fact("trailer.gvwr", "force", "trailer's gross rating",
        "The most the trailer may weigh. It stands on its plate.", cost="the trailer is not checked against its rating",
        example=("5000 lb", "2270 kg")),
    Fact("trailer.tongue_share_low", "percent", "least tongue share, in per cent",
        "The least part of the trailer's weight on the hitch.", cost="taken as 10 %", example=("10", "10")),
    Fact("trailer.tongue_share_high", "percent", "largest tongue share, in per cent",
        "The largest part of the trailer's weight on the hitch.", cost="taken as 15 %", example=("15", "15")),
    Fact("scale.step", "force", "step of the scale",
        "The steps in which the scale shows a weight, such as 20 lb.", cost="weights from tickets are taken as exact",
        example=("20 lb", "10 kg")),
    Fact("leak.altitude", "altitude", "altitude",
        "How high above the sea the vehicle stands. A weather app or a map has it.", cost="sea level is taken",
        example=("900 ft", "300 m")),
    Fact("leak.barometer", "pressure", "barometer",
        "Air pressure as a barometer shows it here, not brought to sea level.", cost="the standard atmosphere is taken",
        example=("14.2 psi", "98 kPa")),
    Fact("leak.gauge_graduation", "pressure", "marks of the gauge",
        "The finest marks on the pressure gauge.", cost="the leak check has no ±", example=("1 psi", "5 kPa")),
    Fact("leak.allowed_loss", "pressure", "loss allowed",
        "More pressure lost than this in 24 hours is a leak.", cost="2 psi in 24 h is taken",
        example=("2 psi", "14 kPa")),
    Fact("table.drop_allowed", "length", "drop allowed in the pressure table",
        "How far the rear may stay below its unloaded height under other loads.", cost="no pressure table",
        example=("1/4 in", "6 mm")),
    Fact("table.loads", "forces", "loads of the pressure table",
        "Tongue loads to tell a pressure for, with a semicolon between.", cost="no pressure table",
        example=("300 lb; 400 lb", "140 kg; 180 kg")),
    Fact("limits.side_to_side", "length", "limit from side to side",
        "The most that the two sides of one axle may differ.", cost="12 mm is taken", example=("1/2 in", "12 mm")),
    Fact("service.retorque_distance", "text", "checked again after",
        "After how far wheel nuts and bolts are checked again; the kit's sheet says it.",
        cost="no reminder to check the torques again"),
)  # fmt: skip

FACTS: dict[str, Fact] = {fact.name: fact for fact in _REGISTER}
"""Every fact by name, in the order in which forms and sheets show them."""
