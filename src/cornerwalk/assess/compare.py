"""Stage comparison: two stages of one job side by side, every difference with its uncertainty.

    d = other − one        means something where |d| > U = 2u(d)

Both stages were counted from the same unloaded readings, which drop out of the difference (see `StageEstimates`). For
two jobs see `compare_jobs`.

Of twenty differences one lies beyond its U by chance alone (k = 2, about 95 %).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from cornerwalk.assess.assessment import Assessment, StageResult
from cornerwalk.assess.attitude import Four, attitude, change_at_mm, changes, difference, stance, tilt_deg
from cornerwalk.assess.estimate import COVERAGE, Estimate, estimate, exact
from cornerwalk.assess.headlamp import LampFacts, beam
from cornerwalk.assess.usable import root_sum_square
from cornerwalk.session.model import GROUND, Session, StageKey
from cornerwalk.session.stages import CORNERS, LOADED_WITH_AIR, Corner

FigureName = Literal[
    "height LF",
    "height RF",
    "height RR",
    "height LR",
    "front height",
    "rear height",
    "rake",
    "front change",
    "rear change",
    "nose up",
    "left up",
    "ball",
    "beam",
    "wall",
    "mark",
    "measured aim",
    "slope",
    "pressure",
    "ride rate",
    "leak rate",
]
"""Lengths and changes mm, tilts and aim degrees, slope mm/kPa, pressure kPa, ride rate N/mm, leak rate kPa/h."""

HEIGHT_OF: Mapping[Corner, FigureName] = {
    "LF": "height LF",
    "RF": "height RF",
    "RR": "height RR",
    "LR": "height LR",
}

Caution = Literal[
    "other day",
    "other vehicle",
    "other datum",
    "other loads",
    "other kit",
    "other wall",
    "other pressure",
    "levelling",
    "place assumed",
]
"""What to know before a difference is believed."""

BY_CHANCE = 1 / 20
"""Part of honest differences that lie beyond U = 2u although nothing differs."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """A figure in both, and how they differ: `difference` is the other less the one.

    `place` tells lines of air apart (rear, LR, RR; both, left, right). None: not known there, or not to be compared.
    """

    figure: FigureName
    place: str = ""
    one: Estimate | None
    other: Estimate | None
    difference: Estimate | None

    @property
    def means_something(self) -> bool | None:
        """Whether it is larger than its U; None where there is none."""
        return None if self.difference is None else abs(self.difference.value) > self.difference.U


@dataclass(frozen=True, slots=True, kw_only=True)
class StagePair:
    """A stage of the one beside a stage of the other."""

    one: StageResult
    other: StageResult
    differences: tuple[Difference, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """Stages side by side, the figures of the whole jobs, and what to know before they are believed.

    `screen_mm` is the distance of the wall that beam, wall and mark are told for.
    """

    pairs: tuple[StagePair, ...]
    whole: tuple[Difference, ...] = ()
    cautions: tuple[Caution, ...] = ()
    screen_mm: float

    @property
    def found(self) -> tuple[Difference, ...]:
        """Every difference that could be taken."""
        stages = (each for pair in self.pairs for each in pair.differences)
        return tuple(each for each in (*stages, *self.whole) if each.difference is not None)


@dataclass(frozen=True, slots=True)
class AssessedJob:
    """A session and what it means."""

    session: Session
    assessment: Assessment

    def u(self, component: str) -> float:
        """The standard uncertainty of a component, in its unit."""
        return next((row.u for row in self.assessment.components if row.component == component), 0.0)

    def stated(self, component: str, value: float | None) -> Estimate | None:
        """A stated value with the u of its component, in its unit; None where it is not stated."""
        return None if value is None else Estimate(value, self.u(component))

    def stage(self, key: StageKey) -> StageResult:
        """The result of a stage.

        Raises:
            KeyError: the session has no such stage.
        """
        found = self.assessment.stage(key)
        if found is None:
            raise KeyError(key)
        return found


def compare_stages(job: AssessedJob, one: StageKey, other: StageKey) -> Comparison:
    """From one stage to another of the same job.

    Raises:
        KeyError: the session has no such stage.
        ValueError: the two are one stage.
    """
    if one == other:
        raise ValueError("a stage does not differ from itself")
    before, after = job.stage(one), job.stage(other)
    return Comparison(
        pairs=(StagePair(one=before, other=after, differences=tuple(_from_to(job, before, after))),),
        cautions=tuple(stage_cautions(job, (before, after))),
        screen_mm=job.assessment.screen_mm,
    )


def _from_to(job: AssessedJob, one: StageResult, other: StageResult) -> Iterator[Difference]:
    vehicle, was, now = job.session.vehicle, one.estimates, other.estimates
    wheelbase = job.stated("wheelbase", vehicle.wheelbase_mm)
    moved, sides = changes(now.axle, was.axle), changes(now.wheel, was.wheel)
    body = attitude(moved, None, None)
    front, rear = difference(now.front, was.front), difference(now.rear, was.rear)
    if job.session.job.datum == GROUND:
        front, rear = body.front_mm, body.rear_mm
    lit = beam(front, rear, wheelbase, _lamps_at(job, one))
    overhang_mm = vehicle.ball_overhang_mm
    behind = job.stated("overhang", None if overhang_mm is None else -overhang_mm)
    direct: dict[FigureName, Estimate | None] = {
        **{HEIGHT_OF[corner]: moved[corner] for corner in CORNERS},
        "front height": body.front_mm,
        "rear height": body.rear_mm,
        "rake": difference(body.front_mm, body.rear_mm),
        "nose up": tilt_deg(front, rear, wheelbase),
        "left up": attitude(sides, None, exact(vehicle.arch_width_mm)).left_up_deg,
        "ball": change_at_mm(behind, front, rear, wheelbase),
        "beam": lit.shift_mm,
        "wall": lit.wall_mm,
    }
    for name, found in direct.items():
        if found is not None:
            yield Difference(figure=name, one=figure(name, one), other=figure(name, other), difference=found)
    first, second = _mark(job, one), _mark(job, other)
    if first is not None and second is not None:
        yield Difference(figure="mark", one=first, other=second, difference=difference(second, first))


def _lamps_at(job: AssessedJob, stage: StageResult) -> LampFacts:
    """The lamps as they are at a stage, which the beam's movement is then counted from."""
    vehicle = job.session.vehicle
    return LampFacts(
        screen_mm=job.stated("wall", job.assessment.screen_mm),
        aim_deg=None if stage.lamp is None else estimate(stage.lamp.aim_deg, stage.lamp.u_aim_deg),
        height_mm=job.stated("lamp place", vehicle.lamp_height_mm),
        ahead_mm=job.stated("lamp place", vehicle.lamp_ahead_mm),
    )


def _mark(job: AssessedJob, stage: StageResult) -> Estimate | None:
    recorded = job.session.stage(stage.key)
    if recorded is None or recorded.mark_mm is None:
        return None
    return Estimate(recorded.mark_mm, root_sum_square(job.assessment.reading.u_read_mm, job.u("mark")))


def figure(name: FigureName, stage: StageResult) -> Estimate | None:
    """A figure of one stage, with its own u; None where it is not known, or is none of a stage."""
    if name in _CORNER_OF:
        return heights_of(stage)[_CORNER_OF[name]]
    match name:
        case "front height":
            return stance(heights_of(stage)).front_mm
        case "rear height":
            return stance(heights_of(stage)).rear_mm
    owner = stage.lamp if name in _OF_LAMP else stage
    attributes = _OF_LAMP.get(name) or _OF_STAGE.get(name)
    if owner is None or attributes is None:
        return None
    value, u = attributes
    return estimate(getattr(owner, value), getattr(owner, u))


_CORNER_OF: Mapping[FigureName, Corner] = {name: corner for corner, name in HEIGHT_OF.items()}
_OF_STAGE: Mapping[FigureName, tuple[str, str]] = {
    "rake": ("rake_mm", "u_rake_mm"),
    "front change": ("front_mm", "u_front_mm"),
    "rear change": ("rear_mm", "u_rear_mm"),
    "nose up": ("nose_up_deg", "u_nose_up_deg"),
    "left up": ("left_up_deg", "u_left_up_deg"),
    "ball": ("ball_mm", "u_ball_mm"),
}
_OF_LAMP: Mapping[FigureName, tuple[str, str]] = {
    "beam": ("shift_mm", "u_shift_mm"),
    "wall": ("wall_mm", "u_wall_mm"),
    "measured aim": ("measured_aim_deg", "u_measured_aim_deg"),
}


def heights_of(stage: StageResult) -> Four:
    """The four heights of a stage, each with its u."""
    return {corner: stage.estimates.axle.get(corner) for corner in CORNERS}


def stage_cautions(job: AssessedJob, stages: Sequence[StageResult]) -> Iterator[Caution]:
    """What to know of these stages of a job."""
    if any(stage.lamp is not None and not stage.lamp.prediction_holds for stage in stages):
        yield "levelling"
    if "place" in job.assessment.reading.assumed:
        yield "place assumed"


# ---- body movement between two stages ----
#
# Changes of two stages share their unloaded readings. They are taken here from the heights of the two stages, so that
# the unloaded readings drop out (see `attitude`).


@dataclass(frozen=True, slots=True, kw_only=True)
class BodyMovement:
    """From the stage `start` to the stage `end`, mm, up positive; every `u_…` is a standard uncertainty.

    `pressure_kPa` is the change of pressure between them, which alone moves a body; None where one is not stated.
    """

    start: StageKey
    end: StageKey
    corner_mm: Mapping[Corner, float | None]
    front_mm: float | None
    u_front_mm: float | None
    rear_mm: float | None
    u_rear_mm: float | None
    nose_up_deg: float | None
    u_nose_up_deg: float | None
    pressure_kPa: float | None

    @property
    def surely(self) -> bool:
        """An end moved by more than its U."""
        ends = ((self.front_mm, self.u_front_mm), (self.rear_mm, self.u_rear_mm))
        return any(mm is not None and u is not None and abs(mm) > COVERAGE * u for mm, u in ends)


def body_movement(start: StageResult, end: StageResult, wheelbase_mm: float | None) -> BodyMovement:
    """How far the body moved between two stages; each figure None where a reading it needs is missing."""
    corners = changes(end.estimates.axle, start.estimates.axle)
    body = attitude(corners, None if wheelbase_mm is None else Estimate(wheelbase_mm), None)
    front, rear, nose = body.front_mm, body.rear_mm, body.nose_up_deg
    known = start.pressure_kPa is not None and end.pressure_kPa is not None
    return BodyMovement(
        start=start.key,
        end=end.key,
        corner_mm={corner: _value(corners[corner]) for corner in CORNERS},
        front_mm=_value(front),
        u_front_mm=_u(front),
        rear_mm=_value(rear),
        u_rear_mm=_u(rear),
        nose_up_deg=_value(nose),
        u_nose_up_deg=_u(nose),
        pressure_kPa=(end.pressure_kPa or 0.0) - (start.pressure_kPa or 0.0) if known else None,
    )


def stage_to_compare(assessment: Assessment, end: StageKey) -> StageResult | None:
    """The stage before this one at which the vehicle stood alike, of the same pressure if there is one; else the last.

    None where there is none.
    """
    keys = [stage.key for stage in assessment.stages]
    if end not in keys:
        return None
    at = assessment.stages[keys.index(end)]
    before = [stage for stage in assessment.stages[: keys.index(end)] if stage.name in LOADED_WITH_AIR]
    alike = [stage for stage in before if _same_air(stage, at)]
    return (alike or before)[-1] if before else None


def _same_air(one: StageResult, other: StageResult) -> bool:
    if one.pressure_kPa is None or other.pressure_kPa is None:
        return (one.left_kPa, one.right_kPa) == (other.left_kPa, other.right_kPa) and one.left_kPa is not None
    return abs(one.pressure_kPa - other.pressure_kPa) < 1e-6 * max(1.0, abs(one.pressure_kPa))


def _value(estimate: Estimate | None) -> float | None:
    return None if estimate is None else estimate.value


def _u(estimate: Estimate | None) -> float | None:
    return None if estimate is None else estimate.u
