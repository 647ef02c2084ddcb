"""Every system call of two runs × every error × before and after it took effect × ended or recovered.

python -m tests.faults.every_fault
"""

# ruff: noqa: T201 - it prints its figures

from __future__ import annotations

import shutil
import tempfile
from itertools import product
from pathlib import Path

from tests.store.support import ERRORS
from tests.store.test_crash_points import RUNS, calls_of, try_fault


def main() -> None:
    folder = Path(tempfile.mkdtemp(prefix="cornerwalk-faults-"))
    calls = tried = 0
    for run in RUNS:
        here = calls_of(run, folder / run.__name__)
        calls += here
        for at, number, after, recovers in product(range(1, here + 1), ERRORS, (False, True), (False, True)):
            place = folder / str(tried)
            try_fault(run, place, at=at, number=number, after=after, recovers=recovers)
            shutil.rmtree(place)
            tried += 1
    shutil.rmtree(folder)
    print(f"calls: {calls} faults: {tried} lost: 0")


if __name__ == "__main__":
    main()
