"""Text from outside made harmless."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cornerwalk.words.safe import harmless, harmless_lines, plain_ascii

ANY_TEXT = st.text(st.characters(exclude_categories=()), max_size=60)


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("Zoë Ångström", "Zoë Ångström"),
        ("a\x1b[2Jb", "a\\u001b[2Jb"),
        ("abc\u202egpj.exe", "abc\\u202egpj.exe"),
        ("two\nlines", "two\\u000alines"),
        ("a\u00a0b", "a b"),
        ("half \ud800", "half \\ud800"),
        ("tag \U000e0041", "tag \\U000e0041"),
        ("می‌خواهم", "می‌خواهم"),
        ("a\u200db", "a\\u200db"),
        ("王小明", "王小明"),
    ],
)
def test_what_does_not_show_is_spelled_out(text: str, shown: str) -> None:
    """Controls, overrides and half characters become visible codes; letters of any script stay."""
    assert harmless(text) == shown


@given(ANY_TEXT)
def test_nothing_that_acts_is_left(text: str) -> None:
    """No control, format, surrogate or separator character passes, but for the joiners inside words; it is one line."""
    for character in harmless(text):
        assert unicodedata.category(character) not in ("Cc", "Cs", "Co", "Cn", "Zl", "Zp")
        assert unicodedata.category(character) != "Cf" or character in "\u200c\u200d"
    assert len(harmless(text).splitlines()) <= 1
    assert harmless(harmless(text)) == harmless(text)
    harmless(text).encode("utf-8")


@given(ANY_TEXT)
def test_lines_stay_lines(text: str) -> None:
    """Only line feeds are let through besides, so a note keeps its lines and nothing else."""
    assert set(harmless_lines(text)) - {"\n"} <= set(harmless(text + " ")) | {" "}


@given(ANY_TEXT)
def test_a_terminal_without_utf8_gets_ascii(text: str) -> None:
    """Every text has an ASCII form, and what has no letter of its own is told by its code."""
    assert plain_ascii(harmless(text)).isascii()


def test_signs_have_their_ascii_words() -> None:
    """The signs this program uses itself read well in ASCII."""
    assert plain_ascii("points 0.46° ± 0.05 · −1 ½") == "points 0.46 deg +/- 0.05 / -1 1/2"
