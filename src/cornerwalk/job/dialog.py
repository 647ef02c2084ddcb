"""Dialog: the questions of a chapter being answered, one at a time; what a typed text does there.

A skin shows `line` and `part`, hands over what is typed, and shows the outcome.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from cornerwalk.job.cursor import Cursor
from cornerwalk.job.notice import Notice
from cornerwalk.job.open_job import OpenJob
from cornerwalk.job.question import Part, Question, Texts, Troubles, one, trouble_of
from cornerwalk.job.record import event_brief, kept_words, record
from cornerwalk.job.reply import Reply
from cornerwalk.session.events import Event
from cornerwalk.session.walk import write_note
from cornerwalk.wording.facts import fact_help
from cornerwalk.words import capital, tr

MOST_AT_ONCE = 9
"""Choices up to this many are taken by their digit alone; of more the number is typed and Enter pressed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What an answer did.

    Attributes:
        trouble: why it was not taken, "" where it was.
        recorded: what was recorded, and `meant` what that was understood to be.
        said: what to tell about it.
        opens: the page it leads to, by its control.
        stopped: the answer is one that ends the job.
        over: there was nothing left to answer; the chapter is left.
    """

    trouble: str = ""
    recorded: tuple[Event, ...] = ()
    meant: str = ""
    said: Notice | None = None
    opens: str = ""
    stopped: bool = False
    over: bool = False


class Dialog:
    """A way through questions, with what was answered of the one in hand.

    Attributes:
        cursor: where it is.
    """

    def __init__(
        self, job: OpenJob, title: str, lines: Callable[[], tuple[Question, ...]], latest: Iterable[str] = ()
    ) -> None:
        """Go on after the line that was answered last: `latest` are ids as they were answered, the last one first."""
        self.cursor = Cursor(lines, latest)
        self._job = job
        self._title = title
        self._noting: Question | None = None

    @property
    def line(self) -> Question | None:
        """The line in hand, or the note that is written beside it; None at the end."""
        return self._noting or self.cursor.line

    @property
    def part(self) -> Part | None:
        """The question in hand; None at the end."""
        return self._noting.part(()) if self._noting is not None else self.cursor.part

    @property
    def noting(self) -> bool:
        """Whether a note is being written."""
        return self._noting is not None

    def help(self) -> str:
        """The line in hand explained; "" at the end."""
        line = self.cursor.line
        if line is None:
            return ""
        about = " ".join(filter(None, (fact_help(line.id), line.why, line.costs)))
        return tr("{what}: {about}", what=capital(line.name), about=about)

    def opening(self) -> tuple[Notice, ...]:
        """What to know before answering: the caution at its step, then what belongs to the question."""
        line, part = self.line, self.part
        if line is None or part is None:
            return ()
        care = (Notice(line.caution, tr("Safety"), "caution", "caution"),) if line.caution and not self._given else ()
        return (*care, *(Notice(told) for told in part.told))

    def end_words(self) -> str:
        """What is said at the end."""
        left = self.cursor.open_lines
        return tr("{count} left open.", count=left) if left else tr("That is all of this chapter.")

    def reply(self, text: str) -> Reply:
        """What a text means as the answer to the question in hand."""
        line = self.line
        return line.keeps((*self._given, text)) if line is not None else Reply()

    @property
    def _given(self) -> Texts:
        return () if self._noting is not None else self.cursor.given

    def is_stopped(self) -> bool:
        """Whether the answer in hand is one that ends the job."""
        line = self.line
        return line is not None and self._ends_the_job(line)

    def _ends_the_job(self, line: Question) -> bool:
        return any(each.id == line.id and each.mark == "stop" for each in self.cursor.lines)

    # ---- answers ----

    def enter(self, text: str) -> Outcome:
        """Take what is typed; with nothing typed go on, and leave what stands."""
        line, part = self.line, self.part
        if line is None or part is None:
            return Outcome(over=True)
        if text.strip():
            return self.choose(text) if part.options else self.take(text)
        if self._noting is not None:
            self._noting = None
        elif self.cursor.given or part.goes_on or (line.walks_on and part.stands):
            return self.take(part.stands)
        else:
            self.cursor.pass_over()
        return Outcome()

    def choose(self, typed: str) -> Outcome:
        """Take the option that is meant: by its number, its letter or its words; a remark may follow."""
        part = self.part
        found = part.option_and_remark(typed) if part is not None else None
        if part is None or found is None or (found[1] and not part.remark):
            return Outcome(trouble=_choices(part))
        return self.take(found[0].value, *filter(None, found[1:]))

    def take(self, *texts: str) -> Outcome:
        """Record an answer and go on to the next question; a remark may come with a choice."""
        line = self.line
        reply = line.keeps((*self._given, *texts)) if line is not None else Reply()
        if line is None or reply.trouble:
            return Outcome(trouble=reply.trouble)
        if reply.would and (trouble := record(self._job, reply.would)):
            return Outcome(trouble=trouble)
        said = self._kept(reply.would) if reply.would else None
        if self._noting is not None:
            self._noting = None
            self.cursor.refresh()
            return Outcome(recorded=reply.would, said=said)
        try:
            said = self._done(line, (*self._given, *texts)) or said
        except Troubles as error:
            self.cursor.refresh()
            return Outcome(trouble=trouble_of(error), recorded=reply.would)
        for text in texts:
            if self.cursor.line is not line:
                break
            self.cursor.answer(text)
        if self.cursor.given:
            self.cursor.refresh()
        stopped = bool(reply.would) and self._ends_the_job(line)
        return Outcome(recorded=reply.would, meant=reply.meant, said=said, opens=reply.opens, stopped=stopped)

    def _kept(self, would: tuple[Event, ...]) -> Notice:
        loud = self._job.context.settings.say_back
        return Notice(kept_words(self._job, event_brief(self._job, would[-1])), part="due" if loud else "quiet")

    def _done(self, line: Question, texts: Texts) -> Notice | None:
        """Do what a line does besides recording, once it is answered."""
        if line.does is None or line.part(texts) is not None:
            return None
        return Notice(line.does(texts), part="due")

    # ---- besides answering ----

    def note(self) -> None:
        """Ask for a note beside the line in hand, or about the job."""
        line = self.cursor.line
        about = line.name if line is not None else self._title
        writes = line.note if line is not None else None

        def keeps(texts: Texts) -> Reply:
            if writes is not None:
                return writes(texts[0])
            return Reply(would=write_note(self._job.session, f"{about}: {texts[0]}"))

        hint = tr("Enter saves it, {key} cancels", key=self._job.control("app.back"))
        part = Part(question=tr("Note about: {what}", what=about), hint=hint, words=True)
        self._noting = Question(id="note", name=about, group=self._title, part=one(part), keeps=keeps)

    def take_out(self) -> Outcome:
        """Take the answer in hand out again."""
        line = self.cursor.line
        if line is None or not line.takes_out:
            return Outcome(trouble=tr("Nothing here can be removed; give the answer again instead."))
        if trouble := record(self._job, line.takes_out):
            return Outcome(trouble=trouble)
        self.cursor.drop()
        return Outcome(recorded=line.takes_out, said=Notice(tr("Taken out: {what}.", what=line.name)))

    def drop(self) -> bool:
        """Begin the line in hand again, without the note; whether anything was dropped."""
        if self._noting is not None:
            self._noting = None
            return True
        return self.cursor.drop()

    def turn(self, how: Callable[[], None]) -> None:
        """Go to another line."""
        self._noting = None
        how()


def _choices(part: Part | None) -> str:
    if part is None or len(part.options) > MOST_AT_ONCE:
        return tr("Choose one of the numbers.")
    return tr("Choose by number: {choices}.", choices=", ".join(f"{each.number} {each.text}" for each in part.options))
