"""A chapter of the job: its lines at one side, the one that is asked at the other."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from textual import on
from textual.app import App, ComposeResult
from textual.containers import Container

from cornerwalk.job.cursor import Cursor, latest_lines
from cornerwalk.job.notice import Notice
from cornerwalk.job.open_job import OpenJob
from cornerwalk.job.question import Part, Question, Troubles, one, trouble_of
from cornerwalk.job.reply import Reply
from cornerwalk.session.walk import write_note
from cornerwalk.tui.keys import Places
from cornerwalk.tui.messages import OpenPage
from cornerwalk.tui.own_keys import key_shown
from cornerwalk.tui.screens.base import JobScreen
from cornerwalk.tui.widgets.asker import AnswerChoice, Asker, Inquiry
from cornerwalk.tui.widgets.line_list import LineList, Listed
from cornerwalk.tui.widgets.prose import Prose
from cornerwalk.tui.widgets.ruler import Ruler
from cornerwalk.tui.widgets.scroll import Scroll
from cornerwalk.wording.events import event_words
from cornerwalk.words import capital, tr
from cornerwalk.words.fact_help import help_of

MOST_AT_ONCE = 9
"""Choices up to this many are taken by their digit alone; of more the number is typed and Enter pressed."""

WALK_PAGE = "walk"


class ChapterScreen(JobScreen):
    """Asks the lines of a chapter one after the other. A subclass says which: `lines`, `panel`, `title`."""

    CSS_PATH = "chapter.tcss"
    AUTO_FOCUS = "Asker"
    places: Places = ("everywhere", "job", "chapter")

    def __init__(self, job: OpenJob) -> None:
        super().__init__(job)
        self.course = Cursor(self.lines, self.latest())
        self._said: Notice | None = None
        self._noting: Question | None = None

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
            *self._about_asked(),
            tr("One question at a time. A choice is taken by its number, its letter or a click; a text by Enter."),
            tr("Enter alone leaves a question as it is and goes on. ↑↓ goes to any line, PgUp and PgDn to the next "
               "heading. Nothing here has to be answered; what leaving it out costs stands below the question."),
            tr("{out_key} takes an answer out, {note_key} writes a note beside it. Every answer is on disk before the "
               "next question.", out_key=key_shown("chapter.take-out"), note_key=key_shown("chapter.note")),
        )  # fmt: skip

    def _about_asked(self) -> tuple[str, ...]:
        line = self.course.line
        if line is None:
            return ()
        about = (help_of(line.id), line.why, line.costs)
        return (tr("{what}: {about}", what=capital(line.name), about=" ".join(filter(None, about))),)

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
        super().show()
        self.course.refresh()
        counted = tr(
            "{done} of {total}", done=len(self.course.lines) - self.course.open_lines, total=len(self.course.lines)
        )
        self.query_one("#where", Ruler).say(("quiet", counted), ("due", self.title_words))
        listed = tuple(Listed(line.id, line.name, line.stands, line.mark, line.group) for line in self.course.lines)
        self.query_one(LineList).show_lines(listed, self.course.line.id if self.course.line is not None else "")
        self.show_earlier()
        self._show_asked()

    def show_earlier(self) -> None:
        """In what the chapter comes to."""
        panel = self.panel()
        self.query_one("#panel", Prose).paragraphs = panel
        self.query_one("#foot").display = bool(panel)

    def _show_asked(self) -> None:
        """Draw the question in hand, and what is typed as its answer."""
        asker = self.query_one(Asker)
        line, part = self._in_hand()
        if line is None or part is None:
            asker.ask(self._end(), hint="")
            return
        text = asker.text
        say = self._say(text) if text.strip() and not part.options else Reply()
        inquiry = _inquiry(line, part, say, text, self._said, stopped=self._stopped(line))
        asker.ask(inquiry, hint="" if part.options else part.hint)
        self.query_one("#work").scroll_home(animate=False)

    def _stopped(self, line: Question) -> bool:
        """The answer in hand is one that ends the job."""
        return any(each.id == line.id and each.mark == "stop" for each in self.course.lines)

    def _in_hand(self) -> tuple[Question | None, Part | None]:
        if self._noting is not None:
            return self._noting, self._noting.part(())
        return self.course.line, self.course.part

    def _end(self) -> Inquiry:
        """The end of the chapter: what was left open, and where Enter leads."""
        left = self.course.open_lines
        words = (
            tr("That is all of this chapter.")
            if not left
            else tr("{count} left open; ↑ goes back to them.", count=left)
        )
        echo = (self._said,) if self._said is not None else ()
        on = (Notice(tr("Enter: the job, and what comes next."), part="due"),)
        return Inquiry(title=self.title_words, question=words, typing=False, echo=echo, about=on)

    def tell(self, text: str, part: str = "ink") -> None:
        """Below the question, where the eyes are, until the next key."""
        self._said = Notice(text, part=part) if text else None
        self._show_asked()

    # ---- answers ----

    def typed(self, text: str) -> None:
        """Take a choice at its digit or letter; say back a text."""
        self._said = None
        _, part = self._in_hand()
        if part is not None and part.options and len(part.options) <= MOST_AT_ONCE and text:
            option = part.option(text)
            self.query_one(Asker).text = ""
            if option is None:
                keys = ", ".join(f"{each.number} {each.text}" for each in part.options)
                self.refuse(tr("Choose by number: {choices}.", choices=keys))
            else:
                self._answer(option.value)
            return
        self._show_asked()

    def chosen(self, number: str) -> None:
        """A choice that was clicked."""
        _, part = self._in_hand()
        option = part.option(number) if part is not None else None
        if option is not None:
            self._answer(option.value)

    def entered(self, text: str) -> None:
        """Keep what is typed; with nothing typed go on, and leave what stands."""
        line, part = self._in_hand()
        self._said = None
        if line is None or part is None:
            self.app.pop_screen()
        elif text.strip() and part.options:
            option = part.option(text)
            if option is None:
                self.refuse(tr("Choose one of the numbers."))
            else:
                self._answer(option.value)
        elif text.strip():
            self._answer(text)
        elif self._noting is not None:
            self._put_note_away()
        elif self.course.given or part.goes_on or (line.walks_on and part.stands):
            self._answer(part.stands)
        else:
            self.course.pass_over()
            self.show()

    def _say(self, text: str) -> Reply:
        line, _ = self._in_hand()
        if line is None:
            return Reply()
        return line.keeps((*(() if self._noting is not None else self.course.given), text))

    def _answer(self, text: str) -> None:
        """Record an answer and go on to the next question."""
        line, _ = self._in_hand()
        say = self._say(text)
        if line is None or say.trouble:
            self.refuse(say.trouble)
            return
        if not self._record(say):
            return
        self.query_one(Asker).text = ""
        if say.would:
            self._said = self._kept(say)
        if self._noting is not None:
            self._put_note_away()
            return
        if not self._done(line, text):
            return
        self.course.answer(text)
        self._after_answer(line, say)

    def _record(self, say: Reply) -> bool:
        self.course.keeping = True
        try:
            return not say.would or self.record(say.would)
        finally:
            self.course.keeping = False

    def _done(self, line: Question, text: str) -> bool:
        """Do what a line does besides recording, once it is answered; whether that went well."""
        texts = (*self.course.given, text)
        if line.does is None or line.part(texts) is not None:
            return True
        try:
            self._said = Notice(line.does(texts), part="due")
        except Troubles as error:
            self.refuse(trouble_of(error))
            return False
        return True

    def _after_answer(self, line: Question, say: Reply) -> None:
        self.show()
        if say.would and self._stopped(line):
            self.app.bell()
        if say.opens == WALK_PAGE:
            to_walk(self.app)
        elif say.opens:
            self.post_message(OpenPage(say.opens))

    def _kept(self, say: Reply) -> Notice:
        what = event_words(say.would[-1])
        on_disk = self.job.not_on_disk is None
        text = tr("kept: {what}", what=what) if on_disk else tr("not on disk: {what}", what=what)
        return Notice(text, part="due" if self.job.context.settings.say_back else "quiet")

    # ---- keys ----

    @on(LineList.Chosen)
    def line_clicked(self, message: LineList.Chosen) -> None:
        """Ask the line that was clicked."""
        message.stop()
        self._turn(lambda: self.course.go(message.line_id))

    def _turn(self, how: Callable[[], None]) -> None:
        self._said = None
        self._noting = None
        self.query_one(Asker).text = ""
        how()
        self.show()

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
        line = self.course.line
        if line is None or not line.takes_out:
            self.refuse(tr("There is nothing here that could be taken out; an answer is given anew instead."))
        elif self.record(line.takes_out):
            self.course.drop()
            self.show()
            self.tell(tr("Taken out: {what}.", what=line.name))

    def action_note(self) -> None:
        """Write a note beside the line in hand, or about the job."""
        line = self.course.line
        about = line.name if line is not None else self.title_words
        writes = line.note if line is not None else None

        def keeps(texts: tuple[str, ...]) -> Reply:
            return (
                writes(texts[0])
                if writes is not None
                else Reply(would=write_note(self.job.session, f"{about}: {texts[0]}"))
            )

        part = Part(question=tr("Note about: {what}", what=about), hint=tr("Enter keeps it, Esc drops it"))
        self._noting = Question(id="note", name=about, group=self.title_words, part=one(part), keeps=keeps)
        self.query_one(Asker).text = ""
        self._said = None
        self._show_asked()

    def _put_note_away(self) -> None:
        self._noting = None
        self.show()

    async def action_back(self) -> None:
        """Out of what is typed, then out of the line, then to the page before."""
        asker = self.query_one(Asker)
        if asker.text or self._noting is not None:
            asker.text = ""
            self._said = None
            self._put_note_away()
        elif self.course.drop():
            self.show()
        else:
            await super().action_back()


def to_walk(app: App[object]) -> None:
    """Back to the heights, the first page of a job."""
    from cornerwalk.tui.screens.walk import WalkScreen

    while len(app.screen_stack) > 2 and not isinstance(app.screen, WalkScreen):
        app.pop_screen()


def _inquiry(line: Question, part: Part, say: Reply, text: str, said: Notice | None, *, stopped: bool) -> Inquiry:
    """The question in hand as it is drawn."""
    echo = [said] if said is not None else []
    echo += [Notice(told, part=kind) for kind, told in say.lines]
    if say.trouble and text.strip():
        echo.append(Notice(say.trouble, part="quiet"))
    standing = part.stands
    if standing and not part.options and not text:
        echo.append(Notice(tr("{value} stands here; what you type takes its place.", value=standing), part="quiet"))
    about = [Notice(told, part="quiet") for told in part.told]
    if line.why:
        about.append(Notice(line.why, tr("Why"), "quiet"))
    if line.costs and line.mark == "open":
        about.append(Notice(line.costs, tr("Skip"), "quiet"))
    return Inquiry(
        title=line.group,
        context=line.stands,
        question=part.question,
        caution=line.caution,
        alarm=stopped,
        choices=tuple(AnswerChoice(o.number, o.letter, o.text, stands=o.value == standing) for o in part.options),
        typing=not part.options or len(part.options) > MOST_AT_ONCE,
        large=say.large,
        echo=tuple(echo),
        about=tuple(about),
    )
