"""The technician's settings, one TOML file, never written over while it cannot be read."""

from cornerwalk.settings.definitions import (
    KEYS_TABLE,
    SETTING_BY_NAME,
    SETTINGS,
    Setting,
    SettingValueError,
    choice_labels,
    effect_text,
    group_name,
    value_text,
)
from cornerwalk.settings.file import (
    ActiveSettings,
    KeyCheck,
    KeyProblem,
    SettingsError,
    accept_all_keys,
    change_settings,
    load_settings,
    read_settings,
    settings_text,
)
from cornerwalk.settings.model import DisplayUnits, Settings, Theme
from cornerwalk.settings.parsing import KEY_PREFIX, changes_for, setting_text, setting_value

__all__ = [
    "KEYS_TABLE",
    "KEY_PREFIX",
    "SETTINGS",
    "SETTING_BY_NAME",
    "ActiveSettings",
    "DisplayUnits",
    "KeyCheck",
    "KeyProblem",
    "Setting",
    "SettingValueError",
    "Settings",
    "SettingsError",
    "Theme",
    "accept_all_keys",
    "change_settings",
    "changes_for",
    "choice_labels",
    "effect_text",
    "group_name",
    "load_settings",
    "read_settings",
    "setting_text",
    "setting_value",
    "settings_text",
    "value_text",
]
