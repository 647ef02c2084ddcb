"""Drives the app in a test as a person would: keys and text in, the screen's text out."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import AbstractAsyncContextManager, asynccontextmanager
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from textual import events
from textual.pilot import Pilot

from cornerwalk.context import Context, InitialView, StartView, WalkView
from cornerwalk.session.events import Event, FactStated, HeightRead, JobOpened
from cornerwalk.session.statements import state_fact, state_load
from cornerwalk.settings import ActiveSettings, Settings
from cornerwalk.standards import load_standards
from cornerwalk.store import Library
from cornerwalk.tui.app import CornerwalkApp
from cornerwalk.tui.screens.chapter import OneChapterScreen
from cornerwalk.tui.widgets.question import Panel
from tests.support.clock import FrozenClock
from tests.support.screens import screen_text

if TYPE_CHECKING:
    from collections.abc import AsyncIterator

    from cornerwalk.session import RecordedEvent, Session

# An invented vehicle, the one of the sample that needs a helper spring.
FACTS = {
    "job.title": "Box trailer, Tuesday",
    "vehicle.wheelbase": "119 in",
    "vehicle.arch_width": "66 in",
    "vehicle.lamp_height": "28 1/2 in",
    "vehicle.lamp_ahead": "31 in",
    "vehicle.ball_overhang": "46 in",
    "vehicle.levelling": "none",
    "lamps.screen": "25 ft",
    "lamps.rule": "us-vol",
    "kit.min": "8 psi",
    "kit.max": "40 psi",
    "kit.lines": "tee",
}

UNLOADED = ("28 5/8", "28 11/16", "29 3/16", "29 1/4")
LOADED = ("28 7/8", "28 15/16", "27 5/8", "27 3/4")
TRIAL_15 = ("28 7/8", "28 15/16", "28 1/4", "28 3/8")
TRIAL_25 = ("28 7/8", "28 15/16", "28 11/16", "28 13/16")
"""Readings in walking order, LF RF RR LR."""

PLAIN_KEYS = {" ": "space", "/": "slash", ".": "full_stop", "+": "plus", "-": "minus", ",": "comma"}

DATA = cache(load_standards)


def context_of(folder: Path, clock: FrozenClock | None = None, **settings: Any) -> Context:
    """What the commands would hand down, with everything in this folder."""
    clock = clock or FrozenClock()
    return Context(
        library=Library(folder / "sessions", clock=clock, by="MT"),
        active_settings=ActiveSettings(folder / "settings.toml", Settings(**{"bell": False, **settings})),
        standards=lambda: DATA(None),
        clock=clock,
        user="MT",
        presets_folder=folder / "presets",
        rules_folder=folder / "rules",
        checklists_folder=folder / "checklists",
    )


def new_session(context: Context, *, facts: dict[str, str] | None = None, kind: Any = "fit") -> Path:
    """A job without a reading, closed; facts as the sample's unless others are given."""
    stated: list[Event] = [JobOpened(session="test-session", job=kind, title="Box trailer, Tuesday", program="0")]
    unit: Any = (facts or {}).get("job.unit", "inch")
    stated += [state_fact(name, text, unit) for name, text in (FACTS if facts is None else facts).items()]
    if facts is None:
        stated.append(state_load("trailer tongue", "410 lb", place="46 in", side="behind", unit="inch"))
    file = context.library.create(*stated)
    file.close()
    return file.path


@dataclass
class Driver:
    """The running app under a person's hands."""

    app: CornerwalkApp
    pilot: Pilot[None]

    async def press(self, *keys: str) -> None:
        """Press keys by the screen library's names."""
        await self.pilot.press(*keys)
        await self.pilot.pause()

    async def key_in(self, *lines: str) -> None:
        """Type each of these and press Enter after it, as fast as a tape that types for itself."""
        for line in lines:
            self._post(line)
            self.app.post_message(events.Key("enter", "\r"))
        await self._settle()

    async def type(self, text: str) -> None:
        """Type without Enter."""
        self._post(text)
        await self._settle()

    def _post(self, text: str) -> None:
        for character in text:
            self.app.post_message(events.Key(PLAIN_KEYS.get(character, character), character))

    async def _settle(self) -> None:
        await self.pilot.pause()
        await self.pilot.pause()

    async def paste(self, text: str) -> None:
        """Paste in one piece."""
        self.app.post_message(events.Paste(text))
        await self.pilot.pause()
        await self.pilot.pause()

    async def resize(self, columns: int, lines: int) -> None:
        """Another size of terminal."""
        await self.pilot.resize_terminal(columns, lines)
        await self.pilot.pause()

    @property
    def text(self) -> str:
        """What the screen shows."""
        return screen_text(self.app)

    @property
    def said(self) -> str:
        """What the panel with the question and its answer says, in one line, however it is wrapped."""
        panel = self.app.screen.query_one(Panel)
        rows = panel.rows(panel.size.width)
        return " ".join(" ".join("".join(text for _, text in row).split()) for row in rows)

    @property
    def page(self) -> str:
        """Which page is open; of a chapter which."""
        page = self.app.screen
        return f"chapter {page.chapter.id}" if isinstance(page, OneChapterScreen) else type(page).__name__

    @property
    def session(self) -> Session:
        """The session of the open job."""
        assert self.app.job is not None
        return self.app.job.session

    @property
    def events(self) -> tuple[RecordedEvent, ...]:
        """Its events."""
        assert self.app.job is not None
        return tuple(self.app.job.events)

    @property
    def readings(self) -> list[tuple[str, int, str, str]]:
        """Every height read, in order: stage, number, corner, text."""
        whats = [event.payload for event in self.events]
        return [(w.stage, w.number, w.corner, w.entered) for w in whats if isinstance(w, HeightRead)]

    def stated(self, name: str) -> list[str]:
        """What was stated of a fact, each time."""
        whats = [event.payload for event in self.events]
        return [w.entered for w in whats if isinstance(w, FactStated) and w.name == name]


@asynccontextmanager
async def driven(
    context: Context, opening: InitialView | None = None, *, size: tuple[int, int] = (80, 24)
) -> AsyncIterator[Driver]:
    """The app, running; on the start page unless something else is opened."""
    app = CornerwalkApp(lambda: (context, opening or StartView()))
    async with app.run_test(size=size) as pilot:
        driver = Driver(app, pilot)
        await pilot.pause()
        await pilot.pause()
        yield driver
    app.close_job()


def walk(folder: Path, *, size: tuple[int, int] = (80, 24), **given: Any) -> AbstractAsyncContextManager[Driver]:
    """The app on the walk of a new session, or of the one at `path`."""
    context = given.pop("context", None) or context_of(folder, **given.pop("settings", {}))
    path: Path = given.pop("path", None) or new_session(context, **given)
    return driven(context, WalkView(path), size=size)


def start(context: Context, *, size: tuple[int, int] = (80, 24)) -> AbstractAsyncContextManager[Driver]:
    """The app on its start page."""
    return driven(context, size=size)


def stages() -> Iterator[tuple[str, ...]]:
    """The three stages of the worked example, as typed."""
    yield UNLOADED
    yield LOADED
    yield TRIAL_15
