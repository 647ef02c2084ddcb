"""Calling a command as a shell does."""

from __future__ import annotations

from pathlib import Path

import pytest

from cornerwalk.cli import main
from cornerwalk.samples import sample_folder

CAMPER = sample_folder() / "camper.json"

Said = pytest.CaptureFixture[str]


def run(*arguments: str | Path) -> int:
    """The exit status, whether it is returned or raised."""
    try:
        return main([str(argument) for argument in arguments])
    except SystemExit as leaving:
        return leaving.code if isinstance(leaving.code, int) else -1
