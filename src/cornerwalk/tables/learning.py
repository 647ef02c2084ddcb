"""Learning from one's own work: how closely each technician places the tape, and what a vehicle or kit did before.

What was learned is offered, never used by itself: a `u_place` to take as the setting, and a hint beside a new job. It
needs none of the table engines.
"""

from __future__ import annotations

import math
import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal, Protocol, TypeVar

from cornerwalk.assess.uncertainty import Estimate, PooledMean, pooled_mean
from cornerwalk.session.events import FactStated
from cornerwalk.session.model import BareUnit
from cornerwalk.session.statements import state_fact
from cornerwalk.store import parse_time
from cornerwalk.tables.lessons import Air, Lesson
from cornerwalk.words import tr_n

FEWEST_FREEDOM = 10
"""From so many degrees of freedom on a spread is offered: it is then sure to one part in five; judgement, no source."""

_NOT_LETTERS = re.compile(r"[\W_]+")


@dataclass(frozen=True, slots=True)
class Placing:
    """How closely a technician puts the tape on the same point, from corners read more than once.

    Attributes:
        technician: as most of the jobs write the name.
        place_mm: pooled standard deviation of one reading, the tape's rounding included.
        freedom: its degrees of freedom.
        corners: corners that were read more than once.
        jobs: jobs in which.
    """

    technician: str
    place_mm: float
    freedom: int
    corners: int
    jobs: int

    @property
    def u_place_mm(self) -> float:
        """Standard uncertainty of `place_mm` itself: s/√(2ν)."""
        return self.place_mm / math.sqrt(2 * self.freedom)

    @property
    def offered_mm(self) -> float | None:
        """The `u_place` to take as the setting; None while there are too few repeats, or all of them are alike.

        Repeats that are all alike say that the placing is finer than the tape shows, not that it is perfect.
        """
        return self.place_mm if self.freedom >= FEWEST_FREEDOM and self.place_mm > 0 else None


def placings(lessons: Iterable[Lesson]) -> dict[str, Placing]:
    """The placing of every technician who repeated a reading, by name without capitals."""
    by_name: dict[str, list[Lesson]] = defaultdict(list)
    for lesson in lessons:
        by_name[folded(lesson.technician)].append(lesson)
    found = ((name, _placing(taught)) for name, taught in by_name.items())
    return {name: placing for name, placing in found if placing is not None}


def placing_of(lessons: Iterable[Lesson], technician: str) -> Placing | None:
    """The placing of one technician; None where no reading of theirs was repeated."""
    return _placing([lesson for lesson in lessons if folded(lesson.technician) == folded(technician)])


def _placing(lessons: Sequence[Lesson]) -> Placing | None:
    """All jobs of one technician together, as `assess.uncertainty.pooled_spread` pools corners: s² = Σνs²/Σν."""
    spreads = [lesson.placing_mm for lesson in lessons if lesson.placing_mm is not None]
    freedom = sum(spread.freedom for spread in spreads)
    if not freedom:
        return None
    squares = math.fsum(spread.freedom * spread.sd**2 for spread in spreads)
    names = [lesson.technician for lesson in lessons]
    return Placing(
        technician=max(names, key=names.count),
        place_mm=math.sqrt(squares / freedom),
        freedom=freedom,
        corners=sum(lesson.corners_repeated for lesson in lessons),
        jobs=len(spreads),
    )


def taken(placing: Placing, unit: BareUnit) -> FactStated:
    """The offered placing as a fact of a job, in the unit that its heights are read in, with what it rests on.

    Raises:
        ValueError: none is offered.
    """
    if placing.offered_mm is None:
        raise ValueError("no placing is offered")
    shown = f"{placing.offered_mm / 25.4:.2g} in" if unit == "inch" else f"{placing.offered_mm:.2g} mm"
    basis = tr_n(
        "from own repeats: {corners} corners read again in one job",
        "from own repeats: {corners} corners read again in {count} jobs",
        placing.jobs,
        corners=placing.corners,
    )
    return replace(state_fact("tape.place", shown, unit), basis=basis)


# ---- what a vehicle or a kit did before ----


@dataclass(frozen=True, slots=True)
class Learned:
    """A figure from earlier jobs: the last one and its day (ISO 8601), and all of them together."""

    last: Estimate
    last_on: str
    all: PooledMean


@dataclass(frozen=True, slots=True, kw_only=True)
class Hint:
    """What earlier jobs say to a new one. It is shown beside it with its spread, and is never a reading.

    Attributes:
        by: what the earlier jobs have in common with the new one: the registration, the description, only the kit.
        jobs: how many there are.
        last_on: the day of the last of them (ISO 8601).
        slopes: height gained with pressure, mm/kPa, by line of air; with the new job's kit, where that is stated.
        ride_rate: of the rear, N/mm; of the vehicle alone.
        began: air of the first trial of the last job with that kit, on the day `air_on`.
        left: air of the last stage of that job.
    """

    by: Literal["registration", "description", "kit"]
    jobs: int
    last_on: str
    slopes: Mapping[str, Learned]
    ride_rate: Learned | None
    began: Air | None
    left: Air | None
    air_on: str

    def within(self, maximum_kPa: float | None) -> Hint:
        """The same without pressures above what the kit of the new job allows: none of those is ever shown as one."""
        if maximum_kPa is None:
            return self
        began, left = (air if air is None or air.most_kPa <= maximum_kPa else None for air in (self.began, self.left))
        return replace(self, began=began, left=left)

    @property
    def says_something(self) -> bool:
        """Whether there is a figure in it, and not only a day."""
        return bool(self.slopes) or self.ride_rate is not None or self.began is not None or self.left is not None


def hint_for(
    lessons: Sequence[Lesson], *, vehicle: str = "", registration: str = "", kit: str = "", but_not: str = ""
) -> Hint | None:
    """What the lessons say of this vehicle, else of this kit on any vehicle; None where they say nothing.

    Args:
        lessons: of the library.
        vehicle: the description, as stated for the new job.
        registration: the registration; a vehicle of another registration is another vehicle.
        kit: the kit's name.
        but_not: id of the new job itself.
    """
    others = sorted(
        (lesson for lesson in lessons if lesson.session != but_not),
        key=lambda lesson: parse_time(lesson.opened_at),
        reverse=True,
    )
    same_kit = list(with_kit(others, kit))
    same_vehicle = list(of_vehicle(others, vehicle=vehicle, registration=registration))
    if same_vehicle:
        by: Literal["registration", "description"] = "registration" if plate_of(registration) else "description"
        alike = [lesson for lesson in same_vehicle if not kit or lesson in same_kit]
        return _hint(by, same_vehicle, alike, ride_rate=_learned((each, each.ride_rate) for each in same_vehicle))
    return _hint("kit", same_kit, same_kit, ride_rate=None) if same_kit else None


class _Job(Protocol):
    """What tells a job's vehicle and kit: of a lesson, or of a line of the list."""

    @property
    def vehicle(self) -> str: ...
    @property
    def registration(self) -> str: ...
    @property
    def kit(self) -> str: ...


Job = TypeVar("Job", bound=_Job)


def of_vehicle(jobs: Iterable[Job], *, vehicle: str, registration: str) -> Iterator[Job]:
    """The jobs on this vehicle: by its registration, else by its description among vehicles without one."""
    plate, name = plate_of(registration), folded(vehicle)
    if plate:
        return (job for job in jobs if plate_of(job.registration) == plate)
    return (job for job in jobs if name and not job.registration and folded(job.vehicle) == name)


def with_kit(jobs: Iterable[Job], kit: str) -> Iterator[Job]:
    """The jobs with this kit; none where it has no name."""
    name = folded(kit)
    return (job for job in jobs if name and folded(job.kit) == name)


def _hint(
    by: Literal["registration", "description", "kit"],
    jobs: Sequence[Lesson],
    alike: Sequence[Lesson],
    *,
    ride_rate: Learned | None,
) -> Hint:
    places = dict.fromkeys(place for lesson in alike for place in lesson.slopes)
    slopes = {
        place: learned
        for place in places
        if (learned := _learned((lesson, lesson.slopes.get(place)) for lesson in alike)) is not None
    }
    last = next((lesson for lesson in alike if lesson.began is not None or lesson.left is not None), None)
    return Hint(
        by=by,
        jobs=len(jobs),
        last_on=jobs[0].opened_at[:10],
        slopes=slopes,
        ride_rate=ride_rate,
        began=last.began if last is not None else None,
        left=last.left if last is not None else None,
        air_on=last.opened_at[:10] if last is not None else "",
    )


def _learned(found: Iterable[tuple[Lesson, Estimate | None]]) -> Learned | None:
    """All that is known of a figure; the lessons come the last first."""
    known = [(lesson, figure) for lesson, figure in found if figure is not None]
    together = pooled_mean(figure for _, figure in known)
    if together is None:
        return None
    lesson, last = known[0]
    return Learned(last, lesson.opened_at[:10], together)


def folded(text: str) -> str:
    """A name without capitals and with single spaces."""
    return " ".join(text.casefold().split())


def plate_of(registration: str) -> str:
    """A registration without capitals, spaces and hyphens, which people write as they like."""
    return _NOT_LETTERS.sub("", registration.casefold())
