"""Heights typed, averaged, put in place of others, pasted."""

from __future__ import annotations

from dataclasses import replace

from cornerwalk.assess.plausibility import around, remark
from cornerwalk.session.events import Happening, HeightRead
from cornerwalk.session.model import StageKey
from cornerwalk.session.stages import REFERENCE, SIBLING, Corner
from cornerwalk.session.walk import keep_height
from cornerwalk.tui.answers.say_back import Line, Refusal, SayBack, refusal
from cornerwalk.tui.asking import HeightAsked, SeveralAsked
from cornerwalk.tui.job import OpenJob
from cornerwalk.tui.own_keys import key_shown
from cornerwalk.wording.checks import ONLY_TOLD, remark_words
from cornerwalk.wording.names import corner_name, stage_name, stage_title
from cornerwalk.words import tr


def height(job: OpenJob, asked: HeightAsked, text: str) -> SayBack:
    """A height at a corner: what it is, against what it stands, and whether it looks odd there."""
    if not text.strip() and asked.how != "first":
        return SayBack(lines=_standing(job, asked), then=None)
    try:
        happenings = keep_height(
            job.session,
            text,
            corner=asked.corner,
            stage=asked.stage,
            how="repeat" if asked.how == "repeat" else None,
        )
    except Refusal as error:
        return replace(refusal(error), lines=() if text.strip() else _how_to_type(job))
    reading = happenings[-1]
    if not isinstance(reading, HeightRead):
        return SayBack(would=happenings)
    far, told = _remarked(job, asked, reading.mm)
    return SayBack(
        large=job.wording.height(reading.mm),
        lines=(
            ("ink", job.wording.exact(reading.mm)),
            *_compared(job, asked.stage, asked.corner, reading.mm),
            *told,
            ("quiet", _what_enter_does(job, asked)),
        ),
        far=far,
        would=happenings,
        judged=not far,
    )


def _how_to_type(job: OpenJob) -> tuple[Line, ...]:
    if any(stage.corners for stage in job.session.stages):
        return ()
    if job.session.job.unit == "inch":
        return (("quiet", tr("Digits, then Enter: 28 5/8, 28-5/8, 28.625, or 28+10 for sixteenths.")),)
    return (("quiet", tr("Digits, then Enter.")),)


def _standing(job: OpenJob, asked: HeightAsked) -> tuple[Line, ...]:
    stands = _readings(job, asked)
    if asked.how == "repeat":
        return (
            ("ink", tr("{readings} stands here.", readings=stands)),
            ("due", tr("What you type is averaged with it.")),
            ("quiet", tr("{key} replaces instead. Enter alone leaves it.", key=key_shown("walk.average"))),
        )
    return (
        ("ink", tr("{readings} stands here.", readings=stands)),
        ("due", tr("What you type takes its place.")),
        ("quiet", tr("{key} averages instead. Enter alone leaves it.", key=key_shown("walk.average"))),
    )


def _readings(job: OpenJob, asked: HeightAsked) -> str:
    stage = job.session.stage(asked.stage)
    record = stage.corner(asked.corner) if stage is not None else None
    return ", ".join(reading.entered for reading in record.readings) if record is not None else ""


def _what_enter_does(job: OpenJob, asked: HeightAsked) -> str:
    if asked.how == "repeat":
        return tr("Enter averages it with {readings}", readings=_readings(job, asked))
    if asked.how == "instead":
        return tr("Enter puts it in place of {readings}", readings=_readings(job, asked))
    return tr("Enter keeps it")


def _compared(job: OpenJob, stage: StageKey, corner: Corner, mm: float) -> tuple[Line, ...]:
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
    lines: list[Line] = []
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


def _remarked(job: OpenJob, asked: HeightAsked, mm: float) -> tuple[str, tuple[Line, ...]]:
    """What asks for a second look, "" for nothing, and what is only told."""
    beside = around(job.session, job.standards, asked.stage, asked.corner, asked.how)
    found = remark(mm, beside)
    grave = [remark_words(each, asked.corner, job.wording) for each in found if each.code not in ONLY_TOLD]
    told = [remark_words(each, asked.corner, job.wording) for each in found if each.code in ONLY_TOLD]
    return (grave[0] if grave else ""), tuple(("quiet", text) for text in told)


def several(job: OpenJob, asked: SeveralAsked) -> SayBack:
    """Several readings at once: all of them, or none and why."""
    lines: list[Line] = []
    happenings: list[Happening] = []
    for corner, text in asked.readings:
        try:
            kept = keep_height(job.session, text, corner=corner, stage=asked.stage)
        except Refusal as error:
            trouble = tr("{corner}: {reason}", corner=corner_name(corner), reason=refusal(error).trouble)
            return SayBack(trouble=trouble, lines=(*lines, ("caution", trouble)))
        height = kept[-1]
        # Only the first reading of a stage begins it.
        happenings += kept if not happenings else kept[-1:]
        if isinstance(height, HeightRead):
            lines.append(("ink", f"{corner_name(corner)}  {job.wording.height_with_unit(height.mm)}"))
    lines.append(("due", tr("Enter keeps these, Esc drops them.")))
    return SayBack(lines=tuple(lines), would=tuple(happenings), judged=True)
