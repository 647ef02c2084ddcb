"""The replay on a real terminal."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

from cornerwalk.samples import sample_folder
from tests.support.terminal import Terminal


def test_a_session_is_gone_through_and_left(tmp_path: Path, open_terminal: Callable[..., Terminal]) -> None:
    """From the shell: forward, back, by stage, played, searched, left; the file is as it was."""
    path = Path(shutil.copy(sample_folder() / "half-done.json", tmp_path))
    before = path.read_bytes()
    terminal = open_terminal("replay", path)
    terminal.wait_until("39 / 39")
    terminal.press("Left")
    terminal.wait_until("38 / 39")
    terminal.press("PageUp")
    terminal.wait_until("36 / 39")
    terminal.press("Home")
    terminal.wait_until(" 1 / 39")
    terminal.key_in("+++")
    terminal.press("Space")
    terminal.wait_until(lambda text: " 1 / 39" not in text and "playing" in text)
    terminal.press("Space")
    terminal.wait_gone("playing")
    terminal.key_in("/left rear")
    terminal.wait_until("2 events of 39")
    terminal.press("Enter")
    terminal.wait_gone("Events of the replay")
    terminal.press("Ctrl+Q")
    assert terminal.wait_end() == 0
    assert path.read_bytes() == before
    assert [file.name for file in tmp_path.iterdir()] == ["half-done.json"]
