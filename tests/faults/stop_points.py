"""The process stops dead at each system call of two runs, before the call or right after it.

    python -m tests.faults.stop_points

Each stop is a process of its own that ends by `_exit`: no handler runs, no buffer is written, nothing is tidied.
"""

# ruff: noqa: T201 - it prints its figures

from __future__ import annotations

import os
import shutil
import struct
import tempfile
from pathlib import Path

from tests.store.support import FaultyDisk
from tests.store.test_crash_points import RUNS, Run, Told, calls_of, check_afterwards

STOPPED = 9


class Reporting(Told):
    """Passes on to another process what the user is told, as it is told."""

    pipe = -1

    def __setattr__(self, name: str, value: object) -> None:
        super().__setattr__(name, value)
        if name == "kept" and self.pipe >= 0 and isinstance(value, int):
            os.write(self.pipe, struct.pack("I", value))


def stopped(run: Run, folder: Path, *, at: int, after: bool) -> int:
    """Run until the stop; how many events the user was told are kept."""
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        told = Reporting()
        told.pipe = writing
        run(folder, FaultyDisk(at=at, act=lambda: os._exit(STOPPED), after=after), told)
        os._exit(0)
    os.close(writing)
    said = b""
    while chunk := os.read(reading, 4096):
        said += chunk
    os.close(reading)
    _, status = os.waitpid(child, 0)
    if os.waitstatus_to_exitcode(status) != STOPPED:
        raise AssertionError(f"call {at} was never reached")
    return max((number for (number,) in struct.iter_unpack("I", said)), default=0)


def main() -> None:
    folder = Path(tempfile.mkdtemp(prefix="cornerwalk-stops-"))
    tried = 0
    for run in RUNS:
        whole = Told()
        run(folder / "whole", FaultyDisk(), whole)
        assert whole.session is not None
        whole.session.close()
        shutil.rmtree(folder / "whole")
        calls = calls_of(run, folder / "counted")
        shutil.rmtree(folder / "counted")
        for at in range(1, calls + 1):
            for after in (False, True):
                place = folder / f"{run.__name__}-{at}-{after}"
                told = Told(kept=stopped(run, place, at=at, after=after), events=whole.events)
                check_afterwards(place, told)
                tried += 1
    shutil.rmtree(folder)
    print(f"stops: {tried} lost: 0")


if __name__ == "__main__":
    main()
