"""Which line of a chapter was answered last, so that whoever comes back goes on where they left off."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cornerwalk.session.events import (
    CheckAnswered,
    FactStated,
    HandedOver,
    Happening,
    JointSoaped,
    LeakRead,
    LevellerSet,
    LoadStated,
    MarkRead,
    StageBegun,
    TorqueRecorded,
    WeighingRecorded,
)
from cornerwalk.session.log import Event, live
from cornerwalk.session.model import StageKey


def latest_lines(events: Sequence[Event], stage: StageKey | None = None) -> Iterator[str]:
    """The ids of lines as they were answered, the last one first; of one stage where lines belong to a stage."""
    for event in reversed(live(events)):
        line = line_of(event.what, stage)
        if line:
            yield line


def line_of(what: Happening, stage: StageKey | None = None) -> str:
    """The id of the line that a happening answers; "" for none, or for one of another stage."""
    match what:
        case CheckAnswered() | MarkRead() | LevellerSet():
            answered = None if what.stage is None else (what.stage, what.number or 1)
            if answered != stage:
                return ""
            return (
                what.check if isinstance(what, CheckAnswered) else "mark" if isinstance(what, MarkRead) else "leveller"
            )
        case FactStated(name=name):
            return name
        case LoadStated(name=name):
            return f"load:{name}"
        case TorqueRecorded(joint=joint):
            return f"torque:{joint}"
        case WeighingRecorded(weighing=weighing):
            return f"weighing.{weighing}"
        case LeakRead(line=line, moment=moment):
            return f"leak.{line}.{moment}"
        case JointSoaped(joint=joint):
            return f"soap.{joint}"
        case StageBegun(stage=name):
            return f"stage.{name}"
        case HandedOver():
            return "handover"
        case _:
            return ""
