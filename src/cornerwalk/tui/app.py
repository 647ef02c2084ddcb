"""The full-screen app: it wires pages, keys and looks together, and does nothing else."""

from __future__ import annotations

from collections.abc import Iterable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from textual import on
from textual.app import App, SystemCommand
from textual.binding import BindingType
from textual.screen import Screen

from cornerwalk.context import Context, Demo, Opening, Replay, StartPage, Walk
from cornerwalk.tui.keys import BY_ID, app_bindings
from cornerwalk.tui.messages import NewJob, OpenFile, OpenPage, OpenSample, ReplayFile, WalkOn
from cornerwalk.tui.themes import DAY, LOOKS, PARTS, theme
from cornerwalk.words import tr

if TYPE_CHECKING:
    from cornerwalk.tui.job import OpenJob
    from cornerwalk.tui.opening import Hindered, Sample


class CornerwalkApp(App[None]):
    """The app; what it shows first is its opening."""

    CSS_PATH = "look.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [*app_bindings()]
    HORIZONTAL_BREAKPOINTS = [  # noqa: RUF012 - declared by the library
        (0, "-cramped"),
        (36, "-narrow"),
        (56, "-medium"),
        (80, "-usual"),
        (110, "-wide"),
    ]
    VERTICAL_BREAKPOINTS = [  # noqa: RUF012 - declared by the library
        (0, "-flat"),
        (10, "-low"),
        (22, "-middling"),
        (29, "-roomy"),
        (38, "-tall"),
    ]
    TITLE = "cornerwalk"

    def __init__(self, context: Context, opening: Opening) -> None:
        super().__init__()
        self.context = context
        self.opening = opening
        self.job: OpenJob | None = None
        self._sample: Sample | None = None
        for look in LOOKS.values():
            self.register_theme(theme(look))
        self.theme = context.settings.theme
        self.set_keymap(dict(context.settings.keys))

    def get_theme_variable_defaults(self) -> dict[str, str]:
        """Our parts of a look, so that style sheets can be read before a theme is."""
        return {part: DAY.part(part) for part in PARTS}

    def on_mount(self) -> None:
        """Paint first; what the first page does not need is loaded after that."""
        match self.opening:
            case StartPage():
                from cornerwalk.tui.screens.start import StartScreen

                self.push_screen(StartScreen(self.context))
            case Walk(path) | Demo(path):
                self.call_after_refresh(self.open_file, path)
            case Replay(path):
                self.call_after_refresh(self.replay_file, path)

    # ---- the job ----

    @on(OpenFile)
    def file_asked_for(self, message: OpenFile) -> None:
        """A page wants a file opened."""
        self.open_file(message.path)

    def open_file(self, path: Path) -> None:
        """Open a session file and walk on, or say why not."""
        from cornerwalk.tui.opening import open_job

        self._show_job(open_job(self.context, path))

    @on(ReplayFile)
    def replay_asked_for(self, message: ReplayFile) -> None:
        """A page wants a file replayed."""
        self.replay_file(message.path)

    def replay_file(self, path: Path) -> None:
        """Open a session file to be gone through event by event."""
        from cornerwalk.tui.opening import replayed_job

        self._show_job(replayed_job(self.context, path))

    @on(NewJob)
    def job_asked_for(self, message: NewJob) -> None:
        """A page wants a new job."""
        from cornerwalk.tui.opening import new_job

        self.pop_screen()
        self._show_job(new_job(self.context, message.title, message.kind))

    @on(OpenSample)
    def sample_asked_for(self) -> None:
        """A page wants the sample."""
        from cornerwalk.tui.opening import open_job, sample

        try:
            self._sample = sample(self.context)
        except FileNotFoundError as error:
            self.notify(str(error))
            return
        self._show_job(open_job(self._sample.context, self._sample.path))

    @on(WalkOn)
    def job_opened(self, message: WalkOn) -> None:
        """A page has opened a job."""
        self.pop_screen()
        self._show_job(message.job)

    def _show_job(self, job: OpenJob | Hindered) -> None:
        from cornerwalk.tui.opening import Hindered

        if isinstance(job, Hindered):
            from cornerwalk.tui.screens.hindered import HinderedScreen

            self.push_screen(HinderedScreen(self.context, job))
            return
        from cornerwalk.tui.screens import first_page

        self.close_job()
        self.job = job
        self.push_screen(first_page(job))

    def close_job(self) -> None:
        """Let others have the file of the job that is open."""
        if self.job is not None:
            self.job.close()
            self.job = None

    # ---- keys that work everywhere ----

    @on(OpenPage)
    def page_asked_for(self, message: OpenPage) -> None:
        """A page wants another one opened."""
        self.action_open_page(message.key_id)

    def action_open_page(self, key_id: str) -> None:
        """The page of a key, of the job that is open."""
        if self.job is None:
            return
        from cornerwalk.tui.screens import job_page

        page = job_page(BY_ID[key_id].opens, self.job)
        if not isinstance(self.screen, type(page)):
            self.push_screen(page)

    def action_open_help(self) -> None:
        """What to do on this page, and every key."""
        from cornerwalk.tui.screens.help import HelpScreen

        if not isinstance(self.screen, HelpScreen):
            self.push_screen(HelpScreen(self.screen))

    def action_next_look(self) -> None:
        """The next of the looks."""
        names = list(LOOKS)
        self.theme = names[(names.index(self.theme) + 1) % len(names)] if self.theme in names else names[0]

    def get_system_commands(self, screen: Screen[object]) -> Iterable[SystemCommand]:
        """The palette: every key that works on the page below it, by what it does."""
        from cornerwalk.tui.screens.page import Page

        if isinstance(screen, Page):
            for key in screen.own_keys():
                if key.id not in ("app.palette", "walk.enter"):
                    yield SystemCommand(tr(key.label), tr(key.what), partial(screen.press, key))

    # ---- the crash page ----

    def _handle_exception(self, error: Exception) -> None:
        """Everything called kept is on disk; the report goes beside it, the user gets plain words and no trace."""
        from cornerwalk.tui.crash import Crash

        if not isinstance(self._exception, Crash):
            crash = Crash(error, self.context, self.job.file.path if self.job is not None else None)
            crash.__cause__ = error
            super()._handle_exception(crash)


def run_app(context: Context, opening: Opening) -> int:
    """Run the app until it is left; the exit status: 0, or 1 after a crash, which is then told in plain words."""
    app = CornerwalkApp(context, opening)
    app.run()
    app.close_job()
    return app.return_code or 0
