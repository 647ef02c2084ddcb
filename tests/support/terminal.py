"""A terminal to run the program on: keys go in as a keyboard sends them, the screen is read as a person sees it.

Needs a POSIX system; tests take it through the `open_terminal` fixture, which skips elsewhere.
"""

from __future__ import annotations

import codecs
import os
import re
import signal
import sys
import time
from collections.abc import Callable, Sequence
from types import TracebackType
from typing import NamedTuple, Self

import pexpect
import pyte

KEYS = {
    "Enter": "\r", "Escape": "\x1b", "Tab": "\t", "Shift+Tab": "\x1b[Z", "Backspace": "\x7f", "Delete": "\x1b[3~",
    "Insert": "\x1b[2~", "Space": " ",
    "Up": "\x1b[A", "Down": "\x1b[B", "Right": "\x1b[C", "Left": "\x1b[D",
    "Home": "\x1b[H", "End": "\x1b[F", "PageUp": "\x1b[5~", "PageDown": "\x1b[6~",
    "F1": "\x1bOP", "F2": "\x1bOQ", "F3": "\x1bOR", "F4": "\x1bOS", "F5": "\x1b[15~", "F6": "\x1b[17~",
    "F7": "\x1b[18~", "F8": "\x1b[19~", "F9": "\x1b[20~", "F10": "\x1b[21~", "F11": "\x1b[23~", "F12": "\x1b[24~",
    **{f"Ctrl+{letter}": chr(ord(letter) & 0x1F) for letter in "ABCDEFGHIJKLMNOPQRSTUVWXYZ\\"},
}  # fmt: skip
"""What a terminal of the xterm family sends for each key."""

Wanted = str | re.Pattern[str] | Callable[[str], bool]
"""What to wait for on the screen: a text, a pattern, or a question about the whole screen's text."""


class Sight(NamedTuple):
    """What the screen showed from a moment on, by `time.perf_counter`."""

    at: float
    text: str


class Terminal:
    """A program on a pseudo-terminal.

    Everything the program writes is drawn on a screen held here; reading happens while waiting, so a test waits for
    what the user would wait for, never for a length of time.
    """

    def __init__(self, command: Sequence[str], *, columns: int = 80, lines: int = 24) -> None:
        """Start the program.

        Args:
            command: the program and its arguments. It gets the environment of the test.
            columns: width of the terminal in characters.
            lines: height of the terminal in characters.
        """
        self.started_at = time.perf_counter()
        self._screen = _Screen(columns, lines)
        self._stream = pyte.Stream(self._screen)
        self._sequences = _Sequences()
        self._program: pexpect.spawn[bytes] = pexpect.spawn(
            command[0], list(command[1:]), dimensions=(lines, columns), env=os.environ.copy(), timeout=None
        )
        self._program.delaybeforesend = None
        self._screen.write_process_input = self._answer  # type: ignore[method-assign]

    @classmethod
    def cornerwalk(cls, *arguments: str | os.PathLike[str], columns: int = 80, lines: int = 24) -> Self:
        """Run the installed program with these arguments."""
        command = [sys.executable, "-m", "cornerwalk", *(os.fspath(argument) for argument in arguments)]
        return cls(command, columns=columns, lines=lines)

    # ---- in ----

    def press(self, *keys: str) -> None:
        """Press keys by name, one after the other: `press("F2", "Enter")`, `press("Ctrl+P")`.

        Raises:
            KeyError: if no key has that name; see `KEYS`.
        """
        for key in keys:
            self._send(KEYS[key])

    def key_in(self, text: str) -> None:
        """Type text, a character at a time."""
        for character in text:
            self._send(character)

    def send_bytes(self, data: bytes) -> None:
        """Send bytes as they are, whatever they are."""
        self._program.send(data)

    def paste(self, text: str) -> None:
        """Paste text in one piece, marked as pasted, as terminals do."""
        self._send(f"\x1b[200~{text}\x1b[201~")

    def click(self, column: int, line: int) -> None:
        """Click with the left mouse button; the top left corner is 0, 0."""
        self._send(f"\x1b[<0;{column + 1};{line + 1}M\x1b[<0;{column + 1};{line + 1}m")

    def resize(self, columns: int, lines: int) -> None:
        """Make the terminal another size, as dragging its corner does."""
        self._screen.resize(lines, columns)
        self._program.setwinsize(lines, columns)

    def hang_up(self) -> None:
        """Close the terminal window under the program."""
        self._program.close(force=False)

    def lose_line(self, seconds: float = 20) -> int | None:
        """Let the line to the program drop, so that only the system tells it, and return its exit status.

        Raises:
            AssertionError: it goes on running.
        """
        self._program.ptyproc.fileobj.close()
        deadline = time.perf_counter() + seconds
        while self._program.isalive():
            if time.perf_counter() > deadline:
                raise AssertionError("the program did not end")
            time.sleep(0.05)
        return self.exit_status

    def kill(self) -> None:
        """End the program as a flat battery would: at once, with no chance to save."""
        self.send_signal(signal.SIGKILL)
        self._program.wait()

    def send_signal(self, number: int) -> None:
        """Send a signal to the program."""
        os.kill(self.pid, number)

    # ---- out ----

    @property
    def text(self) -> str:
        """The screen as last read, one line for each row, without spaces at the ends."""
        return "\n".join(line.rstrip() for line in self._screen.display)

    def modes(self) -> list[object]:
        """How the terminal treats what is typed and written: echo, whole lines, special characters."""
        import termios  # POSIX only

        return [*termios.tcgetattr(self._program.child_fd)]

    @property
    def pid(self) -> int:
        """The process id of the program."""
        return int(self._program.pid)

    @property
    def is_running(self) -> bool:
        """Whether the program has not ended yet."""
        return bool(self._program.isalive())

    @property
    def exit_status(self) -> int | None:
        """The exit status, None while running or when ended by a signal."""
        status: int | None = self._program.exitstatus
        return status

    def wait_until(self, wanted: Wanted, seconds: float = 20) -> str:
        """Read until the screen shows this, and return the screen's text.

        Raises:
            AssertionError: with the screen as it is, if it does not come in time or the program ends first.
        """
        return self._read_until(_question(wanted), f"the screen never showed {wanted!r}", seconds)

    def wait_gone(self, unwanted: Wanted, seconds: float = 20) -> str:
        """Read until the screen no longer shows this, and return the screen's text.

        Raises:
            AssertionError: with the screen as it is, if it does not go in time or the program ends first.
        """
        is_there = _question(unwanted)
        return self._read_until(lambda text: not is_there(text), f"the screen went on showing {unwanted!r}", seconds)

    def wait_still(self, quiet_seconds: float = 0.3, seconds: float = 20) -> str:
        """Read until the program has written nothing for a while, and return the screen's text."""
        deadline = time.perf_counter() + seconds
        while time.perf_counter() < deadline and self.read(quiet_seconds):
            pass
        return self.text

    def wait_end(self, seconds: float = 20) -> int | None:
        """Read until the program has ended, and return its exit status.

        Raises:
            AssertionError: with the screen as it is, if it goes on running.
        """
        deadline = time.perf_counter() + seconds
        while time.perf_counter() < deadline:
            if not self.read(0.1) and not self._program.isalive():
                return self.exit_status
        raise AssertionError(self._with_screen("the program did not end"))

    def watch(self, quiet_seconds: float, seconds: float = 20) -> list[Sight]:
        """Wait for the program to write, read until it pauses, and tell what the screen showed when.

        Drawing is slower than reading, so that it waits until all has been read: no time is ours instead of the
        program's.

        Args:
            quiet_seconds: what counts as a pause.
            seconds: how long to wait for the first output, and how long to read at most.
        """
        deadline = time.perf_counter() + seconds
        output = self._receive(seconds)
        pieces: list[tuple[float, bytes]] = []
        while output:
            pieces.append((time.perf_counter(), output))
            output = self._receive(quiet_seconds) if time.perf_counter() < deadline else b""
        sights = []
        for at, output in pieces:
            self._draw(output)
            sights.append(Sight(at, self.text))
        return sights

    def read(self, seconds: float) -> bool:
        """Draw what the program writes next; False if it writes nothing in that time, or has ended."""
        output = self._receive(seconds)
        self._draw(output)
        return bool(output)

    # ---- end ----

    def close(self) -> None:
        """End the program if it still runs, and give the terminal back."""
        self._program.close(force=True)

    def __enter__(self) -> Self:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        self.close()

    def _receive(self, seconds: float) -> bytes:
        """What the program writes next; nothing if it writes nothing in that time, or has ended."""
        try:
            output: bytes = self._program.read_nonblocking(65536, timeout=seconds)
        except (pexpect.TIMEOUT, pexpect.EOF):
            return b""
        return output

    def _draw(self, output: bytes) -> None:
        self._stream.feed(self._sequences.understood(output))

    def _send(self, characters: str) -> None:
        self._program.send(characters.encode())

    def _answer(self, data: str) -> None:
        """Send what a terminal answers when the program asks it something."""
        self._send(data)

    def _read_until(self, is_met: Callable[[str], bool], complaint: str, seconds: float) -> str:
        deadline = time.perf_counter() + seconds
        while not is_met(self.text):
            if time.perf_counter() > deadline:
                raise AssertionError(self._with_screen(complaint))
            if not self.read(0.05) and not self._program.isalive() and not self.read(0.05) and not is_met(self.text):
                raise AssertionError(self._with_screen(f"{complaint}; the program ended with {self.exit_status}"))
        return self.text

    def _with_screen(self, complaint: str) -> str:
        edge = "─" * self._screen.columns
        return f"{complaint}\n{edge}\n{self.text}\n{edge}"


class _Screen(pyte.Screen):
    """The emulated screen; entering and leaving the second screen of full-screen programs clears it."""

    _SECOND_SCREEN = 1049

    def set_mode(self, *modes: int, **how: bool) -> None:
        super().set_mode(*modes, **how)
        self._clear_on_switch(modes)

    def reset_mode(self, *modes: int, **how: bool) -> None:
        super().reset_mode(*modes, **how)
        self._clear_on_switch(modes)

    def _clear_on_switch(self, modes: Sequence[int]) -> None:
        if self._SECOND_SCREEN in modes:
            self.erase_in_display(2)
            self.cursor_position()


class _Sequences:
    """Takes out the control sequences that the emulator would draw as text, and keeps a cut-off one for later."""

    _UNKNOWN = re.compile(
        r"\x1b\[[<>=][0-9;:]*[ -/]*[@-~]"  # private requests: keyboard protocol, device attributes
        r"|\x1b\[\?[0-9;]*u"  # what keyboard protocol is in force
        r"|\x1b\[\?[0-9;]*\$p"  # is this mode known
        r"|\x1b[P_^X][^\x1b]*\x1b\\"  # strings for the terminal itself
    )
    _CUT_OFF = re.compile(r"\x1b(?:\[[0-?]*[ -/]*|[P_^X\]][^\x1b\x07]*\x1b?)?\Z")

    def __init__(self) -> None:
        self._decoder = codecs.getincrementaldecoder("utf-8")("replace")
        self._rest = ""

    def understood(self, output: bytes) -> str:
        """The part of the output, with what was left before, that the emulator can draw now."""
        text = self._rest + self._decoder.decode(output)
        cut = self._CUT_OFF.search(text)
        self._rest = text[cut.start() :] if cut else ""
        return self._UNKNOWN.sub("", text[: cut.start()] if cut else text)


def _question(wanted: Wanted) -> Callable[[str], bool]:
    if isinstance(wanted, str):
        return lambda text: wanted in text
    if isinstance(wanted, re.Pattern):
        return lambda text: wanted.search(text) is not None
    return wanted
