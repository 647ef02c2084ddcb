"""Where the conversation stands: the question that comes next in the job, and the one to resume at."""

from __future__ import annotations

from cornerwalk.line.air import PressureAsked, first_line
from cornerwalk.line.closing import HandOverAsked, ReopenAsked, follow_up
from cornerwalk.line.facts import FactAsked, LoadAsked, intake, intake_facts
from cornerwalk.line.heights import HeightAsked
from cornerwalk.line.job import OpenJob
from cornerwalk.line.leak import end_of, first_joint, joint_after, joint_named, start_of
from cornerwalk.line.lists import CheckAsked, NoteAsked, following, question_of, questions
from cornerwalk.line.reply import Question
from cornerwalk.line.stages import asked_by, beginning
from cornerwalk.line.work import TorqueAsked, WeighAsked, torque_after, weighing_after
from cornerwalk.session import events as ev
from cornerwalk.session.chapters import BEFORE_CHECKLISTS, next_chapter
from cornerwalk.session.log import active_events
from cornerwalk.session.model import Session
from cornerwalk.session.stages import AIR_STAGES, ChapterId, StageName
from cornerwalk.session.walk import StagesDone, due, next_number
from cornerwalk.words import tr


def chapter_name(chapter: ChapterId) -> str:
    """What a chapter of the job is called."""
    return {
        "intake": tr("Intake"),
        "before": tr("Before"),
        "unloaded": tr("Heights, unloaded"),
        "loaded": tr("Heights, loaded"),
        "fitting": tr("Fitting"),
        "air": tr("Air trials"),
        "leak": tr("Leak check"),
        "road": tr("Road test"),
        "handover": tr("Handover"),
        "follow-up": tr("Follow-up"),
    }[chapter]


def question_in(job: OpenJob, chapter: ChapterId) -> Question | None:
    """The first open question of a chapter; None where it has none."""
    session = job.session
    match chapter:
        case "intake":
            return intake(session)
        case "before":
            return _open_question(job, *BEFORE_CHECKLISTS)
        case "fitting":
            return _open_question(job, "fitting")
        case "leak":
            return end_of(session) or (first_joint(session) if session.leak_readings else start_of(session))
        case "road":
            if session.first_stage("road-test") is None:
                return beginning(session, ("road-test", 1))
            return _open_question(job, "road")
        case "handover":
            return _open_question(job, "handover") or HandOverAsked()
        case "follow-up":
            return follow_up(session) if session.open else ReopenAsked()
        case "unloaded" | "loaded" | "air":
            return asked_by(session)


def _open_question(job: OpenJob, *list_ids: str) -> CheckAsked | None:
    asked = (questions(job, list_id) for list_id in list_ids)
    return next((question for question in asked if question is not None), None)


def onward(job: OpenJob) -> tuple[ChapterId, Question]:
    """The chapter to do next, and its first open question; where it has none, the handover."""
    chapter = next_chapter(job.session, job.checklists)
    if chapter is None:
        return "follow-up", asked_by(job.session)
    walked = chapter in ("unloaded", "loaded", "air")
    if walked and isinstance(due(job.session), StagesDone):
        # Heights are never forced: where the walk asks for nothing more, the job goes on.
        chapter = "handover" if job.session.job.kind == "load check" else "leak"
    question = question_in(job, chapter)
    return (chapter, question) if question is not None else ("handover", HandOverAsked())


def resumed(job: OpenJob) -> Question:
    """The question after the one answered last; the walk's own where that cannot be told.

    Answers given together when the job was opened (a sheet, a preset, the settings) are no question's.
    """
    counting = active_events(job.events)
    last, opened = counting[-1], counting[0]
    if not job.session.open or last.at == opened.at:
        return asked_by(job.session)
    return after(job, last.payload) or asked_by(job.session)


def after(job: OpenJob, what: ev.Event) -> Question | None:
    """The question that follows this answer; None where the walk has the next one."""
    session = job.session
    match what:
        case ev.FactStated(name=name) if name in intake_facts(session):
            return intake(session, after=name)
        case ev.LoadStated() | ev.LoadRemoved():
            return LoadAsked()
        case ev.CheckAnswered(check=check, answer=answer, note=note):
            asked = question_of(job, check, _stage_of(what))
            if asked is None:
                return None
            wanted = asked.after(job, answer, note)
            if isinstance(wanted, NoteAsked):
                return wanted
            return questions(job, asked.list_id, asked.stage) or following(job, asked.list_id)
        case ev.TorqueRecorded(joint=joint):
            return torque_after(joint, job)
        case ev.WeighingRecorded(weighing=weighing):
            return weighing_after(weighing, job)
        case ev.LeakRead(moment="start"):
            return first_joint(session)
        case ev.JointSoaped(joint=joint):
            return joint_after(session, joint)
        case ev.JobReopened():
            return follow_up(session)
        case _:
            return None


def question_for(job: OpenJob, what: ev.Event) -> Question | None:
    """The question that this was the answer to, to be answered otherwise; None for what no question asks."""
    session = job.session
    match what:
        case ev.FactStated(name=name) if name in intake_facts(session):
            return FactAsked(intake_facts(session), intake_facts(session).index(name))
        case ev.HeightRead(stage=stage, number=number, corner=corner, how=how) if session.stage((stage, number)):
            record = session.stage((stage, number))
            stands = record is not None and bool(record.corner(corner).readings)
            return HeightAsked((stage, number), corner, how if stands and how != "first" else "first")
        case ev.CornerSkipped(stage=stage, number=number, corner=corner):
            return HeightAsked((stage, number), corner)
        case ev.StageBegun(stage=stage):
            return (
                asked_by(session) if stage == "unloaded" else beginning(session, (stage, next_number(session, stage)))
            )
        case ev.PressureStated(stage=stage, number=number):
            return PressureAsked((stage, number), first_line(session), begun=True)
        case ev.CheckAnswered(check=check):
            return question_of(job, check, _stage_of(what))
        case ev.TorqueRecorded(joint=joint):
            return torque_after(joint, job) if any(t.joint == joint for t in session.torques) else TorqueAsked(joint)
        case ev.WeighingRecorded(weighing=weighing):
            return WeighAsked(weighing)
        case ev.LoadStated() | ev.LoadRemoved():
            return LoadAsked()
        case ev.LeakRead(moment=moment):
            return start_of(session) if moment == "start" else end_of(session)
        case ev.JointSoaped(joint=joint):
            return joint_named(joint)
        case _:
            return None


def _stage_of(what: ev.CheckAnswered) -> tuple[StageName, int] | None:
    return None if what.stage is None else (what.stage, what.number or 1)


def air_stage(session: Session) -> tuple[StageName, int] | None:
    """The stage whose pressure can be stated now; None where the last one begun has none."""
    current = session.current_stage
    return current.key if current is not None and current.name in AIR_STAGES else None
