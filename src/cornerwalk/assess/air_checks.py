"""Air checks: pressures against the kit's limits, the load the springs carry, and whether the lines hold."""

from __future__ import annotations

from cornerwalk.assess.checks import Check, CheckContext
from cornerwalk.assess.verdict import Side
from cornerwalk.session.hold_test import load_changed
from cornerwalk.session.model import GROUND
from cornerwalk.session.stages import AIR_STAGES, LOADED_WITH_AIR

TYRE_ALLOWANCE = 0.12
"""How far low the carried load may read where heights are from the ground: tire and suspension in series are softer
than the suspension alone, and air acts on the suspension only. 10.3 % and 11.0 % for two published cars (parameter sets
made from US DOT data, seen); rounded up."""


def _pressures(found: CheckContext) -> None:
    kit = found.session.kit
    step = found.session.leak.gauge_graduation_kPa
    U = 2 * step / 12**0.5 if step is not None else 0.0
    with_air = [stage for stage in found.stages if stage.name in AIR_STAGES]
    if not with_air:
        return
    source = f"the kit's sheet{': ' + kit.sheet if kit.sheet else ''}"
    limits: tuple[tuple[str, float | None, Side, str], ...] = (
        ("maximum", kit.max_kPa, "upper", "kit.max"),
        ("minimum", kit.min_kPa, "lower", "kit.min"),
    )
    for word, limit, side, fact in limits:
        check = f"pressure against the kit's {word}"
        if limit is None:
            found.need(check, f"the kit's {word}, from its sheet", fact)
            continue
        stated = [
            (kPa, stage.key)
            for stage in with_air
            for kPa in (stage.pressure_kPa, stage.left_kPa, stage.right_kPa)
            if kPa is not None
        ]
        if not stated:
            found.need(check, "the pressure of each trial")
            continue
        worst, key = max(stated) if side == "upper" else min(stated)
        found.hold(
            check,
            worst,
            limit,
            U=U if abs(worst - limit) > 1e-9 else 0.0,
            unit="kPa",
            side=side,
            source=source,
            standing="own",
            stage=key,
        )


def _support(found: CheckContext) -> None:
    check = "load on the helper springs against their rated support"
    rated = found.session.kit.rated_support_N
    if not any(stage.name in LOADED_WITH_AIR for stage in found.stages):
        return
    if rated is None:
        found.need(check, "the kit's rated support, from its sheet", "kit.rated_support")
    elif found.carried_N is None or found.u_carried_N is None:
        found.need(check, "the loads and their places, the wheelbase, and heights loaded and fitted")
    else:
        ground = found.session.job.datum == GROUND
        allowance = TYRE_ALLOWANCE * abs(found.carried_N) if ground else 0.0
        told = "; heights from the ground have the tyre in them, 12 % allowed for it" if ground else ""
        found.hold(
            check,
            found.carried_N,
            rated,
            U=2 * found.u_carried_N + allowance,
            unit="N",
            side="upper",
            source=f"the kit's sheet{': ' + found.session.kit.sheet if found.session.kit.sheet else ''}{told}",
            standing="own",
        )


def _leak(found: CheckContext) -> None:
    tested = bool(found.leak or found.session.joints)
    if not tested and not any(stage.name in LOADED_WITH_AIR for stage in found.stages):
        return
    if not found.leak:
        found.need("pressure held", "the gauge and the temperature at the start and the end of a hold test")
    assumed = found.standards.limits["leak-loss"]
    own = found.session.leak.allowed_loss_kPa
    for leak in found.leak:
        check = f"pressure held, {leak.line}"
        if load_changed(found.session, leak.line):
            found.need(check, "the gauge with the vehicle loaded alike at both ends of the hold test")
            continue
        if leak.loss_kPa is None or leak.u_loss_kPa is None:
            found.need(check, "the gauge and the temperature at the end of the hold test")
            continue
        limit_kPa = own if own is not None else assumed.value
        if leak.hours is None and leak.loss_kPa <= limit_kPa:  # too much is too much, however soon
            found.need(check, "how long it was held: the end is not dated after the start")
            continue
        found.hold(
            check,
            leak.loss_kPa,
            limit_kPa,
            U=2 * leak.u_loss_kPa,
            unit="kPa",
            side="upper",
            source="set by the shop" if own is not None else assumed.source,
            standing="own" if own is not None else assumed.standing,
        )
    joints = found.session.joints
    if not joints:
        found.need("joints under soapy water", "soapy water on each joint, the valve core and the gauge")
        return
    found.hold(
        "joints under soapy water",
        float(sum(joint.bubbles for joint in joints)),
        0.0,
        U=0.0,
        unit="joints with bubbles",
        side="upper",
        source="a maker's criterion: no bubble is permissible",
        standing="seen",
    )


AIR_CHECKS: tuple[Check, ...] = (_pressures, _support, _leak)
