"""Summary of a stage at a glance: body, lamps, air and the misread check, a sentence or two each.

Shown during the walk, so each sentence says what is known so far and what is still needed.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, LiteralString

from cornerwalk.assess.assessment import AirResult, Assessment, Finding, Level, StageResult
from cornerwalk.session.model import Session, StageKey
from cornerwalk.session.stages import AIR_STAGES, REFERENCE_STAGE, SIBLING, Corner
from cornerwalk.wording.facts import choice_label
from cornerwalk.wording.figures import Wording
from cornerwalk.wording.findings import TRUE_OF_EVERY_JOB, finding_text
from cornerwalk.wording.names import air_reason, corner_name
from cornerwalk.words import tr

Topic = Literal["body", "lamps", "air", "check"]


@dataclass(frozen=True, slots=True)
class Glance:
    """One topic in a sentence; `level` is that of the most serious finding it speaks of, "" for none."""

    topic: Topic
    label: str
    text: str
    level: Level | Literal[""] = ""


def glance(session: Session, assessment: Assessment, wording: Wording, key: StageKey) -> tuple[Glance, ...]:
    """What is known at this stage, in the order body, lamps, air, check; air only where air is in play."""
    stage = assessment.stage(key)
    if stage is None:
        stage = assessment.stages[-1] if assessment.stages else None
    if stage is None:
        return (Glance("body", tr("Body"), tr("nothing is read yet")),)
    parts = [_body(session, stage, wording), _lamps(assessment, stage, wording)]
    if stage.name in AIR_STAGES and assessment.air:
        parts.append(_air(assessment, stage, wording))
    parts.append(_check(assessment, stage, wording))
    return tuple(parts)


def _body(session: Session, stage: StageResult, wording: Wording) -> Glance:
    if stage.name == REFERENCE_STAGE:
        return Glance("body", tr("Body"), _stance(stage, wording))
    front = _axle(stage, ("LF", "RF"), stage.front_mm, stage.u_front_mm, tr("front {moved}"), wording)
    rear = _axle(stage, ("RR", "LR"), stage.rear_mm, stage.u_rear_mm, tr("rear {moved}"), wording)
    parts = [part for part in (front, rear) if part]
    if not parts:
        return Glance("body", tr("Body"), tr("no changes to show yet"))
    if stage.nose_up_deg is not None:
        parts.append(wording.tilt(stage.nose_up_deg, stage.u_nose_up_deg))
    elif front and rear and session.vehicle.wheelbase_mm is None:
        parts.append(tr("tilt: enter the wheelbase"))
    return Glance("body", tr("Body"), ", ".join(parts))


def _axle(
    stage: StageResult,
    corners: tuple[Corner, Corner],
    moved_mm: float | None,
    u_moved_mm: float | None,
    template: LiteralString,
    wording: Wording,
) -> str:
    """How far an axle moved, or the one side of it that is known; "" while neither is."""
    if moved_mm is not None:
        return template.replace("{moved}", wording.change_pm(moved_mm, u_moved_mm))
    for corner in corners:
        delta = stage.delta_mm[corner]
        if delta is not None and stage.delta_mm[SIBLING[corner]] is None:
            return f"{corner_name(corner)} {wording.change_pm(delta, stage.u_delta_mm[corner])}"
    return ""


def _stance(stage: StageResult, wording: Wording) -> str:
    """How the vehicle stands at the reference stage, which has no changes."""
    parts: list[str] = []
    if stage.rake_mm is not None:
        size = wording.length(abs(stage.rake_mm), stage.u_rake_mm)
        lower = tr("front {size} below rear") if stage.rake_mm < 0 else tr("front {size} above rear")
        parts.append(lower.replace("{size}", size))
    for difference, template in (
        (stage.side_front_mm, tr("front left {moved}")),
        (stage.side_rear_mm, tr("rear left {moved}")),
    ):
        if difference is not None:
            parts.append(template.replace("{moved}", _against_right(difference, stage.u_side_mm, wording)))
    if not parts:
        return tr("baseline: all changes are measured from these four")
    return ", ".join(parts)


def _against_right(difference_mm: float, u_mm: float | None, wording: Wording) -> str:
    if u_mm is not None and abs(difference_mm) <= 2 * u_mm:
        return tr("even with right")
    size = wording.length(abs(difference_mm), u_mm)
    return tr("{size} higher", size=size) if difference_mm > 0 else tr("{size} lower", size=size)


def _lamps(assessment: Assessment, stage: StageResult, wording: Wording) -> Glance:
    label = tr("Beam")
    lamp = stage.lamp
    if stage.name == REFERENCE_STAGE:
        return Glance("lamps", label, tr("aim as it is now; changes are measured from here"))
    if lamp is None or lamp.shift_mm is None:
        missing = next((m for m in assessment.not_checked if m.fact == "vehicle.wheelbase"), None)
        needs = tr("beam: enter the wheelbase") if missing else tr("beam: read one front and one rear corner")
        return Glance("lamps", label, needs)
    text = tr("beam {moved}", moved=wording.beam(lamp.shift_mm, lamp.u_shift_mm, assessment.screen_mm))
    if lamp.aim_deg is not None:
        text += f"; {wording.aim(lamp.aim_deg, lamp.u_aim_deg, None)}"
    surely_above = lamp.aim_deg is not None and lamp.u_aim_deg is not None and lamp.aim_deg > 2 * lamp.u_aim_deg
    return Glance("lamps", label, text, "caution" if surely_above else "")


def _air(assessment: Assessment, stage: StageResult, wording: Wording) -> Glance:
    text = "; ".join(_line(air, stage, wording) for air in assessment.air)
    return Glance("air", tr("Air"), text)


_READ_FOR: dict[str, tuple[Corner, ...]] = {"rear": ("LR", "RR"), "LR": ("LR",), "RR": ("RR",)}
"""The corners that tell what the pressure of a bag, or of both, does."""


def _line(air: AirResult, stage: StageResult, wording: Wording) -> str:
    where = {"rear": "", "LR": tr("left: "), "RR": tr("right: ")}[air.where]
    if air.recommended_kPa is not None:
        text = tr(
            "{pressure} for the {target}",
            pressure=wording.pressure(air.pressure_kPa, air.u_pressure_kPa),
            target=choice_label("kit.target", air.target),
        )
        if air.pressure_kPa is not None and abs(air.recommended_kPa - air.pressure_kPa) > 1e-9:
            allowed = wording.pressure(air.recommended_kPa)
            held = air.held_at is not None
            text += tr("; kit allows {allowed}", allowed=allowed) if held else tr("; set {allowed}", allowed=allowed)
            if air.left_mm:
                text += tr(": {left} low", left=wording.length(abs(air.left_mm)))
        return where + text
    if any(stage.height_mm[corner] is None for corner in _READ_FOR[air.where]):
        return where + tr("read the rear heights to find the pressure")
    if air.try_next_kPa is not None:
        return where + tr("another trial is needed; try {pressure}", pressure=wording.pressure(air.try_next_kPa))
    if air.reason:
        return where + air_reason(air.reason)
    return where + tr("a second trial at another pressure tells which one is right")


_MOST_HEADINGS = 2
_LAST = ("level-is-not-safe",)
"""Among findings of one level: what is true of every job stands last, where there is room for two."""


def _check(assessment: Assessment, stage: StageResult, wording: Wording) -> Glance:
    label = tr("Check")
    findings = _foremost(assessment, stage)
    if findings:
        texts = [finding_text(finding, wording) for finding in findings]
        headings = "; ".join(text.heading for text in texts[:_MOST_HEADINGS])
        more = len(texts) - _MOST_HEADINGS
        if more > 0:
            headings += tr("; {count} more in the results", count=more)
        return Glance("check", label, f"{texts[0].level_word}: {headings}", findings[0].level)
    open_corners = [corner_name(c) for c, height in stage.height_mm.items() if height is None]
    if open_corners:
        return Glance("check", label, tr("not checked yet: still need {corners}", corners=", ".join(open_corners)))
    if stage.name == REFERENCE_STAGE:
        return Glance("check", label, tr("checked at the next stage"))
    if stage.warp_mm is None:
        return Glance("check", label, tr("not checked: needs all four corners of the unloaded stage"))
    return Glance("check", label, tr("all four readings agree"))


def _foremost(assessment: Assessment, stage: StageResult) -> list[Finding]:
    """The most serious findings about this stage or the job as a whole, without notes."""
    about = [
        finding
        for finding in assessment.findings
        if finding.code not in TRUE_OF_EVERY_JOB and finding.level != "note" and finding.stage in (None, stage.key)
    ]
    if not about:
        return []
    level = about[0].level
    ranked = sorted(about, key=lambda finding: finding.code in _LAST)
    return [finding for finding in ranked if finding.level == level]


# ---- stage headings ----
