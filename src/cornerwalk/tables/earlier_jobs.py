"""Earlier jobs: what the library's earlier sessions say about a new one, at the same cost however large the library.

Only the last jobs of the vehicle (or of the kit, for a new vehicle) and of the technician are read, each of them once:
ten thousand others cost only their lines in the list. Hints and lessons are loaded when there are earlier jobs.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import islice
from typing import TYPE_CHECKING

from cornerwalk.assess.assessment import Assessment
from cornerwalk.session import Session
from cornerwalk.standards import Standards
from cornerwalk.store import Library, Summary, parse_time

if TYPE_CHECKING:
    from cornerwalk.tables.hints import Hint, Placing
    from cornerwalk.tables.lessons import Progress


MAX_JOBS = 200
"""Last jobs read of a vehicle, a kit or a technician: far more than any figure needs to be sure."""


@dataclass(frozen=True, slots=True)
class JobIdentity:
    """What earlier jobs have to know of a new one: while it stays equal, so does their hint."""

    session: str
    opened_at: str
    technician: str
    vehicle: str
    registration: str
    kit: str

    @classmethod
    def of(cls, session: Session, user: str) -> JobIdentity:
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
        return hint if hint.has_figures else None


def earlier_jobs(
    library: Library, standards: Standards, job: JobIdentity, progress: Progress | None = None
) -> EarlierJobs:
    """What the jobs opened before this one say about it.

    Args:
        library: where the jobs are.
        standards: what they are judged by.
        job: the new job.
        progress: called after each file that had to be read; what it raises ends the search.

    Raises:
        DiskError: the folder cannot be read.
    """
    earlier = [summary for summary in library.summaries() if _is_earlier(summary, job)]
    return _search(earlier, library, standards, job, progress) if earlier else EarlierJobs()


def _search(
    earlier: list[Summary], library: Library, standards: Standards, job: JobIdentity, progress: Progress | None
) -> EarlierJobs:
    from cornerwalk.tables.hints import hint_for, of_vehicle, placing_of, with_kit
    from cornerwalk.tables.lessons import lessons_of

    same_vehicle = list(_last(of_vehicle(earlier, vehicle=job.vehicle, registration=job.registration)))
    alike = same_vehicle or list(_last(with_kit(earlier, job.kit)))
    own = _last(_by_technician(earlier, job))
    wanted = {summary.name: summary for summary in (*alike, *own)}
    lessons = lessons_of(wanted.values(), library.folder, standards, progress)
    hint = hint_for(lessons, vehicle=job.vehicle, registration=job.registration, kit=job.kit, excluding=job.session)
    return EarlierJobs(
        placing=placing_of(lessons, job.technician),
        hint=hint if hint is not None and hint.has_figures else None,
    )


def _is_earlier(summary: Summary, job: JobIdentity) -> bool:
    return (
        not summary.damaged and summary.id != job.session and parse_time(summary.opened_at) <= parse_time(job.opened_at)
    )


def _by_technician(earlier: Iterable[Summary], job: JobIdentity) -> Iterable[Summary]:
    from cornerwalk.tables.hints import normalized

    name = normalized(job.technician)
    return (summary for summary in earlier if normalized(summary.technician or summary.opened_by) == name)


def _last(summaries: Iterable[Summary]) -> Iterable[Summary]:
    """The first of the list, which has the one worked on last first."""
    return islice(summaries, MAX_JOBS)
