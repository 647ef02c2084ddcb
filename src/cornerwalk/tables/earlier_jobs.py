"""What the library's earlier jobs say to a job: asked in a thread of its own, and no dearer in a large library.

Only the last jobs of the vehicle (or of the kit, for a vehicle that is new) and of the technician are read, and each of
them once: ten thousand others cost nothing but their lines in the list. What learns is loaded when there is something
to learn from.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from itertools import islice
from typing import TYPE_CHECKING

from cornerwalk.assess.assessment import Assessment
from cornerwalk.assess.uncertainty import Estimate
from cornerwalk.session import Session
from cornerwalk.standards import Standards
from cornerwalk.store import Library, Summary, parse_time
from cornerwalk.tables.learning import Hint, Learned, Placing
from cornerwalk.tables.lessons import Air
from cornerwalk.wording.figures import Wording
from cornerwalk.wording.names import air_place
from cornerwalk.words import tr, tr_n

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
        DiskError: the folder cannot be read.
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
    return (
        not summary.damaged
        and summary.id != asked.session
        and parse_time(summary.opened_at) <= parse_time(asked.opened_at)
    )


def _by_technician(earlier: Iterable[Summary], asked: Asked) -> Iterable[Summary]:
    from cornerwalk.tables.learning import folded

    name = folded(asked.technician)
    return (summary for summary in earlier if folded(summary.technician or summary.opened_by) == name)


def _last(summaries: Iterable[Summary]) -> Iterable[Summary]:
    """The list has the one worked on last first."""
    return islice(summaries, MOST_JOBS)


# ---- hints in words ----


def hint_lines(hint: Hint, wording: Wording) -> tuple[str, ...]:
    """A few short lines: last time, what air did, how stiff the rear is, and that none of it was read today."""
    return tuple(_lines(hint, wording))


def hint_brief(hint: Hint, wording: Wording) -> str:
    """The same in one sentence for the start of a job: `0.044 in/psi ± 0.007, began at 20 psi. A hint of …`."""
    told = []
    for place, slope in hint.slopes.items():
        figure = _value(slope.last, wording.slope)
        if slope.all.spread is not None:
            scatter = wording.slope(slope.all.spread)
            figure = tr(
                "{figure} ({count} jobs scatter by {spread})", figure=figure, count=slope.all.count, spread=scatter
            )
        told.append(figure if place == "rear" else tr("{place} {figure}", place=air_place(place), figure=figure))
    if not hint.slopes and hint.ride_rate is not None:
        told.append(tr("rear ride rate {rate}", rate=_value(hint.ride_rate.last, wording.rate)))
    if hint.began is not None:
        told.append(tr("began at {pressure}", pressure=_air(hint.began, wording)))
    if hint.left is not None and hint.left != hint.began:
        told.append(tr("left at {pressure}", pressure=_air(hint.left, wording)))
    fields = {"figures": ", ".join(told), "day": hint.air_on or hint.last_on}
    return {
        "registration": tr("{figures}. A hint of {day}, this vehicle.", **fields),
        "description": tr("{figures}. A hint of {day}, a vehicle described so.", **fields),
        "kit": tr("{figures}. A hint of {day}, this kit on another vehicle.", **fields),
    }[hint.by]


def placing_brief(placing: Placing, wording: Wording, key: str) -> str:
    """The offer in one sentence; "" where nothing is offered."""
    if placing.offered_mm is None:
        return ""
    return tr_n(
        "{key} takes your own placing of the tape, {spread} ({count} corner read again), not the assumed one",
        "{key} takes your own placing of the tape, {spread} ({count} corners read again), not the assumed one",
        placing.corners,
        spread=wording.fine(placing.offered_mm),
        key=key,
    )


def _lines(hint: Hint, wording: Wording) -> Iterator[str]:
    yield _last_time(hint, wording)
    for place, slope in hint.slopes.items():
        name = tr("height gained with pressure")
        figure = name if place == "rear" else tr("{figure}, {place}", figure=name, place=air_place(place))
        yield _learned(figure, slope, wording.slope)
    if hint.ride_rate is not None:
        yield _learned(tr("rear ride rate"), hint.ride_rate, wording.rate)
    yield tr("This is a hint from earlier jobs; nothing of it was read today.")


def _last_time(hint: Hint, wording: Wording) -> str:
    fields = {"day": hint.air_on or hint.last_on}
    told = {
        "registration": tr("last time on this vehicle, {day}", **fields),
        "description": tr("last time on a vehicle of this description, {day}", **fields),
        "kit": tr("last time with this kit, on another vehicle, {day}", **fields),
    }[hint.by]
    if hint.began is not None:
        told = tr("{told}: began at {pressure}", told=told, pressure=_air(hint.began, wording))
        if hint.left is not None:
            told = tr("{told}, left at {pressure}", told=told, pressure=_air(hint.left, wording))
    return told


def _air(air: Air, wording: Wording) -> str:
    if air.both_kPa is not None:
        return wording.pressure(air.both_kPa)
    return tr("{left} left, {right} right", left=wording.pressure(air.left_kPa), right=wording.pressure(air.right_kPa))


def _learned(figure: str, learned: Learned, told: Callable[[float, float], str]) -> str:
    last = tr("{figure}: {value} last time", figure=figure, value=_value(learned.last, told))
    if learned.all.spread is None:
        return last
    return tr(
        "{last}; {mean} over {count} jobs, which scatter by {spread} (one standard deviation)",
        last=last,
        mean=_value(learned.all.mean, told),
        count=learned.all.count,
        spread=told(learned.all.spread, learned.all.spread / math.sqrt(2 * (learned.all.count - 1))),
    )


def _value(estimate: Estimate, told: Callable[[float, float], str]) -> str:
    return told(estimate.value, estimate.u)


def placing_lines(placing: Placing, wording: Wording) -> tuple[str, ...]:
    """What repeats say of placing the tape, and whether it is enough to be taken as the setting."""
    repeats = tr_n("{count} corner read again", "{count} corners read again", placing.corners)
    spread = wording.length(placing.place_mm, placing.u_place_mm)
    first = tr(
        "{technician} puts the tape on the same point within {spread} (one standard deviation, from {repeats})",
        technician=placing.technician or tr("nobody named"),
        spread=spread,
        repeats=repeats,
    )
    if placing.offered_mm is not None:
        return (first, tr("This may be taken as the setting in place of the assumed figure."))
    if placing.place_mm == 0:
        return (first, tr("All repeats are alike: the placing is finer than this tape shows, and no figure follows."))
    return (first, tr("These are too few to go by; read a few more corners twice."))
