"""A report before it has a form: blocks in the order they are read, rendered as text, page or web page alike.

Every text in it is plain; each renderer makes it harmless in its own way.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from cornerwalk.assess.assessment import Level

if TYPE_CHECKING:
    from cornerwalk.report.drawing import Drawing


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
    """Rows under a head; the first column is read from the left, the others too. `note` stands below."""

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    note: str = ""


@dataclass(frozen=True, slots=True)
class Bullets:
    """Short items, one after the other."""

    items: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Alert:
    """A finding: how serious in a word, what, the facts and their reason, what to do now, and who says so."""

    level: Level
    level_word: str
    heading: str
    lines: tuple[str, ...]
    action: str = ""
    source: str = ""


@dataclass(frozen=True, slots=True)
class Pictures:
    """Drawings side by side; where nothing can be drawn their titles are read instead."""

    drawings: tuple[Drawing, ...]


@dataclass(frozen=True, slots=True)
class Code:
    """A text that a telephone can read, with what to say beside it."""

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


Block = Heading | Paragraph | Facts | Table | Bullets | Alert | Pictures | Blanks | Form


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """A whole report. `dated` is the session's own time (ISO 8601), never today's: the same session, the same page."""

    title: str
    subtitle: str
    blocks: tuple[Block, ...]
    footer: str
    dated: str = ""
    code: Code | None = None
    """Stands beside the title on paper, where a telephone finds it; last where there is no beside."""
    one_page: bool = False
    """Whether it is meant for one sheet of paper: the page is then set smaller before it runs over."""
