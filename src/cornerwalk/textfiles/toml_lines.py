"""On which line each key of a TOML text stands. The text has been parsed: only statements need to be told apart."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator

from cornerwalk.textfiles.toml_text import KeyPath

_SKIP = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")
_BLANK = re.compile(r"[ \t]*")
_KEY_PART = re.compile(r"""[A-Za-z0-9_-]+|"(?:[^"\\\n]|\\.)*"|'[^'\n]*'""")
_VALUE_PIECE = re.compile(
    r'''"""(?:[^\\]|\\.)*?"{3,5}|\'\'\'.*?\'{3,5}|"(?:[^"\\\n]|\\.)*"|'[^'\n]*'|[\[{]|[\]}]|\#[^\n]*|\n|[^"'\[\]{}\#\n]+''',
    re.DOTALL,
)


def key_lines(text: str) -> Iterator[tuple[KeyPath, int]]:
    """Every key and table that has a statement of its own, and its line. The text is known to be TOML."""
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
    """Line numbers of places that are asked for in rising order."""

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
    """The path of a table, stepping into the latest member of every `[[…]]` on the way."""
    path: KeyPath = ()
    for key in keys:
        path = (*path, key)
        if path in members:
            path = (*path, members[path])
    return path


def _end_of_statement(text: str, at: int) -> int:
    """Where the line of a statement ends; a value may go on over several lines."""
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
