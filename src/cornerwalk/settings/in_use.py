"""The settings of a running program: what the file keeps, and apart from it what was asked for this once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from cornerwalk.settings.file import KeyCheck, SettingsError, any_keys, change_settings, load_settings
from cornerwalk.settings.values import Settings


class SettingsInUse:
    """Read once; a change is written to the file first and holds from then on.

    Attributes:
        path: the settings file; it need not exist.
        kept: as the file has them, or the defaults where it cannot be read.
        problem: why the file was not used. While it stands the file is not written.
        asked: values of this run only, by name, such as the units said before a command. They are never written.
    """

    def __init__(
        self,
        path: Path,
        kept: Settings | None = None,
        *,
        problem: SettingsError | None = None,
        asked: Mapping[str, Any] | None = None,
        check_keys: KeyCheck = any_keys,
    ) -> None:
        self.path = path
        self.kept = kept if kept is not None else Settings()
        self.problem = problem
        self.asked = dict(asked or {})
        self._check_keys = check_keys

    @classmethod
    def of_file(cls, path: Path, check_keys: KeyCheck = any_keys) -> SettingsInUse:
        """The settings of a file, or the defaults and why."""
        try:
            return cls(path, load_settings(path, check_keys), check_keys=check_keys)
        except SettingsError as error:
            return cls(path, problem=error, check_keys=check_keys)

    @property
    def now(self) -> Settings:
        """What holds in this run."""
        return replace(self.kept, **self.asked) if self.asked else self.kept

    def keep(self, changes: Mapping[str, Any]) -> None:
        """Write these values, by name; what was asked for this once gives way to them.

        Raises:
            SettingsError: the file holds a mistake, or a value is wrong; nothing was written.
            OSError: it cannot be written.
        """
        self.kept = change_settings(self.path, changes, self._check_keys)
        self.problem = None
        self.asked = {name: value for name, value in self.asked.items() if name not in changes}
