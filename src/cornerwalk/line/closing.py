"""Handing the vehicle over, and taking the job up again."""

from __future__ import annotations

from dataclasses import dataclass, replace

from cornerwalk import __version__
from cornerwalk.job.handover import hand_over_as_shown
from cornerwalk.line.job import OpenJob
from cornerwalk.line.reply import Question, Refusal, Reply, refused
from cornerwalk.line.stages import beginning
from cornerwalk.session.hold_test import running_tests
from cornerwalk.session.model import Session
from cornerwalk.session.walk import next_number, reopen
from cornerwalk.wording.checks import unchecked_names
from cornerwalk.wording.findings import finding_text
from cornerwalk.wording.names import overall_sentence
from cornerwalk.words import tr


@dataclass(frozen=True, slots=True)
class HandOverAsked:
    """Who takes the vehicle, what was decided where a STOP stands, and a last word."""

    to: str | None = None
    decision: str | None = None

    @property
    def free(self) -> bool:
        """Names and decisions are told in words."""
        return True

    def prompt(self, job: OpenJob) -> str:
        """What of it is due."""
        if self.to is None:
            return tr("Handed over to, name; Enter without a name, leave goes back:")
        if self.decision is None and _stops(job):
            return tr("A STOP stands. What was decided, and by whom:")
        return tr("Hand over now? It cannot be taken back. y:")

    def opening(self, job: OpenJob) -> tuple[str, ...]:
        """How the job stands: the worst verdict, every STOP, what was not checked, what is still running."""
        if self.to is not None:
            return ()
        assessment = job.assessment
        said = [overall_sentence(assessment.overall), *_stops(job)]
        if missing := unchecked_names(assessment):
            said.append(tr("Not checked: {checks}.", checks="; ".join(missing)))
        if running_tests(job.session):
            said.append(tr("The hold test is still running: leak end."))
        return tuple(said)

    def answer(self, job: OpenJob, text: str) -> Reply:
        """The next part of it; y hands over."""
        if self.to is None:
            return Reply(then=replace(self, to=text))
        if self.decision is None and _stops(job):
            if not text:
                return Reply(said=(tr("Write what was decided, for whoever reads this later."),), refused=True)
            return Reply(then=replace(self, decision=text))
        if text.casefold() not in ("y", "yes", "1", tr("yes").casefold()):
            return Reply(said=(tr("Not handed over."),))
        try:
            events = hand_over_as_shown(
                job.session, job.assessment, to=self.to, decision=self.decision or "", program=__version__
            )
        except Refusal as error:
            return refused(error)
        to = tr("HANDED OVER to {name}.", name=self.to) if self.to else tr("HANDED OVER.")
        return Reply(events=events, kept=to)


def _stops(job: OpenJob) -> tuple[str, ...]:
    found = (finding_text(stop, job.wording) for stop in job.assessment.stops)
    return tuple(f"{text.level_word}: {text.heading}. {text.action}" for text in found)


@dataclass(frozen=True, slots=True)
class ReopenAsked:
    """Why a handed-over job is taken up again."""

    @property
    def free(self) -> bool:
        """In words."""
        return True

    def prompt(self, _job: OpenJob) -> str:
        """`Why is the job taken up again?`."""
        return tr("Why is the job taken up again? Enter alone leaves it closed:")

    def opening(self, _job: OpenJob) -> tuple[str, ...]:
        """What stays."""
        return (tr("What was handed over stays as it was."),)

    def answer(self, job: OpenJob, text: str) -> Reply:
        """The reason."""
        return reopened(job, text) if text else Reply()


def reopened(job: OpenJob, reason: str) -> Reply:
    """The job open again for a follow-up."""
    try:
        events = reopen(job.session, reason)
    except Refusal as error:
        return refused(error)
    return Reply(
        events=events,
        kept=tr("OPEN AGAIN: {reason}.", reason=reason),
        follows=lambda now: follow_up(now.session),
    )


def follow_up(session: Session) -> Question:
    """The heights of a vehicle that came back."""
    return beginning(session, ("follow-up", next_number(session, "follow-up")))
