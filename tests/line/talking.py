"""A conversation to test: a library in a folder, a clock of ours, lines in and sentences out."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from cornerwalk.context import Context, InitialView, StartView, WalkView
from cornerwalk.line.conversation import Conversation
from cornerwalk.session import RecordedEvent, Session
from cornerwalk.session.events import Event
from cornerwalk.settings import ActiveSettings, Settings
from cornerwalk.sheet import read_job_sheet
from cornerwalk.store import Disk, Library
from tests.support.clock import FrozenClock
from tests.support.jobs import standards


class Ticking(FrozenClock):
    """Moves on a second whenever it is asked, so that no two moments are the same."""

    def __call__(self) -> datetime:
        self.advance(seconds=1)
        return super().__call__()


@dataclass
class Talk:
    """A conversation with its library."""

    folder: Path
    clock: FrozenClock
    conversation: Conversation

    def say(self, *lines: str) -> list[str]:
        """What is said to these lines, all together."""
        said: list[str] = []
        for line in lines:
            said += self.conversation.answer(line + "\n")
        return said

    @property
    def prompt(self) -> str:
        """The question now."""
        return self.conversation.prompt()

    @property
    def on_the_walk(self) -> bool:
        """Whether the walk asks, and not the questions of a chapter."""
        return self.conversation.talk is not None and self.conversation.talk.dialog is None

    @property
    def stored(self) -> tuple[RecordedEvent, ...]:
        """The events of the one session in the folder, as its file has them."""
        (path,) = sessions_in(self.folder)
        return Library(self.folder, clock=self.clock, by="MT").read(path).events

    @property
    def session(self) -> Session:
        """The one session in the folder, as its file has it."""
        (path,) = sessions_in(self.folder)
        return Library(self.folder, clock=self.clock, by="MT").read(path).session

    def recorded(self) -> list[Event]:
        """What happened, as the file has it."""
        return [event.payload for event in self.stored]


def sessions_in(folder: Path) -> list[Path]:
    """The session files of a folder."""
    return sorted(path for path in folder.glob("*.json") if not path.name.startswith("."))


def context_in(
    folder: Path, clock: FrozenClock | None = None, settings: Settings | None = None, disk: Disk | None = None
) -> Context:
    """What the commands would hand down, everything of it in this folder."""
    clock = clock if clock is not None else Ticking()
    return Context(
        library=Library(folder, clock=clock, by="MT", disk=disk),
        active_settings=ActiveSettings(folder / "settings.toml", settings),
        standards=standards,
        clock=clock,
        user="MT",
        presets_folder=folder / "presets",
        rules_folder=folder / "rules",
        checklists_folder=folder / "checklists",
    )


def talk_in(
    folder: Path,
    opening: InitialView | None = None,
    *,
    clock: FrozenClock | None = None,
    settings: Settings | None = None,
    disk: Disk | None = None,
) -> Talk:
    """A conversation that begins on the start page unless another opening is said."""
    clock = clock if clock is not None else Ticking()
    context = context_in(folder, clock, settings, disk)
    return Talk(folder, clock, Conversation(context, opening if opening is not None else StartView()))


def new_job(folder: Path, *, kind: str = "1", clock: FrozenClock | None = None, disk: Disk | None = None) -> Talk:
    """A conversation in a new job, at its first question."""
    talk = talk_in(folder, clock=clock, disk=disk)
    talk.say("1", "Box trailer, Tuesday", kind)
    return talk


def job_from(folder: Path, sheet: str, *, clock: FrozenClock | None = None) -> Talk:
    """A conversation in a job made from a job sheet, as `cornerwalk walk SHEET --plain` opens it."""
    clock = clock if clock is not None else Ticking()
    contents = read_job_sheet(sheet, name="sheet.toml", session_id="22222222-3333-4444-8555-666666666666", now=clock())
    made = Library(folder, clock=clock, by="MT").create(*contents.events)
    made.close()
    return talk_in(folder, WalkView(made.path), clock=clock)


VEHICLE = """
unit = "inch"
[job]
title = "Box trailer, Tuesday"
[tape]
graduation = "1/16 in"
place = "1/32 in"
[vehicle]
description = "mid-size people carrier, invented"
wheelbase = "119 in"
arch_width = "66 in"
lamp_height = "28 1/2 in"
lamp_ahead = "31 in"
ball_overhang = "46 in"
levelling = "none"
[lamps]
screen = "25 ft"
rule = "us-vol"
[kit]
name = "invented kit"
min = "8 psi"
max = "40 psi"
lines = "tee"
[[load]]
name = "trailer tongue"
weight = "410 lb"
behind_rear_axle = "46 in"
"""
"""A preset: everything but the readings of the worked case. Invented."""

WORKED_WALK = (
    "28 5/8", "28 11/16", "29 3/16", "29 1/4",
    "", "28 7/8", "28 15/16", "27 5/8", "27 3/4",
    "15", "28 7/8", "28 15/16", "28 1/4", "28 3/8",
    "25", "28 7/8", "28 15/16", "28 11/16", "28 13/16",
)  # fmt: skip
"""The worked case as it is called out: unloaded, loaded, two trials."""


def as_one(lines: Iterable[str]) -> str:
    """Sentences one below the other, as they are read out."""
    return "\n".join(lines)
