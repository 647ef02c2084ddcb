"""Lamp checks: the low beam below level, and within the aim rule that was chosen."""

from __future__ import annotations

from dataclasses import dataclass
from typing import LiteralString, NamedTuple

from cornerwalk.assess.assessment import CheckKind, StageResult
from cornerwalk.assess.checks import Check, CheckContext
from cornerwalk.assess.headlamp import rule_height_mm
from cornerwalk.assess.uncertainty import absolute_u_mm
from cornerwalk.assess.verdict import Side
from cornerwalk.standards.aim import NoBand
from cornerwalk.standards.loader import NO_RULE

TAPE = "eu-class-2"
"""Limit of error of the tape where a height is held against a legal limit; the usual class, assumed."""


_LAMP_CENTRE: LiteralString = "headlight center height"
_LAMP_EDGE: LiteralString = "headlight lower edge height"
BELOW_LEVEL = CheckKind(
    id="beam-below-level", name="beam below level", needs="all four corners, unloaded and at this stage"
)
WITHIN_RULE = CheckKind(
    id="beam-within-rule",
    name="beam within the aim spec",
    recorded="beam within the aim rule",
    needs="all four corners, unloaded and at this stage",
)
RULE_LIMITS: dict[Side, CheckKind] = {
    "upper": CheckKind(
        id="beam-within-rule-upper",
        name="beam within the aim spec, upper limit",
        recorded="beam within the aim rule, upper limit",
    ),
    "lower": CheckKind(
        id="beam-within-rule-lower",
        name="beam within the aim spec, lower limit",
        recorded="beam within the aim rule, lower limit",
    ),
}
LAMP_HEIGHT: dict[Side, CheckKind] = {
    "lower": CheckKind(
        id="lamp-height-lowest",
        name="headlight height, minimum",
        recorded="lamp height, lowest allowed",
        needs=_LAMP_CENTRE,
    ),
    "upper": CheckKind(
        id="lamp-height-highest",
        name="headlight height, maximum",
        recorded="lamp height, highest allowed",
        needs=_LAMP_CENTRE,
    ),
}


def _lamps(found: CheckContext) -> None:
    last = found.stages[-1] if found.stages else None
    if last is None:
        return
    level = found.standards.limits["beam-level"]
    aim = _best_aim(last)
    if aim is None:
        needs, fact = _lamp_lacks(found) or (None, None)
        for kind in (BELOW_LEVEL, WITHIN_RULE):
            found.need(kind, needs, fact=fact)
        return
    if last.lamp is not None and last.lamp.prediction_holds is False and not aim.measured:
        for kind in (BELOW_LEVEL, WITHIN_RULE):
            found.need(kind, "a wall mark: leveling has moved the beam by itself")
        return
    found.hold(
        BELOW_LEVEL,
        aim.deg,
        level.value,
        U=aim.U_deg,
        unit="deg",
        side="upper",
        source=level.source,
        standing=level.standing,
        stage=last.key,
    )
    _aim_rule(found, last, aim)


@dataclass(frozen=True, slots=True)
class _Aim:
    """The aim to judge: from the mark on the wall where there is one, else predicted."""

    deg: float
    U_deg: float
    percent: float
    U_percent: float
    measured: bool


def _best_aim(stage: StageResult) -> _Aim | None:
    lamp = stage.lamp
    if lamp is None:
        return None
    for prefix, measured in (("measured_", True), ("", False)):
        deg, percent = getattr(lamp, f"{prefix}aim_deg"), getattr(lamp, f"{prefix}aim_percent")
        U_deg, U_percent = lamp.U(f"{prefix}aim_deg"), lamp.U(f"{prefix}aim_percent")
        if deg is not None and percent is not None and U_deg is not None and U_percent is not None:
            return _Aim(deg, U_deg, percent, U_percent, measured)
    return None


class _Lack(NamedTuple):
    needs: LiteralString
    fact: str


def _lamp_lacks(found: CheckContext) -> _Lack | None:
    vehicle = found.session.vehicle
    if vehicle.wheelbase_mm is None:
        return _Lack("the wheelbase", "vehicle.wheelbase")
    if found.session.lamps.rule in (None, NO_RULE) and found.session.lamps.aim_percent is None:
        return _Lack("an aim spec, or the aim measured when unloaded", "lamps.rule")
    if found.session.lamps.aim_percent is None and found.rule is not None and found.rule.nominal_deg is None:
        return _Lack("the aim measured when unloaded: this rule has no nominal", "lamps.aim_percent")
    return None


def _aim_rule(found: CheckContext, last: StageResult, aim: _Aim) -> None:
    rule, vehicle = found.rule, found.session.vehicle
    if rule is None or rule.id == NO_RULE:
        found.need(WITHIN_RULE, "an aim spec", fact="lamps.rule")
        return
    height_mm = rule_height_mm(rule, vehicle.lamp_height_mm, vehicle.lamp_lower_edge_mm)
    band = rule.band_percent(height_mm)
    if band is None:
        edge = rule.datum == "lower edge"
        needs: dict[NoBand, LiteralString] = {
            "height needed": _LAMP_EDGE if edge else _LAMP_CENTRE,
            "height outside the rule": "a headlight at a height the spec covers",
            "no limits": "a rule with limits: this one states an aim and no limit for a vehicle in use",
        }
        why = rule.why_no_band(height_mm) or "no limits"
        found.need(WITHIN_RULE, needs[why], fact="vehicle.lamp_lower_edge" if edge else "vehicle.lamp_height")
        return
    limits: tuple[tuple[Side, float | None], ...] = (("upper", band.upper_percent), ("lower", band.lower_percent))
    for side, limit in limits:
        if limit is not None:
            found.hold(
                RULE_LIMITS[side],
                aim.percent,
                limit,
                U=aim.U_percent,
                unit="%",
                side=side,
                source=rule.source,
                standing=band.standing,
                stage=last.key,
            )


def _lamp_height(found: CheckContext) -> None:
    """The lamp's own height, unloaded, against where the rule lets a lamp sit; the tape's own error counts here."""
    rule, vehicle = found.rule, found.session.vehicle
    if rule is None:
        return
    height_mm = rule_height_mm(rule, vehicle.lamp_height_mm, vehicle.lamp_lower_edge_mm)
    limits: tuple[tuple[Side, str], ...] = (("lower", rule.lowest_lamp), ("upper", rule.highest_lamp))
    for side, limit_id in limits:
        limit = found.standards.limits.get(limit_id)
        if limit is None:
            continue
        if height_mm is None:
            edge = rule.datum == "lower edge"
            needs = _LAMP_EDGE if edge else _LAMP_CENTRE
            found.need(LAMP_HEIGHT[side], needs, fact="vehicle.lamp_lower_edge" if edge else "vehicle.lamp_height")
            continue
        tape_mm = found.standards.tapes[TAPE].limit_of_error_mm(height_mm) or 0.0
        found.hold(
            LAMP_HEIGHT[side],
            height_mm,
            limit.value,
            U=2 * absolute_u_mm(found.reading.u_read_mm, tape_mm),
            unit="mm",
            side=side,
            source=limit.source,
            standing=limit.standing,
        )


LAMP_CHECKS: tuple[Check, ...] = (_lamps, _lamp_height)
