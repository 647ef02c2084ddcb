"""Settings file: strict reading, every mistake with its line; edits line by line, so that comments survive."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any, LiteralString

from cornerwalk.settings.definitions import KEYS_TABLE, SETTINGS, Setting, keys_help
from cornerwalk.settings.model import Settings
from cornerwalk.settings.parsing import check_text
from cornerwalk.textfiles import (
    FileError,
    Problem,
    Problems,
    TextFileError,
    TomlError,
    TomlTable,
    parse_toml,
    read_text_file,
    replace_text_file,
)
from cornerwalk.textfiles.toml_text import KeyPath, key_lines, toml_string
from cornerwalk.words import tr

_WIDTH = 100
"""Columns of a comment in the file."""


class SettingsError(TextFileError):
    """The settings file has a mistake. None of it is used, and it is left as it is."""


@dataclass(frozen=True, slots=True)
class KeyProblem:
    """What is wrong with the key that the user set for an action: an English template and its fields."""

    action: str
    template: LiteralString
    fields: Mapping[str, object] = field(default_factory=dict)


KeyCheck = Callable[[Mapping[str, str]], Iterable[KeyProblem]]
"""Finds what is wrong with the keys in the settings. The app passes it in, since only the app knows its actions."""


def accept_all_keys(_keys: Mapping[str, str]) -> Iterable[KeyProblem]:
    """Accept every key."""
    return ()


def load_settings(path: Path, check_keys: KeyCheck = accept_all_keys) -> Settings:
    """The settings in a file; the defaults if there is no file.

    Raises:
        SettingsError: it cannot be read, or something in it is unknown or wrong. Lists every problem with its line.
    """
    return read_settings(_text_of(path), name=str(path), check_keys=check_keys)


def _text_of(path: Path) -> str:
    try:
        return read_text_file(path)
    except FileError as error:
        if isinstance(error.__cause__, FileNotFoundError):
            return ""
        raise SettingsError(error.name, error.problems) from error


def read_settings(text: str, *, name: str, check_keys: KeyCheck = accept_all_keys) -> Settings:
    """The settings a TOML text holds; `name` is what messages call it.

    Raises:
        SettingsError: as `load_settings`.
    """
    try:
        toml = parse_toml(text)
    except TomlError as error:
        raise SettingsError(name, [error.problem]) from error
    problems = Problems(toml)
    known = (*(setting.name for setting in SETTINGS), KEYS_TABLE)
    table = TomlTable(toml.values, (), problems, known)
    stated = {setting.name: _value(table, setting) for setting in SETTINGS if setting.name in table}
    values: dict[str, Any] = {key: value for key, value in stated.items() if value is not None}
    keys = table.table(
        KEYS_TABLE, tuple(toml.values.get(KEYS_TABLE, ())) if isinstance(toml.values.get(KEYS_TABLE), dict) else ()
    )
    if keys is not None:
        values[KEYS_TABLE] = {action: key for action in keys.values if (key := keys.text(action)) is not None}
        for mistake in check_keys(values[KEYS_TABLE]) if values[KEYS_TABLE] else ():
            keys.wrong(mistake.action, mistake.template, **mistake.fields)
    if problems.found:
        raise SettingsError(name, problems.found)
    return Settings(**values)


def _value(table: TomlTable, setting: Setting) -> str | bool | None:
    if setting.kind == "flag":
        return table.flag(setting.name)
    if setting.kind == "choice":
        return table.choice(setting.name, setting.choices)
    text = table.text(setting.name)
    if text is not None:
        table.parse(setting.name, text, lambda typed: check_text(setting, typed))
    return text


def change_settings(path: Path, changes: Mapping[str, Any], check_keys: KeyCheck = accept_all_keys) -> Settings:
    """Change some settings in the file, which is created if missing; everything else in it stays, comments too.

    Args:
        path: the settings file.
        changes: new values by setting name; `keys` as the whole table.
        check_keys: as for `load_settings`.

    Returns:
        The settings as the file now has them.

    Raises:
        SettingsError: the file has a mistake, so that writing would lose what its owner meant; a new value is wrong;
            or the file's layout does not allow a change line by line.
        OSError: it cannot be written.
    """
    text = _text_of(path)
    wanted = replace(read_settings(text, name=str(path), check_keys=check_keys), **changes)
    changed = text or settings_text(Settings())
    for name, value in changes.items():
        if name != KEYS_TABLE:
            changed = set_value(changed, name, _toml(value))
        else:
            before = read_settings(changed, name=str(path)).keys
            for action in dict.fromkeys((*before, *value)):
                if before.get(action) != value.get(action):
                    changed = set_key(changed, action, _toml(value[action]) if action in value else None)
    if read_settings(changed, name=str(path), check_keys=check_keys) != wanted:
        said = "it is written in a way that cannot be changed here without losing something: change it in an editor"
        raise SettingsError(str(path), [Problem(None, said)])
    replace_text_file(path, changed)
    return wanted


def settings_text(settings: Settings) -> str:
    """The settings as TOML, each with its help as a comment. What is not set is commented out, ready to fill in."""
    lines = ["# " + tr("Settings of cornerwalk. A line that starts with # is not read."), ""]
    for setting in SETTINGS:
        value = getattr(settings, setting.name)
        choices = f" ({', '.join(setting.choices)})" if setting.choices else ""
        lines += _comment(f"{setting.about}{choices}")
        lines += [f"{'' if value != '' else '# '}{setting.name} = {_toml(value)}", ""]
    lines += [*_comment(keys_help()), f"[{KEYS_TABLE}]"]
    lines += [f"{_toml(action)} = {_toml(key)}" for action, key in settings.keys.items()]
    return "\n".join(lines) + "\n"


def _comment(text: str) -> list[str]:
    return textwrap.wrap(text, _WIDTH, initial_indent="# ", subsequent_indent="# ", break_long_words=False)


def _toml(value: str | bool) -> str:  # noqa: FBT001 - a value to write, not a switch
    return toml_string(value) if isinstance(value, str) else str(value).lower()


# ---- line edits ----
#
# A statement over several lines, or a key in an unusual notation, is left alone; the caller reads the text back and so
# notices.

_STATEMENT = re.compile(
    r"""(?P<before>\s*(?:[\w-]+|"(?:[^"\\]|\\.)*"|'[^']*')\s*=\s*)"""
    r"""(?P<value>"(?:[^"\\]|\\.)*"|'[^']*'|true|false)(?P<after>\s*(?:\#.*)?)"""
)


def set_value(text: str, name: str, value: str) -> str:
    """The text with this setting set to `value`, which is TOML."""
    lines = text.split("\n")
    place = _place(text, (name,))
    if place is not None:
        lines[place] = _replace_value(lines[place], value)
        return "\n".join(lines)
    head = _place_of_first_table(lines)
    for place in range(head):
        if re.fullmatch(rf"#\s*{re.escape(name)}\s*=.*", lines[place].strip()):
            lines[place] = f"{name} = {value}"
            return "\n".join(lines)
    while head and lines[head - 1].strip().startswith("#"):
        head -= 1  # a comment right above a table is about the table
    while head and not lines[head - 1].strip():
        head -= 1
    lines.insert(head, f"{name} = {value}")
    return "\n".join(lines)


def set_key(text: str, action: str, value: str | None) -> str:
    """The text with this key for an action, as TOML; None removes the line, or empties it if it has a comment."""
    lines = text.split("\n")
    place = _place(text, (KEYS_TABLE, action))
    if place is not None:
        if value is None and "#" not in lines[place].partition("=")[2]:
            del lines[place]
        else:
            lines[place] = _replace_value(lines[place], value if value is not None else '""')
    elif value is not None:
        table = _place(text, (KEYS_TABLE,))
        if table is None:
            while lines and not lines[-1].strip():
                del lines[-1]
            lines += ["", f"[{KEYS_TABLE}]", ""]
            table = len(lines) - 2
        lines.insert(table + 1, f"{toml_string(action)} = {value}")
    return "\n".join(lines)


def _replace_value(line: str, value: str) -> str:
    statement = _STATEMENT.fullmatch(line)
    return line if statement is None else f"{statement['before']}{value}{statement['after']}"


def _place(text: str, path: KeyPath) -> int | None:
    """The index of the line that sets this key."""
    return next((line - 1 for found, line in key_lines(text) if found == path), None)


def _place_of_first_table(lines: list[str]) -> int:
    return next((place for place, line in enumerate(lines) if line.lstrip().startswith("[")), len(lines))


# ---- settings in use ----


class ActiveSettings:
    """The settings of this run: read from the file once; a change is written to the file before it takes effect.

    Attributes:
        path: the settings file; it need not exist.
        saved: the settings in the file, or the defaults if it cannot be read.
        problem: why the file was not used. While there is a problem, the file is not written.
        overrides: values for this run only, by name, such as `--units` before a command. They are never saved.
    """

    def __init__(
        self,
        path: Path,
        saved: Settings | None = None,
        *,
        problem: SettingsError | None = None,
        overrides: Mapping[str, Any] | None = None,
        check_keys: KeyCheck = accept_all_keys,
    ) -> None:
        self.path = path
        self.saved = saved if saved is not None else Settings()
        self.problem = problem
        self.overrides = dict(overrides or {})
        self._check_keys = check_keys

    @classmethod
    def from_file(cls, path: Path, check_keys: KeyCheck = accept_all_keys) -> ActiveSettings:
        """The settings of a file, or the defaults and the problem."""
        try:
            return cls(path, load_settings(path, check_keys), check_keys=check_keys)
        except SettingsError as error:
            return cls(path, problem=error, check_keys=check_keys)

    @property
    def current(self) -> Settings:
        """The settings of this run: what is saved, with the overrides."""
        return replace(self.saved, **self.overrides) if self.overrides else self.saved

    def save(self, changes: Mapping[str, Any]) -> None:
        """Save these values, by name. An override of the same name ends.

        Raises:
            SettingsError: the file has a mistake, or a value is wrong; nothing was written.
            OSError: it cannot be written.
        """
        self.saved = change_settings(self.path, changes, self._check_keys)
        self.problem = None
        self.overrides = {name: value for name, value in self.overrides.items() if name not in changes}
