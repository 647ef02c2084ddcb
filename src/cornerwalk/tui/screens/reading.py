"""Reading page: a report's blocks, scrolled."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from textual.app import ComposeResult
from textual.containers import VerticalScroll

from cornerwalk.job.notice import Notice, Span
from cornerwalk.report.document import Block
from cornerwalk.tui.keys import Places
from cornerwalk.tui.screens.page import PageScreen
from cornerwalk.tui.widgets.paper import Paper
from cornerwalk.tui.widgets.prose import Prose, Ruler


class ReadingScreen(PageScreen):
    """A name, a line of words below it, and the paper."""

    CSS_PATH = "results.tcss"
    AUTO_FOCUS = "#paper-scroll"
    places: Places = ("everywhere",)

    def compose_page(self) -> ComposeResult:
        """Name, words, paper."""
        yield Prose(id="reading-name")
        yield Ruler()
        with VerticalScroll(id="paper-scroll"):
            yield Paper(id="paper")

    def show_page(self, name: str, words: Sequence[Span], blocks: Iterable[Block]) -> None:
        """Show these blocks, from their beginning."""
        self.query_one("#reading-name", Prose).paragraphs = (Notice(name, part="strong"),)
        self.query_one(Ruler).say(*words)
        self.query_one(Paper).show_blocks(blocks)
        self.query_one("#paper-scroll", VerticalScroll).scroll_home(animate=False)
