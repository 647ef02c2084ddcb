"""What a typed text would do: said back while it is typed, done when Enter is pressed.

`say_back(job, asked, text)` is the only question; the screen shows what it answers and, on Enter, does it.
"""

from __future__ import annotations

from cornerwalk.tui.answers.heights import height, several
from cornerwalk.tui.answers.say_back import SayBack, refusal
from cornerwalk.tui.answers.stages import choice, pressure, stage
from cornerwalk.tui.answers.texts import note, reason
from cornerwalk.tui.asking import (
    Asked,
    HandedOver,
    HeightAsked,
    NoteAsked,
    NothingDue,
    PressureAsked,
    ReasonAsked,
    SeveralAsked,
    StageAsked,
    StageChoiceAsked,
)
from cornerwalk.tui.job import OpenJob
from cornerwalk.words import tr

__all__ = ["SayBack", "refusal", "say_back"]


def say_back(job: OpenJob, asked: Asked, text: str) -> SayBack:
    """What this text means as the answer to this question."""
    match asked:
        case HeightAsked():
            return height(job, asked, text)
        case PressureAsked():
            return pressure(job, asked, text)
        case StageAsked():
            return stage(job, asked, text)
        case SeveralAsked():
            return several(job, asked)
        case StageChoiceAsked():
            return choice(job, asked, text)
        case ReasonAsked():
            return reason(job, asked, text)
        case NoteAsked():
            return note(job, asked, text)
        case NothingDue() | HandedOver():
            return SayBack(lines=(("quiet", tr("Enter: what comes next in the job.")),), opens="job.chapters")
