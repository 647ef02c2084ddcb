"""Events → session. The only place that says what an event means."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from cornerwalk.session import events as h
from cornerwalk.session.facts import FACTS
from cornerwalk.session.log import RecordedEvent, active_events
from cornerwalk.session.model import (
    AxleWeights,
    CheckAnswer,
    CornerRecord,
    Handover,
    Hitch,
    Job,
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
    Tape,
    TorqueRecord,
    Trailer,
    Vehicle,
    WeighScale,
)
from cornerwalk.session.stages import Corner, JobKind

_PARTS: dict[str, type] = {
    "job": Job,
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
}


@dataclass(slots=True)
class _State:
    """The session while its events are gone through."""

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
    weighings: dict[h.Weighing, AxleWeights] = field(default_factory=dict)
    leak: dict[tuple[str, str], LeakReading] = field(default_factory=dict)
    joints: dict[str, Joint] = field(default_factory=dict)
    notes: list[Note] = field(default_factory=list)
    handovers: list[Handover] = field(default_factory=list)
    open: bool = True
    made: dict[str | StageKey, Any] = field(default_factory=dict)
    """Parts and stages as they stand, until the next event about them."""


class Projection:
    """A fold that goes on: what follows costs no more for all that went before it, unless it takes something back.

    Attributes:
        session: after all events so far.
    """

    def __init__(self, events: Sequence[RecordedEvent] = ()) -> None:
        self._events: list[RecordedEvent] = []
        self._growing = _State()
        self.session: Session
        self.apply(events)

    @property
    def count(self) -> int:
        """How many events were taken so far."""
        return len(self._events)

    def apply(self, events: Sequence[RecordedEvent]) -> Session:
        """The session after these events, which follow those taken before; earlier sessions stay as they are."""
        self._events += events
        if any(isinstance(event.payload, h.Undone) for event in events):
            self._growing = _State()
            events = active_events(self._events)
        for event in events:
            _apply(self._growing, event)
        self.session = _session(self._growing, self._events[-1] if self._events else None)
        return self.session


def fold(events: Sequence[RecordedEvent]) -> Session:
    """The session after these events: the same events always give the same session.

    An event about a stage that no longer counts (its beginning was undone in a file put together by hand) begins
    that stage without a pressure, so that no reading is lost from view.
    """
    return Projection(events).session


def _session(growing: _State, last: RecordedEvent | None) -> Session:
    """What grew so far, in values of its own: what grows on does not change it."""
    made = growing.made
    for part, cls in _PARTS.items():
        if part not in made:
            made[part] = cls(**growing.facts[part])
    for key, stage in growing.stages.items():
        if key not in made:
            made[key] = replace(stage, corners=dict(growing.corners[key]))
    return Session(
        **growing.head,
        **{part: made[part] for part in _PARTS},
        last_at=last.at if last else "",
        last_seq=last.seq if last else 0,
        entered=dict(growing.entered),
        basis=dict(growing.basis),
        loads=tuple(growing.loads.values()),
        stages=tuple(made[key] for key in growing.stages),
        answers=tuple(growing.answers.values()),
        torques=tuple(growing.torques.values()),
        weighings=dict(growing.weighings),
        leak_readings=tuple(growing.leak.values()),
        joints=tuple(growing.joints.values()),
        notes=tuple(growing.notes),
        handovers=tuple(growing.handovers),
        open=growing.open,
    )


def _apply(growing: _State, event: RecordedEvent) -> None:  # noqa: PLR0912 - one case for each kind of event
    match event.payload:
        case h.JobOpened() as what:
            growing.head = {"id": what.session, "program": what.program, "opened_at": event.at}
            growing.opened_kind = what.job
            growing.facts["job"].update(kind=what.job, title=what.title)
            growing.made.pop("job", None)
        case h.FactStated() as what:
            _apply_fact(growing, what)
        case h.LoadStated() as what:
            growing.loads[what.name] = Load(name=what.name, weight_N=what.weight_N, ahead_mm=what.ahead_mm)
            growing.entered[f"load.{what.name}.weight"] = what.entered
            growing.entered[f"load.{what.name}.place"] = what.place_entered
        case h.LoadRemoved() as what:
            growing.loads.pop(what.name, None)
        case h.StageBegun() | h.PressureStated() as what:
            stage = _stage(growing, (what.stage, what.number), event)
            growing.stages[stage.key] = replace(
                stage,
                pressure_kPa=what.pressure_kPa,
                left_kPa=what.left_kPa,
                right_kPa=what.right_kPa,
                pressure_entered=what.pressure_entered,
                left_entered=what.left_entered,
                right_entered=what.right_entered,
            )
        case h.HeightRead() as what:
            _apply_height(growing, what, event)
        case h.CornerSkipped() as what:
            stage = _stage(growing, (what.stage, what.number), event)
            growing.corners[stage.key][what.corner] = CornerRecord(skipped=what.reason)
        case h.MarkRead() as what:
            stage = _stage(growing, (what.stage, what.number), event)
            growing.stages[stage.key] = replace(stage, mark_mm=what.above_mm)
        case h.LevellerSet() as what:
            stage = _stage(growing, (what.stage, what.number), event)
            growing.stages[stage.key] = replace(stage, leveller=what.position)
        case h.CheckAnswered() as what:
            key = None if what.stage is None else (what.stage, what.number or 1)
            growing.answers[(what.check, key)] = CheckAnswer(
                check=what.check, answer=what.answer, note=what.note, stage=key, at=event.at
            )
        case h.TorqueRecorded() as what:
            growing.torques[what.joint] = TorqueRecord(
                joint=what.joint,
                specified_entered=what.specified_entered,
                specified_Nm=what.specified_Nm,
                source=what.source,
                reached_entered=what.reached_entered,
                reached_Nm=what.reached_Nm,
                at=event.at,
            )
        case h.WeighingRecorded() as what:
            growing.weighings[what.weighing] = AxleWeights(
                weighing=what.weighing, front_N=what.front_N, rear_N=what.rear_N, trailer_N=what.trailer_N
            )
            for where in ("front", "rear", "trailer"):
                growing.entered[f"weighing.{what.weighing}.{where}"] = getattr(what, f"{where}_entered")
        case h.LeakRead() as what:
            _apply_leak(growing, what)
        case h.JointSoaped() as what:
            growing.joints[what.joint] = Joint(joint=what.joint, bubbles=what.bubbles, note=what.note)
        case h.NoteWritten() as what:
            key = None if what.stage is None else (what.stage, what.number or 1)
            growing.notes.append(Note(text=what.text, stage=key, corner=what.corner, at=event.at, seq=event.seq))
        case h.HandedOver() as what:
            growing.handovers.append(
                Handover(
                    to=what.to, figures=what.figures, program=what.program, at=event.at, by=event.by, seq=event.seq
                )
            )
            growing.open = False
        case h.JobReopened():  # pragma: no branch - the one kind left is the undo, which `active_events` leaves out
            growing.open = True


def _apply_fact(growing: _State, what: h.FactStated) -> None:
    growing.basis.pop(what.name, None)
    fact = FACTS.get(what.name)
    if fact is None:
        growing.entered[what.name] = what.entered
        return
    growing.made.pop(fact.part, None)
    if what.value is None:
        growing.facts[fact.part].pop(fact.attribute, None)
        growing.entered.pop(what.name, None)
        if what.name == "job.kind":
            growing.facts[fact.part][fact.attribute] = growing.opened_kind
        return
    value = tuple(what.value) if isinstance(what.value, list) else what.value
    growing.facts[fact.part][fact.attribute] = value
    growing.entered[what.name] = what.entered
    if what.basis:
        growing.basis[what.name] = what.basis


def _apply_height(growing: _State, what: h.HeightRead, event: RecordedEvent) -> None:
    stage = _stage(growing, (what.stage, what.number), event)
    reading = Reading(entered=what.entered, mm=what.mm, seq=event.seq, at=event.at)
    earlier = growing.corners[stage.key].get(what.corner, CornerRecord()).readings
    readings = (*earlier, reading) if what.how == "repeat" else (reading,)
    growing.corners[stage.key][what.corner] = CornerRecord(readings=readings)


def _apply_leak(growing: _State, what: h.LeakRead) -> None:
    if what.moment == "start":
        growing.leak.pop((what.line, "end"), None)
    growing.leak[(what.line, what.moment)] = LeakReading(
        moment=what.moment,
        line=what.line,
        pressure_kPa=what.pressure_kPa,
        temperature_C=what.temperature_C,
        at=what.read_at,
        hours=what.hours,
        loaded=what.loaded,
    )


def _stage(growing: _State, key: StageKey, event: RecordedEvent) -> Stage:
    """The stage, about to be changed."""
    growing.made.pop(key, None)
    if key not in growing.stages:
        growing.stages[key] = Stage(name=key[0], number=key[1], begun_seq=event.seq, begun_at=event.at)
        growing.corners[key] = {}
    return growing.stages[key]
