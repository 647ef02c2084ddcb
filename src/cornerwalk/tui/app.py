"""App: it wires pages, keys and looks together, and does nothing else."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import partial
from typing import TYPE_CHECKING, ClassVar

from textual import on
from textual.app import SystemCommand
from textual.binding import BindingType
from textual.screen import Screen

from cornerwalk.tui.first_frame import Frame
from cornerwalk.tui.job_app import JobApp
from cornerwalk.tui.keys import app_bindings
from cornerwalk.tui.messages import SettingsChanged
from cornerwalk.tui.themes import LOOKS
from cornerwalk.words import tr

if TYPE_CHECKING:
    from textual.command import Provider

    from cornerwalk.context import Context, InitialView

Arrive = Callable[[], "tuple[Context, InitialView]"]
"""Loads what the app needs and says what it opens on; called once the first frame is painted."""


def _commands() -> type[Provider]:
    """What the palette searches, loaded when it is opened."""
    from cornerwalk.tui.palette import CommandSearch

    return CommandSearch


class CornerwalkApp(JobApp):
    """The app; what it opens on is fetched after its first frame.

    Attributes:
        refused: why it did not get as far as a page; told by the command line.
    """

    BINDINGS: ClassVar[list[BindingType]] = [*app_bindings()]
    COMMANDS = {_commands}  # noqa: RUF012 - declared by the library
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

    def __init__(self, arrive: Arrive, frame: Frame | None = None) -> None:
        super().__init__(frame or Frame(self.TITLE))
        self._fetch = arrive
        self._arrived = False
        self.refused: Exception | None = None

    async def arrive(self) -> None:
        """Fetch what the app opens on, put up its page, and let the keys in that were typed meanwhile."""
        from cornerwalk.context import DemoView, NewSessionView, ReplayView, SettingsView, StartView, WalkView
        from cornerwalk.tui.own_keys import use_keys

        self.context, opening = self._fetch()
        self._arrived = True
        self.theme = self.context.settings.theme
        self.set_keymap(use_keys(self.context.settings.keys))
        match opening:
            case StartView():
                from cornerwalk.tui.screens.start import StartScreen

                self.push_screen(StartScreen(self.context))
            case SettingsView():
                from cornerwalk.tui.screens.start import StartScreen

                await self.push_screen(StartScreen(self.context))
                self.action_open_settings()
            case NewSessionView(file):
                from cornerwalk.job.open_job import OpenJob

                self._show_job(OpenJob(self.context, file))
            case WalkView(path) | DemoView(path):
                self.open_file(path)
            case ReplayView(path):
                self.replay_file(path)
        self.screen.call_after_refresh(self._settle, opening)

    def _settle(self, opening: InitialView) -> None:
        """The page has the focus."""
        from cornerwalk.context import StartView
        from cornerwalk.tui.screens.page import PageScreen

        if isinstance(self.screen, PageScreen) and not self.screen.takes_typed_ahead:
            self.drop_keys()
        if self.context.settings_problem is not None and not isinstance(opening, StartView):
            from cornerwalk.job.start import settings_problem

            self.say(settings_problem(self.context))
        self.call_later(self.let_keys_in)

    # ---- keys that work everywhere ----

    def action_open_help(self) -> None:
        """What to do on this page, and every key."""
        from cornerwalk.tui.screens.help import HelpScreen

        if not isinstance(self.screen, HelpScreen):
            self.push_screen(HelpScreen(self.screen))

    def action_next_look(self) -> None:
        """The next of the looks."""
        names = list(LOOKS)
        self.theme = names[(names.index(self.theme) + 1) % len(names)] if self.theme in names else names[0]

    def action_command_palette(self) -> None:
        """Every command by its name."""
        from textual.command import CommandPalette

        if not isinstance(self.screen, CommandPalette):
            self.push_screen(CommandPalette(placeholder=tr("Search for a command"), id="--command-palette"))

    def action_open_settings(self) -> None:
        """The settings; the help goes, so that pages never pile up."""
        from cornerwalk.tui.screens.help import HelpScreen
        from cornerwalk.tui.screens.settings import SettingsScreen

        if isinstance(self.screen, HelpScreen):
            self.pop_screen()
        if self._arrived and not isinstance(self.screen, SettingsScreen):
            self.push_screen(SettingsScreen(self.context))

    @on(SettingsChanged)
    def settings_changed(self, message: SettingsChanged) -> None:
        """Let changed settings hold, as far as they can while the app runs."""
        settings = self.context.settings
        if "theme" in message.names:
            self.theme = settings.theme
        if "keys" in message.names:
            from cornerwalk.tui.own_keys import use_keys

            self.set_keymap(use_keys(settings.keys))
        if "technician" in message.names:
            self.context = self.context.for_new_jobs()
        if self.job is not None:
            self.job.reworded()

    def get_system_commands(self, screen: Screen[object]) -> Iterable[SystemCommand]:
        """The palette: every key that works on the page below it, by what it does."""
        from cornerwalk.tui.own_keys import first_shown
        from cornerwalk.tui.screens.page import PageScreen

        if isinstance(screen, PageScreen):
            keys = [key for key in screen.own_keys() if key.id != "app.palette" and not key.id.endswith(".enter")]
            labels = [key.label for key in keys]
            for key in keys:
                title = key.label if labels.count(key.label) == 1 else key.what
                name = first_shown(key)
                help_text = f"{tr(key.what)} ({name})" if name else tr(key.what)
                yield SystemCommand(tr(title), help_text, partial(screen.press, key))
            yield from (SystemCommand(*offer) for offer in screen.offers())

    # ---- the crash page ----

    def _handle_exception(self, error: Exception) -> None:
        """Everything called kept is on disk; the report goes beside it, the user gets plain words and no trace."""
        from cornerwalk.tui.crash import Crash

        if not self._arrived:
            self.refused = self._exception = error
            self.exit(return_code=1)
            return
        if not isinstance(self._exception, Crash):
            crash = Crash(error, self.context, self.job.file.path if self.job is not None else None)
            crash.__cause__ = error
            super()._handle_exception(crash)


def run_app(arrive: Arrive, frame: Frame) -> int:
    """Run the app until it is left; the exit status: 0, or 1 after a crash, which is then told in plain words.

    Raises:
        Exception: what `arrive` raises, once the terminal is as it was.
    """
    app = CornerwalkApp(arrive, frame)
    app.run()
    app.close_job()
    if app.refused is not None:
        raise app.refused
    return app.return_code or 0
