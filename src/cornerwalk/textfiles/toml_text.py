"""TOML with the line on which each key stands, which the parser of the standard library does not tell."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import Any

from cornerwalk.textfiles.problems import Problem

LONGEST_LINE = 5_000
"""Characters. The standard parser's time for a dotted key grows with the square of its parts."""

KeyPath = tuple[str | int, ...]
"""Where a value stands: keys, and numbers from 0 for the members of `[[…]]`."""


class TomlError(ValueError):
    """The text is no TOML; `problem` says where."""

    def __init__(self, problem: Problem) -> None:
        super().__init__(problem)
        self.problem = problem


@dataclass(frozen=True, slots=True)
class Number:
    """A number with a point as it was written, so that it can be recorded and shown as such."""

    text: str


@dataclass(frozen=True, slots=True)
class TomlText:
    """A parsed text: its values, and the lines of its keys."""

    values: dict[str, Any]
    lines: dict[KeyPath, int] = field(repr=False)

    def line(self, path: KeyPath) -> int:
        """The line of this key, or of the nearest thing around it that has one."""
        while path and path not in self.lines:
            path = path[:-1]
        return self.lines.get(path, 1)


def parse_toml(text: str) -> TomlText:
    """Values and lines of a TOML text. Numbers with a point come as `Number`.

    Raises:
        TomlError: it is not TOML, is nested beyond all use, or holds half a character.
    """
    import tomllib

    _refuse_hostile(text)
    try:
        values = tomllib.loads(text, parse_float=Number)
    except RecursionError as error:
        raise TomlError(Problem(None, "it is nested too deeply")) from error
    except ValueError as error:  # a syntax error, or a number of thousands of digits
        raise TomlError(_syntax_problem(text, str(error))) from error
    from cornerwalk.textfiles.toml_lines import key_lines

    return TomlText(values, dict(key_lines(text)))


def _refuse_hostile(text: str) -> None:
    """Raise TomlError for what no editor writes: half a character, or a line on which the parser would spend hours."""
    half = re.search("[\ud800-\udfff]", text)
    if half is not None:
        raise TomlError(Problem(text.count("\n", 0, half.start()) + 1, "there is half a character in this line"))
    for number, line in enumerate(text.split("\n"), 1):
        if len(line) > LONGEST_LINE:
            fields = {"count": len(line), "most": LONGEST_LINE}
            raise TomlError(Problem(number, "a line of {count} characters is too long; the most is {most}", fields))


_PLACE = r"(?s)^(?P<reason>.*?) \(at line (?P<line>\d+), column (?P<column>\d+)\)$"
_ENDLESS_NUMBER = r"[\d_]{4000}"
_UNQUOTED = r"""^\s*(?P<key>[\w.-]+)\s*=\s*(?P<value>[^"'\[{#\s][^"'#]*?)\s*(?:\#.*)?$"""
_INCH_MARK = r"""^\s*(?P<key>[\w.-]+)\s*=\s*"(?P<value>[^"]*"[^"]*)"\s*(?:\#.*)?$"""


def _syntax_problem(text: str, message: str) -> Problem:
    place = re.match(_PLACE, message)
    lines = text.split("\n")
    endless = re.search(_ENDLESS_NUMBER, text)
    if place is None and endless is not None:
        return Problem(text.count("\n", 0, endless.start()) + 1, "there is a number of thousands of digits")
    if place is None:
        reason, at_end, _ = message.partition(" (at end of document)")
        return Problem(len(lines) if at_end else None, *_worded(reason))
    number = int(place["line"])
    written = lines[number - 1] if number <= len(lines) else ""
    inch_mark = re.match(_INCH_MARK, written)
    if inch_mark is not None:
        return Problem(
            number,
            "an inch mark inside \" quotes ends the text: write {key} = '{value}'",
            {"key": inch_mark["key"], "value": inch_mark["value"]},
        )
    unquoted = re.match(_UNQUOTED, written)
    if unquoted is not None:
        return Problem(
            number,
            'a value stands in quotes, as you would type it: {key} = "{value}"',
            {"key": unquoted["key"], "value": unquoted["value"]},
        )
    template, fields = _worded(place["reason"])
    return Problem(number, "column {column}: " + template, {"column": place["column"], **fields})


def _worded(reason: str) -> tuple[str, dict[str, object]]:
    """The parser's reason in our words where it is a usual one."""
    if reason == "Cannot overwrite a value":
        return "this key stands twice", {}
    if reason.startswith("Cannot declare"):
        return "this table stands twice", {}
    return "this is not TOML: {reason}", {"reason": reason}
