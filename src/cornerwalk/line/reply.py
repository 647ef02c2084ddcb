"""What a question is, and what an answer to it leads to."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol

from cornerwalk.line.job import OpenJob
from cornerwalk.quantity import QuantityError
from cornerwalk.session.events import Event
from cornerwalk.session.walk import EntryError
from cornerwalk.words import tr

Refusal = (QuantityError, EntryError)


@dataclass(frozen=True, slots=True, kw_only=True)
class Reply:
    """What an answer leads to.

    Attributes:
        said: sentences said whether or not anything is recorded.
        events: what is recorded.
        kept: the sentence said once that is on the disk; the time is put after it.
        doubt: why a second Enter is asked for before it is recorded, "" where none is.
        then: the question that follows; None for what the job itself asks next.
        follows: finds the question that follows, where that hangs on what was recorded.
        refused: nothing is recorded and the same question stays.
        stays: nothing is wrong and the same question stays.
        leaves: the conversation ends.
    """

    said: tuple[str, ...] = ()
    events: tuple[Event, ...] = ()
    kept: str = ""
    doubt: str = ""
    then: Question | None = None
    follows: Callable[[OpenJob], Question | None] | None = None
    refused: bool = False
    stays: bool = False
    leaves: bool = False


@dataclass(frozen=True, slots=True)
class Typed:
    """A word that was typed: at which question of which job, and what followed it."""

    job: OpenJob
    question: Question
    rest: str


class Question(Protocol):
    """One question. It stays the same value while it is the same question."""

    @property
    def free(self) -> bool:
        """Whether any words may be the answer, so that only a lone word of the vocabulary is taken for one."""

    def prompt(self, job: OpenJob, /) -> str:
        """The question in one line."""

    def opening(self, job: OpenJob, /) -> tuple[str, ...]:
        """What is said before it is asked the first time: cautions, what to do, why."""

    def answer(self, job: OpenJob, text: str, /) -> Reply:
        """What this text, without blanks around it, means as an answer."""


def refused(error: QuantityError | EntryError) -> Reply:
    """A text that is no answer, with the reason and the likely meaning."""
    return Reply(said=(tr(error.template, **error.fields),), refused=True)


def told(*sentences: str) -> Reply:
    """Sentences, and the same question again."""
    return Reply(said=sentences, stays=True)


def numbered(choices: tuple[str, ...]) -> tuple[str, ...]:
    """Choices as lines, each with the number that chooses it."""
    return tuple(f"{number}  {choice}" for number, choice in enumerate(choices, start=1))


def chosen(text: str, count: int) -> int | None:
    """The place of a choice by its number, from 0; None where the text is no such number."""
    if not (text.isascii() and text.isdecimal() and len(text) <= len(str(count))):
        return None
    return int(text) - 1 if 1 <= int(text) <= count else None


def unit_said(unit: str) -> str:
    """A unit as it is said where a figure is asked for: `inches`."""
    return {"in": tr("inches"), "ft": tr("feet"), "lb": tr("pounds")}.get(unit, unit)


def with_unit(text: str, bare: str) -> str:
    """A figure as typed, with the unit that was understood where none was typed."""
    return text if any(character.isalpha() or character in "\"'°" for character in text) else f"{text} {bare}"
