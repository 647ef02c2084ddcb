"""Setting definitions: one row a setting, with its kind, choices, label and help.

The settings file, the settings page, the line mode and `cornerwalk settings` are all made from this table. Texts are
English here and translated when they are asked for.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal, LiteralString

from cornerwalk.settings.model import GROUND_DATUM, Settings
from cornerwalk.words import tr

Kind = Literal["text", "choice", "flag", "length", "graduation", "altitude", "pressure", "percent", "folder"]
Group = Literal["reading", "jobs", "limits", "paper", "program"]
EffectTime = Literal["at once", "next job", "next start"]
"""When a changed value takes effect."""

KEYS_TABLE = "keys"
"""The table of the settings file that gives actions of the app another key."""

_DEFAULTS = Settings()


class SettingValueError(ValueError):
    """A text that a setting does not take; an English `template` with its {named} `fields`."""

    def __init__(self, template: LiteralString, **fields: object) -> None:
        super().__init__(template)
        self.template = template
        self.fields: Mapping[str, object] = fields


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """One setting. `name` is its key in the file and its field of `Settings`.

    Attributes:
        choices: the values of a choice, each with its label.
        english_label: what it is called.
        english_help: what it does, in a sentence or two.
        english_unset: what applies while it is empty.
        example: a value as typed.
    """

    name: str
    kind: Kind
    group: Group
    effect: EffectTime
    english_label: LiteralString
    english_help: LiteralString
    english_unset: LiteralString = ""
    choices: Mapping[str, LiteralString] = field(default_factory=dict)
    example: str = ""

    @property
    def label(self) -> str:
        """What it is called, in the user's language."""
        return tr(self.english_label)

    @property
    def about(self) -> str:
        """What it does, in the user's language."""
        return tr(self.english_help)

    @property
    def default(self) -> str | bool:
        """Its value where the file does not state it; "" is "not set"."""
        value: str | bool = getattr(_DEFAULTS, self.name)
        return value

    @property
    def default_text(self) -> str:
        """What applies while it is not set, in the user's language."""
        return value_text(self.default) if self.default != "" else tr(self.english_unset)


SETTINGS: tuple[Setting, ...] = (
    Setting(
        name="units",
        kind="choice",
        group="reading",
        effect="at once",
        choices={"as read": "as read", "inch": "inch", "metric": "metric", "both": "both"},
        english_label="units shown",
        english_help="Inches, metric or both in every figure shown. As read shows a job in the unit its heights were "
        "typed in. New jobs are read in inches unless this is metric.",
    ),
    Setting(
        name="technician",
        kind="text",
        group="reading",
        effect="next job",
        english_label="your initials",
        english_help="They stand beside everything you record and on the report.",
        english_unset="the name of the account",
        example="MT",
    ),
    Setting(
        name="tape_graduation",
        kind="graduation",
        group="reading",
        effect="next job",
        english_label="marks of your tape",
        english_help="The finest marks on your tape. They go into the ± of every figure.",
        english_unset="1/16 in, or 1 mm where heights are read in metric",
        example="1/16 in",
    ),
    Setting(
        name="tape_place",
        kind="length",
        group="reading",
        effect="next job",
        english_label="placing of your tape",
        english_help="How far two readings of one corner differ when you put the tape there again, as a standard "
        "deviation. It goes into the ± of every figure.",
        english_unset="1/32 in, which is assumed",
        example="1/32 in",
    ),
    Setting(
        name="datum",
        kind="choice",
        group="reading",
        effect="next job",
        choices={GROUND_DATUM: "ground to arch lip", "wheel centre to arch lip": "wheel centre to arch lip"},
        english_label="heights measured from",
        english_help="Ground to arch lip has the tyre in it. Wheel centre to arch lip leaves the tyre out.",
    ),
    Setting(
        name="start_corner",
        kind="choice",
        group="reading",
        effect="next job",
        choices={"LF": "left front", "RF": "right front", "RR": "right rear", "LR": "left rear"},
        english_label="first corner",
        english_help="The corner where the walk begins.",
    ),
    Setting(
        name="direction",
        kind="choice",
        group="reading",
        effect="next job",
        choices={"clockwise": "clockwise", "anticlockwise": "anticlockwise"},
        english_label="way round",
        english_help="Which way you walk round the vehicle, as seen from above.",
    ),
    Setting(
        name="preset",
        kind="text",
        group="jobs",
        effect="next job",
        english_label="preset",
        english_help="The vehicle or kit a new job starts from, by its name. You can choose another one each time.",
        english_unset="none",
    ),
    Setting(
        name="aim_rule",
        kind="text",
        group="jobs",
        effect="next job",
        english_label="headlamp rule",
        english_help="The headlamp rule a new job names, by its id. Local law and the vehicle maker come first.",
        english_unset="none, so no rule is checked",
        example="us-vol",
    ),
    Setting(
        name="screen_distance",
        kind="length",
        group="jobs",
        effect="next job",
        english_label="distance of your wall",
        english_help="How far the lamps stand from the wall you use.",
        english_unset="25 ft (7.62 m)",
        example="25 ft",
    ),
    Setting(
        name="altitude",
        kind="altitude",
        group="jobs",
        effect="next job",
        english_label="altitude of the shop",
        english_help="Height above the sea. The leak check needs it for the air pressure.",
        english_unset="sea level",
        example="900 ft",
    ),
    Setting(
        name="gauge_graduation",
        kind="pressure",
        group="jobs",
        effect="next job",
        english_label="marks of your gauge",
        english_help="The finest marks on your pressure gauge. They go into the ± of the leak check.",
        english_unset="not stated, so the leak check has no ±",
        example="1 psi",
    ),
    Setting(
        name="retorque_distance",
        kind="text",
        group="jobs",
        effect="next job",
        english_label="torques checked again after",
        english_help="After how far wheel nuts and bolts are checked again; it stands on the customer's page. The "
        "kit's sheet and the vehicle maker come first.",
        english_unset="no reminder",
        example="500 miles",
    ),
    Setting(
        name="side_to_side",
        kind="length",
        group="limits",
        effect="next job",
        english_label="one side higher than the other",
        english_help="The most that the two sides of one axle may differ.",
        english_unset="12 mm",
        example="12 mm",
    ),
    Setting(
        name="allowed_loss",
        kind="pressure",
        group="limits",
        effect="next job",
        english_label="air loss allowed in a day",
        english_help="More pressure lost than this in 24 hours is a leak.",
        english_unset="2 psi (common practice, no source)",
        example="2 psi",
    ),
    Setting(
        name="tongue_share_low",
        kind="percent",
        group="limits",
        effect="next job",
        english_label="least tongue share",
        english_help="The least part of the trailer's weight on the hitch, in per cent.",
        english_unset="10 %",
        example="10 %",
    ),
    Setting(
        name="tongue_share_high",
        kind="percent",
        group="limits",
        effect="next job",
        english_label="largest tongue share",
        english_help="The largest part of the trailer's weight on the hitch, in per cent.",
        english_unset="15 %",
        example="15 %",
    ),
    Setting(
        name="shop_name",
        kind="text",
        group="paper",
        effect="at once",
        english_label="name of the shop",
        english_help="It stands at the top of the customer copy, and as the one to call.",
        english_unset="none",
        example="Example Garage",
    ),
    Setting(
        name="shop_phone",
        kind="text",
        group="paper",
        effect="at once",
        english_label="phone of the shop",
        english_help="The number that the customer copy says to call.",
        english_unset="none",
        example="555-0100",
    ),
    Setting(
        name="shop_logo",
        kind="folder",
        group="paper",
        effect="at once",
        english_label="logo of the shop",
        english_help="A PNG or JPEG file, at most 1 MB. It stands at the top of the customer copy.",
        english_unset="none",
        example="~/logo.png",
    ),
    Setting(
        name="theme",
        kind="choice",
        group="program",
        effect="at once",
        choices={"day": "day", "shop": "shop", "night": "night"},
        english_label="look",
        english_help="Day for glare, shop for indoors, night for the dark.",
    ),
    Setting(
        name="bell",
        kind="flag",
        group="program",
        effect="at once",
        english_label="bell",
        english_help="A sound when an entry is refused.",
    ),
    Setting(
        name="say_back",
        kind="flag",
        group="program",
        effect="at once",
        english_label="readings said back",
        english_help="Each kept reading is said back in words, for somebody who does not look at the screen.",
    ),
    Setting(
        name="language",
        kind="text",
        group="program",
        effect="next start",
        english_label="language",
        english_help="The language of the program, by its code.",
        english_unset="that of the machine",
        example="de",
    ),
    Setting(
        name="library_folder",
        kind="folder",
        group="program",
        effect="next start",
        english_label="folder of the jobs",
        english_help="Where new jobs are kept and earlier ones looked for. Jobs in the old folder stay there.",
        english_unset="the machine's own place for such files",
        example="~/jobs",
    ),
)
"""Every setting but the keys, in the order of the file and of the settings page."""

SETTING_BY_NAME: dict[str, Setting] = {setting.name: setting for setting in SETTINGS}

_CHOICE_LABELS = {value: label for setting in SETTINGS for value, label in setting.choices.items()}

_GROUP_NAMES: dict[Group, LiteralString] = {
    "reading": "Reading heights",
    "jobs": "A new job begins with",
    "limits": "Limits of a new job",
    "paper": "The customer copy",
    "program": "The program",
}
_EFFECT_TEXTS: dict[EffectTime, LiteralString] = {
    "at once": "A change holds at once.",
    "next job": "A change holds from the next new job; jobs that exist stay as they are.",
    "next start": "A change holds when the program is started again.",
}
_KEYS_HELP: LiteralString = 'Another key for an action of the app, for example "job.undo" = "ctrl+x".'


def value_text(value: str | bool) -> str:  # noqa: FBT001 - a value to show, not a switch
    """A value in the user's language; yes or no for a flag."""
    if isinstance(value, bool):
        return tr("yes") if value else tr("no")
    return tr(_CHOICE_LABELS[value]) if value in _CHOICE_LABELS else value


def group_name(group: Group) -> str:
    """The heading above a group of settings."""
    return tr(_GROUP_NAMES[group])


def effect_text(effect: EffectTime) -> str:
    """When a changed value takes effect, as a sentence."""
    return tr(_EFFECT_TEXTS[effect])


def keys_help() -> str:
    """What the table of keys is for."""
    return tr(_KEYS_HELP)
