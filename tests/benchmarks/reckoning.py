"""How long it takes to say what a session means."""

from __future__ import annotations

import time
from pathlib import Path

from tests.benchmarks import job
from tests.benchmarks.measure import Figure, need

BATCH = 20


def assess_time(library: Path, rounds: int) -> list[Figure]:
    """Assessing a whole job of three stages, and folding its events first, in ms each.

    Both only compute, so that the time counts in which this program had the processor, whoever else wanted it.
    """
    need("cornerwalk.assess", "cornerwalk.standards.loader")
    from cornerwalk.assess import assess
    from cornerwalk.session import fold
    from cornerwalk.standards import load_standards

    events, standards = job.recorded_events(), load_standards()
    session = fold(events)
    assessed, folded = [], []
    for _ in range(rounds + 1):
        begun_at = time.process_time()
        for _ in range(BATCH):
            assess(session, standards)
        assessed_at = time.process_time()
        for _ in range(BATCH):
            fold(events)
        folded_at = time.process_time()
        assessed.append((assessed_at - begun_at) * 1000 / BATCH)
        folded.append((folded_at - assessed_at) * 1000 / BATCH)
    return [
        Figure("assess a job of three stages", assessed[1:], [], "ms", 1.0),
        Figure("fold its events", folded[1:], [], "ms", 1.0),
    ]
