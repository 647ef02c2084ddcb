"""Words: everything that does something besides answering: what it is called, what it does, what it leads to."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import LiteralString, cast
from unicodedata import normalize

from cornerwalk.job import shortcuts
from cornerwalk.job.chapters import CHAPTER_KINDS, chapter_choice, stage_dialog
from cornerwalk.job.checks import checklists_of, list_choice
from cornerwalk.job.hints import asking, last_time, own_placing, take_placing
from cornerwalk.job.news import all_results, progress
from cornerwalk.job.open_job import OpenJob
from cornerwalk.job.prompts import (
    NotePrompt,
    PressurePrompt,
    corner_in,
    corner_in_hand,
    first_line,
    in_hand,
    last_read,
    reading_of,
    stage_choice,
)
from cornerwalk.job.record import move, retry
from cornerwalk.job.reply import Refusal, refusal
from cornerwalk.job.shortcuts import Shortcut
from cornerwalk.job.stage import stage_in_place
from cornerwalk.job.walk_replies import skipping
from cornerwalk.job.what_if import WhatIf
from cornerwalk.line.printer import document_lines, notice_lines, state_line
from cornerwalk.line.setting_talk import change, setting_list
from cornerwalk.line.talk import JobTalk
from cornerwalk.quantity import read_pressure
from cornerwalk.session.facts import FACTS
from cornerwalk.session.hold_test import SOAPED_JOINTS, joints_to_soap, lines_to_test, running_tests
from cornerwalk.session.stages import AIR_STAGES, CORNERS, ChapterId
from cornerwalk.session.statements import SEPARATOR
from cornerwalk.session.walk import bare_pressure
from cornerwalk.session.walk import reopen as reopened
from cornerwalk.wording.facts import as_stated, fact_name
from cornerwalk.wording.names import stage_name
from cornerwalk.words import capital, tr, tr_in

Run = Callable[[JobTalk, str], list[str]]
"""What a word does in a job, with what followed it; what is said to that."""


@dataclass(frozen=True, slots=True)
class Word:
    """One word.

    Attributes:
        name: in English; it is understood in every language.
        about: what it does.
        run: does it.
        short: a letter or two for it.
        after: what may follow it.
        controls: the ids of the controls that it is.
        older: what it was called in an earlier version; it is still understood.
    """

    name: str
    about: LiteralString
    run: Run
    short: str = ""
    after: LiteralString = ""
    controls: tuple[str, ...] = ()
    older: str = ""

    @property
    def local(self) -> str:
        """In the user's language."""
        return _local_names()[self.name]

    @property
    def form(self) -> str:
        """`undo (u)`, `fact NAME VALUE`."""
        short = f" ({self.short})" if self.short else ""
        return f"{self.local}{short} {tr(self.after) if self.after else ''}".strip()


def words() -> tuple[Word, ...]:
    """Every word, in the order of the help. A short form that is the language's yes or no gives way to it."""
    answers = (tr_in("short for yes", "y"), tr_in("short for no", "n"))
    return tuple(replace(word, short="") if word.short in answers else word for word in _WORDS)


def spoken(text: str, *, alone: bool) -> tuple[Word, str] | None:
    """The word a text begins with, and the rest; None for an answer. `alone`: only where nothing follows the word.

    Accents may be left out: not every keyboard in a shop has them.
    """
    folded = _folded(text)
    for each in words():
        for called in (each.name, _folded(each.local), each.short, each.older):
            if called and folded == called:
                return each, ""
            if called and not alone and folded.startswith(f"{called} "):
                return each, text[len(called) :].strip()
    return None


def _folded(text: str) -> str:
    return "".join(normalize("NFD", character)[0] for character in text).casefold()


def control_word(control: str) -> str:
    """What a control is called here."""
    return next((word.local for word in words() if control in word.controls), control)


def _is(text: str, *names: str) -> bool:
    return text.casefold() in [name.casefold() for name in names]


# ---- help, and where the job stands ----


def _help(talk: JobTalk, rest: str) -> list[str]:
    found = spoken(rest, alone=True) if rest else None
    if found is not None:
        return [f"{found[0].form}: {tr(found[0].about)}."]
    if _is(rest, "all", tr("all")):
        return [f"{each.form}: {tr(each.about)}." for each in words()]
    names = ", ".join(f"{each.local} ({each.short})" if each.short else each.local for each in words())
    return [
        *talk.explain(),
        tr("Answer the question, or type one of these words: {words}.", words=names),
        tr("help and a word tells what it does, help all tells all of them."),
        tr("In a question that takes any words, start with = to answer with one of these."),
    ]


def _where(talk: JobTalk, _rest: str) -> list[str]:
    return [*notice_lines(progress(talk.job)), state_line(talk.job)]


def _why(talk: JobTalk, _rest: str) -> list[str]:
    return talk.explain()


def _results(talk: JobTalk, _rest: str) -> list[str]:
    return notice_lines(all_results(talk.job))


def _what_if(talk: JobTalk, rest: str) -> list[str]:
    tried = WhatIf(talk.job)
    if rest:
        try:
            kPa = read_pressure(rest, bare=bare_pressure(talk.job.session)).kPa
        except Refusal as error:
            return talk.refuse(refusal(error).trouble)
        trouble = tried.try_air(kPa)
        if trouble:
            return talk.refuse(trouble)
    return [f"{capital(tried.heading())}.", *notice_lines(tried.words())]


def _report(talk: JobTalk, _rest: str) -> list[str]:
    from cornerwalk.report.file_report import file_report

    job = talk.job
    return document_lines(file_report(job.events, job.session, job.assessment, job.wording, checklists_of(job)))


def _customer(talk: JobTalk, _rest: str) -> list[str]:
    return talk.sheet()


def _settings(talk: JobTalk, rest: str) -> list[str]:
    context = talk.job.context
    if not rest:
        return setting_list(context)
    told, refused = change(context, rest)
    talk.job.reworded()
    talk.refused = refused
    return told


# ---- heights, stages, air ----


def _again(talk: JobTalk, rest: str) -> list[str]:
    return _reading(talk, rest, average=False)


def _repeat(talk: JobTalk, rest: str) -> list[str]:
    return _reading(talk, rest, average=True)


def _reading(talk: JobTalk, rest: str, *, average: bool) -> list[str]:
    session = talk.job.session
    found = corner_in(session, rest, in_hand(session, talk.prompt)) if rest else last_read(session)
    if found is None and rest:
        return talk.refuse(tr("Say which corner: {corners}", corners=", ".join(CORNERS)))
    if found is None:
        return talk.refuse(tr("No corner has a reading yet."))
    talk.walk(reading_of(talk.job.session, *found, average=average))
    return []


def _skip(talk: JobTalk, rest: str) -> list[str]:
    if talk.dialog is not None:
        part = talk.dialog.part
        left_out = next((option for option in part.options if option.value == "not checked"), None) if part else None
        return talk.answer(f"{left_out.number} {rest}".strip() if left_out is not None else "")
    reply = skipping(talk.prompt)
    if reply.then is None:
        return talk.refuse(reply.trouble)
    talk.walk(reply.then)
    return talk.walk_answer(rest) if rest else []


def _note(talk: JobTalk, rest: str) -> list[str]:
    if talk.dialog is not None:
        talk.dialog.note()
        return talk.answer(rest) if rest else []
    here, corner = talk.prompt, corner_in_hand(talk.prompt)
    talk.walk(NotePrompt(in_hand(talk.job.session, here), corner))
    said = talk.walk_answer(rest) if rest else []
    if rest:
        talk.walk(here)
    return said


def _pressure(talk: JobTalk, rest: str) -> list[str]:
    session, current = talk.job.session, talk.job.session.current_stage
    if isinstance(talk.prompt, PressurePrompt) and talk.dialog is None:
        begun = talk.prompt.begun
        talk.walk(PressurePrompt(talk.prompt.stage, first_line(session), optional=talk.prompt.optional, begun=begun))
    elif current is not None and current.name in AIR_STAGES:
        talk.walk(PressurePrompt(current.key, first_line(session), begun=True))
    else:
        return talk.refuse(tr("No air is in play at this stage."))
    said: list[str] = []
    texts = rest.split(SEPARATOR) if session.kit.lines == "separate" else [rest]
    for text in texts if rest else ():
        said += talk.walk_answer(text.strip())
        if talk.refused:
            break
    return said


def _stage(talk: JobTalk, rest: str) -> list[str]:
    choice = stage_choice(talk.job.session)
    talk.walk(choice)
    named = [place for place, name in enumerate(choice.stages, start=1) if _is(rest, name, stage_name(name))]
    return talk.walk_answer(str(named[0]) if named else rest) if rest else []


def _placing(talk: JobTalk, _rest: str) -> list[str]:
    return talk.control(take_placing(talk.job))


def _earlier(talk: JobTalk, _rest: str) -> list[str]:
    told = (*asking(talk.job), *last_time(talk.job), *own_placing(talk.job))
    if not told and talk.job.earlier.heard is None:
        return [tr("Past jobs are being read: ask again.")]
    return notice_lines(told) or [tr("No past job says anything about this one.")]


# ---- chapters, and lines of them ----


def _chapter(chapter: ChapterId) -> Run:
    return lambda talk, _rest: talk.chapter(chapter)


def _chapters(talk: JobTalk, rest: str) -> list[str]:
    choice = chapter_choice(talk.job)
    part = choice.part(())
    found = part.option(rest) if part is not None else None
    if rest and found is None:
        return talk.refuse(tr("no such chapter; chapter alone lists them"))
    if found is None:
        talk.choose(choice, lambda chapter: _chapters(talk, chapter))
        return []
    chapter = cast("ChapterId", found.value)
    if CHAPTER_KINDS[chapter].walked:
        talk.walk()
        return []
    return talk.chapter(chapter)


def _shortcut(leads: Callable[[OpenJob, str], Shortcut]) -> Run:
    return lambda talk, rest: talk.shortcut(leads(talk.job, rest))


def _fact(talk: JobTalk, rest: str) -> list[str]:
    if rest:
        return talk.shortcut(shortcuts.fact(talk.job, rest))
    entered = talk.job.session.entered
    listed = [f"{fact_name(name)}: {as_stated(name, entered[name])}" for name in FACTS if name in entered]
    return listed or [tr("Nothing entered yet.")]


def _intake(talk: JobTalk, rest: str) -> list[str]:
    return talk.shortcut(shortcuts.facts_of(talk.job, rest)) if rest else talk.chapter("intake")


def _checks(talk: JobTalk, rest: str) -> list[str]:
    if rest:
        return talk.shortcut(shortcuts.checklist(talk.job, rest))
    talk.choose(list_choice(talk.job), lambda list_id: _checks(talk, list_id))
    return []


def _conditions(talk: JobTalk, _rest: str) -> list[str]:
    talk.ask(stage_dialog(talk.job, stage_in_place(talk.job)))
    return []


def _leak(talk: JobTalk, rest: str) -> list[str]:
    running = running_tests(talk.job.session)
    line = running[0].line if running else lines_to_test(talk.job.session)[0]
    if _is(rest, "end", tr("end")) or (not rest and running):
        return talk.chapter("leak", f"leak.{line}.end")
    if _is(rest, "start", tr("start"), ""):
        return talk.chapter("leak", f"leak.{line}.start")
    return talk.refuse(tr("leak start, or leak end"))


def _soap(talk: JobTalk, rest: str) -> list[str]:
    if rest:
        return talk.shortcut(shortcuts.soaped(talk.job, rest))
    return talk.chapter("leak", f"soap.{next(iter(joints_to_soap(talk.job.session)), SOAPED_JOINTS[0])}")


def _hand_over(talk: JobTalk, _rest: str) -> list[str]:
    return talk.chapter("handover", "handover")


def _reopen(talk: JobTalk, rest: str) -> list[str]:
    if talk.job.session.open:
        try:
            reopened(talk.job.session, rest)
        except Refusal as error:
            return talk.refuse(refusal(error).trouble)
    said = talk.chapter("follow-up")
    return [*said, *talk.answer(rest)] if rest else said


def _leave(talk: JobTalk, _rest: str) -> list[str]:
    talk.walk()
    return []


def _retry(talk: JobTalk, _rest: str) -> list[str]:
    reply = retry(talk.job)
    return [*talk.control(reply), *([] if reply.trouble else [state_line(talk.job)])]


_WORDS: tuple[Word, ...] = (
    Word("help", "what can be typed; a word after it tells more", _help, "?", "WORD"),
    Word("undo", "undo the last entry", lambda talk, _: talk.undo(), "u", controls=("job.undo",)),
    Word("redo", "redo", lambda talk, _: talk.redo(), controls=("job.redo",)),
    Word("again", "read a corner again, replacing the saved reading", _again, "", "RR", ("walk.replace",)),
    Word("repeat", "read a corner again and average it with the saved reading", _repeat, "r", "RR", ("walk.average",)),
    Word("skip", "skip this corner or question, with the reason", _skip, "s", "REASON"),
    Word("note", "save a note on the current question", _note, "", "TEXT"),
    Word("pressure", "enter or correct this stage's pressure; left and right with ; between", _pressure, "p", "25"),
    Word(
        "fact",
        "enter one fact, such as wheelbase 119 in; - removes it; alone it lists what is entered",
        _fact,
        after="NAME VALUE",
    ),
    Word(
        "intake",
        "the facts one by one; with job, vehicle, kit, hitch, trailer, lamps or leak only those",
        _intake,
        after="PART",
    ),
    Word("load", "add a load and its location", _shortcut(shortcuts.load)),
    Word("unload", "remove a load from the list", _shortcut(shortcuts.unload), after="NAME"),
    Word("checks", "the checklists", _checks, "c", "LIST"),
    Word("conditions", "what makes this stage comparable", _conditions, controls=("job.stage",)),
    Word("before", "what is found, and what a height change touches", _chapter("before")),
    Word(
        "install",
        "the work, in its order, with its cautions",
        _chapter("fitting"),
        controls=("chapter.fitting",),
        older="fitting",
    ),
    Word("torque", "tightened joints", _shortcut(shortcuts.torque)),
    Word("weigh", "passes over a scale", _shortcut(shortcuts.weighing)),
    Word(
        "mark",
        "cutoff on the wall against headlight height unloaded, such as 2 below",
        _shortcut(shortcuts.mark),
        after="2 below",
    ),
    Word(
        "dial",
        "setting of a manual headlight leveling dial",
        _shortcut(shortcuts.leveller),
        after="POSITION",
        older="leveller",
    ),
    Word("leak", "start or finish the leak-down test", _leak, after="start or end"),
    Word("soap", "soap test, joint by joint, or one by its name", _soap, after="JOINT"),
    Word("earlier", "what this vehicle or kit did last time, and how closely you place the tape", _earlier),
    Word(
        "placing",
        "use your own tape repeatability, from repeat readings, in this job",
        _placing,
        controls=("job.placing",),
    ),
    Word("road", "the road test: heights again, then its questions", _chapter("road")),
    Word("stage", "start another stage", _stage, "", "NAME", ("walk.stage",)),
    Word("chapter", "a chapter of the job by its name or number; alone it lists them", _chapters, after="NAME"),
    Word("next", "the next chapter of the job", lambda talk, _: talk.onward(), controls=("job.chapters",)),
    Word("leave", "leave these questions; back to the walk", _leave, controls=("app.back",)),
    Word("why", "why this question is asked", _why),
    Word("where", "where the job stands, and what is saved", _where, "w", controls=("chapter.any",)),
    Word("results", "what everything came to so far", _results),
    Word("what if", "what another pressure would do, what-if only; nothing is saved", _what_if, after="25"),
    Word("report", "the whole report for the file", _report),
    Word("customer", "the customer copy", _customer),
    Word("hand over", "give the vehicle back and close the job", _hand_over),
    Word("reopen", "take a handed-over job up again for a follow-up", _reopen, after="REASON"),
    Word("retry", "try again to write what is not on the disk", _retry, controls=("job.retry",)),
    Word(
        "move",
        "go on in another folder, where the disk fails",
        lambda talk, rest: talk.control(move(talk.job, rest)),
        after="FOLDER",
    ),
    Word("settings", "list the settings; with a name and a value, change one", _settings, after="NAME VALUE"),
    Word("quit", "leave; what is saved stays saved", lambda talk, _: talk.leave(), "q"),
)


def _local_names() -> dict[str, str]:
    """What the words are called in the user's language, in the order of the table."""
    local = (
        tr_in("word", "help"), tr_in("word", "undo"), tr_in("word", "redo"), tr_in("word", "again"),
        tr_in("word", "repeat"), tr_in("word", "skip"), tr_in("word", "note"), tr_in("word", "pressure"),
        tr_in("word", "fact"), tr_in("word", "intake"), tr_in("word", "load"), tr_in("word", "unload"),
        tr_in("word", "checks"), tr_in("word", "conditions"), tr_in("word", "before"), tr_in("word", "install"),
        tr_in("word", "torque"), tr_in("word", "weigh"), tr_in("word", "mark"), tr_in("word", "dial"),
        tr_in("word", "leak"), tr_in("word", "soap"), tr_in("word", "earlier"), tr_in("word", "placing"),
        tr_in("word", "road"), tr_in("word", "stage"), tr_in("word", "chapter"), tr_in("word", "next"),
        tr_in("word", "leave"), tr_in("word", "why"), tr_in("word", "where"), tr_in("word", "results"),
        tr_in("word", "what if"), tr_in("word", "report"), tr_in("word", "customer"), tr_in("word", "hand over"),
        tr_in("word", "reopen"),
        tr_in("word", "retry"), tr_in("word", "move"), tr_in("word", "settings"), tr_in("word", "quit"),
    )  # fmt: skip
    return dict(zip((word.name for word in _WORDS), local, strict=True))
