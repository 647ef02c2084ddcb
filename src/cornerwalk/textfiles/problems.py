"""What is wrong in a file that somebody wrote, line by line.

`TextFileError` is the root of every such error: `FileError` (not read at all), the sheet's `SheetError`, the settings'
`SettingsError`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import LiteralString

MAX_PROBLEMS_SHOWN = 20
"""A file with more problems than this has one big one; the rest is counted."""

LONGEST_LINE = 500
"""Characters of one message; a file can hold a key of a million."""

Translator = Callable[..., str]
"""Turns an English template and its named fields into the user's language."""


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing that is wrong: an English `template` with its {named} `fields`.

    `line` counts from 1, None for the whole file; `key` is the key or column that holds the value, if there is one.
    """

    line: int | None
    template: LiteralString
    fields: Mapping[str, object] = field(default_factory=dict)
    key: str = ""


class TextFileError(ValueError):
    """A file that says something wrong. Nothing of it was used.

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
        """Every problem as a line for the user, worded by `words`."""
        told = [self._told(problem, words) for problem in self.problems[:MAX_PROBLEMS_SHOWN]]
        more = len(self.problems) - MAX_PROBLEMS_SHOWN
        if more > 0:
            told.append(words("{name}: and {count} more", name=self.name, count=more))
        return told

    def _told(self, problem: Problem, words: Translator) -> str:
        said = words(problem.template, **problem.fields)
        if problem.key:
            said = words("{key}: {said}", key=problem.key, said=said)
        if problem.line is None:
            return one_line(words("{name}: {said}", name=self.name, said=said))
        return one_line(words("{name}, line {line}: {said}", name=self.name, line=problem.line, said=said))

    def __str__(self) -> str:
        """The problems in English, one a line."""
        return "\n".join(self.lines(english))


def one_line(text: str) -> str:
    """`text` fit for one line of any screen: what cannot be printed is escaped, and what is endless is cut."""
    cut = text if len(text) <= LONGEST_LINE else text[: LONGEST_LINE - 1] + "…"
    return "".join(c if c.isprintable() else f"\\u{ord(c):04x}" for c in cut)


def english(template: LiteralString, /, **fields: object) -> str:
    """The template itself, filled in."""
    return template.format(**fields)
