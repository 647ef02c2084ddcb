"""Before a job: which one it shall be, the ways on where a file cannot simply be opened, the settings."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from cornerwalk.context import Context
from cornerwalk.job.new_job import JOB_KINDS, asks_name, kind_words, new_job, preset_words, presets_on_offer
from cornerwalk.job.notice import Choice
from cornerwalk.job.open_job import OpenJob
from cornerwalk.job.opening import Hindered, Sample, open_job, sample, way_on
from cornerwalk.job.setting_lines import SettingChanges
from cornerwalk.job.start import progress_of, purpose, start, title_of
from cornerwalk.line.printer import chosen, numbered
from cornerwalk.line.setting_talk import change, setting_list, take_back
from cornerwalk.session.stages import JobKind
from cornerwalk.store import StoreError, Summary
from cornerwalk.words import tr, tr_in

MOST_LISTED = 20


@dataclass(frozen=True, slots=True)
class EntryQuestion:
    """One question before a job is open: what is said before it, the question in a line, what an answer leads to.

    The answer comes without blanks around it; the empty one is Enter alone.
    """

    opening: Sequence[str]
    prompt: str
    take: Callable[[str], Advance]


@dataclass(frozen=True, slots=True)
class Advance:
    """What an answer led to: another question, an open job, or (None) the same question again."""

    then: EntryQuestion | OpenJob | Sample | None = None
    said: Sequence[str] = ()
    refused: bool = False


def menu(context: Context) -> EntryQuestion:
    """Go on, begin, look for another, try the sample, change the settings."""
    now = start(context)

    def take(text: str) -> Advance:
        place = chosen(text or "1", len(now.choices))
        match None if place is None else now.choices[place].id:
            case None:
                return _no_such_number(len(now.choices))
            case "go on" if now.unfinished is not None:
                return Advance(opened(context, now.unfinished.path))
            case "open":
                return Advance(earlier_list(context))
            case "demo":
                return _sample(context)
            case "settings":
                return Advance(settings_question(context))
            case _:
                return Advance(_name(context))

    said = [purpose(), *now.problems, *_choice_lines(now.choices)]
    return EntryQuestion(said, tr("Number, or quit; Enter alone takes the first:"), take)


def opened(context: Context, path: Path) -> EntryQuestion | OpenJob:
    """The job of a file, or what can be done where it cannot be opened."""
    return _entered(context, open_job(context, path))


def _entered(context: Context, job: OpenJob | Hindered) -> EntryQuestion | OpenJob:
    return job if isinstance(job, OpenJob) else _obstacle(context, job)


def _no_such_number(most: int) -> Advance:
    return Advance(said=(tr("a number from 1 to {most}", most=most),), refused=True)


def _choice_lines(choices: Sequence[Choice]) -> list[str]:
    return numbered(f"{choice.text}. {choice.about}" if choice.about else choice.text for choice in choices)


def _sample(context: Context) -> Advance:
    try:
        return Advance(sample(context))
    except FileNotFoundError as error:
        return Advance(said=(str(error),), refused=True)


def _name(context: Context) -> EntryQuestion:
    """What a new job shall be called."""
    return EntryQuestion((), asks_name(), lambda text: Advance(_kind(context, text)))


def _kind(context: Context, title: str) -> EntryQuestion:
    """What kind of job it is; then a preset where there are some."""

    def take(text: str) -> Advance:
        place = chosen(text or "1", len(JOB_KINDS))
        if place is None:
            return _no_such_number(len(JOB_KINDS))
        question = _preset(context, title, JOB_KINDS[place])
        return Advance(question) if len(presets_on_offer(context)[0]) > 1 else question.take("0")

    said = numbered(kind_words(kind) for kind in JOB_KINDS)
    return EntryQuestion(said, tr("Job type number (Enter takes the first):"), take)


def _preset(context: Context, title: str, kind: JobKind) -> EntryQuestion:
    """Which vehicle or kit of before it starts from."""
    presets, usual = presets_on_offer(context)

    def take(text: str) -> Advance:
        place = {"": usual - 1, "0": -1}.get(text, chosen(text, len(presets) - 1))
        if place is None:
            return _no_such_number(len(presets) - 1)
        preset = presets[place + 1]
        job = new_job(context, title, kind, preset.path if preset is not None else None)
        if isinstance(job, str):
            return Advance(said=(job,), refused=True)
        return Advance(job, (tr("For the facts of vehicle, kit and loads type intake, before or later."),))

    name = preset_words(presets[usual])
    prompt = tr("Start from which preset? Number, 0 for none; Enter alone takes {name}:", name=name)
    return EntryQuestion(numbered(preset_words(preset) for preset in presets[1:]), prompt, take)


def earlier_list(context: Context, words: str = "") -> EntryQuestion:
    """An earlier job, by its number or by words that it holds; the one worked on last first."""
    found: list[Summary] = []
    nothing = tr("No such job.")
    try:
        found = context.library.find(words=words)[:MOST_LISTED]
    except StoreError as error:
        nothing = tr(error.template, **error.fields)

    def take(text: str) -> Advance:
        if not text:
            return Advance(menu(context))
        place = chosen(text, len(found))
        return Advance(earlier_list(context, text) if place is None else opened(context, found[place].path))

    said = numbered(f"{title_of(summary)} ({progress_of(summary)})" for summary in found)
    return EntryQuestion(said or (nothing,), tr("Which job? Number, or words to look for; Enter goes back:"), take)


def _obstacle(context: Context, hindered: Hindered) -> EntryQuestion:
    """Why a file could not simply be opened, and the ways on."""
    choices = hindered.choices

    def take(text: str) -> Advance:
        place = chosen(text or str(len(choices)), len(choices))
        if place is None:
            return _no_such_number(len(choices))
        job = way_on(context, hindered, choices[place].id)
        return Advance(menu(context) if job is None else _entered(context, job))

    said = [hindered.reason, *_choice_lines(choices)]
    return EntryQuestion(said, tr("Number; Enter alone goes back:"), take)


def settings_question(context: Context) -> EntryQuestion:
    """A setting and its value: it is changed, explained, or the last change is taken back."""
    made = SettingChanges(context)

    def take(text: str) -> Advance:
        if not text:
            return Advance(menu(context.for_new_jobs()))
        undoes = text.casefold() in ("undo", "u", tr_in("word", "undo").casefold())
        said, refused = take_back(context, made) if undoes else change(context, text, made)
        return Advance(said=said, refused=refused)

    return EntryQuestion(setting_list(context), tr("Setting and value; Enter alone goes back:"), take)
