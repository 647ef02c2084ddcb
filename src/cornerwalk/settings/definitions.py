"""The register of settings: what each is called, what it does, what it takes, and when a change of it holds.

The file, the settings page, the line mode and `cornerwalk settings` all read this one table.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields
from typing import Any, Literal, LiteralString

from cornerwalk.settings.model import GROUND_DATUM, Settings
from cornerwalk.words import tr

Kind = Literal["text", "choice", "flag", "length", "graduation", "altitude", "pressure", "percent", "folder"]
Group = Literal["reading", "jobs", "limits", "program"]
EffectTime = Literal["at once", "next job", "next start"]


class SettingValueError(ValueError):
    """A text that a setting does not take; an English `template` with its {named} `fields`."""

    def __init__(self, template: LiteralString, **told: object) -> None:
        super().__init__(template)
        self.template = template
        self.fields: Mapping[str, object] = told


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """One line of the settings file: its name is its field of `Settings`."""

    name: str
    kind: Kind
    group: Group
    effect: EffectTime
    choices: tuple[str, ...] = ()
    example: str = ""

    @property
    def label(self) -> str:
        """What it is called, in the user's language."""
        return _labels()[self.name]

    @property
    def about(self) -> str:
        """What it does, in a sentence or two in the user's language."""
        return _about()[self.name]

    @property
    def default(self) -> str | bool:
        """Its value where the file does not state it; "" is "not set"."""
        value: str | bool = _DEFAULTS[self.name]
        return value

    @property
    def default_text(self) -> str:
        """What holds where nothing is set, in words."""
        return value_text(self.default) if self.default != "" else _unset()[self.name]


_DEFAULTS: dict[str, Any] = {
    each.name: getattr(Settings(), each.name) for each in fields(Settings) if each.name != "keys"
}


def _setting(name: str, kind: Kind, group: Group, holds: EffectTime, *choices: str, example: str = "") -> Setting:
    return Setting(name=name, kind=kind, group=group, effect=holds, choices=choices, example=example)


SETTINGS: tuple[Setting, ...] = (
    _setting("units", "choice", "reading", "at once", "as read", "inch", "metric", "both"),
    _setting("technician", "text", "reading", "next job", example="MT"),
    _setting("tape_graduation", "graduation", "reading", "next job", example="1/16 in"),
    _setting("tape_place", "length", "reading", "next job", example="1/32 in"),
    _setting("datum", "choice", "reading", "next job", GROUND_DATUM, "wheel centre to arch lip"),
    _setting("start_corner", "choice", "reading", "next job", "LF", "RF", "RR", "LR"),
    _setting("direction", "choice", "reading", "next job", "clockwise", "anticlockwise"),
    _setting("preset", "text", "jobs", "next job"),
    _setting("aim_rule", "text", "jobs", "next job", example="us-vol"),
    _setting("screen_distance", "length", "jobs", "next job", example="25 ft"),
    _setting("altitude", "altitude", "jobs", "next job", example="900 ft"),
    _setting("gauge_graduation", "pressure", "jobs", "next job", example="1 psi"),
    _setting("retorque_distance", "text", "jobs", "next job", example="500 miles"),
    _setting("side_to_side", "length", "limits", "next job", example="12 mm"),
    _setting("allowed_loss", "pressure", "limits", "next job", example="2 psi"),
    _setting("tongue_share_low", "percent", "limits", "next job", example="10 %"),
    _setting("tongue_share_high", "percent", "limits", "next job", example="15 %"),
    _setting("theme", "choice", "program", "at once", "day", "shop", "night"),
    _setting("bell", "flag", "program", "at once"),
    _setting("say_back", "flag", "program", "at once"),
    _setting("language", "text", "program", "next start", example="de"),
    _setting("library_folder", "folder", "program", "next start", example="~/jobs"),
)
"""Every setting but the keys, in the order of the file and of the settings page."""

SETTING_BY_NAME: dict[str, Setting] = {setting.name: setting for setting in SETTINGS}

KEYS_TABLE = "keys"


def value_text(value: str | bool) -> str:  # noqa: FBT001 - a value to say, not a switch
    """A value in the user's words; yes and no for a switch."""
    if isinstance(value, bool):
        return tr("yes") if value else tr("no")
    return choice_labels().get(value, value)


def choice_labels() -> dict[str, str]:
    """The choices of the register as the user says them."""
    return {
        "as read": tr("as read"),
        "inch": tr("inch"),
        "metric": tr("metric"),
        "both": tr("both"),
        GROUND_DATUM: tr("ground to arch lip"),
        "wheel centre to arch lip": tr("wheel centre to arch lip"),
        "LF": tr("left front"),
        "RF": tr("right front"),
        "RR": tr("right rear"),
        "LR": tr("left rear"),
        "clockwise": tr("clockwise"),
        "anticlockwise": tr("anticlockwise"),
        "day": tr("day"),
        "shop": tr("shop"),
        "night": tr("night"),
    }


def group_name(group: Group) -> str:
    """The heading above a group of settings."""
    return {
        "reading": tr("Reading heights"),
        "jobs": tr("A new job begins with"),
        "limits": tr("Limits of a new job"),
        "program": tr("The program"),
    }[group]


def effect_text(holds: EffectTime) -> str:
    """When a change holds, as a sentence."""
    return {
        "at once": tr("A change holds at once."),
        "next job": tr("A change holds from the next new job; jobs that exist stay as they are."),
        "next start": tr("A change holds when the program is started again."),
    }[holds]


def _labels() -> dict[str, str]:
    return {
        "units": tr("units shown"),
        "technician": tr("your initials"),
        "language": tr("language"),
        "library_folder": tr("folder of the jobs"),
        "tape_graduation": tr("marks of your tape"),
        "tape_place": tr("placing of your tape"),
        "datum": tr("heights measured from"),
        "start_corner": tr("first corner"),
        "direction": tr("way round"),
        "preset": tr("preset"),
        "aim_rule": tr("headlamp rule"),
        "screen_distance": tr("distance of your wall"),
        "altitude": tr("altitude of the shop"),
        "gauge_graduation": tr("marks of your gauge"),
        "allowed_loss": tr("air loss allowed in a day"),
        "side_to_side": tr("one side higher than the other"),
        "tongue_share_low": tr("least tongue share"),
        "tongue_share_high": tr("largest tongue share"),
        "retorque_distance": tr("torques checked again after"),
        "theme": tr("look"),
        "bell": tr("bell"),
        "say_back": tr("readings said back"),
    }


def _about() -> dict[str, str]:
    return {
        "units": tr("Inches, metric or both in every figure shown. As read shows a job in the unit its heights were "
                    "typed in. New jobs are read in inches unless this is metric."),
        "technician": tr("They stand beside everything you record and on the report."),
        "language": tr("The language of the program, by its code."),
        "library_folder": tr("Where new jobs are kept and earlier ones looked for. Jobs in the old folder stay there."),
        "tape_graduation": tr("The finest marks on your tape. They go into the ± of every figure."),
        "tape_place": tr("How far two readings of one corner differ when you put the tape there again, as a standard "
                         "deviation. It goes into the ± of every figure."),
        "datum": tr("Ground to arch lip has the tyre in it. Wheel centre to arch lip leaves the tyre out."),
        "start_corner": tr("The corner where the walk begins."),
        "direction": tr("Which way you walk round the vehicle, as seen from above."),
        "preset": tr("The vehicle or kit a new job starts from, by its name. You can choose another one each time."),
        "aim_rule": tr("The headlamp rule a new job names, by its id. Local law and the vehicle maker come first."),
        "screen_distance": tr("How far the lamps stand from the wall you use."),
        "altitude": tr("Height above the sea. The leak check needs it for the air pressure."),
        "gauge_graduation": tr("The finest marks on your pressure gauge. They go into the ± of the leak check."),
        "allowed_loss": tr("More pressure lost than this in 24 hours is a leak."),
        "side_to_side": tr("The most that the two sides of one axle may differ."),
        "tongue_share_low": tr("The least part of the trailer's weight on the hitch, in per cent."),
        "tongue_share_high": tr("The largest part of the trailer's weight on the hitch, in per cent."),
        "retorque_distance": tr("After how far wheel nuts and bolts are checked again; it stands on the customer's "
                                "page. The kit's sheet and the vehicle maker come first."),
        "theme": tr("Day for glare, shop for indoors, night for the dark."),
        "bell": tr("A sound when an entry is refused."),
        "say_back": tr("Each kept reading is said back in words, for somebody who does not look at the screen."),
        KEYS_TABLE: tr('Another key for an action of the app, for example "job.undo" = "ctrl+x".'),
    }  # fmt: skip


def _unset() -> dict[str, str]:
    return {
        "technician": tr("the name of the account"),
        "language": tr("that of the machine"),
        "library_folder": tr("the machine's own place for such files"),
        "tape_graduation": tr("1/16 in, or 1 mm where heights are read in metric"),
        "tape_place": tr("1/32 in, which is assumed"),
        "preset": tr("none"),
        "aim_rule": tr("none, so no rule is checked"),
        "screen_distance": tr("25 ft (7.62 m)"),
        "altitude": tr("sea level"),
        "gauge_graduation": tr("not stated, so the leak check has no ±"),
        "allowed_loss": tr("2 psi (common practice, no source)"),
        "side_to_side": tr("12 mm"),
        "tongue_share_low": tr("10 %"),
        "tongue_share_high": tr("15 %"),
        "retorque_distance": tr("no reminder"),
    }


def about_keys() -> str:
    """What the table of keys is for."""
    return _about()[KEYS_TABLE]
