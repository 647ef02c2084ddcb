"""The handover as lines: what the customer is told, whose hands the vehicle goes into, and the end of the job."""

from __future__ import annotations

from cornerwalk import __version__
from cornerwalk.assess.assessment import Assessment
from cornerwalk.job.checks import check_lines
from cornerwalk.job.form import fact_lines
from cornerwalk.job.notice import Notice
from cornerwalk.job.open_job import OpenJob
from cornerwalk.job.question import Option, Part, Question, Texts, in_turn
from cornerwalk.job.reply import Refusal, Reply, refusal
from cornerwalk.report.handover import handed_over_figures
from cornerwalk.session.events import Event
from cornerwalk.session.hold_test import running_tests
from cornerwalk.session.model import Session
from cornerwalk.session.walk import EntryError, hand_over
from cornerwalk.wording.checks import unchecked_names
from cornerwalk.wording.findings import finding_text
from cornerwalk.wording.names import level_word, overall_sentence
from cornerwalk.words import tr
from cornerwalk.words.safe import harmless

SHEET = "job.sheet"
"""The key of the page with the customer's sheet, for `Reply.opens`."""


def handover_lines(job: OpenJob) -> tuple[Question, ...]:
    """The distance for the check, which is told with the rest; what is told; and the handing over itself."""
    again = fact_lines(job, ("service.retorque_distance",), tr("Checked again"))
    return (*again, *check_lines(job, "handover"), _closing(job))


def handover_panel(job: OpenJob) -> tuple[Notice, ...]:
    """What is not done: STOPs first, then what runs, then what was not checked."""
    told = [Notice(text, level_word("stop"), "caution", "caution") for text in stops(job)]
    if running_tests(job.session):
        told.append(Notice(tr("The hold test is still running."), tr("Care"), "caution", "caution"))
    told.append(Notice(overall_sentence(job.assessment.overall), tr("Checks")))
    if missing := unchecked_names(job.assessment):
        told.append(Notice("; ".join(missing), tr("Not checked")))
    return tuple(told)


def stops(job: OpenJob) -> tuple[str, ...]:
    """The STOPs that stand, by their headings."""
    return tuple(dict.fromkeys(finding_text(stop, job.wording).heading for stop in job.assessment.stops))


def _closing(job: OpenJob) -> Question:
    session = job.session
    closed = not session.open
    customer = harmless(session.job.customer)
    standing = stops(job)

    def keeps(texts: Texts) -> Reply:
        if closed:
            return Reply(opens=SHEET)
        if texts[-1] != "now":
            return _so_far(texts, deciding=bool(standing) and len(texts) == 2)
        decision = texts[1] if standing else ""
        try:
            would = hand_over_as_shown(job.session, job.assessment, to=texts[0], decision=decision, program=__version__)
        except Refusal as error:
            return refusal(error)
        return Reply(would=would, opens=SHEET)

    return Question(
        id="handover",
        name=tr("hand it over"),
        group=tr("The end of the job"),
        stands=tr("handed over") if closed else "",
        mark="done" if closed else "open",
        part=in_turn(*(_closed_parts() if closed else _closing_parts(standing, customer))),
        keeps=keeps,
        why=tr("What is shown now is what stands on record; a later program says where it would differ."),
        half=closed,
        walks_on=True,
    )


def _closed_parts() -> tuple[Part, ...]:
    look = (Option("1", tr("the sheet"), "sheet", "s"),)
    return (Part(question=tr("The vehicle is handed over."), options=look),)


def _closing_parts(standing: tuple[str, ...], customer: str) -> tuple[Part, ...]:
    """Whose hands; where a STOP stands who decided what; and then, by its number only, the end."""
    who = Part(
        question=tr("Whose hands does it go into?"), stands=customer, hint=tr("a name"), goes_on=True, words=True
    )
    final = tr("The figures are kept as they stand now. This cannot be taken back; a follow-up can follow.")
    now = Option("1", tr("hand it over now"), "now", "y")
    close = Part(question=tr("Close the job?"), options=(now,), told=(final,))
    if not standing:
        return (who, close)
    told = (tr("STOP stands: {names}.", names="; ".join(standing)),)
    decided = Part(question=tr("A STOP stands. Who decided what happens with it, and what?"), told=told, words=True)
    return (who, decided, close)


def _so_far(texts: Texts, *, deciding: bool) -> Reply:
    if deciding and not texts[-1].strip():
        return Reply(trouble=tr("With a STOP standing, write who decided what happens; it goes on record."))
    return Reply(enter=tr("Enter goes on."))


def hand_over_as_shown(
    session: Session, assessment: Assessment, *, to: str, decision: str, program: str
) -> tuple[Event, ...]:
    """The vehicle goes back with the figures as they are shown; `decision` says what happens where a STOP stands.

    Raises:
        EntryError: it is handed over already, or a STOP stands and no decision is written down.
    """
    if session.open and assessment.stops and not decision.strip():
        raise EntryError("With a STOP standing, write who decided what happens; it goes on record.")
    return hand_over(session, to, handed_over_figures(session, assessment), program, decision)
