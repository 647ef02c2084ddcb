"""What the library's earlier jobs say to a job: asked in a thread of its own, and no dearer in a large library.

Only the last jobs of the vehicle (or of the kit, for a vehicle that is new) and of the technician are read, and each of
them once: ten thousand others cost nothing but their lines in the list. What learns is loaded when there is something
to learn from.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import islice
from typing import TYPE_CHECKING

from cornerwalk.assess.assessment import Assessment
from cornerwalk.session import Session
from cornerwalk.standards import Standards
from cornerwalk.store import Library, Summary, moment

if TYPE_CHECKING:
    from cornerwalk.tables.learning import Hint, Placing
    from cornerwalk.tables.lessons import Progress

MOST_JOBS = 200
"""Of a vehicle, a kit, a technician the last so many jobs are read: far more than any figure needs to be sure."""


@dataclass(frozen=True, slots=True)
class Asked:
    """A job as earlier jobs are asked about it: while it stays equal, so does what they say."""

    session: str
    opened_at: str
    technician: str
    vehicle: str
    registration: str
    kit: str

    @classmethod
    def of(cls, session: Session, user: str) -> Asked:
        """The job as it stands; `user` records it where no technician is stated."""
        return cls(
            session=session.id,
            opened_at=session.opened_at,
            technician=session.job.technician or user,
            vehicle=session.vehicle.description,
            registration=session.vehicle.registration,
            kit=session.kit.name,
        )


@dataclass(frozen=True, slots=True)
class EarlierJobs:
    """How closely the technician places the tape, and what the vehicle or the kit did before; None where unknown."""

    placing: Placing | None = None
    hint: Hint | None = None

    @property
    def offered(self) -> Placing | None:
        """The placing, where its repeats are enough to take it."""
        return self.placing if self.placing is not None and self.placing.offered_mm is not None else None

    def hint_to(self, session: Session, assessment: Assessment) -> Hint | None:
        """The hint as this job may be shown it: no pressure over the kit's maximum, nothing where air is forbidden."""
        if self.hint is None or assessment.forbids_air:
            return None
        hint = self.hint.within(session.kit.max_kPa)
        return hint if hint.says_something else None


def earlier_jobs(library: Library, standards: Standards, asked: Asked, progress: Progress | None = None) -> EarlierJobs:
    """What the jobs opened before this one say to it.

    Args:
        library: where the jobs are.
        standards: what they are judged by.
        asked: the job.
        progress: told after each file that had to be read; what it raises ends the asking.

    Raises:
        DiskProblem: the folder cannot be read.
    """
    earlier = [summary for summary in library.summaries() if _is_earlier(summary, asked)]
    return _what_they_say(earlier, library, standards, asked, progress) if earlier else EarlierJobs()


def _what_they_say(
    earlier: list[Summary], library: Library, standards: Standards, asked: Asked, progress: Progress | None
) -> EarlierJobs:
    from cornerwalk.tables.learning import hint_for, of_vehicle, placing_of, with_kit
    from cornerwalk.tables.lessons import lessons_of

    on_it = _last(of_vehicle(earlier, vehicle=asked.vehicle, registration=asked.registration))
    jobs = list(on_it) or list(_last(with_kit(earlier, asked.kit)))
    ours = list(_last(_by_technician(earlier, asked)))
    together = {summary.name: summary for summary in (*jobs, *ours)}
    lessons = lessons_of(together.values(), library.folder, standards, progress)
    hint = hint_for(
        lessons, vehicle=asked.vehicle, registration=asked.registration, kit=asked.kit, but_not=asked.session
    )
    return EarlierJobs(
        placing=placing_of(lessons, asked.technician),
        hint=hint if hint is not None and hint.says_something else None,
    )


def _is_earlier(summary: Summary, asked: Asked) -> bool:
    return not summary.damaged and summary.id != asked.session and moment(summary.opened_at) <= moment(asked.opened_at)


def _by_technician(earlier: Iterable[Summary], asked: Asked) -> Iterable[Summary]:
    from cornerwalk.tables.learning import folded

    name = folded(asked.technician)
    return (summary for summary in earlier if folded(summary.technician or summary.opened_by) == name)


def _last(summaries: Iterable[Summary]) -> Iterable[Summary]:
    """The list has the one worked on last first."""
    return islice(summaries, MOST_JOBS)
