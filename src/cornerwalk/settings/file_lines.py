"""One line of a settings file changed, every other one and its comments as they were.

A statement over several lines, or a key written in a way of its own, is left alone; whoever calls reads the text back
and so notices.
"""

from __future__ import annotations

import re

from cornerwalk.settings.register import KEYS
from cornerwalk.textfiles.toml_lines import key_lines
from cornerwalk.textfiles.toml_out import toml_string
from cornerwalk.textfiles.toml_text import KeyPath

_STATEMENT = re.compile(
    r"""(?P<before>\s*(?:[\w-]+|"(?:[^"\\]|\\.)*"|'[^']*')\s*=\s*)"""
    r"""(?P<value>"(?:[^"\\]|\\.)*"|'[^']*'|true|false)(?P<after>\s*(?:\#.*)?)"""
)


def with_value(text: str, name: str, value: str) -> str:
    """The text with this setting stated as `value`, which is TOML."""
    lines = text.split("\n")
    place = _place(text, (name,))
    if place is not None:
        lines[place] = _restated(lines[place], value)
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


def with_key(text: str, action: str, value: str | None) -> str:
    """The text with this key for an action, as TOML; None takes the line out, or empties it where it has a comment."""
    lines = text.split("\n")
    place = _place(text, (KEYS, action))
    if place is not None:
        if value is None and "#" not in lines[place].partition("=")[2]:
            del lines[place]
        else:
            lines[place] = _restated(lines[place], value if value is not None else '""')
    elif value is not None:
        table = _place(text, (KEYS,))
        if table is None:
            while lines and not lines[-1].strip():
                del lines[-1]
            lines += ["", f"[{KEYS}]", ""]
            table = len(lines) - 2
        lines.insert(table + 1, f"{toml_string(action)} = {value}")
    return "\n".join(lines)


def _restated(line: str, value: str) -> str:
    statement = _STATEMENT.fullmatch(line)
    return line if statement is None else f"{statement['before']}{value}{statement['after']}"


def _place(text: str, path: KeyPath) -> int | None:
    """The line, from 0, on which this key is stated."""
    return next((line - 1 for found, line in key_lines(text) if found == path), None)


def _place_of_first_table(lines: list[str]) -> int:
    return next((place for place, line in enumerate(lines) if line.lstrip().startswith("[")), len(lines))
