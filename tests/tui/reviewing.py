"""What tests of the reviewer's pages share: the app on sessions of a library, and what its screens show."""

from __future__ import annotations

import shutil
from collections.abc import AsyncIterator, Iterable, Sequence
from contextlib import AbstractAsyncContextManager, asynccontextmanager
from dataclasses import dataclass
from pathlib import Path

from textual.pilot import Pilot
from textual.widget import Widget

from cornerwalk.context import Context, InitialView, ReplayView, StartView, WalkView
from cornerwalk.samples import sample_folder
from cornerwalk.session.events import Event, HeightRead, JobOpened, NoteWritten, ReadingMode, StageBegun, Undone
from cornerwalk.session.stages import StageName
from cornerwalk.settings import ActiveSettings, Settings
from cornerwalk.store import Library
from cornerwalk.tui.app import CornerwalkApp
from cornerwalk.tui.screens.replay import ReplayScreen
from tests.support.clock import FrozenClock
from tests.support.jobs import standards
from tests.support.screens import screen_text

SAMPLES = ("camper", "front-stays-up", "misread-corner", "half-done")
SIZES = ((80, 24), (120, 40), (60, 20))

Running = AbstractAsyncContextManager[tuple[CornerwalkApp, Pilot[None]]]


@dataclass(frozen=True, slots=True)
class Bench:
    """A library in a folder of its own, and the app on it."""

    folder: Path
    clock: FrozenClock

    @property
    def library(self) -> Library:
        return Library(self.folder, clock=self.clock, by="MT")

    def sample(self, name: str) -> Path:
        """A copy of a sample."""
        self.folder.mkdir(exist_ok=True)
        return Path(shutil.copy(sample_folder() / f"{name}.json", self.folder / f"{name}.json"))

    def session(self, events: Iterable[Event], *, title: str = "Invented van") -> Path:
        """A session in which this happened, one thing a minute after its opening."""
        opened = JobOpened(session=f"id of {title}", job="fit", title=title, program="0.1.0")
        with self.library.create(opened) as session:
            for what in events:
                self.clock.advance(minutes=1)
                session.record(what)
            return session.path

    def context(self) -> Context:
        nowhere = self.folder.parent / "nowhere"
        return Context(
            library=self.library,
            active_settings=ActiveSettings(nowhere / "settings.toml", Settings(bell=False)),
            standards=standards,
            clock=self.clock,
            user="MT",
            presets_folder=nowhere,
            rules_folder=nowhere,
            checklists_folder=nowhere,
        )

    @asynccontextmanager
    async def run(
        self, opening: InitialView, *, size: tuple[int, int] = (80, 24)
    ) -> AsyncIterator[tuple[CornerwalkApp, Pilot[None]]]:
        """The app, open for a look."""
        app = CornerwalkApp(lambda: (self.context(), opening))
        async with app.run_test(size=size) as pilot:
            await settled(app, pilot)
            yield app, pilot
        app.close_job()

    def replay(self, path: Path, *, size: tuple[int, int] = (80, 24)) -> Running:
        return self.run(ReplayView(path), size=size)

    def walk(self, path: Path, *, size: tuple[int, int] = (80, 24)) -> Running:
        return self.run(WalkView(path), size=size)

    def start(self, *, size: tuple[int, int] = (80, 24)) -> Running:
        return self.run(StartView(), size=size)


async def settled(app: CornerwalkApp, pilot: Pilot[None]) -> None:
    """Wait until everything asked for has been drawn."""
    for _ in range(3):
        await pilot.pause()
    await app.workers.wait_for_complete()
    await pilot.pause()


async def press(app: CornerwalkApp, pilot: Pilot[None], *keys: str) -> str:
    """Press keys, and say what the screen shows then."""
    await pilot.press(*keys)
    await settled(app, pilot)
    return screen_text(app)


def page_text(app: CornerwalkApp) -> str:
    """What the page shows above its row of keys, which is another's and tested by its owner."""
    return "\n".join(screen_text(app).splitlines()[:-1])


def drawn(app: CornerwalkApp, *selectors: str) -> str:
    """What these widgets show, in their order, whether or not it is all in the window."""
    texts = []
    for selector in selectors:
        widget = app.screen.query_one(selector, Widget)
        strips = widget.render_lines(widget.size.region)
        texts.append("\n".join(strip.text.rstrip() for strip in strips))
    return "\n".join(texts)


WALK = ("#stages", "#plan", "#panel", "#outlook", "#so-far")
"""The widgets of the walk that show what the technician sees of the job."""


def height(stage: StageName, corner: str, entered: str, mm: float, how: ReadingMode = "first") -> HeightRead:
    return HeightRead(stage=stage, corner=corner, entered=entered, mm=mm, how=how)  # type: ignore[arg-type]


def begun(stage: StageName) -> StageBegun:
    return StageBegun(stage=stage)


def inches(*entered: float) -> Sequence[tuple[str, float]]:
    return [(f"{value}", value * 25.4) for value in entered]


def corrected_job(bench: Bench) -> Path:
    """A job with a corner read again, one averaged, a note undone, and a stage begun and undone."""
    return bench.session(
        (
            begun("unloaded"),
            height("unloaded", "LF", "28 5/8", 727.075),
            height("unloaded", "RF", "28 11/16", 728.6625),
            height("unloaded", "RR", "92 3/16", 2341.5625),
            height("unloaded", "RR", "29 3/16", 741.3625, "instead"),
            height("unloaded", "LR", "29 1/4", 742.95),
            height("unloaded", "LR", "29 5/16", 744.5375, "repeat"),
            NoteWritten(text="wet floor"),
            Undone(undoes=9),
            begun("loaded"),
            height("loaded", "LF", "28 7/8", 733.425),
        )
    )


def number_shown(app: CornerwalkApp) -> int:
    assert isinstance(app.screen, ReplayScreen)
    assert f" {app.screen.job.number} / {app.screen.job.last}" in drawn(app, "#timeline")
    return app.screen.job.number
