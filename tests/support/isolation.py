"""Keeps the machine a test runs on out of the test: its folders, its language, its terminal, its time zone."""

from __future__ import annotations

import os
import time
from collections.abc import Iterable, Mapping
from pathlib import Path

import pytest

_HOME_FOLDERS = {
    "HOME": ".",
    "USERPROFILE": ".",
    "XDG_CACHE_HOME": "cache",
    "XDG_CONFIG_HOME": "config",
    "XDG_DATA_HOME": "data",
    "XDG_RUNTIME_DIR": "runtime",
    "XDG_STATE_HOME": "state",
    # Windows keeps its folders elsewhere, and the folder library asks it directly unless told otherwise.
    "APPDATA": "roaming",
    "LOCALAPPDATA": "local",
    "WIN_PD_OVERRIDE_APPDATA": "roaming",
    "WIN_PD_OVERRIDE_LOCAL_APPDATA": "local",
    "WIN_PD_OVERRIDE_PERSONAL": "documents",
}
_FIXED = {
    "LANG": "C.UTF-8",
    "LC_ALL": "C.UTF-8",
    "TZ": "UTC",
    "TERM": "xterm-256color",
    "COLORTERM": "truecolor",
    "TEXTUAL_ANIMATIONS": "none",
    "USER": "tester",
    "LOGNAME": "tester",
    "USERNAME": "tester",
    "PYTHONUTF8": "1",
}
_LEFT_OUT = (
    "CLICOLOR", "CLICOLOR_FORCE", "COLUMNS", "EDITOR", "ESCDELAY", "FORCE_COLOR", "LANGUAGE", "LC_CTYPE",
    "LC_MESSAGES", "LC_NUMERIC", "LINES", "MOUSE", "NO_COLOR", "PAGER", "PYTHONDONTWRITEBYTECODE", "PY_COLORS",
    "SSH_CONNECTION", "SSH_TTY", "TERM_PROGRAM", "TMUX", "VISUAL", "XDG_CONFIG_DIRS", "XDG_DATA_DIRS",
)  # fmt: skip
_LEFT_OUT_FAMILIES = ("CORNERWALK_", "TEXTUAL", "TERM_PROGRAM_", "LC_")


def unwanted(names: Iterable[str]) -> list[str]:
    """Those of these environment variables that would let the machine into a test."""
    return [name for name in names if name in _LEFT_OUT or name.startswith(_LEFT_OUT_FAMILIES)]


def plain_environment(home: Path) -> Mapping[str, str]:
    """The variables a test runs with instead, its home in this folder."""
    return {**_FIXED, **{name: str(home / folder) for name, folder in _HOME_FOLDERS.items()}}


def isolate(monkeypatch: pytest.MonkeyPatch, home: Path) -> None:
    """Run the rest of the test, and every program it starts, as if on a machine with nothing of anyone's on it."""
    for name in unwanted(os.environ):
        monkeypatch.delenv(name)
    for name, value in plain_environment(home).items():
        monkeypatch.setenv(name, value)
    (home / "runtime").mkdir(mode=0o700)
    if hasattr(time, "tzset"):
        time.tzset()
