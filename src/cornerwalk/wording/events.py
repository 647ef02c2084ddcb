"""What happened, event by event, in words: for the file report, for a replay without a screen, and for an audit.

Values are told as they were entered; nothing is computed.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache

from cornerwalk.session import RecordedEvent
from cornerwalk.session import events as h
from cornerwalk.session.checklist import ChecklistItem, Checklists, load_checklists
from cornerwalk.session.log import active_events
from cornerwalk.session.model import CheckAnswer, Session, StageKey
from cornerwalk.session.stages import StageName
from cornerwalk.wording.facts import as_stated, fact_name, place_as_stated
from cornerwalk.wording.names import air_place, answer_word, corner_name, job_name, stage_title
from cornerwalk.words import tr
from cornerwalk.words.safe import harmless


@dataclass(frozen=True, slots=True)
class Step:
    """One event in words; `counts` is False for one that was taken back, and for the taking back itself."""

    seq: int
    at: str
    by: str
    text: str
    counts: bool


def history(events: Sequence[RecordedEvent]) -> tuple[Step, ...]:
    """Every event in its order, those taken back included."""
    counting = {event.seq for event in active_events(events)}
    return tuple(
        Step(event.seq, event.at, event.by, event_words(event.payload), event.seq in counting) for event in events
    )


def event_words(what: h.Event) -> str:
    """One event as a line: `right rear, loaded, no air: 27 5/8`."""
    return harmless(_WORDS[type(what)](what))


def _key(name: StageName | None, number: int | None) -> StageKey | None:
    return None if name is None else (name, number or 1)


def _where(name: StageName | None, number: int | None) -> str:
    key = _key(name, number)
    return "" if key is None else f" ({stage_title(key)})"


def _opened(what: h.JobOpened) -> str:
    return tr("job opened: {title} ({kind})", title=what.title or tr("no name"), kind=job_name(what.job))


def _fact(what: h.FactStated) -> str:
    if what.value is None:
        return tr("{fact} taken back", fact=fact_name(what.name))
    told = tr("{fact}: {entered}", fact=fact_name(what.name), entered=as_stated(what.name, what.entered))
    return tr("{told} ({basis})", told=told, basis=what.basis) if what.basis else told


def _load(what: h.LoadStated) -> str:
    place = place_as_stated(what.place_entered)
    return tr("load {name}: {weight}, {place}", name=what.name, weight=what.entered, place=place)


def _air(what: h.StageBegun | h.PressureStated) -> str:
    told = [
        (what.pressure_entered, tr("{pressure} in", pressure=what.pressure_entered)),
        (what.left_entered, tr("left {pressure}", pressure=what.left_entered)),
        (what.right_entered, tr("right {pressure}", pressure=what.right_entered)),
    ]
    return ", ".join(text for entered, text in told if entered)


def _begun(what: h.StageBegun) -> str:
    air = _air(what)
    stage = stage_title((what.stage, what.number))
    return tr("stage begun: {stage}, {air}", stage=stage, air=air) if air else tr("stage begun: {stage}", stage=stage)


def _pressure(what: h.PressureStated) -> str:
    stage = stage_title((what.stage, what.number))
    return tr("pressure at {stage}: {air}", stage=stage, air=_air(what) or tr("taken back"))


def _height(what: h.HeightRead) -> str:
    corner, stage = corner_name(what.corner), stage_title((what.stage, what.number))
    match what.how:
        case "first":
            return tr("{corner}, {stage}: {entered}", corner=corner, stage=stage, entered=what.entered)
        case "repeat":
            return tr("{corner}, {stage}: {entered}, read once more", corner=corner, stage=stage, entered=what.entered)
        case "instead":
            return tr(
                "{corner}, {stage}: {entered}, in place of the reading before",
                corner=corner,
                stage=stage,
                entered=what.entered,
            )


def _skipped(what: h.CornerSkipped) -> str:
    stage = stage_title((what.stage, what.number))
    return tr("{corner}, {stage}: skipped, {why}", corner=corner_name(what.corner), stage=stage, why=what.reason)


def _mark(what: h.MarkRead) -> str:
    return tr(
        "mark on the wall, {stage}: {entered}", stage=stage_title((what.stage, what.number)), entered=what.entered
    )


def _leveller(what: h.LevellerSet) -> str:
    stage = stage_title((what.stage, what.number))
    return tr("headlamp leveller, {stage}: {position}", stage=stage, position=what.position)


def _answer(what: h.CheckAnswered) -> str:
    note = f", {what.note}" if what.note else ""
    return f"{question_of(what.check)} {answer_word(what.answer)}{note}{_where(what.stage, what.number)}"


def _torque(what: h.TorqueRecorded) -> str:
    return tr(
        "torque, {joint}: {reached}; asked for {specified} ({source})",
        joint=tr(what.joint),
        reached=what.reached_entered or tr("not known"),
        specified=what.specified_entered or tr("not known"),
        source=what.source or tr("source not stated"),
    )


def _weighing(what: h.WeighingRecorded) -> str:
    return tr(
        "weighed, {weighing}: front {front}, rear {rear}, trailer {trailer}",
        weighing=weighing_name(what.weighing),
        front=what.front_entered or "–",
        rear=what.rear_entered or "–",
        trailer=what.trailer_entered or "–",
    )


def weighing_name(weighing: h.Weighing) -> str:
    """What stood on the scale."""
    return {
        "unhitched": tr("unhitched"),
        "hitched": tr("hitched, bars off"),
        "distributed": tr("hitched, bars on"),
    }[weighing]


def _leak(what: h.LeakRead) -> str:
    line, air = air_place(what.line), what.pressure_entered
    at = f", {what.temperature_entered}" if what.temperature_entered else ""
    if what.moment == "start":
        return tr("hold test begun, {line}: {air}", line=line, air=air) + at
    return tr("hold test ended, {line}: {air}", line=line, air=air) + at


def _joint(what: h.JointSoaped) -> str:
    found = tr("bubbles") if what.bubbles else tr("no bubbles")
    note = f", {what.note}" if what.note else ""
    return tr("soapy water, {joint}: {found}", joint=tr(what.joint), found=found) + note


def _note(what: h.NoteWritten) -> str:
    corner = f"{corner_name(what.corner)}, " if what.corner else ""
    return tr("note: {text}", text=corner + what.text) + _where(what.stage, what.number)


_WORDS: dict[type[h.Event], Callable[..., str]] = {
    h.JobOpened: _opened,
    h.FactStated: _fact,
    h.LoadStated: _load,
    h.LoadRemoved: lambda what: tr("load {name} taken off", name=what.name),
    h.StageBegun: _begun,
    h.PressureStated: _pressure,
    h.HeightRead: _height,
    h.CornerSkipped: _skipped,
    h.MarkRead: _mark,
    h.LevellerSet: _leveller,
    h.CheckAnswered: _answer,
    h.TorqueRecorded: _torque,
    h.WeighingRecorded: _weighing,
    h.LeakRead: _leak,
    h.JointSoaped: _joint,
    h.NoteWritten: _note,
    h.Undone: lambda what: tr("event {number} undone", number=what.undoes),
    h.HandedOver: lambda what: tr("handed over to {name}", name=what.to or tr("no name")),
    h.JobReopened: lambda what: tr("job reopened: {reason}", reason=what.reason),
}
"""Every kind of event has its words: a test holds it to that."""


# ---- checklist answers ----


@dataclass(frozen=True, slots=True)
class AnswerText:
    """A question and its answer; `matters` where the answer is not the one hoped for."""

    question: str
    answer: str
    stage: str
    matters: bool


def answer_texts(session: Session, checklists: Checklists | None = None) -> tuple[AnswerText, ...]:
    """Every answer that counts, in the order given. Without the shop's lists the packaged ones give the questions."""
    items = _items(checklists) if checklists is not None else _packaged_items()
    return tuple(_text(answer, items.get(answer.check)) for answer in session.answers)


def question_of(check: str) -> str:
    """The question of a packaged checklist by its id; the id itself where the shop asked one of its own."""
    item = _packaged_items().get(check)
    return tr(item.question) if item is not None else check


def _items(checklists: Checklists) -> dict[str, ChecklistItem]:
    return {item.id: item for checklist in checklists.lists for item in checklist.items}


@cache
def _packaged_items() -> dict[str, ChecklistItem]:
    return _items(load_checklists())


def _text(answer: CheckAnswer, item: ChecklistItem | None) -> AnswerText:
    note = f" ({answer.note})" if answer.note else ""
    return AnswerText(
        question=tr(item.question) if item is not None else answer.check,
        answer=answer_word(answer.answer) + note,
        stage=stage_title(answer.stage) if answer.stage is not None else "",
        matters=item is None or (item.good != "" and answer.answer not in (item.good, "not fitted")),
    )
