"""Conversation: all of the line mode without a stream: first which job, then the job itself.

    greeting() -> list[str]     said once
    prompt() -> str             the question now, one line
    answer(line) -> list[str]   what is said to a line; whatever that says is kept is on the disk

`refused` says whether the last line was not taken, `done` whether the user has left. No clock, folder or user is
looked up: the context has them.
"""

from __future__ import annotations

from collections.abc import Iterable

from cornerwalk.context import Context, DemoView, InitialView, NewSessionView, ReplayView, SettingsView, WalkView
from cornerwalk.job.open_job import OpenJob
from cornerwalk.job.opening import Sample
from cornerwalk.line.before import EntryQuestion, menu, opened, settings_question
from cornerwalk.line.talk import JobTalk
from cornerwalk.line.words import control_word, spoken
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
        self._question: EntryQuestion | None = None
        self._sample: Sample | None = None
        self.talk: JobTalk | None = None
        match opening:
            case NewSessionView(file=file):
                self._enter(OpenJob(context, file))
            case WalkView(path=path) | DemoView(path=path) | ReplayView(path=path):
                self._enter(opened(context, path))
            case SettingsView():
                self._enter(settings_question(context))
            case _:
                self._enter(menu(context))

    @property
    def done(self) -> bool:
        """Whether the user has left."""
        return self._left or (self.talk is not None and self.talk.done)

    @property
    def bell(self) -> bool:
        """Whether the user wants one."""
        return self._context.settings.bell

    def greeting(self) -> list[str]:
        """What is said first."""
        if self.talk is not None:
            return self.talk.greeting()
        return _harmless(self._question.opening) if self._question is not None else []

    def prompt(self) -> str:
        """The question now."""
        if self.talk is not None:
            return self.talk.line()
        return harmless(self._question.prompt) if self._question is not None else ""

    def answer(self, line: str) -> list[str]:
        """What is said to a line."""
        text = line.replace("\t", " ").strip()
        if len(text) > LONGEST_LINE or not text.isprintable() or "\N{REPLACEMENT CHARACTER}" in text:
            self.refused = True
            return [tr("There is a hidden character in it, or it is too long: type it again.")]
        if self.talk is not None:
            return self._in_job(self.talk, text)
        if text.casefold() in ("quit", "q", tr_in("word", "quit").casefold()):
            self._left = True
            return []
        if self._question is None or text.casefold() in ("help", "?", tr_in("word", "help").casefold()):
            return self.greeting()
        advance = self._question.take(text)
        self.refused = advance.refused
        said = list(advance.said)
        if advance.then is not None:
            self._enter(advance.then)
            said = [*said, *self.greeting()]
        return _harmless(said)

    def _in_job(self, talk: JobTalk, text: str) -> list[str]:
        """A word does something else than answer; behind an = it is an answer where any words are."""
        talk.refused = False
        news = talk.follow()
        found = spoken(text, alone=talk.takes_words)
        if text.startswith("=") and talk.takes_words:
            said = talk.answer(text[1:].strip())
        elif found is None:
            said = talk.answer(text)
        else:
            talk.forget_doubt()
            said = found[0].run(talk, found[1])
        self.refused = talk.refused
        return talk.finished([*news, *said])

    def close(self) -> str:
        """Let others have the file; the last word where the user has not left by `quit`."""
        if self.talk is None:
            return ""
        self.talk.close()
        if self._sample is not None:
            self._sample.folder.cleanup()
        return "" if self.talk.done else self.talk.farewell()

    def _enter(self, place: EntryQuestion | OpenJob | Sample) -> None:
        if isinstance(place, Sample):
            self._sample, place = place, opened(place.context, place.path)
        if isinstance(place, OpenJob):
            place.control = control_word
            self.talk = JobTalk(place)
        else:
            self._question = place


def _harmless(said: Iterable[str]) -> list[str]:
    return [harmless(line) for line in said]
