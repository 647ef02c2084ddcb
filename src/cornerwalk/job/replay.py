"""A session gone through event by event: the job as it was after each, and how long until the next.

No screen knowledge in here; the replay page draws what it says, with the widgets of the walk itself.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import ClassVar

from cornerwalk.context import Context
from cornerwalk.job.open_job import OpenJob
from cornerwalk.job.replay_steps import Steps
from cornerwalk.session.events import HandedOver, StageBegun
from cornerwalk.session.model import StageKey
from cornerwalk.store import StoredSession
from cornerwalk.store.read_only import SessionSnapshot

STEPS_A_SECOND = (0.5, 1.0, 2.0, 4.0, 8.0)
"""Paces to choose from, slowest first."""

USUAL_PACE = 1.0

LONGEST_PAUSE_S = 60.0
"""At the true pace, a pause longer than this was a meal, a road test or a night: it is cut short."""

CUT_SHORT_S = 2.0
TOGETHER_S = 0.15
"""What was recorded within one second is shown at least this far apart, so that it can be seen to happen."""


@dataclass(frozen=True, slots=True)
class StageStart:
    """Where a stage begins: the number of the event after which it stands."""

    key: StageKey
    number: int


class ReplayedJob(OpenJob):
    """A job that stands after one of its events. Nothing in it can be recorded.

    Attributes:
        past: the file as it is looked back at.
        steps: every event in words, and what it did.
        damage: why the file ends here though it was longer; None where it is whole.
    """

    opens_on: ClassVar[str] = "replay:ReplayScreen"

    def __init__(self, context: Context, stored: StoredSession) -> None:
        self.past = SessionSnapshot(stored)
        super().__init__(context, self.past)
        self.steps = Steps(stored.events, context.standards(), self.wording)
        self.damage = stored.damage

    @property
    def number(self) -> int:
        """The event it stands after, from 1."""
        return len(self.past.events)

    @property
    def last(self) -> int:
        """How many events there are."""
        return len(self.past.stored.events)

    def go_to(self, number: int) -> None:
        """Stand after this event, or the nearest there is."""
        number = max(1, min(self.last, number))
        if number != self.number:
            self.past.go_to(number)
            self._settled()

    def stages(self) -> tuple[StageStart, ...]:
        """Where the stages begin, those that were taken back included, since the technician stood there too."""
        return tuple(
            StageStart((event.payload.stage, event.payload.number), event.seq)
            for event in self.past.stored.events
            if isinstance(event.payload, StageBegun)
        )

    def stage_beside(self, step: int) -> int:
        """The event that begins the stage after (1) or before (-1) where it stands; beyond the last, the end."""
        starts = [start.number for start in self.stages()]
        if step > 0:
            return next((number for number in starts if number > self.number), self.last)
        return next((number for number in reversed(starts) if number < self.number), 1)

    def matching(self, words: str, step: int) -> int | None:
        """The next event (1) or the one before (-1) whose line has all these words; None where there is none."""
        wanted = words.casefold().split()
        numbers = range(self.number + 1, self.last + 1) if step > 0 else range(self.number - 1, 0, -1)
        return next((number for number in numbers if self.has(number, wanted)), None)

    def has(self, number: int, words: list[str]) -> bool:
        """Whether the line of an event has all these words, which are without capitals."""
        step = self.steps.text(number)
        line = f"{number} {step.event.at} {step.event.by} {step.text} {step.remark}".casefold()
        return all(word in line for word in words)

    def handed_over(self) -> HandedOver | None:
        """The last handover up to here."""
        return next((event.payload for event in reversed(self.events) if isinstance(event.payload, HandedOver)), None)

    def true_pause_s(self) -> float:
        """How long it was until the next event, in seconds; a long pause is cut short."""
        if self.number >= self.last:
            return 0.0
        here, after = (self.past.stored.events[number].at for number in (self.number - 1, self.number))
        pause_s = (datetime.fromisoformat(after) - datetime.fromisoformat(here)).total_seconds()
        return CUT_SHORT_S if pause_s > LONGEST_PAUSE_S else max(TOGETHER_S, pause_s)
