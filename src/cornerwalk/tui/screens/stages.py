"""Two stages of the open job side by side; keys choose which."""

from __future__ import annotations

from typing import Literal

from textual.app import ComposeResult
from textual.containers import VerticalScroll

from cornerwalk.assess.compare import AssessedJob, compare_stages
from cornerwalk.job.comparison import Pair, turned, usual_pair
from cornerwalk.job.notice import Span
from cornerwalk.job.open_job import OpenJob
from cornerwalk.report.comparison import comparison_page
from cornerwalk.report.document import Block, Paragraph
from cornerwalk.tui.keys import Places
from cornerwalk.tui.own_keys import key_shown
from cornerwalk.tui.screens.base import JobScreen
from cornerwalk.tui.widgets.paper import Paper
from cornerwalk.tui.widgets.prose import Ruler
from cornerwalk.wording.names import stage_title
from cornerwalk.words import tr


class StagesScreen(JobScreen):
    """What changed from the one to the other, how surely, and whether it means anything."""

    CSS_PATH = "results.tcss"
    AUTO_FOCUS = "#paper-scroll"
    places: Places = ("comparison", "job", "everywhere")

    def __init__(self, job: OpenJob) -> None:
        super().__init__(job)
        self._pair: Pair | None = None

    @property
    def help_text(self) -> tuple[str, ...]:
        """What is shown."""
        return (
            tr("Every difference is the second stage less the first, with its ±. Within it, it says nothing."),
            tr(
                "{first_key} chooses another first stage, {second_key} another second; ↑ ↓ read on.",
                first_key=key_shown("comparison.first"),
                second_key=key_shown("comparison.second"),
            ),
        )

    def compose_page(self) -> ComposeResult:
        """Which two, and the paper."""
        yield Ruler(id="which")
        with VerticalScroll(id="paper-scroll"):
            yield Paper(id="paper")

    def show(self) -> None:
        """The two that are chosen, as things stand now."""
        super().show()
        keys = [stage.key for stage in self.job.assessment.stages]
        if self._pair is None or not set(self._pair) <= set(keys):
            self._pair = usual_pair(keys)
        words: tuple[Span, ...] = ()
        blocks: tuple[Block, ...] = (Paragraph(tr("Two stages can be compared once two are read.")),)
        if self._pair is not None:
            one, other = (stage_title(key) for key in self._pair)
            words = (("due", tr("{one} against {other}", one=one, other=other)),)
            title = self.job.session.job.title
            comparison = compare_stages(AssessedJob(self.job.session, self.job.assessment), *self._pair)
            page = comparison_page(comparison, self.job.wording, (title, title))
            blocks = (*page.blocks, Paragraph(page.footer))
        self.query_one("#which", Ruler).say(*words)
        self.query_one(Paper).show_blocks(blocks)

    def _turn(self, which: Literal[0, 1]) -> None:
        if self._pair is not None:
            self._pair = turned([stage.key for stage in self.job.assessment.stages], self._pair, which)
            self.show()

    def action_first(self) -> None:
        """Another stage to compare from."""
        self._turn(0)

    def action_second(self) -> None:
        """Another stage to compare with."""
        self._turn(1)
