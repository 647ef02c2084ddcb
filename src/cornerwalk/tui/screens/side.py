"""Side view page: the vehicle from the side and from above, what moved, the beam on the wall."""

from __future__ import annotations

from textual.app import ComposeResult

from cornerwalk.assess.assessment import StageResult
from cornerwalk.job.notice import Notice
from cornerwalk.job.open_job import OpenJob
from cornerwalk.job.prompts import PastePrompt
from cornerwalk.session.stages import AIR_STAGES
from cornerwalk.tui.keys import Places
from cornerwalk.tui.own_keys import key_shown
from cornerwalk.tui.screens.drawing import DrawingScreen, drawn_stages, scene_heading, scene_of
from cornerwalk.tui.walk_view import plan_of
from cornerwalk.tui.widgets.plan import Plan
from cornerwalk.tui.widgets.prose import Prose, Ruler
from cornerwalk.tui.widgets.rows import Scroll
from cornerwalk.tui.widgets.side import Side
from cornerwalk.wording.glance import glance
from cornerwalk.words import tr


class SideScreen(DrawingScreen):
    """To be looked at: nothing is asked here."""

    CSS_PATH = "side.tcss"
    AUTO_FOCUS = ""
    places: Places = ("everywhere", "job", "side")

    def __init__(self, job: OpenJob) -> None:
        super().__init__(job)
        self._stage: StageResult | None = None

    @property
    def help_text(self) -> tuple[str, ...]:
        """What is drawn."""
        return (
            tr("Solid is how it stands at this stage, dashed how it stood before. Movements are drawn larger than "
               "life; how much larger stands below the drawing."),
            tr("◂ at the wall: where the cutoff hits it. The thick bar is what the aim spec allows."),
            tr("← → turn to the stage before and after. {key} draws in blocks where the terminal has no braille.",
               key=key_shown("side.dots")),
        )  # fmt: skip

    def compose_page(self) -> ComposeResult:
        """The side view, its figures, and the plan below."""
        yield Ruler(id="where")
        with Scroll(id="all"):
            yield Side(id="view")
            yield Prose(id="figures")
            yield Ruler(id="above")
            yield Plan(id="plan")

    def show(self) -> None:
        """Draw the stage in hand, the last one at first."""
        super().show()
        stages = drawn_stages(self.job.meaning)
        keys = [stage.key for stage in stages]
        here = next((s for s in stages if self._stage is not None and s.key == self._stage.key), None)
        now = here or (stages[-1] if stages else None)
        self._stage = now
        where = self.query_one("#where", Ruler)
        if now is None:
            where.say(("due", tr("side view")))
            self.query_one("#figures", Prose).paragraphs = (
                Notice(tr("There is nothing to draw yet: read a front and a rear corner on each side first.")),
            )
            for drawing in ("#view", "#above", "#plan"):
                self.query_one(drawing).display = False
            return
        scene = scene_of(self.job, now)
        turn = tr("{place} of {count}", place=keys.index(now.key) + 1, count=len(keys))
        where.say(("quiet", turn), ("due", scene_heading(self.job, now)))
        self.query_one(Side).show_scene(scene, DrawingScreen.alphabet)
        told = glance(self.job.session, self.job.assessment, self.job.wording, now.key)
        figures = [
            Notice(line.text, line.label, "caution" if line.level in ("caution", "stop") else "ink")
            for line in told
            if line.topic != "air" or now.name in AIR_STAGES
        ]
        figures.append(Notice(tr("Dashed is before, solid now; the wall is drawn nearer than it is."), part="quiet"))
        self.query_one("#figures", Prose).paragraphs = tuple(figures)
        self.query_one("#above", Ruler).say(("quiet", tr("from above: each corner against the unloaded vehicle")))
        view = plan_of(self.job, self.job.meaning, PastePrompt(now.key, ()), typed=False)
        self.query_one(Plan).show_view(view)

    def _turn(self, step: int) -> None:
        stages = drawn_stages(self.job.meaning)
        if not stages or self._stage is None:
            self.refuse(tr("There is no other stage to turn to."))
            return
        keys = [stage.key for stage in stages]
        place = keys.index(self._stage.key) + step
        if not 0 <= place < len(keys):
            self.refuse(tr("There is no stage beyond this one."))
            return
        self._stage = stages[place]
        self.tell("")
        self.show()

    def action_earlier(self) -> None:
        """The stage before."""
        self._turn(-1)

    def action_later(self) -> None:
        """The stage after."""
        self._turn(1)

    def action_scroll_up(self) -> None:
        """Read back."""
        self.query_one("#all").scroll_up(animate=False)

    def action_scroll_down(self) -> None:
        """Read on."""
        self.query_one("#all").scroll_down(animate=False)
