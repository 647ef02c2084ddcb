"""TOML table: typed access to the keys of a table; every problem is collected with its line, none is raised."""

from __future__ import annotations

import difflib
import unicodedata
from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, time
from typing import Any, LiteralString, Protocol, TypeVar, runtime_checkable

from cornerwalk.textfiles.problems import Problem
from cornerwalk.textfiles.toml_text import KeyPath, TomlNumber, TomlText

LONGEST_TEXT = 2_000
"""Characters of one text; nobody writes a longer note by hand."""

_LONGEST_SHOWN = 60
_MAX_CHOICES_SHOWN = 20

_TURNS_DIRECTION = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
"""Characters that reverse the direction of the text after them, so that it shows something else than it says."""

T = TypeVar("T")


@runtime_checkable
class Refusal(Protocol):
    """An error with an English template and its {named} fields that says what is wrong with a text."""

    @property
    def template(self) -> str:
        """The sentence."""

    @property
    def fields(self) -> Mapping[str, object]:
        """Its fields."""


@dataclass(slots=True)
class Problems:
    """The problems found so far in a TOML text."""

    toml: TomlText
    found: list[Problem] = field(default_factory=list)
    _told: set[tuple[int, str, str]] = field(default_factory=set)

    def add(self, path: KeyPath, template: LiteralString, /, **fields: object) -> None:
        """Add a problem at `path`, shown with its last key."""
        keys = [key for key in path if isinstance(key, str)]
        self._tell(path, keys[-1] if keys else "", template, fields)

    def add_unnamed(self, path: KeyPath, template: LiteralString, /, **fields: object) -> None:
        """Add a problem at `path` whose text names what it is about."""
        self._tell(path, "", template, fields)

    def _tell(self, path: KeyPath, key: str, template: LiteralString, fields: Mapping[str, object]) -> None:
        line = self.toml.line(path)
        if (line, key, template) not in self._told:
            self._told.add((line, key, template))
            self.found.append(Problem(line, template, fields, key))


class TomlTable:
    """A table. A key that is not in `known` is a problem at once. Values that are missing or wrong are None."""

    def __init__(self, values: Mapping[str, Any], path: KeyPath, problems: Problems, known: Collection[str]) -> None:
        self.values = values
        self.path = path
        self.problems = problems
        for key in values:
            if key not in known:
                self._unknown(key, known)

    def __contains__(self, key: str) -> bool:
        return key in self.values

    def wrong(self, key: str, template: LiteralString, /, **fields: object) -> None:
        """Add a problem: the value of `key` is wrong."""
        self.problems.add((*self.path, key), template, **fields)

    def missing(self, template: LiteralString, /, **fields: object) -> None:
        """Add a problem: the table lacks something, which the text names."""
        self.problems.add_unnamed(self.path, template, **fields)

    def text(self, key: str) -> str | None:
        """A text; None if it is missing, blank (a form not filled in), or not a text."""
        value = self.values.get(key)
        return None if value is None else self._text(key, value) or None

    def texts(self, key: str) -> list[str]:
        """One text or a list of them, without the blank ones."""
        value = self.values.get(key)
        if value is None:
            return []
        members = value if isinstance(value, list) else [value]
        found = [self._text(key, member) for member in members]
        return [text for text in found if text]

    def read(self, key: str, reader: Callable[[str], T]) -> T | None:
        """The text of `key`, read by `reader`; its error becomes a problem."""
        text = self.text(key)
        return None if text is None else self.parse(key, text, reader)

    def parse(self, key: str, text: str, reader: Callable[[str], T]) -> T | None:
        """A text of `key`, read by `reader`; its error becomes a problem."""
        try:
            return reader(text)
        except ValueError as error:
            if not isinstance(error, Refusal):
                raise
            self.wrong(key, error.template, **error.fields)
            return None

    def choice(self, key: str, choices: Collection[str]) -> str | None:
        """A text that must be one of `choices`."""
        text = self.text(key)
        if text is None or text in choices:
            return text
        self.wrong(key, '"{text}" is not one of: {choices}', text=shorten(text), choices=", ".join(choices))
        return None

    def number_text(self, key: str) -> str | None:
        """A number as it was written, with or without quotes."""
        value = self.values.get(key)
        if isinstance(value, TomlNumber):
            return value.text
        if isinstance(value, int) and not isinstance(value, bool):
            return str(value)
        return None if value is None else self._text(key, value) or None

    def flag(self, key: str) -> bool | None:
        """True or false, as TOML's own or as "yes" and "no"."""
        value = self.values.get(key)
        if value is None or isinstance(value, bool):
            return value
        if value in ("yes", "no"):
            return bool(value == "yes")
        self.wrong(key, 'this is either "yes" or "no"')
        return None

    def moment(self, key: str) -> datetime | date | None:
        """A date, or a date and time; as TOML's own or as a text."""
        value = self.values.get(key)
        if value is None or isinstance(value, date):  # a datetime is a date too
            return value
        if isinstance(value, str):
            for kind in (date, datetime):
                try:
                    return kind.fromisoformat(value.strip())
                except ValueError:
                    continue
        self.wrong(key, "this is no date; write it as 2026-05-04 or 2026-05-04T08:12:00-06:00")
        return None

    def table(self, key: str, known: Collection[str]) -> TomlTable | None:
        """The table of that name within this one."""
        value = self.values.get(key)
        if value is None:
            return None
        if not isinstance(value, dict):
            self.wrong(key, "this is a table: write [{key}] on a line of its own", key=key)
            return None
        return TomlTable(value, (*self.path, key), self.problems, known)

    def tables(self, key: str, known: Collection[str]) -> Iterator[TomlTable]:
        """The members of `[[key]]`."""
        value = self.values.get(key)
        if value is None:
            return
        if not isinstance(value, list) or not all(isinstance(member, dict) for member in value):
            self.wrong(key, "there may be several: write [[{key}]] on a line of its own", key=key)
            return
        for index, member in enumerate(value):
            yield TomlTable(member, (*self.path, key, index), self.problems, known)

    def _text(self, key: str, value: object) -> str | None:
        if isinstance(value, str):
            return self._plain(key, value)
        if isinstance(value, TomlNumber) or (isinstance(value, int) and not isinstance(value, bool)):
            written = value.text if isinstance(value, TomlNumber) else str(value)
            self.wrong(
                key, 'put it in quotes, as you would type it: {key} = "{value}"', key=key, value=shorten(written)
            )
        elif isinstance(value, datetime | date | time):
            self.wrong(key, "put it in quotes: a date has no place here")
        elif isinstance(value, list):
            self.wrong(key, "only one text has its place here, not a list")
        else:
            self.wrong(key, "this must be a text in quotes")
        return None

    def _plain(self, key: str, text: str) -> str | None:
        if len(text) > LONGEST_TEXT:
            self.wrong(
                key, "a text of {count} characters is too long; the most is {most}", count=len(text), most=LONGEST_TEXT
            )
            return None
        hidden = next((c for c in text if _is_hidden(c)), None)
        if hidden is not None:
            self.wrong(key, "there is a hidden character in it ({code})", code=f"U+{ord(hidden):04X}")
            return None
        return text.strip()

    def _unknown(self, key: str, known: Collection[str]) -> None:
        nearest = difflib.get_close_matches(shorten(key).casefold(), known, n=1, cutoff=0.5)
        is_table = isinstance(self.values[key], dict | list) and not self.path
        said = _UNKNOWN_TABLE if is_table else _UNKNOWN_KEY
        fields = {"key": shorten(key)}
        how = "alone"
        if nearest:
            how, fields["nearest"] = "nearest", nearest[0]
        elif len(known) <= _MAX_CHOICES_SHOWN:
            how, fields["choices"] = "choices", ", ".join(known)
        self.problems.add_unnamed((*self.path, key), said[how], **fields)


_UNKNOWN_TABLE: dict[str, LiteralString] = {
    "alone": "[{key}] is no table of this file",
    "nearest": "[{key}] is no table of this file; did you mean [{nearest}]?",
    "choices": "[{key}] is no table of this file; there are {choices}",
}
_UNKNOWN_KEY: dict[str, LiteralString] = {
    "alone": "{key} is no key of this table",
    "nearest": "{key} is no key of this table; did you mean {nearest}?",
    "choices": "{key} is no key of this table; there are {choices}",
}


def shorten(text: str) -> str:
    """`text` cut to a length that fits in a message."""
    return text if len(text) <= _LONGEST_SHOWN else text[: _LONGEST_SHOWN - 1] + "…"


def _is_hidden(character: str) -> bool:
    if character in "\n\t":
        return False
    return character in _TURNS_DIRECTION or unicodedata.category(character) in ("Cc", "Cs", "Zl", "Zp")
