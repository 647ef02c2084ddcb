"""Sessions for the commands: read from a file, or made from a job sheet."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING
from uuid import uuid4

from cornerwalk.cli.output import tell
from cornerwalk.cli.parsers import CommandError
from cornerwalk.session.events import Event, FactStated
from cornerwalk.session.statements import state_fact
from cornerwalk.words import tr

if TYPE_CHECKING:
    from cornerwalk.cli.environment import Environment
    from cornerwalk.context import Context, NewSessionView
    from cornerwalk.sheet import SheetContents
    from cornerwalk.store import SessionFile, StoredSession


def read_undamaged(environment: Environment, path: Path) -> StoredSession:
    """A session that is as it was written.

    Raises:
        CommandError: it is damaged; figures from half a session would be taken for those of a whole one.
        StoreError: it cannot be read at all.
    """
    stored = environment.stored(path)
    if stored.damage is not None:
        raise CommandError(
            "{path} is damaged: {what}. `cornerwalk check` says more; opening it in the app goes on from what is left.",
            path=path,
            what=tr(stored.damage.template, **stored.damage.fields),
        )
    return stored


def read_recoverable(environment: Environment, path: Path) -> StoredSession:
    """A session as far as it can be read; damage is reported on stderr.

    Raises:
        StoreError: it cannot be read at all, or nothing of it.
    """
    stored = environment.stored(path)
    if stored.damage is not None:
        tell(tr("{path} is damaged: {what}", path=path, what=tr(stored.damage.template, **stored.damage.fields)))
    if not stored.events:
        from cornerwalk.store import UnrecoverableFileError

        raise UnrecoverableFileError("not even the first event of {path} can be read", path=str(path))
    return stored


# ---- job sheets ----


def read_sheet(environment: Environment, path: Path) -> SheetContents:
    """The contents of a job sheet.

    Raises:
        TextFileError: it cannot be read, or says something wrong.
    """
    from cornerwalk.sheet import read_job_sheet, read_text_file

    text = read_text_file(path)
    return read_job_sheet(
        text, name=str(path), session_id=str(uuid4()), now=environment.clock(), checklists=environment.checklists
    )


def add_heights(environment: Environment, contents: SheetContents | None, path: Path) -> SheetContents:
    """The heights of a spreadsheet, added to a job sheet or by themselves.

    Raises:
        TextFileError: it cannot be read, or says something wrong.
    """
    from cornerwalk.sheet import read_text_file
    from cornerwalk.sheet.heights_csv import read_heights_csv

    text = read_text_file(path)
    return read_heights_csv(text, name=str(path), session_id=str(uuid4()), now=environment.clock(), onto=contents)


def sheet_technician(contents: SheetContents) -> str:
    """Who took the readings, by the sheet; empty where it does not say."""
    facts = (what for what in contents.events if isinstance(what, FactStated))
    return next((fact.entered for fact in facts if fact.name == "job.technician"), "")


def add_settings(environment: Environment, contents: SheetContents) -> tuple[Event, ...]:
    """The events of a sheet, with what the technician's settings state in every new job and the sheet does not."""
    unit = contents.unit or ("mm" if environment.settings.units == "metric" else "inch")
    stated = {what.name for what in contents.events if isinstance(what, FactStated)}
    own = environment.settings.job_facts() | {"job.unit": unit}
    added = tuple(state_fact(name, text, unit) for name, text in own.items() if name not in stated)
    opened, *others = contents.events
    return (opened, *added, *others)


def create_session(
    environment: Environment, contents: SheetContents, events: tuple[Event, ...], *, folder: Path | None = None
) -> SessionFile:
    """A new session, opened at the time and by the person that the sheet names.

    Raises:
        StoreError: it cannot be written down.
    """
    from cornerwalk.store import UnsavedState

    library = environment.library(folder, clock=_always(contents.at), by=environment.user(sheet_technician(contents)))
    session = library.create(*events)
    if isinstance(session.state, UnsavedState):
        raise session.state.problem
    return session


def begin_session(environment: Environment, contents: SheetContents) -> tuple[Context, NewSessionView]:
    """A new session as `create_session` makes it, with the facts of the settings, left open.

    The open file is handed on instead of read again: reading loads the file shapes.

    Raises:
        StoreError: it cannot be written down.
    """
    from cornerwalk.context import NewSessionView
    from cornerwalk.store import UnsavedState

    on_the_sheet = [contents.at]

    def clock() -> datetime:
        return on_the_sheet[0] if on_the_sheet else environment.clock()

    by = environment.user(sheet_technician(contents))
    library = environment.library(clock=clock, by=by)
    session = library.create(*add_settings(environment, contents))
    if isinstance(session.state, UnsavedState):
        raise session.state.problem
    on_the_sheet.clear()
    return environment.context(library, by=by), NewSessionView(session)


def _always(at: datetime) -> Callable[[], datetime]:
    return lambda: at
