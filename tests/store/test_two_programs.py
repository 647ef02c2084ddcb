"""Two programs and one session, for real: two processes on two terminals, and a lock that a dead machine left."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from cornerwalk.session.events import HeightRead
from cornerwalk.store import LockOwner, this_program
from cornerwalk.store.check import check_file
from cornerwalk.store.names import owner_path
from tests.support.terminal import Terminal

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="needs a POSIX pseudo-terminal")

Open = Callable[..., Terminal]
SHEET = """unit = "mm"
[job]
title = "Twice open, invented"
[tape]
graduation = "0.1 mm"
"""
PATIENCE_S = 60


@pytest.fixture
def library(tmp_path: Path) -> Path:
    return tmp_path / "library"


def session_file(library: Path) -> Path:
    (path,) = (path for path in library.glob("*.json") if not path.name.startswith("."))
    return path


def heights(path: Path) -> list[str]:
    """The heights in the file, which must be as the program wrote it."""
    check = check_file(path)
    assert check.ok, check.findings
    assert check.stored is not None
    return [event.payload.entered for event in check.stored.events if isinstance(event.payload, HeightRead)]


def begun(open_terminal: Open, library: Path, height: str) -> Terminal:
    """A program that has the job open, one reading kept."""
    sheet = library.with_name("van.toml")
    sheet.write_text(SHEET, "utf-8")
    first = open_terminal("--library", library, "walk", sheet)
    first.wait_until("F1 help", PATIENCE_S)
    first.key_in(height)
    first.press("Enter")
    first.wait_until(f"kept: left front {height}", PATIENCE_S)
    return first


def gone_on(open_terminal: Open, library: Path) -> Terminal:
    """Another program that is told to go on with the job."""
    other = open_terminal("--library", library)
    other.wait_until("Go on with Twice open", PATIENCE_S)
    other.press("Enter")
    return other


def test_the_second_program_reads_only_and_follows_along(open_terminal: Open, library: Path) -> None:
    """It is told who has the job, writes nothing, and shows each reading that another keeps."""
    first = begun(open_terminal, library, "701.3")
    second = gone_on(open_terminal, library)
    second.wait_until("open in another program", PATIENCE_S)
    second.key_in("1")
    second.wait_until("read only", PATIENCE_S)
    second.wait_until("701.3", PATIENCE_S)

    first.key_in("702.4")
    first.press("Enter")
    second.wait_until("702.4", PATIENCE_S)
    second.key_in("555.5")
    second.press("Enter")
    second.wait_until("only followed", PATIENCE_S)
    assert heights(session_file(library)) == ["701.3", "702.4"]

    first.kill()
    third = gone_on(open_terminal, library)
    third.wait_until("Right rear", PATIENCE_S)
    third.key_in("703.5")
    third.press("Enter")
    second.wait_until("703.5", PATIENCE_S)
    assert heights(session_file(library)) == ["701.3", "702.4", "703.5"]


def test_a_lock_of_a_dead_machine_is_broken_only_with_consent(open_terminal: Open, library: Path) -> None:
    """Going back leaves file and lock as they are; taking over is a choice of its own, and then readings are kept."""
    first = begun(open_terminal, library, "701.3")
    first.kill()
    path = session_file(library)
    elsewhere = LockOwner("0" * 16, "shop-laptop", 77, this_program().started, "AB", "2026-05-04T08:12:31-06:00")
    owner_path(path).write_text(elsewhere.text(), "utf-8")

    asked = gone_on(open_terminal, library)
    shown = asked.wait_until("Take it over", PATIENCE_S)
    assert "shop-laptop" in shown
    assert "AB" in shown
    asked.press("Escape")
    asked.wait_until("New job", PATIENCE_S)
    assert owner_path(path).read_text("utf-8") == elsewhere.text()
    assert heights(path) == ["701.3"]

    asked.press("Enter")
    asked.wait_until("Take it over", PATIENCE_S)
    asked.key_in("2")
    asked.wait_until("Right front", PATIENCE_S)
    asked.key_in("702.4")
    asked.press("Enter")
    asked.wait_until("kept: right front 702.4", PATIENCE_S)
    assert heights(path) == ["701.3", "702.4"]
    assert LockOwner.from_text(owner_path(path).read_text("utf-8")).pid == asked.pid
