"""Stage questions: what belongs to one stage besides its heights: conditions, the mark on the wall, the leveller."""

from __future__ import annotations

from cornerwalk.job.checks import check_lines
from cornerwalk.job.notice import Notice
from cornerwalk.job.open_job import OpenJob
from cornerwalk.job.question import Part, Question, Texts, one
from cornerwalk.job.reply import Refusal, Reply, refusal
from cornerwalk.session.conditions import changed_conditions, read_mark, set_leveller
from cornerwalk.session.model import StageKey
from cornerwalk.session.stages import REFERENCE_STAGE
from cornerwalk.session.walk import ReadCorner, due
from cornerwalk.wording.answers import line_name
from cornerwalk.wording.names import stage_title
from cornerwalk.words import tr
from cornerwalk.words.safe import harmless


def stage_in_place(job: OpenJob) -> StageKey:
    """The stage begun last: the vehicle stands in it until the next is begun. At first the one that is due."""
    current = job.session.current_stage
    if current is not None:
        return current.key
    asked = due(job.session)
    return asked.stage if isinstance(asked, ReadCorner) else (REFERENCE_STAGE, 1)


def stage_heading(stage: StageKey) -> str:
    """What its questions stand under."""
    return tr("At this stage: {stage}", stage=stage_title(stage))


def stage_lines(job: OpenJob, stage: StageKey) -> tuple[Question, ...]:
    """The conditions first, then the lamps."""
    lines = [*check_lines(job, "conditions", stage), mark_line(job, stage)]
    if job.session.vehicle.levelling in ("manual", "unknown"):
        lines.append(leveller_line(job, stage))
    return tuple(lines)


def stage_panel(job: OpenJob, stage: StageKey) -> tuple[Notice, ...]:
    """What changed since another stage, and what that means."""
    changed = changed_conditions(job.session, stage)
    if not changed:
        return ()
    names = ", ".join(harmless(line_name(each.check)) for each in changed)
    told = tr("Changed since an earlier stage: {names}. Heights under other conditions do not compare.", names=names)
    return (Notice(told, tr("Caution"), "caution", "caution"),)


def _group() -> str:
    return tr("Headlights at this stage")


def mark_line(job: OpenJob, key: StageKey) -> Question:
    """The cut-off on the wall."""
    stage = job.session.stage(key)
    mark_mm = stage.mark_mm if stage is not None else None
    distance = job.wording.screen(job.assessment.screen_mm)

    def keeps(texts: Texts) -> Reply:
        try:
            would = read_mark(job.session, key, texts[0])
        except Refusal as error:
            return refusal(error)
        return Reply(meant=_above(job, would.above_mm), would=(would,))

    question = tr(
        "Where is the cutoff on the wall at {distance}, against headlight height unloaded?", distance=distance
    )
    return Question(
        id="mark",
        name=tr("wall mark"),
        group=_group(),
        stands="" if mark_mm is None else _above(job, mark_mm),
        mark="open" if mark_mm is None else "done",
        part=one(
            Part(
                question=question,
                stands="",
                hint=tr("2 below, or -2; 1 above, or 1"),
                told=(tr("Mark headlight center height on the wall once, unloaded, and leave the mark there."),),
            )
        ),
        keeps=keeps,
        why=tr("A wall mark replaces the calculated beam, and shows whether the calculation holds."),
        costs=tr("If skipped: the beam is calculated from body tilt."),
    )


def _above(job: OpenJob, mm: float) -> str:
    size = job.wording.length(abs(mm))
    if abs(mm) < 0.05:
        return tr("at headlight height")
    return tr("{size} above headlight height", size=size) if mm > 0 else tr("{size} below headlight height", size=size)


def leveller_line(job: OpenJob, key: StageKey) -> Question:
    """The dial of a manual leveller."""
    stage = job.session.stage(key)
    position = harmless(stage.leveller) if stage is not None and stage.leveller is not None else ""

    def keeps(texts: Texts) -> Reply:
        try:
            return Reply(would=(set_leveller(key, texts[0]),))
        except Refusal as error:
            return refusal(error)

    return Question(
        id="leveller",
        name=tr("headlight leveling dial"),
        group=_group(),
        stands=position,
        mark="done" if position else "open",
        part=one(
            Part(
                question=tr("Headlight leveling dial setting?"),
                stands=position,
                hint=tr("as on the dial"),
                words=True,
            )
        ),
        keeps=keeps,
        why=tr("A dial turned between stages moves the beam and not the body."),
        costs=tr("If skipped: a moved beam may just be the dial."),
    )
