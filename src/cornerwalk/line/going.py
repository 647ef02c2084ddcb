"""What the words do that lead to other questions, tell how the job stands, or leave it."""

from __future__ import annotations

from pathlib import Path

from cornerwalk.line import chapters
from cornerwalk.line.closing import HandOverAsked, ReopenAsked, reopened
from cornerwalk.line.facts import FactAsked
from cornerwalk.line.heights import standing
from cornerwalk.line.leak import end_of, first_joint, joint_named, start_of
from cornerwalk.line.lists import CONDITIONS, CheckAsked, ListChoiceAsked, all_questions, list_named
from cornerwalk.line.reply import Reply, Typed, told
from cornerwalk.line.said import kept
from cornerwalk.line.said import results as all_results
from cornerwalk.line.stages import StageChoiceAsked
from cornerwalk.line.work import TorqueAsked, WeighAsked, joint_called
from cornerwalk.session.chapters import chapters as all_chapters
from cornerwalk.session.hold_test import SOAPED_JOINTS
from cornerwalk.store import SavedState, StoreError
from cornerwalk.tables.hints import placing_fact
from cornerwalk.wording.facts import fact_cost, fact_help
from cornerwalk.wording.names import corner_name, stage_title
from cornerwalk.words import tr

# ---- lists and work ----


def checks(at: Typed) -> Reply:
    """The lists, or one of them."""
    if not at.rest:
        return Reply(then=ListChoiceAsked())
    return ListChoiceAsked().answer(at.job, at.rest)


def conditions(at: Typed) -> Reply:
    """The conditions of the stage in hand."""
    return Reply(then=all_questions(at.job, at.job.checklists[CONDITIONS]))


def before(at: Typed) -> Reply:
    """What is found on the vehicle, and what a height change touches."""
    asked = chapters.question_in(at.job, "before")
    return Reply(then=asked or all_questions(at.job, at.job.checklists["found"]))


def fitting(at: Typed) -> Reply:
    """The work in its order."""
    checklist = list_named(at.job, "fitting")
    return Reply(then=all_questions(at.job, checklist)) if checklist is not None else Reply()


def torque(at: Typed) -> Reply:
    """Tightened joints."""
    return Reply(then=TorqueAsked(joint_called(at.rest)))


def weigh(_at: Typed) -> Reply:
    """Passes over a scale."""
    return Reply(then=WeighAsked())


def leak(at: Typed) -> Reply:
    """Begin or end the hold test; alone, whichever is due."""
    folded = at.rest.casefold()
    running = end_of(at.job.session)
    if folded in ("end", tr("end").casefold()) or (not folded and running is not None):
        return (
            Reply(then=running) if running else Reply(said=(tr("No hold test is running: leak start."),), refused=True)
        )
    if folded in ("start", tr("start").casefold(), ""):
        return Reply(then=start_of(at.job.session))
    return Reply(said=(tr("leak start, or leak end"),), refused=True)


def soap(at: Typed) -> Reply:
    """The joints under soapy water."""
    if at.rest:
        return Reply(then=joint_named(at.rest))
    return Reply(then=first_joint(at.job.session) or joint_named(SOAPED_JOINTS[0]))


# ---- the way through the at.job ----


def stage(at: Typed) -> Reply:
    """Begin another stage."""
    return StageChoiceAsked().answer(at.job, at.rest) if at.rest else Reply(then=StageChoiceAsked())


def road(at: Typed) -> Reply:
    """The road test."""
    asked = chapters.question_in(at.job, "road")
    return Reply(then=asked or all_questions(at.job, at.job.checklists["road"]))


def onward(at: Typed) -> Reply:
    """The next chapter."""
    chapter, asked = chapters.onward(at.job)
    return Reply(said=(tr("{chapter}:", chapter=chapters.chapter_name(chapter).upper()),), then=asked)


def leave(_at: Typed) -> Reply:
    """Back to the walk."""
    return Reply()


def why(at: Typed) -> Reply:
    """Why the question is asked."""
    if isinstance(at.question, CheckAsked):
        return at.question.why(at.job)
    if isinstance(at.question, FactAsked):
        return told(*filter(None, (fact_help(at.question.name), fact_cost(at.question.name))))
    return told(*(at.question.opening(at.job) or (tr("No reason is noted."),)))


def where(at: Typed) -> Reply:
    """How far each chapter is, what is read in the stage in hand, what is kept."""
    said = []
    for chapter in all_chapters(at.job.session, at.job.checklists):
        name = chapters.chapter_name(chapter.id)
        said.append(tr("{chapter}: {done} of {all}", chapter=name, done=chapter.done, all=chapter.total))
    current = at.job.session.current_stage
    if current is not None:
        read = [
            f"{corner_name(corner)} {standing(at.job.session, current.key, corner)}"
            for corner in at.job.session.job.order
            if current.corner(corner).readings
        ]
        said.append(tr("{stage}: {readings}", stage=stage_title(current.key), readings=", ".join(read) or "–"))
    return told(*said, kept(at.job, ""))


def hand_over(at: Typed) -> Reply:
    """Give the vehicle back."""
    if not at.job.session.open:
        return Reply(said=(tr("It is handed over already."),), refused=True)
    return Reply(then=HandOverAsked())


def reopen(at: Typed) -> Reply:
    """Take the job up again."""
    if at.job.session.open:
        return Reply(said=(tr("the job is open; nothing needs to be reopened"),), refused=True)
    if not at.rest:
        return Reply(then=ReopenAsked())
    return reopened(at.job, at.rest)


# ---- earlier jobs ----


def earlier(at: Typed) -> Reply:
    """What earlier jobs say, or how far the asking is."""
    asking = at.job.earlier
    if asking.heard is None:
        done, total = asking.progress
        return told(tr("Earlier jobs are being read, {done} of {total}: ask again.", done=done, total=total))
    return told(*(asking.lines(at.job) or (tr("Earlier jobs say nothing to this one."),)))


def placing(at: Typed) -> Reply:
    """Take the placing of the tape that the technician's own repeats show."""
    heard = at.job.earlier.heard
    if heard is None or heard.offered is None:
        refusal = tr("No figure of your own is on offer: too few corners of earlier jobs were read twice.")
        return Reply(said=(refusal,), refused=True)
    fact = placing_fact(heard.offered, at.job.session.job.unit)
    told_back = tr("OWN PLACING OF THE TAPE, {entered}, {basis}.", entered=fact.entered, basis=fact.basis)
    return Reply(events=(fact,), kept=told_back, then=at.question)


# ---- reading, keeping, leaving ----


def results(at: Typed) -> Reply:
    """What everything came to."""
    return told(*all_results(at.job))


def report(at: Typed) -> Reply:
    """The report for the file."""
    from cornerwalk.report.file_report import file_report
    from cornerwalk.report.text import as_text

    paper = file_report(at.job.events, at.job.session, at.job.assessment, at.job.wording, at.job.checklists)
    return told(*as_text(paper).splitlines())


def customer(at: Typed) -> Reply:
    """The customer's page."""
    from cornerwalk.report.customer import customer_sheet
    from cornerwalk.report.text import as_text

    return told(
        *as_text(customer_sheet(at.job.session, at.job.assessment, at.job.wording, at.job.checklists)).splitlines()
    )


def retry(at: Typed) -> Reply:
    """Try again to write what is not on the disk."""
    try:
        at.job.retry()
    except StoreError as error:
        return Reply(said=(tr(error.template, **error.fields),), refused=True)
    return Reply(
        said=(kept(at.job, ""),),
        stays=isinstance(at.job.state, SavedState),
        refused=not isinstance(at.job.state, SavedState),
    )


def move(at: Typed) -> Reply:
    """Go on in another folder."""
    folder = Path(at.rest)
    if not folder.is_absolute():
        return Reply(said=(tr("Say the whole path: move {example}", example="/media/stick"),), refused=True)
    try:
        state = at.job.move_to(folder)
    except StoreError as error:
        return Reply(said=(tr(error.template, **error.fields),), refused=True)
    if isinstance(state, SavedState):
        return told(tr("Goes on in {path}.", path=at.job.path))
    return Reply(said=(tr(state.problem.template, **state.problem.fields),), refused=True)


def leave_all(_at: Typed) -> Reply:
    """Leave."""
    return Reply(leaves=True)
