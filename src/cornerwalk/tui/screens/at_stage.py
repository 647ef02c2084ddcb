"""What belongs to one stage besides its heights: conditions, the mark on the wall, the headlamp leveller."""

from __future__ import annotations

from collections.abc import Iterator

from cornerwalk.job.cursor import latest_lines
from cornerwalk.job.notice import Notice
from cornerwalk.job.open_job import OpenJob
from cornerwalk.job.question import Question
from cornerwalk.job.stage import stage_heading, stage_in_place, stage_lines, stage_panel
from cornerwalk.tui.screens.chapter import ChapterScreen
from cornerwalk.words import tr


class StageScreen(ChapterScreen):
    """Opens on the stage in hand; the page keys turn to the one before or after."""

    def __init__(self, job: OpenJob) -> None:
        self._stage = stage_in_place(job)
        super().__init__(job)

    @property
    def title_words(self) -> str:
        """The stage."""
        return stage_heading(self._stage)

    @property
    def help_text(self) -> tuple[str, ...]:
        """What the page keys do here."""
        return (
            *super().help_text,
            tr("PgUp and PgDn turn to the stage before and after; every stage has its own answers."),
        )

    def lines(self) -> tuple[Question, ...]:
        """Conditions and lamps of this stage."""
        return stage_lines(self.job, self._stage)

    def latest(self) -> Iterator[str]:
        """Those of this stage."""
        return latest_lines(self.job.events, self._stage)

    def panel(self) -> tuple[Notice, ...]:
        """What changed since an earlier stage."""
        return stage_panel(self.job, self._stage)

    def _turn_stage(self, step: int) -> None:
        keys = list(dict.fromkeys([*(stage.key for stage in self.job.session.stages), stage_in_place(self.job)]))
        place = keys.index(self._stage) if self._stage in keys else len(keys) - 1
        self._stage = keys[max(0, min(len(keys) - 1, place + step))]
        self.dialog = self.begin()
        self.show_listed()

    def action_earlier_group(self) -> None:
        """The stage before."""
        self._turn_stage(-1)

    def action_later_group(self) -> None:
        """The stage after."""
        self._turn_stage(1)
