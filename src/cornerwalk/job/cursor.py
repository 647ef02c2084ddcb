"""Cursor: where somebody is in a chapter, which question is in hand, and what was answered of it so far.

A question in hand stays the one it was while it is answered, however the job changes by its own answers; what is
listed beside it is always as the job stands.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence

from cornerwalk.job.question import Part, Question, Texts
from cornerwalk.session.events import (
    CheckAnswered,
    Event,
    FactStated,
    HandedOver,
    JobReopened,
    JointSoaped,
    LeakRead,
    LevellerSet,
    LoadStated,
    MarkRead,
    StageBegun,
    TorqueRecorded,
    WeighingRecorded,
)
from cornerwalk.session.log import RecordedEvent, active_events
from cornerwalk.session.model import StageKey


class Cursor:
    """The lines of a chapter and the way through them.

    Attributes:
        lines: as the job stands.
        line: the one in hand; None at the end of the chapter.
        given: what was answered of it so far.
    """

    def __init__(self, listed: Callable[[], tuple[Question, ...]], latest: Iterable[str] = ()) -> None:
        """Go on after the line that was answered last: `latest` are ids as they were answered, the last one first."""
        self._listed = listed
        self.lines = listed()
        self.given: Texts = ()
        self.line: Question | None = self._where_left(latest)

    def _where_left(self, latest: Iterable[str]) -> Question | None:
        """The line that was left half answered, else the open one after the last answer, else the first one open."""
        by_id = {line.id: line for line in self.lines}
        last = next((by_id[line_id] for line_id in latest if line_id in by_id), None)
        if last is not None and last.half:
            return last
        after = self._after(last) if last is not None else self.lines
        following = next((line for line in after if line.mark == "open"), None)
        return following or self._first_open() or next(iter(self.lines), None)

    @property
    def part(self) -> Part | None:
        """The question in hand; None at the end of the chapter."""
        return self.line.part(self.given) if self.line is not None else None

    @property
    def open_lines(self) -> int:
        """How many lines are not answered."""
        return sum(line.mark == "open" for line in self.lines)

    def refresh(self) -> None:
        """List the lines as the job stands now; the one in hand stays as it is while it is being answered."""
        self.lines = self._listed()
        if self.line is not None and not self.given:
            here = self.line.id
            self.line = next((line for line in self.lines if line.id == here), None) or self._first_open()

    def answer(self, text: str) -> None:
        """This answer is given; the next question of the line follows, or the next open line."""
        self.given = (*self.given, text)
        if self.part is None:
            self.leave()

    def leave(self) -> None:
        """The line is done: on to the next open one after it, or to the end of the chapter."""
        done, self.given = self.line, ()
        self.lines = self._listed()
        after = self._after(done)
        self.line = next((line for line in after if line.mark == "open"), None)

    def go_on(self) -> None:
        """The line in hand is answered; where only half of it is, it stays."""
        if self.line is not None and not self.line.half:
            self.leave()

    def pass_over(self) -> None:
        """The line is left as it is: on to the one after it, whatever stands there."""
        passed, self.given = self.line, ()
        self.line = next(iter(self._after(passed)), None)

    def drop(self) -> bool:
        """Begin the line in hand again; whether anything was dropped."""
        dropped = bool(self.given)
        self.given = ()
        self.refresh()
        return dropped

    def go(self, line_id: str) -> None:
        """Ask this line."""
        self.given = ()
        self.lines = self._listed()
        self.line = next((line for line in self.lines if line.id == line_id), self.line)

    def turn(self, step: int) -> None:
        """The line so many after the one in hand, or before it; no farther than the ends."""
        self._go_to(self._place() + step)

    def turn_group(self, step: int) -> None:
        """The first line of the next heading, or of the one before."""
        groups = list(dict.fromkeys(line.group for line in self.lines))
        if not groups:
            return
        here = groups.index(self.line.group) if self.line is not None and self.line.group in groups else len(groups)
        wanted = groups[max(0, min(len(groups) - 1, here + step))]
        self._go_to(next(place for place, line in enumerate(self.lines) if line.group == wanted))

    def _go_to(self, place: int) -> None:
        self.given = ()
        self.lines = self._listed()
        if self.lines:
            self.line = self.lines[max(0, min(len(self.lines) - 1, place))]

    def _place(self) -> int:
        ids = [line.id for line in self.lines]
        return ids.index(self.line.id) if self.line is not None and self.line.id in ids else len(ids)

    def _after(self, line: Question | None) -> tuple[Question, ...]:
        """The lines after this one; all of them if it is no longer there."""
        ids = [each.id for each in self.lines]
        if line is None or line.id not in ids:
            return self.lines
        return self.lines[ids.index(line.id) + 1 :]

    def _first_open(self) -> Question | None:
        return next((line for line in self.lines if line.mark == "open"), None)


# ---- Which line of a chapter was answered last, so that whoever comes back goes on where they left off ----


def latest_lines(events: Sequence[RecordedEvent], stage: StageKey | None = None) -> Iterator[str]:
    """The ids of lines as they were answered, the last one first; of one stage where lines belong to a stage."""
    for event in reversed(active_events(events)):
        line = line_of(event.payload, stage)
        if line:
            yield line


def line_of(what: Event, stage: StageKey | None = None) -> str:
    """The id of the line that an event answers; "" for none, or for one of another stage."""
    match what:
        case CheckAnswered() | MarkRead() | LevellerSet():
            answered = None if what.stage is None else (what.stage, what.number or 1)
            if answered != stage:
                return ""
            return (
                what.check if isinstance(what, CheckAnswered) else "mark" if isinstance(what, MarkRead) else "leveller"
            )
        case FactStated(name=name):
            return name
        case LoadStated(name=name):
            return f"load:{name}"
        case TorqueRecorded(joint=joint):
            return f"torque:{joint}"
        case WeighingRecorded(weighing=weighing):
            return f"weighing.{weighing}"
        case LeakRead(line=line, moment=moment):
            return f"leak.{line}.{moment}"
        case JointSoaped(joint=joint):
            return f"soap.{joint}"
        case StageBegun(stage=name):
            return f"stage.{name}"
        case HandedOver():
            return "handover"
        case JobReopened():
            return "reopen"
        case _:
            return ""
