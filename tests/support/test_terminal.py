"""The terminal that drives whole-app tests: it must not mislead the tests that trust it."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from textwrap import dedent

import pytest
from hypothesis import given
from hypothesis import strategies as st

if sys.platform == "win32":
    pytest.skip("needs a POSIX pseudo-terminal", allow_module_level=True)

from tests.support.terminal import KEYS, Terminal, _Sequences

ECHO = dedent("""
    import os, sys, tty
    tty.setcbreak(0)
    size = os.get_terminal_size()
    print(f"ready {size.columns}x{size.lines}", flush=True)
    while True:
        got = os.read(0, 64)
        print(repr(got), flush=True)
        if got == b"q":
            sys.exit(3)
""")


@pytest.fixture
def echo() -> Iterator[Terminal]:
    """A program that prints the bytes each key sends, and ends with status 3 at `q`."""
    with Terminal([sys.executable, "-c", ECHO], columns=60, lines=10) as terminal:
        terminal.wait_until("ready")
        yield terminal


def test_the_program_sees_the_size_asked_for(echo: Terminal) -> None:
    """The terminal is as large as the test says, whatever the machine's own is."""
    assert "ready 60x10" in echo.text


@pytest.mark.parametrize("key", ["F2", "Escape", "Up", "Ctrl+P"])
def test_a_key_arrives_as_a_keyboard_sends_it(echo: Terminal, key: str) -> None:
    """A key pressed by name reaches the program as the xterm family sends it."""
    echo.press(key)
    echo.wait_until(repr(KEYS[key].encode()))


def test_the_exit_status_is_seen(echo: Terminal) -> None:
    """The end of the program and its status reach the test."""
    echo.key_in("q")
    assert echo.wait_end() == 3


def test_a_killed_program_has_no_exit_status(echo: Terminal) -> None:
    """Killing is not ending: the program gets no chance to finish."""
    echo.kill()
    assert echo.wait_end() is None


def test_waiting_in_vain_shows_the_screen(echo: Terminal) -> None:
    """A text that never comes fails with the screen as it was."""
    with pytest.raises(AssertionError, match=r"(?s)never showed 'walk'.*ready 60x10"):
        echo.wait_until("walk", seconds=0.2)


def test_waiting_for_an_ended_program_fails_at_once(echo: Terminal) -> None:
    """A test does not wait out its time for a program that is gone."""
    echo.key_in("q")
    with pytest.raises(AssertionError, match="ended with 3"):
        echo.wait_until("walk", seconds=60)


@given(st.data())
def test_sequences_survive_being_cut_anywhere(data: st.DataObject) -> None:
    """However the system cuts the output in pieces, what is left to draw is the same."""
    output = "\x1b[>1uHöhe \x1b[?2048$p27\x1b[1;31m 5/8\x1b[<u\x1b[?u\x1bP+q\x1b\\ in".encode()
    cuts = sorted(data.draw(st.sets(st.integers(1, len(output) - 1))))
    sequences = _Sequences()
    pieces = [sequences.understood(output[a:b]) for a, b in zip([0, *cuts], [*cuts, len(output)], strict=True)]
    assert "".join(pieces) == "Höhe 27\x1b[1;31m 5/8 in"
