"""The keys of the settings page."""

from __future__ import annotations

from cornerwalk.tui.key import Key

SETTINGS_KEYS: tuple[Key, ...] = (
    Key(
        id="settings.enter",
        keys="enter",
        label="keep, next",
        what="keep what is typed, go to the next setting",
        place="settings",
        rank=1,
    ),
    Key(
        id="settings.earlier",
        keys="up",
        label="setting",
        what="the setting above",
        place="settings",
        rank=2,
        badge="↑↓",
    ),
    Key(id="settings.later", keys="down", label="setting", what="the setting below", place="settings"),
    Key(
        id="settings.earlier-group",
        keys="pageup",
        label="heading",
        what="the heading above",
        place="settings",
        rank=6,
        badge="PgUp PgDn",
    ),
    Key(id="settings.later-group", keys="pagedown", label="heading", what="the heading below", place="settings"),
    Key(
        id="settings.read-on",
        keys="shift+down,ctrl+down",
        label="read on",
        what="scroll down in a small window",
        place="settings",
    ),
    Key(
        id="settings.read-back",
        keys="shift+up,ctrl+up",
        label="read back",
        what="scroll up in a small window",
        place="settings",
    ),
    Key(
        id="settings.undo",
        keys="f2,ctrl+z",
        label="undo",
        what="take the last change of a setting back",
        place="settings",
        rank=4,
    ),
    Key(
        id="settings.redo",
        keys="shift+f2,f14,ctrl+y",
        label="redo",
        what="bring back the change that undo took",
        place="settings",
    ),
    Key(
        id="settings.default",
        keys="f7",
        label="default",
        what="this setting as it was at first",
        place="settings",
        rank=5,
    ),
)
