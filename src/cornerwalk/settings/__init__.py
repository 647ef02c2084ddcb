"""Settings of the technician, kept in one TOML file that is never overwritten while it cannot be read."""

from cornerwalk.settings.definitions import (
    KEYS_TABLE,
    SETTING_BY_NAME,
    SETTINGS,
    Setting,
    SettingValueError,
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
    "effect_text",
    "group_name",
    "load_settings",
    "read_settings",
    "setting_text",
    "setting_value",
    "settings_text",
    "value_text",
]
