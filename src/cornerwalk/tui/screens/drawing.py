"""Drawing pages: which characters drawings are made of, and what the side view shows of a job.

Dots are braille where the terminal has it, blocks otherwise. A terminal does not tell which its font has, so a person
does, once, with a key; it holds for every page.
"""

from __future__ import annotations

from dataclasses import replace
from typing import ClassVar

from cornerwalk.assess.assessment import StageResult
from cornerwalk.job.open_job import Meaning, OpenJob
from cornerwalk.job.prompt_words import stage_word
from cornerwalk.report.geometry import side_views
from cornerwalk.session.model import StageKey
from cornerwalk.session.stages import LOADED_STAGES, REFERENCE_STAGE
from cornerwalk.tui.screens.job_screen import JobScreen
from cornerwalk.tui.widgets.raster import BLOCKS, BRAILLE, Alphabet
from cornerwalk.tui.widgets.side import Scene
from cornerwalk.wording.results import stage_head
from cornerwalk.words import tr


class DrawingScreen(JobScreen):
    """A page with a drawing."""

    alphabet: ClassVar[Alphabet] = BRAILLE

    def action_dots(self) -> None:
        """Draw with the other kind of characters, here and on every page."""
        DrawingScreen.alphabet = BLOCKS if DrawingScreen.alphabet is BRAILLE else BRAILLE
        self.show()
        self.tell(tr("Drawn in {characters} now, on every page.", characters=tr(DrawingScreen.alphabet.name)))


# ---- the side view: which stages it shows, and the words at the drawing ----


def drawn_stages(meaning: Meaning) -> tuple[StageResult, ...]:
    """The stages whose body can be placed, in their order; the unloaded one stands level by definition."""
    return tuple(s for s in meaning.assessment.stages if s.front_mm is not None and s.rear_mm is not None)


def latest_scene(job: OpenJob) -> Scene | None:
    """The last stage against the loaded one without air; None while there is nothing to compare."""
    stages = drawn_stages(job.meaning)
    return scene_of(job, stages[-1]) if stages else None


def live_scene(job: OpenJob, meaning: Meaning, key: StageKey) -> Scene | None:
    """The stage in hand as it stands, or would with what is typed; while it cannot be drawn, the last that can be."""
    stages = drawn_stages(meaning)
    now = next((stage for stage in stages if stage.key == key), stages[-1] if stages else None)
    scene = scene_of(job, now, meaning) if now is not None else None
    if now is None or scene is None:
        return None
    before = before_of(meaning, now)
    named = stage_word(job, now.key)
    if before is not None:
        named = tr("{now} against {before}", now=named, before=stage_word(job, before.key))
    if now.key != key:
        named = tr("last read: {stage}", stage=named)
    return replace(scene, scale_words=f"{named} · {scene.scale_words}")


def scene_of(job: OpenJob, now: StageResult, meaning: Meaning | None = None) -> Scene | None:
    """This stage, and what it is held against: the loaded stage, before that the unloaded one."""
    meaning = meaning or job.meaning
    before = before_of(meaning, now)
    views = side_views(meaning.session, meaning.assessment, (now,) if before is None else (now, before))
    if views[0] is None:
        return None
    lamp = now.lamp
    counted = now.name != REFERENCE_STAGE
    return Scene(
        now=views[0],
        before=views[1] if len(views) > 1 else None,
        now_name=tr("now"),
        before_name=tr("before") if before is not None else "",
        level_name=tr("level"),
        rule_name=tr("rule"),
        rear_words=tr("rear {change}", change=job.wording.change(now.rear_mm)) if counted else "",
        front_words=tr("front {change}", change=job.wording.change(now.front_mm)) if counted else "",
        wall_words=tr("wall at {distance}", distance=job.wording.screen(job.assessment.screen_mm)),
        scale_words=_scale_words(views[0].factor),
        above=lamp is not None and lamp.aim_deg is not None and lamp.aim_deg > 0,
        hitched=now.name in LOADED_STAGES and any(load.ahead_mm < 0 for load in job.session.loads),
    )


def _scale_words(factor: int) -> str:
    return tr("heights and beam drawn × {factor}", factor=factor)


def before_of(meaning: Meaning, now: StageResult) -> StageResult | None:
    """The stage that this one is held against."""
    earlier = [stage for stage in drawn_stages(meaning) if stage.key != now.key]
    for name in ("loaded", REFERENCE_STAGE):
        found = next((stage for stage in earlier if stage.name == name), None)
        if found is not None and now.name != REFERENCE_STAGE:
            return found
    return None


def scene_heading(job: OpenJob, now: StageResult) -> str:
    """Which stages are drawn."""
    before = before_of(job.meaning, now)
    head = stage_head(now, job.wording)
    return head if before is None else tr("{now} against {before}", now=head, before=stage_head(before, job.wording))
