"""Checklist answers in words: each question with its answer, and whether it is the answer hoped for."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

from cornerwalk.session.model import CheckAnswer, Session
from cornerwalk.wording.names import answer_word, stage_title
from cornerwalk.words import tr

if TYPE_CHECKING:
    from cornerwalk.session.checklist import ChecklistItem, Checklists


@dataclass(frozen=True, slots=True)
class AnswerText:
    """A question and its answer; `matters` where the answer is not the one hoped for."""

    question: str
    answer: str
    stage: str
    matters: bool


def answer_texts(session: Session, checklists: Checklists | None = None) -> tuple[AnswerText, ...]:
    """Every answer that counts, in the order given. Without the shop's lists the packaged ones give the questions."""
    items = _items(checklists) if checklists is not None else _packaged_items()
    return tuple(_text(answer, items.get(answer.check)) for answer in session.answers)


def question_of(check: str) -> str:
    """The question of a packaged checklist by its id; the id itself where the shop asked one of its own."""
    item = _packaged_items().get(check)
    return tr(item.question) if item is not None else check


def line_name(check: str) -> str:
    """What the line of a packaged checklist's item is called; the words of the id where the shop made it."""
    item = _packaged_items().get(check)
    return tr(item.line_name) if item is not None else check.replace("-", " ")


def _items(checklists: Checklists) -> dict[str, ChecklistItem]:
    return {item.id: item for checklist in checklists.lists for item in checklist.items}


@cache
def _packaged_items() -> dict[str, ChecklistItem]:
    from cornerwalk.session.checklist import load_checklists

    return _items(load_checklists())


def _text(answer: CheckAnswer, item: ChecklistItem | None) -> AnswerText:
    note = f" ({answer.note})" if answer.note else ""
    return AnswerText(
        question=tr(item.question) if item is not None else answer.check,
        answer=answer_word(answer.answer) + note,
        stage=stage_title(answer.stage) if answer.stage is not None else "",
        matters=item is None or (item.good != "" and answer.answer not in (item.good, "not fitted")),
    )
