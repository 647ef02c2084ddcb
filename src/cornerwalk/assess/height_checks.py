"""Height checks: the heights themselves, and what has to be asked before any of them."""

from __future__ import annotations

from cornerwalk.assess.assessment import CheckResult, StageResult
from cornerwalk.assess.checks import Check, CheckContext
from cornerwalk.assess.verdict import Verdict
from cornerwalk.session.stages import LOADED_WITH_AIR, REQUIRED_STAGES


def _brake_valve(found: CheckContext) -> None:
    check = "no height- or load-sensing brake valve"
    answer = next((a for a in found.session.answers if a.check == "brake-valve"), None)
    if answer is None or answer.answer not in ("yes", "no", "not fitted"):
        found.need(check, "a look at the rear axle's brake valve")
        return
    fitted = 1.0 if answer.answer == "yes" else 0.0
    source = "a vehicle maker's manual and a service guideline, which prohibit helper springs with such a valve"
    found.hold(check, fitted, 0.0, U=0.0, unit="", side="upper", source=source, standing="seen")


def _heights(found: CheckContext) -> None:
    begun = {stage.name for stage in found.stages}
    for name in REQUIRED_STAGES[found.session.job.kind]:
        if name not in begun:
            found.need(f"heights {name}", f"the four heights {name}")
    for stage in found.stages:
        if any(height is None for height in stage.height_mm.values()):
            found.need(f"heights {stage.name} {stage.number}", "every corner read")
        if stage.name == "unloaded":
            continue
        check = f"four corners lie on a plane, {stage.name} {stage.number}"
        if stage.warp_mm is None or stage.u_warp_mm is None:
            found.need(check, "all four corners, unloaded and at this stage")
            continue
        found.made.append(_plane(check, stage, abs(stage.warp_mm), 2 * stage.u_warp_mm, found))


def _plane(check: str, stage: StageResult, warp_mm: float, U_mm: float, found: CheckContext) -> CheckResult:
    """|w| against its own U. A failure only where all stages together disagree with one rigid body (`misread`)."""
    beyond: Verdict = "fail" if found.misread_alarm else "conditional pass"
    return CheckResult(
        check=check,
        value=warp_mm,
        limit=U_mm,
        U=U_mm,
        unit="mm",
        verdict="pass" if warp_mm <= U_mm else beyond,
        source="geometry: four points of a rigid body have one spare degree of freedom",
        standing="derived",
        stage=stage.key,
    )


def _side_to_side(found: CheckContext) -> None:
    limit = found.standards.limits["side-to-side"]
    own = found.session.limits.side_to_side_mm
    limit_mm = own if own is not None else limit.value
    source = "set by the shop" if own is not None else limit.source
    standing = "own" if own is not None else limit.standing
    shown = [stage for stage in found.stages if stage.name == "unloaded"] + list(found.stages[-1:])
    for stage in dict.fromkeys(stage.key for stage in shown):
        result = next(s for s in found.stages if s.key == stage)
        for axle, difference in (("front", result.side_front_mm), ("rear", result.side_rear_mm)):
            check = f"side to side, {axle}"
            if difference is None or result.u_side_mm is None:
                found.need(f"{check}, {result.name} {result.number}", f"both {axle} corners")
                continue
            found.hold(
                check,
                abs(difference),
                limit_mm,
                U=2 * result.u_side_mm,
                unit="mm",
                side="upper",
                source=source,
                standing=standing,
                stage=stage,
            )


def _rear_height(found: CheckContext) -> None:
    source = "a vehicle maker's warning: never higher at the rear than before the trailer was attached"
    for stage in found.stages:
        if stage.name not in LOADED_WITH_AIR:
            continue
        check = f"rear not above its unloaded height, {stage.name} {stage.number}"
        if stage.rear_mm is None or stage.u_rear_mm is None:
            found.need(check, "both rear corners, unloaded and at this stage")
            continue
        found.hold(
            check,
            stage.rear_mm,
            0.0,
            U=2 * stage.u_rear_mm,
            unit="mm",
            side="upper",
            source=source,
            standing="seen",
            stage=stage.key,
        )


def _conditions(found: CheckContext) -> None:
    given = {(answer.check, answer.stage) for answer in found.session.answers}
    for stage in found.stages:
        if not any(key == stage.key for _, key in given):
            found.need(f"conditions {stage.name} {stage.number}", "the questions on floor, tyres, fuel and driver")


HEIGHT_CHECKS: tuple[Check, ...] = (_brake_valve, _heights, _side_to_side, _rear_height, _conditions)
