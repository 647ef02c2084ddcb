"""TERM, HUP and QUIT: the file is let go of, a save in hand is finished, the status is 128 + n.

128 + n is what a shell reports of a program that a signal ended (POSIX.1-2017, Shell Command Language, 2.8.2).
"""

from __future__ import annotations

import io
import os
import signal
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from cornerwalk.context import WalkView
from cornerwalk.line.loop import Manner, converse
from cornerwalk.store import Disk
from tests.line.talking import new_job, sessions_in, talk_in
from tests.support.terminal import Terminal

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="needs POSIX signals")
SIGNALS: list[signal.Signals] = [] if sys.platform == "win32" else [signal.SIGTERM, signal.SIGHUP, signal.SIGQUIT]


@pytest.fixture(autouse=True)
def _handlers_as_before() -> Iterator[None]:
    """A program that a signal ended keeps its handlers up to its exit; the tests go on."""
    before = {number: signal.getsignal(number) for number in SIGNALS}
    yield
    for number, handler in before.items():
        signal.signal(number, handler)


class SignalledDisk(Disk):
    """Sends the program a signal in the middle of a save, once it is told to."""

    number: int | None = None

    def fsync(self, handle: int) -> None:
        if self.number is not None:
            os.kill(os.getpid(), self.number)
            self.number = None
        super().fsync(handle)


def entered(folder: Path) -> list[str]:
    """The heights that a second program finds in the file."""
    heights = (
        getattr(event.payload, "entered", "") for event in talk_in(folder, WalkView(sessions_in(folder)[0])).stored
    )
    return [height for height in heights if height.startswith("28 ")]


@pytest.mark.parametrize("number", SIGNALS)
def test_a_signal_at_a_question_ends_it_in_order(
    number: int, tmp_path: Path, open_terminal: Callable[..., Terminal]
) -> None:
    """The last word is said, the lock is gone, the terminal is as it was, the status is 128 + n."""
    sheet, library = tmp_path / "van.toml", tmp_path / "library"
    sheet.write_text('unit = "inch"\n', "utf-8")
    walk = open_terminal("--library", library, "--plain", "walk", sheet)
    walk.wait_until("Left front")
    walk.key_in("28 5/8")
    walk.press("Enter")
    walk.wait_until("Right front")
    assert list(library.glob("*.lock*"))
    modes = walk.modes()
    walk.key_in("28 1")
    walk.send_signal(number)
    assert walk.wait_end() == 128 + number
    assert "Everything is saved in" in walk.text
    assert walk.modes() == modes
    assert not list(library.glob("*.lock"))
    assert entered(library) == ["28 5/8"]


def test_a_terminal_that_hangs_up_leaves_the_file_to_others(
    tmp_path: Path, open_terminal: Callable[..., Terminal]
) -> None:
    """Nothing can be written any more; the lock is gone all the same."""
    sheet, library = tmp_path / "van.toml", tmp_path / "library"
    sheet.write_text('unit = "inch"\n', "utf-8")
    walk = open_terminal("--library", library, "--plain", "walk", sheet)
    walk.wait_until("Left front")
    assert walk.lose_line() == 128 + signal.SIGHUP
    assert not list(library.glob("*.lock"))


@pytest.mark.parametrize("number", SIGNALS)
def test_a_save_in_hand_is_finished_first(number: int, tmp_path: Path) -> None:
    """The reading is on the disk and said to be kept; the line after it is not taken any more."""
    disk, out = SignalledDisk(), io.StringIO()
    talk = new_job(tmp_path, disk=disk)
    disk.number = number
    with pytest.raises(SystemExit) as ended:
        converse(talk.conversation, io.StringIO("28 5/8\n28 11/16\n"), out, Manner())
    assert ended.value.code == 128 + number
    assert "28 5/8" in out.getvalue()
    assert "Everything is saved in" in out.getvalue()
    assert entered(tmp_path) == ["28 5/8"]
    os.kill(os.getpid(), number)  # as shell and terminal both send on hanging up: it no longer ends anything


def test_what_was_to_be_ignored_stays_ignored(tmp_path: Path) -> None:
    """Started with `nohup`, it goes on when the terminal hangs up; handlers are as before when it ends."""
    before = signal.signal(signal.SIGHUP, signal.SIG_IGN)
    try:
        disk = SignalledDisk()
        talk = new_job(tmp_path, disk=disk)
        disk.number = signal.SIGHUP
        converse(talk.conversation, io.StringIO("28 5/8\n28 11/16\n"), io.StringIO(), Manner())
        assert signal.getsignal(signal.SIGHUP) is signal.SIG_IGN
    finally:
        signal.signal(signal.SIGHUP, before)
    assert entered(tmp_path) == ["28 5/8", "28 11/16"]
