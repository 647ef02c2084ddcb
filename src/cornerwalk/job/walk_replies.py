"""Replies of the walk: what a typed text means as the answer to a prompt.

`reply_to(job, prompt, text)` is the only entry; a skin shows what it answers and, on Enter, records it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from cornerwalk.assess.plausibility import neighbors, remark
from cornerwalk.job.open_job import OpenJob
from cornerwalk.job.prompts import (
    AllReadPrompt,
    ClosedPrompt,
    HeightPrompt,
    NotePrompt,
    PastePrompt,
    PressurePrompt,
    Prompt,
    ReasonPrompt,
    StageChoicePrompt,
    StagePrompt,
    beginning,
    first_line,
    last_read,
    reading_of,
)
from cornerwalk.job.reply import Echo, Refusal, Reply, refusal
from cornerwalk.quantity import read_pressure
from cornerwalk.session.events import Event, HeightRead
from cornerwalk.session.model import StageKey
from cornerwalk.session.stages import REFERENCE_STAGE, SIBLING, Corner
from cornerwalk.session.walk import (
    PressureInput,
    bare_pressure,
    begin_stage,
    next_number,
    read_session_height,
    record_height,
    skip_corner,
    state_pressure,
    write_note,
)
from cornerwalk.wording.checks import ONLY_TOLD, remark_words
from cornerwalk.wording.figures import Wording
from cornerwalk.wording.names import corner_name, stage_name, stage_title
from cornerwalk.words import tr
from cornerwalk.words.steps import skip_reasons

SAME_HEIGHT_MM = 1e-6
"""A sixteenth of an inch in binary millimeters is off by less."""


def reply_to(job: OpenJob, asked: Prompt, text: str) -> Reply:
    """What this text means as the answer to this question."""
    match asked:
        case HeightPrompt():
            return height(job, asked, text)
        case PressurePrompt():
            return pressure(job, asked, text)
        case StagePrompt():
            return stage(job, asked, text)
        case PastePrompt():
            return several(job, asked)
        case StageChoicePrompt():
            return choice(job, asked, text)
        case ReasonPrompt():
            return reason(job, asked, text)
        case NotePrompt():
            return note(job, asked, text)
        case AllReadPrompt() | ClosedPrompt():
            return Reply(enter=tr("Enter: next step."), opens="job.chapters")


# ---- Heights typed, averaged, put in place of others, pasted ----


def height(job: OpenJob, asked: HeightPrompt, text: str) -> Reply:
    """A height at a corner: what it is, against what it stands, and whether it looks odd there."""
    if not text.strip() and asked.how != "first":
        return _standing(job, asked)
    try:
        events = record_height(
            job.session,
            text,
            corner=asked.corner,
            stage=asked.stage,
            how="repeat" if asked.how == "repeat" else None,
        )
    except Refusal as error:
        return replace(refusal(error), enter="" if text.strip() else _how_to_type(job))
    reading = events[-1]
    if not isinstance(reading, HeightRead):
        return Reply(would=events)
    doubt, told = _remarked(job, asked, reading.mm)
    return Reply(
        large=job.wording.height(reading.mm),
        meant=job.wording.exact(reading.mm),
        beside=(*_compared(job, asked.stage, asked.corner, reading.mm), *told),
        enter=_what_enter_does(job, asked),
        doubt=doubt,
        would=events,
        judged=not doubt,
    )


def _how_to_type(job: OpenJob) -> str:
    if any(stage.corners for stage in job.session.stages):
        return ""
    if job.session.job.unit == "inch":
        return tr("Type digits, then Enter: 28 5/8, 28-5/8, 28.625, or 28+10 for sixteenths.")
    return tr("Digits, then Enter.")


def _standing(job: OpenJob, asked: HeightPrompt) -> Reply:
    """What Enter alone leaves as it is."""
    stands: Echo = ("ink", tr("Saved here: {readings}.", readings=_readings(job, asked)))
    if asked.how == "repeat":
        turn = tr("{key} replaces instead. Enter alone leaves it.", key=job.control("walk.replace"))
        return Reply(beside=(stands, ("due", tr("What you type is averaged with it."))), enter=turn)
    turn = tr("{key} averages instead. Enter alone leaves it as is.", key=job.control("walk.average"))
    return Reply(beside=(stands, ("due", tr("What you type takes its place."))), enter=turn)


def _readings(job: OpenJob, asked: HeightPrompt) -> str:
    stage = job.session.stage(asked.stage)
    record = stage.corner(asked.corner) if stage is not None else None
    return ", ".join(reading.entered for reading in record.readings) if record is not None else ""


def _what_enter_does(job: OpenJob, asked: HeightPrompt) -> str:
    if asked.how == "repeat":
        return tr("Enter averages it with {readings}", readings=_readings(job, asked))
    if asked.how == "instead":
        return tr("Enter replaces {readings}", readings=_readings(job, asked))
    return tr("Enter saves it")


def _compared(job: OpenJob, stage: StageKey, corner: Corner, mm: float) -> tuple[Echo, ...]:
    """The height against the same corner before; in the first stage, against the other side."""
    wording = job.wording
    if stage[0] == REFERENCE_STAGE:
        begun = job.session.stage(stage)
        other = begun.corner(SIBLING[corner]).mean_mm if begun is not None else None
        if other is None:
            return ()
        told = tr(
            "{corner} {height}, so this side {change}",
            corner=corner_name(SIBLING[corner]),
            height=wording.height(other),
            change=wording.change(mm - other),
        )
        return (("ink", told),)
    lines: list[Echo] = []
    keys = [s.key for s in job.session.stages]
    before = keys[: keys.index(stage)] if stage in keys else keys
    for key in dict.fromkeys([REFERENCE_KEY, *before[-1:]]):
        earlier = job.session.stage(key)
        was = earlier.corner(corner).mean_mm if earlier is not None else None
        if was is None:
            continue
        told = tr(
            "{stage} here {height}, so {change}",
            stage=_short(key),
            height=wording.height(was),
            change=wording.change(mm - was),
        )
        lines.append(("strong" if not lines else "ink", told))
    return tuple(lines)


REFERENCE_KEY: StageKey = (REFERENCE_STAGE, 1)


def _short(key: StageKey) -> str:
    return tr("loaded") if key == ("loaded", 1) else stage_title(key) if key[0] == "fitted" else stage_name(key[0])


def _remarked(job: OpenJob, asked: HeightPrompt, mm: float) -> tuple[str, tuple[Echo, ...]]:
    """What asks for a second look, "" for nothing, and what is only told."""
    beside = neighbors(job.session, job.standards, asked.stage, asked.corner, asked.how)
    found = remark(mm, beside)
    grave = [remark_words(each, asked.corner, job.wording) for each in found if each.code not in ONLY_TOLD]
    told = [remark_words(each, asked.corner, job.wording) for each in found if each.code in ONLY_TOLD]
    return (grave[0] if grave else ""), tuple(("quiet", text) for text in told)


def several(job: OpenJob, asked: PastePrompt) -> Reply:
    """Several readings at once: all of them, or none and why."""
    lines: list[Echo] = []
    events: list[Event] = []
    for corner, text in asked.readings:
        try:
            kept = record_height(job.session, text, corner=corner, stage=asked.stage)
        except Refusal as error:
            trouble = tr("{corner}: {reason}", corner=corner_name(corner), reason=refusal(error).trouble)
            return Reply(trouble=trouble, beside=(*lines, ("caution", trouble)))
        height = kept[-1]
        # Only the first reading of a stage begins it.
        events += kept if not events else kept[-1:]
        if isinstance(height, HeightRead):
            lines.append(("ink", f"{corner_name(corner)}  {job.wording.height_with_unit(height.mm)}"))
    keeps = tr("Enter saves these, {key} cancels.", key=job.control("app.back"))
    return Reply(beside=tuple(lines), enter=keeps, enter_part="due", would=tuple(events), judged=True)


# ---- Stages begun and the pressures they begin with ----


def stage(job: OpenJob, asked: StagePrompt, text: str) -> Reply:
    """The vehicle stands as asked; a height typed too early stays for the next question."""
    begin = begin_stage(job.session, asked.stage[0])
    stage = stage_name(asked.stage[0])
    if text.strip():
        told = tr("Press Enter when the vehicle is {stage}. Your entry stays; a second Enter saves it.", stage=stage)
        return Reply(enter=told, enter_part="due", would=begin, keeps_text=True)
    return Reply(enter=tr("Press Enter when the vehicle is {stage}.", stage=stage), enter_part="due", would=begin)


def pressure(job: OpenJob, asked: PressurePrompt, text: str) -> Reply:
    """A pressure, or none, with what that costs."""
    typed = text.strip()
    if not typed and asked.optional and not asked.left:
        return Reply(enter=tr("Press Enter for the next step."), opens="job.chapters")
    try:
        kPa = read_pressure(typed, bare=bare_pressure(job.session)).kPa if typed else None
        would = _begin_or_state(job, asked, typed)
    except Refusal as error:
        return refusal(error)
    then = replace(asked, line="right", left=typed or " ") if asked.line == "left" else None
    return Reply(
        large=_figures(job, kPa),
        meant=Wording("both").pressure(kPa) if kPa is not None else "",
        beside=_below_minimum(job, kPa),
        enter=_what_pressure_does(asked, kPa),
        doubt=pressure_doubt(job, typed, kPa),
        loses=kPa is None and asked.line != "left",
        would=would if then is None else (),
        then=then,
    )


def pressure_doubt(job: OpenJob, typed: str, kPa: float | None) -> str:
    """A remark on what looks like a height given for a pressure: a fraction, what stands at a corner; "" for none."""
    if kPa is None:
        return ""
    meant = Wording("both").pressure(kPa)
    if "/" in typed or "½" in typed:
        return tr("A fraction is a height's, and this asks for a pressure: {pressure}?", pressure=meant)
    try:
        height_mm = read_session_height(job.session, typed).mm
    except Refusal:
        return ""
    current = job.session.current_stage
    for corner, record in current.corners.items() if current is not None else ():
        if any(abs(reading.mm - height_mm) < SAME_HEIGHT_MM for reading in record.readings):
            return tr("That stands at {corner}, and this asks for a pressure: {pressure}?",
                      corner=corner_name(corner), pressure=meant)  # fmt: skip
    return ""


def _begin_or_state(job: OpenJob, asked: PressurePrompt, typed: str) -> tuple[Event, ...]:
    air = {
        "both": PressureInput(both=typed),
        "left": PressureInput(left=typed),
        "right": PressureInput(left=asked.left.strip(), right=typed),
    }[asked.line]
    if asked.begun:
        return state_pressure(job.session, asked.stage, air)
    return begin_stage(job.session, asked.stage[0], air)


def _figures(job: OpenJob, kPa: float | None) -> str:
    return "" if kPa is None else job.wording.pressure(kPa).split(" ")[0]


def _below_minimum(job: OpenJob, kPa: float | None) -> tuple[Echo, ...]:
    low = job.session.kit.min_kPa
    if kPa is None or low is None or kPa >= low * (1 - 1e-9):
        return ()
    return (("caution", tr("Below the kit's minimum of {minimum}.", minimum=job.session.entered.get("kit.min", ""))),)


def _what_pressure_does(asked: PressurePrompt, kPa: float | None) -> str:
    if kPa is None:
        if asked.line == "left":
            return tr("Enter alone: no left pressure entered.")
        return tr("Enter alone: no pressure; this trial then cannot find one.")
    if asked.line == "left":
        return tr("Enter: right side next")
    if asked.begun:
        return tr("Enter sets it for {stage}", stage=stage_title(asked.stage))
    return tr("Enter starts {stage}", stage=stage_title(asked.stage))


def choice(job: OpenJob, asked: StageChoicePrompt, text: str) -> Reply:
    """One of the stages by its number."""
    names = [stage_name(name) for name in asked.stages]
    if asked.restate is not None:
        names.append(tr("the pressure of {stage}", stage=stage_title(asked.restate)))
    enter = tr("Its number, then Enter. {key} goes back.", key=job.control("app.back"))
    offer = Reply(beside=_numbered(names), enter=enter)
    typed = text.strip()
    if not typed.isdecimal() or not 1 <= int(typed) <= len(names):
        return replace(offer, trouble=tr("a number from 1 to {most}", most=len(names)))
    number = int(typed)
    if number > len(asked.stages) and asked.restate is not None:
        return replace(offer, then=PressurePrompt(asked.restate, first_line(job.session), begun=True))
    name = asked.stages[number - 1]
    return replace(offer, then=beginning(job.session, (name, next_number(job.session, name))))


def _numbered(texts: Sequence[str]) -> tuple[Echo, ...]:
    return tuple(("ink", f"{number}  {text}") for number, text in enumerate(texts, start=1))


# ---- Notes, and the reasons for skipping a corner ----


def reason(job: OpenJob, asked: ReasonPrompt, text: str) -> Reply:
    """Why a corner is skipped: one of the usual reasons by number, or in words."""
    usual = skip_reasons()
    enter = tr("A number or your own words, then Enter. {key} goes back.", key=job.control("app.back"))
    offer = Reply(beside=_numbered(usual), enter=enter)
    typed = text.strip()
    words = usual[int(typed) - 1] if typed.isdecimal() and 1 <= int(typed) <= len(usual) else typed
    try:
        return replace(offer, would=skip_corner(job.session, corner=asked.corner, stage=asked.stage, reason=words))
    except Refusal as error:
        return replace(refusal(error), beside=offer.beside, enter=offer.enter)


def note(job: OpenJob, asked: NotePrompt, text: str) -> Reply:
    """A note."""
    enter = tr("Enter saves the note, {key} cancels.", key=job.control("app.back"))
    try:
        return Reply(enter=enter, would=write_note(job.session, text, stage=asked.stage, corner=asked.corner))
    except Refusal as error:
        return replace(refusal(error), enter=enter)


def doubt_words(reply: Reply) -> str:
    """Why a second Enter is asked for."""
    return tr("{remark} Enter again saves it.", remark=reply.doubt or f"{reply.enter.rstrip('.')}.")


# ---- turning to another prompt ----


def skipping(asked: Prompt) -> Reply:
    """Skip the corner in hand: the reason is asked for."""
    if isinstance(asked, HeightPrompt):
        return Reply(then=ReasonPrompt(asked.stage, asked.corner))
    return Reply(trouble=tr("No corner is in hand to skip."))


def averaging(job: OpenJob, asked: Prompt) -> Reply:
    """Average the next reading with what stands here, or take it instead; at an open corner, the one read last."""
    session = job.session
    if isinstance(asked, HeightPrompt) and asked.how != "first":
        return Reply(then=reading_of(session, asked.stage, asked.corner, average=asked.how != "repeat"))
    last = last_read(session)
    if last is None:
        return Reply(trouble=tr("No corner has a reading yet."))
    return Reply(then=reading_of(session, *last, average=True))
