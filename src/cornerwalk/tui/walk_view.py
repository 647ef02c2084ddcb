"""Walk view: the plan's cards, the question and the line of stages as the page draws them."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from cornerwalk.job.notice import Span
from cornerwalk.job.open_job import Meaning, OpenJob
from cornerwalk.job.prompt_words import settled, stage_word, title_of, to_do
from cornerwalk.job.prompts import HeightPrompt, PressurePrompt, Prompt, StagePrompt, corner_in_hand, in_hand
from cornerwalk.job.reply import Reply
from cornerwalk.session.model import CornerRecord, StageKey
from cornerwalk.session.stages import AIR_STAGES, CORNERS, LOADED_STAGES, REFERENCE_STAGE, REQUIRED_STAGES, Corner
from cornerwalk.tui.widgets.plan import Card, PlanView
from cornerwalk.tui.widgets.question import PanelView
from cornerwalk.wording.figures import Wording
from cornerwalk.wording.names import corner_name, corner_short, stage_name
from cornerwalk.words import tr, tr_in

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
        words=to_do(asked),
    )


def stages_of(job: OpenJob, asked: Prompt) -> list[Span]:
    """The stages of this job in a line: which are read, which is in hand, which are to come."""
    session = job.session
    here = in_hand(session, asked) if not isinstance(asked, PressurePrompt | StagePrompt) else asked.stage
    spans: list[Span] = []
    begun = [stage.key for stage in session.stages]
    coming = [(name, 1) for name in REQUIRED_STAGES[session.job.kind] if session.first_stage(name) is None]
    for key in dict.fromkeys([*begun, *coming, here]):
        stage = session.stage(key)
        words = stage_word(job, key)
        if key == here and stage is not None and not stage.complete:
            count = sum(settled(stage.corner(c)) for c in CORNERS)
            spans.append(("due", tr("{stage}: {settled} of 4", stage=words, settled=count)))
        elif key == here:
            spans.append(("due", f"▸ {words}" if stage is None else f"▸ {words} ✓"))
        elif stage is not None:
            spans.append(("ink", f"{words} ✓" if stage.complete else f"{words} …"))
        else:
            spans.append(("quiet", words))
    return spans


def _stage_inside(job: OpenJob, key: StageKey) -> str:
    """As little as has room inside the drawn vehicle."""
    stage = job.session.stage(key)
    if key[0] == "fitted" and stage is not None and stage.pressure_kPa is not None:
        return stage_word(job, key)
    return {
        "unloaded": tr_in("eight characters at most", "unloaded"),
        "loaded": tr_in("eight characters at most", "loaded"),
        "fitted": tr_in("eight characters at most", "with air"),
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
    below = tr("change {bounds}", bounds=_bounds(job.wording, u)) if u is not None and key[0] != REFERENCE_STAGE else ""
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
        return Card("due" if due else "open", name, (tr("now") if due else tr("to do"),))
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
