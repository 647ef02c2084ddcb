"""Findings: what the technician should know, as codes with figures, ranked with stops first.

The text of each code is in one data file. No finding says that a level body carries a safe load; wherever the rear has
been brought back up, one says that the axles still carry what they carried.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from cornerwalk.assess.air_checks import PRESSURE_HELD, SUPPORT
from cornerwalk.assess.assessment import Assessment, CheckKind, CheckResult, Finding, Level, StageResult
from cornerwalk.assess.attitude import difference
from cornerwalk.assess.height_checks import SIDE_TO_SIDE
from cornerwalk.assess.lamp_checks import BELOW_LEVEL, RULE_LIMITS
from cornerwalk.assess.load_checks import CAPACITY, RATINGS, RESTORED_LIMITS, TONGUE_SHARE, WEIGHINGS_AGREE
from cornerwalk.assess.plausibility import repeats_differ
from cornerwalk.assess.usable import root_sum_square
from cornerwalk.session.model import Session, StageKey
from cornerwalk.session.stages import LOADED_WITH_AIR
from cornerwalk.standards import Standards

LEVEL_RANK: dict[Level, int] = {"stop": 0, "caution": 1, "note": 2}
OFF_THE_MARK = 1e-6
"""Fraction of a graduation that rounding of the stored decimals may leave."""

_OVER_RATING: dict[CheckKind, tuple[str, str]] = {
    RATINGS["front axle"]: ("axle-over-rating", "front"),
    RATINGS["rear axle"]: ("axle-over-rating", "rear"),
    RATINGS["front tyres"]: ("tyres-over-rating", "front"),
    RATINGS["rear tyres"]: ("tyres-over-rating", "rear"),
    RATINGS["gross"]: ("over-gvwr", ""),
    RATINGS["combined"]: ("over-gcwr", ""),
    RATINGS["hitch"]: ("hitch-over-rating", ""),
    CAPACITY: ("over-capacity", ""),
    RATINGS["trailer"]: ("trailer-over-rating", ""),
}


def rank_findings(session: Session, assessment: Assessment, standards: Standards) -> tuple[Finding, ...]:
    """All findings of a session, ranked by level.

    Within a level a misread comes first, since every figure depends on it; the rest follow the order of the job.
    """
    found = [
        *_misread(assessment),
        *_answers(session),
        *_pressures(session),
        *_ratings(assessment),
        *_stages(session, assessment),
        *_lamps(session, assessment),
        *_air(session, assessment),
        *_weights(assessment),
        *_leak(session, assessment),
        *_tape(session, assessment, standards),
        *_refused_rules(session, standards),
        *_closing(session, assessment),
    ]
    return tuple(sorted(found, key=lambda finding: LEVEL_RANK[finding.level]))


def _answers(session: Session) -> Iterator[Finding]:
    by_check: dict[str, list[tuple[StageKey, str]]] = {}
    for answer in session.answers:
        if answer.check == "brake-valve" and answer.answer == "yes":
            yield Finding(code="brake-valve", level="stop", source="vehicle makers' manuals and a service guideline")
        if answer.stage is not None and answer.answer in ("yes", "no"):
            by_check.setdefault(answer.check, []).append((answer.stage, answer.answer))
    for check, given in by_check.items():
        for (_, was), (stage, now) in pairwise(given):
            if was != now:
                fields = {"check": check, "was": was, "now": now}
                yield Finding(code="condition-changed", level="caution", fields=fields, stage=stage)


def _pressures(session: Session) -> Iterator[Finding]:
    low, high = session.kit.min_kPa, session.kit.max_kPa
    for stage in session.stages:
        for kPa in (stage.pressure_kPa, stage.left_kPa, stage.right_kPa):
            if kPa is None:
                continue
            if high is not None and kPa > high * (1 + 1e-9):
                fields: dict[str, float | str | None] = {"pressure_kPa": kPa, "max_kPa": high}
                yield Finding(code="over-kit-maximum", level="stop", fields=fields, stage=stage.key)
            elif low is not None and kPa < low * (1 - 1e-9):
                fields = {"pressure_kPa": kPa, "min_kPa": low}
                yield Finding(code="below-kit-minimum", level="caution", fields=fields, stage=stage.key)


def _ratings(assessment: Assessment) -> Iterator[Finding]:
    for check in assessment.verdicts:
        if check.verdict not in ("fail", "conditional fail"):
            continue
        if check.kind in _OVER_RATING:
            code, axle = _OVER_RATING[check.kind]
            fields: dict[str, float | str | None] = {"axle": axle, "load_N": check.value, "rating_N": check.limit}
            yield Finding(code=code, level="stop", fields=fields, source=check.source)
        elif check.kind == SUPPORT:
            fields = {"carried_N": check.value, "rated_N": check.limit}
            yield Finding(code="support-over-rating", level="stop", fields=fields, source=check.source)


def _stages(session: Session, assessment: Assessment) -> Iterator[Finding]:
    hitched = session.hitch.kind is not None or (assessment.axles.front_gain_N or 0.0) < 0
    reference: StageResult | None = None
    for stage in assessment.stages:
        if stage.name in LOADED_WITH_AIR and _surely_above(stage.rear_mm, stage.U("rear_mm")):
            yield _moved("rear-above-unloaded", "stop", stage)
        if stage.name == "fitted-unloaded" and _surely_above(stage.rear_mm, stage.U("rear_mm")):
            yield _moved("rear-high-when-empty", "note", stage)
        if stage.name != "unloaded" and hitched and _surely_below(stage.front_mm, stage.U("front_mm")):
            yield _moved("front-lower-than-unhitched", "stop", stage)
        if stage.name == "loaded":
            reference = stage
        if stage.name in LOADED_WITH_AIR and reference is not None:
            yield from _lower_with_air(reference, stage)
        if stage.name in LOADED_WITH_AIR and reference is not None and _front_moved(reference, stage):
            fields = {"front_mm": _difference(stage.front_mm, reference.front_mm)}
            yield Finding(code="front-moved-with-air", level="caution", fields=fields, stage=stage.key)
    last = _last_with_air(assessment)
    if last is not None and last.rear_mm is not None:
        front_N = assessment.axles.front_gain_N
        lightened = front_N is not None and front_N < 0  # a load between the axles burdens both
        yield Finding(
            code="level-is-not-safe",
            level="caution",
            fields={
                "rear_gain_N": assessment.axles.rear_gain_N,
                "front_gain_N": front_N if lightened else None,
                "front_more_N": None if lightened else front_N,
            },
            stage=last.key,
        )
    for check in assessment.verdicts:
        axle = next((axle for axle, kind in SIDE_TO_SIDE.items() if kind == check.kind), None)
        if axle is not None and check.verdict in ("fail", "conditional fail"):
            side: dict[str, float | str | None] = {"axle": axle, "difference_mm": check.value, "limit_mm": check.limit}
            yield Finding(code="side-to-side", level="caution", fields=side, source=check.source, stage=check.stage)


def _lower_with_air(loaded: StageResult, stage: StageResult) -> Iterator[Finding]:
    moved = difference(stage.estimates.rear, loaded.estimates.rear)
    if moved is not None and _surely_below(moved.value, moved.U):
        fields = {"rear_mm": moved.value, "u_rear_mm": moved.u}
        yield Finding(code="lower-with-air", level="caution", fields=fields, stage=stage.key)


def _front_moved(loaded: StageResult, stage: StageResult) -> bool:
    moved = difference(stage.estimates.front, loaded.estimates.front)
    return moved is not None and abs(moved.value) > moved.U


def _lamps(session: Session, assessment: Assessment) -> Iterator[Finding]:
    levelling = session.vehicle.levelling
    last = assessment.stages[-1] if assessment.stages else None
    lamp = last.lamp if last is not None else None
    if lamp is None or last is None:
        return
    if levelling == "automatic":
        yield Finding(code="levelling-automatic", level="caution")
    elif levelling == "unknown":
        yield Finding(code="levelling-unknown", level="caution")
    yield from _leveller_moved(session)
    if session.lamps.rule is None or session.lamps.rule == "none":
        yield Finding(code="no-rule-chosen", level="note")
    elif assessment.rule_load_state:
        state = {"rule": assessment.rule_title, "load_state": assessment.rule_load_state}
        yield Finding(code="rule-load-state", level="note", fields=state)
    if assessment.aim_assumed:
        yield Finding(code="aim-assumed", level="note", fields={"rule": assessment.rule_title})
    for check in assessment.verdicts:
        yield from _lamp_check(check, last, assessment)
    if last.name in LOADED_WITH_AIR:
        yield from _what_air_left(last, assessment)
    if lamp.measured_wall_mm is not None and lamp.wall_mm is not None and lamp.u_wall_mm is not None:
        off = lamp.measured_wall_mm - lamp.wall_mm
        u = root_sum_square(lamp.u_wall_mm, lamp.u_measured_wall_mm or 0.0)
        if abs(off) > 2 * u:
            marks = {"measured_mm": lamp.measured_wall_mm, "predicted_mm": lamp.wall_mm, "off_mm": off}
            yield Finding(code="prediction-differs", level="caution", fields=marks, stage=last.key)


def _leveller_moved(session: Session) -> Iterator[Finding]:
    positions = [(stage.key, stage.leveller) for stage in session.stages if stage.leveller is not None]
    for (_, was), (stage, now) in pairwise(positions):
        if was != now:
            yield Finding(code="leveller-moved", level="caution", fields={"was": was, "now": now}, stage=stage)


def _lamp_check(check: CheckResult, stage: StageResult, assessment: Assessment) -> Iterator[Finding]:
    if check.stage != stage.key:
        return
    lamp = stage.lamp
    fields: dict[str, float | str | None] = {"rule": assessment.rule_title, "screen_mm": assessment.screen_mm}
    if lamp is not None:
        fields |= {"aim_deg": lamp.aim_deg, "u_aim_deg": lamp.u_aim_deg, "shift_mm": lamp.shift_mm}
        fields |= {"u_shift_mm": lamp.u_shift_mm, "aim_percent": lamp.aim_percent}
    if check.kind == BELOW_LEVEL:
        if check.verdict == "fail":
            yield Finding(code="beam-above-level", level="caution", fields=fields, source=check.source, stage=stage.key)
        elif check.verdict in ("conditional fail", "conditional pass"):
            yield Finding(
                code="beam-maybe-above-level", level="caution", fields=fields, source=check.source, stage=stage.key
            )
    elif check.kind in RULE_LIMITS.values():
        if check.verdict in ("fail", "conditional fail"):
            yield Finding(
                code="beam-outside-rule", level="caution", fields=fields, source=check.source, stage=stage.key
            )
        if check.standing == "memory" and check.kind == RULE_LIMITS["upper"]:
            yield Finding(
                code="rule-from-memory", level="note", fields={"rule": assessment.rule_title}, source=check.source
            )


def _what_air_left(last: StageResult, assessment: Assessment) -> Iterator[Finding]:
    loaded = next((stage for stage in assessment.stages if stage.name == "loaded"), None)
    lamp = last.lamp
    if lamp is None or lamp.shift_mm is None or lamp.u_shift_mm is None:
        return
    if abs(lamp.shift_mm) <= (lamp.U("shift_mm") or 0.0):
        yield Finding(
            code="beam-back",
            level="note",
            fields={"shift_mm": lamp.shift_mm, "u_shift_mm": lamp.u_shift_mm},
            stage=last.key,
        )
    elif _surely_above(last.front_mm, last.U("front_mm")) and lamp.shift_mm > 0:
        fields = {"front_mm": last.front_mm, "u_front_mm": last.u_front_mm, "screen_mm": assessment.screen_mm}
        fields |= {"shift_mm": lamp.shift_mm, "u_shift_mm": lamp.u_shift_mm}
        yield Finding(code="front-stays-up", level="caution", fields=fields, stage=last.key)
    dropped = loaded is not None and _surely_below(loaded.rear_mm, loaded.U("rear_mm"))
    U_mm = last.U("rear_mm")
    if dropped and last.rear_mm is not None and U_mm is not None and abs(last.rear_mm) <= U_mm:
        yield _moved("rear-back", "note", last)


def _air(session: Session, assessment: Assessment) -> Iterator[Finding]:
    for air in assessment.air:
        where = {"where": air.where}
        if air.reason == "one trial":
            yield Finding(code="one-trial", level="note", fields={**where, "try_next_kPa": air.try_next_kPa})
        elif air.reason == "more air did not raise the rear":
            yield Finding(code="air-no-rise", level="caution", fields=where)
        elif air.reason == "kit too strong":
            too_strong = {**where, "min_kPa": session.kit.min_kPa, "above_mm": air.above_mm}
            yield Finding(code="kit-too-strong", level="caution", fields=too_strong)
        if air.off_line:
            yield Finding(code="trials-off-line", level="caution", fields=where)
        if air.pressure_kPa is not None and not air.u_holds:
            bounds = {**where, "low_kPa": air.low_kPa, "high_kPa": air.high_kPa}
            yield Finding(code="slope-unsure", level="caution", fields=bounds)
        if air.extrapolated:
            fields = {**where, "pressure_kPa": air.pressure_kPa, "u_pressure_kPa": air.u_pressure_kPa}
            yield Finding(code="extrapolated", level="caution", fields=fields)
        if air.held_at is not None and air.recommended_kPa is not None:
            fields = {**where, "left_mm": air.left_mm, "u_left_mm": air.u_left_mm}
            fields |= {"recommended_kPa": air.recommended_kPa}
            yield Finding(code="at-kit-limit", level="caution", fields=fields)
    if assessment.carried_N is not None and assessment.carried_at_least:
        carried = {"carried_N": assessment.carried_N, "u_carried_N": assessment.u_carried_N}
        yield Finding(code="carried-reads-low", level="note", fields=carried)
    if session.kit.lines == "tee":
        yield from _unequal_sides(assessment)


def _unequal_sides(assessment: Assessment) -> Iterator[Finding]:
    """Where the load or the air moved the rear's two sides apart, what separate lines would do about it."""
    sides = assessment.sides
    if sides is None or abs(sides.tee_mm) <= 2 * sides.u_tee_mm:
        return
    fields = {
        "difference_mm": abs(sides.tee_mm),
        "left_kPa": sides.left_kPa,
        "right_kPa": sides.right_kPa,
        "separate_mm": abs(sides.separate_mm),
    }
    yield Finding(code="unequal-sides", level="note", fields=fields)


def _weights(assessment: Assessment) -> Iterator[Finding]:
    for check in assessment.verdicts:
        failed = check.verdict in ("fail", "conditional fail")
        if check.kind == TONGUE_SHARE and failed:
            code = "under-tongue-share" if check.value < check.limit else "over-tongue-share"
            fields: dict[str, float | str | None] = {"share_percent": check.value, "limit_percent": check.limit}
            trailer_N = assessment.axles.trailer_N
            fields["u_share_percent"] = assessment.axles.u_tongue_share_percent
            fields["asked_N"] = trailer_N * check.limit / 100 if trailer_N is not None else None
            yield Finding(code=code, level="caution", fields=fields, source=check.source)
        if check.kind == WEIGHINGS_AGREE and failed:
            yield Finding(code="weighings-disagree", level="caution", fields={"difference_N": check.value})
        if check.kind in RESTORED_LIMITS.values() and failed:
            fields = {"percent": check.value, "limit_percent": check.limit}
            yield Finding(code="restoration-outside-rule", level="caution", fields=fields, source=check.source)


def _leak(session: Session, assessment: Assessment) -> Iterator[Finding]:
    for joint in session.joints:
        if joint.bubbles:
            yield Finding(code="bubbles", level="stop", fields={"joint": joint.joint})
    for leak in assessment.leak:
        check = next((c for c in assessment.verdicts if c.kind == PRESSURE_HELD[leak.line]), None)
        if check is not None and check.verdict in ("fail", "conditional fail"):
            fields = {"loss_kPa": leak.loss_kPa, "u_loss_kPa": leak.u_loss_kPa, "hours": leak.hours}
            fields |= {"hours_to_minimum": leak.hours_to_minimum, "rate_kPa_per_h": leak.rate_kPa_per_h}
            yield Finding(code="leak-loss", level="caution", fields={**fields, "line": leak.line})
        elif leak.shorter:
            short: dict[str, float | str | None] = {"hours": leak.hours, "line": leak.line}
            short["per_day_kPa"] = leak.per_day_kPa
            if leak.hours_needed is not None:
                short["hours_needed"] = leak.hours_needed
            yield Finding(code="leak-short-test", level="note", fields=short)


def _misread(assessment: Assessment) -> Iterator[Finding]:
    for stage in assessment.stages:
        if stage.misread is None:
            continue
        misread = stage.misread
        fields: dict[str, float | str | None] = {
            "corner": misread.corner,
            "slip": misread.slip,
            "likely_mm": misread.likely_mm,
            "warp_mm": stage.warp_mm,
            "u_warp_mm": stage.u_warp_mm,
            "where": misread.stage[0],
        }
        yield Finding(code="misread", level="caution", fields=fields, stage=stage.key)


def _tape(session: Session, assessment: Assessment, standards: Standards) -> Iterator[Finding]:
    """How the tape was read: repeats far apart, a text finer than the tape's marks, an uncertainty that is assumed."""
    limit_mm = standards.limits["repeat-spread"].value
    step_mm = assessment.reading.graduation_mm
    finer: Finding | None = None
    for stage in session.stages:
        for corner, record in stage.corners.items():
            heights = [reading.mm for reading in record.readings]
            spread_mm = max(heights, default=0.0) - min(heights, default=0.0)
            if repeats_differ(spread_mm, limit_mm):
                fields: dict[str, float | str | None] = {"corner": corner, "spread_mm": spread_mm}
                yield Finding(code="repeat-spread", level="caution", fields=fields, stage=stage.key)
            if finer is None and step_mm > 0 and any(_between_marks(mm / step_mm) for mm in heights):
                finer = Finding(code="finer-than-tape", level="note", fields={"corner": corner}, stage=stage.key)
    if finer is not None:
        yield finer
    if assessment.reading.assumed:
        yield Finding(code="assumed-uncertainty", level="note", fields={"u_place_mm": assessment.reading.u_place_mm})


def _between_marks(steps: float) -> bool:
    return abs(steps - round(steps)) > OFF_THE_MARK


def _refused_rules(session: Session, standards: Standards) -> Iterator[Finding]:
    """Rule files of the shop's that were not used; a caution where the job names a rule that may stand in one."""
    if not standards.refused:
        return
    first, *others = standards.refused
    named = ((session.lamps.rule, standards.aim_rules), (session.hitch.restoration_rule, standards.restoration_rules))
    missed = any(rule is not None and rule not in known for rule, known in named)
    yield Finding(
        code="rules-not-used",
        level="caution" if missed else "note",
        fields={
            "rule_file": first.name,
            "line_number": None if first.line is None else float(first.line),
            "more_files": float(len(others)) if others else None,
        },
    )


def _closing(session: Session, assessment: Assessment) -> Iterator[Finding]:
    yield Finding(code="no-rating-raised", level="note", source="NHTSA interpretation letters; vehicle owner's manuals")
    if _last_with_air(assessment) is not None and session.service.retorque_distance:
        yield Finding(code="retorque", level="note", fields={"distance": session.service.retorque_distance})


def _last_with_air(assessment: Assessment) -> StageResult | None:
    return next((stage for stage in reversed(assessment.stages) if stage.name in LOADED_WITH_AIR), None)


def _moved(code: str, level: Level, stage: StageResult) -> Finding:
    fields = {
        "rear_mm": stage.rear_mm,
        "u_rear_mm": stage.u_rear_mm,
        "front_mm": stage.front_mm,
        "u_front_mm": stage.u_front_mm,
    }
    return Finding(code=code, level=level, fields=fields, stage=stage.key)


def _difference(a: float | None, b: float | None) -> float | None:
    return None if a is None or b is None else a - b


def _surely_above(value: float | None, U: float | None) -> bool:
    return value is not None and U is not None and value > U


def _surely_below(value: float | None, U: float | None) -> bool:
    return value is not None and U is not None and value < -U
