"""What safe writing costs over bare writing, and what listing a library costs over reading its files."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path

from tests.benchmarks import job
from tests.benchmarks.measure import Figure, in_turn, need
from tests.support.clock import FrozenClock

SESSIONS = 10_000
COMMAND = (sys.executable, "-m", "cornerwalk")
CHANGES = 10
"""How many changes are written for one value: a single one is over in a few milliseconds."""


def save(library: Path, rounds: int) -> list[Figure]:
    """Keeping the last readings of a whole job, against writing as many bytes with the bare system calls."""
    need("cornerwalk.store.library")
    from cornerwalk.store import Library

    clock = FrozenClock()
    happened = job.events()
    reading = next(what for what in reversed(happened) if type(what).__name__ == "HeightRead")
    maker = Library(library, clock=clock, by="MT")

    def keeping_ms() -> float:
        clock.advance(minutes=1)
        with maker.create(*happened) as session:

            def keep() -> None:
                session.record(reading)

            return a_change_ms(keep)

    with maker.create(*happened, *[reading] * (CHANGES // 2)) as session:
        data = session.path.read_bytes()
    figures = []
    for name, folder, target in (("as safely", library, 1.2), ("folder not synced", None, None)):
        bare_ms = partial(a_write_ms, library / "bare", data, folder)
        figures.append(Figure(f"save, against bare write, {name}", *in_turn(keeping_ms, bare_ms, rounds), "ms", target))
    return figures


def a_change_ms(change: Callable[[], None]) -> float:
    """Time that one change takes, in ms."""
    begun_at = time.perf_counter()
    for _ in range(CHANGES):
        change()
    return (time.perf_counter() - begun_at) * 1000 / CHANGES


def a_write_ms(path: Path, data: bytes, folder: Path | None) -> float:
    """Time that putting these bytes in the place of a file takes with the bare system calls, in ms."""
    return a_change_ms(lambda: write_replace(path, data, folder))


def write_replace(path: Path, data: bytes, folder: Path | None) -> None:
    """Put these bytes in the place of a file, on the disk before the old ones are gone; then sync the folder given."""
    temporary = path.with_suffix(".new")
    with temporary.open("wb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())
    temporary.replace(path)
    if folder is not None and os.name != "nt":
        handle = os.open(folder, os.O_RDONLY)
        os.fsync(handle)
        os.close(handle)


def listing(library: Path, rounds: int) -> list[Figure]:
    """Listing ten thousand sessions, at first sight and again, against reading and parsing their files."""
    need("cornerwalk.store.library")
    from cornerwalk.store import Disk, Library

    class CarelessDisk(Disk):
        """Does not wait for the disk, which making ten thousand files would take minutes over."""

        def fsync(self, handle: int) -> None:
            """Nothing."""

    clock = FrozenClock()
    maker = Library(library, clock=clock, by="MT", disk=CarelessDisk())
    happened = job.events()
    for _ in range(SESSIONS):
        clock.advance(minutes=1)
        maker.create(*happened).close()
    files = [file for file in library.iterdir() if file.stat().st_size > 1000]
    own = set(library.iterdir())

    def at_first_sight() -> float:
        for leftover in set(library.iterdir()) - own:
            leftover.unlink()
        return list_ms()

    def list_ms() -> float:
        begun_at = time.perf_counter()
        found = Library(library, clock=clock, by="MT").summaries()
        taken_ms = (time.perf_counter() - begun_at) * 1000
        if len(found) != SESSIONS:
            raise AssertionError(f"{len(found)} sessions listed instead of {SESSIONS}")
        return taken_ms

    def read_and_parse_ms() -> float:
        begun_at = time.perf_counter()
        for file in files:
            json.loads(file.read_bytes())
        return (time.perf_counter() - begun_at) * 1000

    def command_ms() -> float:
        begun_at = time.perf_counter()
        subprocess.run([*COMMAND, "--library", library, "list"], check=True, stdout=subprocess.DEVNULL)
        return (time.perf_counter() - begun_at) * 1000

    list_ms()
    command_ms()
    few = max(3, rounds // 5)
    return [
        Figure("`list` of 10,000 sessions, the whole command", [command_ms() for _ in range(rounds)], [], "ms", 300.0),
        Figure("list 10,000 sessions never seen", *in_turn(at_first_sight, read_and_parse_ms, few), "ms", 2.0),
        Figure("list them again", *in_turn(list_ms, read_and_parse_ms, few), "ms", 2.0),
    ]
