"""Prompt words: what each prompt of the walk asks, what to do before it is answered, and what comes after it.

A skin lays these out; it says none of it itself.
"""

from __future__ import annotations

from cornerwalk.job.hints import last_time, own_placing
from cornerwalk.job.notice import Notice
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
    in_hand,
)
from cornerwalk.session.model import GROUND, CornerRecord, StageKey
from cornerwalk.session.stages import REQUIRED_STAGES
from cornerwalk.session.walk import bare_pressure
from cornerwalk.wording.glance import glance
from cornerwalk.wording.names import corner_name, stage_name, stage_title
from cornerwalk.words import capital, steps, tr, tr_in
from cornerwalk.words.safe import harmless


def job_title(job: OpenJob) -> str:
    """What the job is called."""
    return harmless(job.session.job.title) or tr("Untitled job")


def title_of(asked: Prompt) -> tuple[str, str]:
    """The question in a few words, and where it belongs."""
    match asked:
        case HeightPrompt() | ReasonPrompt():
            where = stage_title(asked.stage)
            if isinstance(asked, ReasonPrompt):
                return tr("Why skip {corner}?", corner=corner_name(asked.corner)), where
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
            return tr("All stages are done"), ""
        case ClosedPrompt():
            return tr("Handed over"), ""


def to_do(asked: Prompt) -> str:
    """What to do now, where it is not to read a height."""
    match asked:
        case StagePrompt(stage=stage) | PressurePrompt(stage=stage, optional=False, begun=False):
            return steps.to_begin(stage[0])
        case PressurePrompt(optional=True):
            return tr("All stages done. Type another pressure for another trial.")
        case AllReadPrompt():
            return tr("Press Enter for the next step.")
        case ClosedPrompt():
            return tr("The job is closed.")
        case _:
            return ""


def unit_of(job: OpenJob, asked: Prompt) -> str:
    """The unit of a bare number typed as the answer; "" where the job's own unit of heights says it."""
    return bare_pressure(job.session) if isinstance(asked, PressurePrompt) else ""


def help_on(asked: Prompt, datum: str) -> str:
    """The prompt explained; "" where there is nothing to explain."""
    match asked:
        case HeightPrompt(stage=stage, corner=corner):
            what = tr("{corner}, {stage}", corner=corner_name(corner), stage=stage_title(stage))
            where = steps.measured_from_ground() if datum == GROUND else steps.measured_from_wheel()
            about = f"{where} {steps.to_read(stage[0])}"
        case StagePrompt(stage=stage):
            what, about = stage_title(stage), steps.to_begin(stage[0])
        case PressurePrompt(stage=stage, optional=False):
            what = stage_title(stage)
            about = tr("The gauge pressure now, as the gauge shows it: 25, 25 psi, 170 kPa, 1.7 bar.")
        case _:
            return ""
    return tr("{what}: {about}", what=capital(what), about=about)


def coming(job: OpenJob, asked: Prompt) -> tuple[Notice, ...]:
    """What to do now and after it, and the caution that belongs to it."""
    maximum = job.session.entered.get("kit.max", "")
    lead_on = {"job_key": job.control("job.chapters"), "stage_key": job.control("walk.stage")}
    match asked:
        case HeightPrompt(stage=stage):
            told = (Notice(_after(job, asked), tr("Next")), Notice(steps.to_read(stage[0]), part="quiet"))
            if any(each.corners for each in job.session.stages):
                return told
            whole = Notice(
                tr("{key}: the whole job. Do intake and checks before the heights.", key=job.control("chapter.any")),
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
                    tr("{key}: installation steps and torque, before you add air.", key=job.control("chapter.fitting")),
                    tr("Next"),
                ),
            )
        case PressurePrompt(optional=True):
            on = tr("Leak check, road test, handover: {job_key} or Enter. {stage_key} starts another stage.", **lead_on)
            return (Notice(on, tr("Next")), *_care((steps.level_is_not_safe(), steps.air_caution(maximum))))
        case PressurePrompt():
            return _care((steps.air_caution(maximum),))
        case AllReadPrompt():
            on = tr("Handover: {job_key} or Enter. {stage_key} starts another stage.", **lead_on)
            return (Notice(on, tr("Next")), *_care((steps.level_is_not_safe(),)))
        case ClosedPrompt():
            back = tr("When it comes back: the follow-up, {job_key} or Enter. Nothing earlier changes.", **lead_on)
            return (Notice(back, tr("Next")),)
        case _:
            return ()


def _care(texts: tuple[str, ...]) -> tuple[Notice, ...]:
    """Cautions, the word in front of the first of them."""
    labels = (tr("Safety"), *[""] * len(texts))
    return tuple(Notice(text, label, "caution", "caution") for text, label in zip(texts, labels, strict=False))


def _after(job: OpenJob, asked: HeightPrompt) -> str:
    """What follows this reading."""
    session = job.session
    stage = session.stage(asked.stage)
    order = session.job.order
    left = [c for c in order if c != asked.corner and (stage is None or not settled(stage.corner(c)))]
    then = _then(job, asked.stage)
    if left:
        names = ", ".join(corner_name(corner) for corner in left)
        return tr("{corners}; then {then}", corners=names, then=then)
    return capital(then)


def _then(job: OpenJob, key: StageKey) -> str:
    asked = REQUIRED_STAGES[job.session.job.kind]
    coming = next((name for name in asked if job.session.first_stage(name) is None and name != key[0]), None)
    if coming is None:
        return tr("results, or another trial") if job.session.job.kind != "load check" else tr("the results")
    return {
        "unloaded": tr("take the load off"),
        "loaded": tr("load it for travel"),
        "fitted": tr("install the bags and add air"),
    }.get(coming, stage_name(coming))


def settled(record: CornerRecord) -> bool:
    """Whether nothing more is asked for at a corner."""
    return bool(record.readings) or record.skipped is not None


def meaning_of(job: OpenJob, meaning: Meaning, asked: Prompt) -> tuple[Notice, ...]:
    """Body, lamps, air and check for the stage in hand."""
    told = glance(meaning.session, meaning.assessment, job.wording, in_hand(job.session, asked))
    return tuple(
        Notice(line.text, line.label, "caution" if line.level in ("caution", "stop") else "ink") for line in told
    )


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
