"""Trials made before the kit's lines were put right in the record: the what-if starts from the air that was in."""

from __future__ import annotations

import pytest

from cornerwalk.assess.what_if import WhatIfChange, basis, what_if
from cornerwalk.session.events import FactStated, HeightRead, StageBegun
from cornerwalk.session.model import Session
from tests.support.jobs import SEPARATE_LINES, WORKED_CASE, job_of, standards
from tests.support.units import IN

SEPARATE = FactStated(name="kit.lines", entered="separate", value="separate")
TEE = FactStated(name="kit.lines", entered="tee", value="tee")


def at_rest_mm(session: Session) -> float | None:
    """Where the rear stands, from unloaded, when nothing is changed."""
    return what_if(basis(session, standards()), WhatIfChange()).rear_mm


def test_one_pressure_was_in_both_of_two_lines() -> None:
    """Trials read as tee'd, the lines then stated as separate: both held the 25 psi read, the rear 15/32 in down."""
    session = job_of(WORKED_CASE, SEPARATE).session
    assert at_rest_mm(session) == pytest.approx(-0.46875 * IN)
    assert basis(session, standards()).rest_sides_kPa == pytest.approx((25 * 6.894757293168361,) * 2)


def test_equal_pressures_of_two_lines_are_that_of_one() -> None:
    """Trials read side by side at one pressure, the lines then stated to be tee'd: the rear stands as it was read."""
    sheet = SEPARATE_LINES.replace('"100 kPa"', '"120 kPa"').replace('"150 kPa"', '"180 kPa"')
    session = job_of(sheet, TEE).session
    assert basis(session, standards()).rest_kPa == 180.0
    assert at_rest_mm(session) == pytest.approx(-7.5)


def test_a_trial_just_begun_is_not_yet_what_was_read() -> None:
    """A pressure set for the next trial counts once a height was read at it: until then the last trial does."""
    begun = StageBegun(stage="fitted", number=3, pressure_entered="30 psi", pressure_kPa=206.8)
    session = job_of(WORKED_CASE, begun).session
    assert basis(session, standards()).rest_kPa == pytest.approx(25 * 6.894757293168361)
    rear = [HeightRead(stage="fitted", number=3, corner=c, entered="29 in", mm=29 * IN) for c in ("RR", "LR")]
    assert basis(job_of(WORKED_CASE, begun, *rear).session, standards()).rest_kPa == 206.8
