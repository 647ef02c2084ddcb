"""Where the commands look for what belongs to the user, in a home of the test's own."""

from __future__ import annotations

from pathlib import Path

import pytest
from platformdirs import user_config_path


@pytest.fixture
def own_folder() -> Path:
    """The folder of settings, rules, presets and checklists."""
    folder = user_config_path("cornerwalk", appauthor=False)
    folder.mkdir(parents=True)
    return folder


@pytest.fixture
def settings_file(own_folder: Path) -> Path:
    """Where the settings are looked for."""
    return own_folder / "settings.toml"
