"""Chapter pages: the lines of a chapter at one side, the one that is asked at the other.

`OneChapterScreen` is a chapter of the job, `StageScreen` what belongs to one stage besides its heights.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import cast

from textual import on
from textual.app import App, ComposeResult
from textual.containers import Container

from cornerwalk.job.chapters import CHAPTER_KINDS
from cornerwalk.job.cursor import Cursor, latest_lines
from cornerwalk.job.dialog import MOST_AT_ONCE, Dialog, Outcome
from cornerwalk.job.notice import Notice, count_words
from cornerwalk.job.open_job import OpenJob
from cornerwalk.job.question import Part, Question
from cornerwalk.job.reply import Reply
from cornerwalk.job.stage import stage_heading, stage_in_place, stage_lines, stage_panel
from cornerwalk.session.stages import ChapterId
from cornerwalk.tui.keys import Places
from cornerwalk.tui.messages import OpenPage
from cornerwalk.tui.own_keys import key_shown
from cornerwalk.tui.screens.job_screen import AskingScreen
from cornerwalk.tui.widgets.lists import LineList, ListLine
from cornerwalk.tui.widgets.prose import Prose, Ruler
from cornerwalk.tui.widgets.question import AnswerChoice, Asker, AskerView
from cornerwalk.tui.widgets.rows import Scroll
from cornerwalk.words import tr

WALK_PAGE = "walk"


class ChapterScreen(AskingScreen):
    """Asks the lines of a chapter one after the other. A subclass says which: `lines`, `panel`, `title`."""

    CSS_PATH = "chapter.tcss"
    AUTO_FOCUS = "Asker"
    places: Places = ("everywhere", "job", "chapter")

    def __init__(self, job: OpenJob) -> None:
        super().__init__(job)
        self.dialog = self.begin()

    @property
    def course(self) -> Cursor:
        """Where it is in the chapter."""
        return self.dialog.cursor

    def begin(self) -> Dialog:
        """The lines from where they were left."""
        return Dialog(self.job, self.title_words, self.lines, self.latest())

    # ---- what a subclass says ----

    @property
    def title_words(self) -> str:
        """The name of the chapter."""
        raise NotImplementedError

    def lines(self) -> tuple[Question, ...]:
        """Its lines as the job stands."""
        raise NotImplementedError

    def latest(self) -> Iterator[str]:
        """The lines as they were answered, the last one first."""
        return latest_lines(self.job.events)

    def panel(self) -> tuple[Notice, ...]:
        """What they come to."""
        return ()

    # ---- the page ----

    @property
    def help_text(self) -> tuple[str, ...]:
        """The question in hand, then how a chapter goes."""
        return (
            *filter(None, (self.dialog.help(),)),
            tr("One question at a time. A choice is taken by its number, its letter or a click; a text by Enter."),
            tr("Enter alone leaves a question as is. ↑↓ goes to any line, PgUp and PgDn to the next heading. "
                "Nothing here has to be answered; what skipping costs is shown below the question."),
            tr("{out_key} takes an answer out, {note_key} writes a note beside it. Every answer is on disk before the "
               "next question.", out_key=key_shown("chapter.take-out"), note_key=key_shown("chapter.note")),
        )  # fmt: skip

    def compose_page(self) -> ComposeResult:
        """Heading, list and question, what it comes to."""
        yield Ruler(id="where")
        with Container(id="chapter"):
            with Scroll(id="work"):
                yield Asker(typed=self.typed, entered=self.entered, chosen=self.chosen, id="asker")
            with Scroll(id="beside"):
                yield LineList(id="lines")
        with Scroll(id="foot"):
            yield Prose(id="panel")

    def show(self) -> None:
        """Draw all of it, as the job stands."""
        self.course.refresh()
        self.show_listed()

    def show_listed(self) -> None:
        """Draw all of it, the lines as they were listed last."""
        super().show()
        total = len(self.course.lines)
        counted = count_words(total - self.course.open_lines, total)
        self.query_one("#where", Ruler).say(("quiet", counted), ("due", self.title_words))
        listed = tuple(ListLine(line.id, line.name, line.stands, line.mark, line.group) for line in self.course.lines)
        self.query_one(LineList).show_lines(listed, self.course.line.id if self.course.line is not None else "")
        self.show_earlier()
        self.show_asked()

    def show_earlier(self) -> None:
        """In what the chapter comes to."""
        panel = self.panel()
        self.query_one("#panel", Prose).paragraphs = panel
        self.query_one("#foot").display = bool(panel)

    def show_asked(self) -> None:
        """Draw the question in hand, and what is typed as its answer."""
        asker = self.query_one(Asker)
        line, part = self.dialog.line, self.dialog.part
        if line is None or part is None:
            asker.show_view(self._end())
            return
        text = asker.text
        say = self.dialog.reply(text) if text.strip() and not part.options else Reply()
        asker.show_view(_view_of(line, part, say, text, self._said, stopped=self.dialog.is_stopped()))
        self.query_one("#work").scroll_home(animate=False)

    def _end(self) -> AskerView:
        """The end of the chapter: what was left open, and where Enter leads."""
        left = self.course.open_lines
        words = self.dialog.end_words() if not left else tr("{count} left open; ↑ goes back to them.", count=left)
        echo = (self._said,) if self._said is not None else ()
        on = (Notice(tr("Enter: next step."), part="due"),)
        return AskerView(title=self.title_words, question=words, typing=False, echo=echo, about=on)

    # ---- answers ----

    def typed(self, text: str) -> None:
        """Take a choice at its digit or letter; say back a text."""
        self._said = None
        part = self.dialog.part
        if part is not None and part.options and len(part.options) <= MOST_AT_ONCE and text:
            self.query_one(Asker).put("")
            self._follow(self.dialog.choose(text))
        else:
            self.show_asked()

    def chosen(self, number: str) -> None:
        """A choice that was clicked."""
        self._follow(self.dialog.choose(number))

    def entered(self, text: str) -> None:
        """Keep what is typed; with nothing typed go on, and leave what stands."""
        self._said = None
        outcome = self.dialog.enter(text)
        if outcome.over:
            self.app.pop_screen()
        else:
            self._follow(outcome)

    def _follow(self, outcome: Outcome) -> None:
        """Show what an answer did, or the page that it leads to."""
        if outcome.trouble and not outcome.recorded:
            self.refuse(outcome.trouble)
            return
        self.query_one(Asker).put("")
        self._said = outcome.said or self._said
        if outcome.trouble:
            self._said = Notice(outcome.trouble, part="caution")
            self.ring()
        if outcome.stopped:
            self.app.bell()
        if outcome.opens == WALK_PAGE:
            to_walk(self.app)
        elif outcome.opens:
            self.post_message(OpenPage(outcome.opens))
        else:
            self.show_listed()

    # ---- keys ----

    @on(LineList.Chosen)
    def line_clicked(self, message: LineList.Chosen) -> None:
        """Ask the line that was clicked."""
        message.stop()
        self._turn(lambda: self.course.go(message.line_id))

    def _turn(self, how: Callable[[], None]) -> None:
        self._said = None
        self.query_one(Asker).put("")
        self.dialog.turn(how)
        self.show_listed()

    def action_earlier_line(self) -> None:
        """The line above."""
        self._turn(lambda: self.course.turn(-1))

    def action_later_line(self) -> None:
        """The line below."""
        self._turn(lambda: self.course.turn(1))

    def action_earlier_group(self) -> None:
        """The heading above."""
        self._turn(lambda: self.course.turn_group(-1))

    def action_later_group(self) -> None:
        """The heading below."""
        self._turn(lambda: self.course.turn_group(1))

    def action_read_on(self) -> None:
        """Scroll what is asked, in a window too small for all of it; then what it comes to."""
        work = self.query_one("#work")
        below = work if work.scroll_offset.y < work.max_scroll_y else self.query_one("#foot")
        below.scroll_relative(y=3, animate=False)

    def action_read_back(self) -> None:
        """Scroll back."""
        foot = self.query_one("#foot")
        above = foot if foot.scroll_offset.y > 0 else self.query_one("#work")
        above.scroll_relative(y=-3, animate=False)

    def action_take_out(self) -> None:
        """Take the answer in hand out again."""
        self._follow(self.dialog.take_out())

    def action_note(self) -> None:
        """Write a note beside the line in hand, or about the job."""
        self.dialog.note()
        self.query_one(Asker).put("")
        self._said = None
        self.show_asked()

    async def action_back(self) -> None:
        """Out of what is typed, then out of the line, then to the page before."""
        asker = self.query_one(Asker)
        if asker.text or self.dialog.noting:
            if self.dialog.noting:
                self.dialog.drop()
            asker.put("")
            self._said = None
            self.show()
        elif self.dialog.drop():
            self.show_listed()
        else:
            await super().action_back()


def to_walk(app: App[object]) -> None:
    """Back to the heights, the first page of a job."""
    from cornerwalk.tui.screens.walk import WalkScreen

    while len(app.screen_stack) > 2 and not isinstance(app.screen, WalkScreen):
        app.pop_screen()


def _view_of(line: Question, part: Part, say: Reply, text: str, said: Notice | None, *, stopped: bool) -> AskerView:
    """The question in hand as it is drawn."""
    echo = [said] if said is not None else []
    echo += [Notice(told, part=kind) for kind, told in say.lines]
    if say.trouble and text.strip():
        echo.append(Notice(say.trouble, part="quiet"))
    standing = part.stands
    if standing and not part.options and not text:
        echo.append(Notice(tr("Now {value}; what you type replaces it.", value=standing), part="quiet"))
    about = [Notice(told, part="quiet") for told in part.told]
    if line.why:
        about.append(Notice(line.why, tr("Why"), "quiet"))
    if line.costs and line.mark == "open":
        about.append(Notice(line.costs, tr("Skip"), "quiet"))
    return AskerView(
        title=line.group,
        context=line.stands,
        question=part.question,
        caution=line.caution,
        alarm=stopped,
        choices=tuple(AnswerChoice(o.number, o.text, stands=o.value == standing) for o in part.options),
        typing=not part.options or len(part.options) > MOST_AT_ONCE,
        hint="" if part.options else part.hint,
        large=say.large,
        echo=tuple(echo),
        about=tuple(about),
    )


class OneChapterScreen(ChapterScreen):
    """Asks what a chapter of the job asks, as its row in `job.chapters` has it."""

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


class StageScreen(ChapterScreen):
    """Conditions, the mark on the wall, the headlamp leveller of a stage: that in hand, or by the page keys another."""

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
