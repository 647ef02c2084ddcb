"""All of the line mode without a stream: first which job, then the job itself.

    greeting() -> list[str]     said once
    prompt() -> str             the question now, one line
    answer(line) -> list[str]   what is said to a line; whatever that says is kept is on the disk

`refused` says whether the last line was not taken, `done` whether the user has left. No clock, folder or user is
looked up: the context has them.
"""

from __future__ import annotations

from cornerwalk.context import Context, DemoView, InitialView, NewSessionView, ReplayView, SettingsView, WalkView
from cornerwalk.line.job import OpenJob
from cornerwalk.line.start import Menu, Step, opened
from cornerwalk.line.walk import LineWalk
from cornerwalk.words import tr, tr_in
from cornerwalk.words.safe import harmless

LONGEST_LINE = 2000
"""Characters; no answer needs more, and a file sent by mistake is no answer."""


class Conversation:
    """From the first question to the last word."""

    def __init__(self, context: Context, opening: InitialView) -> None:
        self.refused = False
        self._context = context
        self._left = False
        self._step: Step | None = None
        self._walk: LineWalk | None = None
        match opening:
            case NewSessionView(file=file):
                self._enter(OpenJob(context, file))
            case WalkView(path=path) | DemoView(path=path) | ReplayView(path=path):
                self._enter(opened(context, path))
            case SettingsView():
                from cornerwalk.line.settings import ChangeSettings

                self._enter(ChangeSettings(context))
            case _:
                self._enter(Menu(context))

    @property
    def done(self) -> bool:
        """Whether the user has left."""
        return self._left or (self._walk is not None and self._walk.done)

    @property
    def bell(self) -> bool:
        """Whether the user wants one."""
        return self._context.settings.bell

    def greeting(self) -> list[str]:
        """What is said first."""
        if self._walk is not None:
            return self._walk.greeting()
        return _harmless(self._step.opening()) if self._step is not None else []

    def prompt(self) -> str:
        """The question now."""
        if self._walk is not None:
            return self._walk.prompt()
        return harmless(self._step.prompt()) if self._step is not None else ""

    def answer(self, line: str) -> list[str]:
        """What is said to a line."""
        text = line.replace("\t", " ").strip()
        if len(text) > LONGEST_LINE or not text.isprintable() or "\N{REPLACEMENT CHARACTER}" in text:
            self.refused = True
            return [tr("There is a hidden character in it, or it is too long: type it again.")]
        if self._walk is not None:
            said = self._walk.answer(text)
            self.refused = self._walk.refused
            return said
        if text.casefold() in ("quit", "q", tr_in("word", "quit").casefold()):
            self._left = True
            return []
        if self._step is None or text.casefold() in ("help", "?", tr_in("word", "help").casefold()):
            return self.greeting()
        taken = self._step.take(text)
        self.refused = taken.refused
        said = list(taken.said)
        if taken.then is not None:
            self._enter(taken.then)
            said = [*said, *self.greeting()]
        return _harmless(said)

    def close(self) -> str:
        """Let others have the file; the last word where the user has not left by `quit`."""
        if self._walk is None:
            return ""
        self._walk.close()
        return "" if self._walk.done else self._walk.farewell()

    def _enter(self, place: Step | OpenJob) -> None:
        if isinstance(place, OpenJob):
            self._walk = LineWalk(place)
        else:
            self._step = place


def _harmless(said: list[str] | tuple[str, ...]) -> list[str]:
    return [harmless(line) for line in said]
