"""Measure the program against yardsticks in one run: `python tests/benchmarks/run.py [--rounds N] [WHAT …]`.

Exit status 0 when every target is met, 1 when one is missed. What cannot be measured yet is said and left out.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory

sys.path.insert(0, str(Path(__file__).parents[2]))

import pytest

from tests.benchmarks import files, reckoning, screen
from tests.benchmarks.measure import Figure, NotThereYetError, table
from tests.support.isolation import isolate

Measurement = Callable[[Path, int], list[Figure]]

MEASUREMENTS: dict[str, Measurement] = {
    "start": screen.start_frame,
    "walk": screen.walk_frame,
    "key": screen.key_to_result,
    "memory": screen.memory,
    "assess": reckoning.assess_time,
    "save": files.save,
    "list": files.listing,
}


def main() -> int:
    """Measure what is asked for, print the table, and say by the exit status whether every target is met."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("what", nargs="*", choices=[*MEASUREMENTS, []], help="what to measure; everything by default")
    asked.add_argument("--rounds", type=int, default=15, help="how often each is measured (default 15)")
    options = asked.parse_args()
    figures: list[Figure] = []
    for name in options.what or MEASUREMENTS:
        print(f"measuring {name} …", file=sys.stderr, flush=True)
        try:
            figures += measured(MEASUREMENTS[name], options.rounds)
        except NotThereYetError as missing:
            print(f"{name}: not measured, {missing}")
    print(table(figures))
    return 0 if all(figure.is_met for figure in figures) else 1


def measured(measurement: Measurement, rounds: int) -> list[Figure]:
    """The figures of one measurement, made in a home and a library of its own."""
    with TemporaryDirectory() as home, TemporaryDirectory() as library, pytest.MonkeyPatch.context() as patch:
        isolate(patch, Path(home))
        patch.delenv("TEXTUAL_ANIMATIONS")
        # Compiled files are what a user has, ours as well as the library's; kept out of the tree.
        patch.delenv("PYTHONDONTWRITEBYTECODE", raising=False)
        patch.setenv("PYTHONPYCACHEPREFIX", str(Path(home) / "compiled"))
        return measurement(Path(library), rounds)


if __name__ == "__main__":
    sys.exit(main())
