"""Replies of the walk: what a typed text means as the answer to a prompt.

`reply_to(job, prompt, text)` is the only entry; a skin shows what it answers and, on Enter, records it.
"""

from __future__ import annotations

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
)
from cornerwalk.job.reply import Echo, Refusal, Reply, refusal
from cornerwalk.quantity import read_pressure
from cornerwalk.session.events import Event, HeightRead
from cornerwalk.session.model import StageKey
from cornerwalk.session.stages import REFERENCE, SIBLING, Corner
from cornerwalk.session.walk import (
    AirTexts,
    bare_pressure,
    begin_stage,
    keep_height,
    next_number,
    skip_corner,
    state_pressure,
    write_note,
)
from cornerwalk.wording.checks import ONLY_TOLD, remark_words
from cornerwalk.wording.names import corner_name, stage_name, stage_title
from cornerwalk.wording.wording import Wording
from cornerwalk.words import tr
from cornerwalk.words.steps import skip_reasons


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
            return Reply(lines=(("quiet", tr("Enter: what comes next in the job.")),), opens="job.chapters")


# ---- Heights typed, averaged, put in place of others, pasted ----


def height(job: OpenJob, asked: HeightPrompt, text: str) -> Reply:
    """A height at a corner: what it is, against what it stands, and whether it looks odd there."""
    if not text.strip() and asked.how != "first":
        return Reply(lines=_standing(job, asked), then=None)
    try:
        events = keep_height(
            job.session,
            text,
            corner=asked.corner,
            stage=asked.stage,
            how="repeat" if asked.how == "repeat" else None,
        )
    except Refusal as error:
        return replace(refusal(error), lines=() if text.strip() else _how_to_type(job))
    reading = events[-1]
    if not isinstance(reading, HeightRead):
        return Reply(would=events)
    far, told = _remarked(job, asked, reading.mm)
    return Reply(
        large=job.wording.height(reading.mm),
        lines=(
            ("ink", job.wording.exact(reading.mm)),
            *_compared(job, asked.stage, asked.corner, reading.mm),
            *told,
            ("quiet", _what_enter_does(job, asked)),
        ),
        far=far,
        would=events,
        judged=not far,
    )


def _how_to_type(job: OpenJob) -> tuple[Echo, ...]:
    if any(stage.corners for stage in job.session.stages):
        return ()
    if job.session.job.unit == "inch":
        return (("quiet", tr("Digits, then Enter: 28 5/8, 28-5/8, 28.625, or 28+10 for sixteenths.")),)
    return (("quiet", tr("Digits, then Enter.")),)


def _standing(job: OpenJob, asked: HeightPrompt) -> tuple[Echo, ...]:
    stands = _readings(job, asked)
    if asked.how == "repeat":
        return (
            ("ink", tr("{readings} stands here.", readings=stands)),
            ("due", tr("What you type is averaged with it.")),
            ("quiet", tr("{key} replaces instead. Enter alone leaves it.", key=job.control("walk.replace"))),
        )
    return (
        ("ink", tr("{readings} stands here.", readings=stands)),
        ("due", tr("What you type takes its place.")),
        ("quiet", tr("{key} averages instead. Enter alone leaves it.", key=job.control("walk.average"))),
    )


def _readings(job: OpenJob, asked: HeightPrompt) -> str:
    stage = job.session.stage(asked.stage)
    record = stage.corner(asked.corner) if stage is not None else None
    return ", ".join(reading.entered for reading in record.readings) if record is not None else ""


def _what_enter_does(job: OpenJob, asked: HeightPrompt) -> str:
    if asked.how == "repeat":
        return tr("Enter averages it with {readings}", readings=_readings(job, asked))
    if asked.how == "instead":
        return tr("Enter puts it in place of {readings}", readings=_readings(job, asked))
    return tr("Enter keeps it")


def _compared(job: OpenJob, stage: StageKey, corner: Corner, mm: float) -> tuple[Echo, ...]:
    """The height against the same corner before; in the first stage, against the other side."""
    wording = job.wording
    if stage[0] == REFERENCE:
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


REFERENCE_KEY: StageKey = (REFERENCE, 1)


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
            kept = keep_height(job.session, text, corner=corner, stage=asked.stage)
        except Refusal as error:
            trouble = tr("{corner}: {reason}", corner=corner_name(corner), reason=refusal(error).trouble)
            return Reply(trouble=trouble, lines=(*lines, ("caution", trouble)))
        height = kept[-1]
        # Only the first reading of a stage begins it.
        events += kept if not events else kept[-1:]
        if isinstance(height, HeightRead):
            lines.append(("ink", f"{corner_name(corner)}  {job.wording.height_with_unit(height.mm)}"))
    lines.append(("due", tr("Enter keeps these, Esc drops them.")))
    return Reply(lines=tuple(lines), would=tuple(events), judged=True)


# ---- Stages begun and the pressures they begin with ----


def stage(job: OpenJob, asked: StagePrompt, text: str) -> Reply:
    """The vehicle stands as asked; a height typed too early stays for the next question."""
    begin = begin_stage(job.session, asked.stage[0])
    stage = stage_name(asked.stage[0])
    if text.strip():
        told = tr("Enter: the vehicle stands {stage}. What you typed stays; a second Enter keeps it.", stage=stage)
        return Reply(lines=(("due", told),), would=begin, keeps_text=True)
    return Reply(lines=(("due", tr("Enter: the vehicle stands {stage}.", stage=stage)),), would=begin)


def pressure(job: OpenJob, asked: PressurePrompt, text: str) -> Reply:
    """A pressure, or none, with what that costs."""
    typed = text.strip()
    if not typed and asked.optional and not asked.left:
        return Reply(
            lines=(("quiet", tr("Enter alone: what comes next in the job.")),),
            opens="job.chapters",
        )
    try:
        kPa = read_pressure(typed, bare=bare_pressure(job.session)).kPa if typed else None
        would = _begin_or_state(job, asked, typed)
    except Refusal as error:
        return refusal(error)
    if asked.line == "left":
        then = replace(asked, line="right", left=typed or " ")
        return Reply(large=_figures(job, kPa), lines=_pressure_lines(job, asked, kPa), then=then)
    return Reply(large=_figures(job, kPa), lines=_pressure_lines(job, asked, kPa), would=would)


def _begin_or_state(job: OpenJob, asked: PressurePrompt, typed: str) -> tuple[Event, ...]:
    air = {
        "both": AirTexts(both=typed),
        "left": AirTexts(left=typed),
        "right": AirTexts(left=asked.left.strip(), right=typed),
    }[asked.line]
    if asked.begun:
        return state_pressure(job.session, asked.stage, air)
    return begin_stage(job.session, asked.stage[0], air)


def _figures(job: OpenJob, kPa: float | None) -> str:
    return "" if kPa is None else job.wording.pressure(kPa).split(" ")[0]


def _pressure_lines(job: OpenJob, asked: PressurePrompt, kPa: float | None) -> tuple[Echo, ...]:
    if kPa is None:
        if asked.line == "left":
            return (("quiet", tr("Enter alone: the left pressure is not stated.")),)
        cost = tr("Enter alone begins without one: the trial then says nothing about the right pressure.")
        return (("quiet", cost),)
    lines: list[Echo] = [("ink", Wording("both").pressure(kPa))]
    low = job.session.kit.min_kPa
    if low is not None and kPa < low * (1 - 1e-9):
        told = tr("Below the kit's minimum of {minimum}.", minimum=job.session.entered.get("kit.min", ""))
        lines.append(("caution", told))
    if asked.line == "left":
        lines.append(("quiet", tr("Enter goes on to the right side")))
    elif asked.begun:
        lines.append(("quiet", tr("Enter states it for {stage}", stage=stage_title(asked.stage))))
    else:
        lines.append(("quiet", tr("Enter begins {stage}", stage=stage_title(asked.stage))))
    return tuple(lines)


def choice(job: OpenJob, asked: StageChoicePrompt, text: str) -> Reply:
    """One of the stages by its number."""
    lines: list[Echo] = [("ink", f"{n}  {stage_name(name)}") for n, name in enumerate(asked.stages, start=1)]
    if asked.restate is not None:
        restated = tr("the pressure of {stage}", stage=stage_title(asked.restate))
        lines.append(("ink", f"{len(asked.stages) + 1}  {restated}"))
    lines.append(("quiet", tr("Its number, then Enter. Esc goes back.")))
    typed = text.strip()
    if not typed.isdecimal() or not 1 <= int(typed) <= len(lines) - 1:
        return Reply(lines=tuple(lines), trouble=tr("a number from 1 to {most}", most=len(lines) - 1))
    number = int(typed)
    if number > len(asked.stages) and asked.restate is not None:
        then = PressurePrompt(asked.restate, first_line(job.session), begun=True)
        return Reply(lines=tuple(lines), then=then)
    name = asked.stages[number - 1]
    return Reply(lines=tuple(lines), then=beginning(job.session, (name, next_number(job.session, name))))


# ---- Notes, and the reasons for skipping a corner ----


def reason(job: OpenJob, asked: ReasonPrompt, text: str) -> Reply:
    """Why a corner is skipped: one of the usual reasons by number, or in words."""
    usual = skip_reasons()
    lines: list[Echo] = [("ink", f"{n}  {reason}") for n, reason in enumerate(usual, start=1)]
    lines.append(("quiet", tr("A number or your own words, then Enter. Esc goes back.")))
    typed = text.strip()
    words = usual[int(typed) - 1] if typed.isdecimal() and 1 <= int(typed) <= len(usual) else typed
    try:
        would = skip_corner(job.session, corner=asked.corner, stage=asked.stage, reason=words)
    except Refusal as error:
        return replace(refusal(error), lines=tuple(lines))
    return Reply(lines=tuple(lines), would=would)


def note(job: OpenJob, asked: NotePrompt, text: str) -> Reply:
    """A note."""
    lines: tuple[Echo, ...] = (("quiet", tr("Enter keeps the note, Esc goes back.")),)
    try:
        return Reply(lines=lines, would=write_note(job.session, text, stage=asked.stage, corner=asked.corner))
    except Refusal as error:
        return replace(refusal(error), lines=lines)


__all__ = ["Reply", "refusal", "reply_to"]
