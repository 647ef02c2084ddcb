"""What each fact of a job means and how it is found, in a sentence or two: the help for the field one is in."""

from __future__ import annotations

from typing import LiteralString

from cornerwalk.words.translation import tr

HELP: dict[str, LiteralString] = {
    "job.title": "A name to find the job by: the customer, the vehicle, the day.",
    "job.kind": "What is done to the vehicle; it decides which stages are asked for. It may be changed on the way.",
    "job.technician": "Who reads the tape and answers for the job.",
    "job.second_reader": "Who calls the heights out or reads them a second time.",
    "job.customer": "Whose vehicle it is. It stands on the customer's page.",
    "job.complaint": "What the customer came with, in their words.",
    "job.site": "Where the vehicle stands: the bay, the street, the yard.",
    "job.date": "The day of the work, where it is not today.",
    "job.unit": "What a height without a unit means. A unit typed with a number always counts.",
    "job.datum": "From the ground has the tyre in it; from the wheel centre leaves the tyre out. One job, one of them.",
    "job.start_corner": "The corner where you begin to walk round.",
    "job.direction": "Which way you go round, as seen from above.",
    "tape.graduation": "The finest marks on the tape. They go into the ± of every figure.",
    "tape.place": "How far two readings differ when the tape is put there again, as a standard deviation.",
    "vehicle.description": "Make, model and year, or whatever tells it from others.",
    "vehicle.registration": "What stands on the plate.",
    "vehicle.wheelbase": "From the middle of the front wheel to the middle of the rear wheel, along the ground.",
    "vehicle.arch_width": "Across the vehicle, from the left measuring point to the right one.",
    "vehicle.lamp_height": "From the ground up to the middle of the low-beam lamp, unloaded.",
    "vehicle.lamp_lower_edge": "From the ground up to the lower edge of the lamp's lit part, unloaded.",
    "vehicle.lamp_ahead": "How far the lamp is ahead of the middle of the front wheel.",
    "vehicle.ball_overhang": "From the middle of the rear wheel back to the middle of the hitch ball.",
    "vehicle.gawr_front": "The most the front axle may carry. It stands on the door label.",
    "vehicle.gawr_rear": "The most the rear axle may carry. It stands on the door label. Springs do not raise it.",
    "vehicle.gvwr": "The most the loaded vehicle may weigh. It stands on the door label. Springs do not raise it.",
    "vehicle.gcwr": "The most vehicle and trailer may weigh together. The vehicle's book has it.",
    "vehicle.capacity": "What people and cargo together may weigh, from the tyre and loading label.",
    "vehicle.occupants": "How many sit in it as it will be driven.",
    "vehicle.tyre_rating_front": "What both front tyres together may carry, by their load index at this pressure.",
    "vehicle.tyre_rating_rear": "What both rear tyres together may carry, by their load index at this pressure.",
    "vehicle.tyre_size": "As it stands on the side of the tyre.",
    "vehicle.tyre_pressure": "Cold, as the door label asks for this load.",
    "vehicle.levelling": "Whether the headlamps level themselves, have a dial, or have neither.",
    "lamps.screen": "From the lamps to the wall, straight ahead.",
    "lamps.rule": "The rule the beam is held against. Local law and the vehicle maker come first.",
    "lamps.aim_percent": "The aim as an aiming device showed it, unloaded; down is negative.",
    "kit.name": "Which helper springs are fitted.",
    "kit.sheet": "The instructions that came with them, by number and date.",
    "kit.min": "Never run them below this, empty either: a slack bag is pinched and wears through.",
    "kit.max": "Never let in more than this. It stands in the kit's sheet.",
    "kit.rated_support": "What both springs together may carry, from the kit's sheet.",
    "kit.lines": "A tee joins both sides on one valve; separate lines have a valve for each side.",
    "kit.target": "What the air is for: the rear as high as unloaded, or the beam where it was.",
    "hitch.kind": "Whether the hitch only carries the ball, or has bars that move load to the front axle.",
    "hitch.setting": "Which chain link, hole or mark the bars are set to.",
    "hitch.rating": "The most tongue load the hitch may carry. It stands on its label.",
    "hitch.restoration_rule": "How much of the front axle's load the bars shall give back, by the hitch maker's rule.",
    "trailer.weight": "What the trailer weighs as it will be towed.",
    "trailer.gvwr": "The most the trailer may weigh. It stands on its plate.",
    "trailer.tongue_share_low": "The least part of the trailer's weight on the hitch.",
    "trailer.tongue_share_high": "The largest part of the trailer's weight on the hitch.",
    "scale.step": "The steps in which the scale shows a weight, such as 20 lb.",
    "leak.altitude": "How high above the sea the vehicle stands. A weather app or a map has it.",
    "leak.barometer": "Air pressure as a barometer shows it here, not brought to sea level.",
    "leak.gauge_graduation": "The finest marks on the pressure gauge.",
    "leak.allowed_loss": "More pressure lost than this in 24 hours is a leak.",
    "table.drop_allowed": "How far the rear may stay below its unloaded height under other loads.",
    "table.loads": "Tongue loads to tell a pressure for, with a semicolon between.",
    "limits.side_to_side": "The most that the two sides of one axle may differ.",
    "service.retorque_distance": "After how far wheel nuts and bolts are checked again; the kit's sheet says it.",
}
"""English; the key of its own translation. Every fact of the register has one: a test holds it to that."""


def help_of(fact: str) -> str:
    """What a fact means and how it is found; "" for what is no fact of the register."""
    text = HELP.get(fact, "")
    return tr(text) if text else ""
