"""Air checks: pressures against the kit's limits, the load the springs carry, and whether the lines hold."""

from __future__ import annotations

from typing import LiteralString

from cornerwalk.assess.assessment import CheckKind
from cornerwalk.assess.checks import Check, CheckContext
from cornerwalk.assess.verdict import Side
from cornerwalk.session.hold_test import AirLine, load_changed
from cornerwalk.session.model import GROUND
from cornerwalk.session.stages import AIR_STAGES, LOADED_WITH_AIR

TYRE_ALLOWANCE = 0.12
"""How far low the carried load may read where heights are from the ground: tire and suspension in series are softer
than the suspension alone, and air acts on the suspension only. 10.3 % and 11.0 % for two published cars (parameter sets
made from US DOT data, seen); rounded up."""


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
_TIRE_ALLOWED_FOR: LiteralString = "ground heights include the tire, 12 % allowed for it"
_SET_BY_SHOP: LiteralString = "set by the shop"


def _kit_sheet(found: CheckContext) -> str:
    sheet = found.session.kit.sheet
    return f"{_KIT_SHEET}: {sheet}" if sheet else _KIT_SHEET


def _pressures(found: CheckContext) -> None:
    kit = found.session.kit
    step = found.session.leak.gauge_graduation_kPa
    U = 2 * step / 12**0.5 if step is not None else 0.0
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
    elif found.carried_N is None or found.u_carried_N is None:
        found.need(SUPPORT, "the loads and their locations, the wheelbase, and heights loaded and installed")
    else:
        ground = found.session.job.datum == GROUND
        allowance = TYRE_ALLOWANCE * abs(found.carried_N) if ground else 0.0
        found.hold(
            SUPPORT,
            found.carried_N,
            rated,
            U=2 * found.u_carried_N + allowance,
            unit="N",
            side="upper",
            source=f"{_kit_sheet(found)}; {_TIRE_ALLOWED_FOR}" if ground else _kit_sheet(found),
            standing="own",
        )


def _leak(found: CheckContext) -> None:
    tested = bool(found.leak or found.session.joints)
    if not tested and not any(stage.name in LOADED_WITH_AIR for stage in found.stages):
        return
    if not found.leak:
        found.need(HOLD_TEST)
    assumed = found.standards.limits["leak-loss"]
    own = found.session.leak.allowed_loss_kPa
    for leak in found.leak:
        kind = PRESSURE_HELD[leak.line]
        if load_changed(found.session, leak.line):
            found.need(kind, "the gauge with the same load at start and finish of the leak-down test")
            continue
        if leak.loss_kPa is None or leak.u_loss_kPa is None:
            found.need(kind)
            continue
        limit_kPa = own if own is not None else assumed.value
        if leak.hours is None and leak.loss_kPa <= limit_kPa:  # too much is too much, however soon
            found.need(kind, "test time: the end is not dated after the start")
            continue
        found.hold(
            kind,
            leak.loss_kPa,
            limit_kPa,
            U=2 * leak.u_loss_kPa,
            unit="kPa",
            side="upper",
            source=_SET_BY_SHOP if own is not None else assumed.source,
            standing="own" if own is not None else assumed.standing,
        )
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


AIR_CHECKS: tuple[Check, ...] = (_pressures, _support, _leak)
