"""One draw for one key: counted by kind of call, not by time.

A key works out a reply once, assesses once, lists once and draws each widget once; a digit keeps nothing.
"""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Awaitable, Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from types import CodeType, FrameType

import pytest

from cornerwalk.assess import assess
from cornerwalk.job.dialog import Dialog
from cornerwalk.job.form import stated
from cornerwalk.job.walk_replies import reply_to
from cornerwalk.session import fold
from cornerwalk.tui.screens.chapter import OneChapterScreen
from cornerwalk.tui.screens.job_screen import JobScreen
from cornerwalk.tui.widgets.rows import RowWidget
from tests.tui.driving import LOADED, UNLOADED, Driver, walk

KINDS: dict[CodeType, str] = {
    assess.__code__: "assess",
    fold.__code__: "fold",
    reply_to.__code__: "reply",
    stated.__code__: "fact read",
    Dialog.reply.__code__: "reply",
    Dialog.take.__code__: "reply",
    OneChapterScreen.lines.__code__: "list",
    JobScreen.show.__code__: "page",
}


class Calls:
    """What was called: how often each kind, and how often each widget was drawn."""

    def __init__(self) -> None:
        self.kinds: Counter[str] = Counter()
        self.draws: Counter[str] = Counter()

    def note(self, frame: FrameType, event: str, _argument: object) -> None:
        """One call, as the interpreter reports it."""
        if event != "call":
            return
        code = frame.f_code
        if code in KINDS:
            self.kinds[KINDS[code]] += 1
        elif code is RowWidget.redraw.__code__ and frame.f_locals["self"].screen.is_current:
            self.draws[repr(frame.f_locals["self"])] += 1


@contextmanager
def counted() -> Iterator[Calls]:
    """Every call while this lasts."""
    calls = Calls()
    before = sys.getprofile()
    sys.setprofile(calls.note)
    try:
        yield calls
    finally:
        sys.setprofile(before)


Act = Callable[[Driver], Awaitable[None]]


async def _between(d: Driver) -> None:
    """Six corners read: the comparison with the unloaded vehicle is under way."""
    await d.key_in(*UNLOADED, "", *LOADED[:2])


async def _typed_height(d: Driver) -> None:
    await _between(d)
    await d.type("27 5/")


async def _whole_height(d: Driver) -> None:
    await _between(d)
    await d.type("27 5/8")


async def _kept_height(d: Driver) -> None:
    await _between(d)
    await d.key_in("27 5/8")


async def _form(d: Driver, text: str) -> None:
    await d.press("f4")
    await d.type(text)


async def _chapter(d: Driver, chapter: str) -> None:
    await d.app.run_action(f"app.open_page('job.chapter-{chapter}')")
    await d.press()


async def _before(d: Driver) -> None:
    await _chapter(d, "before")


async def _intake(d: Driver) -> None:
    await _chapter(d, "intake")
    await d.press("pageup", "pageup", "pageup", "pageup", "pageup", "pageup", "pageup", "pageup")
    await d.type("M")


async def _air(d: Driver) -> None:
    await d.key_in(*UNLOADED, "", *LOADED)
    await d.app.run_action("app.open_page('job.air')")
    await d.press()
    await d.type("1")


async def _typed_form(d: Driver) -> None:
    await _form(d, "11")


async def _entered_form(d: Driver) -> None:
    await _form(d, "118 in")


async def _answered_intake(d: Driver) -> None:
    await _intake(d)
    await d.type("T")


async def _typed_air(d: Driver) -> None:
    await _air(d)
    await d.type("5")


@pytest.mark.parametrize(
    ("come", "key", "expected"),
    [
        pytest.param(_typed_height, "8", {"reply": 1, "fold": 1, "assess": 1}, id="walk, digit"),
        pytest.param(_whole_height, "enter", {"reply": 1, "assess": 1, "page": 1}, id="walk, Enter"),
        pytest.param(_kept_height, "f2", {"reply": 1, "assess": 1, "page": 1}, id="walk, undo"),
        pytest.param(_kept_height, "down", {"reply": 1, "page": 1}, id="walk, another corner"),
        pytest.param(_typed_form, "8", {"fact read": 1}, id="form, digit"),
        pytest.param(_entered_form, "enter", {"fact read": 1, "assess": 1, "page": 1}, id="form, Enter"),
        pytest.param(_before, "2", {"reply": 1, "assess": 1, "list": 1, "page": 1}, id="chapter, choice by digit"),
        pytest.param(_intake, "T", {"reply": 1, "fact read": 1}, id="chapter, letter"),
        pytest.param(
            _answered_intake,
            "enter",
            {"reply": 1, "fact read": 1, "assess": 1, "list": 1, "page": 1},
            id="chapter, Enter",
        ),
        pytest.param(_before, "down", {"list": 1, "page": 1}, id="chapter, next question"),
        pytest.param(_air, "5", {}, id="air, digit"),
        pytest.param(_typed_air, "enter", {"reply": 1, "assess": 1, "page": 1}, id="air, Enter, to the walk"),
    ],
)
async def test_a_key_is_worked_out_and_drawn_once(
    tmp_path: Path, come: Act, key: str, expected: dict[str, int]
) -> None:
    """Each kind of work as often as it must be, every widget of the page at most once."""
    async with walk(tmp_path) as d:
        await come(d)
        before = d.text
        with counted() as calls:
            await d.press(key)
        assert calls.kinds == Counter(expected)
        assert calls.draws, "nothing was drawn"
        assert {widget: times for widget, times in calls.draws.items() if times > 1} == {}
        assert d.text != before
