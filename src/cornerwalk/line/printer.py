"""Printer: how notices, choices, a question and what was recorded read as lines of text."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from cornerwalk.job.notice import Notice, count_words
from cornerwalk.job.open_job import OpenJob
from cornerwalk.job.prompt_words import title_of, unit_of
from cornerwalk.job.prompts import HeightPrompt, Prompt
from cornerwalk.job.question import Part
from cornerwalk.job.record import event_brief, kept_word, not_on_disk
from cornerwalk.session.events import Event, HeightRead, StageBegun
from cornerwalk.words import capital, tr_n

if TYPE_CHECKING:
    from cornerwalk.report.document import Document

_SHORT = 76
"""Characters that a line of choices may have."""
_RULES = "─═ "
"""What the rules of a page are drawn with."""


def notice_lines(notices: Iterable[Notice]) -> list[str]:
    """Each with its label in front; a caution without one of its own with that of the caution before it."""
    lines, label = [], ""
    for notice in notices:
        label = notice.label or (label if notice.part == "caution" else "")
        lines.append(f"{label}: {notice.text}" if label else notice.text)
    return lines


def numbered(texts: Iterable[str]) -> list[str]:
    """Choices, each with the number that chooses it."""
    return [f"{number}  {text}" for number, text in enumerate(texts, start=1)]


def chosen(text: str, count: int) -> int | None:
    """The place of a choice by its number, from 0; None where the text is no such number."""
    if not (text.isascii() and text.isdecimal() and len(text) <= len(str(count))):
        return None
    return int(text) - 1 if 1 <= int(text) <= count else None


def prompt_line(job: OpenJob, asked: Prompt) -> str:
    """`Right rear, loaded, no air, 3 of 4:`; `Air pressure, fitted, trial 1, psi:`."""
    title, where = title_of(asked)
    if title.endswith("?"):
        return f"{title} ({where})" if where else title
    told = [title, where, unit_of(job, asked)]
    if isinstance(asked, HeightPrompt) and asked.how == "first":
        order = job.session.job.order
        told.append(count_words(order.index(asked.corner) + 1, len(order)))
    return f"{', '.join(filter(None, told))}:"


def question_line(part: Part, place: str) -> str:
    """The question, then what stands there or how it may be answered, and its place among others."""
    stands = next((option.text for option in part.options if option.value == part.stands), part.stands)
    details = "; ".join(filter(None, (stands or part.hint, place)))
    return f"{part.question} ({details})" if details else part.question


def options_lines(part: Part) -> list[str]:
    """The answers a question takes, in one line where that is short."""
    told = [f"{option.number} {option.text}" for option in part.options]
    line = ", ".join(told)
    return told if len(line) > _SHORT else [line] if line else []


def recorded_lines(job: OpenJob, events: Sequence[Event], meant: str = "", beside: Sequence[str] = ()) -> list[str]:
    """What was recorded, understood to be what, what it compares with; and when it was kept, or that it is not."""
    last, what = events[-1], event_brief(job, events[-1])
    if len(events) > 2:
        what = tr_n("{count} entry", "{count} entries", len(events))
    as_shown = isinstance(last, HeightRead) and job.wording.height(last.mm) == last.entered
    if isinstance(last, StageBegun) or as_shown or what.endswith(meant):
        meant = ""
    told = "; ".join(filter(None, (what, meant, *beside)))
    return [f"{capital(told.rstrip('.'))}. {state_line(job)}"]


def state_line(job: OpenJob) -> str:
    """`Kept 08:14:32.`; or loudly what is in memory only, and the ways out."""
    state = job.not_on_disk
    if state is None:
        return f"{capital(kept_word(job)[1])}."
    in_memory = tr_n(
        "{count} entry is in memory only; move FOLDER goes on in another folder.",
        "{count} entries are in memory only; move FOLDER goes on in another folder.",
        state.pending,
    )
    return f"{not_on_disk(job)} {in_memory}"


def document_lines(document: Document) -> list[str]:
    """A document as text, without the rules drawn under headings: a screen reader would say each of their signs."""
    from cornerwalk.report.text import as_text

    return [line for line in as_text(document).splitlines() if not line or line.strip(_RULES)]
