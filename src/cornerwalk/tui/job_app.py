"""Job app: what the app does with jobs, opening and closing them, and turning to their pages."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from textual import on

from cornerwalk.tui.first_frame import FirstFrame, Frame
from cornerwalk.tui.keys import BY_ID, chapter_page
from cornerwalk.tui.messages import (
    EarlierJobsHeard,
    NewJob,
    OpenChapter,
    OpenFile,
    OpenPage,
    OpenSample,
    ReplayFile,
    ToStart,
    WalkOn,
)
from cornerwalk.words import tr

if TYPE_CHECKING:
    from textual.timer import Timer

    from cornerwalk.context import Context
    from cornerwalk.job.open_job import OpenJob
    from cornerwalk.job.opening import Hindered, Sample
    from cornerwalk.tui.screens.job_screen import JobScreen


FOLLOWS_EVERY_S = 1.0
"""How often a file that another program writes is looked at; nothing is drawn while it is as it was."""


class JobApp(FirstFrame):
    """An app that has at most one job open. What opening takes is imported when a job is opened."""

    context: Context
    """What the commands hand down, once the app has arrived."""

    def __init__(self, frame: Frame) -> None:
        super().__init__(frame)
        self.job: OpenJob | None = None
        self._sample: Sample | None = None
        self._rules_told = False
        self._following: Timer | None = None

    def say(self, text: str) -> None:
        """Say why something was not done, on the page that is open."""
        from cornerwalk.tui.screens.page import PageScreen

        if isinstance(self.screen, PageScreen):
            self.screen.tell(text, "caution")

    @on(OpenFile)
    def file_asked_for(self, message: OpenFile) -> None:
        """A page wants a file opened."""
        self.open_file(message.path)

    def open_file(self, path: Path) -> None:
        """Open a session file and walk on, or say why not."""
        from cornerwalk.job.opening import open_job

        already = self.job is not None and not self.job.file.read_only and self.job.file.path == path
        self._show_job(self.job if already and self.job is not None else open_job(self.context, path))

    @on(ReplayFile)
    def replay_asked_for(self, message: ReplayFile) -> None:
        """A page wants a file replayed."""
        self.replay_file(message.path)

    def replay_file(self, path: Path) -> None:
        """Open a session file to be gone through event by event."""
        from cornerwalk.job.opening import replayed_job

        self._show_job(replayed_job(self.context, path))

    @on(NewJob)
    def job_asked_for(self, message: NewJob) -> None:
        """A page wants a new job."""
        from cornerwalk.job.new_job import new_job

        job = new_job(self.context, message.title, message.kind, message.preset)
        if isinstance(job, str):
            self.say(job)
        else:
            self.pop_screen()
            self._show_job(job)

    @on(OpenSample)
    def sample_asked_for(self) -> None:
        """A page wants the sample."""
        from cornerwalk.job.opening import open_job, sample

        try:
            tried = sample(self.context)
        except FileNotFoundError as error:
            self.say(str(error))
            return
        self._show_job(open_job(tried.context, tried.path))
        self._sample = tried

    @on(WalkOn)
    def job_opened(self, message: WalkOn) -> None:
        """A page has opened a job."""
        self.pop_screen()
        self._show_job(message.job)

    def _show_job(self, job: OpenJob | Hindered) -> None:
        from cornerwalk.job.open_job import OpenJob

        if not isinstance(job, OpenJob):
            from cornerwalk.tui.screens.trouble import HinderedScreen

            self.push_screen(HinderedScreen(self.context, job))
            return
        from cornerwalk.tui.own_keys import key_shown
        from cornerwalk.tui.screens import first_page

        if job is not self.job:
            self.close_job()
            job.control = key_shown
            self.job = job
            if job.file.read_only:
                self._following = self.set_interval(FOLLOWS_EVERY_S, self._follow)
        self.push_screen(first_page(job))
        if job.standards.refused and not self._rules_told:
            self._rules_told = True
            self.screen.call_after_refresh(self._tell_of_rules, job)

    def _follow(self) -> None:
        """Show what the program that writes the job has kept meanwhile; a file that is gone is said so, once."""
        from cornerwalk.store.errors import StoreError

        if self.job is None:
            return
        try:
            changed = self.job.look_again()
        except StoreError as error:
            self._stop_following()
            self.say(tr(error.template, **error.fields))
            return
        page = self._job_page()
        if changed and page is not None:
            page.show_anew()

    def _stop_following(self) -> None:
        if self._following is not None:
            self._following.stop()
            self._following = None

    def _tell_of_rules(self, job: OpenJob) -> None:
        from cornerwalk.wording.findings import refused_rules

        self.say(refused_rules(job.standards))

    @on(EarlierJobsHeard)
    def earlier_jobs_heard(self) -> None:
        """Let the page that is open show what they say."""
        page = self._job_page()
        if page is not None:
            page.show_earlier()

    def _job_page(self) -> JobScreen | None:
        """The page of a job that is open; none while it is being taken down, as all are when the app is left."""
        from cornerwalk.tui.screens.job_screen import JobScreen

        page = self.screen_stack[-1] if self.screen_stack else None
        return page if isinstance(page, JobScreen) and page.display else None

    @on(ToStart)
    def start_asked_for(self) -> None:
        """The first page is left: to the start page, and from there out."""
        from cornerwalk.tui.screens.start import StartScreen

        if isinstance(self.screen, StartScreen):
            self.exit()
        else:
            self.switch_screen(StartScreen(self.context))

    def close_job(self) -> None:
        """Let others have the file of the job that is open; a sample goes with its folder."""
        self._stop_following()
        if self.job is not None:
            self.job.close()
            self.job = None
        if self._sample is not None:
            self._sample.folder.cleanup()
            self._sample = None

    @on(OpenPage)
    def page_asked_for(self, message: OpenPage) -> None:
        """A page wants another one opened."""
        self.action_open_page(message.key_id)

    def action_open_page(self, key_id: str) -> None:
        """The page of a key, of the job that is open."""
        self._open_page(BY_ID[key_id].opens)

    @on(OpenChapter)
    def chapter_asked_for(self, message: OpenChapter) -> None:
        """A page wants a chapter opened."""
        self._open_page(chapter_page(message.chapter))

    def _open_page(self, opens: str) -> None:
        """Back to where the page is open already, so that pages never pile up."""
        if self.job is None:
            return
        from cornerwalk.tui.screens import job_page

        opened = next((screen for screen in self.screen_stack if getattr(screen, "opens", "") == opens), None)
        if opened is None:
            self.push_screen(job_page(opens, self.job))
        while opened is not None and self.screen is not opened:
            self.pop_screen()
