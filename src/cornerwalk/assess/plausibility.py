"""Plausibility: remarks on one height while it is typed, held beside the heights already taken.

Nothing here refuses a height: a remark asks for a second look while the tape is still in hand. The outlier check of the
finished stage (`outlier`) is stricter and knows more.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from cornerwalk.assess.attitude import expected_fourth_mm
from cornerwalk.assess.components import components_of, graduation_mm
from cornerwalk.assess.estimate import Estimate, usable_estimate
from cornerwalk.assess.stage_results import heights_of
from cornerwalk.assess.usable import positive, usable
from cornerwalk.session.events import ReadingMode
from cornerwalk.session.model import Session, Stage, StageKey
from cornerwalk.session.stages import REFERENCE_STAGE, SIBLING, Corner
from cornerwalk.standards import Standards

RemarkCode = Literal[
    "finer than the tape",
    "unlikely height",
    "looks like cm",
    "looks like mm",
    "repeats differ",
    "far from its other side",
    "side difference changed",
    "far from its earlier stage",
    "off the other three",
]

LIKELY_MM = (300.0, 1300.0)
"""Heights of arch lips of road vehicles, or of a lip above its wheel centre; judgement, no source."""
SIDES_APART_MM = 20.0
"""The widest difference from side to side that a service manual allows (seen); also for the change of it."""
MOVED_MM = 125.0
"""No spring between its stops lets a corner move further; judgement, no source."""
_ROUNDING_MM = 1e-6
"""Eighths of an inch, taken from one another in binary millimetres, miss a bound in eighths by less than this."""
TEN_TIMES_WITHIN_MM = 80.0
"""How near ten times a height, or a tenth, must come to its neighbours to be the same height in another unit."""
OFF_PLANE_U = 3.0
"""The fourth corner of a stage is remarked on beyond this many u: one honest stage in four hundred."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Neighbors:
    """What a height is held beside: each may be missing. `earlier…` are of the latest stage before, mm."""

    graduation_mm: float | None = None
    other_side_mm: float | None = None
    earlier_mm: float | None = None
    earlier_other_side_mm: float | None = None
    same_corner_mm: float | None = None
    """An earlier reading of this corner at this stage."""
    repeats_apart_mm: float | None = None
    """How far readings of one corner may lie apart: the limit `repeat-spread`."""
    from_other_three: Estimate | None = None
    """What the plane through the other three makes of it: `attitude.expected_fourth_mm`."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Remark:
    """A code, and what goes with it: what the height was held against, how far it is off, what it may have been."""

    code: RemarkCode
    against_mm: float | None = None
    apart_mm: float | None = None
    likely_mm: float | None = None


def remark(height_mm: float, neighbors: Neighbors) -> tuple[Remark, ...]:
    """Everything remarkable about a height, the gravest first; nothing for an ordinary one.

    >>> [found.code for found in remark(727.1, Neighbors(other_side_mm=701.7))]
    ['far from its other side']
    """
    if not usable(height_mm):
        return ()
    unit = _other_unit(height_mm, neighbors)
    if unit is not None:
        return (unit,)
    return (*_beside(height_mm, neighbors), *_alone(height_mm, neighbors))


def repeats_differ(apart_mm: float, limit_mm: float) -> bool:
    """Whether readings of one corner lie further apart than they may; at the limit itself they do not.

    >>> repeats_differ(23.25 * 25.4 - 23.125 * 25.4, 3.175), repeats_differ(3.2, 3.175)
    (False, True)
    """
    return abs(apart_mm) > limit_mm + _ROUNDING_MM


def _other_unit(height_mm: float, neighbors: Neighbors) -> Remark | None:
    for neighbor_mm in (neighbors.same_corner_mm, neighbors.other_side_mm, neighbors.earlier_mm):
        if not usable(neighbor_mm):
            continue
        if abs(height_mm * 10 - neighbor_mm) < TEN_TIMES_WITHIN_MM < abs(height_mm - neighbor_mm):
            return Remark(code="looks like cm", against_mm=neighbor_mm, likely_mm=height_mm * 10)
        if abs(height_mm / 10 - neighbor_mm) < TEN_TIMES_WITHIN_MM < abs(height_mm - neighbor_mm):
            return Remark(code="looks like mm", against_mm=neighbor_mm, likely_mm=height_mm / 10)
    return None


def _beside(height_mm: float, neighbors: Neighbors) -> Iterator[Remark]:
    expected = usable_estimate(neighbors.from_other_three)
    if expected is not None and abs(height_mm - expected.value) > OFF_PLANE_U * expected.u:
        yield _apart("off the other three", height_mm, expected.value)
    before_mm, limit_mm = neighbors.same_corner_mm, neighbors.repeats_apart_mm
    if usable(before_mm) and usable(limit_mm) and repeats_differ(height_mm - before_mm, limit_mm):
        yield _apart("repeats differ", height_mm, before_mm)
    if usable(neighbors.other_side_mm):
        yield from _sides(height_mm, neighbors.other_side_mm, neighbors)
    if usable(neighbors.earlier_mm) and abs(height_mm - neighbors.earlier_mm) > MOVED_MM:
        yield _apart("far from its earlier stage", height_mm, neighbors.earlier_mm)


def _sides(height_mm: float, other_side_mm: float, neighbors: Neighbors) -> Iterator[Remark]:
    """A difference that was there before is the vehicle's own; without a stage before, the manuals' limit counts."""
    if usable(neighbors.earlier_mm) and usable(neighbors.earlier_other_side_mm):
        as_before_mm = other_side_mm + neighbors.earlier_mm - neighbors.earlier_other_side_mm
        if abs(height_mm - as_before_mm) > SIDES_APART_MM:
            yield _apart("side difference changed", height_mm, as_before_mm)
    elif abs(height_mm - other_side_mm) > SIDES_APART_MM:
        yield _apart("far from its other side", height_mm, other_side_mm)


def _alone(height_mm: float, neighbors: Neighbors) -> Iterator[Remark]:
    low_mm, high_mm = LIKELY_MM
    if not low_mm <= height_mm <= high_mm:
        yield Remark(code="unlikely height")
    if positive(neighbors.graduation_mm):
        marks = height_mm / neighbors.graduation_mm
        if abs(marks - round(marks)) > 1e-6:
            yield Remark(code="finer than the tape", against_mm=neighbors.graduation_mm)


def _apart(code: RemarkCode, height_mm: float, against_mm: float) -> Remark:
    return Remark(code=code, against_mm=against_mm, apart_mm=height_mm - against_mm)


# ---- neighboring heights ----


def neighbors(
    session: Session, standards: Standards, stage: StageKey, corner: Corner, how: ReadingMode = "first"
) -> Neighbors:
    """Everything a height at this corner of this stage can be compared with.

    A repeat is held beside the readings it joins; a reading that takes their place is not.
    """
    now, before = session.stage(stage), _latest_before(session, stage, corner)
    other = SIBLING[corner]
    return Neighbors(
        graduation_mm=graduation_mm(session, standards),
        other_side_mm=_mean(now, other),
        earlier_mm=_mean(before, corner),
        earlier_other_side_mm=_mean(before, other),
        same_corner_mm=_mean(now, corner) if how == "repeat" else None,
        repeats_apart_mm=standards.limits["repeat-spread"].value,
        from_other_three=_from_other_three(session, standards, now, corner),
    )


def _latest_before(session: Session, stage: StageKey, corner: Corner) -> Stage | None:
    """The latest stage begun before this one (before now, if it was not begun yet) with a reading at the corner."""
    keys = [each.key for each in session.stages]
    earlier = session.stages[: keys.index(stage)] if stage in keys else session.stages
    return next((each for each in reversed(earlier) if each.corner(corner).readings), None)


def _mean(stage: Stage | None, corner: Corner) -> float | None:
    return None if stage is None else stage.corner(corner).mean_mm


def _from_other_three(session: Session, standards: Standards, now: Stage | None, corner: Corner) -> Estimate | None:
    """What the plane through the other three makes of the corner; None at the unloaded stage, which is the plane."""
    reference = session.first_stage(REFERENCE_STAGE)
    if now is None or reference is None or now.key == reference.key:
        return None
    components = components_of(session, standards)
    return expected_fourth_mm(corner, heights_of(now, components).wheel, heights_of(reference, components).wheel)
