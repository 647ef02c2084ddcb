"""Terminal input that survives anything: any byte, a sequence nobody knows, a paste of any size, a stop and a signal.

Written against Textual 8.2 (`textual>=8.2,<9`): `XTermParser` raises on a byte that is no UTF-8 and on key codes beyond
Unicode, and hands a sequence it does not know to the app as Escape and single keys; `LinuxDriver` starts a second
reader when it is continued without having been stopped by itself. `InputFilter` therefore passes on whole sequences
that the parser knows and drops the others, and `PosixDriver` keeps one reader. Look at both at each new version.

Sequences are told apart by ECMA-48 (control sequences 5.4, control strings 5.6).
"""

from __future__ import annotations

import asyncio
import os
import re
import selectors
import termios
import time
import tty
from codecs import getincrementaldecoder
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from functools import partial
from typing import TYPE_CHECKING

from textual import constants, events
from textual._xterm_parser import SPECIAL_SEQUENCES, XTermParser
from textual.drivers.linux_driver import LinuxDriver

from cornerwalk.job.signals import ENDING_SIGNALS, exit_status

if TYPE_CHECKING:
    from textual.app import App
    from textual.message import Message

ESC = "\x1b"
MOST_PASTED = 100_000
"""Characters of a paste that are kept: more than any note or list of readings, few enough to be taken at once."""
MOST_PARAMETERS = 64
"""Characters of a control sequence before its last one; the longest that a terminal sends has about 40."""
MOST_IN_STRING = 4096
"""Characters of a control string (an answer about colors, a title) that are waited for."""
HOLD_S = 0.5
"""How long the rest of a sequence is waited for: a slow line may split it."""

_PASTE_BEGINS, _PASTE_ENDS = "\x1b[200~", "\x1b[201~"
_CONTROL = re.compile(r"\x1b\[([0-?]*)([ -/]*)([@-~])")
_CONTROL_BEGUN = re.compile(r"\x1b\[[0-?]*[ -/]*\Z")
_REST = re.compile(r"[0-?]*[ -/]*")
_STRING = re.compile(r"\x1b[\]P_^X].*?(?:\x07|\x1b\\)", re.DOTALL)
_OLD_MOUSE = 6  # ESC [ M and three characters
_LARGEST_CODE = 0x10FFFF
_SURROGATES = range(0xD800, 0xE000)


class InputFilter:
    """From decoded text to what the app is told; sequences the parser does not know are dropped whole."""

    def __init__(self) -> None:
        self._parser = XTermParser()
        self._waiting = ""
        self._since_s = 0.0
        self._dropping = False
        self._pasted: list[str] | None = None
        self._pasted_count = 0

    def feed(self, text: str, now_s: float) -> Iterator[Message]:
        """The messages of this text; what may go on is held until more comes or `expire` gives it up."""
        self._waiting += text
        self._since_s = now_s
        while self._waiting:
            taken = self._paste() if self._pasted is not None else self._next()
            if taken is None:
                return
            yield from taken

    def expire(self, now_s: float) -> Iterator[Message]:
        """Escape by itself once nothing followed it; half a sequence is dropped once its rest does not come."""
        waited_s = now_s - self._since_s
        if waited_s >= HOLD_S:
            self._dropping = False
        if not self._waiting or self._pasted is not None:
            return
        if self._waiting == ESC and waited_s >= constants.ESCAPE_DELAY:
            self._waiting = ""
            yield events.Key("escape", ESC)
        elif waited_s >= HOLD_S:
            self._waiting = ""

    def _next(self) -> list[Message] | None:
        """The messages of what stands first, taken off; None while more of it is to come."""
        if self._dropping:
            return self._drop()
        plain, _, _ = self._waiting.partition(ESC)
        if plain:
            self._waiting = self._waiting[len(plain) :]
            return [message for character in plain for message in self._parser.feed(character)]
        return self._sequence()

    def _sequence(self) -> list[Message] | None:
        text = self._waiting
        second = text[1:2]
        if not second:
            return None
        if second == ESC:
            return self._take(1, [events.Key("escape", ESC)])
        if second == "[":
            return self._control()
        if second in "]P_^X":
            string = _STRING.match(text)
            if string is not None:
                return self._take(string.end(), [])
            return self._take(len(text), []) if len(text) > MOST_IN_STRING else None
        if second == "O":
            return None if len(text) < 3 else self._known(text[:3])
        return self._take(2, list(self._parser._sequence_to_key_events(second, alt=True)))

    def _control(self) -> list[Message] | None:
        text = self._waiting
        if text.startswith("\x1b[M"):
            return None if len(text) < _OLD_MOUSE else self._known(text[:_OLD_MOUSE])
        found = _CONTROL.match(text)
        if found is None:
            if _CONTROL_BEGUN.match(text) and len(text) <= MOST_PARAMETERS:
                return None
            self._dropping = True
            return self._take(2, [])
        if found[0] == _PASTE_BEGINS:
            self._pasted, self._pasted_count = [], 0
            return self._take(found.end(), [])
        if found[0] == _PASTE_ENDS or found.end() > MOST_PARAMETERS or not _within_unicode(found[1]):
            return self._take(found.end(), [])
        return self._known(found[0])

    def _drop(self) -> list[Message] | None:
        """Take off the rest of a control sequence that is no good; None while its last character is to come."""
        rest = _REST.match(self._waiting)
        assert rest is not None
        self._dropping = rest.end() == len(self._waiting)
        if self._dropping:
            self._waiting = ""
            return None
        last = self._waiting[rest.end()]
        return self._take(rest.end() + ("@" <= last <= "~"), [])

    def _known(self, sequence: str) -> list[Message]:
        """What the parser makes of a whole sequence; nothing where it would hand its characters over as keys."""
        if sequence not in SPECIAL_SEQUENCES and not self._is_known(sequence):
            return self._take(len(sequence), [])
        return self._take(len(sequence), list(self._parser.feed(sequence)))

    def _is_known(self, sequence: str) -> bool:
        if any(pattern.match(sequence) for pattern in _ANSWERS):
            return True
        try:
            return any(True for _ in self._parser._sequence_to_key_events(sequence))
        except ValueError:  # a number that is none, such as a lone colon
            return False

    def _take(self, count: int, messages: list[Message]) -> list[Message]:
        self._waiting = self._waiting[count:]
        return messages

    def _paste(self) -> list[Message] | None:
        """A paste up to its end; of an endless one the beginning."""
        assert self._pasted is not None
        end = self._waiting.find(_PASTE_ENDS)
        part = self._waiting[:end] if end >= 0 else self._waiting[: -len(_PASTE_ENDS)]
        room = MOST_PASTED - self._pasted_count
        if room > 0 and part:
            self._pasted.append(part[:room])
            self._pasted_count += min(room, len(part))
        if end < 0:
            self._waiting = self._waiting[len(part) :]
            return None
        pasted = "".join(self._pasted).replace("\x00", "")
        self._pasted = None
        return self._take(end + len(_PASTE_ENDS), [events.Paste(pasted)])


_ANSWERS = (
    re.compile(
        r"\x1b\[48;\d{1,5}(?::\d*)*;\d{1,5}(?::\d*)*;\d{1,6}(?::\d*)*;\d{1,6}(?::\d*)*t\Z"
    ),  # size of the window
    re.compile(r"\x1b\[\d{1,5};\d{1,5}R\Z"),  # place of the cursor
    re.compile(r"\x1b\[\?\d{1,5};\d\$y\Z"),  # a mode that was asked about
    re.compile(r"\x1b\[(?:<\d{1,3};-?\d{1,6};-?\d{1,6}[mM]|M...)\Z", re.DOTALL),  # the mouse
)
"""What a terminal sends besides keys, as far as the parser takes it."""


def _within_unicode(parameters: str) -> bool:
    """Whether no number in these parameters lies beyond what a character's code can be."""
    codes = (int(digits) for digits in re.findall(r"\d+", parameters))
    return all(code <= _LARGEST_CODE and code not in _SURROGATES for code in codes)


class PosixDriver(LinuxDriver):
    """The framework's driver with one reader that nothing typed or sent can end."""

    def run_input_thread(self) -> None:
        """Read until the driver stops or the terminal is gone."""
        input_filter = InputFilter()
        decode = getincrementaldecoder("utf-8")(errors="replace").decode
        with selectors.DefaultSelector() as selector:
            selector.register(self.fileno, selectors.EVENT_READ)
            while not self.exit_event.is_set():
                if selector.select(constants.ESCAPE_DELAY / 2):
                    data = os.read(self.fileno, 65536)
                    if not data:
                        return
                    for message in input_filter.feed(decode(data), time.monotonic()):
                        self.process_message(message)
                for message in input_filter.expire(time.monotonic()):
                    self.process_message(message)

    def _run_input_thread(self) -> None:
        """Hand an error of the reader to the app, which ends on its crash page."""
        with ThreadPoolExecutor(1, thread_name_prefix="terminal-input") as reader:
            error = reader.submit(self.run_input_thread).exception()
        if isinstance(error, Exception) and not isinstance(error, OSError):
            self._app.call_later(self._app._handle_exception, error)

    def _sigcont_application(self, *_: object) -> None:
        """Take the terminal again after a stop, whoever stopped the program: once, with one reader."""
        if not self._auto_restart:
            return
        if self._must_signal_resume:
            self.resume_application_mode()
        elif self._writer_thread is not None:
            self._take_terminal_again()

    def _take_terminal_again(self) -> None:
        """Set the terminal as the app wants it and draw anew; the reader goes on, and nothing typed is thrown away."""
        with suppress(termios.error):
            attributes = termios.tcgetattr(self.fileno)
            attributes[tty.LFLAG] = self._patch_lflag(attributes[tty.LFLAG])
            attributes[tty.IFLAG] = self._patch_iflag(attributes[tty.IFLAG])
            attributes[tty.CC][termios.VMIN] = 1
            termios.tcsetattr(self.fileno, termios.TCSANOW, attributes)
        self.write("\x1b[?1049h\x1b[?25l\x1b[?1004h")
        self._enable_mouse_support()
        self._enable_bracketed_paste()
        self._disable_line_wrap()
        self.flush()
        self._app.call_later(self._app.refresh, layout=True)


def leave_on_signals(app: App[None]) -> None:
    """Have the app end in order, with 128 + n, on the signals that ask a program to end; call it once the loop runs.

    What is being saved is on the disk by then: a save is one step of the loop.
    """
    loop = asyncio.get_running_loop()
    for number in ENDING_SIGNALS:
        loop.add_signal_handler(number, partial(app.exit, return_code=exit_status(number)))
