"""Text from outside made harmless for showing: what does not show is spelled out, what shows is left as it is.

A customer's name, a note or a shop's checklist may hold terminal escapes, line breaks, overrides of the direction of
writing, or half characters. None of them may act on a screen, a page or a file. What has a meaning only in one kind
of output (markup, a spreadsheet's formula) is that output's own to disarm.
"""

from __future__ import annotations

import unicodedata

_JOINERS = "\u200c\u200d"
"""Needed inside words of several scripts and inside pictographs; anywhere else they only hide."""

_ASCII = {
    "−": "-",
    "–": "-",
    "—": "-",
    "·": "/",
    "×": "x",
    "±": "+/-",
    "°": " deg",
    "½": "1/2",
    "¼": "1/4",
    "¾": "3/4",
    "≤": "<=",
    "≥": ">=",
    "…": "...",
    "→": "->",
    "▸": ">",
    "□": "[ ]",
    "•": "-",
    "─": "-",
    "═": "=",
    "█": "#",
    "“": '"',
    "”": '"',
    "‘": "'",
    "’": "'",
}


def harmless(text: str) -> str:
    r"""One line: hidden, controlling and half characters spelled out, any other kind of space an ordinary one.

    >>> harmless("Ann\x1b[31m\u202e gnp.exe")
    'Ann\\u001b[31m\\u202e gnp.exe'
    """
    if text.isascii() and text.isprintable():
        return text
    return "".join(_shown(text, position) for position in range(len(text)))


def harmless_lines(text: str) -> str:
    """Like `harmless`, and line breaks stay: for notes of several lines."""
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    return "\n".join(harmless(line.replace("\t", " ")) for line in lines)


def plain_ascii(text: str) -> str:
    r"""For a terminal without UTF-8: signs as words or ASCII, accents dropped from letters, the rest spelled out.

    >>> plain_ascii("points 0.46° ± 0.05 — Zoë")
    'points 0.46 deg +/- 0.05 - Zoe'
    """
    return "".join(_in_ascii(character) for character in text)


def _shown(text: str, position: int) -> str:
    character = text[position]
    if character.isprintable():
        return character
    if unicodedata.category(character) == "Zs":
        return " "
    if character in _JOINERS and _joins(text, position):
        return character
    return _spelled(character)


def _joins(text: str, position: int) -> bool:
    """Whether both neighbours are visible characters beyond ASCII, as in the words that need a joiner."""
    beside = text[position - 1 : position] + text[position + 1 : position + 2]
    return len(beside) == 2 and all(c.isprintable() and not c.isascii() for c in beside)


def _in_ascii(character: str) -> str:
    if character.isascii():
        return character
    if character in _ASCII:
        return _ASCII[character]
    base = unicodedata.normalize("NFKD", character).encode("ascii", "ignore").decode("ascii")
    return base or _spelled(character)


def _spelled(character: str) -> str:
    code = ord(character)
    return f"\\u{code:04x}" if code <= 0xFFFF else f"\\U{code:08x}"
