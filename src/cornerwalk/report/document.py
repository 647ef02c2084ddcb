"""Document: a report as blocks in reading order, before it is rendered as text, PDF or web page.

Every text in it is plain; each renderer makes it harmless in its own way.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from cornerwalk.assess.assessment import Level

if TYPE_CHECKING:
    from cornerwalk.report.drawing import Drawing


NO_BREAK = "\N{NO-BREAK SPACE}"

_UNITS = r"in/psi|mm/kPa|lb/in|N/mm|lbf·ft|N·m|in|mm|cm|ft|m|km|psi|kPa|lb|kg|N|%|h|°F|°C|miles?|days?"
_BOUND = re.compile(rf" (?=± )|(?<=±) |(?<=\d) (?=(?:{_UNITS})(?![\w/])|\d+/\d)")


def bind_figures(text: str) -> str:
    """The text with each figure bound to its unit, its fraction and its ±, so that no line ends between them."""
    return _BOUND.sub(NO_BREAK, text)


@dataclass(frozen=True, slots=True)
class Heading:
    """The title of a section."""

    text: str


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Sentences that may wrap."""

    text: str


@dataclass(frozen=True, slots=True)
class Facts:
    """Names and values, a row each."""

    rows: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under a head, all columns left-aligned. `note` stands below."""

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    note: str = ""


@dataclass(frozen=True, slots=True)
class Bullets:
    """Short items, one after the other."""

    items: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Alert:
    """A finding: its level in a word, what was found, why it matters, what to do now, and the source."""

    level: Level
    level_word: str
    heading: str
    lines: tuple[str, ...]
    action: str = ""
    source: str = ""


@dataclass(frozen=True, slots=True)
class Pictures:
    """Drawings side by side; their titles where nothing can be drawn."""

    drawings: tuple[Drawing, ...]


@dataclass(frozen=True, slots=True)
class Code:
    """A text for a telephone to read, with its caption."""

    text: str
    caption: str


@dataclass(frozen=True, slots=True)
class Blanks:
    """Lines to write on, each with its label."""

    labels: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Form:
    """A table to write in by hand: every row starts with its name, the other columns are empty."""

    head: tuple[str, ...]
    names: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LargeFigure:
    """A figure to be read from a distance, or one for each side: (name or "", figure)."""

    label: str
    figures: tuple[tuple[str, str], ...]
    note: str = ""


@dataclass(frozen=True, slots=True)
class CutOutCard:
    """A small card to cut out along its dashed edge: names and values, a row each."""

    title: str
    rows: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Beside:
    """Two blocks side by side where there is room; else, and for a screen reader, one after the other."""

    left: Block
    right: Block


@dataclass(frozen=True, slots=True)
class Spare:
    """Blocks that give way where a one-page report would run over: rank 1 first."""

    rank: int
    blocks: tuple[Block, ...]


@dataclass(frozen=True, slots=True)
class Letterhead:
    """Whose paper it is: the shop's name, its phone and its logo (PNG or JPEG), each "" where not set."""

    name: str = ""
    phone: str = ""
    logo: bytes = b""


Block = (
    Heading | Paragraph | Facts | Table | Bullets | Alert | Pictures | Blanks | Form
    | LargeFigure | CutOutCard | Beside | Spare
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """A report. `dated` is the session's own time (ISO 8601), never today's: the same session gives the same page."""

    title: str
    subtitle: str
    blocks: tuple[Block, ...]
    footer: str
    dated: str = ""
    code: Code | None = None
    """Beside the title on paper; last in plain text."""
    one_page: bool = False
    """Whether it is meant for one sheet of paper: the type is made smaller before it runs over."""
    letterhead: Letterhead = Letterhead()
    """Above the title."""

    def without_spares(self, ranks: Sequence[int]) -> Document:
        """The report without its spare blocks of these ranks."""
        kept = tuple(block for block in self.blocks if not (isinstance(block, Spare) and block.rank in ranks))
        return replace(self, blocks=kept)
