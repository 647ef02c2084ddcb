"""The chapters that are answered line by line: what each is called, its lines, and what they come to."""

from __future__ import annotations

from cornerwalk.job.checks import before_lines, stops_panel
from cornerwalk.job.fitting import fitting_lines
from cornerwalk.job.handover import handover_lines, handover_panel
from cornerwalk.job.intake import intake_lines, intake_panel
from cornerwalk.job.leak import leak_lines, leak_panel
from cornerwalk.job.notice import Notice
from cornerwalk.job.question import Question
from cornerwalk.job.road import follow_up_lines, follow_up_panel, road_lines, road_panel
from cornerwalk.tui.screens.chapter import ChapterScreen
from cornerwalk.words import tr


class IntakeScreen(ChapterScreen):
    """Who, why, and everything that is known of vehicle, kit and loads."""

    @property
    def title_words(self) -> str:
        """The name of the chapter."""
        return tr("Intake")

    def lines(self) -> tuple[Question, ...]:
        """Facts, loads, the scale, presets."""
        return intake_lines(self.job)

    def panel(self) -> tuple[Notice, ...]:
        """What kind of job it is."""
        return intake_panel(self.job)


class BeforeScreen(ChapterScreen):
    """What is found before anything is changed."""

    @property
    def title_words(self) -> str:
        """The name of the chapter."""
        return tr("Before anything is changed")

    def lines(self) -> tuple[Question, ...]:
        """What the height touches, what is found."""
        return before_lines(self.job)

    def panel(self) -> tuple[Notice, ...]:
        """STOPs."""
        return stops_panel(self.job)


class FittingScreen(ChapterScreen):
    """The work in its order, each caution at its step."""

    @property
    def title_words(self) -> str:
        """The name of the chapter."""
        return tr("Fitting")

    def lines(self) -> tuple[Question, ...]:
        """The work and the torques."""
        return fitting_lines(self.job)

    def panel(self) -> tuple[Notice, ...]:
        """STOPs."""
        return stops_panel(self.job)


class LeakScreen(ChapterScreen):
    """Does it hold its air?"""

    @property
    def title_words(self) -> str:
        """The name of the chapter."""
        return tr("Leak check")

    def lines(self) -> tuple[Question, ...]:
        """Hold test and soapy water."""
        return leak_lines(self.job)

    def panel(self) -> tuple[Notice, ...]:
        """How long it has held, and what came of it."""
        return leak_panel(self.job, self.job.context.clock())


class RoadScreen(ChapterScreen):
    """After the road test."""

    @property
    def title_words(self) -> str:
        """The name of the chapter."""
        return tr("Road test")

    def lines(self) -> tuple[Question, ...]:
        """Heights again, and what is looked for."""
        return road_lines(self.job)

    def panel(self) -> tuple[Notice, ...]:
        """What moved."""
        return road_panel(self.job)


class HandoverScreen(ChapterScreen):
    """The end of the job."""

    @property
    def title_words(self) -> str:
        """The name of the chapter."""
        return tr("Handover")

    def lines(self) -> tuple[Question, ...]:
        """What is told, and the handing over."""
        return handover_lines(self.job)

    def panel(self) -> tuple[Notice, ...]:
        """What is not done."""
        return handover_panel(self.job)


class FollowUpScreen(ChapterScreen):
    """When it comes back."""

    @property
    def title_words(self) -> str:
        """The name of the chapter."""
        return tr("Follow-up")

    def lines(self) -> tuple[Question, ...]:
        """The reason, and the heights."""
        return follow_up_lines(self.job)

    def panel(self) -> tuple[Notice, ...]:
        """What moved since."""
        return follow_up_panel(self.job)
