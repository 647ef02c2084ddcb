"""Lets a test's pilot go on as soon as the app has nothing left to do.

The screen library finds that out by sleeping until the processor has been idle: some 60 ms a key, and wrong on a
machine so busy that the process under test gets no turn. Here it is asked of the event loop, which knows.
"""

from __future__ import annotations

import asyncio
from typing import Any

import pytest
from textual._context import active_app
from textual._wait import wait_for_idle as processor_idle

_SHORT_s = 0.01
"""A pause of the app's that belongs to what was asked of it: a new size of terminal is taken up after 1/120 s, and
what changed is drawn a frame later (`TEXTUAL_FPS`, set in `tests/conftest.py`)."""


async def nothing_left(min_sleep: float = 0.0, max_sleep: float = 1.0) -> None:
    """Wait until every message has been handled and what they changed has been drawn.

    Stands in for the library's own `wait_for_idle` and takes what that takes. While something works in a thread,
    which the event loop cannot see into, the library's own way of waiting is kept.

    Raises:
        TimeoutError: the app has been at work for half a minute.
    """
    async with asyncio.timeout(30):
        pause_s: float | None = 0.0
        while pause_s is not None:
            await asyncio.sleep(pause_s)
            pause_s = _until_next()
    if any(worker.is_running for worker in active_app.get().workers):
        await processor_idle(min_sleep, max_sleep)


def _until_next() -> float | None:
    """How long until there is something to do; None if there is nothing, or only after a long pause."""
    loop: Any = asyncio.get_running_loop()
    if loop._ready:
        return 0.0
    dues = [timer.when() - loop.time() for timer in loop._scheduled if not timer.cancelled()]
    return max(0.0, min(dues)) if dues and min(dues) < _SHORT_s else None


def wait_by_the_event_loop(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let every pilot of this test wait so."""
    for module in ("textual.app", "textual.pilot"):
        monkeypatch.setattr(f"{module}.wait_for_idle", nothing_left)
