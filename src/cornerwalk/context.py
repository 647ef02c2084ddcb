"""Context: the library, settings, clock and user, passed down by the commands. Nothing below looks these up itself.

Importing this module loads neither the screen library nor pydantic, so that the first frame stays fast.
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
        library: the folder of sessions; it records with `clock` and `user`.
        active_settings: the settings as saved, and of this run.
        standards: loads the published limits and the shop's own rules, on the first call only.
        clock: gives the time with its offset from UTC.
        user: the technician of the settings, else the name of the account.
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
        """The settings of this run."""
        return self.active_settings.current

    @property
    def settings_problem(self) -> SettingsError | None:
        """Why the settings file was not used. While there is a problem, the file is not written."""
        return self.active_settings.problem

    def for_new_jobs(self) -> Context:
        """The context with the technician of the current settings; open jobs keep theirs."""
        name = self.settings.technician
        if not name or name == self.user:
            return self
        return replace(self, user=name, library=self.library.with_author(name))


@dataclass(frozen=True, slots=True)
class StartView:
    """Open on the start page: resume, new job, open, demo."""


@dataclass(frozen=True, slots=True)
class WalkView:
    """Open on the walk of this session file."""

    path: Path


@dataclass(frozen=True, slots=True)
class NewSessionView:
    """Open on the walk of a session that was just made and is open for writing."""

    file: SessionFile


@dataclass(frozen=True, slots=True)
class ReplayView:
    """Open on the replay of this session file."""

    path: Path


@dataclass(frozen=True, slots=True)
class DemoView:
    """Open on the walk of a sample, in a temporary library."""

    path: Path


@dataclass(frozen=True, slots=True)
class SettingsView:
    """Open on the settings, with the start page below them."""


InitialView = StartView | SettingsView | WalkView | NewSessionView | ReplayView | DemoView
"""The view that the app opens on."""
