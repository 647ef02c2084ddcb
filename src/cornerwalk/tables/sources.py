"""What a row is made from, and the few things of a session that several tables and lessons need alike."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from cornerwalk.assess.assessment import Assessment
from cornerwalk.session.journal import Event
from cornerwalk.session.parts import Session


@dataclass(frozen=True, slots=True)
class Source:
    """One session with what it means; `events` are its events as they are to be exported."""

    path: Path
    version: int
    events: Sequence[Event]
    session: Session
    assessment: Assessment


def file_name(path: Path) -> str:
    r"""The name of a file as text; bytes that are no UTF-8 are spelled out, as `\udcff`."""
    return path.name.encode("utf-8", "backslashreplace").decode("utf-8")


def technician_of(session: Session, events: Sequence[Event]) -> str | None:
    """Who read the heights: as stated, else who recorded the first of them, else who opened the job."""
    if session.job.technician.strip():
        return session.job.technician.strip()
    recorded = next((event.by for event in events if event.what.kind == "height read"), None)
    return (recorded or (events[0].by if events else "")).strip() or None


def vehicle_of(session: Session) -> str | None:
    """Which vehicle it is: its registration, else its description."""
    return session.vehicle.registration.strip() or session.vehicle.description.strip() or None
