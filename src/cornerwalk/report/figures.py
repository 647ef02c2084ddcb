"""The figures that are kept with a handover: what was shown then, so that a later program can say where it differs."""

from __future__ import annotations

from cornerwalk.assess.assessment import Assessment, StageResult
from cornerwalk.session.closing import hand_over
from cornerwalk.session.happenings import Happening
from cornerwalk.session.parts import Session
from cornerwalk.session.walk import WalkError

Figure = float | str | None


def hand_over_as_shown(
    session: Session, assessment: Assessment, *, to: str, decision: str, program: str
) -> tuple[Happening, ...]:
    """The vehicle goes back with the figures as they are shown; `decision` says what happens where a STOP stands.

    Raises:
        WalkError: it is handed over already, or a STOP stands and no decision is written down.
    """
    if session.open and assessment.stops and not decision.strip():
        raise WalkError("With a STOP standing, write who decided what happens; it goes on record.")
    return hand_over(session, to, handed_over_figures(session, assessment), program, decision)


def handed_over_figures(session: Session, assessment: Assessment) -> dict[str, Figure]:
    """Every figure of the customer's sheet, flat: `stage.fitted.2.rear_mm`; units are in the names, u_ is standard.

    `session` gives what was stated and shown beside them: the kit's limits.
    """
    figures: dict[str, Figure] = {
        "overall": assessment.overall,
        "rule": assessment.rule,
        "screen_mm": assessment.screen_mm,
        "kit.min_kPa": session.kit.min_kPa,
        "kit.max_kPa": session.kit.max_kPa,
        "axles.rear_gain_N": assessment.axles.rear_gain_N,
        "axles.front_gain_N": assessment.axles.front_gain_N,
        "ride_rate_N_per_mm": assessment.ride_rate_N_per_mm,
        "carried_N": assessment.carried_N,
    }
    for stage in assessment.stages:
        figures |= _stage_figures(stage)
    for air in assessment.air:
        name = f"air.{air.where}"
        figures |= {
            f"{name}.pressure_kPa": air.pressure_kPa,
            f"{name}.u_pressure_kPa": air.u_pressure_kPa,
            f"{name}.recommended_kPa": air.recommended_kPa,
            f"{name}.left_mm": air.left_mm,
        }
    for row in assessment.pressure_table:
        figures[f"table.{row.load_N:.0f}_N.recommended_kPa"] = row.recommended_kPa
    for leak in assessment.leak:
        figures |= {f"leak.{leak.line}.loss_kPa": leak.loss_kPa, f"leak.{leak.line}.u_loss_kPa": leak.u_loss_kPa}
    figures["findings"] = ", ".join(finding.code for finding in assessment.findings)
    figures["not checked"] = ", ".join(missing.check for missing in assessment.not_checked)
    return figures


def _stage_figures(stage: StageResult) -> dict[str, Figure]:
    name = f"stage.{stage.name}.{stage.number}"
    figures: dict[str, Figure] = {
        f"{name}.pressure_kPa": stage.pressure_kPa,
        f"{name}.front_mm": stage.front_mm,
        f"{name}.u_front_mm": stage.u_front_mm,
        f"{name}.rear_mm": stage.rear_mm,
        f"{name}.u_rear_mm": stage.u_rear_mm,
        f"{name}.nose_up_deg": stage.nose_up_deg,
        f"{name}.left_up_deg": stage.left_up_deg,
    }
    if stage.lamp is not None:
        figures |= {
            f"{name}.shift_mm": stage.lamp.shift_mm,
            f"{name}.u_shift_mm": stage.lamp.u_shift_mm,
            f"{name}.wall_mm": stage.lamp.wall_mm,
            f"{name}.aim_deg": stage.lamp.aim_deg,
            f"{name}.u_aim_deg": stage.lamp.u_aim_deg,
        }
    return figures
