"""Air checks: pressures against the kit's limits, the load the springs carry, and whether the lines hold."""

from __future__ import annotations

from typing import LiteralString

from cornerwalk.assess.assessment import CheckKind, CheckResult, LeakResult
from cornerwalk.assess.checks import Check, CheckContext
from cornerwalk.assess.estimate import COVERAGE
from cornerwalk.assess.verdict import Side
from cornerwalk.session.hold_test import AirLine, load_changed
from cornerwalk.session.stages import AIR_STAGES, LOADED_WITH_AIR

KIT_PRESSURE: dict[Side, CheckKind] = {
    "upper": CheckKind(
        id="pressure-maximum",
        name="pressure against the kit's maximum",
        needs="kit maximum, from the kit's instructions",
    ),
    "lower": CheckKind(
        id="pressure-minimum",
        name="pressure against the kit's minimum",
        needs="kit minimum, from the kit's instructions",
    ),
}
SUPPORT = CheckKind(
    id="rated-support",
    name="load on the helper springs against their rated support",
    needs="kit rated load (pair), from the kit's instructions",
)
HOLD_TEST = CheckKind(
    id="pressure-held",
    name="leak-down test",
    recorded="pressure held",
    needs="the gauge and the temperature at the start and finish of a leak-down test",
)
_HOLD_END: LiteralString = "the gauge and the temperature at the finish of the leak-down test"
PRESSURE_HELD: dict[AirLine, CheckKind] = {
    "both": CheckKind(
        id="pressure-held-both", name="leak-down test, both", recorded="pressure held, both", needs=_HOLD_END
    ),
    "left": CheckKind(
        id="pressure-held-left", name="leak-down test, left", recorded="pressure held, left", needs=_HOLD_END
    ),
    "right": CheckKind(
        id="pressure-held-right", name="leak-down test, right", recorded="pressure held, right", needs=_HOLD_END
    ),
}
SOAPED_JOINTS = CheckKind(
    id="soaped-joints",
    name="soap-tested joints",
    recorded="joints under soapy water",
    needs="soap test on each joint, the valve core and the gauge",
    source="a maker's criterion: no bubble is permissible",
    standing="seen",
)
_KIT_SHEET: LiteralString = "the kit's instructions"
_ONLY_THE_LEAST: LiteralString = (
    "the tires' spring rate, or a known weight added at ride height: only the least that they carry is known"
)
_SET_BY_SHOP: LiteralString = "set by the shop"


def _kit_sheet(found: CheckContext) -> str:
    sheet = found.session.kit.sheet
    return f"{_KIT_SHEET}: {sheet}" if sheet else _KIT_SHEET


def _pressures(found: CheckContext) -> None:
    kit = found.session.kit
    U = COVERAGE * found.components.u("gauge")
    with_air = [stage for stage in found.stages if stage.name in AIR_STAGES]
    if not with_air:
        return
    limits: tuple[tuple[Side, float | None, str], ...] = (
        ("upper", kit.max_kPa, "kit.max"),
        ("lower", kit.min_kPa, "kit.min"),
    )
    for side, limit, fact in limits:
        if limit is None:
            found.need(KIT_PRESSURE[side], fact=fact)
            continue
        stated = [
            (kPa, stage.key)
            for stage in with_air
            for kPa in (stage.pressure_kPa, stage.left_kPa, stage.right_kPa)
            if kPa is not None
        ]
        if not stated:
            found.need(KIT_PRESSURE[side], "the pressure of each trial")
            continue
        worst, key = max(stated) if side == "upper" else min(stated)
        found.hold(
            KIT_PRESSURE[side],
            worst,
            limit,
            U=U if abs(worst - limit) > 1e-9 else 0.0,
            unit="kPa",
            side=side,
            source=_kit_sheet(found),
            standing="own",
            stage=key,
        )


def _support(found: CheckContext) -> None:
    rated = found.session.kit.rated_support_N
    if not any(stage.name in LOADED_WITH_AIR for stage in found.stages):
        return
    if rated is None:
        found.need(SUPPORT, fact="kit.rated_support")
    elif found.carried is None:
        found.need(SUPPORT, "the loads and their locations, the wheelbase, and heights loaded and installed")
    elif found.carried.at_least or found.carried.high_N is None:
        found.need(SUPPORT, _ONLY_THE_LEAST, fact="vehicle.tire_rate")
    else:
        found.hold(
            SUPPORT,
            found.carried.force_N,
            rated,
            U=found.carried.high_N - found.carried.force_N,
            unit="N",
            side="upper",
            source=_kit_sheet(found),
            standing="own",
        )


def _leak(found: CheckContext) -> None:
    tested = bool(found.leak or found.session.joints)
    if not tested and not any(stage.name in LOADED_WITH_AIR for stage in found.stages):
        return
    if not found.leak:
        found.need(HOLD_TEST)
    for leak in found.leak:
        _line_held(found, leak)
    joints = found.session.joints
    if not joints:
        found.need(SOAPED_JOINTS)
        return
    found.hold(
        SOAPED_JOINTS,
        float(sum(joint.bubbles for joint in joints)),
        0.0,
        U=0.0,
        unit="joints with bubbles",
        side="upper",
    )


def _line_held(found: CheckContext, leak: LeakResult) -> None:
    kind = PRESSURE_HELD[leak.line]
    assumed, own = found.standards.limits["leak-loss"], found.session.leak.allowed_loss_kPa
    if load_changed(found.session, leak.line):
        found.need(kind, "the gauge with the same load at start and finish of the leak-down test")
        return
    if leak.loss_kPa is None or leak.u_loss_kPa is None:
        found.need(kind)
        return
    if leak.verdict is None:
        found.need(kind, _NOT_JUDGED[leak.not_judged or "hours missing"])
        return
    by_rate = leak.per_day_kPa is not None and leak.u_per_day_kPa is not None
    found.made.append(
        CheckResult(
            kind=kind,
            value=leak.per_day_kPa if by_rate and leak.per_day_kPa is not None else leak.loss_kPa,
            limit=own if own is not None else assumed.value,
            U=COVERAGE * (leak.u_per_day_kPa if by_rate and leak.u_per_day_kPa is not None else leak.u_loss_kPa),
            unit="kPa",
            verdict=leak.verdict,
            source=_SET_BY_SHOP if own is not None else assumed.source,
            standing="own" if own is not None else assumed.standing,
        )
    )


_NOT_JUDGED: dict[str, LiteralString] = {
    "hours missing": "test time: the end is not dated after the start",
    "pressure rose": "the gauge or the temperature again: the pressure rose by more than they explain",
    "too short": "a longer leak-down test: with this gauge, temperature and weather it was too short to tell",
    "air still warm": "a leak-down test started a quarter of an hour after the last air went in: compressed air cools",
}


AIR_CHECKS: tuple[Check, ...] = (_pressures, _support, _leak)
