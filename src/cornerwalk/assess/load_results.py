"""Load results: axle gains by lever, scale tickets, ratings, ride rate, and the load on the helper springs."""

from __future__ import annotations

from dataclasses import dataclass, replace

from cornerwalk.assess.assessment import AxleResult, Restoration, StageResult
from cornerwalk.assess.axles import Height, LoadAt, axle_gains, carried_load, ride_rate
from cornerwalk.assess.ratings import RatingComparison, Ratings, compare_to_ratings, tongue_room
from cornerwalk.assess.restoration import restoration_by_heights, restoration_by_weights
from cornerwalk.assess.usable import positive
from cornerwalk.assess.weighing import NO_TICKET, ScaleTicket, Tickets, WeighingName, read_tickets
from cornerwalk.session.model import Load, Session
from cornerwalk.standards import Standards

SAME_PLACE_MM = 1.0
"""A load this close to the ball is on it."""

_TONGUE_WORDS = ("tongue", "nose weight", "noseweight", "ball")


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadFigures:
    """Loads and weights. `by_lever`: the hitched weighing was computed, not weighed."""

    axles: AxleResult
    tickets: Tickets
    against: tuple[RatingComparison, ...]
    by_lever: bool
    restoration: Restoration | None


@dataclass(frozen=True, slots=True, kw_only=True)
class RateFigures:
    """The rear's ride rate and what the helper springs carry at the last trial; None where not known."""

    rate_N_per_mm: float | None = None
    u_rate_N_per_mm: float | None = None
    carried_N: float | None = None
    u_carried_N: float | None = None


def tongue_load(session: Session) -> Load | None:
    """The load that a trailer changes: named as its tongue, at the ball's place, or the first behind the rear axle."""
    behind = [load for load in session.loads if load.ahead_mm < 0]
    named = [load for load in behind if any(word in load.name.casefold() for word in _TONGUE_WORDS)]
    overhang = session.vehicle.ball_overhang_mm
    at_ball = [load for load in behind if overhang is not None and abs(load.ahead_mm + overhang) < SAME_PLACE_MM]
    return next(iter(named + at_ball + behind), None)


def is_towing(session: Session) -> bool:
    """Whether the job tows: a hitch or a trailer weight is stated, or a load is plainly a tongue.

    A camp kitchen behind the rear axle is not a trailer.
    """
    tongue = tongue_load(session)
    if session.hitch.kind is not None or session.hitch.rating_N is not None or session.trailer.weight_N is not None:
        return True
    overhang = session.vehicle.ball_overhang_mm
    return tongue is not None and (
        any(word in tongue.name.casefold() for word in _TONGUE_WORDS)
        or (overhang is not None and abs(tongue.ahead_mm + overhang) < SAME_PLACE_MM)
    )


def compute_loads(session: Session, stages: tuple[StageResult, ...], standards: Standards) -> LoadFigures:
    """Everything from loads, scale tickets and ratings together. Weights, where given, replace computed ones."""
    wheelbase_mm = session.vehicle.wheelbase_mm
    step_N = session.scale.step_N if session.scale.step_N is not None else standards.limits["scale-step"].value
    loads = [LoadAt(weight_N=load.weight_N, ahead_mm=load.ahead_mm) for load in session.loads]
    gains = axle_gains(loads, wheelbase_mm)
    weighed = _weighed(session)
    tickets = read_tickets(
        unhitched=weighed.get("unhitched", NO_TICKET),
        hitched=weighed.get("hitched", NO_TICKET),
        distributed=weighed.get("distributed", NO_TICKET),
        step_N=step_N,
    )
    ratings = _ratings(session)
    with_lever = _with_hitched_by_lever(session, weighed)
    tongue = tongue_load(session)
    stated_N = tongue.weight_N if tongue is not None and is_towing(session) else None
    tongue_N = tickets.tongue_N if tickets.tongue_N is not None else stated_N
    trailer_N = tickets.trailer_N if tickets.trailer_N is not None else session.trailer.weight_N
    share = 100 * tongue_N / trailer_N if tongue_N is not None and positive(trailer_N) else None
    u_tongue_N = tickets.u_tongue_N if tickets.tongue_N is not None else None
    room = tongue_room(
        weighed.get("unhitched", NO_TICKET),
        ratings,
        wheelbase_mm=wheelbase_mm,
        overhang_mm=_overhang_mm(session, tongue),
        step_N=step_N,
    )
    first = room[0] if room and weighed.get("unhitched") is not None else None
    axles = AxleResult(
        rear_gain_N=gains.rear_N if gains is not None else None,
        front_gain_N=gains.front_N if gains is not None else None,
        tongue_N=tongue_N,
        u_tongue_N=u_tongue_N,
        trailer_N=trailer_N,
        tongue_share_percent=share,
        u_tongue_share_percent=_u_share(share, u_tongue_N, tickets, trailer_N),
        first_limit=first.rating if first is not None else None,
        load_until_first_limit_N=first.largest_N if first is not None else None,
        u_load_until_first_limit_N=first.u_N if first is not None else None,
    )
    or_stated = replace(tickets, tongue_N=tongue_N, trailer_N=trailer_N)
    return LoadFigures(
        axles=axles,
        tickets=tickets,
        against=compare_to_ratings(with_lever, or_stated, ratings, step_N=step_N),
        by_lever=len(with_lever) > len(weighed),
        restoration=_restored(session, stages, weighed, step_N),
    )


def _overhang_mm(session: Session, tongue: Load | None) -> float | None:
    if session.vehicle.ball_overhang_mm is not None:
        return session.vehicle.ball_overhang_mm
    return -tongue.ahead_mm if tongue is not None else None


def _u_share(share: float | None, u_tongue_N: float | None, tickets: Tickets, trailer_N: float | None) -> float | None:
    if tickets.u_tongue_share_percent is not None:
        return tickets.u_tongue_share_percent
    if share is None or u_tongue_N is None or not positive(trailer_N):
        return None
    return 100 * u_tongue_N / trailer_N


def _weighed(session: Session) -> dict[WeighingName, ScaleTicket]:
    return {
        name: ScaleTicket(front_N=w.front_N, rear_N=w.rear_N, trailer_N=w.trailer_N)
        for name, w in session.weighings.items()
    }


def _with_hitched_by_lever(
    session: Session, weighed: dict[WeighingName, ScaleTicket]
) -> dict[WeighingName, ScaleTicket]:
    """The weighings, and where only the unhitched one was made, the hitched one from the tongue load by lever."""
    tongue, alone = tongue_load(session), weighed.get("unhitched")
    if tongue is None or alone is None or "hitched" in weighed:
        return weighed
    gains = axle_gains([LoadAt(weight_N=tongue.weight_N, ahead_mm=tongue.ahead_mm)], session.vehicle.wheelbase_mm)
    if gains is None or alone.front_N is None or alone.rear_N is None:
        return weighed
    hitched = ScaleTicket(front_N=alone.front_N + gains.front_N, rear_N=alone.rear_N + gains.rear_N)
    return {**weighed, "hitched": hitched}


def _ratings(session: Session) -> Ratings:
    vehicle = session.vehicle
    return Ratings(
        front_axle_N=vehicle.gawr_front_N,
        rear_axle_N=vehicle.gawr_rear_N,
        front_tyres_N=vehicle.tyre_rating_front_N,
        rear_tyres_N=vehicle.tyre_rating_rear_N,
        gross_N=vehicle.gvwr_N,
        combined_N=vehicle.gcwr_N,
        hitch_N=session.hitch.rating_N,
        trailer_N=session.trailer.gvwr_N,
    )


def _restored(
    session: Session, stages: tuple[StageResult, ...], weighed: dict[WeighingName, ScaleTicket], step_N: float
) -> Restoration | None:
    """By three weighings; else, with a load-distributing hitch, by the front heights unhitched, bars off, bars on."""
    by_weight = restoration_by_weights(
        unhitched=weighed.get("unhitched", NO_TICKET),
        hitched=weighed.get("hitched", NO_TICKET),
        distributed=weighed.get("distributed", NO_TICKET),
        step_N=step_N,
    )
    if by_weight.percent is not None:
        return Restoration(percent=by_weight.percent, u_percent=by_weight.u_percent, by="weights")
    alone = next((s for s in stages if s.name == "unloaded"), None)
    hitched = next((s for s in stages if s.name == "loaded"), None)
    if session.hitch.kind != "load-distributing" or alone is None or hitched is None or len(stages) < 3:
        return None
    last = stages[-1]
    us_mm = [u_front_mm(stage) for stage in (alone, hitched, last)]
    if any(u is None for u in us_mm):
        return None
    by_height = restoration_by_heights(
        unhitched_mm=alone.front_height_mm,
        hitched_mm=hitched.front_height_mm,
        distributed_mm=last.front_height_mm,
        u_unhitched_mm=us_mm[0] or 0.0,
        u_hitched_mm=us_mm[1] or 0.0,
        u_distributed_mm=us_mm[2] or 0.0,
    )
    if by_height.percent is None:
        return None
    return Restoration(percent=by_height.percent, u_percent=by_height.u_percent, by="heights")


def u_front_mm(stage: StageResult) -> float | None:
    """Standard uncertainty of the mean front height of a stage."""
    left, right = stage.u_height_mm.get("LF"), stage.u_height_mm.get("RF")
    return None if left is None or right is None else (left**2 + right**2) ** 0.5 / 2


def rear_height(stage: StageResult | None) -> Height | None:
    """The mean rear height of a stage."""
    if stage is None or stage.rear_height_mm is None or stage.u_rear_height_mm is None:
        return None
    return Height(mm=stage.rear_height_mm, u_mm=stage.u_rear_height_mm)


def compute_rate(axles: AxleResult, stages: tuple[StageResult, ...]) -> RateFigures:
    """Ride rate from the loads and the drop without air; load carried at the last trial."""
    unloaded = rear_height(next((s for s in stages if s.name == "unloaded"), None))
    loaded = rear_height(next((s for s in stages if s.name == "loaded"), None))
    rate = ride_rate(axles.rear_gain_N, unloaded, loaded)
    trials = [height for s in stages if s.name == "fitted" if (height := rear_height(s)) is not None]
    borne = carried_load(axles.rear_gain_N, unloaded, loaded, trials[-1]) if trials else None
    return RateFigures(
        rate_N_per_mm=rate.rate_N_per_mm,
        u_rate_N_per_mm=rate.u_rate_N_per_mm,
        carried_N=borne.force_N if borne is not None else None,
        u_carried_N=borne.u_force_N if borne is not None else None,
    )
