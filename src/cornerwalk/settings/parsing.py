"""Setting parser: typed text → value, the same for the file, the settings page and the command line."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from cornerwalk.settings.definitions import KEYS_TABLE, SETTING_BY_NAME, Kind, Setting, SettingValueError, value_text
from cornerwalk.settings.model import Settings


def setting_value(setting: Setting, text: str) -> str | bool:
    """The value of a typed text; the default if it is empty.

    Raises:
        SettingValueError: it is none of the choices, not a full path, or not a language of the program.
        QuantityError: it is not a quantity of the right kind.
    """
    typed = text.strip()
    if not typed:
        return setting.default
    match setting.kind:
        case "flag":
            return _flag(typed)
        case "choice":
            return _choice(setting, typed)
        case "folder":
            return _folder(typed)
        case _:
            check_text(setting, typed)
            return typed


def check_text(setting: Setting, text: str) -> None:
    """Raise as `setting_value` does if the setting does not take this text, which is stored as typed."""
    if setting.kind == "folder":
        _folder(text)
    elif setting.name == "language":
        _language(text)
    elif setting.kind in ("length", "graduation", "altitude", "pressure", "percent"):
        _reader(setting.kind)(text)


def _reader(kind: Kind) -> Callable[[str], object]:
    from cornerwalk.quantity import read_altitude, read_graduation, read_length, read_percent, read_pressure

    readers: dict[Kind, Callable[[str], object]] = {
        "length": read_length,
        "graduation": read_graduation,
        "altitude": read_altitude,
        "pressure": lambda text: read_pressure(text, bare=None),
        "percent": read_percent,
    }
    return readers[kind]


def _flag(typed: str) -> bool:
    from cornerwalk.words import tr

    yes, no = ("yes", "true", "on", tr("yes").casefold()), ("no", "false", "off", tr("no").casefold())
    if typed.casefold() in yes:
        return True
    if typed.casefold() in no:
        return False
    raise SettingValueError('"{text}": this is yes or no', text=typed)


def _choice(setting: Setting, typed: str) -> str:
    for choice in setting.choices:
        if typed.casefold() in (choice.casefold(), value_text(choice).casefold()):
            return choice
    raise SettingValueError('"{text}" is not one of: {choices}', text=typed, choices=", ".join(setting.choices))


def _folder(typed: str) -> str:
    """A folder by its full path: a relative one would depend on where the program is started."""
    if not (typed.startswith("~") or Path(typed).is_absolute()):
        raise SettingValueError('"{text}": give the whole path, from the root of the disk or from ~', text=typed)
    return typed


def _language(typed: str) -> None:
    from cornerwalk.words import languages

    known = languages()
    if typed.replace("-", "_").partition("_")[0].casefold() not in known and typed not in known:
        raise SettingValueError('"{text}": the program speaks {choices}', text=typed, choices=", ".join(known))


# ---- changes by typed text ----


KEY_PREFIX = f"{KEYS_TABLE}."


def changes_for(settings: Settings, name: str, text: str) -> Mapping[str, Any]:
    """The changes, by setting name, that a typed text makes; an empty text means the default.

    Args:
        settings: as they are now.
        name: a setting's name, or `keys.` and the id of an action.
        text: as typed.

    Raises:
        SettingValueError: there is no such setting, or it does not take this text.
        QuantityError: it is not a quantity of the right kind.
    """
    if name.startswith(KEY_PREFIX):
        action = name.removeprefix(KEY_PREFIX)
        others = {other: key for other, key in settings.keys.items() if other != action}
        return {KEYS_TABLE: others | ({action: text.strip()} if text.strip() else {})}
    setting = SETTING_BY_NAME.get(name)
    if setting is None:
        nearest = difflib.get_close_matches(name, SETTING_BY_NAME, n=1)
        if nearest:
            raise SettingValueError(
                "there is no setting {name}; did you mean {nearest}?", name=name, nearest=nearest[0]
            )
        raise SettingValueError(
            "there is no setting {name}; there are {choices}", name=name, choices=", ".join(SETTING_BY_NAME)
        )
    return {name: setting_value(setting, text)}


def setting_text(settings: Settings, name: str) -> str:
    """A setting's value in the user's language; "" if it is not set."""
    return value_text(getattr(settings, name))
