"""The questions of a checklist as lines. An answer has the same number in every list, so that fingers learn it."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path
from typing import cast, get_args

from cornerwalk.job.notice import Notice, count_words
from cornerwalk.job.open_job import OpenJob
from cornerwalk.job.question import Mark, Option, Part, Question, Texts, one
from cornerwalk.job.reply import Reply
from cornerwalk.session.chapters import BEFORE_CHECKLISTS, answer_count
from cornerwalk.session.checklist import Checklist, ChecklistItem, Checklists, load_checklists
from cornerwalk.session.conditions import answer_check, changed_conditions, find_answer, previous_stage, repeat_answers
from cornerwalk.session.events import Answer
from cornerwalk.session.model import CheckAnswer, StageKey
from cornerwalk.wording.findings import finding_text
from cornerwalk.wording.names import answer_word, level_word, stage_title
from cornerwalk.words import tr, tr_in, tr_n
from cornerwalk.words.safe import harmless

ANSWERS: tuple[Answer, ...] = get_args(Answer)
_LETTERS: dict[Answer, str] = {"yes": "y", "no": "n", "not checked": "-", "not fitted": "f"}
_ONCE_ONLY: tuple[Answer, ...] = ("referred", "customer declined")

AS_BEFORE = "as before"


@lru_cache(maxsize=8)
def _in_folder(folder: Path) -> Checklists:
    return load_checklists(folder)


def checklists_of(job: OpenJob) -> Checklists:
    """All lists, the shop's own in place of the packaged ones; read once while the program runs."""
    return _in_folder(job.context.checklists_folder)


def refused_lists(job: OpenJob) -> tuple[str, ...]:
    """What is wrong with lists of the shop's that were not used."""
    return tuple(
        tr("{file} was not used: {reason}", file=harmless(refused.name), reason=harmless(refused.reason))
        for refused in checklists_of(job).refused
    )


def check_lines(job: OpenJob, list_id: str, stage: StageKey | None = None) -> tuple[Question, ...]:
    """A line for each question of a list; of `stage` where it is asked at every stage."""
    checklist = checklists_of(job)[list_id]
    changed = {} if stage is None else {c.check: c for c in changed_conditions(job.session, stage)}
    lines: list[Question] = []
    for item in checklist.items:
        line_changed = changed.get(item.id)
        was = "" if line_changed is None else _was(line_changed.was, line_changed.was_at)
        lines.append(_line(job, checklist, item, stage, was))
    return (*_as_before(job, checklist, stage), *lines)


def _was(answer: Answer, stage: StageKey) -> str:
    return tr("CHANGED: {answer} at {stage}", answer=answer_word(answer), stage=stage_title(stage))


def _line(job: OpenJob, checklist: Checklist, item: ChecklistItem, stage: StageKey | None, changed: str) -> Question:
    given = find_answer(job.session, item.id, stage)
    unwritten = given is not None and not given.note and _wants_note(item, given.answer)
    stands = "" if given is None else answer_word(given.answer)
    if given is not None and given.note:
        stands += f", {harmless(given.note)}"

    def part(texts: Texts) -> Part | None:
        if not texts:
            now = given.answer if given is not None else ""
            return Part(question=tr(item.question), options=options(checklist, item), stands=now, remark=True)
        if len(texts) == 1 and _wants_note(item, texts[0]):
            return _note_part(item, texts[0], given)
        return None

    def keeps(texts: Texts) -> Reply:
        answer = cast("Answer", texts[0])
        now = find_answer(job.session, item.id, stage)
        known = now.note if now is not None and now.answer == answer else ""
        note = texts[1] if len(texts) > 1 else known
        if now is not None and (now.answer, now.note) == (answer, note.strip()):
            return Reply()
        return Reply(would=(answer_check(item.id, answer, note, stage),))

    def note(text: str) -> Reply:
        now = find_answer(job.session, item.id, stage)
        answer = now.answer if now is not None else "not checked"
        return Reply(would=(answer_check(item.id, answer, text, stage),))

    return Question(
        id=item.id,
        name=harmless(tr(item.line_name)),
        group=tr(checklist.title),
        stands=f"{stands}; {changed}" if changed else stands,
        mark="matters" if changed else _mark(item, given),
        part=part,
        keeps=keeps,
        caution=tr(item.caution) if item.caution else "",
        why=tr(item.why) if item.why else "",
        costs=tr("Left out, it stands as not checked on every page that tells of this job."),
        half=unwritten,
        walks_on=unwritten,
        note=note,
    )


def options(checklist: Checklist, item: ChecklistItem) -> tuple[Option, ...]:
    """The answers a question takes, each under its own number."""
    taken: list[Option] = []
    for number, answer in enumerate(ANSWERS, start=1):
        if answer == "not fitted" and not item.not_fitted:
            continue
        if answer in _ONCE_ONLY and checklist.asked == "each stage":
            continue
        taken.append(Option(str(number), answer_word(answer), answer, _LETTERS.get(answer, ""), _local_letter(answer)))
    return tuple(taken)


def _local_letter(answer: Answer) -> tuple[str, ...]:
    """The letter that a speaker of the language types without thinking."""
    match answer:
        case "yes":
            return (tr_in("short for yes", "y"),)
        case "no":
            return (tr_in("short for no", "n"),)
        case _:
            return ()


def _wants_note(item: ChecklistItem, answer: str) -> bool:
    """What is not as hoped for is told in a few words; so is what the list asks to be written down."""
    if answer in ("not checked", "not fitted"):
        return False
    return bool(item.note) or item.good not in ("", answer)


def _note_part(item: ChecklistItem, answer: str, given: CheckAnswer | None) -> Part:
    stands = given.note if given is not None and given.answer == answer else ""
    if item.stop == answer:
        question = tr("Who decides what is done now, and what?")
    elif item.note:
        question = tr("Write down: {what}", what=tr(item.note))
    else:
        question = tr("What was found? A picture's number helps.")
    return Part(question=question, stands=stands, hint=tr("Enter alone leaves it out"), words=True)


def _mark(item: ChecklistItem, given: CheckAnswer | None) -> Mark:
    if given is None:
        return "open"
    if item.stop and given.answer == item.stop:
        return "stop"
    if given.answer in ("not checked", "customer declined", "referred"):
        return "matters"
    return "matters" if item.good and given.answer not in (item.good, "not fitted") else "done"


def _as_before(job: OpenJob, checklist: Checklist, stage: StageKey | None) -> Iterator[Question]:
    """One line that answers all that is open as at the stage before, where there was one."""
    if stage is None:
        return
    before, given = previous_stage(job.session, stage), repeat_answers(job.session, checklist, stage)
    if before is None or not given:
        return
    question = tr("Everything as at {stage}?", stage=stage_title(before))
    told = tr_n(
        "{count} open question is answered as it was there.",
        "{count} open questions are answered as they were there.",
        len(given),
    )
    yes = (Option("1", answer_word("yes"), "yes", "y", (*_local_letter("yes"), "same", tr("same"))),)

    def keeps(_texts: Texts) -> Reply:
        return Reply(would=given)

    yield Question(
        id=AS_BEFORE,
        name=tr("all as before"),
        group=tr(checklist.title),
        part=one(Part(question=question, options=yes, told=(told, tr("Enter alone goes through them one by one.")))),
        keeps=keeps,
        why=tr("Heights of two stages compare only under the same conditions."),
    )


# ---- one list of all of them ----


def list_choice(job: OpenJob) -> Question:
    """Which list, each with how far it is; its answer is the list's id."""
    options = []
    for place, each in enumerate(checklists_of(job).lists, start=1):
        done = count_words(answer_count(job.session, each), len(each.items))
        options.append(Option(str(place), f"{tr(each.title)}: {done}", each.id))
    part = Part(question=tr("Which list?"), options=tuple(options))
    return Question(id="lists", name=tr("the checklists"), group=tr("the checklists"), part=one(part))


def list_named(job: OpenJob, text: str) -> Checklist | None:
    """A list by its number, its id or its title; None where no list is called so."""
    wanted = text.casefold()
    named = ((str(n), each.id, tr(each.title)) for n, each in enumerate(checklists_of(job).lists, start=1))
    places = [place for place, names in enumerate(named) if wanted in [name.casefold() for name in names]]
    return checklists_of(job).lists[places[0]] if places else None


# ---- Before anything is changed, as lines: what is found on the vehicle, and what its height touches ----


def before_lines(job: OpenJob) -> tuple[Question, ...]:
    """Both lists, what can end the job before what is only good to know."""
    touches, found = (check_lines(job, list_id) for list_id in reversed(BEFORE_CHECKLISTS))
    return (*touches, *found)


def stops_told(job: OpenJob) -> tuple[Notice, ...]:
    """Every STOP that stands, and what to do about it."""
    words = (finding_text(stop, job.wording) for stop in job.assessment.stops)
    return tuple(Notice(f"{text.heading}. {text.action}", level_word("stop"), "caution", "caution") for text in words)


def stops_panel(job: OpenJob) -> tuple[Notice, ...]:
    """Every STOP that stands, and shop lists that could not be read."""
    told = list(stops_told(job))
    told += [Notice(text, tr("List"), "caution") for text in refused_lists(job)]
    return tuple(told)
