"""The road test as lines: the heights after it, what is looked for, and the unloaded vehicle with air in."""

from __future__ import annotations

from cornerwalk.assess.compare import BodyMovement, body_movement, stage_to_compare
from cornerwalk.job.checks import check_lines
from cornerwalk.job.notice import Notice
from cornerwalk.job.open_job import OpenJob
from cornerwalk.job.question import Option, Part, Question, Texts, in_turn, one
from cornerwalk.job.reply import Refusal, Reply, refusal
from cornerwalk.quantity import read_pressure
from cornerwalk.session.model import Stage, StageKey
from cornerwalk.session.stages import CORNERS, StageName
from cornerwalk.session.walk import PressureInput, bare_pressure, begin_stage, reopen
from cornerwalk.wording.figures import Wording
from cornerwalk.wording.names import stage_name, stage_title
from cornerwalk.words import steps, tr


def road_lines(job: OpenJob) -> tuple[Question, ...]:
    """First the heights, then what the road has done, then the empty vehicle."""
    heights = tr("Heights again")
    after = stage_line(
        job,
        "road-test",
        name_in_list=tr("after the road test"),
        group=heights,
        costs=tr("If skipped: no record of whether it settled on the road."),
    )
    empty = stage_line(
        job,
        "fitted-unloaded",
        name_in_list=tr("installed, unloaded"),
        group=tr("The unloaded vehicle, air in"),
        costs=tr("If skipped: no record of the unloaded height with air in."),
    )
    return (after, *check_lines(job, "road"), empty)


def road_panel(job: OpenJob) -> tuple[Notice, ...]:
    """What moved on the road."""
    return what_moved(job, ("road-test", 1))


def what_moved(job: OpenJob, key: StageKey) -> tuple[Notice, ...]:
    """How the body stands at a stage against the one before it that compares; nothing until it is read."""
    end, start = job.assessment.stage(key), stage_to_compare(job.assessment, key)
    if end is None or start is None or end.rear_mm is None:
        return ()
    return moved_paragraphs(body_movement(start, end, job.session.vehicle.wheelbase_mm), job.wording)


# ---- The follow-up as lines: why the job is taken up again, the heights once more, and what they are held against ----


def follow_up_lines(job: OpenJob) -> tuple[Question, ...]:
    """Before the handover nothing; after it the reason; once it is open the heights."""
    session = job.session
    if not session.handovers:
        question = tr("Hand over first. A follow-up comes later, days or months on.")
        return (Question(id="wait", name=tr("not yet"), group=_group(), part=one(Part(question=question))),)
    if not session.open:
        return (_reopening(job),)
    heights = stage_line(
        job,
        "follow-up",
        name_in_list=tr("as received"),
        group=_group(),
        costs=tr("If skipped: no way to show what changed since handover."),
    )
    return (heights,)


def _group() -> str:
    return tr("When it comes back")


def _reopening(job: OpenJob) -> Question:
    def keeps(texts: Texts) -> Reply:
        try:
            return Reply(would=reopen(job.session, texts[0]))
        except Refusal as error:
            return refusal(error)

    told = (tr("Nothing that was handed over changes; what is read now is a stage of its own."),)
    hint = tr("for example sags again; the yearly check")
    return Question(
        id="reopen",
        name=tr("take it up again"),
        group=_group(),
        part=one(Part(question=tr("Why is the job taken up again?"), hint=hint, told=told, words=True)),
        keeps=keeps,
    )


def follow_up_panel(job: OpenJob) -> tuple[Notice, ...]:
    """What moved since the handover, and what stood on the sheet then."""
    found = [stage.key for stage in job.session.stages if stage.name == "follow-up"]
    told = list(what_moved(job, found[-1])) if found else []
    for handover in job.session.handovers[-1:]:
        text = tr("{date} by {by}; its figures stay as they were.", date=handover.at[:10], by=handover.by)
        told.append(Notice(text, tr("Handed over")))
    return tuple(told)


# ---- A stage that begins with air in, as a line: the pressure is asked for, then the walk reads its heights ----


NOT_KNOWN = ("-", "−", "?")
"""Typed in place of a pressure that nobody read. Enter alone must not begin a stage: it goes to the next line."""

WALK = "walk"
"""The page of the heights, for `Reply.opens`."""


def stage_line(job: OpenJob, name: StageName, *, name_in_list: str, group: str, costs: str) -> Question:
    """The heights of a stage: begin it, go on with it, or see that it is read."""
    stage = _latest(job, name)
    if stage is not None:
        return _begun(job, stage, name_in_list, group, costs)
    return Question(
        id=f"stage.{name}",
        name=name_in_list,
        group=group,
        part=in_turn(*_pressure_parts(job, steps.to_begin(name))),
        keeps=lambda texts: _beginning(job, name, texts),
        caution=" ".join(steps.cautions(name, kit_maximum=job.session.entered.get("kit.max", ""))),
        costs=costs,
    )


def _latest(job: OpenJob, name: StageName) -> Stage | None:
    """The stage of that name that counts now: a follow-up before the last handover is another one's."""
    found = [stage for stage in job.session.stages if stage.name == name]
    if name == "follow-up" and len(found) < len(job.session.handovers):
        return None
    return found[-1] if found else None


def _pressure_parts(job: OpenJob, how: str) -> tuple[Part, ...]:
    inch = job.session.job.unit == "inch"
    hint = tr("25 psi; - if not known") if inch else tr("170 kPa; - if not known")
    if job.session.kit.lines == "separate":
        left = Part(question=tr("{how} The left one first.", how=how), hint=hint)
        return (left, Part(question=tr("And the right one?"), hint=hint))
    return (Part(question=how, hint=hint),)


def _beginning(job: OpenJob, name: StageName, texts: Texts) -> Reply:
    separate = job.session.kit.lines == "separate"
    typed = ["" if text.strip() in NOT_KNOWN else text for text in texts]
    try:
        kPa = read_pressure(typed[-1], bare=bare_pressure(job.session)).kPa if typed[-1] else None
        if separate and len(typed) < 2:
            begin_stage(job.session, name, PressureInput(left=typed[0]))
            return Reply(enter=tr("Enter: right side next."))
        air = PressureInput(left=typed[0], right=typed[1]) if separate else PressureInput(both=typed[0])
        would = begin_stage(job.session, name, air)
    except Refusal as error:
        return refusal(error)
    begins = tr("Enter starts {stage}; the walk reads it.", stage=stage_name(name))
    meant = job.wording.pressure(kPa) if kPa is not None else ""
    return Reply(large=meant.split(" ")[0], meant=meant, enter=begins, would=would, opens=WALK)


def _begun(job: OpenJob, stage: Stage, name_in_list: str, group: str, costs: str) -> Question:
    settled = sum(bool(stage.corner(c).readings) or stage.corner(c).skipped is not None for c in CORNERS)
    result = job.assessment.stage(stage.key)
    told = tr("{count} of 4 corners", count=settled)
    if result is not None and result.rear_mm is not None and settled == len(CORNERS):
        told = tr("rear {change}", change=job.wording.change(result.rear_mm))
    go = (Option("1", tr("to the walk"), "go", "w"),)
    question = tr("The heights are read.") if stage.complete else tr("The walk reads on where it was left.")
    return Question(
        id=f"stage.{stage.name}",
        name=name_in_list,
        group=group,
        stands=told,
        mark="done" if stage.complete else "open",
        part=one(Part(question=question, options=go)),
        keeps=lambda _texts: Reply(opens=WALK),
        costs=costs,
    )


# ---- What moved between two stages, in words ----


_SAME_KPA = 0.5


def moved_paragraphs(told: BodyMovement, wording: Wording) -> tuple[Notice, ...]:
    """How far each end moved, and what to make of it."""
    figures = [
        tr("front {moved}", moved=wording.change_pm(told.front_mm, told.u_front_mm)),
        tr("rear {moved}", moved=wording.change_pm(told.rear_mm, told.u_rear_mm)),
    ]
    if told.nose_up_deg is not None:
        figures.append(wording.tilt(told.nose_up_deg, told.u_nose_up_deg))
    against = tr("Against {stage}: {figures}.", stage=stage_title(told.start), figures=", ".join(figures))
    lines = [Notice(against, tr("Moved"), "strong")]
    if told.pressure_kPa is None:
        lines.append(Notice(tr("A pressure is not entered, and air alone moves the body."), part="caution"))
    elif abs(told.pressure_kPa) > _SAME_KPA:
        pressure = wording.pressure(abs(told.pressure_kPa))
        more = tr("{pressure} more in than then.", pressure=pressure)
        less = tr("{pressure} less in than then.", pressure=pressure)
        lines.append(Notice(more if told.pressure_kPa > 0 else less, part="caution"))
    elif told.surely:
        text = tr("It moved by more than the tape's uncertainty: look for what settled, and read it again.")
        lines.append(Notice(text, part="caution"))
    else:
        lines.append(Notice(tr("Within the ± of these readings, it is where it was.")))
    return tuple(lines)
