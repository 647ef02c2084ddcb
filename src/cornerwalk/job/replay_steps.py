"""Replay steps: each event in words, whether it was undone or read again, and what it did to the figures.

Texts are those that were entered; figures are computed by this program from the events up to each step, so the last
step says what the session says now.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from cornerwalk.assess import Assessment, assess
from cornerwalk.assess.assessment import Finding, StageResult
from cornerwalk.session import RecordedEvent, Session, fold
from cornerwalk.session.events import HeightRead, Undone
from cornerwalk.session.log import PERMANENT_EVENTS
from cornerwalk.session.model import StageKey
from cornerwalk.session.stages import REFERENCE_STAGE
from cornerwalk.standards import Standards
from cornerwalk.wording.events import event_words
from cornerwalk.wording.figures import Wording
from cornerwalk.wording.findings import finding_text
from cornerwalk.wording.names import corner_name, stage_title
from cornerwalk.words import tr, tr_n

CACHED_STEPS = 64
"""Steps whose figures stay in memory: a screen shows a few around the current one."""


@dataclass(frozen=True, slots=True)
class StepText:
    """One event in words.

    Attributes:
        event: the event.
        text: what happened, as entered: `right rear, loaded, no air: 27 5/8`.
        remark: what it did to an earlier event, or a later one to it: `read again, instead of 27 1/2`,
            `undone by #14`; "" for nothing.
        counts: False for an event that was taken back, and for the taking back itself.
    """

    event: RecordedEvent
    text: str
    remark: str
    counts: bool


@dataclass(frozen=True, slots=True)
class StepState:
    """The session after a number of events, and what it means."""

    session: Session
    assessment: Assessment


class Steps:
    """The steps of one session, computed when they are asked for. Step n is event n; step 0 stands before the first."""

    def __init__(self, events: Sequence[RecordedEvent], standards: Standards, wording: Wording) -> None:
        self.events = tuple(events)
        self._standards = standards
        self._wording = wording
        self._undone_by_seq = undone_by_seq(self.events)
        self.after = lru_cache(maxsize=CACHED_STEPS)(self._after)
        """What the session is and means after so many events."""

    def _after(self, count: int) -> StepState:
        session = fold(self.events[:count])
        return StepState(session, assess(session, self._standards))

    def __len__(self) -> int:
        return len(self.events)

    def text(self, number: int) -> StepText:
        """Event `number` (from 1) in words."""
        event = self.events[number - 1]
        undone_by = self._undone_by_seq.get(event.seq)
        remark = "" if undone_by is None else tr("undone by #{number}", number=undone_by)
        what = event.payload
        match what:
            case Undone():
                text = self._undo_words(what)
            case HeightRead(how="instead" | "repeat"):
                text = event_words(replace(what, how="first"))
                again = self._again(what, number)
                remark = "; ".join(part for part in (again, remark) if part)
            case _:
                text = event_words(what)
        return StepText(event, text, remark, counts=undone_by is None and not isinstance(what, Undone))

    def _undo_words(self, undo: Undone) -> str:
        undone = self.events[undo.undoes - 1] if 0 < undo.undoes <= len(self.events) else None
        if undone is None:
            return tr("takes back #{number}, which is not there", number=undo.undoes)
        if isinstance(undone.payload, Undone) and 0 < undone.payload.undoes < undone.seq:
            back = self.events[undone.payload.undoes - 1]
            return tr("brings back #{number}: {what}", number=back.seq, what=event_words(back.payload))
        return tr("takes back #{number}: {what}", number=undone.seq, what=event_words(undone.payload))

    def _again(self, what: HeightRead, number: int) -> str:
        """What stood at that corner when it was read again."""
        stage = fold(self.events[: number - 1]).stage((what.stage, what.number))
        stood = ", ".join(reading.entered for reading in stage.corner(what.corner).readings) if stage else ""
        if not stood:
            return ""
        if what.how == "repeat":
            return tr("read again, averaged with {stood}", stood=stood)
        return tr("read again, instead of {stood}", stood=stood)

    def effect(self, number: int) -> str:
        """What event `number` did to the figures: those that it made known, changed or took away; "" for none."""
        before, after = self.after(number - 1), self.after(number)
        told = [*self._stages(before.assessment, after.assessment), *self._job(before.assessment, after.assessment)]
        return "; ".join(told)

    def _stages(self, before: Assessment, after: Assessment) -> Iterator[str]:
        keys = dict.fromkeys([*(s.key for s in after.stages), *(s.key for s in before.stages)])
        changed = {key: self._stage(before, after, key) for key in keys if key[0] != REFERENCE_STAGE}
        changed = {key: figures for key, figures in changed.items() if figures}
        if not changed:
            return
        # A fact stated late changes every stage: the last one stands for them all.
        key = list(changed)[-1]
        yield ", ".join(changed[key])
        if len(changed) > 1:
            yield tr_n("and so in {count} other stage", "and so in {count} other stages", len(changed) - 1)

    def _stage(self, before: Assessment, after: Assessment, key: StageKey) -> list[str]:
        old, new = self._figures(before, before.stage(key)), self._figures(after, after.stage(key))
        told = [new[name] for name in new if new[name] != old.get(name)]
        gone = [tr("{figure} no longer known", figure=name) for name in old if name not in new]
        return told + gone

    def _figures(self, assessment: Assessment, stage: StageResult | None) -> dict[str, str]:
        """The figures of a stage that are known, by name."""
        if stage is None:
            return {}
        wording, lamp = self._wording, stage.lamp
        figures = {
            corner_name(corner): f"{corner_name(corner)} {wording.change_pm(delta, stage.u_delta_mm[corner])}"
            for corner, delta in stage.delta_mm.items()
            if delta is not None
        }
        if stage.front_mm is not None:
            figures[tr("front")] = tr("front {moved}", moved=wording.change_pm(stage.front_mm, stage.u_front_mm))
        if stage.rear_mm is not None:
            figures[tr("rear")] = tr("rear {moved}", moved=wording.change_pm(stage.rear_mm, stage.u_rear_mm))
        if stage.nose_up_deg is not None:
            figures[tr("tilt")] = wording.tilt(stage.nose_up_deg, stage.u_nose_up_deg)
        if lamp is not None and lamp.shift_mm is not None:
            moved = wording.beam(lamp.shift_mm, lamp.u_shift_mm, assessment.screen_mm)
            figures[tr("beam")] = tr("beam {moved}", moved=moved)
        return figures

    def _job(self, before: Assessment, after: Assessment) -> Iterator[str]:
        old, new = (dict(self._air(assessment)) for assessment in (before, after))
        yield from (told for where, told in new.items() if told != old.get(where))
        alarms = _alarms(after) - _alarms(before)
        for finding in after.findings:
            if _named(finding) in alarms:
                text = finding_text(finding, self._wording)
                where = f" ({stage_title(finding.stage)})" if finding.stage is not None else ""
                yield f"{text.level_word}: {text.heading}{where}"

    def _air(self, assessment: Assessment) -> Iterator[tuple[str, str]]:
        for air in assessment.air:
            if air.recommended_kPa is not None:
                pressure = self._wording.pressure(air.recommended_kPa)
                yield (
                    air.where,
                    {
                        "rear": tr("air {pressure}", pressure=pressure),
                        "LR": tr("left air {pressure}", pressure=pressure),
                        "RR": tr("right air {pressure}", pressure=pressure),
                    }[air.where],
                )


def _alarms(assessment: Assessment) -> set[tuple[str, StageKey | None]]:
    return {_named(finding) for finding in assessment.findings if finding.level != "note"}


def _named(finding: Finding) -> tuple[str, StageKey | None]:
    return (finding.code, finding.stage)


def undone_by_seq(events: Sequence[RecordedEvent]) -> dict[int, int]:
    """For each event that does not count any more: the number of the undo that took it back.

    Says of every event what `log.active_events` says: one that is in here, or is an undo itself, does not count.
    """
    by: dict[int, int] = {}
    what_of = {event.seq: event.payload for event in events}
    for event in reversed(events):
        if not isinstance(event.payload, Undone) or event.seq in by:
            continue
        undone = event.payload.undoes
        if undone < event.seq and not isinstance(what_of.get(undone), PERMANENT_EVENTS):
            by.setdefault(undone, event.seq)
    return by
