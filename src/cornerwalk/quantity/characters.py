"""From what keyboards, word processors and spreadsheets send to the few characters the readers know."""

from __future__ import annotations

import unicodedata

from cornerwalk.quantity.errors import HiddenCharacter, MoreThanOne, NothingTyped, TooLong

MOST_CHARACTERS = 60

_WRITTEN_AS = str.maketrans(
    {
        **dict.fromkeys("′‘’‚‛`´ʹʼ", "'"),
        **dict.fromkeys("″“”„‟ʺ", '"'),
        **dict.fromkeys("‐‑‒–—―−﹣", "-"),
        **dict.fromkeys("⁄∕", "/"),
        **dict.fromkeys("·⋅∙•×", "*"),
        **dict.fromkeys("º˚", "°"),
        "℃": "°C",
        "℉": "°F",
        "\t": " ",
    }
)
_FULL_WIDTH = range(0xFF01, 0xFF5F)
_FULL_WIDTH_OFFSET = 0xFEE0
_HIDDEN = ("Cc", "Cf", "Cs")  # control, format and half (surrogate) characters, by Unicode's categories


def cleaned(text: str, example: str) -> str:
    """`text` with every accepted variant of a character in its ASCII form (and °), single spaces, none at the ends.

    Vulgar fractions are spelled out and set apart: `30½` becomes `30 1/2`.

    Raises:
        NothingTyped, TooLong, HiddenCharacter, MoreThanOne: `example` is what the first of them shows.
    """
    if len(text) > MOST_CHARACTERS:
        raise TooLong(text, count=len(text))
    bare = text.strip()
    if not bare:
        raise NothingTyped(text, example=example)
    if len(bare.splitlines()) > 1:
        raise MoreThanOne(text, example="30 1/2")
    spelled = bare.translate(_WRITTEN_AS)
    if not (spelled.isascii() and spelled.isprintable()):
        spelled = "".join(_spelled(character, bare) for character in spelled)
    return " ".join(spelled.split()).replace("''", '"')


def _spelled(character: str, text: str) -> str:
    """One character in the readers' own; visible strangers are left for the scanner to name."""
    code = ord(character)
    if code in _FULL_WIDTH:
        return chr(code - _FULL_WIDTH_OFFSET)
    if 0x20 <= code < 0x7F:
        return character
    digit = unicodedata.decimal(character, None)
    if digit is not None:
        return str(digit)
    if unicodedata.category(character) in _HIDDEN:
        raise HiddenCharacter(text, candidates=(_without_hidden(text),), code=f"U+{code:04X}")
    return _vulgar_fraction(character) or character


def _vulgar_fraction(character: str) -> str | None:
    kind, *codes = unicodedata.decomposition(character).split() or [""]
    if kind != "<fraction>":
        return None
    spelled = "".join(chr(int(code, 16)) for code in codes).replace("⁄", "/")
    # A digit that follows must not join the denominator: "½5" is not 1/25. Only "⅟" waits for its own.
    return f" {spelled}" if spelled.endswith("/") else f" {spelled} "


def _without_hidden(text: str) -> str:
    return "".join(c for c in text if unicodedata.category(c) not in _HIDDEN)
