"""Question: one line of a chapter, asked in one or more parts, what stands there, and what an answer records."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

from cornerwalk.job.reply import Reply
from cornerwalk.quantity import QuantityError
from cornerwalk.session.events import Event
from cornerwalk.session.walk import EntryError
from cornerwalk.textfiles import TextFileError
from cornerwalk.words import tr

Texts = tuple[str, ...]
"""What was answered so far on this line, one text a question."""

Mark = Literal["open", "done", "matters", "stop"]
"""How a line stands: not answered, answered, answered with something to know, answered with a STOP."""


@dataclass(frozen=True, slots=True)
class Option:
    """An answer to choose: its number, its words, the text it stands for, and what else means it: a letter, others."""

    number: str
    text: str
    value: str
    letter: str = ""
    also: tuple[str, ...] = ()

    def means(self, typed: str) -> bool:
        """Whether a text, without capitals, means it."""
        return typed in (self.number, self.letter, self.text.casefold(), *self.also)


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One question of a line.

    `stands` is the text that Enter alone leaves as it is (for options their value); `hint` how an answer may be
    written. A part with options takes nothing else. `told` is what should be known before answering. `goes_on`: Enter
    alone answers it with nothing, where it would otherwise leave the line. `words`: any words may be the answer.
    `remark`: a few words may come with the choice.
    """

    question: str
    options: tuple[Option, ...] = ()
    stands: str = ""
    hint: str = ""
    told: tuple[str, ...] = ()
    goes_on: bool = False
    words: bool = False
    remark: bool = False

    def option(self, typed: str) -> Option | None:
        """The option that a typed text means."""
        wanted = typed.strip().casefold()
        if not wanted:
            return None
        return next((option for option in self.options if option.means(wanted)), None)

    def option_and_remark(self, typed: str) -> tuple[Option, str] | None:
        """The option a text begins with, and the remark behind it: `n left one leaks`; None where there is none."""
        folded = typed.strip().casefold()
        for end in range(len(folded), 0, -1):
            if end == len(folded) or folded[end] in " ,":
                option = self.option(folded[:end])
                if option is not None:
                    return option, typed.strip()[end:].lstrip(" ,")
        return None


def nothing_kept(_texts: Texts) -> Reply:
    """A line that only tells something."""
    return Reply()


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """One line of a chapter.

    Attributes:
        id: what a page remembers the line by.
        name: a few words for the list.
        group: the heading it stands under.
        stands: what is known here, in a few words; "" for nothing.
        mark: how it stands.
        part: the question that follows after these answers; None once the line is answered.
        keeps: what these answers are understood to be, and what they make happen; asked while the last one is typed.
        caution: what can hurt somebody here; it begins with STOP where it can end the job.
        why: why it is asked.
        costs: what leaving it out costs.
        takes_out: what taking the answer out makes happen; empty where that cannot be done.
        half: there is more to it than was answered: whoever comes back is asked it first.
        walks_on: Enter alone on the first question goes on to the second one, not to the next line.
        note: what writing a note here makes happen; None for a note about the job.
        does: what is done besides recording, once the line is answered; answers what to tell. It may raise what
            `trouble_of` knows.
    """

    id: str
    name: str
    group: str
    part: Callable[[Texts], Part | None]
    keeps: Callable[[Texts], Reply] = nothing_kept
    stands: str = ""
    mark: Mark = "open"
    caution: str = ""
    why: str = ""
    costs: str = ""
    takes_out: tuple[Event, ...] = ()
    half: bool = False
    walks_on: bool = False
    note: Callable[[str], Reply] | None = None
    does: Callable[[Texts], str] | None = None


def one(part: Part) -> Callable[[Texts], Part | None]:
    """A line with a single question."""
    return lambda texts: None if texts else part


def in_turn(*parts: Part) -> Callable[[Texts], Part | None]:
    """A line whose questions follow one another."""
    return lambda texts: parts[len(texts)] if len(texts) < len(parts) else None


@dataclass(frozen=True, slots=True)
class RecordedPart:
    """A question and what its own answer makes happen, for lines whose answers are kept one by one."""

    part: Part
    keeps: Callable[[str], Reply]


def part_of(steps: Sequence[RecordedPart]) -> Callable[[Texts], Part | None]:
    """The questions of these steps, one after the other."""
    return in_turn(*(step.part for step in steps))


def keeps_of(steps: Sequence[RecordedPart]) -> Callable[[Texts], Reply]:
    """Each answer goes to its own step."""
    return lambda texts: steps[len(texts) - 1].keeps(texts[-1])


def numbered(*choices: tuple[str, str]) -> tuple[Option, ...]:
    """Options from 1, each (words, the text it stands for)."""
    return tuple(Option(str(place), text, value) for place, (text, value) in enumerate(choices, start=1))


def trouble_of(error: QuantityError | EntryError | TextFileError | OSError) -> str:
    """Why something could not be done, in the user's language."""
    match error:
        case TextFileError():
            return error.lines(tr)[0]
        case OSError():
            return tr("It could not be written: {reason}", reason=error.strerror or type(error).__name__)
        case _:
            return tr(error.template, **error.fields)


Troubles = (QuantityError, EntryError, TextFileError, OSError)
"""What a line may run into: a text that says nothing, a file that cannot be read or written."""
