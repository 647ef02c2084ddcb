"""Answers to the checklists → happenings. Which questions there are is the checklists' to say."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import cast, get_args

from cornerwalk.session.checklist import Checklists, load_checklists
from cornerwalk.session.happenings import Answer, CheckAnswered
from cornerwalk.session.parts import StageKey
from cornerwalk.written import Table

ANSWERS: tuple[Answer, ...] = get_args(Answer)
_ANSWER_KEYS = ("answer", "note")


@dataclass(slots=True)
class CheckIds:
    """The questions of the checklists, read on first use: most sheets answer none."""

    checklists: Checklists | None

    def asked(self, *, at_a_stage: bool) -> tuple[str, ...]:
        """Ids of the questions asked at every stage, or of those asked once."""
        if self.checklists is None:
            self.checklists = load_checklists()
        wanted = "each stage" if at_a_stage else "once"
        return tuple(item.id for group in self.checklists.lists if group.asked == wanted for item in group.items)


def read_checks(table: Table, ids: CheckIds, stage: StageKey | None = None) -> Iterator[CheckAnswered]:
    """The table `checks` of the sheet, or of one of its stages."""
    if "checks" not in table:
        return
    checks = table.table("checks", ids.asked(at_a_stage=stage is not None))
    if checks is None:
        return
    for check, value in checks.values.items():
        words = checks.table(check, _ANSWER_KEYS) if isinstance(value, dict) else None
        answer = checks.choice(check, ANSWERS) if words is None else words.choice("answer", ANSWERS)
        if answer is None:
            if words is not None and "answer" not in words:
                checks.wrong(check, "there is no answer; write one of: {choices}", choices=", ".join(ANSWERS))
            continue
        yield CheckAnswered(
            check=check,
            answer=cast("Answer", answer),
            note="" if words is None else words.text("note") or "",
            stage=None if stage is None else stage[0],
            number=None if stage is None else stage[1],
        )
