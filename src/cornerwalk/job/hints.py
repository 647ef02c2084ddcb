"""Hints: what earlier jobs say, as notices: a hint with its spread, an offer with its control; never a reading."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cornerwalk.job.notice import Notice
from cornerwalk.job.reply import Reply
from cornerwalk.words import tr

if TYPE_CHECKING:
    from cornerwalk.job.open_job import OpenJob
    from cornerwalk.tables.hints import Hint


def last_time(job: OpenJob) -> tuple[Notice, ...]:
    """What this vehicle or kit did last time, in a sentence; nothing where springs must not be fitted at all."""
    hint = hint_of(job)
    if hint is None:
        return ()
    from cornerwalk.tables.hints import hint_brief

    return (Notice(tr("Last time {hint}", hint=hint_brief(hint, job.wording)), part="quiet"),)


def own_placing(job: OpenJob) -> tuple[Notice, ...]:
    """The placing that the technician's own repeats show, while the job rests on an assumed one."""
    heard = job.earlier.heard
    if heard is None or heard.offered is None or job.session.tape.place_mm is not None:
        return ()
    from cornerwalk.tables.hints import placing_brief

    return (Notice(placing_brief(heard.offered, job.wording, job.control("job.placing")), part="quiet"),)


def take_placing(job: OpenJob) -> Reply:
    """Take that placing in this job, as what it is: a fact with what it rests on."""
    heard = job.earlier.heard
    if heard is None or heard.offered is None:
        refused = tr("No tape repeatability of your own yet: too few corners of past jobs were read twice.")
        return Reply(trouble=refused)
    from cornerwalk.tables.hints import placing_fact

    told = tr("From now on this job uses your own tape repeatability.")
    return Reply(would=(placing_fact(heard.offered, job.session.job.unit),), told=told)


def asking(job: OpenJob) -> tuple[Notice, ...]:
    """How far the asking is, once it takes long."""
    if job.earlier.progress is None:
        return ()
    done, total = job.earlier.progress
    text = tr("reading past jobs: {done} of {total}", done=f"{done:,}", total=f"{total:,}")
    return (Notice(text, part="quiet"),)


def hint_of(job: OpenJob) -> Hint | None:
    """The hint as this job may be shown it; None where there is none."""
    heard = job.earlier.heard
    return heard.hint_to(job.session, job.assessment) if heard is not None else None
