"""Job pages: masthead, alarm, recording and undo, which every page of a job has; and what a page with a question adds.

A key is drawn once: whatever records or turns to something else only changes what the page holds, and who handles the
key draws when all of it is done.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

from textual.app import ComposeResult
from textual.worker import get_current_worker

from cornerwalk.job.hints import take_placing
from cornerwalk.job.notice import Notice, Span
from cornerwalk.job.open_job import OpenJob
from cornerwalk.job.prompt_words import job_title
from cornerwalk.job.record import kept_word, not_on_disk, record, redo, retry, undo
from cornerwalk.job.reply import Reply
from cornerwalk.session.events import Event
from cornerwalk.tui.keys import Places
from cornerwalk.tui.messages import EarlierJobsHeard
from cornerwalk.tui.own_keys import key_shown
from cornerwalk.tui.screens.page import PageScreen
from cornerwalk.tui.widgets.masthead import Masthead
from cornerwalk.words import tr


class JobScreen(PageScreen):
    """A page of the open job. `show` draws it: when it comes up, and once after every key that changed something."""

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
        """Another page may have changed the job; one that is passed over on the way back to another stays as it is."""
        if self.is_current:
            self.show_anew()

    def show_anew(self) -> None:
        """Draw what another page, or another program, may have changed."""
        self.show()

    def show(self) -> None:
        """Draw everything; a subclass adds its own part."""
        title = job_title(self.job)
        self.query_one(Masthead).say(title, self.kept_word(), not_on_disk(self.job))
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
        return kept_word(self.job)

    def record(self, events: Sequence[Event]) -> bool:
        """Record; whether the store took them. Why not is told on the page; whoever records draws what came of it."""
        if trouble := record(self.job, events):
            self.refuse(trouble)
            return False
        return True

    def turn_to_due(self) -> None:
        """Have what is due asked with the next drawing; a page that asks nothing stays as it is."""

    def announce(self, text: str, part: str = "ink") -> None:
        """Draw the page with this said on it."""
        self.tell(text, part)
        self.show()

    def refuse(self, reason: str) -> None:
        """Say why something was not done, and sound the bell if it is wanted."""
        self.tell(reason, "caution")
        self.ring()

    def ring(self) -> None:
        """Sound the bell if it is wanted."""
        if self.job.context.settings.bell:
            self.app.bell()

    def action_undo(self) -> None:
        """Take back what was recorded last."""
        self._do(undo(self.job))

    def action_redo(self) -> None:
        """Bring back what undo took."""
        self._do(redo(self.job))

    def _do(self, reply: Reply) -> None:
        """Record what a control makes happen, and say what that was; or why it cannot be."""
        if reply.trouble:
            self.refuse(reply.trouble)
        elif self.record(reply.would):
            self.turn_to_due()
            self.announce(reply.told)

    def action_placing(self) -> None:
        """Take the placing that the technician's own repeats show, in this job, as what it is."""
        reply = take_placing(self.job)
        if reply.trouble:
            self.refuse(reply.trouble)
        elif self.record(reply.would):
            self.announce(reply.told)

    def action_retry(self) -> None:
        """Try again to write what is not on disk."""
        reply = retry(self.job)
        if not reply.trouble:
            self._retried = False
            self.announce(reply.told)
        elif self.job.not_on_disk is None:
            self.refuse(reply.trouble)
        elif self._retried:
            from cornerwalk.tui.screens.trouble import ElsewhereScreen

            self.app.push_screen(ElsewhereScreen(self.job))
        else:
            self._retried = True
            key = key_shown("job.retry")
            self.announce(tr("It still cannot be written. {key} again: go on in another folder.", key=key), "caution")
            self.ring()


class AskingScreen(JobScreen):
    """A job page with a question in hand. What was said last stands below it, where the eyes are, until the next key.

    `show_asked` draws the question with what is typed: the way from a key to a result. `show` draws the rest too.
    """

    def __init__(self, job: OpenJob) -> None:
        super().__init__(job)
        self._said: Notice | None = None

    def show_asked(self) -> None:
        """Draw the question in hand, and what is typed as its answer."""
        raise NotImplementedError

    def tell(self, text: str, part: str = "ink") -> None:
        """Below the question, until the next key; "" says nothing."""
        self._said = Notice(text, part=part) if text else None
        self.show_asked()

    def announce(self, text: str, part: str = "ink") -> None:
        """Draw the page with this said below the question."""
        self._said = Notice(text, part=part)
        self.show()
