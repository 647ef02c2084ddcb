"""PDF: a document as a file to print. The page library is loaded on first use; without it a message says what to do."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from dataclasses import fields, is_dataclass, replace
from typing import TYPE_CHECKING, Any, Literal

from cornerwalk.report.document import Document
from cornerwalk.words import tr

if TYPE_CHECKING:
    from cornerwalk.report.pdf_page import PdfPage

Paper = Literal["letter", "A4"]

POINTS = 9.0
SMALLER_POINTS = (9.0, 8.3, 7.6, 7.0)
"""Type sizes tried for a sheet meant for one page; at the last it may run over, and its page numbers show that."""


class PagesMissingError(RuntimeError):
    """The page library is not installed; the text says how to install it."""

    def __str__(self) -> str:
        """The English text."""
        return tr("Printed pages need one more package: pip install cornerwalk[pdf]. Text and web pages need none.")


def as_pdf(document: Document, paper: Paper) -> bytes:
    """The report as a PDF file: fonts embedded, text selectable, the same bytes for the same document.

    Raises:
        PagesMissingError: the page library is not installed.
    """
    try:
        import fpdf  # noqa: F401
    except ImportError as error:
        raise PagesMissingError from error
    if not document.one_page:
        with closing(_typeset(document, paper, POINTS)) as page:
            return bytes(page.output())
    for points, shorter in _one_side(document):
        with closing(_typeset(shorter, paper, points)) as page:
            content = bytes(page.output())
            if page.pages_count == 1:
                break
    return content


def _one_side(document: Document) -> Iterator[tuple[float, Document]]:
    """Ways to make it shorter: smaller type, then without what may be left out, one block after the other."""
    for points in SMALLER_POINTS:
        yield points, document
    for left_out in document.left_out_first:
        document = replace(document, blocks=tuple(block for block in document.blocks if block is not left_out))
        yield SMALLER_POINTS[-1], document


def _typeset(document: Document, paper: Paper, points: float) -> PdfPage:
    """The report at one size of type."""
    from cornerwalk.report.pdf_blocks import write_all
    from cornerwalk.report.pdf_page import PdfPage

    page = PdfPage(document, list(_texts(document)), paper, points)
    if document.code is not None:
        page.place_code(document.code)
    page.write_block(document.title, points=points + 6, style="B")
    page.write_block(document.subtitle)
    page.ln(0.3 * page.line_mm)
    write_all(page, document.blocks)
    if page.page_fonts.spelled_out:
        page.write_block(tr("Letters that this page has no signs for are written as codes, such as \\u0e01."))
    return page


def _texts(part: Any) -> Iterator[str]:
    """Every text of a document, wherever it stands in it."""
    if isinstance(part, str):
        yield part
    elif isinstance(part, tuple):
        for one in part:
            yield from _texts(one)
    elif is_dataclass(part):
        for field in fields(part):
            yield from _texts(getattr(part, field.name))
