"""Notices and choices: the plain data in which the conversation tells something, for a skin to draw or print."""

from __future__ import annotations

from dataclasses import dataclass

from cornerwalk.words import tr

Span = tuple[str, str]
"""A theme part and a text drawn in it."""


@dataclass(frozen=True, slots=True)
class Notice:
    """A text, its label ("" for none) and the parts of the theme they are drawn in."""

    text: str
    label: str = ""
    part: str = "ink"
    label_part: str = "quiet"


@dataclass(frozen=True, slots=True)
class Choice:
    """One line to choose: an id for the page, a text, and more about it below."""

    id: str
    text: str
    about: str = ""


def count_words(done: int, total: int) -> str:
    """How far something is, or where it stands among others."""
    return tr("{done} of {total}", done=done, total=total)
