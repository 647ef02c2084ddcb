"""Drawings on a printed page, as lines and surfaces of its own."""

from __future__ import annotations

from cornerwalk.report.drawing import INKS, Circle, Drawing, Ink, Label, Line, Polygon, Shape
from cornerwalk.report.pdf_fonts import BODY
from cornerwalk.report.pdf_page import MM_PER_POINT, Page


def draw(page: Page, drawing: Drawing, x: float, y: float, width: float) -> None:
    """The drawing with its upper left corner at (x, y), `width` mm wide."""
    scale = width / drawing.width
    for shape in drawing.shapes:
        _shape(page, shape, x, y, scale)
    page.set_dash_pattern()
    page.set_line_width(0.2)


def height_mm(drawing: Drawing, width: float) -> float:
    """How high a drawing of that width is."""
    return drawing.height * width / drawing.width


def _shape(page: Page, shape: Shape, x: float, y: float, scale: float) -> None:
    ink = INKS[shape.role]
    if isinstance(shape, Label):
        _label(page, shape, ink, x, y, scale)
        return
    style = _take(page, ink, scale)
    match shape:
        case Polygon(_, points):
            page.polygon([(x + px * scale, y + py * scale) for px, py in points], style=style)
        case Line(_, (x1, y1), (x2, y2)):
            page.line(x + x1 * scale, y + y1 * scale, x + x2 * scale, y + y2 * scale)
        case Circle(_, (cx, cy), radius):
            page.circle(x + cx * scale, y + cy * scale, radius * scale, style=style)


def _take(page: Page, ink: Ink, scale: float) -> str:
    if ink.stroke is not None:
        page.set_draw_color(*ink.stroke)
    if ink.fill is not None:
        page.set_fill_color(*ink.fill)
    page.set_line_width(ink.width * scale)
    if ink.dash is None:
        page.set_dash_pattern()
    else:
        page.set_dash_pattern(dash=ink.dash[0] * scale, gap=ink.dash[1] * scale)
    return "DF" if ink.stroke is not None and ink.fill is not None else "D"


def _label(page: Page, label: Label, ink: Ink, x: float, y: float, scale: float) -> None:
    page.set_text_color(*(ink.fill or (0, 0, 0)))
    size_mm = label.size * scale
    page.set_font(BODY, "B" if label.role == "strong label" else "", size_mm / MM_PER_POINT)
    text = page.page_fonts.drawable(label.text)
    width = page.get_string_width(text) + 2 * page.c_margin
    before = {"start": 0.0, "middle": width / 2, "end": width}[label.anchor]
    nudge = page.c_margin if label.anchor == "start" else -page.c_margin if label.anchor == "end" else 0.0
    # A cell of no height has its baseline three tenths of the type below its top.
    page.set_xy(x + label.at[0] * scale - before - nudge, y + label.at[1] * scale - 0.3 * size_mm)
    with page.shaped(text):
        page.cell(width, 0, text)
    page.set_text_color(0, 0, 0)
