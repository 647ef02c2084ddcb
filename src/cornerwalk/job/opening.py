"""Opening: a job of the library, one that something is the matter with and the ways on from there, the sample."""

from __future__ import annotations

import shutil
from dataclasses import dataclass, replace
from pathlib import Path
from tempfile import TemporaryDirectory

from cornerwalk.context import Context
from cornerwalk.job.notice import Choice
from cornerwalk.job.open_job import OpenJob
from cornerwalk.samples import WALK_SAMPLE, sample_folder
from cornerwalk.store import (
    DamagedFileError,
    Library,
    LockOwner,
    SessionLockedError,
    StoreError,
    UnrecoverableFileError,
    WriteProtectedError,
)
from cornerwalk.words import tr
from cornerwalk.words.safe import harmless


@dataclass(frozen=True, slots=True)
class Hindered:
    """A file that could not simply be opened: why, and what can be done, the safest first."""

    path: Path
    reason: str
    choices: tuple[Choice, ...]
    error: StoreError


def open_job(context: Context, path: Path, *, take_over: LockOwner | None = None) -> OpenJob | Hindered:
    """The job of a session file, ready to go on with."""
    try:
        return OpenJob(context, context.library.open(path, break_stale=take_over))
    except StoreError as error:
        return Hindered(path, told(error, path), _ways_on(error), error)


def follow_job(context: Context, path: Path) -> OpenJob | Hindered:
    """The job of a session file, to be looked at only."""
    try:
        return OpenJob(context, context.library.follow(path))
    except StoreError as error:
        return Hindered(path, told(error, path), _ways_on(error), error)


def replayed_job(context: Context, path: Path) -> OpenJob | Hindered:
    """The job of a session file, to be gone through event by event; of a damaged one, what can be read."""
    from cornerwalk.job.replay import ReplayedJob

    try:
        stored = context.library.read(path)
        if not stored.events:
            raise UnrecoverableFileError("not even the first event of {path} can be read", path=path.name)
        return ReplayedJob(context, stored)
    except StoreError as error:
        return Hindered(path, told(error, path), _ways_on(error), error)


def way_on(context: Context, hindered: Hindered, choice: str) -> OpenJob | Hindered | None:
    """The job by the way on that was chosen, by the choice's id; None to go back."""
    match choice, hindered.error:
        case "follow", _:
            return follow_job(context, hindered.path)
        case "take over", SessionLockedError(owner=owner):
            return open_job(context, hindered.path, take_over=owner)
        case "carry on", DamagedFileError() as error:
            return carried_on(context, error)
        case _:
            return None


def carried_on(context: Context, error: DamagedFileError) -> OpenJob | Hindered:
    """A new job that goes on from what can be read of a damaged file."""
    try:
        return OpenJob(context, context.library.recover(error.damage))
    except StoreError as another:
        return Hindered(error.damage.path, told(another, error.damage.path), _ways_on(another), another)


def told(error: StoreError, path: Path) -> str:
    """What is the matter with a file, with its name."""
    return tr("{file}: {reason}", file=harmless(path.name), reason=tr(error.template, **error.fields))


def _ways_on(error: StoreError) -> tuple[Choice, ...]:
    back = Choice("back", tr("Go back"))
    match error:
        case SessionLockedError():
            follow = Choice("follow", tr("Look at it here without writing"), tr("You see what the other one saves."))
            if not error.breakable:
                return (follow, back)
            about = tr("Only if you are sure that nobody is working on it there: two would overwrite each other.")
            return (follow, Choice("take over", tr("Take it over"), about), back)
        case DamagedFileError():
            damage = error.damage
            if not damage.events:
                return (back,)
            about = tr(
                "{kept} entries can be read, {lost} cannot. The damaged file stays as it is.",
                kept=len(damage.events),
                lost=damage.lost,
            )
            return (Choice("carry on", tr("Go on in a new file with what can be read"), about), back)
        case WriteProtectedError():
            return (Choice("follow", tr("Look at it without writing")), back)
        case _:
            return (back,)


@dataclass(frozen=True, slots=True)
class Sample:
    """The sample in a library of its own, gone when the app is left."""

    context: Context
    path: Path
    folder: TemporaryDirectory[str]


def sample(context: Context) -> Sample:
    """A copy of the sample to work on.

    Raises:
        FileNotFoundError: this copy of the program was put together without samples.
    """
    # What earlier jobs say may still be being asked: what is remembered of it must not keep the folder from going.
    folder = TemporaryDirectory(prefix="cornerwalk-demo-", ignore_cleanup_errors=True)
    path = Path(shutil.copy(sample_folder() / WALK_SAMPLE, folder.name))
    library = Library(Path(folder.name), clock=context.clock, by=context.user)
    return Sample(replace(context, library=library), path, folder)
