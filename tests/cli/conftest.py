"""Where the commands look for what belongs to the user, in a home of the test's own."""

from __future__ import annotations

from pathlib import Path

import pytest
from platformdirs import user_config_path

from cornerwalk.samples import sample_folder


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


@pytest.fixture
def sample_library(tmp_path: Path) -> Path:
    """A library of the samples; a list leaves its index there."""
    library = tmp_path / "sessions"
    library.mkdir()
    for path in sample_folder().glob("*.json"):
        (library / path.name).write_bytes(path.read_bytes())
    return library
