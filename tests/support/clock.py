"""A clock that tests hand in where the program expects one."""

from __future__ import annotations

from datetime import datetime, timedelta, timezone

MORNING = datetime(2026, 5, 4, 8, 12, 31, tzinfo=timezone(timedelta(hours=-6)))
"""When a frozen clock starts: an invented Monday, six hours behind UTC, so that a lost offset shows."""


class FrozenClock:
    """Tells the same time until it is moved on.

    >>> clock = FrozenClock()
    >>> clock().isoformat()
    '2026-05-04T08:12:31-06:00'
    >>> clock.advance(minutes=3)
    >>> clock().isoformat()
    '2026-05-04T08:15:31-06:00'
    """

    def __init__(self, start: datetime = MORNING) -> None:
        self._now = start

    def __call__(self) -> datetime:
        return self._now

    def advance(self, **duration: float) -> None:
        """Move on by a duration in the words of `timedelta`: `seconds=5`, `hours=14`."""
        self._now += timedelta(**duration)
