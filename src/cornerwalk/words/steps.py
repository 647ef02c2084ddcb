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
            return tr("Take load and trailer off, vehicle on level ground, then Enter.")
        case "loaded":
            return tr("Load the vehicle as it will be driven, hitch on level ground, then Enter.")
        case "fitted":
            return tr("Springs fitted, loaded again, down on its wheels: type the pressure, then Enter.")
        case "fitted-unloaded":
            return tr("Take the load off, leave some air in: type the pressure, then Enter.")
        case "road-test":
            return tr("Back from the road, loaded as before, on the same spots: type the pressure, then Enter.")
        case "follow-up":
            return tr("Vehicle as it came back, on level ground: type the pressure, then Enter.")
        case _:
            return tr("Bring the vehicle into place, then Enter.")


def to_read(stage: str) -> str:
    """What keeps the readings of a stage comparable with the others."""
    if stage == "unloaded":
        return tr("Level ground, tyres at pressure, bounced, settled, nobody leaning on it.")
    return tr("Same spots, tyres as before, bounced and settled, nobody leaning on it.")


def measured_from_ground() -> str:
    """How a height from the ground is read."""
    return tr("The tape straight up from the ground to the lip of the arch, above the wheel centre, "
              "on the same point of the lip every time.")  # fmt: skip


def measured_from_wheel() -> str:
    """How a height from the wheel centre is read."""
    return tr("The tape straight up from the wheel centre to the lip of the arch, on the same point of the lip "
              "every time.")  # fmt: skip


def cautions(stage: str, *, kit_maximum: str) -> tuple[str, ...]:
    """What can hurt somebody on the way to a stage; `kit_maximum` as stated, empty where it is not known."""
    match stage:
        case "loaded":
            return (
                tr("Nobody between vehicle and trailer while either moves."),
                tr("Stay within the ratings on the door label and the hitch."),
            )
        case "fitted":
            return (
                tr("Rated stands on firm ground, never a jack alone. Exhaust may be hot."),
                tr("A coil holds energy: take its load off before any link is freed."),
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
        tr("cannot be reached"),
        tr("no clear point to measure to"),
        tr("ground not level there"),
        tr("no time"),
    )
