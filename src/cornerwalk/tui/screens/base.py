"""What every page of a job has besides: masthead, alarm, recording, undo."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

from textual.app import ComposeResult
from textual.worker import get_current_worker

from cornerwalk.job.notice import Span
from cornerwalk.job.open_job import OpenJob
from cornerwalk.session.events import Event, JobReopened
from cornerwalk.session.log import redoable, undoable
from cornerwalk.session.walk import redo, undo
from cornerwalk.store.errors import StoreError
from cornerwalk.tui.keys import Places
from cornerwalk.tui.messages import EarlierJobsHeard
from cornerwalk.tui.own_keys import key_shown
from cornerwalk.tui.screens.page import Page
from cornerwalk.tui.widgets.masthead import Masthead
from cornerwalk.words import tr
from cornerwalk.words.safe import harmless


class JobScreen(Page):
    """A page of the open job. `show` draws it; it is called when the page comes up and after every change."""

    places: Places = ("everywhere", "job")
    opens: str = ""
    """What `screens.job_page` opened it by."""

    def __init__(self, job: OpenJob) -> None:
        super().__init__()
        self.job = job
        self._retried = False

    def compose_head(self) -> ComposeResult:
        """Name of the job, what is kept, and what is not."""
        yield Masthead()

    def on_screen_resume(self) -> None:
        """Another page may have changed the job."""
        self.show()

    def show(self) -> None:
        """Draw everything; a subclass adds its own part."""
        title = harmless(self.job.session.job.title) or tr("Job without a name")
        self.query_one(Masthead).say(title, self.kept_word(), self._not_on_disk())
        if self.job.earlier_to_ask():
            self.call_after_refresh(self._ask_earlier)

    def _ask_earlier(self) -> None:
        """Once the page is painted; the asking goes on while other pages come and go."""
        heard = partial(self.app.post_message, EarlierJobsHeard())
        self.app.run_worker(partial(self._listen, heard), thread=True, exclusive=True, group="earlier jobs")

    def _listen(self, heard: Callable[[], object]) -> None:
        worker = get_current_worker()
        self.job.ask_earlier(heard, lambda: worker.is_cancelled)

    def show_earlier(self) -> None:
        """Show what earlier jobs say; a page that has no place for it stays as it is."""

    def kept_word(self) -> Span:
        """When the last thing was kept, or that it is not."""
        if self.job.file.read_only:
            return ("caution", tr("read only"))
        if self.job.not_on_disk is not None:
            return ("caution", tr("NOT KEPT"))
        return ("quiet", tr("kept {time}", time=self.job.session.last_at[11:19]))

    def _not_on_disk(self) -> str:
        state = self.job.not_on_disk
        if state is None:
            return ""
        return tr(
            "NOT ON DISK: {reason}. Go on reading; everything is written as soon as it can be. {key} tries again.",
            reason=tr(state.problem.template, **state.problem.fields),
            key=key_shown("job.retry"),
        )

    def record(self, events: Sequence[Event]) -> bool:
        """Record and show; whether the store took them. Why not is told on the page.

        Nothing is added to a job that is handed over but its being taken up again: what was handed over stays true.
        """
        if not self.job.session.open and not all(isinstance(what, JobReopened) for what in events):
            self.refuse(
                tr(
                    "The job is handed over; nothing changes any more. Take it up again for a follow-up ({key}).",
                    key=key_shown("job.chapters"),
                )
            )
            return False
        try:
            self.job.record(events)
        except StoreError as error:
            self.refuse(tr(error.template, **error.fields))
            return False
        self.show()
        return True

    def turn_to_due(self) -> None:
        """Ask what is due now; a page that asks nothing stays as it is."""

    def refuse(self, reason: str) -> None:
        """Say why something was not done, and sound the bell if it is wanted."""
        self.tell(reason, "caution")
        if self.job.context.settings.bell:
            self.app.bell()

    def action_undo(self) -> None:
        """Take back what was recorded last."""
        event = undoable(self.job.events)
        if event is None:
            self.refuse(tr("There is nothing left to take back."))
        elif self.record(undo(self.job.events)):
            self.turn_to_due()
            self.tell(
                tr(
                    "Taken back: {what}. {key} brings it again.",
                    what=words_of(event.what),
                    key=key_shown("job.redo"),
                )
            )

    def action_redo(self) -> None:
        """Bring back what undo took."""
        event = redoable(self.job.events)
        if event is None:
            self.refuse(tr("There is nothing to bring back."))
        elif self.record(redo(self.job.events)):
            self.turn_to_due()
            self.tell(tr("Back again: {what}.", what=_undone_by(self.job, event.seq)))

    def action_placing(self) -> None:
        """Take the placing that the technician's own repeats show, in this job, as what it is."""
        from cornerwalk.tables.learning import taken

        heard = self.job.earlier.heard
        if heard is None or heard.offered is None:
            self.refuse(tr("No figure of your own is on offer: too few corners of earlier jobs were read twice."))
        elif self.record((taken(heard.offered, self.job.session.job.unit),)):
            self.tell(tr("From now on this job rests on how closely you placed the tape before."))

    def action_retry(self) -> None:
        """Try again to write what is not on disk."""
        if self.job.not_on_disk is None:
            self.tell(tr("Everything is on disk."))
            return
        try:
            written = self.job.retry()
        except StoreError as error:
            self.refuse(tr(error.template, **error.fields))
            return
        self.show()
        if written:
            self._retried = False
            self.tell(tr("Everything is on disk now."))
        elif self._retried:
            from cornerwalk.tui.screens.elsewhere import ElsewhereScreen

            self.app.push_screen(ElsewhereScreen(self.job))
        else:
            self._retried = True
            self.refuse(
                tr("It still cannot be written. {key} once more: go on in another folder.", key=key_shown("job.retry"))
            )


def words_of(what: Event) -> str:
    """What was recorded, in words. They are loaded with the first that wants them: heights have their own."""
    from cornerwalk.wording.events import event_words

    return event_words(what)


def _undone_by(job: OpenJob, seq: int) -> str:
    """What the undo of that number had taken back."""
    events = {event.seq: event.what for event in job.events}
    undone = getattr(events[seq], "undoes", seq)
    return words_of(events[undone])
