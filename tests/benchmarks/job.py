"""One whole invented job, and a preset of the same vehicle, for everything that is measured."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from tests.benchmarks.measure import need
from tests.support.clock import MORNING

if TYPE_CHECKING:
    from cornerwalk.session.events import Event
    from cornerwalk.session.log import RecordedEvent

SHEET = Path(__file__).with_name("job.toml")


def events() -> Sequence[Event]:
    """All that happens in the job, in order."""
    need("cornerwalk.sheet")
    from cornerwalk.sheet import read_job_sheet

    text = SHEET.read_text(encoding="utf-8")
    return read_job_sheet(text, name=SHEET.name, session_id="benchmark", now=MORNING).events


def recorded_events() -> list[RecordedEvent]:
    """The job as recorded, a minute between one event and the next."""
    from cornerwalk.session.log import record_event

    moment: datetime = MORNING
    done: list[RecordedEvent] = []
    for what in events():
        moment += timedelta(minutes=1)
        done.append(record_event(done, what, at=moment.isoformat(), by="MT"))
    return done


def preset() -> str:
    """The job sheet up to the first stage: a vehicle, its lamps, its kit, and nothing read yet."""
    return SHEET.read_text(encoding="utf-8").partition("[[stage]]")[0]


def but_one() -> str:
    """The job sheet up to the very last height, which is the one to be read next."""
    before, _, _ = SHEET.read_text(encoding="utf-8").rpartition("LR = ")
    return before
