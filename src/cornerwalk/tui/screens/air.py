"""Air page: the trials in a picture, the next pressure and why, and what another pressure or load would do."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import Container

from cornerwalk.job.hints import last_time
from cornerwalk.job.notice import Notice
from cornerwalk.job.open_job import OpenJob
from cornerwalk.job.reply import Refusal, refusal
from cornerwalk.job.walk_replies import pressure_doubt
from cornerwalk.job.what_if import WhatIf
from cornerwalk.quantity import read_pressure
from cornerwalk.session.events import Event
from cornerwalk.session.walk import EntryError, PressureInput, bare_pressure, begin_stage
from cornerwalk.tui.air_view import WhatIfPoint, advice, lines_of, picture, trial_rows
from cornerwalk.tui.keys import Places
from cornerwalk.tui.screens.chapter import to_walk
from cornerwalk.tui.screens.drawing import DrawingScreen, scene_of
from cornerwalk.tui.widgets.air_plot import AirPlot
from cornerwalk.tui.widgets.entry import TrialEntry
from cornerwalk.tui.widgets.prose import Banner, Prose, Ruler
from cornerwalk.tui.widgets.rows import Scroll
from cornerwalk.tui.widgets.side import Side
from cornerwalk.words import tr


class AirScreen(DrawingScreen):
    """Digits and Enter begin a trial; with nothing typed, the arrows ask what would be."""

    CSS_PATH = "air.tcss"
    AUTO_FOCUS = "TrialEntry"
    places: Places = ("everywhere", "job", "air")

    def __init__(self, job: OpenJob) -> None:
        super().__init__(job)
        self._what_if = WhatIf(job)
        self._at_seq = job.session.last_seq
        self._left: str | None = None
        self._doubted = ""

    @property
    def help_text(self) -> tuple[str, ...]:
        """How the page is used."""
        return (
            tr("Add air, read the gauge, type the reading, press Enter: that starts a trial."),
            tr("With nothing typed, ← → try a little less or more air, ↑ ↓ a little less or more load. Only the "
                "drawing and beam change; nothing is saved. Esc goes back."),
            tr("Dots: trials with their ±. Solid: the line through them. Dotted: how certain it is. Hatched: "
                "outside the kit's limits. ▲ pressure to set, ◆ what-if pressure."),
        )  # fmt: skip

    def compose_page(self) -> ComposeResult:
        """Picture and trials, the what-if with the side view, the place to type."""
        yield Ruler(id="where")
        with Container(id="top"):
            yield AirPlot(id="plot")
            with Scroll(id="told"):
                yield Prose(id="trials")
                yield Prose(id="advice")
        yield Ruler(id="what-if")
        with Container(id="bottom"):
            yield Side(id="view")
            with Scroll(id="expected"):
                yield Prose(id="would")
        yield Banner(id="refused")
        yield TrialEntry(typed=self.typed, entered=self.entered, id="entry")

    # ---- drawing ----

    def show(self) -> None:
        """Draw all of it."""
        super().show()
        if self._at_seq != self.job.session.last_seq:
            self._what_if, self._at_seq = WhatIf(self.job), self.job.session.last_seq
        rows = trial_rows(self.job)
        self.query_one("#where", Ruler).say(("due", tr("air, trial by trial")), ("quiet", _kit_words(self.job)))
        self.query_one("#trials", Prose).paragraphs = tuple(Notice(rear, air, "strong") for air, rear in rows)
        self.show_earlier()
        self._ask()
        self._show_what_if()

    def show_earlier(self) -> None:
        """Below the advice, which rests on today's readings alone."""
        self.query_one("#advice", Prose).paragraphs = (*advice(self.job, lines_of(self.job)), *last_time(self.job))

    def _show_what_if(self) -> None:
        """What depends on the arrows."""
        what_if = self._what_if
        tentative = None
        if what_if.touched and what_if.at_kPa is not None:
            tentative = WhatIfPoint(what_if.at_kPa, what_if.height_mm())
        self.query_one(AirPlot).show_plot(picture(self.job, lines_of(self.job), tentative), DrawingScreen.alphabet)
        stage = what_if.stage()
        scene = scene_of(self.job, stage) if stage is not None else None
        self.query_one(Side).show_scene(scene, DrawingScreen.alphabet)
        self.query_one("#what-if", Ruler).say(("due" if what_if.touched else "quiet", what_if.heading()))
        self.query_one("#would", Prose).paragraphs = what_if.words()

    def _ask(self) -> None:
        separate = self.job.session.kit.lines == "separate"
        hint = tr("type the gauge pressure to start a trial")
        if separate:
            hint = tr("the left gauge's pressure") if self._left is None else tr("the right gauge's pressure")
        self.query_one(TrialEntry).hint = hint

    def tell(self, text: str, part: str = "ink") -> None:
        """Above the entry; what is refused so that it cannot be overlooked."""
        self.query_one(Banner).say(text, loud=part == "caution")

    # ---- a trial ----

    def typed(self, text: str) -> None:
        """Say at once what may not be."""
        try:
            if text.strip():
                self._begins(text)
        except EntryError as error:
            self.refuse(tr(error.template, **error.fields))
            return
        except Refusal:
            pass  # half a pressure is none yet; Enter says why
        self.tell("")

    def entered(self, text: str) -> None:
        """Begin a trial at what the gauge shows."""
        if not text.strip():
            self.refuse(tr("Type what the gauge shows: a trial is begun with the pressure that is in."))
            return
        try:
            would = self._begins(text)
        except Refusal as error:
            self.refuse(refusal(error).trouble)
            return
        doubt = pressure_doubt(self.job, text.strip(), read_pressure(text, bare=bare_pressure(self.job.session)).kPa)
        if doubt and text != self._doubted:
            self._doubted = text
            self.refuse(tr("{remark} Enter again saves it.", remark=doubt))
            return
        self._doubted = ""
        entry = self.query_one(TrialEntry)
        if self.job.session.kit.lines == "separate" and self._left is None:
            self._left = text
            entry.put("")
            self._ask()
            return
        self._left = None
        if self.record(would):
            to_walk(self.app)
        else:
            entry.text = ""

    def _begins(self, text: str) -> tuple[Event, ...]:
        """What begins with this pressure.

        Raises:
            QuantityError: it is none.
            EntryError: it is over the kit's maximum, or the job is closed.
        """
        if self.job.session.kit.lines != "separate":
            air = PressureInput(both=text)
        elif self._left is None:
            air = PressureInput(left=text)
        else:
            air = PressureInput(left=self._left, right=text)
        return begin_stage(self.job.session, "fitted", air)

    # ---- what if ----

    def _step(self, refused: str) -> None:
        if refused:
            self.refuse(refused)
        else:
            self.tell("")
            self._show_what_if()

    def action_less_air(self) -> None:
        """A little less air."""
        self._step(self._what_if.step_air(-1))

    def action_more_air(self) -> None:
        """A little more air."""
        self._step(self._what_if.step_air(1))

    def action_more_load(self) -> None:
        """A little more load."""
        self._step(self._what_if.step_load(1))

    def action_less_load(self) -> None:
        """A little less load."""
        self._step(self._what_if.step_load(-1))

    async def action_back(self) -> None:
        """Out of what is typed, out of the what-if, then to the page before."""
        entry = self.query_one(TrialEntry)
        if entry.text or self._left is not None:
            entry.text, self._left = "", None
            self.tell("")
            self._ask()
        elif self._what_if.touched:
            self._what_if.forget()
            self.tell("")
            self._show_what_if()
        else:
            await super().action_back()


def _kit_words(job: OpenJob) -> str:
    """The kit's limits and whose they are, or that nothing stops too much air."""
    kit = job.session.kit
    if kit.max_kPa is None:
        return tr("kit maximum not entered: nothing stops too much air")
    low, high = job.wording.pressure(kit.min_kPa), job.wording.pressure(kit.max_kPa)
    return tr("kit {low} to {high}", low=low, high=high)
