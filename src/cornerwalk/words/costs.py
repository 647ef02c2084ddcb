"""What leaving a fact out costs, said at once in the form: the figures and checks that then are missing."""

from __future__ import annotations

from typing import LiteralString

from cornerwalk.words.translation import tr

COSTS: dict[str, LiteralString] = {
    "job.title": "the list shows only the day",
    "job.technician": "the report names the account instead",
    "job.unit": "inches are taken",
    "job.datum": "ground to arch lip is taken, tyres included",
    "job.start_corner": "the walk begins at the left front",
    "job.direction": "the walk goes clockwise",
    "tape.graduation": "1/16 in is taken, 1 mm for metric heights",
    "tape.place": "1/32 in is taken",
    "vehicle.wheelbase": "no tilt, no beam, no axle loads",
    "vehicle.arch_width": "no lean",
    "vehicle.lamp_height": "no reach of the beam; rules by lamp height are not checked",
    "vehicle.lamp_lower_edge": "rules that count from the lower edge are not checked",
    "vehicle.lamp_ahead": "no lamp rise, no mark on the wall",
    "vehicle.ball_overhang": "no height change at the ball, no tongue load",
    "vehicle.gawr_front": "the front axle is not checked against its rating",
    "vehicle.gawr_rear": "the rear axle is not checked against its rating",
    "vehicle.gvwr": "the vehicle is not checked against its rating",
    "vehicle.gcwr": "vehicle and trailer are not checked together",
    "vehicle.capacity": "the loading label is not checked",
    "vehicle.occupants": "the loading label is not checked",
    "vehicle.tyre_rating_front": "the front tyres are not checked",
    "vehicle.tyre_rating_rear": "the rear tyres are not checked",
    "vehicle.levelling": "whether the beam moves as reckoned stays open",
    "lamps.screen": "25 ft is taken",
    "lamps.rule": "no aim rule is checked",
    "lamps.aim_percent": "the rule's own nominal aim is taken",
    "kit.min": "nothing says when there is too little air",
    "kit.max": "nothing stops too much air",
    "kit.rated_support": "what the springs carry is not checked",
    "kit.lines": "one line to both springs is taken",
    "kit.target": "the unloaded height is aimed at",
    "hitch.kind": "front-axle load given back is not checked",
    "hitch.rating": "the hitch is not checked",
    "hitch.restoration_rule": "front-axle load given back is not checked",
    "trailer.weight": "the tongue's share is not checked",
    "trailer.gvwr": "the trailer is not checked against its rating",
    "trailer.tongue_share_low": "taken as 10 %",
    "trailer.tongue_share_high": "taken as 15 %",
    "load.tongue": "no axle loads, no ride rate, no pressure for other loads",
    "scale.step": "weights from tickets are taken as exact",
    "leak.altitude": "sea level is taken",
    "leak.barometer": "the standard atmosphere is taken",
    "leak.gauge_graduation": "the leak check has no ±",
    "leak.allowed_loss": "2 psi in 24 h is taken",
    "table.drop_allowed": "no pressure table",
    "table.loads": "no pressure table",
    "limits.side_to_side": "12 mm is taken",
    "service.retorque_distance": "no reminder to check the torques again",
}


def cost_of(fact: str) -> str:
    """What it costs to leave this fact out; "" where it costs nothing but the record."""
    cost = COSTS.get(fact, "")
    return tr("without it: {cost}", cost=tr(cost)) if cost else ""
