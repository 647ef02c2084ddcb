"""What the commands hand down: the library, the settings, the clock, the user. Nothing below looks these up itself.

Importing this module loads neither the screen library nor the file shapes, so that the first frame stays quick.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from cornerwalk.settings import ActiveSettings, Settings, SettingsError
    from cornerwalk.standards import Standards
    from cornerwalk.store import Library, SessionFile


@dataclass(frozen=True, slots=True, kw_only=True)
class Context:
    """Everything from outside that a screen or a command may use.

    Attributes:
        library: the folder of sessions; it stamps what is recorded with `clock` and `user`.
        own: the settings: as kept in their file, and as they hold in this run.
        standards: loads the published limits and the shop's own rules, at the first call only.
        clock: the time now, with its offset from UTC.
        user: who records: the technician of the settings, else the name of the account.
        presets_folder: job sheets without readings, offered for a new job; need not exist.
        rules_folder: the shop's own aim rules; need not exist.
        checklists_folder: the shop's own checklists; need not exist.
    """

    library: Library
    active_settings: ActiveSettings
    standards: Callable[[], Standards]
    clock: Callable[[], datetime]
    user: str
    presets_folder: Path
    rules_folder: Path
    checklists_folder: Path

    @property
    def settings(self) -> Settings:
        """The settings that hold now."""
        return self.active_settings.current

    @property
    def settings_problem(self) -> SettingsError | None:
        """Why the settings file was not used. While it stands the file is not written."""
        return self.active_settings.problem

    def for_new_jobs(self) -> Context:
        """The same, what is recorded in the name that the settings have now; jobs that are open keep theirs."""
        name = self.settings.technician
        if not name or name == self.user:
            return self
        return replace(self, user=name, library=self.library.with_author(name))


@dataclass(frozen=True, slots=True)
class StartView:
    """Open on the start page: go on with the unfinished job, new, open, demo."""


@dataclass(frozen=True, slots=True)
class WalkView:
    """Open on the walk of this session file, the due corner focused."""

    path: Path


@dataclass(frozen=True, slots=True)
class NewSessionView:
    """Open on the walk of a session that has just been made and is open for writing."""

    file: SessionFile


@dataclass(frozen=True, slots=True)
class ReplayView:
    """Open on the replay of this session file, which is not changed."""

    path: Path


@dataclass(frozen=True, slots=True)
class DemoView:
    """Open on the walk of a sample, in the library that was handed in (a temporary one)."""

    path: Path


@dataclass(frozen=True, slots=True)
class SettingsView:
    """Open on the settings; the start page is below it."""


InitialView = StartView | SettingsView | WalkView | NewSessionView | ReplayView | DemoView
"""What the app shows first."""
