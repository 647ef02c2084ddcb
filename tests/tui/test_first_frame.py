"""The first frame comes before anything heavy is loaded, and no key typed before the page is there is lost."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from cornerwalk.session.events import HeightRead
from cornerwalk.store import Library
from cornerwalk.tui.first_frame import Frame, outline
from tests.support.clock import FrozenClock
from tests.support.terminal import Terminal

SHEET = """
unit = "inch"
[job]
title = "Van, invented"
[vehicle]
wheelbase = "119 in"
gawr_rear = "3100 lb"
[kit]
max = "40 psi"
"""

HEAVY = {"pint", "pydantic", "filelock", "numpy", "fpdf", "pyarrow", "dask", "scipy", "duckdb"}
ROOMS = {"assess", "tables", "line", "quantity", "report", "session", "settings", "sheet", "standards", "store"}

LISTED_AT = """
import sys
from pathlib import Path
from cornerwalk.cli import main
from cornerwalk.tui.app import CornerwalkApp

async def listed(app):
    Path(sys.argv[1]).write_text(" ".join(sys.modules))
    app.exit()

CornerwalkApp.{moment} = listed
main(sys.argv[2:])
"""


@pytest.fixture
def sheet(tmp_path: Path) -> Path:
    path = tmp_path / "van.toml"
    path.write_text(SHEET, encoding="utf-8")
    return path


def loaded_at(moment: str, tmp_path: Path, *arguments: str) -> set[str]:
    """The modules that the program on a terminal has loaded when it comes to this method of the app."""
    listed = tmp_path / "modules"
    command = [sys.executable, "-c", LISTED_AT.format(moment=moment), str(listed)]
    with Terminal([*command, "--library", str(tmp_path / "library"), *arguments]) as terminal:
        terminal.wait_end()
    return set(listed.read_text().split())


@pytest.mark.parametrize("command", ["", "walk", "demo"])
def test_nothing_heavy_is_loaded_before_the_first_frame(command: str, tmp_path: Path, sheet: Path) -> None:
    """No third package but the screen library, and no room of ours but words, cli and the frame itself."""
    arguments = {"": (), "walk": ("walk", str(sheet)), "demo": ("demo",)}[command]
    loaded = loaded_at("arrive", tmp_path, *arguments)
    assert "textual.app" in loaded
    assert not loaded & HEAVY
    assert not {f"cornerwalk.{room}" for room in ROOMS} & loaded


def test_a_walk_opens_without_units_and_shapes(tmp_path: Path, sheet: Path) -> None:
    """Neither the unit library (pounds, inches and psi have plain factors) nor the file shapes: none is read."""
    loaded = loaded_at("let_keys_in", tmp_path, "walk", str(sheet))
    assert "cornerwalk.assess" in loaded
    assert not loaded & (HEAVY - {"filelock"})


def readings(library: Path) -> list[tuple[str, str]]:
    """The heights in the only session of a library."""
    (path,) = library.glob("2*.json")
    events = Library(library, clock=FrozenClock(), by="").read(path).events
    return [(event.payload.corner, event.payload.entered) for event in events if isinstance(event.payload, HeightRead)]


TYPED = "28 5/8\r28 11/16\r"


@pytest.mark.parametrize("moment", ["at once", "at the first frame", "in two parts"])
def test_keys_typed_before_the_walk_is_there_are_readings(
    moment: str, tmp_path: Path, sheet: Path, open_terminal: Callable[..., Terminal]
) -> None:
    """Typed before the app has the terminal, while it loads, or across both: each goes to its corner, in order."""
    library = tmp_path / "library"
    terminal = open_terminal("--library", library, "walk", sheet)
    match moment:
        case "at once":
            terminal.key_in(TYPED)
        case "at the first frame":
            terminal.wait_until("keep typing")
            terminal.key_in(TYPED)
        case _:
            terminal.key_in(TYPED[:3])
            terminal.wait_until("keep typing")
            terminal.key_in(TYPED[3:])
    terminal.wait_until("saved: right front 28 11/16")  # not the echo of the terminal itself
    terminal.press("Ctrl+Q")
    assert terminal.wait_end() == 0
    assert readings(library) == [("LF", "28 5/8"), ("RF", "28 11/16")]


def test_leaving_before_the_walk_is_there_comes_after_what_was_typed(
    tmp_path: Path, sheet: Path, open_terminal: Callable[..., Terminal]
) -> None:
    """A reading and the key that leaves, both while it loads: the reading is kept, then the app ends."""
    library = tmp_path / "library"
    terminal = open_terminal("--library", library, "walk", sheet)
    terminal.wait_until("keep typing")
    terminal.key_in("28 5/8\r")
    terminal.press("Ctrl+Q")
    assert terminal.wait_end() == 0
    assert readings(library) == [("LF", "28 5/8")]


def test_a_choice_typed_early_is_taken_on_the_start_page(
    tmp_path: Path, open_terminal: Callable[..., Terminal]
) -> None:
    """The number of a choice typed at the first frame opens it."""
    terminal = open_terminal("--library", tmp_path / "library")
    terminal.wait_until("Four corners")
    terminal.key_in("1")
    terminal.wait_until("create the job")


def test_a_wrong_sheet_leaves_nothing_but_its_message(
    tmp_path: Path, sheet: Path, open_terminal: Callable[..., Terminal]
) -> None:
    """What is found wrong after the first frame is told on the plain screen, with status 2 and no session made."""
    sheet.write_text(SHEET.replace("119 in", "as usual"), encoding="utf-8")
    terminal = open_terminal("--library", tmp_path / "library", "walk", sheet)
    assert terminal.wait_end() == 2
    assert "as usual" in terminal.text
    assert "keep typing" not in terminal.text
    assert "Traceback" not in terminal.text
    assert not list((tmp_path / "library").glob("2*.json"))


@pytest.mark.parametrize("vehicle", ["left", "right"])
def test_the_outline_fits_every_window(vehicle: str) -> None:
    """No line is wider, nor are there more lines, than the window has."""
    for width, height in ((1, 1), (20, 5), (79, 22), (80, 24), (300, 4)):
        frame = Frame("van.toml", "Opening.", vehicle)  # type: ignore[arg-type]
        lines = outline(frame, width, height).split("\n")
        assert len(lines) <= height
        assert all(len(line) <= width for line in lines)
