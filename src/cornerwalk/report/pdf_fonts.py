"""Fonts for printed pages, and which texts they can draw. What cannot be drawn is spelled out, never left to a box.

The page library is handed in: this module loads nothing by itself.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable
from importlib.resources import as_file, files
from typing import TYPE_CHECKING, Literal, cast

from cornerwalk.words.safe import harmless

if TYPE_CHECKING:
    from fpdf import FPDF
    from fpdf.fonts import TTFFont

BODY, FAR = "body", "far"
_FILES = {(BODY, ""): "DejaVuSans.ttf", (BODY, "B"): "DejaVuSans-Bold.ttf", (FAR, ""): "DroidSansFallback.ttf"}
_NEED_SHAPING = ("AL", "R", "AN")
"""Bidirectional classes whose letters join or run from the right; see Unicode Standard Annex 9."""


class PageFonts:
    """The fonts of one page file: the usual ones always, the large East Asian one only where a text needs it."""

    def __init__(self, pdf: FPDF, texts: Iterable[str]) -> None:
        """Add to `pdf` the fonts that these texts need."""
        self._opened: list[TTFFont] = []
        self._known = self._add(pdf, BODY, "") & self._add(pdf, BODY, "B")
        self.spelled_out = False
        missing = {ord(c) for text in texts for c in harmless(text)} - self._known
        if missing:
            self._known |= self._add(pdf, FAR, "")
            pdf.set_fallback_fonts([FAR], exact_match=False)
        self._can_shape = _shaper_installed()

    def _add(self, pdf: FPDF, family: str, style: Literal["", "B"]) -> set[int]:
        """Add a font; the characters it can draw."""
        with as_file(files("cornerwalk.report") / "fonts" / _FILES[(family, style)]) as path:
            pdf.add_font(family, style, path)
        font = cast("TTFFont", pdf.fonts[family + style])
        self._opened.append(font)
        return set(font.cmap)

    def close(self) -> None:
        """Close the font files; nothing can be drawn with them afterwards."""
        for font in self._opened:
            font.ttfont.close()

    def drawable(self, text: str) -> str:
        r"""The text with what no font here can draw spelled out as `\u0e01`."""
        safe = harmless(text)
        if all(self._draws(c) for c in safe):
            return safe
        self.spelled_out = True
        return "".join(c if self._draws(c) else _spelled(c) for c in safe)

    def shapes(self, text: str) -> bool:
        """Whether the text has to be shaped: letters that join, or run from right to left."""
        return self._can_shape and not text.isascii() and any(_needs_shaping(c) for c in text)

    def _draws(self, character: str) -> bool:
        return ord(character) in self._known and (self._can_shape or not _needs_shaping(character))


def _needs_shaping(character: str) -> bool:
    return unicodedata.bidirectional(character) in _NEED_SHAPING


def _shaper_installed() -> bool:
    from importlib.util import find_spec

    return find_spec("uharfbuzz") is not None


def _spelled(character: str) -> str:
    code = ord(character)
    return f"\\u{code:04x}" if code <= 0xFFFF else f"\\U{code:08x}"
