"""The technician's settings: one TOML file, checked when read, and never written over while it holds a mistake."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

from cornerwalk.words import tr
from cornerwalk.written import (
    FileError,
    Problem,
    Problems,
    Table,
    TomlError,
    WrittenError,
    parse_toml,
    read_text_file,
    replace_text_file,
)
from cornerwalk.written.toml_out import toml_string

if TYPE_CHECKING:
    from cornerwalk.quantity import BareUnit

UnitsShown = Literal["inch", "metric", "both"]
Theme = Literal["day", "shop", "night"]
Kind = Literal["text", "choice", "flag", "length", "graduation"]


class SettingsError(WrittenError):
    """The settings file says something wrong; nothing of it is used, and it is left as it is."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """What a technician sets once. An empty text is "not set": then the program's own default holds.

    Quantities are kept as typed, with their unit; `keys` gives an action of the app, by its id, another key.
    """

    units: Literal["as read", UnitsShown] = "as read"
    technician: str = ""
    language: str = ""
    tape_graduation: str = ""
    tape_place: str = ""
    start_corner: str = "LF"
    direction: str = "clockwise"
    aim_rule: str = ""
    side_to_side: str = ""
    retorque_distance: str = ""
    theme: Theme = "day"
    bell: bool = True
    say_back: bool = False
    keys: Mapping[str, str] = field(default_factory=dict)

    def units_shown(self, read_in: BareUnit) -> UnitsShown:
        """The units in which a job is shown whose heights were read in this unit."""
        if self.units != "as read":
            return self.units
        return "inch" if read_in == "inch" else "metric"

    def job_facts(self) -> dict[str, str]:
        """What these settings state in a new job: names of facts and their texts, those not set left out."""
        facts = {
            "job.unit": "mm" if self.units == "metric" else "inch",
            "job.technician": self.technician,
            "job.start_corner": self.start_corner,
            "job.direction": self.direction,
            "tape.graduation": self.tape_graduation,
            "tape.place": self.tape_place,
            "lamps.rule": self.aim_rule,
            "limits.side_to_side": self.side_to_side,
            "service.retorque_distance": self.retorque_distance,
        }
        return {name: text for name, text in facts.items() if text}


@dataclass(frozen=True, slots=True)
class Setting:
    """One line of the settings file: its name is its field of `Settings`."""

    name: str
    kind: Kind
    choices: tuple[str, ...] = ()

    @property
    def about(self) -> str:
        """What it does, in the user's language."""
        return _about()[self.name]


SETTINGS: tuple[Setting, ...] = (
    Setting("units", "choice", ("as read", "inch", "metric", "both")),
    Setting("technician", "text"),
    Setting("language", "text"),
    Setting("tape_graduation", "graduation"),
    Setting("tape_place", "length"),
    Setting("start_corner", "choice", ("LF", "RF", "RR", "LR")),
    Setting("direction", "choice", ("clockwise", "anticlockwise")),
    Setting("aim_rule", "text"),
    Setting("side_to_side", "length"),
    Setting("retorque_distance", "text"),
    Setting("theme", "choice", ("day", "shop", "night")),
    Setting("bell", "flag"),
    Setting("say_back", "flag"),
)
"""Every setting but the keys, in the order of the file and of the settings screen."""

KEYS = "keys"


def _about() -> dict[str, str]:
    return {
        "units": tr("units shown: inch, metric, both, or as read; new jobs are read in inches unless this is metric"),
        "technician": tr("your initials; they stand beside everything you record"),
        "language": tr("language code such as de; empty takes the machine's"),
        "tape_graduation": tr('the finest marks of your tape, for example "1/16 in" or "1 mm"'),
        "tape_place": tr('how far two readings of one corner differ, as a standard deviation, for example "1/32 in"'),
        "start_corner": tr("the corner where the walk begins"),
        "direction": tr("which way round the vehicle, as seen from above"),
        "aim_rule": tr("the headlamp rule to begin with, by its id (cornerwalk rules lists them)"),
        "side_to_side": tr('the most two sides of an axle may differ, for example "12 mm"'),
        "retorque_distance": tr('after how far wheels and bolts are checked again, for example "500 miles"'),
        "theme": tr("day, shop or night"),
        "bell": tr("sound the bell when an entry is refused"),
        "say_back": tr("say each kept reading back in words"),
        KEYS: tr('another key for an action of the app, for example "job.undo" = "f8"'),
    }


def load_settings(path: Path) -> Settings:
    """The settings in a file; the defaults where there is no file.

    Raises:
        SettingsError: it cannot be read, or says something unknown or wrong. All problems are told, with their lines.
    """
    try:
        text = read_text_file(path)
    except FileError as error:
        if isinstance(error.__cause__, FileNotFoundError):
            return Settings()
        raise SettingsError(error.name, error.problems) from error
    return read_settings(text, name=str(path))


def read_settings(text: str, *, name: str) -> Settings:
    """The settings a TOML text holds; `name` is what messages call it.

    Raises:
        SettingsError: as `load_settings`.
    """
    try:
        toml = parse_toml(text)
    except TomlError as error:
        raise SettingsError(name, [error.problem]) from error
    problems = Problems(toml)
    known = (*(setting.name for setting in SETTINGS), KEYS)
    table = Table(toml.values, (), problems, known)
    stated = {setting.name: _value(table, setting) for setting in SETTINGS if setting.name in table}
    values: dict[str, Any] = {key: value for key, value in stated.items() if value is not None}
    keys = table.table(KEYS, tuple(toml.values.get(KEYS, ())) if isinstance(toml.values.get(KEYS), dict) else ())
    if keys is not None:
        values[KEYS] = {action: key for action in keys.values if (key := keys.text(action)) is not None}
    if problems.found:
        raise SettingsError(name, problems.found)
    return Settings(**values)


def _value(table: Table, setting: Setting) -> str | bool | None:
    match setting.kind:
        case "flag":
            return table.flag(setting.name)
        case "choice":
            return table.choice(setting.name, setting.choices)
        case "length":
            from cornerwalk.quantity import read_length

            return _kept(table, setting.name, read_length)
        case "graduation":
            from cornerwalk.quantity import read_graduation

            return _kept(table, setting.name, read_graduation)
        case "text":
            return table.text(setting.name)


def _kept(table: Table, key: str, reader: Callable[[str], object]) -> str | None:
    """The text itself, once `reader` has understood it."""
    return table.text(key) if table.read(key, reader) is not None else None


def save_settings(path: Path, settings: Settings) -> None:
    """Write the settings, each with a comment that says what it does.

    Raises:
        SettingsError: the file there now holds a mistake, so writing would lose what its owner meant; or one of the
            new values is wrong.
        OSError: it cannot be written.
    """
    load_settings(path)
    text = settings_text(settings)
    if read_settings(text, name=str(path)) != settings:
        raise SettingsError(
            str(path), [Problem(None, "these settings could not be written down without changing them")]
        )
    replace_text_file(path, text)


def settings_text(settings: Settings) -> str:
    """The settings as TOML. What is not set stands as a comment, ready to be filled in."""
    lines = ["# " + tr("Settings of cornerwalk. A line that begins with # is not read."), ""]
    for setting in SETTINGS:
        value = getattr(settings, setting.name)
        lines += [f"# {setting.about}", f"{'' if value != '' else '# '}{setting.name} = {_toml(value)}", ""]
    lines += [f"# {_about()[KEYS]}", f"[{KEYS}]"]
    lines += [f"{_toml(action)} = {_toml(key)}" for action, key in settings.keys.items()]
    return "\n".join(lines) + "\n"


def _toml(value: str | bool) -> str:  # noqa: FBT001 - a value to write, not a switch
    return toml_string(value) if isinstance(value, str) else str(value).lower()
