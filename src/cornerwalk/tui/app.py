"""The full-screen app: it wires pages, keys and looks together, and does nothing else."""

from __future__ import annotations

from collections.abc import Iterable
from functools import partial
from typing import ClassVar

from textual.app import SystemCommand
from textual.binding import BindingType
from textual.screen import Screen

from cornerwalk.context import Context, Demo, Opening, Replay, StartPage, Walk
from cornerwalk.tui.job_desk import JobDesk
from cornerwalk.tui.keys import app_bindings, shown
from cornerwalk.tui.themes import DAY, LOOKS, PARTS, theme
from cornerwalk.words import tr


class CornerwalkApp(JobDesk):
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
        super().__init__(context)
        self.opening = opening
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

    def get_system_commands(self, screen: Screen[object]) -> Iterable[SystemCommand]:
        """The palette: every key that works on the page below it, by what it does."""
        from cornerwalk.tui.screens.page import Page

        if isinstance(screen, Page):
            keys = [key for key in screen.own_keys() if key.id != "app.palette" and not key.id.endswith(".enter")]
            labels = [key.label for key in keys]
            for key in keys:
                title = key.label if labels.count(key.label) == 1 else key.what
                help_text = f"{tr(key.what)} ({shown(key.first)})" if key.keys else tr(key.what)
                yield SystemCommand(tr(title), help_text, partial(screen.press, key))

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
