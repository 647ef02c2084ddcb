"""The installed program on a real pseudo-terminal: bytes in, a screen out, a file on the disk."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from cornerwalk.session.events import HeightRead
from cornerwalk.store import Library
from tests.support.clock import FrozenClock
from tests.support.terminal import Terminal
from tests.tui.driving import LOADED, TRIAL_15, UNLOADED

SHEET = """unit = "inch"
[job]
title = "Box trailer, Tuesday"
[vehicle]
wheelbase = "119 in"
lamp_height = "28 1/2 in"
lamp_ahead = "31 in"
levelling = "none"
[kit]
max = "40 psi"
"""


def test_twelve_readings_through_the_installed_program(tmp_path: Path, open_terminal: Callable[..., Terminal]) -> None:
    """`walk SHEET`, digits and Enter, Ctrl+C: exit status 0, and every reading stands in the file."""
    sheet = tmp_path / "van.toml"
    sheet.write_text(SHEET, "utf-8")
    folder = tmp_path / "library"
    terminal = open_terminal("--library", folder, "walk", sheet)
    terminal.wait_until("Left front")
    for line in (*UNLOADED, "", *LOADED, "15", *TRIAL_15):
        terminal.key_in(line)
        terminal.press("Enter")
    terminal.wait_until("All stages are done")
    terminal.wait_until("nose up 0.56° ± 0.11")
    terminal.press("Ctrl+C")
    assert terminal.wait_end() == 0
    library = Library(folder, clock=FrozenClock(), by="")
    (summary,) = library.summaries()
    stored = library.read(summary.path)
    assert stored.damage is None
    heights = [e.payload.entered for e in stored.events if isinstance(e.payload, HeightRead)]
    assert heights == [*UNLOADED, *LOADED, *TRIAL_15]


def test_a_killed_program_loses_nothing_it_called_kept(tmp_path: Path, open_terminal: Callable[..., Terminal]) -> None:
    """Killed in the middle of a text, started again: one Enter leads to the same corner."""
    sheet = tmp_path / "van.toml"
    sheet.write_text(SHEET, "utf-8")
    folder = tmp_path / "library"
    first = open_terminal("--library", folder, "walk", sheet)
    first.wait_until("Left front")
    for line in UNLOADED[:2]:
        first.key_in(line)
        first.press("Enter")
    first.wait_until("saved: right front 28 11/16")
    first.key_in("29 3/")
    first.kill()
    second = open_terminal("--library", folder)
    second.wait_until("Go on with Box trailer, Tuesday")
    second.press("Enter")
    second.wait_until("Right rear")
    second.wait_until("28 11/16")


def test_a_paste_and_a_resize_on_a_terminal(tmp_path: Path, open_terminal: Callable[..., Terminal]) -> None:
    """Bracketed paste is laid out for a look, at whatever size the window becomes."""
    sheet = tmp_path / "van.toml"
    sheet.write_text(SHEET, "utf-8")
    terminal = open_terminal("--library", tmp_path / "library", "walk", sheet)
    terminal.wait_until("Left front")
    terminal.paste("28 5/8, 28 11/16, 29 3/16, 29 1/4")
    terminal.wait_until("Enter keeps these")
    terminal.resize(120, 40)
    terminal.wait_until("right front 28 11/16 in")
    terminal.press("Enter")
    terminal.wait_until("Load the vehicle as it will be driven")
