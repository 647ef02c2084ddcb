"""PDF page: the page library with our margins and fonts, and the same bytes for the same document."""

from __future__ import annotations

import hashlib
import io
import unicodedata
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from importlib.resources import as_file, files
from typing import TYPE_CHECKING, Literal, cast

from fpdf import FPDF
from fpdf.enums import XPos, YPos

from cornerwalk import __version__
from cornerwalk.report.document import Code, Document, Letterhead, bind_figures
from cornerwalk.report.qr import CodesMissingError, Matrix, code_matrix
from cornerwalk.words import language, tr
from cornerwalk.words.safe import harmless

if TYPE_CHECKING:
    from fpdf.fonts import TTFFont


Paper = Literal["letter", "A4"]

MARGIN_MM = 14.0
FOOT_MM = 16.0
MM_PER_POINT = 25.4 / 72
LEADING = 1.28
CODE_MM = 27.0
LOGO_HEIGHT_MM, LOGO_WIDTH_MM = 12.0, 40.0


class PdfPage(FPDF):
    """The page library's document, set up for one report at one size of type."""

    def __init__(self, document: Document, texts: list[str], paper: Paper, points: float) -> None:
        """Open the first page. `texts` is everything that will be drawn; the fonts are chosen by it."""
        super().__init__(orientation="portrait", unit="mm", format=paper)
        self.points = points
        self._document = document
        self._code_bottom = 0.0
        self.set_margins(MARGIN_MM, MARGIN_MM, MARGIN_MM)
        self.set_auto_page_break(auto=True, margin=FOOT_MM)
        self.page_fonts = PageFonts(self, texts)
        self.set_title(self.page_fonts.drawable(document.title))
        self.set_lang(language())
        self.set_creator(f"cornerwalk {__version__}")
        self.set_producer(f"cornerwalk {__version__}")
        self.set_creation_date(_moment(document.dated))
        self.set_display_mode("fullpage", "single")
        self.add_page()

    def close(self) -> None:
        """Close the font files, which the page library keeps open."""
        self.page_fonts.close()

    def place_code(self, code: Code) -> None:
        """Put the code into the upper right corner; what is written beside it gives way (`give_way_to_code`)."""
        try:
            matrix = code_matrix(code.text)
        except CodesMissingError:
            return
        x = self.w - MARGIN_MM - CODE_MM
        draw_code(self, matrix, x, MARGIN_MM - 4, CODE_MM)
        self.set_xy(x, MARGIN_MM - 4 + CODE_MM)
        self.write_block(code.caption, points=5.5, width=CODE_MM)
        self._code_bottom = self.get_y()
        self.set_xy(self.l_margin, self.t_margin)
        self.give_way_to_code()

    def place_letterhead(self, letterhead: Letterhead) -> None:
        """Put the shop's logo, name and phone at the top; the place is then below them."""
        if not (letterhead.name or letterhead.phone or letterhead.logo):
            return
        top, left, bottom = self.get_y(), self.l_margin, self.get_y()
        if letterhead.logo:
            box = self.image(
                io.BytesIO(letterhead.logo), left, top, LOGO_WIDTH_MM, LOGO_HEIGHT_MM, keep_aspect_ratio=True
            )
            bottom = top + LOGO_HEIGHT_MM
            self.set_left_margin(left + (box.rendered_width or LOGO_WIDTH_MM) + 4)
        self.set_y(top)
        self.write_block(letterhead.name, points=self.points + 3, style="B")
        self.write_block(letterhead.phone, points=self.points + 1)
        self.set_left_margin(left)
        self.set_y(max(bottom, self.get_y()) + 1.5)

    def give_way_to_code(self) -> None:
        """Keep the lines clear of the code as long as they are beside it."""
        beside = self.page_no() == 1 and self.get_y() < self._code_bottom
        self.set_right_margin(MARGIN_MM + (CODE_MM + 4 if beside else 0))

    def go_below_code(self) -> None:
        """Move below the code, for a block that needs the full width."""
        if self.page_no() == 1:
            self.set_y(max(self.get_y(), self._code_bottom))
        self.give_way_to_code()

    def file_id(self) -> str:
        """The identifier of the file, from its content: the same session gives the same bytes."""
        content = repr((self._document, self.points, __version__)).encode("utf-8", "backslashreplace")
        digest = hashlib.sha256(content).hexdigest()[:32].upper()
        return f"<{digest}><{digest}>"

    def footer(self) -> None:
        """The small print at the foot of every page, and its number."""
        self.set_y(-FOOT_MM + 3)
        self.set_draw_color(150, 150, 150)
        self.line(self.l_margin, self.get_y(), self.w - MARGIN_MM, self.get_y())
        self.set_y(self.get_y() + 0.8)
        number = tr("page {number} of {count}", number=self.page_no(), count="{nb}")
        width = self.w - 2 * MARGIN_MM - 24
        self.write_block(self._document.footer, points=6.5, width=width)
        self.set_xy(self.w - MARGIN_MM - 22, -FOOT_MM + 3.8)
        self.set_font(BODY, "", 6.5)
        self.cell(22, 3, number, align="R")

    @property
    def line_mm(self) -> float:
        """The distance from one line of the body text to the next."""
        return self.points * MM_PER_POINT * LEADING

    def room_for(self, height_mm: float) -> None:
        """Go to the next page if that much does not fit on this one any more."""
        if self.get_y() + height_mm > self.page_break_trigger and self.get_y() > self.t_margin + 1:
            self.add_page()

    def write_block(
        self, text: str, *, points: float | None = None, style: Literal["", "B"] = "", width: float = 0
    ) -> None:
        """A paragraph at the current place, wrapped; the place is then below it, at the same left edge."""
        points = self.points if points is None else points
        self.set_font(BODY, style, points)
        drawable = bind_figures(self.page_fonts.drawable(text))
        with self.shaped(drawable):
            self.multi_cell(
                width,
                points * MM_PER_POINT * LEADING,
                drawable,
                align="L",
                new_x=XPos.LEFT,
                new_y=YPos.NEXT,
            )

    def height_of(self, text: str, width: float, style: Literal["", "B"] = "") -> float:
        """The height of a paragraph in mm."""
        self.set_font(BODY, style, self.points)
        drawable = bind_figures(self.page_fonts.drawable(text))
        with self.shaped(drawable):
            height = self.multi_cell(width, self.line_mm, drawable, align="L", dry_run=True, output="HEIGHT")
        return cast("float", height)

    @contextmanager
    def shaped(self, text: str) -> Iterator[None]:
        """Shape letters that join or run from the right; other text is left alone."""
        if not self.page_fonts.shapes(text):
            yield
            return
        self.set_text_shaping(use_shaping_engine=True)
        yield
        self.set_text_shaping(use_shaping_engine=False)


def _moment(dated: str) -> datetime:
    """The session's own time; that of a session without one is the beginning of computer time."""
    try:
        moment = datetime.fromisoformat(dated)
    except ValueError:
        return datetime(1970, 1, 1, tzinfo=UTC)
    return moment if moment.tzinfo is not None else moment.replace(tzinfo=UTC)


# ---- fonts ----

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


# ---- codes ----


def draw_code(page: FPDF, matrix: Matrix, x: float, y: float, width: float) -> None:
    """A code as black squares on white, each run of dark modules one rectangle."""
    module = width / len(matrix)
    page.set_fill_color(255, 255, 255)
    page.rect(x, y, width, width, style="F")
    page.set_fill_color(0, 0, 0)
    for row, modules in enumerate(matrix):
        for start, end in _runs(modules):
            page.rect(x + start * module, y + row * module, (end - start) * module, module, style="F")


def _runs(modules: tuple[bool, ...]) -> list[tuple[int, int]]:
    runs: list[tuple[int, int]] = []
    for place, dark in enumerate(modules):
        if not dark:
            continue
        if runs and runs[-1][1] == place:
            runs[-1] = (runs[-1][0], place + 1)
        else:
            runs.append((place, place + 1))
    return runs
