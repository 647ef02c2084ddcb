"""The chapters that are answered line by line: what each is called, its lines, and what they come to."""

from __future__ import annotations

from cornerwalk.tui.lines.before import before_lines, stops_panel
from cornerwalk.tui.lines.fitting import fitting_lines
from cornerwalk.tui.lines.follow_up import follow_up_lines, follow_up_panel
from cornerwalk.tui.lines.handover import handover_lines, handover_panel
from cornerwalk.tui.lines.intake import intake_lines, intake_panel
from cornerwalk.tui.lines.leak import leak_lines, leak_panel
from cornerwalk.tui.lines.line import Line
from cornerwalk.tui.lines.road import road_lines, road_panel
from cornerwalk.tui.screens.chapter import ChapterScreen
from cornerwalk.tui.widgets.prose import Paragraph
from cornerwalk.words import tr


class IntakeScreen(ChapterScreen):
    """Who, why, and everything that is known of vehicle, kit and loads."""

    @property
    def title_words(self) -> str:
        """The name of the chapter."""
        return tr("Intake")

    def lines(self) -> tuple[Line, ...]:
        """Facts, loads, the scale, presets."""
        return intake_lines(self.job)

    def panel(self) -> tuple[Paragraph, ...]:
        """What kind of job it is."""
        return intake_panel(self.job)


class BeforeScreen(ChapterScreen):
    """What is found before anything is changed."""

    @property
    def title_words(self) -> str:
        """The name of the chapter."""
        return tr("Before anything is changed")

    def lines(self) -> tuple[Line, ...]:
        """What the height touches, what is found."""
        return before_lines(self.job)

    def panel(self) -> tuple[Paragraph, ...]:
        """STOPs."""
        return stops_panel(self.job)


class FittingScreen(ChapterScreen):
    """The work in its order, each caution at its step."""

    @property
    def title_words(self) -> str:
        """The name of the chapter."""
        return tr("Fitting")

    def lines(self) -> tuple[Line, ...]:
        """The work and the torques."""
        return fitting_lines(self.job)

    def panel(self) -> tuple[Paragraph, ...]:
        """STOPs."""
        return stops_panel(self.job)


class LeakScreen(ChapterScreen):
    """Does it hold its air?"""

    @property
    def title_words(self) -> str:
        """The name of the chapter."""
        return tr("Leak check")

    def lines(self) -> tuple[Line, ...]:
        """Hold test and soapy water."""
        return leak_lines(self.job)

    def panel(self) -> tuple[Paragraph, ...]:
        """How long it has held, and what came of it."""
        return leak_panel(self.job, self.job.context.clock())


class RoadScreen(ChapterScreen):
    """After the road test."""

    @property
    def title_words(self) -> str:
        """The name of the chapter."""
        return tr("Road test")

    def lines(self) -> tuple[Line, ...]:
        """Heights again, and what is looked for."""
        return road_lines(self.job)

    def panel(self) -> tuple[Paragraph, ...]:
        """What moved."""
        return road_panel(self.job)


class HandoverScreen(ChapterScreen):
    """The end of the job."""

    @property
    def title_words(self) -> str:
        """The name of the chapter."""
        return tr("Handover")

    def lines(self) -> tuple[Line, ...]:
        """What is told, and the handing over."""
        return handover_lines(self.job)

    def panel(self) -> tuple[Paragraph, ...]:
        """What is not done."""
        return handover_panel(self.job)


class FollowUpScreen(ChapterScreen):
    """When it comes back."""

    @property
    def title_words(self) -> str:
        """The name of the chapter."""
        return tr("Follow-up")

    def lines(self) -> tuple[Line, ...]:
        """The reason, and the heights."""
        return follow_up_lines(self.job)

    def panel(self) -> tuple[Paragraph, ...]:
        """What moved since."""
        return follow_up_panel(self.job)
