"""Walk page: one question at a time, and what the answers mean while they come in."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from textual import events, on
from textual.app import ComposeResult
from textual.containers import Container

from cornerwalk.job.notice import Notice, Span
from cornerwalk.job.open_job import Meaning, OpenJob
from cornerwalk.job.prompt_words import coming, help_on, meaning_of
from cornerwalk.job.prompts import (
    HeightPrompt,
    NotePrompt,
    Prompt,
    ReasonPrompt,
    asked_by,
    corner_in_hand,
    in_hand,
    next_corner,
    next_stage,
    reading_of,
    several,
    stage_choice,
)
from cornerwalk.job.record import event_brief, kept_words
from cornerwalk.job.reply import Reply
from cornerwalk.job.walk_replies import averaging, doubt_words, reply_to, skipping
from cornerwalk.session.events import Event, HeightRead, StageBegun
from cornerwalk.session.stages import REFERENCE_STAGE
from cornerwalk.tui.keys import Places
from cornerwalk.tui.messages import OpenPage
from cornerwalk.tui.screens.job_screen import AskingScreen
from cornerwalk.tui.walk_view import plan_of, question_of, so_far, stages_of
from cornerwalk.tui.widgets.entry import values_in
from cornerwalk.tui.widgets.outlook import Outlook, OutlookView
from cornerwalk.tui.widgets.plan import Plan
from cornerwalk.tui.widgets.prose import Ruler
from cornerwalk.tui.widgets.question import Panel
from cornerwalk.words import tr


class WalkScreen(AskingScreen):
    """Takes each reading as fast as it is called out."""

    CSS_PATH = "walk.tcss"
    places: Places = ("everywhere", "job", "walk")

    def __init__(self, job: OpenJob) -> None:
        super().__init__(job)
        self._asked: Prompt = asked_by(job.session)
        self._refused_text: str | None = None
        self._confirmed_text: str | None = None
        self._put_by = ""
        self._asked_at = job.session.last_seq
        self._coming: tuple[Notice, ...] = ()
        self._drawn: Meaning | None = None
        self._replied: tuple[Meaning, Prompt, str, Reply] | None = None

    @property
    def help_text(self) -> tuple[str, ...]:
        """What is asked now, then how the walk goes."""
        return (
            *filter(None, (help_on(self._asked, self.job.session.job.datum),)),
            tr("Type the height that is called out and press Enter; the next corner is ready."),
            tr("28 5/8, 28-5/8, 28.625, 28+10 (sixteenths), 2' 4 5/8\" and 727 mm all work. Check how it was read, "
                "below the entry, then press Enter."),
            tr("A reading far from the other side or the last stage gets a warning; a second Enter saves it."),
            tr("After four corners it tells you what to do to the vehicle. Press Enter when that is done."),
            tr("It says saved only once it is on disk. Undo reverses a step; nothing is ever erased."),
        )  # fmt: skip

    def compose_page(self) -> ComposeResult:
        """Plan and question side by side, with room the side view below the question; results and next steps below."""
        yield Ruler(id="stages")
        with Container(id="bench"):
            yield Plan(id="plan")
            with Container(id="right"):
                yield Panel(typed=self.typed, entered=self.entered, pasted=self.pasted, id="panel")
                yield Container(id="beside")
        yield Outlook(id="outlook")
        yield Container(id="so-far")

    # ---- drawing ----

    def show(self) -> None:
        """Draw all of it."""
        super().show()
        self._asked_at = self.job.session.last_seq
        self._replied = None
        self.query_one("#stages", Ruler).say(*stages_of(self.job, self._asked))
        self.show_earlier()
        self.call_after_refresh(self._show_below)

    def show_earlier(self) -> None:
        """Beside what comes next."""
        self._coming = coming(self.job, self._asked)
        self.show_asked()

    def _reply(self) -> Reply:
        """What the text that is typed means: worked out once, for the drawing and for Enter."""
        job, asked, text = self.job, self._asked, self._text
        if self._replied is None or self._replied[0] is not job.meaning or self._replied[1:3] != (asked, text):
            self._replied = (job.meaning, asked, text, reply_to(job, asked, text))
        return self._replied[3]

    def show_asked(self) -> None:
        """Draw what depends on the text being typed: this is the way from a key to a result."""
        panel = self.query_one(Panel)
        say = self._reply()
        meaning = self.job.if_kept(say.would) if say.judged else self.job.meaning
        panel.show_view(question_of(self._asked, say), self._echo(say, panel.text))
        self.query_one(Plan).show_view(plan_of(self.job, meaning, self._asked, typed=say.judged))
        told = meaning_of(self.job, meaning, self._asked)
        self.query_one(Outlook).show_view(OutlookView(_heading(meaning, self.job.meaning), told, self._coming))
        self._drawn = meaning
        self.call_after_refresh(self._show_beside)

    # Where there is room for more, it comes once the figures are on the screen, and is loaded for large windows only.

    async def _show_beside(self) -> None:
        """The vehicle from its side, as it would stand with what is typed."""
        beside = self.query_one("#beside")
        if beside.display and self._drawn is not None:
            from cornerwalk.tui.screens.drawing import DrawingScreen, live_scene
            from cornerwalk.tui.widgets.side import Side

            if not beside.children:
                await beside.mount(Side())
            scene = live_scene(self.job, self._drawn, in_hand(self.job.session, self._asked))
            beside.query_one(Side).show_scene(scene, DrawingScreen.alphabet)

    async def _show_below(self) -> None:
        """What was kept so far, which no key changes before Enter."""
        below = self.query_one("#so-far")
        if below.display:
            from cornerwalk.tui.widgets.paper import Paper

            if not below.children:
                await below.mount(Paper())
            below.query_one(Paper).show_blocks(so_far(self.job))

    @on(events.Resize)
    def room_changed(self) -> None:
        """There may be room for more now."""
        self.call_after_refresh(self._show_beside)
        self.call_after_refresh(self._show_below)

    def _echo(self, say: Reply, text: str) -> tuple[Notice, ...]:
        """What stands below the entry: what was said last, or what is understood, or why it is refused."""
        lines = tuple(Notice(line, part=part) for part, line in say.lines)
        if self._said is not None:
            return (self._said, *lines) if not text else (self._said,)
        if say.trouble and text.strip():
            if say.unfinished and text != self._refused_text:
                return (Notice("…", part="quiet"),)
            part = "caution" if text == self._refused_text else "quiet"
            hint = (Notice(tr("Tab writes {text}", text=say.suggestion), part="quiet"),) if say.suggestion else ()
            return (Notice(say.trouble, part=part), *hint)
        return lines

    # ---- the entry ----

    def typed(self, _text: str) -> None:
        """Say back what is typed."""
        self._said = None
        self._refused_text = None
        self.show_asked()

    def entered(self, text: str) -> None:
        """Do what the text says, or say why not."""
        say = self._reply()
        if say.trouble and not text.strip():
            self.refuse(say.trouble)
        elif say.trouble:
            self._refuse_typed(text)
        elif say.doubt and text != self._confirmed_text:
            self._confirmed_text = text
            self.refuse(doubt_words(say))
        elif say.opens:
            self.post_message(OpenPage(say.opens))
        elif not say.would:
            self._confirmed_text = None
            self._ask(say.then or asked_by(self.job.session), keeping="")
        else:
            self._keep(say, text)

    def _refuse_typed(self, text: str) -> None:
        self._refused_text = text
        self._said = None
        self.show_asked()
        self.ring()

    def _keep(self, say: Reply, text: str) -> None:
        self._confirmed_text = None
        if not self.record(say.would):
            return
        returning = isinstance(self._asked, NotePrompt | ReasonPrompt)
        keeping = text if say.keeps_text else (self._put_by if returning else "")
        self._turn_to(say.then or asked_by(self.job.session), keeping=keeping)
        self._said = self._said_back(say.would)
        self.show()

    def _said_back(self, kept: Sequence[Event]) -> Notice | None:
        """What was kept, in words; louder where the settings want it said back."""
        last, settings = kept[-1], self.job.context.settings
        if isinstance(last, StageBegun):
            return None
        what = self._height_said_back(last) if isinstance(last, HeightRead) else event_brief(self.job, last)
        return Notice(kept_words(self.job, what), part="due" if settings.say_back else "quiet")

    def _height_said_back(self, read: HeightRead) -> str:
        what = event_brief(self.job, read)
        result = self.job.assessment.stage((read.stage, read.number))
        delta = result.delta_mm[read.corner] if result is not None else None
        if self.job.context.settings.say_back and delta is not None and read.stage != REFERENCE_STAGE:
            what = f"{what}, {self.job.wording.change(delta)}"
        return what

    def pasted(self, text: str) -> None:
        """Lay several readings out over the corners, for a look."""
        values = values_in(text)
        if not isinstance(self._asked, HeightPrompt):
            self.refuse(tr("Several values were pasted, but no height is due now."))
        elif len(values) > len(self.job.session.job.order):
            self.refuse(tr("{count} values were pasted; a vehicle has four corners.", count=len(values)))
        else:
            self._ask(several(self.job.session, self._asked, values), keeping="")

    def _ask(self, asked: Prompt, *, keeping: str) -> None:
        """Ask another question."""
        self._turn_to(asked, keeping=keeping)
        self.show()

    def _turn_to(self, asked: Prompt, *, keeping: str) -> None:
        """Have another question asked with the next drawing."""
        self._asked = asked
        self._said = None
        self._refused_text = None
        self._confirmed_text = None
        self.query_one(Panel).put(keeping)

    def turn_to_due(self) -> None:
        """Have what the session asks for asked with the next drawing."""
        self._turn_to(asked_by(self.job.session), keeping="")

    def show_anew(self) -> None:
        """Another page may have begun a stage or handed the job over."""
        if self.job.session.last_seq != self._asked_at:
            self._asked = asked_by(self.job.session)
            self._said = None
        self.show()

    # ---- the keys ----

    @on(Plan.CornerChosen)
    def corner_clicked(self, message: Plan.CornerChosen) -> None:
        """Turn to the corner that was clicked."""
        stage = in_hand(self.job.session, self._asked)
        self._ask(reading_of(self.job.session, stage, message.corner), keeping="")

    def _turn_corner(self, step: Literal[1, -1]) -> None:
        self._ask(next_corner(self.job.session, self._asked, step), keeping="")

    def action_earlier_corner(self) -> None:
        """The corner before."""
        self._turn_corner(-1)

    def action_later_corner(self) -> None:
        """The corner after."""
        self._turn_corner(1)

    def _turn_stage(self, step: Literal[1, -1]) -> None:
        asked = next_stage(self.job.session, self._asked, step)
        self._ask(asked if asked is not None else asked_by(self.job.session), keeping="")

    def action_earlier_stage(self) -> None:
        """The stage before."""
        self._turn_stage(-1)

    def action_later_stage(self) -> None:
        """The stage after, and from the last one what is due."""
        self._turn_stage(1)

    def action_average(self) -> None:
        """Average the next reading with what stands here, or take it instead; at an open corner, the one read last."""
        self._turn(averaging(self.job, self._asked), keeping=self._text)

    def _turn(self, reply: Reply, *, keeping: str = "") -> None:
        """Turn to the question that follows, or say why not."""
        if reply.then is None:
            self.refuse(reply.trouble)
        else:
            self._ask(reply.then, keeping=keeping)

    @property
    def _text(self) -> str:
        return self.query_one(Panel).text

    def action_note(self) -> None:
        """Write a note about what is in hand; the typed text is put by."""
        current = self.job.session.current_stage
        stage = in_hand(self.job.session, self._asked) if current is not None else None
        self._put_by = self._text
        self._ask(NotePrompt(stage, corner_in_hand(self._asked)), keeping="")

    def action_skip(self) -> None:
        """Skip the corner in hand, with a reason."""
        self._put_by = ""
        self._turn(skipping(self._asked))

    def action_suggestion(self) -> None:
        """Write the likely meaning of what was refused."""
        say = self._reply()
        if say.suggestion:
            self._ask(self._asked, keeping=say.suggestion)

    def action_stage(self) -> None:
        """Begin another stage than the one that is due."""
        self._ask(stage_choice(self.job.session), keeping="")

    def action_read_on(self) -> None:
        """Show what is below the window."""
        self.scroll_relative(y=max(1, self.size.height // 2), animate=False)

    def action_read_back(self) -> None:
        """Show what is above it."""
        self.scroll_relative(y=-max(1, self.size.height // 2), animate=False)

    async def action_back(self) -> None:
        """Out of whatever was asked for, to what is due; from there, to the page before."""
        if self._text:
            self._ask(self._asked, keeping="")
        elif self._asked != asked_by(self.job.session):
            keeping = self._put_by
            self._put_by = ""
            self._ask(asked_by(self.job.session), keeping=keeping)
        else:
            await super().action_back()


def _heading(meaning: Meaning, kept: Meaning) -> Span:
    """Whether the results are those of what is kept, or of what is being typed."""
    if meaning is kept:
        return ("quiet", tr("what it means"))
    return ("due", tr("if you save this"))
