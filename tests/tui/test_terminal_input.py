"""Bytes, sequences, pastes and signals of a real terminal: nothing ends the program, nothing becomes another key."""

from __future__ import annotations

import random
import signal
from collections.abc import Callable
from pathlib import Path

import pytest
from textual import events

from tests.support.terminal import Terminal

terminal = pytest.importorskip("cornerwalk.tui.terminal", reason="needs a POSIX terminal", exc_type=ImportError)
InputFilter = terminal.InputFilter

# What a terminal of the xterm family sends (xterm's own list of control sequences, from memory), and the key meant.
KEYS = {
    "\x1bOP": "f1",
    "\x1b[15~": "f5",
    "\x1b[A": "up",
    "\x1b[1;5C": "ctrl+right",
    "\x1b[3~": "delete",
    "\x1b[Z": "shift+tab",
    "\x1b[57414u": "enter",  # number pad, by the keyboard protocol
    "\x1b[49;1;49u": "1",
    "a": "a",
    "\r": "enter",
}

# Whole sequences that mean no key: none of their characters may reach the app.
NO_KEYS = [
    "\x1b[?62;22c",  # what the terminal is
    "\x1b]11;rgb:1a1a/1b1b/2626\x07",  # its background
    "\x1bP1$r0m\x1b\\",
    "\x1b_Gi=31;OK\x1b\\",
    "\x1b[99999999999999999999u",  # beyond every character
    "\x1b[55296u",  # half a character
    "\x1b[57414;1;1114112u",
    "\x1b[200;300;400;500;600q",
    "\x1b[" + "1;" * 200 + "m",
    "\x1b[1;2;3;4;5;6;7~",
    "\x1b[2 q",
    "\x1bOz",
]


def keys_of(text: str, *, cut_at: int | None = None) -> list[str]:
    """The keys that reach the app of this text, sent whole or in two parts."""
    reader = InputFilter()
    parts = [text] if cut_at is None else [text[:cut_at], text[cut_at:]]
    found: list[object] = []
    for place, part in enumerate(parts):
        found += reader.feed(part, now_s=0.01 * place)
    found += reader.expire(now_s=10.0)
    return [each.key for each in found if isinstance(each, events.Key)]


@pytest.mark.parametrize(("sequence", "key"), KEYS.items())
def test_a_key_is_the_key_wherever_the_line_cuts_it(sequence: str, key: str) -> None:
    """A slow line may split a sequence anywhere but behind its Escape alone; it is still one key."""
    for cut_at in (None, *range(1, len(sequence))):
        assert keys_of(sequence, cut_at=cut_at) == [key]


@pytest.mark.parametrize("sequence", NO_KEYS)
def test_what_is_no_key_reaches_nobody(sequence: str) -> None:
    """Not as Escape and digits either: `28` and an Escape would leave the job and type a number elsewhere."""
    for cut_at in (None, 1, len(sequence) // 2, len(sequence) - 1):
        assert keys_of(f"2{sequence}8", cut_at=None if cut_at is None else cut_at + 1) == ["2", "8"]


def test_escape_by_itself_is_a_key() -> None:
    """After a moment in which nothing follows it."""
    reader = InputFilter()
    assert list(reader.feed("\x1b", now_s=0.0)) == []
    assert list(reader.expire(now_s=0.0)) == []
    assert [each.key for each in reader.expire(now_s=1.0)] == ["escape"]


def test_half_a_sequence_is_given_up() -> None:
    """What comes long after it is typed anew."""
    reader = InputFilter()
    assert list(reader.feed("\x1b[1;", now_s=0.0)) == []
    assert list(reader.expire(now_s=terminal.HOLD_S)) == []
    assert [each.key for each in reader.feed("5", now_s=5.0)] == ["5"]


@pytest.mark.parametrize("part", [1, 3, 4096])
def test_a_paste_comes_whole(part: int) -> None:
    """In one piece however it is cut, with sequences inside it as text."""
    text, reader = "28 5/8\r28 11/16\x1b[A\r", InputFilter()
    sent = f"\x1b[200~{text}\x1b[201~7"
    found = [each for at in range(0, len(sent), part) for each in reader.feed(sent[at : at + part], now_s=0.0)]
    assert [type(each) for each in found] == [events.Paste, events.Key]
    assert found[0].text == text


def test_an_endless_paste_is_cut() -> None:
    """Ten megabytes are read to their end and cost no more than what is kept of them."""
    reader = InputFilter()
    found = list(reader.feed("\x1b[200~" + "9" * 10_000_000 + "\x1b[201~", now_s=0.0))
    assert [len(each.text) for each in found] == [terminal.MOST_PASTED]


def test_random_text_never_raises() -> None:
    """Twenty thousand strings out of the characters that sequences are made of."""
    chance, reader = random.Random(20261130), InputFilter()
    alphabet = [
        "\x1b",
        "\x1b[",
        "\x1b]",
        "\x1bO",
        "M",
        "<",
        ";",
        ":",
        "?",
        "u",
        "~",
        "m",
        "t",
        "R",
        "$y",
        "200",
        "201",
        "9" * 30,
    ]
    alphabet += [*"0123456789", "\x00", "\x07", "\ufffd", "½", "😀", "\x9b"]
    for _ in range(20_000):
        text = "".join(chance.choices(alphabet, k=chance.randint(1, 12)))
        for message in reader.feed(text, now_s=0.0):
            assert not isinstance(message, events.Key) or message.character is None or len(message.character) == 1
        if chance.random() < 0.1:
            list(reader.expire(now_s=10.0))


# ---- on a pseudo-terminal ----

BYTES = [b"\xbd", b"\xff\xfe", b"\xc3", b"\x1b[99999999999u", b"\x1b[55296;1u", b"\x1b[1114112u", b"\x80\x81" * 500]


def test_no_byte_ends_the_walk(tmp_path: Path, open_terminal: Callable[..., Terminal]) -> None:
    """A half as a Latin-1 terminal sends it, cut UTF-8, codes beyond Unicode: the walk takes the next height."""
    walk = open_terminal("--library", tmp_path, "demo")
    walk.wait_until("Right rear")
    for sent in BYTES:
        walk.send_bytes(sent)
        walk.press("Ctrl+U")
    walk.key_in("27 5/8")
    walk.wait_until("27 5/8")
    walk.press("Ctrl+Q")
    assert walk.wait_end() == 0


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP, signal.SIGQUIT])
def test_a_signal_ends_it_in_order(number: int, tmp_path: Path, open_terminal: Callable[..., Terminal]) -> None:
    """The terminal is as it was, the lock is gone, the status is 128 + n."""
    sheet, library = tmp_path / "van.toml", tmp_path / "library"
    sheet.write_text('unit = "inch"\n', "utf-8")
    walk = open_terminal("--library", library, "walk", sheet)
    walk.wait_until("Left front")
    assert list(library.glob("*.lock*"))
    walk.send_signal(number)
    assert walk.wait_end() == 128 + number
    assert not list(library.glob("*.lock"))


def test_a_stop_from_outside_leaves_one_reader(tmp_path: Path, open_terminal: Callable[..., Terminal]) -> None:
    """Stopped and continued ten times, it still takes every key once and leaves at Ctrl+Q."""
    walk = open_terminal("--library", tmp_path, "demo")
    walk.wait_until("Right rear")
    for _ in range(10):
        walk.send_signal(signal.SIGSTOP)
        walk.send_signal(signal.SIGCONT)
    walk.key_in("27 5/8")
    walk.wait_until("27 5/8")
    walk.press("Ctrl+Q")
    assert walk.wait_end() == 0
