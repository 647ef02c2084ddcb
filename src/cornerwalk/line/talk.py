"""Job talk: one open job line by line; what is asked now, what is said to an answer, and where it goes on.

Nothing is said to be kept before it is on the disk. What is answered half when the program ends (a load without its
place) was never said to be kept and is asked again.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from threading import Thread

from cornerwalk.assess.assessment import Assessment
from cornerwalk.job.chapters import CHAPTER_KINDS, chapter_dialog, chapter_to_open, dialog_at
from cornerwalk.job.checks import checklists_of
from cornerwalk.job.dialog import Dialog
from cornerwalk.job.hints import last_time, own_placing
from cornerwalk.job.news import new_findings, stage_news
from cornerwalk.job.notice import Notice, count_words
from cornerwalk.job.open_job import OpenJob
from cornerwalk.job.prompt_words import coming, help_on, job_title, to_do
from cornerwalk.job.prompts import (
    HeightPrompt,
    NotePrompt,
    Prompt,
    ReasonPrompt,
    StageChoicePrompt,
    asked_by,
    in_hand,
    prompt_answered_by,
)
from cornerwalk.job.question import Question
from cornerwalk.job.record import event_brief, kept_word, record, redo, undo, undone_by
from cornerwalk.job.reply import Reply
from cornerwalk.job.shortcuts import Shortcut
from cornerwalk.job.walk_replies import doubt_words, reply_to
from cornerwalk.line.printer import (
    document_lines,
    notice_lines,
    options_lines,
    prompt_line,
    question_line,
    recorded_lines,
    state_line,
)
from cornerwalk.session import events as happened
from cornerwalk.session.log import active_events, redoable, undoable
from cornerwalk.session.stages import ChapterId
from cornerwalk.store import StoreError
from cornerwalk.wording.findings import refused_rules
from cornerwalk.wording.names import job_name
from cornerwalk.words import capital, tr
from cornerwalk.words.safe import harmless

_LEAVES_WITHIN_S = 5.0
"""Longer than a file takes, unless its disk no longer answers; nobody is kept from leaving by that."""


class JobTalk:
    """One job: either the walk asks (`prompt`), or a dialog does.

    Attributes:
        job: the job.
        prompt: what the walk asks.
        dialog: the questions gone through besides; None on the walk.
        refused: the last line was not taken.
        done: the user has left.
    """

    def __init__(self, job: OpenJob) -> None:
        self.job = job
        self.prompt: Prompt = asked_by(job.session)
        self.dialog: Dialog | None = None
        self.refused = False
        self.done = False
        self._whole = False
        self._then: Callable[[str], list[str]] | None = None
        self._doubted: tuple[str, Reply] | None = None
        self._explained: set[tuple[object, ...]] = set()
        self._told: set[str] = set()
        self._known_cautions: set[str] = set()
        self._group = ""
        self._options: list[str] = []
        self._asked: object = None
        self._warned_of_loss = False
        self._asking: Thread | None = None
        self._resume()

    # ---- what is asked ----

    def greeting(self) -> list[str]:
        """Which job, since when it is kept, what is running, and what comes before the first question."""
        kind = job_name(self.job.session.job.kind)
        said = [tr("{title}, {kind}. help tells every word.", title=job_title(self.job), kind=kind)]
        if self.job.session.stages or self.job.not_on_disk is not None or self.job.file.read_only:
            said.append(state_line(self.job))
        said += filter(None, (refused_rules(self.job.standards),))
        said += notice_lines(CHAPTER_KINDS["leak"].panel(self.job))
        return self.finished(said)

    def line(self) -> str:
        """The question now."""
        dialog = self.dialog
        if dialog is None or dialog.part is None:
            asked = prompt_line(self.job, self.prompt)
        else:
            ids = [line.id for line in dialog.cursor.lines]
            here = ids.index(dialog.line.id) + 1 if dialog.line is not None and dialog.line.id in ids else 0
            asked = question_line(dialog.part, count_words(here, len(ids)) if here and len(ids) > 1 else "")
        return harmless(asked if self.job.not_on_disk is None else f"{kept_word(self.job)[1]}. {asked}")

    @property
    def takes_words(self) -> bool:
        """Whether any words may be the answer, so that only a lone word of the vocabulary is taken for one."""
        if self.dialog is None or self.dialog.part is None:
            return isinstance(self.prompt, ReasonPrompt | NotePrompt)
        return self.dialog.part.words

    def finished(self, said: Sequence[str]) -> list[str]:
        """What was said, then what comes before the next question, then what earlier jobs have to say."""
        told = [*said, *self._opening()] if not self.done else list(said)
        if not self.done:
            self._ask_earlier()
            told += self._hints()
        return [harmless(each) for each in told]

    def _opening(self) -> list[str]:
        dialog = self.dialog
        here = self.prompt if dialog is None else (dialog.line, len(dialog.cursor.given), dialog.noting)
        if here == self._asked:
            return []
        self._asked = here
        return self.explained() if dialog is None else self._questions_opening(dialog)

    def explained(self, *, again: bool = False) -> list[str]:
        """What is said before a prompt: of a stage once, and of every way back to it only what Enter does."""
        asked, said = self.prompt, []
        empty = reply_to(self.job, asked, "")
        here = (type(asked), in_hand(self.job.session, asked), getattr(asked, "optional", None))
        if again or here not in self._explained:
            self._explained.add(here)
            said += notice_lines(self._fresh(coming(self.job, asked), again=again))
            said += filter(None, (to_do(asked), empty.enter))
        elif not isinstance(asked, HeightPrompt) or asked.how != "first":
            said += filter(None, (empty.enter,))
        return [*(text for _, text in empty.beside), *said]

    def _fresh(self, notices: Iterable[Notice], *, again: bool = False) -> list[Notice]:
        """Without what earlier jobs said already."""
        hints = {notice.text for notice in (*last_time(self.job), *own_placing(self.job))}
        fresh = [notice for notice in notices if again or notice.text not in hints & self._told]
        self._told.update(notice.text for notice in fresh)
        return fresh

    def _questions_opening(self, dialog: Dialog) -> list[str]:
        line, part, said = dialog.line, dialog.part, []
        if line is None or part is None:
            return []
        if line.group != self._group and not dialog.noting:
            self._group = line.group
            said.append(f"{line.group}:")
        said += notice_lines(dialog.opening())
        options = options_lines(part)
        if options and options != self._options:
            said += options
        self._options = options or self._options
        return said

    # ---- answers ----

    def follow(self) -> list[str]:
        """Bring what the program that writes a followed job has kept meanwhile."""
        if not self.job.file.read_only:
            return []
        try:
            if self.job.look_again() and self.dialog is None:
                self.prompt = asked_by(self.job.session)
        except StoreError as error:
            return [tr(error.template, **error.fields)]
        return []

    def answer(self, text: str) -> list[str]:
        """What is said to a text without blanks around it; whatever that says is kept is on the disk by then."""
        doubted, self._doubted = self._doubted, None
        if doubted is not None and text in ("", doubted[0]):
            return self._keep(doubted[1])
        return self.walk_answer(text) if self.dialog is None else self._dialog_answer(self.dialog, text)

    def forget_doubt(self) -> None:
        """Something else was said."""
        self._doubted = None

    def refuse(self, why: str) -> list[str]:
        """Not taken, and why."""
        self.refused = True
        return [why]

    def walk_answer(self, text: str) -> list[str]:
        """A text as the answer to the prompt; Enter alone leaves one that was asked for."""
        if not text and isinstance(self.prompt, ReasonPrompt | NotePrompt | StageChoicePrompt):
            self.walk()
            return []
        reply = reply_to(self.job, self.prompt, text)
        if reply.trouble:
            return self.refuse(reply.trouble)
        if text and (reply.opens or reply.keeps_text):
            return self.refuse(reply_to(self.job, self.prompt, "").enter)
        if reply.doubt or reply.loses:
            self._doubted = (text, reply)
            return self.refuse(f"{capital(event_brief(self.job, reply.would[-1]))}. {doubt_words(reply)}")
        return self._keep(reply)

    def _keep(self, reply: Reply) -> list[str]:
        """Do what a reply asks for, and go on to what follows."""
        if reply.opens:
            return self.onward()
        said = self.control(reply) if reply.would else []
        if not self.refused or self.job.not_on_disk is not None:
            self.walk(reply.then)
        return said

    def control(self, reply: Reply) -> list[str]:
        """Do what a reply asks for; the question stays."""
        before = self.job.assessment
        trouble = reply.trouble or (record(self.job, reply.would) if reply.would else "")
        if trouble:
            return self.refuse(trouble)
        if not reply.would:
            return [reply.told]
        if all(isinstance(what, happened.Undone) for what in reply.would):
            return [f"{reply.told} {state_line(self.job)}", *self._news(before, reply.would)]
        told = recorded_lines(self.job, reply.would, reply.meant, [text for _, text in reply.beside])
        return [*told, *filter(None, (reply.told,)), *self._news(before, reply.would)]

    def _news(self, before: Assessment, events: Sequence[happened.Event]) -> list[str]:
        """What it changed: new findings, and what a stage came to once it is done."""
        self.refused = self.job.not_on_disk is not None
        fresh, last = new_findings(before, self.job, self._known_cautions), events[-1]
        told = list(fresh)
        if isinstance(last, happened.HeightRead | happened.CornerSkipped):
            stage = self.job.session.stage((last.stage, last.number))
            if stage is not None and stage.complete:
                told += stage_news(self.job, stage.key, with_check=not fresh)
        return notice_lines(told)

    def _dialog_answer(self, dialog: Dialog, text: str) -> list[str]:
        line, part, then = dialog.cursor.line, dialog.part, self._then
        found = part.option_and_remark(text) if part is not None else None
        if then is not None and found is not None:
            self.walk()
            return then(found[0].value)
        said = self.answered(dialog, text)
        if not text and not said and line is not None and line.mark == "open" and line.costs not in self._told:
            self._told.add(line.costs)
            said = [f"{capital(line.costs.rstrip('.'))}."] if line.costs else []
        if self.dialog is dialog and dialog.line is None:
            said += [dialog.end_words()] if self._whole else []
            self.walk()
        return said

    def answered(self, dialog: Dialog, text: str) -> list[str]:
        """A text as the answer to a question: what it did, in words; and where it leads."""
        before, line, outcome = self.job.assessment, dialog.line, dialog.enter(text)
        if outcome.trouble:
            return self.refuse(outcome.trouble)
        said = [outcome.said.text] if outcome.said is not None and not outcome.recorded else []
        if outcome.recorded:
            said = recorded_lines(self.job, outcome.recorded, outcome.meant)
            said += [line.caution] if outcome.stopped and line is not None else []
            said += self._news(before, outcome.recorded)
        if outcome.opens == "walk":
            self.walk()
        elif outcome.opens and not outcome.recorded:
            said += self.sheet()
        return said

    def sheet(self) -> list[str]:
        """The customer's page."""
        from cornerwalk.report.customer import customer_sheet
        from cornerwalk.report.document import Letterhead

        job = self.job
        own = job.context.settings
        letterhead = Letterhead(name=own.shop_name, phone=own.shop_phone)
        return document_lines(customer_sheet(job.session, job.assessment, job.wording, checklists_of(job), letterhead))

    # ---- where it goes on ----

    def walk(self, asked: Prompt | None = None) -> None:
        """Back to the walk, to this prompt or to what is due."""
        self.dialog = self._then = None
        self.prompt = asked or asked_by(self.job.session)

    def ask(self, dialog: Dialog, *, part: bool = False) -> None:
        """Go through these questions; `part` of a chapter ends without a word."""
        self.dialog, self._whole, self._then = dialog, not part, None
        self._group, self._options, self._asked = "", [], None

    def shortcut(self, found: Shortcut) -> list[str]:
        """Go where a name leads: something is recorded, answered with the question in hand staying, or asked."""
        if found.trouble or found.would:
            return self.control(Reply(trouble=found.trouble, would=found.would))
        dialog = Dialog(self.job, "", found.lines)
        if found.first:
            dialog.cursor.go(found.first)
        if not found.answer or found.goes_on:
            self.ask(dialog, part=True)
        return self.answered(dialog, found.answer) if found.answer else []

    def choose(self, question: Question, then: Callable[[str], list[str]]) -> None:
        """Have one of the question's options chosen, and do something with it."""
        self.ask(Dialog(self.job, question.name, lambda: (question,)), part=True)
        self._then = then

    def chapter(self, chapter: ChapterId, first: str = "") -> list[str]:
        """Go through a chapter of the job: what it is called, and what it comes to so far."""
        kind = CHAPTER_KINDS[chapter]
        self.ask(chapter_dialog(self.job, chapter, first))
        self._group = tr(kind.title)
        return [f"{tr(kind.title).upper()}:", *notice_lines(self._fresh(kind.panel(self.job)))]

    def onward(self) -> list[str]:
        """The chapter to do next."""
        chapter = chapter_to_open(self.job)
        if not CHAPTER_KINDS[chapter].walked:
            return self.chapter(chapter)
        self.walk()
        return [f"{tr(CHAPTER_KINDS[chapter].title).upper()}:"]

    def undo(self) -> list[str]:
        """Take back what was recorded last, and ask for it again."""
        event = undoable(self.job.events)
        said = self.control(undo(self.job))
        if event is not None and not self.refused:
            self._go_to(event.payload, after=False)
        return said

    def redo(self) -> list[str]:
        """Bring back what the last undo took, and go on behind it."""
        undone = redoable(self.job.events)
        said = self.control(redo(self.job))
        if undone is not None and not self.refused:
            self._go_to(undone_by(self.job.events, undone), after=True)
        return said

    def _resume(self) -> None:
        """Go on with the question after the one answered last.

        Answers given together when the job was opened (a sheet, a preset, the settings) are no question's.
        """
        counting = active_events(self.job.events)
        if self.job.session.open and counting[-1].at != counting[0].at:
            self._go_to(counting[-1].payload, after=True)

    def _go_to(self, what: happened.Event, *, after: bool) -> None:
        """Ask the question that an event answers again, or the one after it."""
        dialog = dialog_at(self.job, what, after=after)
        if dialog is not None:
            self.ask(dialog)
        else:
            self.walk(None if after else prompt_answered_by(self.job.session, what))

    def explain(self) -> list[str]:
        """Why the question is asked, and what leaving it out costs."""
        if self.dialog is not None:
            return [self.dialog.help() or self.dialog.end_words()]
        return [*filter(None, (help_on(self.prompt, self.job.session.job.datum),)), *self.explained(again=True)]

    # ---- earlier jobs, and leaving ----

    def _ask_earlier(self) -> None:
        if self.job.earlier_to_ask():
            asking = Thread(
                target=lambda: self.job.ask_earlier(lambda: None, lambda: self._asking is not asking), daemon=True
            )
            self._asking = asking
            asking.start()

    def wait_for_earlier(self) -> None:
        """Until what was asked is known."""
        if self._asking is not None:
            self._asking.join()

    def _hints(self) -> list[str]:
        """What earlier jobs say, once, until this one has trials of its own."""
        if self.job.session.trials:
            return []
        told = [notice for notice in (*last_time(self.job), *own_placing(self.job)) if notice.text not in self._told]
        self._told.update(notice.text for notice in told)
        return notice_lines(told)

    def leave(self) -> list[str]:
        """Leave; what is in memory only asks for a second word."""
        if self.job.not_on_disk is not None and not self._warned_of_loss:
            self._warned_of_loss = True
            return self.refuse(tr("What is in memory only would be lost. Type quit again to leave all the same."))
        self.done = True
        return [self.farewell()]

    def farewell(self) -> str:
        """The last word: what is kept, and where."""
        state = self.job.not_on_disk
        if state is not None:
            return tr("{count} entries were never on the disk and are lost.", count=state.pending)
        return tr("Everything is kept in {file}.", file=harmless(self.job.file.path.name))

    def close(self) -> None:
        """Let others have the file; what has been begun with one of the library's is ended first, for a while."""
        asking, self._asking = self._asking, None
        if asking is not None:
            asking.join(_LEAVES_WITHIN_S)
        self.job.close()
