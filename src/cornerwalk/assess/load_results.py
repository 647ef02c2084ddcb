"""Load results: axle gains by lever, scale tickets, ratings, ride rate, and the load on the helper springs."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from cornerwalk.assess.assessment import AxleResult, Restoration, StageResult
from cornerwalk.assess.attitude import mean
from cornerwalk.assess.axles import AxleGains, CarriedLoad, LoadAt, axle_gains, carried_load, ride_rate
from cornerwalk.assess.components import Components
from cornerwalk.assess.estimate import Estimate, combine, exact
from cornerwalk.assess.ratings import RatingComparison, Ratings, compare_to_ratings, tongue_room
from cornerwalk.assess.restoration import restoration_by_heights, restoration_by_weights
from cornerwalk.assess.tires import axle_compliance
from cornerwalk.assess.usable import positive
from cornerwalk.assess.weighing import NO_TICKET, ScaleTicket, Tickets, WeighingName, read_tickets
from cornerwalk.session.model import GROUND, Load, Session
from cornerwalk.session.stages import Corner
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
    """The rear's ride rate over the ground, N/mm, and what the helper springs carry at the last trial."""

    rate: Estimate | None = None
    carried: CarriedLoad | None = None


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


def loads_of(session: Session, components: Components) -> list[LoadAt]:
    """The stated loads with the uncertainty of weight and place."""
    return [load_at(load, components) for load in session.loads]


def load_at(load: Load, components: Components) -> LoadAt:
    """A stated load; the same sources of error at every call."""
    percent = components.u("loads") if load.weighed else components.u_guessed_percent
    u_N = abs(load.weight_N) * percent / 100
    return LoadAt(
        weight=Estimate(load.weight_N, u_N, components.source("loads", load.name)),
        ahead=Estimate(load.ahead_mm, components.u("load place"), components.source("load place", load.name)),
    )


def compute_gains(session: Session, components: Components) -> AxleGains | None:
    """What was put on each axle between the unloaded and the loaded heights, N.

    By the lever of each load; where the vehicle was weighed unhitched and hitched, the tickets say what the tongue puts
    there, and the levers only what the other loads do.
    """
    wheelbase = components.of("wheelbase", session.vehicle.wheelbase_mm)
    by_ticket = _ticket_gains(session, components)
    if by_ticket is None:
        return axle_gains(loads_of(session, components), wheelbase)
    tongue = tongue_load(session)
    others = [load_at(load, components) for load in session.loads if load is not tongue]
    rest = axle_gains(others, wheelbase)
    if rest is None:
        return None if others else by_ticket
    return AxleGains(rear=by_ticket.rear + rest.rear, front=by_ticket.front + rest.front)


def _ticket_gains(session: Session, components: Components) -> AxleGains | None:
    alone, hitched = session.weighings.get("unhitched"), session.weighings.get("hitched")
    if alone is None or hitched is None or alone.front_N is None or hitched.front_N is None:
        return None
    if alone.rear_N is None or hitched.rear_N is None:
        return None
    rear, front = (
        components.again("scale", after) - components.again("scale", before)
        for before, after in ((alone.rear_N, hitched.rear_N), (alone.front_N, hitched.front_N))
    )
    return AxleGains(rear=rear, front=front)


def compute_loads(
    session: Session,
    stages: tuple[StageResult, ...],
    components: Components,
    gains: AxleGains | None,
) -> LoadFigures:
    """Everything from loads, scale tickets and ratings together. Weights, where given, replace computed ones."""
    step_N = max(components.u("scale") * math.sqrt(12), _SMALLEST_STEP_N)
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
    stated = load_at(tongue, components).weight if tongue is not None and is_towing(session) else None
    tongue_N = tickets.tongue_N if tickets.tongue_N is not None else (stated.value if stated is not None else None)
    trailer_N = tickets.trailer_N if tickets.trailer_N is not None else session.trailer.weight_N
    share = 100 * tongue_N / trailer_N if tongue_N is not None and positive(trailer_N) else None
    u_tongue_N = tickets.u_tongue_N if tickets.tongue_N is not None else (stated.u if stated is not None else None)
    room = tongue_room(
        weighed.get("unhitched", NO_TICKET),
        ratings,
        wheelbase_mm=session.vehicle.wheelbase_mm,
        overhang_mm=_overhang_mm(session, tongue),
        step_N=step_N,
    )
    first = room[0] if room and weighed.get("unhitched") is not None else None
    axles = AxleResult(
        rear_gain_N=gains.rear.value if gains is not None else None,
        front_gain_N=gains.front.value if gains is not None else None,
        u_rear_gain_N=gains.rear.u if gains is not None else None,
        u_front_gain_N=gains.front.u if gains is not None else None,
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


_SMALLEST_STEP_N = 1e-6
"""A scale that was stated to be exact."""


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
    at = LoadAt(Estimate(tongue.weight_N), Estimate(tongue.ahead_mm))
    gains = axle_gains([at], exact(session.vehicle.wheelbase_mm))
    if gains is None or alone.front_N is None or alone.rear_N is None:
        return weighed
    hitched = ScaleTicket(front_N=alone.front_N + gains.front.value, rear_N=alone.rear_N + gains.rear.value)
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
    by_height = restoration_by_heights(front_height(alone), front_height(hitched), front_height(stages[-1]))
    if by_height.share is None:
        return None
    return Restoration(percent=by_height.share.value, u_percent=by_height.share.u, by="heights", k=by_height.share.k)


def front_height(stage: StageResult | None) -> Estimate | None:
    """The mean front height of a stage, mm."""
    return _axle_height(stage, ("LF", "RF"))


def rear_height(stage: StageResult | None) -> Estimate | None:
    """The mean rear height of a stage, mm."""
    return _axle_height(stage, ("RR", "LR"))


def _axle_height(stage: StageResult | None, corners: tuple[Corner, Corner]) -> Estimate | None:
    if stage is None:
        return None
    one, other = (stage.estimates.axle.get(corner) for corner in corners)
    return mean(one, other)


def compute_rate(
    session: Session,
    standards: Standards,
    components: Components,
    gains: AxleGains | None,
    stages: Sequence[StageResult],
) -> RateFigures:
    """Ride rate over the ground from the loads and the drop without air; load carried at the last trial."""
    unloaded = rear_height(next((s for s in stages if s.name == "unloaded"), None))
    loaded = rear_height(next((s for s in stages if s.name == "loaded"), None))
    gain = gains.rear if gains is not None else None
    tires = axle_compliance(session, standards, components, "rear")
    ground = session.job.datum == GROUND
    rate = ride_rate(gain, unloaded, loaded).rate
    if rate is not None and not ground:
        rate = _in_series(rate, tires)
    trials = [height for s in stages if s.name == "fitted" if (height := rear_height(s)) is not None]
    borne = None
    if trials:
        borne = carried_load(gain, unloaded, loaded, trials[-1], tires if ground else None)
        if borne is not None and session.vehicle.rear_springs == "two-stage leaf":
            borne = replace(borne, at_least=True, high_N=None)
    return RateFigures(rate=rate, carried=borne)


def _in_series(rate: Estimate, tires_mm_per_N: Estimate) -> Estimate:
    """The rate of springs and tires together, 1/K = 1/K_s + C_t."""
    together = 1 / (1 / rate.value + tires_mm_per_N.value)
    return combine(together, ((together / rate.value) ** 2, rate), (-(together**2), tires_mm_per_N))
