"""New job: what is asked for one (a name, what kind of job it is, a preset to start from), and the making of it."""

from __future__ import annotations

import uuid
from pathlib import Path

from cornerwalk import __version__
from cornerwalk.context import Context
from cornerwalk.job.open_job import OpenJob
from cornerwalk.quantity import QuantityError
from cornerwalk.session.events import Event, JobOpened
from cornerwalk.session.stages import REQUIRED_STAGES, JobKind
from cornerwalk.session.statements import state_fact
from cornerwalk.session.walk import EntryError
from cornerwalk.sheet.preset import Preset, list_presets, preset_events
from cornerwalk.store import StoreError
from cornerwalk.textfiles import TextFileError
from cornerwalk.wording.names import job_name, stage_name
from cornerwalk.words import tr
from cornerwalk.words.safe import harmless

JOB_KINDS: tuple[JobKind, ...] = tuple(REQUIRED_STAGES)
"""The kinds on offer, the usual one first."""


def asks_name() -> str:
    """The question for its name."""
    return tr("Name this job. Enter alone leaves it blank.")


def kind_words(kind: JobKind) -> str:
    """A kind of job, and which stages it asks for."""
    stages = ", ".join(stage_name(stage) for stage in REQUIRED_STAGES[kind])
    return tr("{kind}: {stages}", kind=job_name(kind), stages=stages)


def preset_words(preset: Preset | None) -> str:
    """What it starts from."""
    return harmless(preset.name) if preset is not None else tr("nothing")


def presets_on_offer(context: Context) -> tuple[tuple[Preset | None, ...], int]:
    """What it may start from, nothing first, and the place of the usual one: that of the settings where it is there."""
    offered: tuple[Preset | None, ...] = (None, *list_presets(context.presets_folder))
    names = [preset.name if preset is not None else "" for preset in offered]
    own = context.settings.preset
    return offered, names.index(own) if own in names else 0


def new_job(context: Context, title: str, kind: JobKind, preset: Path | None = None) -> OpenJob | str:
    """A new job in the library, with what the settings and the preset state; a text says why there is none."""
    opened = JobOpened(session=str(uuid.uuid4()), job=kind, title=title.strip(), program=__version__)
    try:
        kept = preset_events(preset, context.clock()) if preset is not None else ()
        return OpenJob(context, context.library.create(opened, *_settled_facts(context), *kept))
    except TextFileError as error:
        return " ".join(error.lines(tr))
    except StoreError as error:
        return tr(error.template, **error.fields)


def _settled_facts(context: Context) -> list[Event]:
    """What the settings state; a setting that cannot be read any more is left out rather than stopping a job."""
    facts: list[Event] = []
    unit = "mm" if context.settings.units == "metric" else "inch"
    for name, text in context.settings.job_facts().items():
        try:
            facts.append(state_fact(name, text, "mm" if unit == "mm" else "inch"))
        except (QuantityError, EntryError):
            continue
    return facts
