"""The pilot goes on when the app is at rest: not before, and not long after."""

from __future__ import annotations

from typing import ClassVar

import pytest
from textual import work
from textual.app import App, ComposeResult
from textual.binding import BindingType
from textual.widgets import Static

from tests.support.screens import screen_text


class Slow(App[None]):
    """Answers a key by way of messages and pauses."""

    BINDINGS: ClassVar[list[BindingType]] = [
        ("a", "hand_on(9)"),
        ("b", "pause(0.005)"),
        ("c", "pause(60)"),
        ("d", "thread"),
    ]

    def compose(self) -> ComposeResult:
        yield Static("asked")

    def answer(self) -> None:
        self.query_one(Static).update("answered")

    def action_hand_on(self, times: int) -> None:
        if times:
            self.call_later(self.action_hand_on, times - 1)
        else:
            self.call_after_refresh(self.answer)

    def action_pause(self, seconds: float) -> None:
        self.set_timer(seconds, self.answer)

    @work(thread=True)
    def action_thread(self) -> None:
        sum(range(3_000_000))
        self.call_from_thread(self.answer)


@pytest.mark.parametrize(
    ("key", "shown"),
    [("a", "answered"), ("b", "answered"), ("c", "asked"), ("d", "answered")],
    ids=["messages", "a short pause", "a long pause", "a thread"],
)
async def test_what_a_key_sets_off_is_on_the_screen(key: str, shown: str) -> None:
    """Whatever a key sets off is drawn when the pilot goes on, but nobody waits for what comes much later."""
    async with Slow().run_test() as pilot:
        await pilot.press(key)
        await pilot.pause()
        assert screen_text(pilot.app).split() == [shown]
