"""The technician's settings, one TOML file, never written over while it cannot be read."""

from cornerwalk.settings.definitions import (
    BY_NAME,
    KEYS,
    SETTINGS,
    Setting,
    SettingRefused,
    choice_words,
    group_name,
    holds_from,
    said,
)
from cornerwalk.settings.file import (
    KeyCheck,
    KeyMistake,
    SettingsError,
    SettingsInUse,
    any_keys,
    change_settings,
    load_settings,
    read_settings,
    settings_text,
)
from cornerwalk.settings.model import Settings, Theme, UnitsShown
from cornerwalk.settings.parsing import KEY_PREFIX, changes_for, setting_value, stated

__all__ = [
    "BY_NAME",
    "KEYS",
    "KEY_PREFIX",
    "SETTINGS",
    "KeyCheck",
    "KeyMistake",
    "Setting",
    "SettingRefused",
    "Settings",
    "SettingsError",
    "SettingsInUse",
    "Theme",
    "UnitsShown",
    "any_keys",
    "change_settings",
    "changes_for",
    "choice_words",
    "group_name",
    "holds_from",
    "load_settings",
    "read_settings",
    "said",
    "setting_value",
    "settings_text",
    "stated",
]
