"""What a user waits for: the first frame, and the result after a key. And what the app holds in memory."""

from __future__ import annotations

import sys
import time
from functools import partial
from pathlib import Path

from tests.benchmarks import job
from tests.benchmarks.measure import Figure, NotThereYetError, in_turn
from tests.support.terminal import KEYS, Sight, Terminal

HERE = Path(__file__).parent
BLANK = [sys.executable, str(HERE / "blank_app.py")]
ECHO = [sys.executable, str(HERE / "echo_app.py")]
FOOT = "F1 help"
"""Stands on every page once it is there, and on no first frame."""

QUIET_S = 0.4
"""A screen that does not change for so long stays as it is: the cursor alone blinks."""


def start_page(library: Path) -> list[str]:
    """The command that opens the start page on this library."""
    return [sys.executable, "-m", "cornerwalk", "--library", str(library)]


def walk(library: Path, text: str) -> list[str]:
    """The command that opens the walk on this job sheet."""
    sheet = library / "benchmark.toml"
    sheet.write_text(text, encoding="utf-8")
    return [*start_page(library), "walk", str(sheet)]


def frame_times_ms(command: list[str], complete_with: str) -> tuple[float, float]:
    """Time from starting a program to its first words on the screen, and until the screen is complete, in ms."""
    with Terminal(command) as terminal:
        sights = opened(terminal, complete_with)
        first = next(sight for sight in sights if sight.text.strip())
        complete = next(sight for sight in sights if sight.text == sights[-1].text)
        return (first.at - terminal.started_at) * 1000, (complete.at - terminal.started_at) * 1000


def opened(terminal: Terminal, complete_with: str = FOOT) -> list[Sight]:
    """What the screen showed until it held this text and the program had nothing more to draw.

    Raises:
        NotThereYetError: the program ended instead of opening.
    """
    sights = terminal.watch(QUIET_S)
    while complete_with not in terminal.text and terminal.is_running:
        sights += terminal.watch(QUIET_S)
    if not terminal.is_running:
        said = [line.strip() for line in terminal.text.splitlines() if line.strip()]
        raise NotThereYetError(f"the program ended with: {' '.join(said[-2:])}")
    return sights


def start_frame(library: Path, rounds: int) -> list[Figure]:
    """The first frame of the start page, and the whole of it, against the blank app's."""
    return first_frame("start page", start_page(library), rounds)


def walk_frame(library: Path, rounds: int) -> list[Figure]:
    """The first frame of the walk, and the whole of it, against the blank app's."""
    return first_frame("walk", walk(library, job.preset()), rounds)


def first_frame(name: str, command: list[str], rounds: int) -> list[Figure]:
    """From starting a program to its first frame, and to its complete page, against the blank app's only frame."""
    ours, blank = [], []
    for _ in range(rounds + 1):
        blank.append(frame_times_ms(BLANK, "ready")[0])
        ours.append(frame_times_ms(command, FOOT))
    return [
        Figure(f"{name}, {moment}", [times[index] for times in ours[1:]], blank[1:], "ms", target)
        for index, (moment, target) in enumerate((("first frame", 1.25), ("complete", None)))
    ]


def key_to_result(library: Path, rounds: int) -> list[Figure]:
    """From the last digit of a height to what was understood of it, against a field and its echo.

    Once with nothing read yet, and once where the height completes the last of four stages and every result changes.
    """
    figures = []
    for name, text in (("first height", job.preset()), ("last height of a job", job.but_one())):
        with Terminal(walk(library, text)) as ours, Terminal(ECHO) as echo:
            opened(ours)
            opened(echo, "")
            values = in_turn(
                partial(digit_to_text_ms, ours, "28.8125 in"), partial(digit_to_text_ms, echo, "echo 28 13/16"), rounds
            )
        figures.append(Figure(f"key to result, {name}", *values, "ms", 1.3))
    return figures


def digit_to_text_ms(terminal: Terminal, wanted: str) -> float:
    """Time from the key `6` after `28 13/1` to this text on the screen, in ms; the field is empty before and after."""
    for character in "28 13/1":
        terminal.key_in(character)
        terminal.watch(0.05)
    terminal.wait_still(0.15)
    pressed_at = time.perf_counter()
    terminal.key_in("6")
    sights = terminal.watch(0.15)
    shown_at = next((sight.at for sight in sights if wanted in sight.text), None)
    if shown_at is None:
        raise NotThereYetError(f"the screen never showed {wanted!r}:\n{terminal.text}")
    terminal.key_in(KEYS["Backspace"] * len("28 13/16"))
    terminal.wait_gone(wanted)
    terminal.wait_still(0.15)
    return (shown_at - pressed_at) * 1000


def memory(library: Path, rounds: int) -> list[Figure]:
    """Memory held once the screen is complete, against the blank app's. Linux only.

    In a library of its own, and in one where the vehicle's earlier jobs are read: that loads what reads a file.
    """
    few = max(3, rounds // 4)
    folders = [library / f"own {number}" for number in range(few + 1)]
    for folder in folders:
        folder.mkdir()
    blank = [resident_mib(BLANK, "ready") for _ in folders]
    alone = [resident_mib(walk(own, job.but_one()), FOOT) for own in folders]
    among_others = [resident_mib(walk(library, job.but_one()), FOOT) for _ in folders]
    return [
        Figure("memory, walk open", alone[1:], blank[1:], "MiB", 1.2),
        Figure("memory, earlier jobs read", among_others[1:], blank[1:], "MiB", None),
    ]


def resident_mib(command: list[str], complete_with: str) -> float:
    """Memory of the program that is in use once its screen is complete, in MiB."""
    with Terminal(command) as terminal:
        opened(terminal, complete_with)
        status = Path(f"/proc/{terminal.pid}/status").read_text(encoding="ascii")
        (line,) = [line for line in status.splitlines() if line.startswith("VmRSS:")]
        return int(line.split()[1]) / 1024
