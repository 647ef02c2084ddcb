"""Comparison: two jobs, or two stages of one, side by side: what differs, how surely, and whether it means anything."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Literal

from textual.app import ComposeResult
from textual.containers import VerticalScroll

from cornerwalk.assess import assess
from cornerwalk.assess.compare import AssessedJob, Comparison, compare_stages
from cornerwalk.assess.compare_jobs import compare_jobs
from cornerwalk.context import Context
from cornerwalk.job.comparison import Pair, turned, usual_pair
from cornerwalk.job.notice import Span
from cornerwalk.job.open_job import OpenJob
from cornerwalk.report.comparison import comparison_page
from cornerwalk.report.document import Block, Heading, Paragraph
from cornerwalk.store import StoreError
from cornerwalk.tui.keys import Key, Places, keys_of
from cornerwalk.tui.own_keys import key_shown
from cornerwalk.tui.screens.job_screen import JobScreen
from cornerwalk.tui.screens.reading import ReadingScreen
from cornerwalk.tui.widgets.paper import Paper
from cornerwalk.tui.widgets.prose import Ruler
from cornerwalk.wording.figures import Wording
from cornerwalk.wording.names import stage_title
from cornerwalk.words import tr
from cornerwalk.words.safe import harmless


class ComparisonScreen(ReadingScreen):
    """Of two jobs all stages they have in common; of one job two stages, which keys choose."""

    places: Places = ("comparison", "everywhere")

    def __init__(self, context: Context, one: Path, other: Path) -> None:
        super().__init__()
        self.context = context
        self._paths = (one, other)
        self._jobs: tuple[AssessedJob, ...] = ()
        self._stages: Pair | None = None

    def own_keys(self) -> Sequence[Key]:
        """Stages are chosen of one job only."""
        return keys_of(*(self.places if self._paths[0] == self._paths[1] else self.places[1:]))

    @property
    def help_text(self) -> tuple[str, ...]:
        """What is shown."""
        return (
            tr("Every difference is the second less the first, with its ±. Within it, it says nothing either way."),
            tr(
                "Of one job, {first_key} chooses another first stage, {second_key} another second; ↑ ↓ read on.",
                first_key=key_shown("comparison.first"),
                second_key=key_shown("comparison.second"),
            ),
        )

    @property
    def _of_one_job(self) -> bool:
        return len(self._jobs) == 1 or self._jobs[0].session.id == self._jobs[1].session.id

    def on_mount(self) -> None:
        """Read them."""
        paths = dict.fromkeys(self._paths)
        try:
            self._jobs = tuple(self._read(path) for path in paths)
        except StoreError as error:
            self._say(tr(error.template, **error.fields))
            return
        except _DamagedError as error:
            self._say(str(error))
            return
        if self._of_one_job:
            self._stages = usual_pair([stage.key for stage in self._jobs[0].assessment.stages])
            if self._stages is None:
                self._say(tr("Two stages can be compared once two are read."))
                return
        self._show()

    def _read(self, path: Path) -> AssessedJob:
        stored = self.context.library.read(path)
        if stored.damage is not None:
            raise _DamagedError(tr("{file} is damaged: no figures are compared with half a session.", file=path.name))
        return AssessedJob(stored.session, assess(stored.session, self.context.standards()))

    def _say(self, reason: str) -> None:
        self.show_page(tr("Comparison"), (), (Paragraph(harmless(reason)),))

    def _show(self) -> None:
        one, other = self._jobs[0], self._jobs[-1]
        units = self.context.settings.display_units(one.session.job.unit)
        wording = Wording.for_tape(units, one.assessment.reading.graduation_mm)
        page = comparison_page(self._comparison(), wording, self._names(one, other))
        if self._stages is not None:
            first, second = (stage_title(key) for key in self._stages)
            words = (("due", tr("{one} against {other}", one=first, other=second)),)
        else:
            words = (("due", tr("the second less the first")),)
        blocks = (Heading(harmless(page.subtitle)), *page.blocks, Paragraph(page.footer))
        self.show_page(tr("Comparison"), words, blocks)

    def _comparison(self) -> Comparison:
        if self._stages is not None:
            return compare_stages(self._jobs[0], *self._stages)
        return compare_jobs(self._jobs[0], self._jobs[-1], self.context.standards())

    def _names(self, one: AssessedJob, other: AssessedJob) -> tuple[str, str]:
        names = tuple(
            f"{job.session.job.title or path.stem}, {job.session.opened_at[:10]}"
            for job, path in zip((one, other), self._paths, strict=True)
        )
        if self._stages is None and names[0] == names[1]:
            return (self._paths[0].stem, self._paths[1].stem)
        return (names[0], names[1])

    # ---- the stages of one job ----

    def _turn(self, which: Literal[0, 1]) -> None:
        if self._stages is not None:
            self._stages = turned([stage.key for stage in self._jobs[0].assessment.stages], self._stages, which)
            self._show()

    def action_first(self) -> None:
        """Another stage to compare from."""
        self._turn(0)

    def action_second(self) -> None:
        """Another stage to compare with."""
        self._turn(1)


class _DamagedError(Exception):
    """A file is not as it was written."""


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
