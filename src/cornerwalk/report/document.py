"""Document: a report as blocks in reading order, before it is rendered as text, PDF or web page.

Every text in it is plain; each renderer makes it harmless in its own way.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from cornerwalk.assess.assessment import Level

if TYPE_CHECKING:
    from cornerwalk.report.drawing import Drawing


BOUND_PLUS_MINUS = "\N{NO-BREAK SPACE}±\N{NO-BREAK SPACE}"


def bind_plus_minus(text: str) -> str:
    """The text with each ± bound to its figures, so that no line ends between them."""
    return text.replace(" ± ", BOUND_PLUS_MINUS)


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
    """Drawings side by side; where nothing can be drawn their titles, unless the words beside them tell the same."""

    drawings: tuple[Drawing, ...]
    told_beside: bool = False


@dataclass(frozen=True, slots=True)
class Code:
    """A text for a telephone to read, with its caption."""

    text: str
    caption: str


@dataclass(frozen=True, slots=True)
class LargeFigure:
    """One figure to be seen first, with what it is."""

    figure: str
    caption: str


@dataclass(frozen=True, slots=True)
class CutOutCard:
    """Names and values in a frame, to cut out and keep where they are needed."""

    title: str
    rows: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Blanks:
    """Lines to write on, each with its label."""

    labels: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Form:
    """A table to write in by hand: every row starts with its name, the other columns are empty."""

    head: tuple[str, ...]
    names: tuple[str, ...]


Block = Heading | Paragraph | Facts | Table | Bullets | Alert | Pictures | LargeFigure | CutOutCard | Blanks | Form


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
    left_out_first: tuple[Block, ...] = ()
    """Blocks of a one-page document that are left out, in this order, before it runs over."""
