"""The checklists, a question at a time, each with the caution that belongs to it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from cornerwalk.line.job import OpenJob
from cornerwalk.line.reply import Reply, chosen, numbered
from cornerwalk.session.chapters import BEFORE_CHECKLISTS, answer_count
from cornerwalk.session.checklist import Checklist, ChecklistItem
from cornerwalk.session.conditions import answer_check, find_answer, previous_stage, repeat_answers
from cornerwalk.session.events import Answer
from cornerwalk.session.model import StageKey
from cornerwalk.wording.names import answer_word, stage_title
from cornerwalk.words import tr, tr_in

CONDITIONS = "conditions"
_NUMBERS: dict[str, Answer] = {
    "1": "yes",
    "2": "no",
    "0": "not checked",
    "3": "not fitted",
    "4": "referred",
    "5": "customer declined",
}
"""An answer from the number pad."""
_SHORT: dict[str, Answer] = {"y": "yes", "n": "no", "-": "not checked", "f": "not fitted"}


def answer_of(text: str) -> tuple[Answer, str] | None:
    """The answer a text begins with, and the note after it: `n left one leaks`; None where there is none."""
    spoken: dict[str, Answer] = {**_NUMBERS, **_SHORT}
    answers: tuple[Answer, ...] = ("yes", "no", "not checked", "not fitted", "referred", "customer declined")
    for answer in answers:
        spoken[answer] = spoken[answer_word(answer).casefold()] = answer
    spoken[tr_in("short for yes", "y")] = "yes"
    spoken[tr_in("short for no", "n")] = "no"
    folded = text.casefold()
    for word in sorted(spoken, key=len, reverse=True):
        if folded == word or folded.startswith((f"{word} ", f"{word}, ")):
            return spoken[word], text[len(word) :].lstrip(" ,").strip()
    return None


@dataclass(frozen=True, slots=True)
class CheckAsked:
    """A question of a checklist; `stage` where the list is asked at each. `again` asks the answered ones too."""

    list_id: str
    place: int
    stage: StageKey | None = None
    again: bool = False
    first: bool = True
    """The first one asked: before it the list is named."""

    @property
    def free(self) -> bool:
        """A letter or a number, and a note if need be."""
        return False

    def prompt(self, job: OpenJob) -> str:
        """The question, its place, the answers."""
        checklist = job.checklists[self.list_id]
        item = checklist.items[self.place]
        given = find_answer(job.session, item.id, self.stage)
        stands = tr("; {answer} stands", answer=answer_word(given.answer)) if given is not None else ""
        return tr(
            "{question} ({place} of {all}{stands}; y, n, -):",
            question=tr(item.question),
            place=self.place + 1,
            all=len(checklist.items),
            stands=stands,
        )

    def opening(self, job: OpenJob) -> tuple[str, ...]:
        """At the first question what the list is; before every question its caution."""
        checklist = job.checklists[self.list_id]
        said = []
        if self.first:
            said.append(self._title(checklist))
            said.append(tr("y yes, n no, - not checked, f not fitted; a note may follow. why, leave."))
            if self.stage is not None and previous_stage(job.session, self.stage) is not None:
                said.append(tr("same gives the answers of the stage before once more."))
        item = checklist.items[self.place]
        if item.caution:
            said.append(tr("Caution: {caution}", caution=tr(item.caution)))
        return tuple(said)

    def _title(self, checklist: Checklist) -> str:
        title = tr(checklist.title)
        if self.stage is None:
            return tr("{title}.", title=title)
        return tr("{title}: {stage}.", title=title, stage=stage_title(self.stage))

    def answer(self, job: OpenJob, text: str) -> Reply:
        """The answer, recorded; nothing, and the question is left for later."""
        if not text:
            return Reply(said=(tr("Left for later; it counts as not checked."),), then=self.next(job))
        if self.stage is not None and text.casefold() in ("same", tr("same").casefold()):
            return self._as_before(job)
        found = answer_of(text)
        if found is None:
            return Reply(said=(tr("y, n, - or f; 1, 2, 0 or 3 on the number pad"),), refused=True)
        item = job.checklists[self.list_id].items[self.place]
        answer, note = found
        if answer == "not fitted" and not item.not_fitted:
            return Reply(said=(tr("Every vehicle has that: y, n or -."),), refused=True)
        return Reply(
            said=_stops(item, answer),
            events=(answer_check(item.id, answer, note, self.stage),),
            kept=_said(answer, note),
            then=self.after(job, answer, note),
        )

    def why(self, job: OpenJob) -> Reply:
        """Why it is asked."""
        item = job.checklists[self.list_id].items[self.place]
        return Reply(said=(tr(item.why) if item.why else tr("No reason is noted."),), stays=True)

    def _as_before(self, job: OpenJob) -> Reply:
        checklist = job.checklists[self.list_id]
        given = repeat_answers(job.session, checklist, self.stage) if self.stage is not None else ()
        if not given:
            return Reply(said=(tr("Nothing was answered at the stage before."),), refused=True)
        return Reply(events=given, kept=tr("{count} answers as before.", count=len(given)))

    def after(self, job: OpenJob, answer: Answer, note: str) -> CheckAsked | NoteAsked | None:
        """What follows this answer: the note that the question wants with it, or the next question."""
        wants_note = job.checklists[self.list_id].items[self.place].note
        return NoteAsked(self, answer) if wants_note and not note and answer in ("yes", "no") else self.next(job)

    def next(self, job: OpenJob) -> CheckAsked | None:
        """The question after this one, None where the list and those that follow it have no more."""
        items = job.checklists[self.list_id].items
        for place in range(self.place + 1, len(items)):
            if self.again or find_answer(job.session, items[place].id, self.stage) is None:
                return replace(self, place=place, first=False)
        return following(job, self.list_id)


@dataclass(frozen=True, slots=True)
class NoteAsked:
    """What a question wants written down beside its answer: a gap, a mark on a gauge."""

    check: CheckAsked
    given: Answer

    @property
    def free(self) -> bool:
        """In words."""
        return True

    def prompt(self, job: OpenJob) -> str:
        """`smallest gap (Enter leaves it out):`."""
        item = job.checklists[self.check.list_id].items[self.check.place]
        return tr("{note} (Enter leaves it out):", note=tr(item.note))

    def opening(self, _job: OpenJob) -> tuple[str, ...]:
        """Nothing."""
        return ()

    def answer(self, job: OpenJob, text: str) -> Reply:
        """The answer again, with this note."""
        if not text:
            return Reply(then=self.check.next(job))
        item = job.checklists[self.check.list_id].items[self.check.place]
        return Reply(
            events=(answer_check(item.id, self.given, text, self.check.stage),),
            kept=_said(self.given, text),
            then=self.check.next(job),
        )


def _said(answer: Answer, note: str) -> str:
    word = answer_word(answer).upper()
    return f"{word}, {note}." if note else f"{word}."


def _stops(item: ChecklistItem, answer: Answer) -> tuple[str, ...]:
    """What an answer that ends the job calls for."""
    return (tr(item.caution),) if item.stop and answer == item.stop and item.caution else ()


def questions(job: OpenJob, list_id: str, stage: StageKey | None = None) -> CheckAsked | None:
    """The first question of a list without an answer; None where all have one."""
    for place, item in enumerate(job.checklists[list_id].items):
        if find_answer(job.session, item.id, stage) is None:
            return CheckAsked(list_id, place, stage)
    return None


def following(job: OpenJob, list_id: str) -> CheckAsked | None:
    """The first open question of the lists that belong to the same chapter and come after this one."""
    if list_id not in BEFORE_CHECKLISTS:
        return None
    after = BEFORE_CHECKLISTS[BEFORE_CHECKLISTS.index(list_id) + 1 :]
    asked = (questions(job, each) for each in after)
    return next((question for question in asked if question is not None), None)


def all_questions(job: OpenJob, checklist: Checklist) -> CheckAsked:
    """The first question without an answer; the first of all, to be gone through again, where every one has one."""
    stage = stage_of(job, checklist)
    return questions(job, checklist.id, stage) or CheckAsked(checklist.id, 0, stage, again=True)


def stage_of(job: OpenJob, checklist: Checklist) -> StageKey | None:
    """The stage a list is asked for now; None for one that is asked once."""
    if checklist.asked == "once":
        return None
    current = job.session.current_stage
    return current.key if current is not None else ("unloaded", 1)


def question_of(job: OpenJob, check: str, stage: StageKey | None) -> CheckAsked | None:
    """The question with this id, to be answered again; None where no list has it."""
    for checklist in job.checklists.lists:
        for place, item in enumerate(checklist.items):
            if item.id == check:
                return CheckAsked(checklist.id, place, stage)
    return None


@dataclass(frozen=True, slots=True)
class ListChoiceAsked:
    """Which checklist, by its number."""

    @property
    def free(self) -> bool:
        """A number."""
        return False

    def prompt(self, _job: OpenJob) -> str:
        """`Which list? Number:`."""
        return tr("Which list? Number; Enter alone goes back:")

    def opening(self, job: OpenJob) -> tuple[str, ...]:
        """Every list with how far it is."""
        return numbered(tuple(_told(job, checklist) for checklist in job.checklists.lists))

    def answer(self, job: OpenJob, text: str) -> Reply:
        """The list of that number, or of that name."""
        if not text:
            return Reply()
        checklist = list_named(job, text)
        if checklist is None:
            most = len(job.checklists.lists)
            return Reply(said=(tr("a number from 1 to {most}", most=most),), refused=True)
        return Reply(then=all_questions(job, checklist))


def list_named(job: OpenJob, text: str) -> Checklist | None:
    """A list by its number, its id or its title."""
    lists = job.checklists.lists
    place = chosen(text, len(lists))
    if place is not None:
        return lists[place]
    folded = text.casefold()
    return next((each for each in lists if folded in (each.id.casefold(), tr(each.title).casefold())), None)


def _told(job: OpenJob, checklist: Checklist) -> str:
    stage = stage_of(job, checklist)
    if stage is None:
        done = answer_count(job.session, checklist)
    else:
        done = sum(find_answer(job.session, item.id, stage) is not None for item in checklist.items)
    return tr("{title}: {done} of {all}", title=tr(checklist.title), done=done, all=len(checklist.items))
