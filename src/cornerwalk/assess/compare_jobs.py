"""Job comparison: one vehicle a year later, two technicians on one vehicle, two kits.

Two jobs share no reading, so u(d)² = u₁² + u₂². Heights themselves carry the limit of error of each tape besides; it
cancels in changes. What no u here covers is that floor, tire pressures and fuel may differ from day to day.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cornerwalk.assess.assessment import AirResult, LeakResult, StageResult
from cornerwalk.assess.attitude import difference
from cornerwalk.assess.compare import (
    HEIGHT_OF,
    AssessedJob,
    Caution,
    Comparison,
    Difference,
    FigureName,
    StagePair,
    figure,
    stage_cautions,
)
from cornerwalk.assess.estimate import Estimate, estimate
from cornerwalk.assess.lamp_checks import TAPE
from cornerwalk.assess.uncertainty import absolute_u_mm
from cornerwalk.session.model import Session, StageKey
from cornerwalk.session.stages import AIR_STAGES, REFERENCE_STAGE
from cornerwalk.standards import Standards

SAME_PRESSURE_kPa = 2.0
"""Pressures of two jobs count as one within this, a third of a psi: hardly what a gauge shows apart; assumed."""

SAME_LOAD = 0.02
"""Part by which the loads of two jobs may differ and count as the same; assumed."""

_AXLES: tuple[FigureName, ...] = ("front height", "rear height")
_CHANGES: tuple[FigureName, ...] = ("front change", "rear change", "nose up", "left up", "ball")


def compare_jobs(
    one: AssessedJob,
    other: AssessedJob,
    standards: Standards,
    stages: Sequence[tuple[StageKey, StageKey]] | None = None,
) -> Comparison:
    """Two jobs: the stages they have in common, or those named, and the figures of the whole.

    Raises:
        KeyError: a session has no such stage.
        ValueError: both are one session; `compare_stages` compares two of its stages.
    """
    if one.session.id == other.session.id:
        raise ValueError("a session does not differ from itself")
    keys = common_stages(one, other) if stages is None else stages
    pairs = tuple(_pair(one, other, one.stage(ours), other.stage(theirs), standards) for ours, theirs in keys)
    return Comparison(
        pairs=pairs,
        whole=tuple(_whole(one, other)),
        cautions=tuple(_cautions(one, other, pairs)),
        screen_mm=one.assessment.screen_mm,
    )


def common_stages(one: AssessedJob, other: AssessedJob) -> tuple[tuple[StageKey, StageKey], ...]:
    """Stages to lay side by side: those of one name; of several with air in, those at one pressure, else the last."""
    pairs: list[tuple[StageKey, StageKey]] = []
    for name in dict.fromkeys(stage.name for stage in one.assessment.stages):
        ours = [stage for stage in one.assessment.stages if stage.name == name]
        theirs = [stage for stage in other.assessment.stages if stage.name == name]
        if name not in AIR_STAGES:
            pairs += [(a.key, b.key) for a, b in zip(ours[:1], theirs[:1], strict=False)]
        else:
            pairs += list(_at_one_pressure(ours, theirs)) or [(a.key, b.key) for a in ours[-1:] for b in theirs[-1:]]
    return tuple(pairs)


def _at_one_pressure(ours: Sequence[StageResult], theirs: Sequence[StageResult]) -> Iterator[tuple[StageKey, StageKey]]:
    left = list(theirs)
    for stage in ours:
        same = next((each for each in left if _same_air(stage, each)), None)
        if same is not None:
            left.remove(same)
            yield stage.key, same.key


def _same_air(one: StageResult, other: StageResult) -> bool:
    """Whether the same lines hold the same pressures; False where no pressure is known."""
    pressures = [(each.pressure_kPa, each.left_kPa, each.right_kPa) for each in (one, other)]
    known = [(a, b) for a, b in zip(*pressures, strict=True) if a is not None or b is not None]
    return bool(known) and all(a is not None and b is not None and abs(a - b) <= SAME_PRESSURE_kPa for a, b in known)


def _pair(
    one: AssessedJob, other: AssessedJob, ours: StageResult, theirs: StageResult, standards: Standards
) -> StagePair:
    return StagePair(one=ours, other=theirs, differences=tuple(_between(one, other, ours, theirs, standards)))


def _between(
    one: AssessedJob, other: AssessedJob, ours: StageResult, theirs: StageResult, standards: Standards
) -> Iterator[Difference]:
    same_points = one.session.job.datum == other.session.job.datum
    same_wall = one.assessment.screen_mm == other.assessment.screen_mm
    for name in (*HEIGHT_OF.values(), *_AXLES):
        first, second = (_with_tape(figure(name, stage), standards) for stage in (ours, theirs))
        yield from _apart(name, first, second, comparable=same_points)
    yield from _apart("rake", figure("rake", ours), figure("rake", theirs), comparable=same_points)
    if REFERENCE_STAGE not in (ours.name, theirs.name):
        for name in _CHANGES:
            yield from _apart(name, figure(name, ours), figure(name, theirs), comparable=same_points)
        yield from _apart("beam", figure("beam", ours), figure("beam", theirs), comparable=same_points and same_wall)
    yield from _apart("measured aim", figure("measured aim", ours), figure("measured aim", theirs))


def _with_tape(height: Estimate | None, standards: Standards) -> Estimate | None:
    """A height with the limit of error of the tape it was read with, which a mean of two corners has in full."""
    if height is None:
        return None
    limit_mm = standards.tapes[TAPE].limit_of_error_mm(height.value) or 0.0
    return Estimate(height.value, absolute_u_mm(height.u, limit_mm))


def _apart(
    name: FigureName, one: Estimate | None, other: Estimate | None, *, place: str = "", comparable: bool = True
) -> Iterator[Difference]:
    """The figure in both, if it is known in both; without a difference where the two cannot be compared."""
    if one is not None and other is not None:
        apart = difference(other, one) if comparable else None
        yield Difference(figure=name, place=place, one=one, other=other, difference=apart)


# ---- the whole jobs ----


def _whole(one: AssessedJob, other: AssessedJob) -> Iterator[Difference]:
    ours, theirs = one.assessment, other.assessment
    first, second = (estimate(each.ride_rate_N_per_mm, each.u_ride_rate_N_per_mm) for each in (ours, theirs))
    yield from _apart("ride rate", first, second)
    lines = {air.where: air for air in theirs.air}
    for air in ours.air:
        if air.where in lines:
            same = lines[air.where]
            yield from _apart("slope", _slope(air), _slope(same), place=air.where)
            yield from _apart("pressure", _pressure(air), _pressure(same), place=air.where)
    tests = {leak.line: leak for leak in theirs.leak}
    for leak in ours.leak:
        if leak.line in tests:
            yield from _apart("leak rate", _leak_rate(leak), _leak_rate(tests[leak.line]), place=leak.line)


def _slope(air: AirResult) -> Estimate | None:
    return estimate(air.c1_mm_per_kPa, air.u_c1_mm_per_kPa)


def _pressure(air: AirResult) -> Estimate | None:
    return estimate(air.pressure_kPa, air.u_pressure_kPa)


def _leak_rate(leak: LeakResult) -> Estimate | None:
    return estimate(leak.rate_kPa_per_h, leak.u_rate_kPa_per_h)


# ---- what to know ----


def _cautions(one: AssessedJob, other: AssessedJob, pairs: Sequence[StagePair]) -> Iterator[Caution]:
    ours, theirs = one.session, other.session
    yield "other day"
    if _vehicle(ours) != _vehicle(theirs):
        yield "other vehicle"
    if ours.job.datum != theirs.job.datum:
        yield "other datum"
    if not _same_loads(ours, theirs):
        yield "other loads"
    if ours.kit.name.strip().casefold() != theirs.kit.name.strip().casefold():
        yield "other kit"
    if one.assessment.screen_mm != other.assessment.screen_mm:
        yield "other wall"
    if any(pair.one.name in AIR_STAGES and not _same_air(pair.one, pair.other) for pair in pairs):
        yield "other pressure"
    seen = {caution for job in (one, other) for caution in stage_cautions(job, job.assessment.stages)}
    yield from sorted(seen)


def _vehicle(session: Session) -> str:
    return (session.vehicle.registration.strip() or session.vehicle.description.strip()).casefold()


def _same_loads(one: Session, other: Session) -> bool:
    """Whether the axles were asked for the same: the weight of all loads, and their moment about the rear axle."""
    sums = [
        (sum(load.weight_N for load in each.loads), sum(load.weight_N * load.ahead_mm for load in each.loads))
        for each in (one, other)
    ]
    return all(abs(a - b) <= SAME_LOAD * max(abs(a), abs(b)) for a, b in zip(*sums, strict=True))
