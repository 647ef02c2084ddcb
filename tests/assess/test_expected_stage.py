"""A what-if as a stage: at what was read it is the stage that was read."""

from __future__ import annotations

import pytest

from cornerwalk.assess.expected_stage import as_stage
from cornerwalk.assess.what_if import Change, Expected, basis, what_if
from tests.support.jobs import standards, worked_case

JOB = worked_case()
LAST = JOB.assessment.stages[-1]
START = basis(JOB.session, standards())


def test_the_pressure_that_was_tried_gives_the_stage_that_was_read() -> None:
    """Two trials fix the line, so what is expected at either is what was read there, the beam included."""
    tried = as_stage(JOB.session, LAST, what_if(START, Change(pressure_kPa=LAST.pressure_kPa)), LAST.pressure_kPa)
    assert tried is not None
    assert tried.lamp is not None
    assert LAST.lamp is not None
    assert tried.rear_mm == pytest.approx(LAST.rear_mm)
    assert tried.front_mm == pytest.approx(LAST.front_mm)
    assert tried.ball_mm == pytest.approx(LAST.ball_mm)
    for figure in ("rise_mm", "shift_mm", "wall_mm", "aim_deg", "aim_percent"):
        assert getattr(tried.lamp, figure) == pytest.approx(getattr(LAST.lamp, figure)), figure
    assert tried.lamp.above_level is LAST.lamp.above_level


def test_no_corner_is_claimed_to_be_known() -> None:
    """A what-if moves axles; a height at a corner would be made up."""
    tried = as_stage(JOB.session, LAST, what_if(START, Change(pressure_kPa=150.0)), 150.0)
    assert tried is not None
    assert set(tried.height_mm.values()) == {None}
    assert set(tried.delta_mm.values()) == {None}


def test_what_cannot_be_expected_is_no_stage() -> None:
    """Where a what-if says what it needs, there is nothing to draw."""
    assert as_stage(JOB.session, LAST, Expected(needs="the four heights unloaded and loaded"), None) is None
