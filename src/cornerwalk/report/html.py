"""Web page: a document as one HTML file with its style and drawings inside, no scripts, nothing fetched."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Callable, Iterator
from html import escape
from math import isfinite

from cornerwalk.report.document import (
    Alert,
    Beside,
    Blanks,
    Block,
    Bullets,
    Code,
    CutOutCard,
    Document,
    Facts,
    Form,
    Heading,
    LargeFigure,
    Letterhead,
    Paragraph,
    Pictures,
    Spare,
    Table,
    bind_figures,
)
from cornerwalk.report.drawing import INKS, Circle, Drawing, Ink, Label, Polygon, Shape, Stroke
from cornerwalk.report.qr import CodesMissingError, Matrix, code_matrix
from cornerwalk.words import language
from cornerwalk.words.safe import harmless

_STYLE = """
:root { color-scheme: light; }
body { font: 16px/1.45 system-ui, sans-serif; color: #111; background: #fff; margin: 0 auto; padding: 1.5rem;
  max-width: 60rem; overflow-wrap: anywhere; }
h1 { font-size: 1.5rem; margin: 0; } h2 { font-size: 1.1rem; margin: 1.4rem 0 .4rem; }
.sub, footer { color: #444; } footer { border-top: 1px solid #999; margin-top: 1.5rem; font-size: .85rem; }
table { border-collapse: collapse; width: 100%; margin: .6rem 0; }
th, td { text-align: start; vertical-align: top; padding: .2rem .8rem .2rem 0; border-bottom: 1px solid #ccc; }
.alert { border: 1px solid #555; border-inline-start-width: .5rem; padding: .4rem .8rem; margin: .6rem 0; }
.alert p { margin: .2rem 0; } .action { font-weight: 600; }
.source { font-size: .9em; } .stop { border-color: #a40000; } .caution { border-color: #8a5a00; }
.pictures { display: flex; flex-wrap: wrap; gap: 1rem; } .pictures svg { flex: 1 1 22rem; max-width: 34rem; }
.code { display: flex; flex-wrap: wrap; gap: 1rem; align-items: center; } .code svg { width: 9rem; flex: none; }
.code pre { font: inherit; white-space: pre-wrap; margin: 0; }
.form th, .form td { border: 1px solid #666; padding: .45rem; font-weight: normal; }
.blank { border-bottom: 1px solid #333; padding-top: 1.6rem; }
.letterhead { display: flex; gap: 1rem; align-items: center; margin-bottom: .6rem; font-weight: 600; }
.letterhead svg { height: 3rem; width: 10rem; flex: none; } .letterhead p { margin: 0; }
.beside { display: flex; flex-wrap: wrap; gap: 1rem; margin: .8rem 0; } .beside > * { flex: 1 1 16rem; }
.large { border: 2px solid #111; padding: .5rem .9rem; box-sizing: border-box; } .large p { margin: .2rem 0; }
.large .figure { font-size: 2.6rem; line-height: 1.15; font-weight: 700; white-space: nowrap; }
.large .side { font-size: 1rem; font-weight: 400; }
.card { border: 2px dashed #444; padding: .4rem .9rem; box-sizing: border-box; } .card table { margin: .2rem 0; }
.card caption { text-align: start; font-weight: 600; }
@media print { body { font-size: 10pt; max-width: none; padding: 0; }
  h2, .alert, .large, .card, tr, svg { break-inside: avoid; } }
"""

_PAGE = """<!DOCTYPE html>
<html lang="{language}">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'{pictures}">
<meta name="referrer" content="no-referrer">
<title>{title}</title>
<style>{style}</style>
</head>
<body>
{letterhead}<h1 dir="auto">{title}</h1>
<p class="sub" dir="auto">{subtitle}</p>
<main>
{blocks}
{code}</main>
<footer><p dir="auto">{footer}</p></footer>
</body>
</html>
"""


def as_html(document: Document) -> str:
    """The report as a page; every text in it is escaped, and hidden characters are spelled out."""
    blocks = "\n".join(part for block in document.blocks for part in _RENDERERS[type(block)](block))
    return _PAGE.format(
        language=_text(language()),
        style=_STYLE,
        pictures="; img-src data:" if document.letterhead.logo else "",
        letterhead=_letterhead(document.letterhead),
        title=_text(document.title),
        subtitle=_text(document.subtitle),
        blocks=blocks,
        code=_code(document.code),
        footer=_text(document.footer),
    )


def _text(text: str) -> str:
    """A text for the page; a figure keeps its ± beside it on a narrow screen too."""
    return escape(bind_figures(harmless(text)), quote=True)


def _paragraph(text: str) -> str:
    return f'<p dir="auto">{_text(text)}</p>'


def _facts(block: Facts) -> Iterator[str]:
    rows = "".join(
        f'<tr><th scope="row" dir="auto">{_text(name)}</th><td dir="auto">{_text(value)}</td></tr>'
        for name, value in block.rows
    )
    yield f"<table>{rows}</table>"


def _table(block: Table) -> Iterator[str]:
    head = "".join(f'<th scope="col" dir="auto">{_text(cell)}</th>' for cell in block.head)
    rows = "".join(
        "<tr>" + "".join(f'<td dir="auto">{_text(cell)}</td>' for cell in row) + "</tr>" for row in block.rows
    )
    yield f"<table><thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table>"
    if block.note:
        yield _paragraph(block.note)


def _bullets(block: Bullets) -> Iterator[str]:
    items = "".join(f'<li dir="auto">{_text(item)}</li>' for item in block.items)
    yield f"<ul>{items}</ul>"


def _alert(block: Alert) -> Iterator[str]:
    lines = "".join(_paragraph(line) for line in block.lines)
    if block.action:
        lines += f'<p class="action" dir="auto">▸ {_text(block.action)}</p>'
    if block.source:
        lines += f'<p class="source" dir="auto">{_text(block.source)}</p>'
    heading = f'<p dir="auto"><strong>{_text(block.level_word)}: {_text(block.heading)}</strong></p>'
    yield f'<section class="alert {_text(block.level)}">{heading}{lines}</section>'


def _pictures(block: Pictures) -> Iterator[str]:
    yield '<div class="pictures">' + "".join(as_svg(drawing) for drawing in block.drawings) + "</div>"


def _letterhead(letterhead: Letterhead) -> str:
    logo = ""
    if letterhead.logo:
        kind = "png" if letterhead.logo.startswith(b"\x89PNG") else "jpeg"
        data = b64encode(letterhead.logo).decode("ascii")
        logo = (
            '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 160 48" role="img" aria-hidden="true">'
            f'<image href="data:image/{kind};base64,{data}" width="160" height="48" '
            'preserveAspectRatio="xMinYMid"/></svg>'
        )
    lines = "".join(_paragraph(line) for line in (letterhead.name, letterhead.phone) if line)
    return f'<div class="letterhead">{logo}<div>{lines}</div></div>\n' if logo or lines else ""


def _large_figure(block: LargeFigure) -> Iterator[str]:
    figures = "".join(
        f'<p class="figure" dir="auto">{f"""<span class="side">{_text(name)} </span>""" if name else ""}'
        f"{_text(figure)}</p>"
        for name, figure in block.figures
    )
    note = _paragraph(block.note) if block.note else ""
    yield f'<section class="large"><p dir="auto"><strong>{_text(block.label)}</strong></p>{figures}{note}</section>'


def _cut_out_card(block: CutOutCard) -> Iterator[str]:
    rows = "".join(
        f'<tr><th scope="row" dir="auto">{_text(name)}</th><td dir="auto">{_text(value)}</td></tr>'
        for name, value in block.rows
    )
    yield f'<div class="card"><table><caption dir="auto">{_text(block.title)}</caption>{rows}</table></div>'


def _beside(block: Beside) -> Iterator[str]:
    sides = "".join("".join(_RENDERERS[type(side)](side)) for side in (block.left, block.right))
    yield f'<div class="beside">{sides}</div>'


def _spare(block: Spare) -> Iterator[str]:
    for inner in block.blocks:
        yield from _RENDERERS[type(inner)](inner)


def _code(code: Code | None) -> str:
    if code is None:
        return ""
    try:
        picture = _code_svg(code_matrix(code.text), code.caption)
    except CodesMissingError:
        picture = ""
    words = "\n".join(_text(line) for line in code.text.split("\n"))
    return f'<div class="code">{picture}<div>{_paragraph(code.caption)}<pre dir="auto">{words}</pre></div></div>\n'


def _blanks(block: Blanks) -> Iterator[str]:
    for label in block.labels:
        yield f'<p class="blank" dir="auto">{_text(label)}</p>'


def _form(block: Form) -> Iterator[str]:
    head = "".join(f'<th scope="col" dir="auto">{_text(cell)}</th>' for cell in block.head)
    empty = "<td></td>" * (len(block.head) - 1)
    rows = "".join(f'<tr><th scope="row" dir="auto">{_text(name)}</th>{empty}</tr>' for name in block.names)
    yield f'<table class="form"><thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table>'


_RENDERERS: dict[type[Block], Callable[..., Iterator[str]]] = {
    Heading: lambda block: iter((f'<h2 dir="auto">{_text(block.text)}</h2>',)),
    Paragraph: lambda block: iter((_paragraph(block.text),)),
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
    Spare: _spare,
}


# ---- drawings ----


def as_svg(drawing: Drawing) -> str:
    """A drawing as an inline picture with its title for those who cannot see it."""
    shapes = "".join(_shape(shape) for shape in drawing.shapes)
    title = _text(drawing.title)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_n(drawing.width)} {_n(drawing.height)}" '
        f'role="img" aria-label="{title}"><title>{title}</title>{shapes}</svg>'
    )


def _shape(shape: Shape) -> str:
    ink = _ink(INKS[shape.role])
    match shape:
        case Polygon(_, points):
            path = " ".join(f"{_n(x)},{_n(y)}" for x, y in points)
            return f'<polygon points="{path}" {ink}/>'
        case Stroke(_, (x1, y1), (x2, y2)):
            return f'<line x1="{_n(x1)}" y1="{_n(y1)}" x2="{_n(x2)}" y2="{_n(y2)}" {ink}/>'
        case Circle(_, (x, y), radius):
            return f'<circle cx="{_n(x)}" cy="{_n(y)}" r="{_n(radius)}" {ink}/>'
        case Label(role, (x, y), text, size, anchor):
            weight = ' font-weight="bold"' if role == "strong label" else ""
            return (
                f'<text x="{_n(x)}" y="{_n(y)}" font-size="{_n(size)}" text-anchor="{anchor}"{weight} '
                f'font-family="sans-serif" {ink}>{_text(text)}</text>'
            )


def _ink(ink: Ink) -> str:
    stroke = "none" if ink.stroke is None else _colour(ink.stroke)
    fill = "none" if ink.fill is None else _colour(ink.fill)
    dash = "" if ink.dash is None else f' stroke-dasharray="{_n(ink.dash[0])} {_n(ink.dash[1])}"'
    return f'stroke="{stroke}" fill="{fill}" stroke-width="{_n(ink.width)}"{dash}'


def _colour(rgb: tuple[int, int, int]) -> str:
    return "#" + "".join(f"{part:02x}" for part in rgb)


def _n(value: float) -> str:
    """A coordinate in hundredths; anything that is no finite number is the origin."""
    return f"{value:.2f}".rstrip("0").rstrip(".") if isfinite(value) else "0"


def _code_svg(matrix: Matrix, title: str) -> str:
    size = len(matrix)
    dark = "".join(f"M{x} {y}h1v1h-1z" for y, row in enumerate(matrix) for x, is_dark in enumerate(row) if is_dark)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {size} {size}" role="img" aria-label="{_text(title)}" '
        f'shape-rendering="crispEdges"><rect width="{size}" height="{size}" fill="#ffffff"/>'
        f'<path d="{dark}" fill="#000000"/></svg>'
    )
