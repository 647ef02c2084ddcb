"""Which job: the unfinished one, an earlier one, a new one; and the ways on where a file cannot simply be opened."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Protocol

from cornerwalk.context import Context
from cornerwalk.line.job import OpenJob
from cornerwalk.line.opening import carry_on, new_job, open_job
from cornerwalk.line.reply import chosen, numbered
from cornerwalk.session.events import Event
from cornerwalk.session.stages import REQUIRED_STAGES, JobKind
from cornerwalk.store import DamagedFileError, SessionLockedError, StoreError, Summary
from cornerwalk.textfiles import TextFileError
from cornerwalk.wording.names import job_name
from cornerwalk.words import tr
from cornerwalk.words.safe import harmless

KINDS: tuple[JobKind, ...] = tuple(REQUIRED_STAGES)
MOST_LISTED = 20


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """What an answer led to: another step, an open job, or (None) the same step again."""

    said: tuple[str, ...] = ()
    then: Step | OpenJob | None = None
    refused: bool = False


class Step(Protocol):
    """One question before a job is open."""

    def opening(self) -> tuple[str, ...]:
        """What is said before it is asked."""

    def prompt(self) -> str:
        """The question in one line."""

    def take(self, text: str, /) -> Taken:
        """What this text, without blanks around it, leads to."""


def opened(context: Context, path: Path) -> Step | OpenJob:
    """The job of a file, or what can be done where it cannot be opened."""
    try:
        return open_job(context, path)
    except StoreError as error:
        return Hindered(context, path, error)


class Menu:
    """Go on, begin, or look for another."""

    def __init__(self, context: Context) -> None:
        self._context = context
        self._problem = ""
        self._unfinished: Summary | None = None
        try:
            self._unfinished = context.library.latest_unfinished()
        except StoreError as error:
            self._problem = tr(error.template, **error.fields)

    def opening(self) -> tuple[str, ...]:
        """The choices."""
        said = [tr("cornerwalk, line by line: four corners, three times round.")]
        if self._problem:
            said.append(self._problem)
        if self._context.settings_problem is not None:
            problem = self._context.settings_problem.lines(tr)[0]
            said.append(tr("The settings were not used: {problem}", problem=problem))
        choices = [tr("New job"), tr("Open an earlier job"), tr("Settings")]
        if self._unfinished is not None:
            choices.insert(0, tr("Go on with {title}", title=_told(self._unfinished)))
        return (*said, *numbered(tuple(choices)))

    def prompt(self) -> str:
        """A number."""
        return tr("Number, or quit; Enter alone takes the first:")

    def take(self, text: str) -> Taken:
        """The choice of that number."""
        place = chosen(text or "1", 4 if self._unfinished is not None else 3)
        if place is None:
            return Taken(said=(tr("A number from the list, or quit."),), refused=True)
        if self._unfinished is None:
            place += 1
        elif place == 0:
            return Taken(then=opened(self._context, self._unfinished.path))
        if place == 3:
            from cornerwalk.line.settings import ChangeSettings

            return Taken(then=ChangeSettings(self._context))
        return Taken(then=Title(self._context) if place == 1 else Earlier(self._context))


def _told(summary: Summary) -> str:
    """`Box trailer, Tuesday (last kept 2026-05-04 08:14, 6 readings)`."""
    return tr(
        "{title} (last kept {time}, {count} readings)",
        title=harmless(summary.title) or tr("the job without a name"),
        time=harmless(summary.last_at[:16].replace("T", " ")),
        count=summary.readings,
    )


@dataclass(frozen=True, slots=True)
class Title:
    """What a new job shall be called."""

    context: Context

    def opening(self) -> tuple[str, ...]:
        """Nothing."""
        return ()

    def prompt(self) -> str:
        """The name."""
        return tr("What shall it be called? Enter leaves the name out:")

    def take(self, text: str) -> Taken:
        """Any words."""
        return Taken(then=Kind(self.context, text))


@dataclass(frozen=True, slots=True)
class Kind:
    """What kind of job it is, which says what is asked for."""

    context: Context
    title: str

    def opening(self) -> tuple[str, ...]:
        """The kinds."""
        return numbered(tuple(job_name(kind) for kind in KINDS))

    def prompt(self) -> str:
        """A number."""
        return tr("Kind of job, number; Enter alone takes the first:")

    def take(self, text: str) -> Taken:
        """The kind of that number; then a preset where there are some."""
        from cornerwalk.sheet.preset import list_presets

        place = chosen(text or "1", len(KINDS))
        if place is None:
            return Taken(said=(tr("a number from 1 to {most}", most=len(KINDS)),), refused=True)
        if list_presets(self.context.presets_folder):
            return Taken(then=FromPreset(self.context, self.title, KINDS[place]))
        return _made(self.context, self.title, KINDS[place], ())


@dataclass(frozen=True, slots=True)
class FromPreset:
    """Which vehicle or kit of before it starts from."""

    context: Context
    title: str
    kind: JobKind

    def opening(self) -> tuple[str, ...]:
        """The presets."""
        from cornerwalk.sheet.preset import list_presets

        return numbered(tuple(preset.name for preset in list_presets(self.context.presets_folder)))

    def prompt(self) -> str:
        """A number."""
        own = self._own_preset()
        if own is not None:
            return tr("Start from which preset? Number, 0 for none; Enter alone takes {name}:", name=own)
        return tr("Start from which preset? Number; Enter for none:")

    def _own_preset(self) -> str | None:
        """The one of the settings, where it is there."""
        from cornerwalk.sheet.preset import list_presets

        own = self.context.settings.preset
        return own if own in [preset.name for preset in list_presets(self.context.presets_folder)] else None

    def take(self, text: str) -> Taken:
        """The preset of that number."""
        from cornerwalk.sheet.preset import list_presets, preset_events

        found = list_presets(self.context.presets_folder)
        names, own = [preset.name for preset in found], self._own_preset()
        if text == "0" or (not text and own is None):
            return _made(self.context, self.title, self.kind, ())
        place = chosen(text, len(found)) if text else names.index(own or "")
        if place is None:
            return Taken(said=(tr("a number from 1 to {most}", most=len(found)),), refused=True)
        try:
            stated = preset_events(found[place].path, self.context.clock())
        except TextFileError as error:
            return Taken(said=tuple(error.lines(tr)), refused=True)
        return _made(self.context, self.title, self.kind, stated)


def _made(context: Context, title: str, kind: JobKind, stated: tuple[Event, ...]) -> Taken:
    try:
        job = new_job(context, title, kind, stated)
    except StoreError as error:
        return Taken(said=(tr(error.template, **error.fields),), refused=True)
    return Taken(said=(tr("For the facts of vehicle, kit and loads type intake, before or later."),), then=job)


class Earlier:
    """An earlier job, by its number or by words that it holds."""

    def __init__(self, context: Context, words: str = "") -> None:
        self._context = context
        self._problem = ""
        self._found: list[Summary] = []
        try:
            self._found = context.library.find(words=words)[:MOST_LISTED]
        except StoreError as error:
            self._problem = tr(error.template, **error.fields)

    def opening(self) -> tuple[str, ...]:
        """The jobs found, the one worked on last first."""
        if self._problem:
            return (self._problem,)
        if not self._found:
            return (tr("No such job."),)
        return numbered(tuple(_told(summary) for summary in self._found))

    def prompt(self) -> str:
        """A number, or words."""
        return tr("Which job? Number, or words to look for; Enter goes back:")

    def take(self, text: str) -> Taken:
        """The job of that number, or those with these words."""
        if not text:
            return Taken(then=Menu(self._context))
        place = chosen(text, len(self._found))
        if place is None:
            return Taken(then=Earlier(self._context, text))
        return Taken(then=opened(self._context, self._found[place].path))


@dataclass(frozen=True, slots=True)
class Hindered:
    """A file that could not simply be opened: why, and the ways on."""

    context: Context
    path: Path
    error: StoreError

    def opening(self) -> tuple[str, ...]:
        """The reason, and what each way on means."""
        why = tr(self.error.template, **self.error.fields)
        said = [tr("{file}: {reason}", file=harmless(self.path.name), reason=why)]
        match self.error:
            case SessionLockedError(breakable=True):
                said.append(
                    tr("Only if you are sure that nobody is working on it there: two would overwrite each other.")
                )
            case DamagedFileError(damage=damage) if damage.events:
                said.append(
                    tr(
                        "{kept} entries can be read, {lost} cannot. The damaged file stays as it is.",
                        kept=len(damage.events),
                        lost=damage.lost,
                    )
                )
        return tuple(said)

    def prompt(self) -> str:
        """Yes, or back."""
        match self.error:
            case SessionLockedError(breakable=True):
                return tr("Take it over? Type take over; Enter goes back:")
            case DamagedFileError(damage=damage) if damage.events:
                return tr("Go on in a new file with what can be read? y; Enter goes back:")
            case _:
                return tr("It cannot be opened here. Enter goes back:")

    def take(self, text: str) -> Taken:
        """The way on."""
        folded = text.casefold()
        try:
            match self.error:
                case SessionLockedError(breakable=True, owner=by) if folded in (
                    "take over",
                    tr("take over").casefold(),
                ):
                    return Taken(then=open_job(self.context, self.path, take_over=by))
                case DamagedFileError(damage=damage) if damage.events and folded in (
                    "y",
                    "yes",
                    "1",
                    tr("yes").casefold(),
                ):
                    return Taken(then=carry_on(self.context, damage))
                case _:
                    return Taken(then=Menu(self.context))
        except StoreError as error:
            return Taken(then=Hindered(self.context, self.path, error))
