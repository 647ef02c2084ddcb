"""What the facts of the register are called where a person reads them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import LiteralString

from cornerwalk.session.facts import FACTS, Fact
from cornerwalk.session.stages import CORNERS
from cornerwalk.wording.wording import Wording
from cornerwalk.words import tr

FACT_NAMES: dict[str, LiteralString] = {
    "job.title": "job",
    "job.kind": "kind of job",
    "job.technician": "technician",
    "job.second_reader": "second reader",
    "job.customer": "customer",
    "job.complaint": "complaint",
    "job.site": "place",
    "job.date": "date",
    "job.unit": "heights typed in",
    "job.datum": "heights measured from",
    "job.start_corner": "first corner",
    "job.direction": "direction of the walk",
    "tape.graduation": "marks of the tape",
    "tape.place": "placing of the tape (one standard deviation)",
    "vehicle.description": "vehicle",
    "vehicle.registration": "registration",
    "vehicle.wheelbase": "wheelbase",
    "vehicle.arch_width": "distance between the left and right points",
    "vehicle.lamp_height": "lamp centre above ground",
    "vehicle.lamp_lower_edge": "lamp's lower edge above ground",
    "vehicle.lamp_ahead": "lamp ahead of the front wheel centre",
    "vehicle.ball_overhang": "ball behind the rear axle",
    "vehicle.gawr_front": "front axle rating",
    "vehicle.gawr_rear": "rear axle rating",
    "vehicle.gvwr": "gross vehicle rating",
    "vehicle.gcwr": "gross combined rating",
    "vehicle.capacity": "people and cargo allowed by the loading label",
    "vehicle.occupants": "people aboard",
    "vehicle.tyre_rating_front": "front tyres' rating, both",
    "vehicle.tyre_rating_rear": "rear tyres' rating, both",
    "vehicle.tyre_size": "tyre size",
    "vehicle.tyre_pressure": "tyre pressure",
    "vehicle.levelling": "headlamp levelling",
    "lamps.screen": "distance of the wall",
    "lamps.rule": "aim rule",
    "lamps.aim_percent": "aim measured unloaded, in per cent",
    "kit.name": "helper-spring kit",
    "kit.sheet": "kit's sheet",
    "kit.min": "kit's minimum pressure",
    "kit.max": "kit's maximum pressure",
    "kit.rated_support": "kit's rated support",
    "kit.lines": "air lines",
    "kit.target": "pressure asked for",
    "hitch.kind": "hitch",
    "hitch.setting": "hitch setting",
    "hitch.rating": "hitch rating",
    "hitch.restoration_rule": "rule for the front axle",
    "trailer.weight": "trailer's weight",
    "trailer.gvwr": "trailer's gross rating",
    "trailer.tongue_share_low": "least tongue share, in per cent",
    "trailer.tongue_share_high": "largest tongue share, in per cent",
    "scale.step": "step of the scale",
    "leak.altitude": "altitude",
    "leak.barometer": "barometer",
    "leak.gauge_graduation": "marks of the gauge",
    "leak.allowed_loss": "loss allowed",
    "table.drop_allowed": "drop allowed in the pressure table",
    "table.loads": "loads of the pressure table",
    "limits.side_to_side": "limit from side to side",
    "service.retorque_distance": "checked again after",
}
"""English; the key of its own translation. Every fact of the register has one: a test holds it to that."""


def fact_name(name: str) -> str:
    """What a fact is called; its register name where it is unknown here, as one from a newer file may be."""
    return tr(FACT_NAMES[name]) if name in FACT_NAMES else name


def as_stated(name: str, entered: str) -> str:
    """A fact as it was typed; what was taken from a list of choices, in the user's language.

    >>> as_stated("kit.lines", "tee"), as_stated("kit.name", "tee")
    ('tee', 'tee')
    """
    fact = FACTS.get(name)
    if fact is None or fact.kind != "choice" or entered in CORNERS:  # corners are codes, as on the plan
        return entered
    return tr(entered)


def place_as_stated(entered: str) -> str:
    """A load's place: the distance as it was typed, its side of the rear axle in the user's language."""
    for side, told in (
        ("behind the rear axle", tr("behind the rear axle")),
        ("ahead of the rear axle", tr("ahead of the rear axle")),
    ):
        if entered.endswith(f" {side}"):
            return f"{entered.removesuffix(side)}{told}"
    return entered


# ---- fact values ----


def understood(fact: Fact, value: float | str | Sequence[float] | None, wording: Wording) -> str:
    """The value in the units shown; empty for words, which mean what they say.

    `value` is in the fact's own unit (`session.facts.UNIT_OF_KIND`).
    """
    if isinstance(value, list | tuple):
        return ", ".join(wording.weight(one) for one in value)
    told: dict[str, Callable[[float], str]] = {
        "length": wording.exact,
        "graduation": wording.exact,
        "altitude": wording.distance_m,
        "pressure": wording.pressure,
        "force": wording.weight,
        "percent": wording.percent,
    }
    return told[fact.kind](value) if fact.kind in told and isinstance(value, float) else ""
