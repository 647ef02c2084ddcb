"""Chapters of the job: what each is called, holds, asks and comes to, and what leaving it out costs. One row a chapter.

Heights are read on the walk: their chapters ask nothing here. The order, and how far each one is, are the session's.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from typing import LiteralString

from cornerwalk.job.checks import before_lines, checklists_of, stops_panel
from cornerwalk.job.cursor import latest_lines, line_of
from cornerwalk.job.dialog import Dialog
from cornerwalk.job.fitting import fitting_lines
from cornerwalk.job.handover import handover_lines, handover_panel
from cornerwalk.job.intake import ADD, intake_lines, intake_panel
from cornerwalk.job.leak import leak_lines, leak_panel
from cornerwalk.job.notice import Notice, count_words
from cornerwalk.job.open_job import OpenJob
from cornerwalk.job.question import Option, Part, Question, one
from cornerwalk.job.road import follow_up_lines, follow_up_panel, road_lines, road_panel
from cornerwalk.job.stage import stage_heading, stage_lines
from cornerwalk.session.chapters import CHAPTERS, Chapter, chapters, next_chapter
from cornerwalk.session.events import (
    CheckAnswered,
    Event,
    JobReopened,
    LevellerSet,
    LoadStated,
    MarkRead,
    StageBegun,
)
from cornerwalk.session.hold_test import hours_since, running_tests
from cornerwalk.session.model import StageKey
from cornerwalk.session.stages import ChapterId
from cornerwalk.session.walk import StagesDone, due
from cornerwalk.words import tr


def _nothing(_job: OpenJob) -> tuple[()]:
    return ()


@dataclass(frozen=True, slots=True)
class ChapterKind:
    """One chapter.

    Attributes:
        id: as the session knows it.
        title: what it is called; English, like the next two.
        about: what it holds.
        cost: what leaving it out costs.
        questions: its lines as the job stands; none where the walk reads its heights.
        panel: what they come to.
    """

    id: ChapterId
    title: LiteralString
    about: LiteralString
    cost: LiteralString
    questions: Callable[[OpenJob], tuple[Question, ...]] = _nothing
    panel: Callable[[OpenJob], tuple[Notice, ...]] = _nothing

    @property
    def walked(self) -> bool:
        """Its heights are read on the walk."""
        return self.questions is _nothing


_ROWS = (
    ChapterKind(
        "intake",
        "Intake",
        "The customer's question; vehicle, ratings, headlights, kit, loads, hitch, scale; presets.",
        "If skipped: heights still show, but no tilt, beam, axle load or limit.",
        intake_lines,
        intake_panel,
    ),
    ChapterKind(
        "before",
        "Before anything is changed",
        "What can end the job at once, what the height touches, what is found on the vehicle.",
        "If skipped: a brake valve that rules out helper springs goes unseen, and old damage becomes yours.",
        before_lines,
        stops_panel,
    ),
    ChapterKind(
        "unloaded",
        "Heights unloaded",
        "The four heights that every change is counted from, under the same conditions each time.",
        "The job waits for this: without it nothing can be called a change.",
    ),
    ChapterKind(
        "loaded",
        "Heights loaded, no air",
        "The four heights as it will be driven, no air in: how far it hangs, where the beam points.",
        "The job waits for this: without it nobody knows what the helper springs have to restore.",
    ),
    ChapterKind(
        "fitting",
        "Installation",
        "The work in its order, each caution at its step, and the torques by the maker's figures.",
        "If skipped: no record that it was done by the kit's instructions.",
        fitting_lines,
        stops_panel,
    ),
    ChapterKind(
        "air",
        "Air, trial by trial",
        "Step the pressure up, read the heights each time, and see which pressure brings it back and how certain "
        "that is.",
        "One trial gives no recommendation, two give one, three check it.",
    ),
    ChapterKind(
        "leak",
        "Leak check",
        "Gauge and temperature at night and in the morning, soap on every joint, valve core and gauge.",
        "If skipped: the customer finds a slow leak, on the road.",
        leak_lines,
        leak_panel,
    ),
    ChapterKind(
        "road",
        "Road test",
        "The heights again, what moved, what rubbed, what got hot; and the unloaded vehicle with air in.",
        "If skipped: settling and rubbing show only after some miles.",
        road_lines,
        road_panel,
    ),
    ChapterKind(
        "handover",
        "Handover",
        "What was done, found and left; what the customer is told; the sheet and its code.",
        "If skipped: the job stays open and the customer has no copy.",
        handover_lines,
        handover_panel,
    ),
    ChapterKind(
        "follow-up",
        "Follow-up",
        "Days or months later: the heights again, compared with those at handover.",
        "Nothing lost; it is here for when the vehicle returns.",
        follow_up_lines,
        follow_up_panel,
    ),
)

CHAPTER_KINDS: dict[ChapterId, ChapterKind] = {row.id: row for row in _ROWS}


def chapter_state(job: OpenJob, chapter: Chapter, now: datetime) -> str:
    """How far it is, in a few words."""
    if chapter.id == "leak" and running_tests(job.session):
        hours = hours_since(running_tests(job.session)[0], now)
        return tr("running for {hours}", hours=job.wording.hours(hours)) if hours is not None else tr("testing")
    if chapter.id == "handover":
        return tr("done") if chapter.done else tr("open")
    if chapter.id == "follow-up" and not chapter.done:
        return ""
    if chapter.id == "air":
        trials = len(job.session.trials)
        return tr("{count} trials", count=trials) if trials != 1 else tr("1 trial")
    return count_words(chapter.done, chapter.total)


def chapter_to_open(job: OpenJob) -> ChapterId:
    """The chapter to go on with.

    Heights are never forced: where the walk asks for nothing more, or a chapter has nothing open, the job goes on.
    """
    session = job.session
    chapter = next_chapter(session, checklists_of(job)) or "follow-up"
    if CHAPTER_KINDS[chapter].walked and isinstance(due(session), StagesDone):
        chapter = "handover" if session.job.kind == "load check" else "leak"
    kind = CHAPTER_KINDS[chapter]
    nothing_open = not kind.walked and all(line.mark != "open" for line in kind.questions(job))
    return "handover" if session.open and nothing_open else chapter


def chapter_choice(job: OpenJob) -> Question:
    """Which chapter of the job, each with how far it is; its answer is the chapter's id."""
    now = job.context.clock()
    options = []
    for place, chapter in enumerate(chapters(job.session, checklists_of(job)), start=1):
        title, state = tr(CHAPTER_KINDS[chapter.id].title), chapter_state(job, chapter, now)
        text = f"{title}: {state}" if state else title
        options.append(Option(str(place), text, chapter.id, also=(chapter.id, title.casefold())))
    part = Part(question=tr("Which chapter?"), options=tuple(options))
    return Question(id="chapters", name=tr("the chapters"), group=tr("the chapters"), part=one(part))


def chapter_dialog(job: OpenJob, chapter: ChapterId, first: str = "") -> Dialog:
    """The questions of a chapter, from the line named, else from where they were left."""
    kind = CHAPTER_KINDS[chapter]
    return _from(Dialog(job, tr(kind.title), lambda: kind.questions(job), latest_lines(job.events)), first)


def stage_dialog(job: OpenJob, stage: StageKey, first: str = "") -> Dialog:
    """What belongs to a stage besides its heights, from the line named, else from where it was left."""
    latest = latest_lines(job.events, stage)
    return _from(Dialog(job, stage_heading(stage), lambda: stage_lines(job, stage), latest), first)


def _from(dialog: Dialog, first: str) -> Dialog:
    if first:
        dialog.cursor.go(first)
    return dialog


def dialog_at(job: OpenJob, what: Event, *, after: bool) -> Dialog | None:
    """The chapter that an event answers a line of, at that line or after it; None for what no chapter asks.

    A chapter that has no more is None too: the walk goes on.
    """
    if isinstance(what, JobReopened):
        return chapter_dialog(job, "follow-up")
    stage = _stage_of(what)
    line_id = ADD if isinstance(what, LoadStated) else line_of(what, stage)
    if not line_id or isinstance(what, StageBegun):
        return None
    dialog = stage_dialog(job, stage, line_id) if stage is not None else _asking(job, line_id)
    if dialog is not None and after:
        dialog.cursor.go_on()
    return dialog if dialog is not None and dialog.line is not None else None


def _asking(job: OpenJob, line_id: str) -> Dialog | None:
    """The chapter of this job that asks a line; None where none does."""
    dialogs = (chapter_dialog(job, chapter, line_id) for chapter in CHAPTERS[job.session.job.kind])
    return next((dialog for dialog in dialogs if dialog.line is not None and dialog.line.id == line_id), None)


def _stage_of(what: Event) -> StageKey | None:
    """The stage that an answer belongs to; None for one that is asked once."""
    if isinstance(what, CheckAnswered | MarkRead | LevellerSet) and what.stage is not None:
        return (what.stage, what.number or 1)
    return None
