"""Ending signals: TERM, HUP and QUIT end a conversation at its next question, never in the middle of a save."""

from __future__ import annotations

import signal
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from types import FrameType
from typing import Any, Self

from cornerwalk.job.signals import ENDING_SIGNALS, exit_status


class EndingSignals:
    """While it is entered, an ending signal raises SystemExit with 128 + n, but only while a line is waited for.

    One that comes meanwhile is noted, so that what is being saved is on the disk first. What was set to be ignored
    before (`nohup`) stays ignored. Outside the main thread, where Python takes no handlers, it does nothing.
    """

    def __init__(self) -> None:
        self.number: int | None = None
        self._waiting = False
        self._before: dict[int, Callable[..., Any] | int | None] = {}

    def __enter__(self) -> Self:
        if threading.current_thread() is threading.main_thread():
            handled = [number for number in ENDING_SIGNALS if signal.getsignal(number) is not signal.SIG_IGN]
            self._before = {number: signal.signal(number, self._note) for number in handled}
        return self

    def __exit__(self, *_exception: object) -> None:
        if self.number is None:  # else a second one, as shell and terminal both send, would cut the way out short
            for number, before in self._before.items():
                signal.signal(number, signal.SIG_DFL if before is None else before)
        self._leave()  # a terminal that hangs up may end the lines before its signal is seen

    @contextmanager
    def waiting(self) -> Iterator[None]:
        """A line is waited for: leave at once where a signal came before, or comes now.

        Raises:
            SystemExit: one came.
        """
        self._waiting = True
        try:
            self._leave()
            yield
        finally:
            self._waiting = False

    def _note(self, number: int, _frame: FrameType | None) -> None:
        self.number = self.number or number
        if self._waiting:
            self._waiting = False
            self._leave()

    def _leave(self) -> None:
        if self.number is not None:
            raise SystemExit(exit_status(self.number))
