"""A program that records one reading after the other, and says on its output which ones are kept. Made to be killed.

    python -m tests.faults.writer FOLDER READINGS

It goes on with the session it finds in the folder, or begins one. Each line of its output is the number of an event
that is on the disk; a last line says how many are not.
"""

# ruff: noqa: T201 - it prints its figures

from __future__ import annotations

import itertools
import sys
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

from cornerwalk.session.events import HeightRead, JobOpened
from cornerwalk.session.stages import CORNERS
from cornerwalk.store import Library, SavedState, SessionFile


def opened_session(folder: Path) -> SessionFile:
    library = Library(folder, clock=lambda: datetime.now(UTC), by="MT")
    library.clean_up()
    for path in folder.glob("*.json"):
        if not path.name.startswith("."):
            return library.open(path)
    return library.create(JobOpened(session="1a2b3c4d", job="fit", title="Killed (invented)", program="0"))


def write(folder: Path, readings: int | None, say: Callable[[int], None]) -> int:
    """Record so many readings, or for ever; how many were not on the disk at the end."""
    session = opened_session(folder)
    count = itertools.count() if readings is None else range(readings)
    for number in count:
        if isinstance(session.state, SavedState):
            say(len(session.events))
        mm = 700.0 + number
        session.record(
            HeightRead(stage="unloaded", corner=CORNERS[number % 4], entered=f"{mm} mm", mm=mm, how="repeat")
        )
    state = session.close()
    if isinstance(state, SavedState):
        say(len(session.events))
        return 0
    return state.pending


def main() -> None:
    folder, readings = sys.argv[1:]
    pending = write(Path(folder), int(readings), lambda events: print(events, flush=True))
    print(f"not on disk: {pending}", flush=True)


if __name__ == "__main__":
    main()
