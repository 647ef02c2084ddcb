"""The real program on a real terminal is killed at random moments, over and over, while readings are typed into it.

    python -m tests.faults.terminal_kills 200 [SEED]

The seed gives the same keys and moments; where in the program a moment falls is up to the machine.

Whatever the screen had shown as kept must be in the file afterwards: each `kept: …` that was read on it, and an event
of each `kept HH:MM:SS` of its first line. The file must be whole, the next start must go on with it, and once it has,
nothing half-written may lie in the folder.
"""

# ruff: noqa: T201 - it prints its figures

from __future__ import annotations

import os
import random
import re
import shutil
import sys
import tempfile
import time
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

from cornerwalk.session import Session
from cornerwalk.session.events import HeightRead
from cornerwalk.session.stages import CORNERS
from cornerwalk.store import StoredSession
from cornerwalk.store.check import check_file
from cornerwalk.store.names import writer_of
from tests.support.isolation import plain_environment
from tests.support.terminal import Terminal

SHEET = """unit = "mm"
[job]
title = "Killed, invented"
[tape]
graduation = "0.1 mm"
[vehicle]
wheelbase = "3000"
levelling = "none"
[kit]
max = "3 bar"
"""
LONGEST_START_S = 1.2
LONGEST_WALK_S = 1.0
"""From the start, and from the open walk on: up to some dozen readings, each with its save and its frames."""
AT_START = 0.15
"""The share of kills that fall while the program starts."""
WITHIN_SAVE = 0.6
LONGEST_SAVE_S = 0.05
"""The share of kills that fall so soon after an Enter that its reading may be half-way to the disk."""
SESSION_OF = 12
"""Kills of one session; then a new one is begun, so that first saves are killed too."""

SAID = re.compile(r"\bkept: (?:left|right) (?:front|rear) (\d{3}\.\d)")
MASTHEAD = re.compile(r"\bkept (\d\d:\d\d:\d\d)\b")


@dataclass
class Promised:
    """What the screen said of one session: the readings it called kept, and the times it called something kept at."""

    readings: set[str] = field(default_factory=set)
    times: set[str] = field(default_factory=set)

    def look(self, screen: str) -> None:
        """Take note of what is on the screen now."""
        self.readings.update(SAID.findall(screen))
        self.times.update(MASTHEAD.findall(screen))

    def missing(self, stored: StoredSession | None) -> set[str]:
        """What of it is not in the file."""
        events = stored.events if stored is not None else ()
        heights = {event.payload.entered for event in events if isinstance(event.payload, HeightRead)}
        return (self.readings - heights) | (self.times - {event.at[11:19] for event in events})


@dataclass
class Figures:
    """What came of all kills."""

    kills: int = 0
    said_kept: int = 0
    within_save: int = 0
    at_start: int = 0
    lost: int = 0
    broken: int = 0
    left_over: int = 0
    not_resumed: int = 0

    @property
    def all_well(self) -> bool:
        """Whether nothing was lost, broken or left over, and every start went on."""
        return not (self.lost or self.broken or self.left_over or self.not_resumed)

    def __str__(self) -> str:
        """As printed."""
        return (
            f"kills: {self.kills} while starting: {self.at_start} within a save: {self.within_save} "
            f"readings said kept: {self.said_kept} lost: {self.lost} broken files: {self.broken} "
            f"left over: {self.left_over} not resumed: {self.not_resumed}"
        )


class Killings:
    """One session after the other in a library of their own."""

    def __init__(self, folder: Path, chance: random.Random) -> None:
        """Make the job sheet that each session begins with."""
        self.figures = Figures()
        self._chance = chance
        self._library = folder / "library"
        self._sheet = folder / "van.toml"
        self._sheet.write_text(SHEET, "utf-8")
        self._begin_anew()

    def _begin_anew(self) -> None:
        shutil.rmtree(self._library, ignore_errors=True)
        self._promised = Promised()
        self._heights = (f"{700 + tenth / 10:.1f}" for tenth in range(1000))

    def run(self, kills: int) -> None:
        """Start, type, kill, look; so many times."""
        for number in range(kills):
            if number % SESSION_OF == 0:
                self._end()
                self._begin_anew()
            self._kill_once()
        self._end()

    def _end(self) -> None:
        """The last start of a session is left to open it."""
        if self._session_file() is not None:
            with self._started() as terminal:
                self._opened(terminal)
        self.figures.said_kept += len(self._promised.readings)

    def _kill_once(self) -> None:
        with self._started() as terminal:
            if self._chance.random() < AT_START:
                self.figures.at_start += 1
                time.sleep(self._chance.uniform(0, LONGEST_START_S))
            elif self._opened(terminal):
                self._type(terminal, time.perf_counter() + self._chance.uniform(0, LONGEST_WALK_S))
            terminal.kill()
            while terminal.read(0.02):
                self._promised.look(terminal.text)
        self._look_at_the_disk()

    def _started(self) -> Terminal:
        """Going on with the session, or a new one where no file was written yet."""
        if self._session_file() is None:
            return Terminal.cornerwalk("--library", self._library, "walk", self._sheet)
        return Terminal.cornerwalk("--library", self._library)

    def _opened(self, terminal: Terminal) -> bool:
        """Wait for the walk, as a person would; by then what the last kill left half-written must be gone."""
        going_on = self._session_file() is not None
        try:
            if going_on:
                terminal.wait_until("Go on with Killed, invented", 60)
                terminal.press("Enter")
            self._promised.look(terminal.wait_until(MASTHEAD, 60))
        except AssertionError as problem:
            print(problem)
            self.figures.not_resumed += 1
            return False
        if going_on:
            left = left_by_others(self._half_written(), terminal.pid)
            self.figures.left_over += len(left)
            print(*left, sep="\n", end="\n" if left else "")
        return True

    def _type(self, terminal: Terminal, end: float) -> None:
        """Type readings, at times faster than the screen follows, until it is time for the kill."""
        for line in self._lines():
            terminal.key_in(line)
            terminal.press("Enter")
            pause = min(end, time.perf_counter() + self._chance.choice((0.01, 0.05, 0.2)))
            while (left := pause - time.perf_counter()) > 0:
                terminal.read(left)
                self._promised.look(terminal.text)
            if pause == end:
                break
        if self._chance.random() < WITHIN_SAVE:
            terminal.key_in(next(self._heights))
            terminal.press("Enter")
            time.sleep(self._chance.uniform(0, LONGEST_SAVE_S))

    def _lines(self) -> Iterator[str]:
        """What the walk asks for from where the file stands on: heights, each only once, and what is between them."""
        file = self._session_file()
        stored = check_file(file).stored if file is not None else None
        begun, read = _where(stored.session) if stored is not None else (1, 0)
        while True:
            for _ in range(read, 4):
                yield next(self._heights)
            yield "" if begun == 1 else str(20 + begun)
            begun, read = begun + 1, 0

    def _look_at_the_disk(self) -> None:
        self.figures.kills += 1
        self.figures.within_save += bool(self._half_written())
        file = self._session_file()
        check = check_file(file) if file is not None else None
        if check is not None and not check.ok:
            self.figures.broken += 1
            print("broken:", *map(str, check.findings))
        missing = self._promised.missing(check.stored if check is not None else None)
        if missing:
            self.figures.lost += 1
            print("lost:", *sorted(missing))

    def _session_file(self) -> Path | None:
        files = (path for path in self._library.glob("*.json") if not path.name.startswith("."))
        return next(files, None)

    def _half_written(self) -> list[str]:
        if not self._library.exists():
            return []
        return [name for name in os.listdir(self._library) if ".part" in name]  # noqa: PTH208 - names are all wanted


def left_by_others(half_written: Iterable[str], running: int) -> list[str]:
    """Those of these files that the running program is not writing: what it remembers of a library it writes beside."""
    writers = ((name, writer_of(name)) for name in half_written)
    return [name for name, writer in writers if writer is None or writer.pid != running]


def _where(session: Session) -> tuple[int, int]:
    """How many stages are begun, and how many corners of the last are read."""
    stages = session.stages
    return (len(stages), sum(bool(stages[-1].corner(c).readings) for c in CORNERS)) if stages else (1, 0)


def main() -> None:
    """Kill, and print what came of it."""
    kills = int(sys.argv[1])
    seed = int(sys.argv[2]) if len(sys.argv) > 2 else random.randrange(2**32)
    with tempfile.TemporaryDirectory(prefix="cornerwalk-kills-") as name:
        os.environ.update(plain_environment(Path(name)))
        killings = Killings(Path(name), random.Random(seed))
        killings.run(kills)
    print(f"seed: {seed} {killings.figures}")
    sys.exit(not killings.figures.all_well)


if __name__ == "__main__":
    main()
