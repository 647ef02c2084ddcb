"""A program that records readings is killed at random moments, over and over, and goes on with its session each time.

    python -m tests.faults.kills 1000

After each kill everything it had said was kept must be in the file, the file must be whole, and after the next start
nothing else may lie in the folder.
"""

# ruff: noqa: T201 - it prints its figures

from __future__ import annotations

import os
import random
import select
import shutil
import signal
import sys
import tempfile
import time
from pathlib import Path

from cornerwalk.store.check import check_file
from tests.faults.writer import opened_session, write

LONGEST_S = 0.08
"""Some six readings: long enough for a kill to fall on any step of a save."""


def killed(folder: Path, moment_s: float) -> int:
    """Start the writer, kill it so long after its first word; the last event it said was kept."""
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(reading)
        write(folder, None, lambda events: _say(writing, events))
        os._exit(1)
    os.close(writing)
    select.select([reading], [], [], 30)
    time.sleep(moment_s)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    said = b""
    while chunk := os.read(reading, 4096):
        said += chunk
    os.close(reading)
    return int(said.split(b"\n")[-2])


def _say(pipe: int, events: int) -> None:
    os.write(pipe, b"%d\n" % events)


def main() -> None:
    kills = int(sys.argv[1])
    seed = int(sys.argv[2]) if len(sys.argv) > 2 else random.randrange(2**32)
    chance = random.Random(seed)
    folder = Path(tempfile.mkdtemp(prefix="cornerwalk-kills-"))
    lost = strays = 0
    for number in range(kills):
        if number % 50 == 0:  # a new session now and then, so that the first save is killed too
            shutil.rmtree(folder)
        kept = killed(folder, chance.uniform(0, LONGEST_S))
        (path,) = (p for p in folder.glob("*.json") if not p.name.startswith("."))
        check = check_file(path)
        if not check.ok or check.stored is None or len(check.stored.events) < kept:
            lost += 1
        strays += sum(".part" in name for name in os.listdir(folder))  # noqa: PTH208 - names are all that is wanted
    with opened_session(folder) as session:
        pass
    left = [p.name for p in folder.iterdir() if p != session.path]
    shutil.rmtree(folder)
    print(f"seed: {seed} kills: {kills} killed within a save: {strays} lost: {lost} left over: {len(left)}")
    sys.exit(bool(lost or left))


if __name__ == "__main__":
    main()
