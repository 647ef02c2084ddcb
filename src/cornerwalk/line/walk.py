"""The conversation about one job: a question, an answer, what is said to it; and every word that does something else.

Nothing is said to be kept before it is on the disk. What is answered half when the program ends (a load without its
weight) was never said to be kept and is asked again.
"""

from __future__ import annotations

from cornerwalk.line.air import PressureAsked
from cornerwalk.line.chapters import resumed
from cornerwalk.line.heights import HeightAsked
from cornerwalk.line.job import OpenJob
from cornerwalk.line.leak import hold_so_far
from cornerwalk.line.reply import Question, Reply, Typed
from cornerwalk.line.said import kept, kept_at, news, stage_done
from cornerwalk.line.stages import AllRead, StageAsked, asked_by
from cornerwalk.line.vocabulary import spoken, word
from cornerwalk.session.events import CornerSkipped, Event, HeightRead
from cornerwalk.session.hold_test import running_tests
from cornerwalk.store import StoreError, UnsavedState
from cornerwalk.wording.findings import refused_rules
from cornerwalk.wording.names import job_name
from cornerwalk.words import tr
from cornerwalk.words.safe import harmless

ONCE_IS_ENOUGH = (HeightAsked, StageAsked, PressureAsked, AllRead)


class LineWalk:
    """One job, line by line.

    Attributes:
        refused: the last answer was not taken.
        done: the user has left.
    """

    def __init__(self, job: OpenJob) -> None:
        self.job = job
        self.refused = False
        self.done = False
        self._question: Question = resumed(job)
        self._explained: set[Question] = set()
        self._known_cautions: set[str] = set()
        self._doubted: tuple[str, Reply] | None = None
        self._warned_of_loss = False

    def greeting(self) -> list[str]:
        """What is said once: which job, since when it is kept, what is running, and the first question's opening."""
        session = self.job.session
        title = harmless(session.job.title) or tr("a job without a name")
        said = [tr("{title}, {kind}. help tells every word.", title=title, kind=job_name(session.job.kind))]
        if isinstance(self.job.state, UnsavedState):
            said.append(kept(self.job, ""))
        elif session.stages:
            said.append(kept_at(self.job.state.at))
        said += filter(None, (refused_rules(self.job.standards),))
        said += (hold_so_far(self.job, begun) for begun in running_tests(session))
        said += self._opening(self._question)
        self.job.earlier.ask(self.job)
        return [harmless(line) for line in said]

    def prompt(self) -> str:
        """The question now."""
        asked = harmless(self._question.prompt(self.job))
        return tr("NOT KEPT. {question}", question=asked) if isinstance(self.job.state, UnsavedState) else asked

    def answer(self, text: str) -> list[str]:
        """What is said to a text without blanks around it; whatever that says is kept is on the disk by then."""
        self.refused = False
        doubted, self._doubted = self._doubted, None
        if doubted is not None and text in ("", doubted[0]):
            said = self._take(doubted[1])
        else:
            said = self._take(self._reply(text), text)
        self.job.earlier.ask(self.job)
        return [harmless(each) for each in (*said, *self._hints())]

    def _hints(self) -> tuple[str, ...]:
        """What earlier jobs say, until this one has trials of its own."""
        if self.done or self.job.session.trials:
            return ()
        return self.job.earlier.news(self.job)

    def close(self) -> None:
        """Let others have the file."""
        self.job.close()

    def _reply(self, text: str) -> Reply:
        if text.startswith("=") and self._question.free:
            return self._question.answer(self.job, text[1:].strip())
        found = spoken(text, alone=self._question.free)
        if found is None and not text and isinstance(self._question, AllRead):
            found = (word("next"), "")
        if found is None:
            return self._question.answer(self.job, text)
        return found[0].run(Typed(self.job, self._question, found[1]))

    def _take(self, reply: Reply, text: str | None = None) -> list[str]:
        """Do what a reply asks for. With `text` a doubt is raised first; without, it was answered already."""
        said = list(reply.said)
        if reply.doubt and text is not None:
            self._doubted = (text, reply)
            self.refused = True
            return [*said, tr("{doubt} Enter keeps it all the same; or type another.", doubt=reply.doubt)]
        if reply.refused or reply.stays:
            self.refused = reply.refused
            return said
        if reply.leaves:
            return [*said, *self._leave()]
        if reply.events:
            before = self.job.assessment
            try:
                self.job.record(reply.events)
            except StoreError as error:
                self.refused = True
                return [*said, tr("Not recorded: {reason}", reason=tr(error.template, **error.fields))]
            fresh = news(before, self.job, self._known_cautions)
            self.refused = isinstance(self.job.state, UnsavedState)
            said += [kept(self.job, reply.kept), *fresh, *self._stage_done(reply.events[-1], fresh)]
        then = reply.follows(self.job) if reply.follows is not None else reply.then
        question = then or asked_by(self.job.session)
        if question != self._question:
            said += self._opening(question)
        self._question = question
        return said

    def _opening(self, question: Question) -> tuple[str, ...]:
        """What is said before a question; of the walk's own only once, since every other question returns to them."""
        if isinstance(question, ONCE_IS_ENOUGH) and question in self._explained:
            return ()
        self._explained.add(question)
        return question.opening(self.job)

    def _stage_done(self, what: Event, fresh: tuple[str, ...]) -> tuple[str, ...]:
        if not isinstance(what, HeightRead | CornerSkipped):
            return ()
        stage = self.job.session.stage((what.stage, what.number))
        return stage_done(self.job, stage.key, fresh) if stage is not None and stage.complete else ()

    def _leave(self) -> list[str]:
        state = self.job.state
        if isinstance(state, UnsavedState) and not self._warned_of_loss:
            self._warned_of_loss = True
            self.refused = True
            return [tr("What is in memory only would be lost. Type quit again to leave all the same.")]
        self.done = True
        return [self.farewell()]

    def farewell(self) -> str:
        """The last word: what is kept, and where."""
        state = self.job.state
        if isinstance(state, UnsavedState):
            return tr("{count} entries were never on the disk and are lost.", count=state.pending)
        return tr("Everything is kept in {file}.", file=harmless(self.job.path.name))
