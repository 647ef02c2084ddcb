"""Settings: what a technician sets once, and the facts it puts into a new job."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from cornerwalk.quantity import BareUnit


DisplayUnits = Literal["inch", "metric", "both"]
Theme = Literal["day", "shop", "night"]

GROUND_DATUM = "ground to arch lip"


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """What a technician sets once. An empty text is "not set": then the program's default applies.

    Quantities are stored as typed, with their unit. `keys` maps the id of an action of the app to another key.
    """

    units: Literal["as read", DisplayUnits] = "as read"
    technician: str = ""
    language: str = ""
    library_folder: str = ""
    tape_graduation: str = ""
    tape_place: str = ""
    datum: str = GROUND_DATUM
    start_corner: str = "LF"
    direction: str = "clockwise"
    preset: str = ""
    aim_rule: str = ""
    screen_distance: str = ""
    altitude: str = ""
    gauge_graduation: str = ""
    allowed_loss: str = ""
    side_to_side: str = ""
    tongue_share_low: str = ""
    tongue_share_high: str = ""
    retorque_distance: str = ""
    shop_name: str = ""
    shop_phone: str = ""
    shop_logo: str = ""
    theme: Theme = "day"
    bell: bool = True
    say_back: bool = False
    keys: Mapping[str, str] = field(default_factory=dict)

    def display_units(self, read_in: BareUnit) -> DisplayUnits:
        """The units in which to show a job whose heights were read in this unit."""
        if self.units != "as read":
            return self.units
        return "inch" if read_in == "inch" else "metric"

    def job_facts(self) -> dict[str, str]:
        """The facts that these settings put into a new job: text by fact name, without those not set."""
        facts = {
            "job.unit": "mm" if self.units == "metric" else "inch",
            "job.technician": self.technician,
            "job.datum": self.datum if self.datum != GROUND_DATUM else "",
            "job.start_corner": self.start_corner,
            "job.direction": self.direction,
            "tape.graduation": self.tape_graduation,
            "tape.place": self.tape_place,
            "lamps.rule": self.aim_rule,
            "lamps.screen": self.screen_distance,
            "leak.altitude": self.altitude,
            "leak.gauge_graduation": self.gauge_graduation,
            "leak.allowed_loss": self.allowed_loss,
            "limits.side_to_side": self.side_to_side,
            "trailer.tongue_share_low": self.tongue_share_low,
            "trailer.tongue_share_high": self.tongue_share_high,
            "service.retorque_distance": self.retorque_distance,
        }
        return {name: text for name, text in facts.items() if text}
