"""What to do at each stage of the walk, and the caution that belongs to it: short, at the moment it matters.

The cautions are the usual ones of the trade. They defer to the vehicle's and the kit's own instructions, to local law
and to licensed practice, which the guide says at length.
"""

from __future__ import annotations

from cornerwalk.words.translation import tr


def to_begin(stage: str) -> str:
    """What to bring the vehicle to before a stage is read; how to say that it is done stands at its end."""
    match stage:
        case "unloaded":
            return tr("Remove load and trailer. Park on level ground. Then Enter.")
        case "loaded":
            return tr("Load it the way it will be driven. Hitch up on level ground. Then Enter.")
        case "fitted":
            return tr("Bags installed, load on, wheels on the ground: type the pressure, then Enter.")
        case "fitted-unloaded":
            return tr("Load off, bags at the kit's minimum or more: type the pressure, then Enter.")
        case "road-test":
            return tr("Back from the road test, same load, same floor marks: type the pressure, then Enter.")
        case "follow-up":
            return tr("Vehicle as received, on level ground: type the pressure, then Enter.")
        case _:
            return tr("Move the vehicle into position, then Enter.")


def to_read(stage: str) -> str:
    """What keeps the readings of a stage comparable with the others."""
    if stage == "unloaded":
        return tr("Level ground, door-label tire pressure, bounced, settled, nobody leaning on it.")
    return tr("Same floor marks, same tire pressure, bounced, settled, nobody leaning on it.")


def measured_from_ground() -> str:
    """How a height from the ground is read."""
    return tr(
        "Measure straight up from the ground to the wheel-opening lip above the hub center. "
        "Use the same point every time."
    )


def measured_from_wheel() -> str:
    """How a height from the wheel centre is read."""
    return tr("Measure straight up from the hub center to the wheel-opening lip. Use the same point every time.")


def cautions(stage: str, *, kit_maximum: str) -> tuple[str, ...]:
    """What can hurt somebody on the way to a stage; `kit_maximum` as stated, empty where it is not known."""
    match stage:
        case "loaded":
            return (
                tr("Nobody between vehicle and trailer while either one moves."),
                tr("Stay within the ratings on the door label and the hitch."),
            )
        case "fitted":
            return (
                tr("Rated jack stands on firm ground, never a jack alone. Exhaust is hot."),
                tr("A coil spring can kill: unload it before you disconnect anything."),
                _air(kit_maximum),
            )
        case "fitted-unloaded" | "road-test" | "follow-up":
            return (_air(kit_maximum),)
        case _:
            return ()


def air_caution(kit_maximum: str) -> str:
    """Compressed air, wherever a pressure is asked for."""
    return _air(kit_maximum)


def _air(kit_maximum: str) -> str:
    if kit_maximum:
        return tr("Goggles on. Short bursts of air, fingers clear; kit maximum {maximum}.", maximum=kit_maximum)
    return tr("Goggles on. Short bursts, fingers clear. Find the kit maximum first.")


def level_is_not_safe() -> str:
    """Stands wherever a level body could be taken for a safe load."""
    return tr("Level is not safe: bags raise no rating and take no load off an axle.")


def skip_reasons() -> tuple[str, ...]:
    """The usual reasons for skipping a corner, chosen by their number."""
    return (
        tr("can't reach it"),
        tr("no clear point to measure to"),
        tr("floor not level there"),
        tr("no time"),
    )
