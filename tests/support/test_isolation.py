"""Nothing of the machine gets into a test."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from pathlib import Path

import pytest

from tests.support.isolation import isolate


def test_folders_lead_into_the_tests_own_home() -> None:
    """The folder library finds every place for files under the test's home, never the user's."""
    import platformdirs

    home = Path.home()
    assert home == Path(os.environ["HOME"])
    for place in (platformdirs.user_data_path, platformdirs.user_config_path, platformdirs.user_cache_path):
        assert home in place("cornerwalk").parents


def test_variables_of_the_machine_are_gone(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Settings of terminals, colours, languages and the screen library do not reach a test."""
    monkeypatch.setenv("NO_COLOR", "1")
    monkeypatch.setenv("TEXTUAL_THEME", "nord")
    monkeypatch.setenv("LC_NUMERIC", "de_DE.UTF-8")
    monkeypatch.setenv("COLUMNS", "40")
    with monkeypatch.context() as inside:
        isolate(inside, tmp_path)
        for name in ("NO_COLOR", "TEXTUAL_THEME", "LC_NUMERIC", "COLUMNS"):
            assert name not in os.environ
        assert time.localtime().tm_gmtoff == 0


def test_a_program_started_by_a_test_is_isolated_too() -> None:
    """The isolation is in the environment, so that it holds for the installed program on a terminal."""
    command = [sys.executable, "-c", "from pathlib import Path; print(Path.home())"]
    assert subprocess.run(command, capture_output=True, text=True, check=True).stdout.strip() == os.environ["HOME"]
