"""The real program under `strace`, which lets system call number so-and-so fail, or kills the program there.

    python -m tests.faults.traced [MOST]

A first run without faults finds which calls touch the session's folder; then each of them fails in turn with each
error, and in turn is the last thing the program does. Needs strace and the right to trace.
"""

# ruff: noqa: T201 - it prints its figures

from __future__ import annotations

import re
import shutil
import subprocess
import sys
import tempfile
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from cornerwalk.store.check import check_file
from tests.faults.writer import opened_session

READINGS = 3
CALLS = ("openat", "write", "fsync", "rename", "unlink", "mkdir", "close", "flock")
ACTS = ("error=EIO", "error=ENOSPC", "error=EDQUOT", "error=EROFS", "error=EACCES", "error=EINTR", "signal=SIGKILL")
_LINE = re.compile(r"^(?:\d+ +)?(?P<call>[a-z]+)\((?P<rest>.*)")


@dataclass(frozen=True)
class Fault:
    """Call number `when` of its kind, and what becomes of it."""

    call: str
    when: int
    act: str


def traced(folder: Path, *options: str) -> tuple[list[int], str]:
    """Run the writer; the events it said were kept, and strace's log."""
    log = folder.with_suffix(".log")
    command = ["strace", "-f", "-qq", "-y", "-o", str(log), "-e", f"trace={','.join(CALLS)}", *options]
    ran = subprocess.run(
        [*command, sys.executable, "-m", "tests.faults.writer", str(folder), str(READINGS)],
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )
    if "Traceback" in ran.stderr:
        raise AssertionError(ran.stderr)
    return [int(line) for line in ran.stdout.split() if line.isdigit()], log.read_text()


def faults(folder: Path) -> Iterator[Fault]:
    """Each call of the save path that touches the folder, with each thing that may become of it."""
    traced(folder)  # once for whatever is written at the first run only
    shutil.rmtree(folder)
    _, log = traced(folder)
    shutil.rmtree(folder)
    counted: Counter[str] = Counter()
    for line in log.splitlines():
        found = _LINE.match(line)
        if found is None:
            continue
        counted[found["call"]] += 1
        if str(folder) in found["rest"]:
            yield from (Fault(found["call"], counted[found["call"]], act) for act in ACTS)


def try_fault(folder: Path, fault: Fault) -> bool:
    """Whether everything that was said to be kept is there, whole, with nothing left over after the next start."""
    said, _ = traced(folder, "-e", f"inject={fault.call}:{fault.act}:when={fault.when}")
    with opened_session(folder) as session:
        pass
    check = check_file(session.path)
    left = [path for path in folder.iterdir() if path != session.path]
    shutil.rmtree(folder)
    events = len(check.stored.events) if check.stored else 0
    return check.ok and events >= max(said, default=0) and not left


def main() -> None:
    most = int(sys.argv[1]) if len(sys.argv) > 1 else None
    place = Path(tempfile.mkdtemp(prefix="cornerwalk-traced-"))
    folder = place / "library"
    every = list(faults(folder))
    step = 1 if most is None else max(1, len(every) // most)
    chosen = every[::step]
    lost = [fault for fault in chosen if not try_fault(folder, fault)]
    shutil.rmtree(place)
    print(f"faults: {len(chosen)} of {len(every)} lost: {len(lost)}")
    print(*lost, sep="\n")
    sys.exit(bool(lost))


if __name__ == "__main__":
    main()
