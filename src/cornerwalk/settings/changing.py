"""What typing a text for a setting would change, for every place where settings are changed."""

from __future__ import annotations

import difflib
from collections.abc import Mapping
from typing import Any

from cornerwalk.settings.reading import setting_value
from cornerwalk.settings.register import BY_NAME, KEYS, SettingRefused, said
from cornerwalk.settings.values import Settings

KEY_PREFIX = f"{KEYS}."


def changes_for(settings: Settings, name: str, text: str) -> Mapping[str, Any]:
    """The values, by name of the setting, that a text typed for one changes; an empty text means the default.

    Args:
        settings: as they are.
        name: of a setting, or `keys.` and the id of an action.
        text: what is typed.

    Raises:
        SettingRefused: there is no such setting, or it does not take this text.
        QuantityError: it is no quantity of the kind wanted.
    """
    if name.startswith(KEY_PREFIX):
        action = name.removeprefix(KEY_PREFIX)
        others = {other: key for other, key in settings.keys.items() if other != action}
        return {KEYS: others | ({action: text.strip()} if text.strip() else {})}
    setting = BY_NAME.get(name)
    if setting is None:
        nearest = difflib.get_close_matches(name, BY_NAME, n=1)
        if nearest:
            raise SettingRefused("there is no setting {name}; did you mean {nearest}?", name=name, nearest=nearest[0])
        raise SettingRefused("there is no setting {name}; there are {choices}", name=name, choices=", ".join(BY_NAME))
    return {name: setting_value(setting, text)}


def stated(settings: Settings, name: str) -> str:
    """What a setting is, in words; "" where it is not set."""
    return said(getattr(settings, name))
