"""Record: writing events down, taking them back, and what is said of it; what to do where the disk takes nothing."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from cornerwalk.job.notice import Span
from cornerwalk.job.open_job import OpenJob
from cornerwalk.job.reply import Reply
from cornerwalk.session import walk
from cornerwalk.session.events import Event, HeightRead, JobReopened, PressureStated, StageBegun
from cornerwalk.session.log import RecordedEvent, redoable, undoable
from cornerwalk.store.errors import StoreError
from cornerwalk.wording.names import corner_name, stage_title
from cornerwalk.words import tr
from cornerwalk.words.safe import harmless


def record(job: OpenJob, events: Sequence[Event]) -> str:
    """Have events written down; why not, "" where the store took them.

    Nothing is added to a job that is handed over but its being taken up again: what was handed over stays true.
    """
    if not job.session.open and not all(isinstance(what, JobReopened) for what in events):
        return tr(
            "This job is handed over and locked. Reopen it for a follow-up ({key}).",
            key=job.control("job.chapters"),
        )
    try:
        job.record(events)
    except StoreError as error:
        return tr(error.template, **error.fields)
    return ""


def kept_word(job: OpenJob) -> Span:
    """When the last thing was kept, or that it is not."""
    if job.file.read_only:
        return ("caution", tr("read only"))
    if job.not_on_disk is not None:
        return ("caution", tr("NOT SAVED"))
    return ("quiet", tr("saved {time}", time=job.session.last_at[11:19]))


def kept_words(job: OpenJob, what: str) -> str:
    """Whether something that was recorded is on the disk."""
    return tr("saved: {what}", what=what) if job.not_on_disk is None else tr("not on disk: {what}", what=what)


def event_brief(job: OpenJob, what: Event) -> str:
    """What was recorded, as it is said back; in most cases as it stands in the history."""
    match what:
        case HeightRead():
            return f"{corner_name(what.corner)} {what.entered}"
        case StageBegun() | PressureStated():
            return ", ".join([stage_title((what.stage, what.number)), *_pressures(job, what)])
        case _:
            return _history_words(what)


def _pressures(job: OpenJob, what: StageBegun | PressureStated) -> list[str]:
    sides = ((what.left_kPa, "left {pressure}"), (what.right_kPa, "right {pressure}"))
    told = [] if what.pressure_kPa is None else [job.wording.pressure(what.pressure_kPa)]
    return [*told, *(tr(side, pressure=job.wording.pressure(kPa)) for kPa, side in sides if kPa is not None)]


def _history_words(what: Event) -> str:
    """As the history has it; its words are loaded with the first event that wants them, which no height does."""
    from cornerwalk.wording.events import event_words

    return event_words(what)


# ---- taking back ----


def undo(job: OpenJob) -> Reply:
    """Take back what was recorded last."""
    event = undoable(job.events)
    if event is None:
        return Reply(trouble=tr("Nothing left to undo."))
    what, key = _history_words(event.payload), job.control("job.redo")
    return Reply(would=walk.undo(job.events), told=tr("Undone: {what}. {key} redoes it.", what=what, key=key))


def redo(job: OpenJob) -> Reply:
    """Bring back what the last undo took."""
    event = redoable(job.events)
    if event is None:
        return Reply(trouble=tr("Nothing to redo."))
    what = _history_words(undone_by(job.events, event))
    return Reply(would=walk.redo(job.events), told=tr("Redone: {what}.", what=what))


def undone_by(events: Sequence[RecordedEvent], undo_event: RecordedEvent) -> Event:
    """What an undo had taken back."""
    seq = getattr(undo_event.payload, "undoes", undo_event.seq)
    return next(event.payload for event in events if event.seq == seq)


# ---- a disk that takes nothing ----


def not_on_disk(job: OpenJob) -> str:
    """What is in memory only, and why; "" while everything is on the disk."""
    state = job.not_on_disk
    if state is None:
        return ""
    return tr(
        "NOT ON DISK: {reason}. Go on reading; everything is written as soon as it can be. {key} tries again.",
        reason=tr(state.problem.template, **state.problem.fields),
        key=job.control("job.retry"),
    )


def retry(job: OpenJob) -> Reply:
    """Try again to write what is not on the disk."""
    if job.not_on_disk is None:
        return Reply(told=tr("Everything is on disk."))
    try:
        written = job.retry()
    except StoreError as error:
        return Reply(trouble=tr(error.template, **error.fields))
    return Reply(told=tr("Everything is on disk now.")) if written else Reply(trouble=not_on_disk(job))


def move(job: OpenJob, typed: str) -> Reply:
    """Have the whole job in another folder, everything that is not on disk included, and go on there."""
    folder = Path(typed.strip())
    if not folder.is_absolute():
        return Reply(trouble=tr("Type the whole path, such as {example}.", example="/media/stick"))
    try:
        moved = job.move_to(folder)
    except StoreError as error:
        return Reply(trouble=tr(error.template, **error.fields))
    if moved is not None:
        return Reply(trouble=tr(moved.problem.template, **moved.problem.fields))
    return Reply(told=tr("Goes on in {path}.", path=harmless(str(job.file.path))))
