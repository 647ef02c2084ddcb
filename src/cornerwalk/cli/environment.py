"""Environment: folders, user, clock and settings of this machine, each looked up once and only when needed."""

from __future__ import annotations

import getpass
from collections.abc import Callable, Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from cornerwalk.context import Context
    from cornerwalk.quantity import BareUnit
    from cornerwalk.session.checklist import Checklists
    from cornerwalk.settings import ActiveSettings, DisplayUnits, KeyProblem, Settings, SettingsError
    from cornerwalk.standards import Standards
    from cornerwalk.store import Library, StoredSession

APP = "cornerwalk"


@dataclass(frozen=True, slots=True)
class Options:
    """Options given before the command, for every command."""

    library: Path | None = None
    units: DisplayUnits | None = None
    plain: bool = False
    """Line by line in place of the full screen."""


def _clock() -> datetime:
    return datetime.now().astimezone()


class Environment:
    """What the commands know of the machine: folders, user, clock, settings, rules; each looked up on first use."""

    def __init__(self, clock: Callable[[], datetime] = _clock) -> None:
        self.options = Options()
        """Set once the command line is parsed, before anything but the settings is looked up."""
        self.clock = clock

    # ---- folders ----

    @cached_property
    def _own_folder(self) -> Path:
        from platformdirs import user_config_path

        return user_config_path(APP, appauthor=False)

    @property
    def settings_path(self) -> Path:
        """Where the settings are kept."""
        return self._own_folder / "settings.toml"

    @property
    def rules_folder(self) -> Path:
        """The shop's own aim rules and limits."""
        return self._own_folder / "rules"

    @property
    def presets_folder(self) -> Path:
        """Job sheets without readings."""
        return self._own_folder / "presets"

    @property
    def checklists_folder(self) -> Path:
        """The shop's own checklists."""
        return self._own_folder / "checklists"

    @property
    def questions_folder(self) -> Path:
        """The shop's own questions to many sessions, in SQL."""
        return self._own_folder / "questions"

    @cached_property
    def library_folder(self) -> Path:
        """The folder of sessions: from the command line, else the settings, else the platform's place for it.

        Only this one setting is read for it, so that a mistake in another line hides no jobs.
        """
        if self.options.library is not None:
            return self.options.library
        with suppress(RuntimeError):
            own = Path(self.early_settings.library_folder).expanduser()
            if own.is_absolute():
                return own
        from platformdirs import user_data_path

        return user_data_path(APP, appauthor=False) / "sessions"

    # ---- settings and user ----

    @cached_property
    def early_settings(self) -> EarlySettings:
        """The settings that are needed before the others are read."""
        return read_early_settings(self.settings_path)

    @cached_property
    def active_settings(self) -> ActiveSettings:
        """The settings of the file, and beside them the units given before the command."""
        from cornerwalk.settings import ActiveSettings

        own = ActiveSettings.from_file(self.settings_path, _wrong_keys)
        if self.options.units is not None:
            own.overrides["units"] = self.options.units
        return own

    @property
    def settings(self) -> Settings:
        """The settings that hold for this command; the defaults where the file is wrong."""
        return self.active_settings.current

    @property
    def settings_problem(self) -> SettingsError | None:
        """Why the settings file was not used."""
        return self.active_settings.problem

    def units_shown(self, read_in: BareUnit) -> DisplayUnits:
        """The units in which a job is shown whose heights were read in this unit."""
        return self.settings.display_units(read_in)

    def user(self, of_sheet: str = "") -> str:
        """Who records: the technician of the settings, else of the sheet, else the name of the account."""
        return self.active_settings.saved.technician or of_sheet or _account()

    # ---- rooms ----

    @cached_property
    def standards(self) -> Standards:
        """The published limits and the shop's own rules."""
        from cornerwalk.standards import load_standards

        return load_standards(self.rules_folder)

    @cached_property
    def checklists(self) -> Checklists:
        """The packaged checklists and the shop's own."""
        from cornerwalk.session.checklist import load_checklists

        return load_checklists(self.checklists_folder)

    def library(
        self, folder: Path | None = None, *, clock: Callable[[], datetime] | None = None, by: str = ""
    ) -> Library:
        """The library; with another folder, clock or name where a command gives one."""
        from cornerwalk.store import Library

        return Library(folder or self.library_folder, clock=clock or self.clock, by=by or self.user())

    def stored(self, path: Path) -> StoredSession:
        """A session as its file has it. A name alone is looked for here and then in the library.

        Raises:
            StoreError: there is no such file, or it is no session.
        """
        return self.library().read(self.session_path(path))

    def session_path(self, path: Path) -> Path:
        """Where the named session is: a name alone is looked for here and then in the library."""
        beside = self.library_folder / path
        return beside if not path.exists() and path.name == str(path) and beside.exists() else path

    def context(self, library: Library | None = None, *, by: str = "") -> Context:
        """What the screens are handed; `by` is who records, where a sheet names one."""
        from cornerwalk.context import Context

        return Context(
            library=library if library is not None else self.library(by=by),
            active_settings=self.active_settings,
            standards=lambda: self.standards,
            clock=self.clock,
            user=by or self.user(),
            presets_folder=self.presets_folder,
            rules_folder=self.rules_folder,
            checklists_folder=self.checklists_folder,
        )


def _wrong_keys(keys: Mapping[str, str]) -> Iterable[KeyProblem]:
    """What is wrong with keys of the settings. The table of the app's keys is loaded where there are any."""
    from cornerwalk.tui.own_keys import mistakes

    return mistakes(keys)


def _account() -> str:
    try:
        return getpass.getuser()
    except (OSError, KeyError, ImportError):  # an account without a name, as in some containers
        return "?"


LARGEST_BYTES = 1_000_000
"""A settings file is a page or two; a larger one is left to the strict reader to refuse."""


class EarlySettings(NamedTuple):
    """Settings needed before all are read and checked, and even where that fails; "" where the file has none."""

    theme: str = ""
    language: str = ""
    library_folder: str = ""


def read_early_settings(path: Path) -> EarlySettings:
    """Read the early settings of a file. Nothing is raised: the strict reader says what is wrong with it."""
    try:
        if not path.is_file() or path.stat().st_size > LARGEST_BYTES:
            return EarlySettings()
        from tomllib import loads

        stated = loads(path.read_text(encoding="utf-8-sig"))  # as the strict reader takes it
    except (OSError, ValueError, RecursionError):
        return EarlySettings()
    texts = {name: stated.get(name) for name in EarlySettings._fields}
    return EarlySettings(**{name: text for name, text in texts.items() if isinstance(text, str)})
