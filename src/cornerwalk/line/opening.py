"""How a job comes to be open: one of the library, one that something is the matter with, a new one."""

from __future__ import annotations

import uuid
from collections.abc import Sequence
from pathlib import Path

from cornerwalk import __version__
from cornerwalk.context import Context
from cornerwalk.line.job import OpenJob
from cornerwalk.quantity import QuantityError
from cornerwalk.session.events import Event, FactStated, JobOpened
from cornerwalk.session.stages import JobKind
from cornerwalk.session.statements import state_fact
from cornerwalk.session.walk import EntryError
from cornerwalk.store import Damage, LockOwner


def open_job(context: Context, path: Path, *, take_over: LockOwner | None = None) -> OpenJob:
    """The job of a session file, to go on with.

    Raises:
        StoreError: it cannot be opened; `SessionLockedError` and `DamagedFileError` have ways on.
    """
    return OpenJob(context, context.library.open(path, break_stale=take_over))


def carry_on(context: Context, damage: Damage) -> OpenJob:
    """A new job that goes on from what can be read of a damaged file.

    Raises:
        StoreError: nothing can be read of it.
    """
    return OpenJob(context, context.library.recover(damage))


def new_job(context: Context, title: str, kind: JobKind, preset: Sequence[Event] = ()) -> OpenJob:
    """A new job in the library: what the settings state, then what a preset states in their place.

    Raises:
        StoreError: it cannot be written down at all.
    """
    context = context.for_new_jobs()
    opened = JobOpened(session=str(uuid.uuid4()), job=kind, title=title, program=__version__)
    stated = {what.name for what in preset if isinstance(what, FactStated)}
    own = [what for what in _of_settings(context) if what.name not in stated]
    return OpenJob(context, context.library.create(opened, *own, *preset))


def _of_settings(context: Context) -> list[FactStated]:
    """What the settings state; a setting that cannot be read any more is left out rather than stopping a job."""
    facts = []
    for name, text in context.settings.job_facts().items():
        try:
            facts.append(state_fact(name, text, "mm" if context.settings.units == "metric" else "inch"))
        except (QuantityError, EntryError):
            continue
    return facts
