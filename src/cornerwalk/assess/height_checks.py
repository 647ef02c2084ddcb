"""Height checks: the heights themselves, and what has to be asked before any of them."""

from __future__ import annotations

from typing import LiteralString

from cornerwalk.assess.assessment import CheckKind, CheckResult, StageResult
from cornerwalk.assess.checks import Check, CheckContext
from cornerwalk.assess.estimate import COVERAGE
from cornerwalk.assess.verdict import Verdict
from cornerwalk.session.stages import LOADED_WITH_AIR, REQUIRED_STAGES, StageName

BRAKE_VALVE = CheckKind(
    id="brake-valve",
    name="no height- or load-sensing brake valve",
    needs="a look at the rear axle's brake valve",
    source="a vehicle maker's manual and a service guideline, which prohibit helper springs with such a valve",
    standing="seen",
)
STAGE_READ: dict[StageName, CheckKind] = {
    "unloaded": CheckKind(id="heights-unloaded", name="heights unloaded", needs="the four heights unloaded"),
    "loaded": CheckKind(id="heights-loaded", name="heights loaded", needs="the four heights loaded"),
    "fitted": CheckKind(
        id="heights-fitted", name="heights installed", recorded="heights fitted", needs="the four heights installed"
    ),
}
"""Whether a stage that this kind of job must not go without was read at all."""
CORNERS_READ = CheckKind(id="heights", name="heights", needs="every corner read", by_stage=True, joint=" ")
PLANE = CheckKind(
    id="corners-on-a-plane",
    name="four corners fit a rigid body",
    recorded="four corners lie on a plane",
    needs="all four corners, unloaded and at this stage",
    source="geometry: four points of a rigid body have one spare degree of freedom",
    standing="derived",
    by_stage=True,
)
SIDE_TO_SIDE: dict[str, CheckKind] = {
    "front": CheckKind(
        id="side-to-side-front",
        name="left-right difference, front",
        recorded="side to side, front",
        needs="both front corners",
    ),
    "rear": CheckKind(
        id="side-to-side-rear",
        name="left-right difference, rear",
        recorded="side to side, rear",
        needs="both rear corners",
    ),
}
"""By the axle."""
REAR_HEIGHT = CheckKind(
    id="rear-not-above-unloaded",
    name="rear not above its unloaded height",
    needs="both rear corners, unloaded and at this stage",
    source="a vehicle maker's warning: never higher at the rear than before the trailer was attached",
    standing="seen",
    by_stage=True,
)
CONDITIONS = CheckKind(
    id="conditions", name="conditions", needs="the questions on floor, tires, fuel and driver", by_stage=True, joint=" "
)


_SET_BY_SHOP: LiteralString = "set by the shop"


def _brake_valve(found: CheckContext) -> None:
    answer = next((a for a in found.session.answers if a.check == "brake-valve"), None)
    if answer is None or answer.answer not in ("yes", "no", "not fitted"):
        found.need(BRAKE_VALVE)
        return
    fitted = 1.0 if answer.answer == "yes" else 0.0
    found.hold(BRAKE_VALVE, fitted, 0.0, U=0.0, unit="", side="upper")


def _heights(found: CheckContext) -> None:
    begun = {stage.name for stage in found.stages}
    for name in REQUIRED_STAGES[found.session.job.kind]:
        if name not in begun:
            found.need(STAGE_READ[name])
    for stage in found.stages:
        if any(height is None for height in stage.height_mm.values()):
            found.need(CORNERS_READ, stage=stage.key)
        if stage.name == "unloaded":
            continue
        if stage.warp_mm is None or stage.u_warp_mm is None:
            found.need(PLANE, stage=stage.key)
            continue
        found.made.append(_plane(stage, abs(stage.warp_mm), stage.U("warp_mm") or 0.0, found))


def _plane(stage: StageResult, warp_mm: float, U_mm: float, found: CheckContext) -> CheckResult:
    """|w| against its own U. A failure only where all stages together disagree with one rigid body (`misread`)."""
    beyond: Verdict = "fail" if found.misread_alarm else "conditional pass"
    return CheckResult(
        kind=PLANE,
        value=warp_mm,
        limit=U_mm,
        U=U_mm,
        unit="mm",
        verdict="pass" if warp_mm <= U_mm else beyond,
        source=PLANE.source,
        standing=PLANE.standing,
        stage=stage.key,
    )


def _side_to_side(found: CheckContext) -> None:
    limit = found.standards.limits["side-to-side"]
    own = found.session.limits.side_to_side_mm
    limit_mm = own if own is not None else limit.value
    source = _SET_BY_SHOP if own is not None else limit.source
    standing = "own" if own is not None else limit.standing
    shown = [stage for stage in found.stages if stage.name == "unloaded"] + list(found.stages[-1:])
    for stage in dict.fromkeys(stage.key for stage in shown):
        result = next(s for s in found.stages if s.key == stage)
        for axle, difference in (("front", result.side_front_mm), ("rear", result.side_rear_mm)):
            if difference is None or result.u_side_mm is None:
                found.need(SIDE_TO_SIDE[axle], stage=stage)
                continue
            found.hold(
                SIDE_TO_SIDE[axle],
                abs(difference),
                limit_mm,
                U=result.k.get("side_mm", COVERAGE) * result.u_side_mm,
                unit="mm",
                side="upper",
                source=source,
                standing=standing,
                stage=stage,
            )


def _rear_height(found: CheckContext) -> None:
    for stage in found.stages:
        if stage.name not in LOADED_WITH_AIR:
            continue
        if stage.rear_mm is None or stage.u_rear_mm is None:
            found.need(REAR_HEIGHT, stage=stage.key)
            continue
        U_mm = stage.U("rear_mm") or 0.0
        found.hold(REAR_HEIGHT, stage.rear_mm, 0.0, U=U_mm, unit="mm", side="upper", stage=stage.key)


def _conditions(found: CheckContext) -> None:
    given = {(answer.check, answer.stage) for answer in found.session.answers}
    for stage in found.stages:
        if not any(key == stage.key for _, key in given):
            found.need(CONDITIONS, stage=stage.key)


HEIGHT_CHECKS: tuple[Check, ...] = (_brake_valve, _heights, _side_to_side, _rear_height, _conditions)
