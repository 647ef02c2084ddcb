"""Conditions of a stage: wall mark, leveler setting, checklist answers, and what changed since an earlier stage."""

from __future__ import annotations

from dataclasses import dataclass

from cornerwalk.quantity import read_signed_length
from cornerwalk.session.checklist import Checklist
from cornerwalk.session.events import Answer, CheckAnswered, LevellerSet, MarkRead
from cornerwalk.session.model import CheckAnswer, Session, StageKey
from cornerwalk.session.statements import bare_units
from cornerwalk.session.walk import EntryError

_CONCLUSIVE: tuple[Answer, ...] = ("yes", "no", "not fitted")


def read_mark(session: Session, stage: StageKey, text: str) -> MarkRead:
    """The cut-off on the wall relative to the height of the lamp center when unloaded: `2 below`, `+1/2`.

    Raises:
        QuantityError: the text is not a length.
    """
    above_mm = read_signed_length(text, bare=bare_units(session.job.unit)["length"]).mm
    return MarkRead(stage=stage[0], number=stage[1], entered=text.strip(), above_mm=above_mm)


def set_leveller(stage: StageKey, text: str) -> LevellerSet:
    """The dial position of a manual headlamp leveler.

    Raises:
        EntryError: the text is empty.
    """
    if not text.strip():
        raise EntryError("write the position as shown on the dial")
    return LevellerSet(stage=stage[0], number=stage[1], position=text.strip())


def answer_check(check: str, answer: Answer, note: str = "", stage: StageKey | None = None) -> CheckAnswered:
    """An answer to a checklist question; with the stage, if it is asked at each."""
    name, number = stage if stage is not None else (None, None)
    return CheckAnswered(check=check, answer=answer, note=note.strip(), stage=name, number=number)


def find_answer(session: Session, check: str, stage: StageKey | None = None) -> CheckAnswer | None:
    """The current answer, None if there is none."""
    return next((each for each in session.answers if (each.check, each.stage) == (check, stage)), None)


def previous_stage(session: Session, stage: StageKey) -> StageKey | None:
    """The stage begun before this one; the last stage, if this one is not begun yet."""
    keys = [each.key for each in session.stages]
    if stage not in keys:
        return keys[-1] if keys else None
    place = keys.index(stage)
    return keys[place - 1] if place else None


def repeat_answers(session: Session, checklist: Checklist, stage: StageKey) -> tuple[CheckAnswered, ...]:
    """The previous stage's answers for this stage, without the questions that it has an answer to."""
    before = previous_stage(session, stage)
    if before is None:
        return ()
    given: list[CheckAnswered] = []
    for item in checklist.items:
        earlier = find_answer(session, item.id, before)
        if earlier is not None and earlier.answer in _CONCLUSIVE and not find_answer(session, item.id, stage):
            given.append(answer_check(item.id, earlier.answer, earlier.note, stage))
    return tuple(given)


@dataclass(frozen=True, slots=True)
class ChangedCondition:
    """A condition with another answer at an earlier stage, so that the heights of the two do not compare."""

    check: str
    was: Answer
    was_at: StageKey
    now: Answer


def changed_conditions(session: Session, stage: StageKey) -> tuple[ChangedCondition, ...]:
    """The conditions whose answer at this stage differs from the last one before."""
    order = {each.key: place for place, each in enumerate(session.stages)}
    here = order.get(stage, len(order))
    changed: list[ChangedCondition] = []
    for now in session.answers:
        if now.stage != stage or now.answer not in _CONCLUSIVE:
            continue
        earlier = [
            each
            for each in session.answers
            if each.check == now.check
            and each.stage is not None
            and order.get(each.stage, len(order)) < here
            and each.answer in _CONCLUSIVE
        ]
        if not earlier:
            continue
        last = max(earlier, key=lambda each: order.get(each.stage or stage, 0))
        if last.answer != now.answer and last.stage is not None:
            changed.append(ChangedCondition(now.check, last.answer, last.stage, now.answer))
    return tuple(changed)
