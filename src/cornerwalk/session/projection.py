"""Projection: events → session. The only place that gives an event its meaning."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from cornerwalk.session import events as ev
from cornerwalk.session.facts import FACTS
from cornerwalk.session.log import RecordedEvent, active_events
from cornerwalk.session.model import (
    Approach,
    AxleWeights,
    CheckAnswer,
    CornerRecord,
    Handover,
    Hitch,
    JobFacts,
    Joint,
    Kit,
    Lamps,
    LeakCriteria,
    LeakReading,
    Limits,
    Load,
    Note,
    PressureTable,
    Reading,
    Service,
    Session,
    Stage,
    StageKey,
    StatedUncertainty,
    Tape,
    TorqueRecord,
    Trailer,
    Vehicle,
    WeighScale,
)
from cornerwalk.session.stages import Corner, JobKind

_PARTS: dict[str, type] = {
    "job": JobFacts,
    "tape": Tape,
    "vehicle": Vehicle,
    "lamps": Lamps,
    "kit": Kit,
    "hitch": Hitch,
    "trailer": Trailer,
    "scale": WeighScale,
    "leak": LeakCriteria,
    "table": PressureTable,
    "limits": Limits,
    "service": Service,
    "uncertainty": StatedUncertainty,
}


@dataclass(slots=True)
class _State:
    """The mutable session while events are applied."""

    head: dict[str, Any] = field(default_factory=dict)
    opened_kind: JobKind = "fit"
    facts: dict[str, dict[str, Any]] = field(default_factory=lambda: {part: {} for part in _PARTS})
    entered: dict[str, str] = field(default_factory=dict)
    basis: dict[str, str] = field(default_factory=dict)
    loads: dict[str, Load] = field(default_factory=dict)
    stages: dict[StageKey, Stage] = field(default_factory=dict)
    corners: dict[StageKey, dict[Corner, CornerRecord]] = field(default_factory=dict)
    answers: dict[tuple[str, StageKey | None], CheckAnswer] = field(default_factory=dict)
    torques: dict[str, TorqueRecord] = field(default_factory=dict)
    weighings: dict[ev.Weighing, AxleWeights] = field(default_factory=dict)
    leak: dict[tuple[str, str], LeakReading] = field(default_factory=dict)
    joints: dict[str, Joint] = field(default_factory=dict)
    notes: list[Note] = field(default_factory=list)
    handovers: list[Handover] = field(default_factory=list)
    open: bool = True
    made: dict[str | StageKey, Any] = field(default_factory=dict)
    """Cache: parts and stages already built, each until the next event about it."""


class Projection:
    """An incremental fold: a further event costs the same however many came before, unless it undoes one.

    Attributes:
        session: the session after all events so far.
    """

    def __init__(self, events: Sequence[RecordedEvent] = ()) -> None:
        self._events: list[RecordedEvent] = []
        self._state = _State()
        self.session: Session
        self.apply(events)

    @property
    def count(self) -> int:
        """How many events were applied so far."""
        return len(self._events)

    def apply(self, events: Sequence[RecordedEvent]) -> Session:
        """The session after these further events. Sessions returned before do not change."""
        self._events += events
        if any(isinstance(event.payload, ev.Undone) for event in events):
            self._state = _State()
            events = active_events(self._events)
        for event in events:
            _apply(self._state, event)
        self.session = _session(self._state, self._events[-1] if self._events else None)
        return self.session


def fold(events: Sequence[RecordedEvent]) -> Session:
    """The session after these events; the same events always give the same session.

    An event about a stage whose beginning was undone (possible in a file edited by hand) begins that stage again,
    without a pressure, so that no reading disappears.
    """
    return Projection(events).session


def _session(state: _State, last: RecordedEvent | None) -> Session:
    """The session as an immutable value."""
    made = state.made
    for part, cls in _PARTS.items():
        if part not in made:
            made[part] = cls(**state.facts[part])
    for key, stage in state.stages.items():
        if key not in made:
            made[key] = replace(stage, corners=dict(state.corners[key]))
    return Session(
        **state.head,
        **{part: made[part] for part in _PARTS},
        last_at=last.at if last else "",
        last_seq=last.seq if last else 0,
        entered=dict(state.entered),
        basis=dict(state.basis),
        loads=tuple(state.loads.values()),
        stages=tuple(made[key] for key in state.stages),
        answers=tuple(state.answers.values()),
        torques=tuple(state.torques.values()),
        weighings=dict(state.weighings),
        leak_readings=tuple(state.leak.values()),
        joints=tuple(state.joints.values()),
        notes=tuple(state.notes),
        handovers=tuple(state.handovers),
        open=state.open,
    )


def _apply(state: _State, recorded: RecordedEvent) -> None:  # noqa: PLR0912 - one case for each kind of event
    match recorded.payload:
        case ev.JobOpened() as event:
            state.head = {"id": event.session, "program": event.program, "opened_at": recorded.at}
            state.opened_kind = event.job
            state.facts["job"].update(kind=event.job, title=event.title)
            state.made.pop("job", None)
        case ev.FactStated() as event:
            _apply_fact(state, event)
        case ev.LoadStated() as event:
            state.loads[event.name] = Load(
                name=event.name, weight_N=event.weight_N, ahead_mm=event.ahead_mm, weighed=event.weighed
            )
            state.entered[f"load.{event.name}.weight"] = event.entered
            state.entered[f"load.{event.name}.place"] = event.place_entered
        case ev.LoadRemoved() as event:
            state.loads.pop(event.name, None)
        case ev.StageBegun() | ev.PressureStated() as event:
            stage = _stage(state, (event.stage, event.number), recorded)
            state.stages[stage.key] = replace(
                stage,
                pressure_kPa=event.pressure_kPa,
                left_kPa=event.left_kPa,
                right_kPa=event.right_kPa,
                pressure_entered=event.pressure_entered,
                left_entered=event.left_entered,
                right_entered=event.right_entered,
            )
        case ev.HeightRead() as event:
            _apply_height(state, event, recorded)
        case ev.CornerSkipped() as event:
            stage = _stage(state, (event.stage, event.number), recorded)
            state.corners[stage.key][event.corner] = CornerRecord(skipped=event.reason)
        case ev.MarkRead() as event:
            stage = _stage(state, (event.stage, event.number), recorded)
            state.stages[stage.key] = replace(stage, mark_mm=event.above_mm)
        case ev.LevellerSet() as event:
            stage = _stage(state, (event.stage, event.number), recorded)
            state.stages[stage.key] = replace(stage, leveller=event.position)
        case ev.CheckAnswered() as event:
            key = None if event.stage is None else (event.stage, event.number or 1)
            state.answers[(event.check, key)] = CheckAnswer(
                check=event.check, answer=event.answer, note=event.note, stage=key, at=recorded.at
            )
        case ev.TorqueRecorded() as event:
            state.torques[event.joint] = TorqueRecord(
                joint=event.joint,
                specified_entered=event.specified_entered,
                specified_Nm=event.specified_Nm,
                source=event.source,
                reached_entered=event.reached_entered,
                reached_Nm=event.reached_Nm,
                at=recorded.at,
            )
        case ev.WeighingRecorded() as event:
            state.weighings[event.weighing] = AxleWeights(
                weighing=event.weighing, front_N=event.front_N, rear_N=event.rear_N, trailer_N=event.trailer_N
            )
            for where in ("front", "rear", "trailer"):
                state.entered[f"weighing.{event.weighing}.{where}"] = getattr(event, f"{where}_entered")
        case ev.LeakRead() as event:
            _apply_leak(state, event)
        case ev.JointSoaped() as event:
            state.joints[event.joint] = Joint(joint=event.joint, bubbles=event.bubbles, note=event.note)
        case ev.NoteWritten() as event:
            key = None if event.stage is None else (event.stage, event.number or 1)
            state.notes.append(Note(text=event.text, stage=key, corner=event.corner, at=recorded.at, seq=recorded.seq))
        case ev.HandedOver() as event:
            state.handovers.append(
                Handover(
                    to=event.to,
                    figures=event.figures,
                    program=event.program,
                    at=recorded.at,
                    by=recorded.by,
                    seq=recorded.seq,
                )
            )
            state.open = False
        case ev.JobReopened():  # pragma: no branch - the one kind left is the undo, which `active_events` leaves out
            state.open = True


def _apply_fact(state: _State, event: ev.FactStated) -> None:
    state.basis.pop(event.name, None)
    fact = FACTS.get(event.name)
    if fact is None:
        state.entered[event.name] = event.entered
        return
    state.made.pop(fact.part, None)
    if event.value is None:
        state.facts[fact.part].pop(fact.attribute, None)
        state.entered.pop(event.name, None)
        if event.name == "job.kind":
            state.facts[fact.part][fact.attribute] = state.opened_kind
        return
    value = tuple(event.value) if isinstance(event.value, list) else event.value
    state.facts[fact.part][fact.attribute] = value
    state.entered[event.name] = event.entered
    if event.basis:
        state.basis[event.name] = event.basis


_APPROACH: dict[ev.ReadingMode, Approach] = {"lifted": "lifting", "pressed": "pressing"}


def _apply_height(state: _State, event: ev.HeightRead, recorded: RecordedEvent) -> None:
    stage = _stage(state, (event.stage, event.number), recorded)
    after = _APPROACH.get(event.how)
    reading = Reading(entered=event.entered, mm=event.mm, seq=recorded.seq, at=recorded.at, after=after)
    earlier = state.corners[stage.key].get(event.corner, CornerRecord()).readings
    readings = (*earlier, reading) if after is not None or event.how == "repeat" else (reading,)
    state.corners[stage.key][event.corner] = CornerRecord(readings=readings)


def _apply_leak(state: _State, event: ev.LeakRead) -> None:
    if event.moment == "start":
        state.leak.pop((event.line, "end"), None)
    state.leak[(event.line, event.moment)] = LeakReading(
        moment=event.moment,
        line=event.line,
        pressure_kPa=event.pressure_kPa,
        temperature_C=event.temperature_C,
        at=event.read_at,
        hours=event.hours,
        loaded=event.loaded,
    )


def _stage(state: _State, key: StageKey, recorded: RecordedEvent) -> Stage:
    """The stage, which the caller is about to change; begun if it was not."""
    state.made.pop(key, None)
    if key not in state.stages:
        state.stages[key] = Stage(name=key[0], number=key[1], begun_seq=recorded.seq, begun_at=recorded.at)
        state.corners[key] = {}
    return state.stages[key]
