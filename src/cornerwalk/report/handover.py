"""Handover figures: what was shown at the handover, kept so that a later program can say where it differs."""

from __future__ import annotations

import re
from typing import cast

from cornerwalk.assess.assessment import Assessment, StageResult
from cornerwalk.session.model import Session
from cornerwalk.session.stages import StageName
from cornerwalk.wording.names import air_place, is_stage_name, stage_title
from cornerwalk.words import tr
from cornerwalk.words.safe import harmless

Figure = float | str | None


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


# ---- names of handover figures ----


_UNITS = {
    "_N_per_mm": "N/mm",
    "_mm": "mm",
    "_kPa": "kPa",
    "_N": "N",
    "_deg": "°",
}
"""Ends of the names of figures, each before those that are an end of it."""


def handed_name(name: str) -> str:
    """The name of a figure as words, its unit last; one of another version, which is not known here, as it stands.

    >>> handed_name("stage.fitted.2.u_rear_mm")
    'fitted, trial 2: rear, moved, standard uncertainty, mm'
    """
    end = next((end for end in _UNITS if name.endswith(end)), "")
    path, dot, last = name.removesuffix(end).rpartition(".")
    words = _words(f"{path}{dot}{last.removeprefix('u_')}")
    if words is None:
        return harmless(name)
    unsure = tr("standard uncertainty") if last.startswith("u_") else ""
    return harmless(", ".join(part for part in (words, unsure, _UNITS.get(end, "")) if part))


def _words(name: str) -> str | None:
    """Of a name without its unit; None where it is not known."""
    if name in (whole := _of_the_job()):
        return whole[name]
    match = re.fullmatch(r"(stage|air|leak|table)\.(.+)\.([a-z_]+)", name)
    if match is None:
        return None
    group, where, last = match.groups()
    words = _parts()[group].get(last)
    if words is None:
        return None
    match group:
        case "stage":
            stage, _, number = where.rpartition(".")
            if not is_stage_name(stage) or not number.isdecimal():
                return None
            return f"{stage_title((cast('StageName', stage), int(number)))}: {words}"
        case "table":
            return f"{tr('table of loads')}, {where.replace('_', ' ')}: {words}"
        case _:
            return f"{air_place(where)}: {words}"


def _of_the_job() -> dict[str, str]:
    return {
        "overall": tr("overall verdict"),
        "rule": tr("rule"),
        "screen": tr("wall distance"),
        "kit.min": tr("kit minimum pressure"),
        "kit.max": tr("kit maximum pressure"),
        "axles.rear_gain": tr("rear axle, load gained"),
        "axles.front_gain": tr("front axle, load gained"),
        "ride_rate": tr("rear ride rate"),
        "carried": tr("load carried"),
        "findings": tr("findings"),
        "not checked": tr("not checked"),
    }


def _parts() -> dict[str, dict[str, str]]:
    return {
        "stage": {
            "pressure": tr("pressure"),
            "front": tr("front, moved"),
            "rear": tr("rear, moved"),
            "nose_up": tr("pitch"),
            "left_up": tr("lean"),
            "shift": tr("low beam"),
            "wall": tr("cutoff on the wall"),
            "aim": tr("aim"),
        },
        "air": {
            "pressure": tr("pressure for the target height"),
            "recommended": tr("pressure recommended"),
            "left": tr("height still short of the target"),
        },
        "leak": {"loss": tr("pressure lost")},
        "table": {"recommended": tr("pressure recommended")},
    }
