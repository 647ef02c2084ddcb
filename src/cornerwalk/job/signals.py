"""Signals that ask a program to end, and the exit status that tells which one did. Imports no screen library."""

from __future__ import annotations

import signal

ENDING_SIGNALS = tuple(getattr(signal, name) for name in ("SIGTERM", "SIGHUP", "SIGQUIT") if hasattr(signal, name))
"""As far as the system has them. Ctrl+C is not among them: it interrupts, and Python raises it."""


def exit_status(number: int) -> int:
    """What a shell reports of a program that a signal ended: 128 + n (POSIX, Shell Command Language, 2.8.2)."""
    return 128 + number
