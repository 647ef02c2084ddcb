"""Standards loader: the packaged rules and limits, then the shop's own."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from types import MappingProxyType
from typing import LiteralString, Protocol, TypeVar

from cornerwalk.standards.aim import AimRule
from cornerwalk.standards.limits import Limit, RestorationRule, TapeRule
from cornerwalk.standards.rule_file import RuleFile, read_rules
from cornerwalk.textfiles import FileError, Problem, TextFileError, TomlError, Translator, read_text_file

NO_RULE = "none"
"""The id of the rule "none": angles are shown and nothing is judged."""

LARGEST_BYTES = 200_000
"""Of one rule file; all packaged ones together are a tenth of it."""


class UnknownAimRuleError(KeyError):
    """No aim rule of that id is loaded. `template` is English with {named} `fields`; `nearest` may be None."""

    def __init__(self, rule_id: str, known: Mapping[str, AimRule]) -> None:
        super().__init__(rule_id)
        self.rule_id = rule_id
        close = difflib.get_close_matches(rule_id[:80].lower(), known, n=1, cutoff=0.4)
        self.nearest = close[0] if close else None
        self.known = tuple(known)

    @property
    def template(self) -> LiteralString:
        """The English sentence."""
        if self.nearest is not None:
            return 'there is no aim spec "{rule}"; did you mean {nearest}?'
        return 'there is no aim spec "{rule}"; there are {known}'

    @property
    def fields(self) -> dict[str, object]:
        """What goes into it."""
        return {"rule": self.rule_id, "nearest": self.nearest, "known": ", ".join(self.known)}

    def __str__(self) -> str:
        return self.template.format(**self.fields)


@dataclass(frozen=True, slots=True)
class RefusedFile:
    """A rule file that was not used. It has at least one of `problems`, in the order of their lines."""

    name: str
    problems: tuple[Problem, ...]

    @property
    def line(self) -> int | None:
        """The line of the first problem, None if it is about the whole file."""
        return self.problems[0].line

    @property
    def reason(self) -> str:
        """The first problem in English; `problems` has the templates for other languages."""
        problem = self.problems[0]
        said = problem.template.format(**problem.fields)
        return f"{problem.key}: {said}" if problem.key else said

    def lines(self, words: Translator) -> list[str]:
        """Every problem with the file's name and its line, translated by `words`."""
        return TextFileError(self.name, self.problems).lines(words)


@dataclass(frozen=True, slots=True)
class Standards:
    """Every rule and limit by id, in the order of the files, and the refused files."""

    aim_rules: Mapping[str, AimRule]
    limits: Mapping[str, Limit]
    restoration_rules: Mapping[str, RestorationRule]
    tapes: Mapping[str, TapeRule]
    refused: tuple[RefusedFile, ...] = ()

    def aim_rule(self, rule_id: str) -> AimRule:
        """The aim rule with that id.

        Raises:
            UnknownAimRuleError: there is none; the error names the nearest.
        """
        if rule_id not in self.aim_rules:
            raise UnknownAimRuleError(rule_id, self.aim_rules)
        return self.aim_rules[rule_id]

    def choices(self, limit_id: str) -> tuple[Limit, ...]:
        """A default limit, and then its alternatives."""
        others = (limit for limit in self.limits.values() if limit.instead_of == limit_id)
        return (self.limits[limit_id], *others)


class _Named(Protocol):
    @property
    def id(self) -> str: ...


_Rule = TypeVar("_Rule", bound=_Named)


class _Collection:
    """Rules by id while files are added: all of a file, or nothing."""

    def __init__(self) -> None:
        self.aim_rules: dict[str, AimRule] = {}
        self.limits: dict[str, Limit] = {}
        self.restoration_rules: dict[str, RestorationRule] = {}
        self.tapes: dict[str, TapeRule] = {}
        self.refused: list[RefusedFile] = []

    def add(self, name: str, text: Callable[[], str]) -> None:
        try:
            rules = read_rules(name, text())
        except TomlError as error:
            self.refused.append(RefusedFile(name, (error.problem,)))
            return
        except TextFileError as error:
            self.refused.append(RefusedFile(name, error.problems))
            return
        taken = [*self._taken(rules)]
        if taken:
            self.refused.append(RefusedFile(name, tuple(taken)))
            return
        self.aim_rules |= _by_id(rules.aim_rules)
        self.limits |= _by_id(rules.limits)
        self.restoration_rules |= _by_id(rules.restoration_rules)
        self.tapes |= _by_id(rules.tapes)

    def _taken(self, rules: RuleFile) -> Iterator[Problem]:
        kinds: tuple[tuple[tuple[_Named, ...], Mapping[str, _Named]], ...] = (
            (rules.aim_rules, self.aim_rules),
            (rules.limits, self.limits),
            (rules.restoration_rules, self.restoration_rules),
            (rules.tapes, self.tapes),
        )
        for own, before in kinds:
            ids = [rule.id for rule in own]
            for rule_id in dict.fromkeys(ids):
                if rule_id in before or ids.count(rule_id) > 1:
                    yield Problem(
                        None, 'the id "{id}" is taken; a rule keeps its meaning, so choose another', {"id": rule_id}
                    )

    def standards(self) -> Standards:
        return Standards(
            aim_rules=MappingProxyType(self.aim_rules),
            limits=MappingProxyType(self.limits),
            restoration_rules=MappingProxyType(self.restoration_rules),
            tapes=MappingProxyType(self.tapes),
            refused=tuple(self.refused),
        )


def _by_id(rules: tuple[_Rule, ...]) -> dict[str, _Rule]:
    return {rule.id: rule for rule in rules}


def load_standards(extra_folder: Path | None = None) -> Standards:
    """The packaged rules and limits, and those of the shop's folder, which need not exist.

    A file there with anything unknown, or with an id that is taken, goes into `refused`; the others still load. Hidden
    files are skipped.
    """
    collected = _Collection()
    packaged = Path(__file__).with_name("data")
    for entry in sorted(packaged.iterdir(), key=lambda entry: entry.name):
        collected.add(entry.name, partial(entry.read_text, "utf-8"))
    for path in _files_of(extra_folder, collected):
        collected.add(path.name, partial(_read_shop_file, path))
    return collected.standards()


def _files_of(folder: Path | None, collected: _Collection) -> list[Path]:
    if folder is None:
        return []
    try:
        return sorted(path for path in folder.iterdir() if not path.name.startswith("."))
    except FileNotFoundError:
        return []
    except OSError as error:
        reason = error.strerror or str(error)
        problem = Problem(None, "the folder cannot be read: {reason}", {"reason": reason})
        collected.refused.append(RefusedFile(folder.name, (problem,)))
        return []


def _read_shop_file(path: Path) -> str:
    if path.suffix.lower() != ".toml":
        raise FileError(path.name, "a rule file ends in .toml")
    return read_text_file(path, largest_bytes=LARGEST_BYTES)
