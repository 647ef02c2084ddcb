"""PDF blocks: the blocks of a document on a PDF page."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from fpdf.fonts import FontFace

from cornerwalk.assess.assessment import Level
from cornerwalk.report.document import (
    Alert,
    Beside,
    Blanks,
    Block,
    Bullets,
    CutOutCard,
    Facts,
    Form,
    Heading,
    LargeFigure,
    Paragraph,
    Pictures,
    Spare,
    Table,
    bind_figures,
)
from cornerwalk.report.drawing import INKS, SIDE_WIDTH, Circle, Drawing, Ink, Label, Polygon, Shape, Stroke
from cornerwalk.report.pdf_page import BODY, MM_PER_POINT, PdfPage

Colour = tuple[int, int, int]

_ALERTS: dict[Level, Colour] = {"stop": (164, 0, 0), "caution": (150, 95, 0), "note": (90, 90, 90)}
_GAP_MM = 4.0
_INSIDE_MM = 3.0
_LARGEST_POINTS = 34.0
_BESIDE_LINES = 10
_FORM_PADDING_MM = 1.2
_LINES_A_ROW = 45
_SMALLEST_COLUMN_MM = 12.0


def write(page: PdfPage, block: Block) -> None:
    """Put a block on the page, below the one before."""
    _WRITERS[type(block)](page, block)


def write_all(page: PdfPage, blocks: Sequence[Block]) -> None:
    """All blocks, no heading parted from what it is the heading of."""
    blocks = [inner for block in blocks for inner in (block.blocks if isinstance(block, Spare) else (block,))]
    for block, following in zip(blocks, (*blocks[1:], None), strict=True):
        page.give_way_to_code()
        if isinstance(block, Heading):
            page.room_for(3 * page.line_mm + _least_height(page, following))
        write(page, block)


def _least_height(page: PdfPage, block: Block | None) -> float:
    """How much of a block has to stand under its heading."""
    match block:
        case Pictures(drawings):
            return _row_height(page, drawings[:2])
        case Form(_, names):
            return min(len(names) + 1, 6) * (page.line_mm + 2 * _FORM_PADDING_MM)
        case _:
            return 2 * page.line_mm


def _heading(page: PdfPage, block: Heading) -> None:
    page.ln(0.55 * page.line_mm)
    page.write_block(block.text, points=page.points + 1.5, style="B")
    page.ln(0.15 * page.line_mm)


def _paragraph(page: PdfPage, block: Paragraph) -> None:
    page.write_block(block.text)
    page.ln(0.25 * page.line_mm)


def _bullets(page: PdfPage, block: Bullets) -> None:
    indent = page.points * MM_PER_POINT * 1.1
    for item in block.items:
        page.room_for(page.line_mm)
        page.set_font(BODY, "", page.points)
        page.cell(indent, page.line_mm, "•")
        page.set_left_margin(page.l_margin + indent)
        page.write_block(item)
        page.set_left_margin(page.l_margin - indent)
        page.set_x(page.l_margin)
    page.ln(0.25 * page.line_mm)


def _alert(page: PdfPage, block: Alert) -> None:
    bar, inside = 1.6, page.epw - 6
    title = f"{block.level_word}: {block.heading}"
    # One paragraph, so that the customer's sheet stays one page.
    action = (f"▸ {block.action}",) if block.action else ()
    texts = " ".join((*block.lines, *action, *((block.source,) if block.source else ())))
    height = page.height_of(title, inside, "B") + page.height_of(texts, inside) + 1.6
    page.room_for(height)
    top, left = page.get_y(), page.l_margin
    page.set_left_margin(left + 4)
    page.set_y(top + 0.5)
    page.write_block(title, style="B", width=inside)
    page.write_block(texts, width=inside)
    page.set_left_margin(left)
    bottom = page.get_y() + 0.6
    if bottom > top:
        page.set_fill_color(*_ALERTS[block.level])
        page.rect(left, top + 0.4, bar, bottom - top - 0.8, style="F")
    page.set_xy(left, bottom + 0.4)


def _large_figure(page: PdfPage, block: LargeFigure) -> None:
    """In a frame, as large as the figures fit side by side."""
    left, top, width = page.l_margin, page.get_y(), page.epw
    page.set_left_margin(left + _INSIDE_MM)
    page.set_y(top + 1.5)
    page.write_block(block.label, points=page.points + 1, style="B", width=width - 2 * _INSIDE_MM)
    slot = (width - 2 * _INSIDE_MM) / max(1, len(block.figures))
    y = page.get_y() + 0.5
    points = min(_figure_points(page, figure, slot) for _, figure in block.figures)
    for place, (name, figure) in enumerate(block.figures):
        page.set_xy(left + _INSIDE_MM + place * slot, y)
        if name:
            page.write_block(name, width=slot)
            page.set_x(left + _INSIDE_MM + place * slot)
        page.write_block(figure, points=points, style="B", width=slot)
    bottom = page.get_y()
    page.set_xy(left + _INSIDE_MM, bottom + 0.5)
    page.write_block(block.note, width=width - 2 * _INSIDE_MM)
    page.set_left_margin(left)
    page.set_draw_color(0, 0, 0)
    page.set_line_width(0.6)
    page.rect(left, top, width, page.get_y() + 1.5 - top)
    page.set_line_width(0.2)
    page.set_xy(left, page.get_y() + 2.5)


def _figure_points(page: PdfPage, figure: str, slot: float) -> float:
    """The type at which the figure stands on one line of its slot."""
    page.set_font(BODY, "B", _LARGEST_POINTS)
    needed = page.get_string_width(page.page_fonts.drawable(figure)) + 2 * page.c_margin + 1
    return min(_LARGEST_POINTS, _LARGEST_POINTS * slot / needed)


def _cut_out_card(page: PdfPage, block: CutOutCard) -> None:
    """Within a dashed edge."""
    left, top, right = page.l_margin, page.get_y(), page.r_margin
    width = page.epw
    page.set_left_margin(left + _INSIDE_MM)
    page.set_right_margin(right + _INSIDE_MM)
    page.set_y(top + 1.5)
    page.write_block(block.title, style="B")
    _grid(page, (), block.rows)
    bottom = page.get_y() + 0.5
    page.set_left_margin(left)
    page.set_right_margin(right)
    page.set_draw_color(60, 60, 60)
    page.set_line_width(0.3)
    page.set_dash_pattern(dash=1.6, gap=1.2)
    page.rect(left, top, width, bottom - top)
    page.set_dash_pattern()
    page.set_line_width(0.2)
    page.set_xy(left, bottom + 1)


def _beside(page: PdfPage, block: Beside) -> None:
    width = (page.epw - _GAP_MM) / 2
    page.room_for(max(_height(page, side, width) for side in (block.left, block.right)))
    left, right, top = page.l_margin, page.r_margin, page.get_y()
    page.set_right_margin(right + width + _GAP_MM)
    write(page, block.left)
    bottom = page.get_y()
    page.set_right_margin(right)
    page.set_left_margin(left + width + _GAP_MM)
    page.set_y(top)
    write(page, block.right)
    page.set_left_margin(left)
    page.set_y(max(bottom, page.get_y()))


def _height(page: PdfPage, block: Block, width: float) -> float:
    """About how high a block is in a column of this width."""
    if not isinstance(block, Bullets):
        return _BESIDE_LINES * page.line_mm
    return sum(page.height_of(item, width - page.points * MM_PER_POINT * 1.1) for item in block.items) + page.line_mm


def _facts(page: PdfPage, block: Facts) -> None:
    _grid(page, (), block.rows)


def _table(page: PdfPage, block: Table) -> None:
    _grid(page, block.head, block.rows)
    if block.note:
        page.write_block(block.note, points=page.points - 1)
    page.ln(0.25 * page.line_mm)


def _grid(page: PdfPage, head: Sequence[str], rows: Sequence[Sequence[str]]) -> None:
    cells = [
        [bind_figures(page.page_fonts.drawable(cell)) for cell in row] for row in ([head, *rows] if head else rows)
    ]
    if not cells:
        return
    page.room_for(2.5 * page.line_mm)
    widths = _column_widths(page, cells)
    cells = [part for row in cells for part in _split(row, [_most_letters(page, width) for width in widths])]
    page.set_font(BODY, "", page.points)
    page.set_draw_color(170, 170, 170)
    page.set_fill_color(255, 255, 255)
    page.set_line_width(0.15)
    with (
        page.shaped(" ".join(cell for row in cells for cell in row)),
        page.table(
            rows=cells,
            align="LEFT",
            width=page.epw,
            col_widths=widths,
            first_row_as_headings=bool(head),
            headings_style=FontFace(emphasis="BOLD"),
            borders_layout="HORIZONTAL_LINES",
            line_height=page.line_mm,
            text_align="LEFT",
            padding=(0.25, 0.8, 0.25, 0),
            wrapmode="WORD",
        ),
    ):
        pass
    page.ln(0.2 * page.line_mm)


def _most_letters(page: PdfPage, width: float) -> int:
    """How many letters of a cell surely fit on one page, however wide they are."""
    return _LINES_A_ROW * max(1, int(width / (page.points * MM_PER_POINT)))


def _split(row: Sequence[str], most: Sequence[int]) -> Iterator[list[str]]:
    """The row, in several where a cell is longer than a page."""
    parts = max(-(-len(cell) // limit) for cell, limit in zip(row, most, strict=True))
    for part in range(max(1, parts)):
        yield [cell[part * limit : (part + 1) * limit] for cell, limit in zip(row, most, strict=True)]


def _column_widths(page: PdfPage, rows: Sequence[Sequence[str]]) -> tuple[float, ...]:
    """What each column needs on one line; where that is more than the page, the widest give way first."""
    page.set_font(BODY, "B", page.points)
    slack = 2 * page.c_margin + 1.4
    widths = [max(page.get_string_width(cell) for cell in column) + slack for column in zip(*rows, strict=True)]
    room = page.epw
    while sum(widths) > room:
        widest = max(range(len(widths)), key=widths.__getitem__)
        if widths[widest] <= _SMALLEST_COLUMN_MM:
            break
        widths[widest] = max(_SMALLEST_COLUMN_MM, widths[widest] - 1.0)
    total = sum(widths)
    return tuple(width * room / total for width in widths)


def _pictures(page: PdfPage, block: Pictures) -> None:
    page.go_below_code()
    for first in range(0, len(block.drawings), 2):
        pair = block.drawings[first : first + 2]
        height = _row_height(page, pair)
        page.room_for(height)
        x, y = page.l_margin, page.get_y()
        for drawing in pair:
            draw(page, drawing, x, y, _drawing_width(page, drawing))
            x += _slot(page) + _GAP_MM
        page.set_xy(page.l_margin, y + height + 1)


def _slot(page: PdfPage) -> float:
    return (page.epw - _GAP_MM) / 2


def _drawing_width(page: PdfPage, drawing: Drawing) -> float:
    """All drawings at one scale: the widest kind fills its half of the page."""
    return _slot(page) * drawing.width / SIDE_WIDTH


def _row_height(page: PdfPage, drawings: Sequence[Drawing]) -> float:
    return max(height_mm(drawing, _drawing_width(page, drawing)) for drawing in drawings)


def _blanks(page: PdfPage, block: Blanks) -> None:
    """Several on a line: each label with a line to write on."""
    width = page.epw / max(1, min(2, len(block.labels)))
    page.set_draw_color(80, 80, 80)
    for place, label in enumerate(block.labels):
        column = place % 2 if len(block.labels) > 1 else 0
        if column == 0:
            page.room_for(2.6 * page.line_mm)
            page.ln(1.5 * page.line_mm if place else page.line_mm)
        x, y = page.l_margin + column * width, page.get_y()
        page.set_font(BODY, "", page.points)
        text = page.page_fonts.drawable(label)
        page.set_xy(x, y)
        page.cell(width, page.line_mm, text)
        start = x + page.get_string_width(text) + 3
        page.line(min(start, x + width - 10), y + page.line_mm, x + width - 4, y + page.line_mm)
        page.set_xy(page.l_margin, y)
    page.ln(1.6 * page.line_mm)


def _form(page: PdfPage, block: Form) -> None:
    rows = [block.head, *((name, *("" for _ in block.head[1:])) for name in block.names)]
    cells = [[page.page_fonts.drawable(cell) for cell in row] for row in rows]
    page.set_font(BODY, "", page.points)
    longest = max(page.get_string_width(row[0]) for row in cells) + 6
    first = min(longest, 0.6 * page.epw)
    others = (page.epw - first) / max(1, len(block.head) - 1)
    page.room_for(_least_height(page, block))
    page.set_draw_color(90, 90, 90)
    page.set_fill_color(255, 255, 255)
    page.set_line_width(0.2)
    with page.table(
        rows=cells,
        align="LEFT",
        width=page.epw,
        col_widths=(first, *(others for _ in block.head[1:])),
        headings_style=FontFace(emphasis="BOLD"),
        line_height=page.line_mm,
        text_align="LEFT",
        padding=(_FORM_PADDING_MM, 1.0, _FORM_PADDING_MM, 1.0),
    ):
        pass
    page.ln(0.5 * page.line_mm)


_WRITERS: dict[type[Block], Callable[..., None]] = {
    Heading: _heading,
    Paragraph: _paragraph,
    Facts: _facts,
    Table: _table,
    Bullets: _bullets,
    Alert: _alert,
    Pictures: _pictures,
    Blanks: _blanks,
    Form: _form,
    LargeFigure: _large_figure,
    CutOutCard: _cut_out_card,
    Beside: _beside,
}
"""Each kind of block but `Spare`, which `write_all` opens."""


# ---- drawings ----


def draw(page: PdfPage, drawing: Drawing, x: float, y: float, width: float) -> None:
    """The drawing with its upper left corner at (x, y), `width` mm wide."""
    scale = width / drawing.width
    for shape in drawing.shapes:
        _shape(page, shape, x, y, scale)
    page.set_dash_pattern()
    page.set_line_width(0.2)


def height_mm(drawing: Drawing, width: float) -> float:
    """How high a drawing of that width is."""
    return drawing.height * width / drawing.width


def _shape(page: PdfPage, shape: Shape, x: float, y: float, scale: float) -> None:
    ink = INKS[shape.role]
    if isinstance(shape, Label):
        _label(page, shape, ink, x, y, scale)
        return
    style = _take(page, ink, scale)
    match shape:
        case Polygon(_, points):
            page.polygon([(x + px * scale, y + py * scale) for px, py in points], style=style)
        case Stroke(_, (x1, y1), (x2, y2)):
            page.line(x + x1 * scale, y + y1 * scale, x + x2 * scale, y + y2 * scale)
        case Circle(_, (cx, cy), radius):
            page.circle(x + cx * scale, y + cy * scale, radius * scale, style=style)


def _take(page: PdfPage, ink: Ink, scale: float) -> str:
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


def _label(page: PdfPage, label: Label, ink: Ink, x: float, y: float, scale: float) -> None:
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
