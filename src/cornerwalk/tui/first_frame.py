"""First frame: painted by the screen library's plainest widget before any of our rooms is loaded.

Loading takes longer than painting: the app shows where it is, and only then fetches what it opens on. Keys typed
meanwhile, even before the first frame, are held in order and given to the page that comes.
"""

from __future__ import annotations

import asyncio
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Literal, NamedTuple

from textual import events
from textual.app import App, ComposeResult
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Static

from cornerwalk.tui.themes import DAY, LOOKS, PARTS, theme
from cornerwalk.tui.widgets.vehicle import SMALL, Marks, row_of_art

if TYPE_CHECKING:
    from textual.driver import Driver

LOOK_OF_PAGES = Path(__file__).with_name("look.tcss")
"""The styles that pages share: parsed with the first page, since the first frame needs none of them."""

_SECONDS_TO_WRITE = 0.001
"""The frame leaves by a thread of the screen library: a moment for it before loading takes the processor."""


class Frame(NamedTuple):
    """What the first frame shows: a title, a sentence, and the vehicle's outline where the page will draw it."""

    title: str
    sentence: str = ""
    vehicle: Literal["left", "right"] = "left"
    theme: str = DAY.name


class FirstFrame(App[None]):
    """An app that paints, then arrives. A subclass says in `arrive` what comes, and then lets the keys in."""

    CSS = "Screen { background: $paper; color: $ink; }"

    def __init__(self, frame: Frame) -> None:
        super().__init__()
        self._frame = frame
        self._held: list[events.Key | events.Paste] | None = []
        for look in LOOKS.values():
            self.register_theme(theme(look))
        self.theme = frame.theme if frame.theme in LOOKS else DAY.name

    def get_theme_variable_defaults(self) -> dict[str, str]:
        """Our parts of a look, so that style sheets can be read before a theme is."""
        return {part: DAY.part(part) for part in PARTS}

    def compose(self) -> ComposeResult:
        """The frame, on the screen that lies below every page."""
        yield Static(Content(outline(self._frame, *self.size)))

    def get_driver_class(self) -> type[Driver]:
        """Ours in place of the framework's on a POSIX terminal."""
        found = super().get_driver_class()
        if found.__module__ != "textual.drivers.linux_driver":
            return found
        from cornerwalk.tui.terminal import PosixDriver

        return PosixDriver

    def on_mount(self) -> None:
        """Load once the frame is painted."""
        if self._driver is not None and not self.is_headless and sys.platform != "win32":
            from cornerwalk.tui.terminal import leave_on_signals

            leave_on_signals(self)
        self.call_after_refresh(self._arrive)

    async def _arrive(self) -> None:
        await asyncio.sleep(_SECONDS_TO_WRITE)
        self.stylesheet.read(LOOK_OF_PAGES)
        await self.arrive()

    async def arrive(self) -> None:
        """Fetch what the app opens on and put up its page."""
        raise NotImplementedError

    def _load_screen_css(self, screen: Screen[object]) -> None:
        """Take in the styles of a page by themselves: left to itself, the library parses all others anew for them."""
        for path in screen.css_path:
            if not self.stylesheet.has_source(str(path), ""):
                self.stylesheet.read(path)
        super()._load_screen_css(screen)

    # ---- keys typed before the page is there ----

    async def on_event(self, event: events.Event) -> None:
        """Hold keys and pastes until the page is there."""
        if self._held is not None and isinstance(event, events.Key | events.Paste):
            self._held.append(event)
        else:
            await super().on_event(event)

    async def let_keys_in(self) -> None:
        """Give what was typed so far to the page, and everything from now on."""
        while self._held:
            await super().on_event(_as_meant(self._held.pop(0)))
        self._held = None

    def drop_keys(self) -> None:
        """Forget what was typed so far: another page came than it was typed for."""
        self._held = None


def _as_meant(event: events.Key | events.Paste) -> events.Key | events.Paste:
    """Enter of the time before the app had the terminal, which then still made a line feed of it."""
    return events.Key("enter", "\r") if isinstance(event, events.Key) and event.key == "ctrl+j" else event


def outline(frame: Frame, width: int, height: int) -> str:
    """The frame as text, at most as large as the window."""
    lines = [f" {frame.title}", "─" * width]
    art = ["".join(text for _, text in row_of_art(SMALL, y, Marks())) for y in range(len(SMALL))]
    if frame.vehicle == "right":
        lines += ["", f" {frame.sentence}", ""]
        beside = width >= _USUAL and height >= _MIDDLING
        lines += [f"{'':{width - _FROM_RIGHT}}{line}" for line in art] if beside else []
    else:
        lines += [f"{'':{_FROM_LEFT}}{line}" for line in art] if height >= _MIDDLING else []
        lines += ["─" * width, f" {frame.sentence}"]
    return "\n".join(line[:width] for line in lines[:height])


_USUAL = 80
_MIDDLING = 22
_FROM_RIGHT = 27
_FROM_LEFT = 12
"""Where the pages draw the vehicle, in columns; the sizes of window are those of their style sheets."""
