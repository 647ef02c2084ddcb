"""What exporting a library and asking its earlier jobs cost, over reading and parsing its files.

`python -m tests.benchmarks.fleet 10000` measures a library of that size once.
"""

from __future__ import annotations

import json
import resource
import sys
import time
from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.benchmarks.measure import Figure, need, table
from tests.support.clock import FrozenClock

SESSIONS = 1_000


def many(library: Path, rounds: int, sessions: int = SESSIONS) -> list[Figure]:
    """Exporting, in this process and on two, and asking earlier jobs, at first and again; for information."""
    need("cornerwalk.tables.export", "pyarrow", "duckdb", "distributed")
    from cornerwalk.standards import load_standards
    from cornerwalk.store import Library
    from cornerwalk.tables.ask import ask, questions
    from cornerwalk.tables.earlier_jobs import JobIdentity, earlier_jobs
    from cornerwalk.tables.export import export
    from tests.support.many_sessions import fill

    files = fill(library / "sessions", sessions)
    standards = load_standards()
    shop = Library(library / "sessions", clock=FrozenClock(), by="MT")
    tables = library / "tables"

    def read_and_parse() -> None:
        for file in files:
            json.loads(file.read_bytes())

    def export_with(scheduler: str | None) -> Callable[[], object]:
        return lambda: export(shop.summaries(), tables, standards=standards, scheduler=scheduler)

    def ask_everything() -> None:
        for question in questions():
            ask(question, tables)

    new_job = JobIdentity(
        session="new",
        opened_at="2099-01-01T08:00:00+00:00",
        technician="Bo Example",
        vehicle="",
        registration="INV 003",
        kit="kit A, invented",
    )
    few = max(1, rounds // 15)
    yardstick = [_ms(read_and_parse) for _ in range(3)]
    works: dict[str, Callable[[], object]] = {
        "list never seen": shop.summaries,
        "list again": shop.summaries,
        "export": export_with(None),
        "export on all processors": export_with("local"),
        "all questions": ask_everything,
        "earlier jobs, asked at first": lambda: earlier_jobs(shop, standards, new_job),
        "earlier jobs, asked again": lambda: earlier_jobs(shop, standards, new_job),
    }
    return [
        Figure(f"{name}, {sessions:,} sessions", [_ms(work) for _ in range(few)], yardstick, "ms", None)
        for name, work in works.items()
    ]


def _ms(work: Callable[[], object]) -> float:
    begun_at = time.perf_counter()
    work()
    return (time.perf_counter() - begun_at) * 1000


def main() -> None:
    """Measure a library of the size asked for."""
    with TemporaryDirectory() as place:
        print(table(many(Path(place), 1, int(sys.argv[1]))))
    print(f"largest memory: {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MiB")


if __name__ == "__main__":
    main()
