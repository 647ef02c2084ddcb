"""TOML text: parsing with the line of each key, which the standard library's parser does not give, and output."""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any, LiteralString, NamedTuple

from cornerwalk.textfiles.problems import Problem

LONGEST_LINE = 5_000
"""In characters. The standard parser's time for a dotted key grows with the square of its parts."""

KeyPath = tuple[str | int, ...]
"""The path of a value: keys, and indexes for the members of `[[…]]`."""


class TomlError(ValueError):
    """The text is not TOML; `problem` says where."""

    def __init__(self, problem: Problem) -> None:
        super().__init__(problem)
        self.problem = problem


@dataclass(frozen=True, slots=True)
class TomlNumber:
    """A decimal number as it was written, so that it can be recorded and shown as such."""

    text: str


@dataclass(frozen=True, slots=True)
class TomlText:
    """A parsed TOML text: its values, and the lines of its keys."""

    values: dict[str, Any]
    lines: dict[KeyPath, int] = field(repr=False)

    def line(self, path: KeyPath) -> int:
        """The line of this key, or of the nearest enclosing key or table."""
        while path and path not in self.lines:
            path = path[:-1]
        return self.lines.get(path, 1)


def parse_toml(text: str) -> TomlText:
    """Parse a TOML text. Decimal numbers become `TomlNumber`.

    Raises:
        TomlError: it is not TOML, is nested too deeply, or has a lone surrogate.
    """
    _refuse_hostile(text)
    try:
        values = tomllib.loads(text, parse_float=TomlNumber)
    except RecursionError as error:
        raise TomlError(Problem(None, "it is nested too deeply")) from error
    except ValueError as error:  # a syntax error, or a number of thousands of digits
        raise TomlError(_syntax_problem(text, str(error))) from error

    return TomlText(values, dict(key_lines(text)))


def _refuse_hostile(text: str) -> None:
    """Raise TomlError for what no editor writes: a lone surrogate, or a line that would take the parser hours."""
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
        return Problem(len(lines) if at_end else None, _syntax_words(reason).whole, {"reason": reason})
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
    words = _syntax_words(place["reason"])
    return Problem(number, words.at_column, {"column": place["column"], "reason": place["reason"]})


class _SyntaxWords(NamedTuple):
    whole: LiteralString
    at_column: LiteralString


def _syntax_words(reason: str) -> _SyntaxWords:
    """The parser's reason in our words if it is a common one, without and with its column."""
    if reason == "Cannot overwrite a value":
        return _SyntaxWords("this key appears twice", "column {column}: this key appears twice")
    if reason.startswith("Cannot declare"):
        return _SyntaxWords("this table appears twice", "column {column}: this table appears twice")
    return _SyntaxWords("this is not TOML: {reason}", "column {column}: this is not TOML: {reason}")


# ---- line numbers of keys ----


_SKIP = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")
_BLANK = re.compile(r"[ \t]*")
_KEY_PART = re.compile(r"""[A-Za-z0-9_-]+|"(?:[^"\\\n]|\\.)*"|'[^'\n]*'""")
_VALUE_PIECE = re.compile(
    r'''"""(?:[^\\]|\\.)*?"{3,5}|\'\'\'.*?\'{3,5}|"(?:[^"\\\n]|\\.)*"|'[^'\n]*'|[\[{]|[\]}]|\#[^\n]*|\n|[^"'\[\]{}\#\n]+''',
    re.DOTALL,
)


def key_lines(text: str) -> Iterator[tuple[KeyPath, int]]:
    """Every key and table with a statement of its own, and its line. The text must be valid TOML."""
    table: KeyPath = ()
    members: dict[KeyPath, int] = {}
    lines = _LineCounter(text)
    at = _SKIP.match(text, 0).end()  # type: ignore[union-attr]  # it matches the empty text too
    while at < len(text):
        line = lines.at(at)
        brackets = 2 if text.startswith("[[", at) else 1 if text[at] == "[" else 0
        keys, at = _keys(text, at + brackets)
        if brackets == 2:
            outer = _through_members(keys[:-1], members)
            array = (*outer, keys[-1])
            if array not in members:
                yield array, line
            members[array] = members.get(array, -1) + 1
            table = (*array, members[array])
            yield table, line
        elif brackets == 1:
            table = _through_members(keys, members)
            yield table, line
        else:
            yield (*table, *keys), line
        at = _end_of_statement(text, at)
        at = _SKIP.match(text, at).end()  # type: ignore[union-attr]


class _LineCounter:
    """Line numbers of positions that are asked for in rising order."""

    def __init__(self, text: str) -> None:
        self._text = text
        self._at = 0
        self._line = 1

    def at(self, place: int) -> int:
        self._line += self._text.count("\n", self._at, place)
        self._at = place
        return self._line


def _keys(text: str, at: int) -> tuple[KeyPath, int]:
    keys: list[str] = []
    while True:
        at = _BLANK.match(text, at).end()  # type: ignore[union-attr]
        part = _KEY_PART.match(text, at)
        if part is None:
            return tuple(keys), at
        keys.append(_plain_key(part[0]))
        at = _BLANK.match(text, part.end()).end()  # type: ignore[union-attr]
        if not text.startswith(".", at):
            return tuple(keys), at
        at += 1


def _plain_key(part: str) -> str:
    if part[0] not in "\"'":
        return part
    return next(iter(tomllib.loads(f"{part} = 0")))


def _through_members(keys: KeyPath, members: dict[KeyPath, int]) -> KeyPath:
    """The path of a table, through the latest member of every `[[…]]` on the way."""
    path: KeyPath = ()
    for key in keys:
        path = (*path, key)
        if path in members:
            path = (*path, members[path])
    return path


def _end_of_statement(text: str, at: int) -> int:
    """The end of a statement; a value may span several lines."""
    depth = 0
    while at < len(text):
        piece = _VALUE_PIECE.match(text, at)
        if piece is None:
            return len(text)
        at = piece.end()
        if piece[0] in ("[", "{"):
            depth += 1
        elif piece[0] in ("]", "}"):
            depth -= 1
        elif piece[0] == "\n" and depth <= 0:
            return at
    return at


# ---- TOML output ----


def toml_string(text: str) -> str:
    r"""The text as a TOML basic string, with its quotes.

    >>> print(toml_string('28 5/8" \\ é'))
    "28 5/8\" \\ é"
    """
    # A JSON string is a TOML string too, except for one character that TOML wants escaped.
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")
