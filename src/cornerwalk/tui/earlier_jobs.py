"""What the library's earlier jobs say to the one that is open, as lines beside its results; never a reading."""

from __future__ import annotations

from dataclasses import dataclass

from cornerwalk.fleet.hint_words import hint_lines, placing_lines
from cornerwalk.fleet.learning import hint_for, learn, placing_of
from cornerwalk.store import StoreError
from cornerwalk.tui.job import OpenJob


@dataclass(frozen=True, slots=True)
class EarlierJobs:
    """How closely this technician places the tape, and what this vehicle and kit did last time; empty where unknown."""

    placing: tuple[str, ...] = ()
    hint: tuple[str, ...] = ()


def earlier_jobs(job: OpenJob) -> EarlierJobs:
    """Read every earlier job of the library, or what is remembered of them; for a thread of its own.

    A library that cannot be read teaches nothing.
    """
    session, wording = job.session, job.wording
    try:
        lessons = learn(job.context.library, job.standards)
    except StoreError:
        return EarlierJobs()
    placing = placing_of(lessons, session.job.technician or job.context.user)
    hint = hint_for(
        lessons,
        vehicle=session.vehicle.description,
        registration=session.vehicle.registration,
        kit=session.kit.name,
        but_not=session.id,
    )
    return EarlierJobs(
        placing=() if placing is None else placing_lines(placing, wording),
        hint=() if hint is None else hint_lines(hint, wording),
    )
