"""Reports as web pages."""

from __future__ import annotations

from html.parser import HTMLParser

import pytest
from hypothesis import given, settings

from cornerwalk.report.customer import customer_sheet
from cornerwalk.report.document import Document, Paragraph
from cornerwalk.report.file_report import file_report
from cornerwalk.report.html import as_html
from cornerwalk.report.text import as_text
from cornerwalk.report.worksheet import blank_worksheet
from cornerwalk.wording.figures import Wording
from cornerwalk.words.safe import harmless
from tests.support.anything import STORABLE, hostile_events, jobs
from tests.support.jobs import WORKED_CASE, InventedJob, job_of, worked_case

ALLOWED = {
    *("html", "head", "meta", "title", "style", "body", "h1", "h2", "p", "main", "footer", "table", "thead", "tbody"),
    *("tr", "th", "td", "ul", "li", "section", "strong", "div", "pre", "svg", "polygon", "line", "circle", "text"),
    *("rect", "path"),
}
ATTRIBUTES = {
    *(
        "lang",
        "charset",
        "name",
        "content",
        "http-equiv",
        "dir",
        "class",
        "scope",
        "xmlns",
        "viewbox",
        "role",
        "stroke",
    ),
    *("aria-label", "points", "fill", "stroke-width", "stroke-dasharray", "x1", "y1", "x2", "y2", "cx", "cy", "r", "x"),
    *("y", "font-size", "text-anchor", "font-weight", "font-family", "width", "height", "d", "shape-rendering"),
}


class _Reader(HTMLParser):
    """Collects what a browser would make of a page."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.tags: set[str] = set()
        self.attributes: set[str] = set()
        self.open: list[str] = []
        self.texts: list[str] = []
        self.feed(page)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        self.attributes |= {name for name, _ in attrs}
        if tag != "meta":
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        self.attributes |= {name for name, _ in attrs}

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if "style" not in self.open:
            self.texts.append(data)


def pages(job: InventedJob) -> list[str]:
    wording = Wording("inch")
    return [
        as_html(customer_sheet(job.session, job.assessment, wording)),
        as_html(file_report(job.events, job.session, job.assessment, wording)),
    ]


@settings(max_examples=40)
@given(jobs())
def test_no_text_becomes_markup(job: InventedJob) -> None:
    """Whatever the texts hold, the page has our own tags and attributes only, well nested; nothing is fetched."""
    for page in pages(job):
        reader = _Reader(page)
        assert reader.tags <= ALLOWED
        assert reader.attributes <= ATTRIBUTES
        assert reader.open == []
        assert "http://" not in page.replace("http://www.w3.org/2000/svg", "")
        assert "https://" not in page


@pytest.mark.parametrize("text", STORABLE)
def test_a_hostile_text_is_read_as_it_stands(text: str) -> None:
    """It comes out as text, hidden characters spelled out, neither acting nor lost."""
    job = job_of(WORKED_CASE, *hostile_events(text))
    for page in pages(job):
        assert harmless(text) in "".join(_Reader(page).texts)


def test_the_page_says_what_the_text_says() -> None:
    """Every paragraph and cell of the text report stands on the page too."""
    job = worked_case()
    wording = Wording("inch")
    document = file_report(job.events, job.session, job.assessment, wording)
    read = " ".join(" ".join(_Reader(as_html(document)).texts).split())
    words = [word for word in as_text(document, 10_000).split() if not set(word) <= set("─═·-_")]
    assert [word for word in words if word not in read] == []


def test_it_needs_nothing_else() -> None:
    """No script, no link, no picture from elsewhere, and the page forbids them itself."""
    page = as_html(blank_worksheet())
    assert "default-src 'none'" in page
    for foreign in ("<script", "<link", "<img", "src=", "href=", "@import", "url("):
        assert foreign not in page


def test_an_attribute_cannot_be_left() -> None:
    """Quotation marks in a text that stands in an attribute are escaped."""
    page = as_html(Document(title='" onload="x', subtitle="", blocks=(Paragraph("'\"<&>"),), footer=""))
    assert 'onload="x' not in page
    assert "&#x27;&quot;&lt;&amp;&gt;" in page


def test_a_figure_keeps_its_uncertainty_beside_it() -> None:
    """On a telephone lines are short: none breaks between a figure and its ±."""
    for page in pages(worked_case()):
        assert "\N{NO-BREAK SPACE}±\N{NO-BREAK SPACE}" in page
        assert " ± " not in page
