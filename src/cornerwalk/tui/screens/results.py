"""Results page: findings, figures of every stage, loads and air, checks made and not made, how sure."""

from __future__ import annotations

from collections.abc import Iterable

from textual.app import ComposeResult
from textual.containers import Container, VerticalScroll

from cornerwalk.job.hints import asking, hint_of, own_placing
from cornerwalk.job.open_job import OpenJob
from cornerwalk.report import result_blocks
from cornerwalk.report.document import Block, Bullets
from cornerwalk.tui.keys import Places
from cornerwalk.tui.screens.drawing import DrawingScreen, latest_scene
from cornerwalk.tui.screens.job_screen import JobScreen
from cornerwalk.tui.widgets.paper import Paper
from cornerwalk.tui.widgets.side import Side
from cornerwalk.tui.widgets.tabs import Tabs
from cornerwalk.words import tr

AIR_PAGE, SURENESS_PAGE = 2, 4
"""The pages beside whose figures earlier jobs have something to say."""


class ResultsScreen(JobScreen):
    """Five pages, turned by number."""

    CSS_PATH = "results.tcss"
    AUTO_FOCUS = "#paper-scroll"
    places: Places = ("results", "job", "everywhere")

    def __init__(self, job: OpenJob) -> None:
        super().__init__(job)
        self._page = 0

    @property
    def help_text(self) -> tuple[str, ...]:
        """What the pages hold."""
        return (
            tr("Numbers or ← → turn the pages; ↑ ↓ read on."),
            tr("Every figure has its ±, about 95 %. What could not be checked is listed with what it needs."),
            tr("Nothing here raises a rating: a level body is not a safe load."),
        )

    def compose_page(self) -> ComposeResult:
        """Tabs and one paper, with the side view beside it in a window wider than a paper."""
        yield Tabs((tr("findings"), tr("heights"), tr("load and air"), tr("checks"), tr("uncertainty")), self.turn_to)
        with Container(id="bench"):
            with VerticalScroll(id="paper-scroll"):
                yield Paper(id="paper")
            yield Side(id="view")

    def show(self) -> None:
        """The page that is open, as things stand now."""
        super().show()
        self.query_one(Tabs).mark(self._page)
        self.query_one(Paper).show_blocks(self._blocks())
        self.query_one(Side).show_scene(latest_scene(self.job), DrawingScreen.alphabet)

    def _blocks(self) -> Iterable[Block]:
        job, session, assessment, wording = self.job, self.job.session, self.job.assessment, self.job.wording
        match self._page:
            case 0:
                return (*result_blocks.overall(assessment), *result_blocks.findings(assessment, wording))
            case 1:
                return (
                    *result_blocks.stage_results(session, assessment, wording),
                    *result_blocks.heights(session, job.assessment, wording),
                )
            case 2:
                return (
                    *result_blocks.loads(assessment, wording),
                    *result_blocks.air(assessment, wording),
                    *self._earlier_on_air(),
                )
            case 3:
                return result_blocks.checks(assessment, wording)
            case _:
                return (
                    *result_blocks.uncertainty(assessment, wording),
                    *self._earlier_on_placing(),
                )

    def show_earlier(self) -> None:
        """On the two pages beside whose figures earlier jobs have something to say."""
        if self._page in (AIR_PAGE, SURENESS_PAGE):
            self.show()

    def _earlier_on_air(self) -> tuple[Block, ...]:
        hint = hint_of(self.job)
        if hint is None:
            return _said(tuple(line.text for line in asking(self.job)))
        from cornerwalk.tables.hints import hint_lines

        return _said(hint_lines(hint, self.job.wording))

    def _earlier_on_placing(self) -> tuple[Block, ...]:
        heard = self.job.earlier.heard
        if heard is None or heard.placing is None:
            return _said(tuple(line.text for line in asking(self.job)))
        from cornerwalk.tables.hints import placing_lines

        offer = tuple(line.text for line in own_placing(self.job))
        return _said((*placing_lines(heard.placing, self.job.wording), *offer))

    def turn_to(self, page: int) -> None:
        """Open a page, at its top."""
        self._page = page
        self.show()
        self.query_one("#paper-scroll", VerticalScroll).scroll_home(animate=False)

    def action_page(self, number: int) -> None:
        """The page of a number key."""
        self.turn_to(number - 1)

    def action_earlier_page(self) -> None:
        """The page to the left."""
        self.turn_to((self._page - 1) % self.query_one(Tabs).count)

    def action_later_page(self) -> None:
        """The page to the right."""
        self.turn_to((self._page + 1) % self.query_one(Tabs).count)


def _said(lines: tuple[str, ...]) -> tuple[Block, ...]:
    return (Bullets(lines),) if lines else ()
