"""Problems of a text file: what is wrong in it, line by line.

`TextFileError` is the base of `FileError` (the file was not read), the sheet's `SheetError` and the settings'
`SettingsError`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import LiteralString

MAX_PROBLEMS_SHOWN = 20
"""Further problems are only counted."""

LONGEST_LINE = 500
"""Characters of one message; a file may have a key of a million."""

_OF_KEY: LiteralString = "{key}: {said}"
_OF_FILE: LiteralString = "{name}: {said}"
_OF_LINE: LiteralString = "{name}, line {line}: {said}"
_MORE: LiteralString = "{name}: and {count} more"

Translator = Callable[..., str]
"""Translates an English template and fills in its named fields."""


@dataclass(frozen=True, slots=True)
class Problem:
    """A problem: an English `template` with its {named} `fields`.

    `line` counts from 1, None for the whole file; `key` is the key or column of the value, if there is one.
    """

    line: int | None
    template: LiteralString
    fields: Mapping[str, object] = field(default_factory=dict)
    key: str = ""


class TextFileError(ValueError):
    """A file has a mistake, and nothing of it was used.

    Attributes:
        name: the file, as the user named it.
        problems: at least one, in the order of their lines.
    """

    def __init__(self, name: str, problems: Iterable[Problem]) -> None:
        self.name = name
        self.problems = tuple(sorted(problems, key=lambda problem: problem.line or 0))
        super().__init__(name, self.problems)

    @property
    def line(self) -> int | None:
        """The line of the first problem."""
        return self.problems[0].line

    @property
    def template(self) -> str:
        """The template of the first problem."""
        return self.problems[0].template

    @property
    def fields(self) -> Mapping[str, object]:
        """The fields of the first problem."""
        return self.problems[0].fields

    def lines(self, words: Translator) -> list[str]:
        """Every problem as a line for the user, translated by `words`."""
        told = [self._told(problem, words) for problem in self.problems[:MAX_PROBLEMS_SHOWN]]
        more = len(self.problems) - MAX_PROBLEMS_SHOWN
        if more > 0:
            told.append(words(_MORE, name=self.name, count=more))
        return told

    def _told(self, problem: Problem, words: Translator) -> str:
        said = words(problem.template, **problem.fields)
        if problem.key:
            said = words(_OF_KEY, key=problem.key, said=said)
        if problem.line is None:
            return one_line(words(_OF_FILE, name=self.name, said=said))
        return one_line(words(_OF_LINE, name=self.name, line=problem.line, said=said))

    def __str__(self) -> str:
        """The problems in English, one per line."""
        return "\n".join(self.lines(english))


def one_line(text: str) -> str:
    """`text` fit for one line of any screen: unprintable characters escaped, and cut if long."""
    cut = text if len(text) <= LONGEST_LINE else text[: LONGEST_LINE - 1] + "…"
    return "".join(c if c.isprintable() else f"\\u{ord(c):04x}" for c in cut)


def english(template: LiteralString, /, **fields: object) -> str:
    """The template with its fields filled in."""
    return template.format(**fields)
