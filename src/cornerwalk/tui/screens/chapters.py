"""Chapter page: the lines of one chapter of the job, as its row in `job.chapters` has them."""

from __future__ import annotations

from typing import cast

from cornerwalk.job.chapters import CHAPTER_KINDS
from cornerwalk.job.notice import Notice
from cornerwalk.job.open_job import OpenJob
from cornerwalk.job.question import Question
from cornerwalk.session.stages import ChapterId
from cornerwalk.tui.screens.chapter import ChapterScreen
from cornerwalk.words import tr


class OneChapterScreen(ChapterScreen):
    """Asks what a chapter asks."""

    def __init__(self, job: OpenJob, chapter: str) -> None:
        self.chapter = CHAPTER_KINDS[cast("ChapterId", chapter)]
        super().__init__(job)

    @property
    def title_words(self) -> str:
        """The name of the chapter."""
        return tr(self.chapter.title)

    def lines(self) -> tuple[Question, ...]:
        """Its questions."""
        return self.chapter.questions(self.job)

    def panel(self) -> tuple[Notice, ...]:
        """What they come to."""
        return self.chapter.panel(self.job)
