"""How far the body moved from one stage to another: after the road test, at a follow-up.

Changes of two stages share their unloaded readings. They are taken here from the heights of the two stages themselves,
so that what the unloaded readings add drops out (see `attitude`).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from cornerwalk.assess.assessment import Assessment, StageResult
from cornerwalk.assess.attitude import attitude, changes
from cornerwalk.assess.uncertainty import COVERAGE, Estimate
from cornerwalk.session.corners import CLOCKWISE, Corner
from cornerwalk.session.parts import StageKey
from cornerwalk.session.stages import LOADED_WITH_AIR


@dataclass(frozen=True, slots=True, kw_only=True)
class Moved:
    """From the stage `start` to the stage `end`, mm, up positive; every `u_…` is a standard uncertainty.

    `pressure_kPa` is the change of pressure between them, which alone moves a body; None where one is not stated.
    """

    start: StageKey
    end: StageKey
    corner_mm: Mapping[Corner, float | None]
    front_mm: float | None
    u_front_mm: float | None
    rear_mm: float | None
    u_rear_mm: float | None
    nose_up_deg: float | None
    u_nose_up_deg: float | None
    pressure_kPa: float | None

    @property
    def surely(self) -> bool:
        """An end moved by more than its U."""
        ends = ((self.front_mm, self.u_front_mm), (self.rear_mm, self.u_rear_mm))
        return any(mm is not None and u is not None and abs(mm) > COVERAGE * u for mm, u in ends)


def moved(start: StageResult, end: StageResult, wheelbase_mm: float | None) -> Moved:
    """How far the body moved between two stages; each figure None where a reading it needs is missing."""
    corners = changes(_heights(end), _heights(start))
    body = attitude(corners, None if wheelbase_mm is None else Estimate(wheelbase_mm), None)
    front, rear, nose = body.front_mm, body.rear_mm, body.nose_up_deg
    known = start.pressure_kPa is not None and end.pressure_kPa is not None
    return Moved(
        start=start.key,
        end=end.key,
        corner_mm={corner: _value(corners[corner]) for corner in CLOCKWISE},
        front_mm=_value(front),
        u_front_mm=_u(front),
        rear_mm=_value(rear),
        u_rear_mm=_u(rear),
        nose_up_deg=_value(nose),
        u_nose_up_deg=_u(nose),
        pressure_kPa=(end.pressure_kPa or 0.0) - (start.pressure_kPa or 0.0) if known else None,
    )


def to_compare_with(assessment: Assessment, end: StageKey) -> StageResult | None:
    """The stage before this one at which the vehicle stood alike, of the same pressure if there is one; else the last.

    None where there is none.
    """
    keys = [stage.key for stage in assessment.stages]
    if end not in keys:
        return None
    at = assessment.stages[keys.index(end)]
    before = [stage for stage in assessment.stages[: keys.index(end)] if stage.name in LOADED_WITH_AIR]
    alike = [stage for stage in before if _same_air(stage, at)]
    return (alike or before)[-1] if before else None


def _same_air(one: StageResult, other: StageResult) -> bool:
    if one.pressure_kPa is None or other.pressure_kPa is None:
        return (one.left_kPa, one.right_kPa) == (other.left_kPa, other.right_kPa) and one.left_kPa is not None
    return abs(one.pressure_kPa - other.pressure_kPa) < 1e-6 * max(1.0, abs(one.pressure_kPa))


def _heights(stage: StageResult) -> dict[Corner, Estimate | None]:
    heights: dict[Corner, Estimate | None] = {}
    for corner in CLOCKWISE:
        mm, u_mm = stage.height_mm[corner], stage.u_height_mm[corner]
        heights[corner] = None if mm is None or u_mm is None else Estimate(mm, u_mm)
    return heights


def _value(estimate: Estimate | None) -> float | None:
    return None if estimate is None else estimate.value


def _u(estimate: Estimate | None) -> float | None:
    return None if estimate is None else estimate.u
