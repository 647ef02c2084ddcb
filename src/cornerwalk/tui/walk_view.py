"""What the walk shows, as plain data: the plan's cards, the question, the results, what comes next, the stages."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from cornerwalk.job.hints import last_time, own_placing
from cornerwalk.job.notice import Notice, Span
from cornerwalk.job.open_job import Meaning, OpenJob
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
    corner_in_hand,
    in_hand,
)
from cornerwalk.job.reply import Reply
from cornerwalk.session.model import CornerRecord, StageKey
from cornerwalk.session.stages import AIR_STAGES, CORNERS, LOADED_STAGES, REFERENCE_STAGE, REQUIRED_STAGES, Corner
from cornerwalk.tui.own_keys import key_shown
from cornerwalk.tui.widgets.panel import PanelView
from cornerwalk.tui.widgets.plan import Card, PlanView
from cornerwalk.wording.glance import glance
from cornerwalk.wording.names import corner_name, corner_short, stage_name, stage_title
from cornerwalk.wording.wording import Wording
from cornerwalk.words import capital, steps, tr, tr_in

if TYPE_CHECKING:
    from cornerwalk.report.document import Block


def question_of(asked: Prompt, say: Reply) -> PanelView:
    """The question in words, with the figures understood, or the corner's letters, to be drawn large."""
    title, context = title_of(asked)
    letters = asked.corner if isinstance(asked, HeightPrompt) else ""
    return PanelView(
        title=title,
        context=context,
        large=say.large or letters,
        part="strong" if say.large else "due",
        words=words_of(asked),
    )


def title_of(asked: Prompt) -> tuple[str, str]:
    """The question in a few words, and where it belongs."""
    match asked:
        case HeightPrompt() | ReasonPrompt():
            where = stage_title(asked.stage)
            if isinstance(asked, ReasonPrompt):
                return tr("Why is {corner} skipped?", corner=corner_name(asked.corner)), where
            return capital(corner_name(asked.corner)), where
        case StagePrompt():
            return capital(stage_name(asked.stage[0])), tr("next stage")
        case PressurePrompt():
            line = {"both": tr("Air pressure"), "left": tr("Left air pressure"), "right": tr("Right air pressure")}
            return line[asked.line], stage_title(asked.stage)
        case PastePrompt():
            return tr("Pasted"), stage_title(asked.stage)
        case StageChoicePrompt():
            return tr("Which stage?"), ""
        case NotePrompt():
            about = corner_name(asked.corner) if asked.corner is not None else tr("the job")
            return tr_in("written by the technician", "Note"), about
        case AllReadPrompt():
            return tr("All stages are read"), ""
        case ClosedPrompt():
            return tr("Handed over"), ""


def words_of(asked: Prompt) -> str:
    """What to do now, where it is not to read a height."""
    match asked:
        case StagePrompt(stage=stage) | PressurePrompt(stage=stage, optional=False, begun=False):
            return steps.to_begin(stage[0])
        case PressurePrompt(optional=True):
            return tr("All stages are read. Another pressure begins another trial.")
        case AllReadPrompt():
            return tr("Enter shows what comes next in the job.")
        case ClosedPrompt():
            return tr("The job is closed.")
        case _:
            return ""


def stages_of(job: OpenJob, asked: Prompt) -> list[Span]:
    """The stages of this job in a line: which are read, which is in hand, which are to come."""
    session = job.session
    here = in_hand(session, asked) if not isinstance(asked, PressurePrompt | StagePrompt) else asked.stage
    spans: list[Span] = []
    begun = [stage.key for stage in session.stages]
    coming = [(name, 1) for name in REQUIRED_STAGES[session.job.kind] if session.first(name) is None]
    for key in dict.fromkeys([*begun, *coming, here]):
        stage = session.stage(key)
        words = stage_word(job, key)
        if key == here and stage is not None and not stage.complete:
            settled = sum(_settled(stage.corner(c)) for c in CORNERS)
            spans.append(("due", tr("{stage}: {settled} of 4", stage=words, settled=settled)))
        elif key == here:
            spans.append(("due", f"▸ {words}" if stage is None else f"▸ {words} ✓"))
        elif stage is not None:
            spans.append(("ink", f"{words} ✓" if stage.complete else f"{words} …"))
        else:
            spans.append(("quiet", words))
    return spans


def _settled(record: CornerRecord) -> bool:
    return bool(record.readings) or record.skipped is not None


def stage_word(job: OpenJob, key: StageKey) -> str:
    """A stage in a word or two: a trial is told by its pressure, any other with air in by its name and pressure."""
    stage = job.session.stage(key)
    if stage is None or stage.pressure_kPa is None:
        return short_stage(key)
    pressure = job.wording.pressure(stage.pressure_kPa)
    return pressure if key[0] == "fitted" else f"{short_stage(key)} {pressure}"


def short_stage(key: StageKey) -> str:
    """A stage in a word or two, however much air is in."""
    short = {"loaded": tr("loaded"), "fitted-unloaded": tr("empty"), "road-test": tr("road test")}
    name = short.get(key[0]) or stage_name(key[0])
    return name if key[1] == 1 else f"{name} {key[1]}"


def _stage_inside(job: OpenJob, key: StageKey) -> str:
    """As little as has room inside the drawn vehicle."""
    stage = job.session.stage(key)
    if key[0] == "fitted" and stage is not None and stage.pressure_kPa is not None:
        return stage_word(job, key)
    return {
        "unloaded": tr_in("eight characters at most", "unloaded"),
        "loaded": tr_in("eight characters at most", "loaded"),
        "fitted": tr_in("eight characters at most", "fitted"),
        "fitted-unloaded": tr_in("eight characters at most", "empty"),
        "road-test": tr_in("eight characters at most", "road"),
        "follow-up": tr_in("eight characters at most", "later"),
    }.get(key[0], stage_name(key[0]))


# ---- the plan ----


def plan_of(job: OpenJob, meaning: Meaning, asked: Prompt, *, typed: bool) -> PlanView:
    """The vehicle with what is known, or would be, at each corner of the stage in hand."""
    key = in_hand(job.session, asked)
    corner = corner_in_hand(asked) if isinstance(asked, HeightPrompt) else None
    cards = {c: _card(job, meaning, key, c, due=c == corner, typed=typed and c == corner) for c in CORNERS}
    stage = meaning.assessment.stage(key)
    u = next((u for u in stage.u_delta_mm.values() if u is not None), None) if stage is not None else None
    below = tr("each {bounds}", bounds=_bounds(job.wording, u)) if u is not None and key[0] != REFERENCE_STAGE else ""
    return PlanView(
        cards=cards,
        stage=_stage_inside(job, key),
        hitched=key[0] in LOADED_STAGES,
        springs=key[0] in AIR_STAGES,
        below=below,
    )


def _card(job: OpenJob, meaning: Meaning, key: StageKey, corner: Corner, *, due: bool, typed: bool) -> Card:
    stage = meaning.session.stage(key)
    record = stage.corner(corner) if stage is not None else CornerRecord()
    name = corner_short(corner)
    if record.skipped is not None:
        return Card("due" if due else "skipped", name, (tr("skipped"),))
    if record.mean_mm is None:
        return Card("due" if due else "open", name, (tr("now") if due else tr("to come"),))
    height = _height(job.wording, record.mean_mm)
    if len(record.readings) > 1:
        height = tr("{height} ×{count}", height=height, count=len(record.readings))
    lines = [height]
    result = meaning.assessment.stage(key)
    delta = result.delta_mm[corner] if result is not None else None
    if key[0] != REFERENCE_STAGE and delta is not None:
        lines.append(_change(job.wording, delta))
    return Card("due" if due else "read", name, tuple(lines), typed=typed)


@lru_cache(maxsize=64)
def _height(wording: Wording, mm: float) -> str:
    """Three of the four cards say the same after every key."""
    return wording.height(mm)


@lru_cache(maxsize=64)
def _change(wording: Wording, mm: float) -> str:
    return wording.change(mm)


@lru_cache(maxsize=8)
def _bounds(wording: Wording, u_mm: float) -> str:
    """`± 0.10 in`: what is left of a change of nothing."""
    told = wording.change_pm(0.0, u_mm)
    return told[told.index("±") :] if "±" in told else told


def so_far(job: OpenJob) -> tuple[Block, ...]:
    """Every height that counts, a row a stage, with its change; for windows with room to spare."""
    from cornerwalk.report.document import Table

    order = job.session.job.order
    rows = []
    for stage in job.session.stages:
        result = job.assessment.stage(stage.key)
        cells = [stage_word(job, stage.key)]
        for corner in order:
            mean = stage.corner(corner).mean_mm
            delta = result.delta_mm[corner] if result is not None and stage.name != REFERENCE_STAGE else None
            told = [_height(job.wording, mean)] if mean is not None else ["–"]
            cells.append("  ".join(told if delta is None else [*told, _change(job.wording, delta)]))
        rows.append(tuple(cells))
    if not rows:
        return ()
    return (Table(("", *(corner_name(corner) for corner in order)), tuple(rows)),)


# ---- results and what comes next ----


def meaning_of(job: OpenJob, meaning: Meaning, asked: Prompt) -> tuple[Notice, ...]:
    """Body, lamps, air and check for the stage in hand."""
    told = glance(meaning.session, meaning.assessment, job.wording, in_hand(job.session, asked))
    return tuple(
        Notice(line.text, line.label, "caution" if line.level in ("caution", "stop") else "ink") for line in told
    )


def next_of(job: OpenJob, asked: Prompt) -> tuple[Notice, ...]:
    """What to do now and after it, and the caution that belongs to it."""
    maximum = job.session.entered.get("kit.max", "")
    match asked:
        case HeightPrompt(stage=stage):
            told = (Notice(_after(job, asked), tr("Next")), Notice(steps.to_read(stage[0]), part="quiet"))
            if any(each.corners for each in job.session.stages):
                return told
            whole = Notice(
                tr("{key}: the whole job. Intake and checks come before the heights.", key=key_shown("job.chapters")),
                part="quiet",
            )
            return (*told, *last_time(job), *own_placing(job), whole)
        case StagePrompt(stage=stage) | PressurePrompt(stage=stage, optional=False, begun=False):
            care = _care(steps.cautions(stage[0], kit_maximum=maximum))
            if isinstance(asked, PressurePrompt):
                care = (*care, *last_time(job))
            if stage != ("fitted", 1) or job.session.job.kind != "fit":
                return care
            return (
                *care,
                Notice(
                    tr("{key}: fitting and torques, step by step, before the air.", key=key_shown("job.chapters")),
                    tr("Next"),
                ),
            )
        case PressurePrompt(optional=True):
            return (
                Notice(
                    tr(
                        "Leak check, road test, handover: {job_key} or Enter. {stage_key} begins another stage.",
                        **_keys(),
                    ),
                    tr("Next"),
                ),
                *_care((steps.level_is_not_safe(), steps.air_caution(maximum))),
            )
        case PressurePrompt():
            return _care((steps.air_caution(maximum),))
        case AllReadPrompt():
            return (
                Notice(
                    tr("The handover: {job_key} or Enter. {stage_key} begins another stage.", **_keys()), tr("Next")
                ),
            )
        case ClosedPrompt():
            back = tr("When it comes back: the follow-up, {job_key} or Enter. Nothing earlier changes.", **_keys())
            return (Notice(back, tr("Next")),)
        case _:
            return ()


def _keys() -> dict[str, object]:
    """The keys that lead on from a walk that is done."""
    return {"job_key": key_shown("job.chapters"), "stage_key": key_shown("walk.stage")}


def _care(texts: tuple[str, ...]) -> tuple[Notice, ...]:
    """Cautions, the word in front of the first of them."""
    labels = (tr("Care"), *[""] * len(texts))
    return tuple(Notice(text, label, "caution", "caution") for text, label in zip(texts, labels, strict=False))


def _after(job: OpenJob, asked: HeightPrompt) -> str:
    """What follows this reading."""
    session = job.session
    stage = session.stage(asked.stage)
    order = session.job.order
    left = [c for c in order if c != asked.corner and (stage is None or not _settled(stage.corner(c)))]
    then = _then(job, asked.stage)
    if left:
        names = ", ".join(corner_name(corner) for corner in left)
        return tr("{corners}; then {then}", corners=names, then=then)
    return capital(then)


def _then(job: OpenJob, key: StageKey) -> str:
    asked = REQUIRED_STAGES[job.session.job.kind]
    coming = next((name for name in asked if job.session.first(name) is None and name != key[0]), None)
    if coming is None:
        return tr("the results, or another trial") if job.session.job.kind != "load check" else tr("the results")
    return {
        "unloaded": tr("take the load off"),
        "loaded": tr("load it as it will be driven"),
        "fitted": tr("fit the springs and let air in"),
    }.get(coming, stage_name(coming))
