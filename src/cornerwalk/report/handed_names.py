"""What the figures of a handover are called; in the file they are flat names with their unit last."""

from __future__ import annotations

import re
from typing import cast

from cornerwalk.report.names import air_place, is_stage_name, stage_title
from cornerwalk.session.stages import StageName
from cornerwalk.words import tr
from cornerwalk.words.safe import harmless

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
        "screen": tr("distance of the wall"),
        "kit.min": tr("kit, smallest pressure"),
        "kit.max": tr("kit, largest pressure"),
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
            "shift": tr("dipped beam"),
            "wall": tr("cut-off on the wall"),
            "aim": tr("aim"),
        },
        "air": {
            "pressure": tr("pressure for the height asked for"),
            "recommended": tr("pressure recommended"),
            "left": tr("height still short of what was asked for"),
        },
        "leak": {"loss": tr("pressure lost")},
        "table": {"recommended": tr("pressure recommended")},
    }
