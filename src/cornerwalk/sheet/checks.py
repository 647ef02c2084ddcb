"""Answers to the checklists → happenings. Which questions there are is the checklists' to say."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import cast, get_args

from cornerwalk.session.checklist import Asked, Checklists, load_checklists
from cornerwalk.session.happenings import Answer, CheckAnswered
from cornerwalk.session.parts import StageKey
from cornerwalk.textfiles import Table

ANSWERS: tuple[Answer, ...] = get_args(Answer)
_ANSWER_KEYS = ("answer", "note")


@dataclass(slots=True)
class CheckIds:
    """The questions of the checklists, read on first use: most sheets answer none."""

    checklists: Checklists | None

    def asked(self, when: Asked) -> tuple[str, ...]:
        """Ids of the questions asked once, or of those asked at every stage."""
        if self.checklists is None:
            self.checklists = load_checklists()
        return tuple(item.id for group in self.checklists.lists if group.asked == when for item in group.items)


def read_checks(table: Table, ids: CheckIds, stage: StageKey | None = None) -> Iterator[CheckAnswered]:
    """The table `checks` of the sheet, or of one of its stages."""
    if "checks" not in table:
        return
    once, each_stage = ids.asked("once"), ids.asked("each stage")
    checks = table.table("checks", once + each_stage)
    if checks is None:
        return
    asked = once if stage is None else each_stage
    for check in checks.values:
        if check in asked:
            yield from _answered(checks, check, stage)
        elif check in each_stage:
            checks.wrong(check, "this is asked at every stage: write it there, checks = {{ {check} = … }}", check=check)
        elif check in once:
            checks.wrong(check, "this is asked once: write it in a table [checks] of its own")


def _answered(checks: Table, check: str, stage: StageKey | None) -> Iterator[CheckAnswered]:
    words = checks.table(check, _ANSWER_KEYS) if isinstance(checks.values[check], dict) else None
    answer = checks.choice(check, ANSWERS) if words is None else words.choice("answer", ANSWERS)
    if answer is not None:
        yield CheckAnswered(
            check=check,
            answer=cast("Answer", answer),
            note="" if words is None else words.text("note") or "",
            stage=None if stage is None else stage[0],
            number=None if stage is None else stage[1],
        )
    elif words is not None and "answer" not in words:
        checks.wrong(check, "there is no answer; write one of: {choices}", choices=", ".join(ANSWERS))
