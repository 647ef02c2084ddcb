"""How long the list of a large library takes, cold and warm, against reading and parsing its files once.

    python -m tests.benchmarks.library_list 10000

The sessions are generated (invented), some forty events each. Processor time is counted, so that a busy machine says
the same as an idle one.
"""

from __future__ import annotations

import json
import random
import sys
import tempfile
import time
import uuid
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

from cornerwalk.session import RecordedEvent, record_event
from cornerwalk.session.events import (
    CheckAnswered,
    Event,
    FactStated,
    HandedOver,
    HeightRead,
    JobOpened,
    StageBegun,
)
from cornerwalk.session.log import event_to_json
from cornerwalk.session.stages import CORNERS, REQUIRED_STAGES
from cornerwalk.store import Library
from cornerwalk.store.format import event_line, file_bytes

FACTS = {"job.technician": "M. (invented)", "vehicle.description": "long van (invented)", "kit.name": "kit (invented)"}
TRIES = 5


def job(number: int, session: str) -> list[Event]:
    events: list[Event] = [JobOpened(session=session, job="fit", title=f"ListedJob {number} (invented)", program="0")]
    events += [FactStated(name=name, entered=text, value=text) for name, text in FACTS.items()]
    for stage in REQUIRED_STAGES["fit"]:
        events.append(StageBegun(stage=stage))
        events += [HeightRead(stage=stage, corner=corner, entered="28 5/8", mm=727.075) for corner in CORNERS]
    events += [CheckAnswered(check=f"check {each}", answer="yes") for each in range(18)]
    if number % 3:
        events.append(HandedOver(to="customer", figures={"rear_mm": -1.5, "beam_mm": 12.25}, program="0"))
    return events


def fill(folder: Path, count: int) -> None:
    chance = random.Random(1)
    start = datetime(2020, 1, 1, 8, tzinfo=UTC)
    for number in range(count):
        session = str(uuid.UUID(int=chance.getrandbits(128)))
        at = (start + timedelta(hours=5 * number)).isoformat()
        events: list[RecordedEvent] = []
        for what in job(number, session):
            events.append(record_event(events, what, at=at, by="MT"))
        lines = [event_line(event_to_json(event)) for event in events]
        (folder / f"{at[:10]}-job-{session[:8]}.json").write_bytes(file_bytes(session, lines))


def least_s(act: Callable[[], object]) -> float:
    times = []
    for _ in range(TRIES):
        start = time.process_time()
        act()
        times.append(time.process_time() - start)
    return min(times)


def main() -> None:
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 10_000
    with tempfile.TemporaryDirectory(prefix="cornerwalk-list-") as name:
        folder = Path(name)
        fill(folder, count)
        library = Library(folder, clock=lambda: datetime.now(UTC), by="")

        def parse_all() -> None:
            for path in folder.glob("2*.json"):
                json.loads(path.read_bytes())

        def list_cold() -> None:
            (folder / ".index.json").unlink(missing_ok=True)
            library.summaries()

        parsed_s, cold_s, warm_s = least_s(parse_all), least_s(list_cold), least_s(library.summaries)
    print(f"{count} sessions: read and parsed {parsed_s:.3f} s")
    print(f"listed without an index {cold_s:.3f} s, {cold_s / parsed_s:.2f} of that (wanted: at most 2)")
    print(f"listed with it {warm_s:.3f} s (wanted: at most 0.3)")


if __name__ == "__main__":
    main()
