"""Hints from earlier jobs: how closely each technician places the tape, and what a vehicle or kit did before.

A hint is offered, never used by itself: a `u_place` to take as the setting, and figures beside a new job. Needs none of
the table engines.
"""

from __future__ import annotations

import math
import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal, Protocol, TypeVar

from cornerwalk.assess.estimate import Estimate
from cornerwalk.assess.uncertainty import PooledMean, pooled_mean
from cornerwalk.quantity import BareUnit
from cornerwalk.session.events import FactStated
from cornerwalk.session.statements import state_fact
from cornerwalk.store import parse_time
from cornerwalk.tables.lessons import Air, Lesson
from cornerwalk.wording.figures import FigureText, Wording
from cornerwalk.wording.names import air_place
from cornerwalk.words import tr, tr_n

MIN_FREEDOM = 10
"""Degrees of freedom from which a spread is offered: it is then sure to one part in five; judgment, no source."""

_NOT_LETTERS = re.compile(r"[\W_]+")


@dataclass(frozen=True, slots=True)
class Placing:
    """How closely a technician puts the tape on the same point, from corners read more than once.

    Attributes:
        technician: as most of the jobs write the name.
        place_mm: pooled standard deviation of one reading, the tape's rounding included.
        freedom: its degrees of freedom.
        corners: corners that were read more than once.
        jobs: jobs with such corners.
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
        """The `u_place` to take as the setting; None while repeats are too few or all alike.

        Repeats that are all alike show a placing finer than the tape's marks, not a perfect one.
        """
        return self.place_mm if self.freedom >= MIN_FREEDOM and self.place_mm > 0 else None


def placings(lessons: Iterable[Lesson]) -> dict[str, Placing]:
    """The placing of every technician who repeated a reading, by name without capitals."""
    by_name: dict[str, list[Lesson]] = defaultdict(list)
    for lesson in lessons:
        by_name[normalized(lesson.technician)].append(lesson)
    pairs = ((name, _placing(own)) for name, own in by_name.items())
    return {name: placing for name, placing in pairs if placing is not None}


def placing_of(lessons: Iterable[Lesson], technician: str) -> Placing | None:
    """The placing of one technician; None where no reading of theirs was repeated."""
    return _placing([lesson for lesson in lessons if normalized(lesson.technician) == normalized(technician)])


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


def placing_fact(placing: Placing, unit: BareUnit) -> FactStated:
    """The offered placing as a fact of a job, in the unit that its heights are read in, with what it rests on.

    Raises:
        ValueError: none is offered.
    """
    if placing.offered_mm is None:
        raise ValueError("no placing is offered")
    text = f"{placing.offered_mm / 25.4:.2g} in" if unit == "inch" else f"{placing.offered_mm:.2g} mm"
    basis = tr_n(
        "from own repeats: {corners} corners read again in one job",
        "from own repeats: {corners} corners read again in {count} jobs",
        placing.jobs,
        corners=placing.corners,
    )
    return replace(state_fact("tape.place", text, unit), basis=basis)


# ---- a vehicle or a kit ----


@dataclass(frozen=True, slots=True)
class PastFigure:
    """A figure from earlier jobs: the last one with its day (ISO 8601), and all of them together."""

    last: Estimate
    last_on: str
    all: PooledMean


@dataclass(frozen=True, slots=True, kw_only=True)
class Hint:
    """What earlier jobs say about a new one: shown beside it with its spread, never a reading.

    Attributes:
        by: what they have in common with the new job: the registration, the description, or only the kit.
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
    slopes: Mapping[str, PastFigure]
    ride_rate: PastFigure | None
    began: Air | None
    left: Air | None
    air_on: str

    def within(self, maximum_kPa: float | None) -> Hint:
        """The hint without pressures above the maximum of the new job's kit: none of those is ever shown."""
        if maximum_kPa is None:
            return self
        began, left = (air if air is None or air.most_kPa <= maximum_kPa else None for air in (self.began, self.left))
        return replace(self, began=began, left=left)

    @property
    def has_figures(self) -> bool:
        """Whether it holds a figure and not only a day."""
        return bool(self.slopes) or self.ride_rate is not None or self.began is not None or self.left is not None


def hint_for(
    lessons: Sequence[Lesson], *, vehicle: str = "", registration: str = "", kit: str = "", excluding: str = ""
) -> Hint | None:
    """The hint of these lessons for this vehicle, else for this kit on any vehicle; None where they have none.

    Args:
        lessons: of the library.
        vehicle: the description, as stated for the new job.
        registration: the registration; a vehicle of another registration is another vehicle.
        kit: the kit's name.
        excluding: id of the new job itself.
    """
    others = sorted(
        (lesson for lesson in lessons if lesson.session != excluding),
        key=lambda lesson: parse_time(lesson.opened_at),
        reverse=True,
    )
    same_kit = list(with_kit(others, kit))
    same_vehicle = list(of_vehicle(others, vehicle=vehicle, registration=registration))
    if same_vehicle:
        by: Literal["registration", "description"] = "registration" if normalized_plate(registration) else "description"
        alike = [lesson for lesson in same_vehicle if not kit or lesson in same_kit]
        return _hint(by, same_vehicle, alike, ride_rate=_past_figure((each, each.ride_rate) for each in same_vehicle))
    return _hint("kit", same_kit, same_kit, ride_rate=None) if same_kit else None


class _Job(Protocol):
    """A lesson or a line of the list: whatever names a vehicle and a kit."""

    @property
    def vehicle(self) -> str: ...
    @property
    def registration(self) -> str: ...
    @property
    def kit(self) -> str: ...


Job = TypeVar("Job", bound=_Job)


def of_vehicle(jobs: Iterable[Job], *, vehicle: str, registration: str) -> Iterator[Job]:
    """The jobs on this vehicle: by its registration, else by its description among vehicles without one."""
    plate, name = normalized_plate(registration), normalized(vehicle)
    if plate:
        return (job for job in jobs if normalized_plate(job.registration) == plate)
    return (job for job in jobs if name and not job.registration and normalized(job.vehicle) == name)


def with_kit(jobs: Iterable[Job], kit: str) -> Iterator[Job]:
    """The jobs with this kit; none where it has no name."""
    name = normalized(kit)
    return (job for job in jobs if name and normalized(job.kit) == name)


def _hint(
    by: Literal["registration", "description", "kit"],
    jobs: Sequence[Lesson],
    alike: Sequence[Lesson],
    *,
    ride_rate: PastFigure | None,
) -> Hint:
    places = dict.fromkeys(place for lesson in alike for place in lesson.slopes)
    slopes = {
        place: past
        for place in places
        if (past := _past_figure((lesson, lesson.slopes.get(place)) for lesson in alike)) is not None
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


def _past_figure(figures: Iterable[tuple[Lesson, Estimate | None]]) -> PastFigure | None:
    """All that is known of a figure; the lessons come the last first."""
    known = [(lesson, figure) for lesson, figure in figures if figure is not None]
    together = pooled_mean(figure for _, figure in known)
    if together is None:
        return None
    lesson, last = known[0]
    return PastFigure(last, lesson.opened_at[:10], together)


def normalized(text: str) -> str:
    """A name without capitals and with single spaces."""
    return " ".join(text.casefold().split())


def normalized_plate(registration: str) -> str:
    """A registration without capitals, spaces and hyphens, which people write as they like."""
    return _NOT_LETTERS.sub("", registration.casefold())


# ---- hints in words ----


def hint_lines(hint: Hint, wording: Wording) -> tuple[str, ...]:
    """A few short lines: last time, what air did, how stiff the rear is, and that none of it was read today."""
    return tuple(_lines(hint, wording))


def hint_brief(hint: Hint, wording: Wording) -> str:
    """The same in one sentence for the start of a job: `0.044 in/psi ± 0.007, began at 20 psi. A hint of …`."""
    parts = []
    for place, slope in hint.slopes.items():
        figure = _estimate_text(slope.last, wording.slope)
        if slope.all.spread is not None:
            scatter = wording.slope(slope.all.spread)
            figure = tr(
                "{figure} ({count} jobs scatter by {spread})", figure=figure, count=slope.all.count, spread=scatter
            )
        parts.append(figure if place == "rear" else tr("{place} {figure}", place=air_place(place), figure=figure))
    if not hint.slopes and hint.ride_rate is not None:
        parts.append(tr("rear ride rate {rate}", rate=_estimate_text(hint.ride_rate.last, wording.rate)))
    if hint.began is not None:
        parts.append(tr("started at {pressure}", pressure=_air_text(hint.began, wording)))
    if hint.left is not None and hint.left != hint.began:
        parts.append(tr("left at {pressure}", pressure=_air_text(hint.left, wording)))
    fields = {"figures": ", ".join(parts), "day": hint.air_on or hint.last_on}
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
        "{key} uses your own tape repeatability, {spread} ({count} corner read again), not the assumed one",
        "{key} uses your own tape repeatability, {spread} ({count} corners read again), not the assumed one",
        placing.corners,
        spread=wording.fine(placing.offered_mm),
        key=key,
    )


def _lines(hint: Hint, wording: Wording) -> Iterator[str]:
    yield _last_time(hint, wording)
    for place, slope in hint.slopes.items():
        name = tr("height gained with pressure")
        figure = name if place == "rear" else tr("{figure}, {place}", figure=name, place=air_place(place))
        yield _figure_line(figure, slope, wording.slope)
    if hint.ride_rate is not None:
        yield _figure_line(tr("rear ride rate"), hint.ride_rate, wording.rate)
    yield tr("This is a hint from past jobs; none of it was read today.")


def _last_time(hint: Hint, wording: Wording) -> str:
    fields = {"day": hint.air_on or hint.last_on}
    text = {
        "registration": tr("last time on this vehicle, {day}", **fields),
        "description": tr("last time on a vehicle of this description, {day}", **fields),
        "kit": tr("last time with this kit, on another vehicle, {day}", **fields),
    }[hint.by]
    if hint.began is not None:
        text = tr("{told}: started at {pressure}", told=text, pressure=_air_text(hint.began, wording))
        if hint.left is not None:
            text = tr("{told}, left at {pressure}", told=text, pressure=_air_text(hint.left, wording))
    return text


def _air_text(air: Air, wording: Wording) -> str:
    if air.both_kPa is not None:
        return wording.pressure(air.both_kPa)
    return tr("{left} left, {right} right", left=wording.pressure(air.left_kPa), right=wording.pressure(air.right_kPa))


def _figure_line(figure: str, past: PastFigure, text_of: FigureText) -> str:
    last = tr("{figure}: {value} last time", figure=figure, value=_estimate_text(past.last, text_of))
    if past.all.spread is None:
        return last
    return tr(
        "{last}; {mean} over {count} jobs, which scatter by {spread} (one standard deviation)",
        last=last,
        mean=_estimate_text(past.all.mean, text_of),
        count=past.all.count,
        spread=text_of(past.all.spread, past.all.spread / math.sqrt(2 * (past.all.count - 1))),
    )


def _estimate_text(estimate: Estimate, text_of: FigureText) -> str:
    return text_of(estimate.value, estimate.u)


def placing_lines(placing: Placing, wording: Wording) -> tuple[str, ...]:
    """What repeats say of placing the tape, and whether it is enough to be taken as the setting."""
    repeats = tr_n("{count} corner read again", "{count} corners read again", placing.corners)
    spread = wording.length(placing.place_mm, placing.u_place_mm)
    first = tr(
        "{technician}'s tape repeatability is {spread} (one standard deviation, from {repeats})",
        technician=placing.technician or tr("nobody named"),
        spread=spread,
        repeats=repeats,
    )
    if placing.offered_mm is not None:
        return (first, tr("This may be taken as the setting in place of the assumed figure."))
    if placing.place_mm == 0:
        return (
            first,
            tr("All repeats agree: your repeatability is finer than this tape shows, so there is no figure."),
        )
    return (first, tr("These are too few to go by; read a few more corners twice."))
