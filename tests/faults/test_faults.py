from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

PROJECT = Path(__file__).parents[2]
needs_fork = pytest.mark.skipif(not hasattr(os, "fork"), reason="kills processes that it forked")


def ran(script: str, *arguments: str) -> dict[str, int]:
    """The figures that a script prints; it must have found nothing lost."""
    done = subprocess.run(
        [sys.executable, "-m", f"tests.faults.{script}", *arguments],
        cwd=PROJECT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    figures = {name: int(number) for name, number in re.findall(r"([a-z ]+): (\d+)", done.stdout)}
    return {name.strip(): number for name, number in figures.items()}


@needs_fork
def test_a_stop_at_any_call_loses_nothing(record_property: Callable[[str, object], None]) -> None:
    """The process ends at each system call of a save: the old or the new session is whole, nothing kept is missing."""
    figures = ran("stop_points")
    record_property("crash_points", figures["stops"])
    assert figures["lost"] == 0
    assert figures["stops"] > 200


@needs_fork
def test_kills_at_random_moments_lose_nothing(record_property: Callable[[str, object], None]) -> None:
    """Fifteen real SIGKILLs, some of them within a save. A thousand: `python -m tests.faults.kills 1000`."""
    figures = ran("kills", "15")
    record_property("kills", figures["kills"])
    assert figures["lost"] == 0


def may_trace() -> bool:
    if shutil.which("strace") is None:
        return False
    return subprocess.run(["strace", "-qq", "true"], capture_output=True, check=False).returncode == 0


@pytest.mark.skipif(not may_trace(), reason="needs strace, and the right to trace")
def test_faults_put_into_the_real_program_lose_nothing(record_property: Callable[[str, object], None]) -> None:
    """A dozen of the system calls that `python -m tests.faults.traced` lets fail, or kills the program at."""
    figures = ran("traced", "12")
    record_property("traced_faults", figures["faults"])
    assert figures["lost"] == 0
