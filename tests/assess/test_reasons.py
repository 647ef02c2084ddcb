"""Why a figure is not there is told by a reason of its own, and what is known beside it stays."""

from __future__ import annotations

import pytest

from cornerwalk.assess.headlamp import PredictionStatus, prediction_holds
from cornerwalk.assess.restoration import restoration_by_heights


# An automatic device moves the beam by itself, a manual one when its dial is turned: common practice, no source.
@pytest.mark.parametrize(
    ("levelling", "then", "now", "held"),
    [
        ("none", None, None, PredictionStatus("yes", "no levelling")),
        ("automatic", "0", "0", PredictionStatus("no", "automatic levelling")),
        ("unknown", "0", "0", PredictionStatus("unknown", "levelling not stated")),
        ("manual", None, "0", PredictionStatus("unknown", "dial not recorded")),
        ("manual", "0", None, PredictionStatus("unknown", "dial not recorded")),
        ("manual", "0", "0", PredictionStatus("yes", "dial as before")),
        ("manual", "0", "1", PredictionStatus("no", "dial moved")),
    ],
)
def test_whether_a_beam_can_be_predicted_and_why_not(
    levelling: str, then: str, now: str, held: PredictionStatus
) -> None:
    """Each device and each dial has its answer and its reason."""
    assert prediction_holds(levelling, then, now) == held  # type: ignore[arg-type]


@pytest.mark.parametrize("missing", ["u_unhitched_mm", "u_hitched_mm", "u_distributed_mm"])
def test_a_restoration_without_one_of_its_uncertainties_is_none(missing: str) -> None:
    """Front 700, 720, 710 mm would be half restored (by hand); with any one u unusable nothing is said."""
    heights = {"unhitched_mm": 700.0, "hitched_mm": 720.0, "distributed_mm": 710.0}
    us = {"u_unhitched_mm": 0.9, "u_hitched_mm": 0.9, "u_distributed_mm": 0.9}
    whole = restoration_by_heights(**heights, **us)
    assert (whole.by, whole.reason) == ("heights", None)
    assert whole.percent == pytest.approx(50.0)
    partly = restoration_by_heights(**heights, **(us | {missing: float("nan")}))
    assert (partly.by, partly.percent, partly.reason) == ("heights", None, "readings missing")
