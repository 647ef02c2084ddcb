"""What the argument parser says of itself, in the user's language: its headings, and what is wrong with a command line.

argparse words its complaints in English and hands over nothing but the sentence. Those that a person meets are taken
apart here and said anew, with the nearest choice; one that is not known stays as it is.
"""

from __future__ import annotations

import argparse
import re
from collections.abc import Callable, Iterable

from cornerwalk.words import tr


class Format(argparse.RawDescriptionHelpFormatter):
    """Keeps the line ends of texts, and heads the usage in the user's language."""

    def add_usage(
        self,
        usage: str | None,
        actions: Iterable[argparse.Action],
        groups: Iterable[argparse._MutuallyExclusiveGroup],
        prefix: str | None = None,
    ) -> None:
        """As argparse does, with a heading of ours where it would take its own."""
        super().add_usage(usage, actions, groups, f"{tr('usage')}: " if prefix is None else prefix)


def complaint(message: str) -> str:
    """What is wrong with a command line, from argparse's own sentence.

    >>> complaint("the following arguments are required: SHEET")
    'still missing: SHEET'
    """
    for pattern, said in _COMPLAINTS:
        found = pattern.fullmatch(message)
        if found is not None:
            return said(**found.groupdict())
    return message


def _not_a_choice(argument: str, text: str, choices: str) -> str:
    import difflib

    known = [choice.strip().strip("'") for choice in choices.split(",")]
    nearest = difflib.get_close_matches(text, known, n=1)
    if nearest:
        said = tr('"{text}" is not one of them; did you mean {nearest}?', text=text, nearest=nearest[0])
    else:
        said = tr('"{text}" is not one of: {choices}', text=text, choices=", ".join(known))
    return tr("{name}: {said}", name=argument, said=said)


def _no_value(argument: str) -> str:
    return tr("{name}: {said}", name=argument, said=tr("a value has to follow"))


_COMPLAINTS: tuple[tuple[re.Pattern[str], Callable[..., str]], ...] = (
    (
        re.compile(r"argument (?P<argument>.+?): invalid choice: '(?P<text>.*)' \(choose from (?P<choices>.*)\)"),
        _not_a_choice,
    ),
    (re.compile(r"argument (?P<argument>.+?): expected (?:one|at least one) argument"), _no_value),
    (
        re.compile(r"the following arguments are required: (?P<names>.+)"),
        lambda names: tr("still missing: {names}", names=names),
    ),
    (
        re.compile(r"unrecognized arguments: (?P<names>.+)"),
        lambda names: tr("not known here: {names}", names=names),
    ),
)
