"""A stage as the head of a column or of a picture."""

from __future__ import annotations

from cornerwalk.assess.assessment import StageResult
from cornerwalk.report.names import stage_title
from cornerwalk.report.wording import Wording
from cornerwalk.words import tr


def stage_head(stage: StageResult, wording: Wording) -> str:
    """A stage with its pressure: `fitted, trial 2, 25 psi`."""
    title = stage_title(stage.key)
    if stage.pressure_kPa is not None:
        return f"{title}, {wording.pressure(stage.pressure_kPa)}"
    if stage.left_kPa is not None and stage.right_kPa is not None:
        left, right = wording.pressure(stage.left_kPa), wording.pressure(stage.right_kPa)
        return tr("{stage}, left {left}, right {right}", stage=title, left=left, right=right)
    return title
