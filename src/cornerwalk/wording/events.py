"""Events in words: one line an event, for the file report, a replay and an audit.

Values stand as they were entered; nothing is computed.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from cornerwalk.session import RecordedEvent
from cornerwalk.session import events as ev
from cornerwalk.session.log import active_events
from cornerwalk.session.model import StageKey
from cornerwalk.session.stages import StageName
from cornerwalk.wording.answers import question_of
from cornerwalk.wording.facts import as_stated, fact_name, place_as_stated
from cornerwalk.wording.names import (
    air_place,
    answer_word,
    corner_name,
    job_name,
    joint_name,
    stage_title,
    weighing_name,
)
from cornerwalk.words import tr
from cornerwalk.words.safe import harmless


@dataclass(frozen=True, slots=True)
class HistoryLine:
    """One event in words; `counts` is False for an event that was undone, and for the undo itself."""

    seq: int
    at: str
    by: str
    text: str
    counts: bool


def history(events: Sequence[RecordedEvent]) -> tuple[HistoryLine, ...]:
    """Every event in order, undone ones included."""
    counting = {event.seq for event in active_events(events)}
    return tuple(
        HistoryLine(event.seq, event.at, event.by, event_words(event.payload), event.seq in counting)
        for event in events
    )


def event_words(what: ev.Event) -> str:
    """One event as a line: `right rear, loaded, no air: 27 5/8`."""
    return harmless(_WORDS[type(what)](what))


def _key(name: StageName | None, number: int | None) -> StageKey | None:
    return None if name is None else (name, number or 1)


def _where(name: StageName | None, number: int | None) -> str:
    key = _key(name, number)
    return "" if key is None else f" ({stage_title(key)})"


def _opened(what: ev.JobOpened) -> str:
    return tr("job opened: {title} ({kind})", title=what.title or tr("no name"), kind=job_name(what.job))


def _fact(what: ev.FactStated) -> str:
    if what.value is None:
        return tr("{fact} undone", fact=fact_name(what.name))
    text = tr("{fact}: {entered}", fact=fact_name(what.name), entered=as_stated(what.name, what.entered))
    return tr("{told} ({basis})", told=text, basis=what.basis) if what.basis else text


def _load(what: ev.LoadStated) -> str:
    place = place_as_stated(what.place_entered)
    return tr("load {name}: {weight}, {place}", name=what.name, weight=what.entered, place=place)


def _air(what: ev.StageBegun | ev.PressureStated) -> str:
    pressures = [
        (what.pressure_entered, tr("{pressure} in", pressure=what.pressure_entered)),
        (what.left_entered, tr("left {pressure}", pressure=what.left_entered)),
        (what.right_entered, tr("right {pressure}", pressure=what.right_entered)),
    ]
    return ", ".join(text for entered, text in pressures if entered)


def _begun(what: ev.StageBegun) -> str:
    air = _air(what)
    stage = stage_title((what.stage, what.number))
    return tr("stage begun: {stage}, {air}", stage=stage, air=air) if air else tr("stage begun: {stage}", stage=stage)


def _pressure(what: ev.PressureStated) -> str:
    stage = stage_title((what.stage, what.number))
    return tr("pressure at {stage}: {air}", stage=stage, air=_air(what) or tr("undone"))


def _height(what: ev.HeightRead) -> str:
    corner, stage = corner_name(what.corner), stage_title((what.stage, what.number))
    match what.how:
        case "first":
            return tr("{corner}, {stage}: {entered}", corner=corner, stage=stage, entered=what.entered)
        case "repeat":
            return tr("{corner}, {stage}: {entered}, read again", corner=corner, stage=stage, entered=what.entered)
        case "instead":
            return tr(
                "{corner}, {stage}: {entered}, in place of the reading before",
                corner=corner,
                stage=stage,
                entered=what.entered,
            )
        case "lifted":
            return tr("{corner}, {stage}: {entered}, after lifting", corner=corner, stage=stage, entered=what.entered)
        case "pressed":
            return tr("{corner}, {stage}: {entered}, after pressing", corner=corner, stage=stage, entered=what.entered)


def _skipped(what: ev.CornerSkipped) -> str:
    stage = stage_title((what.stage, what.number))
    return tr("{corner}, {stage}: skipped, {why}", corner=corner_name(what.corner), stage=stage, why=what.reason)


def _mark(what: ev.MarkRead) -> str:
    return tr("wall mark, {stage}: {entered}", stage=stage_title((what.stage, what.number)), entered=what.entered)


def _leveller(what: ev.LevellerSet) -> str:
    stage = stage_title((what.stage, what.number))
    return tr("headlight leveling dial, {stage}: {position}", stage=stage, position=what.position)


def _answer(what: ev.CheckAnswered) -> str:
    note = f", {what.note}" if what.note else ""
    return f"{question_of(what.check)} {answer_word(what.answer)}{note}{_where(what.stage, what.number)}"


def _torque(what: ev.TorqueRecorded) -> str:
    return tr(
        "torque, {joint}: {reached}; spec {specified} ({source})",
        joint=joint_name(what.joint),
        reached=what.reached_entered or tr("not known"),
        specified=what.specified_entered or tr("not known"),
        source=what.source or tr("source not entered"),
    )


def _weighing(what: ev.WeighingRecorded) -> str:
    return tr(
        "weighed, {weighing}: front {front}, rear {rear}, trailer {trailer}",
        weighing=weighing_name(what.weighing),
        front=what.front_entered or "–",
        rear=what.rear_entered or "–",
        trailer=what.trailer_entered or "–",
    )


def _leak(what: ev.LeakRead) -> str:
    line, air = air_place(what.line), what.pressure_entered
    at = f", {what.temperature_entered}" if what.temperature_entered else ""
    if what.moment == "start":
        return tr("leak-down test started, {line}: {air}", line=line, air=air) + at
    return tr("leak-down test finished, {line}: {air}", line=line, air=air) + at


def _joint(what: ev.JointSoaped) -> str:
    found = tr("bubbles") if what.bubbles else tr("no bubbles")
    note = f", {what.note}" if what.note else ""
    return tr("soap test, {joint}: {found}", joint=joint_name(what.joint), found=found) + note


def _note(what: ev.NoteWritten) -> str:
    corner = f"{corner_name(what.corner)}, " if what.corner else ""
    return tr("note: {text}", text=corner + what.text) + _where(what.stage, what.number)


_WORDS: dict[type[ev.Event], Callable[..., str]] = {
    ev.JobOpened: _opened,
    ev.FactStated: _fact,
    ev.LoadStated: _load,
    ev.LoadRemoved: lambda what: tr("load {name} taken off", name=what.name),
    ev.StageBegun: _begun,
    ev.PressureStated: _pressure,
    ev.HeightRead: _height,
    ev.CornerSkipped: _skipped,
    ev.MarkRead: _mark,
    ev.LevellerSet: _leveller,
    ev.CheckAnswered: _answer,
    ev.TorqueRecorded: _torque,
    ev.WeighingRecorded: _weighing,
    ev.LeakRead: _leak,
    ev.JointSoaped: _joint,
    ev.NoteWritten: _note,
    ev.Undone: lambda what: tr("event {number} undone", number=what.undoes),
    ev.HandedOver: lambda what: tr("handed over to {name}", name=what.to or tr("no name")),
    ev.JobReopened: lambda what: tr("job reopened: {reason}", reason=what.reason),
}
"""Every kind of event has its words: a test holds it to that."""


# ---- checklist answers ----
