"""What another pressure, load or wheelbase would do, against the readings it starts from."""

from __future__ import annotations

import pytest

from cornerwalk.assess.what_if import Change, basis, what_if
from tests.support.jobs import SEPARATE_LINES, WORKED_CASE, job_of, standards

IN = 25.4
PSI = 6.894757293168361  # exact definitions of pound, g_n and inch
LBF = 4.4482216152605


def test_what_if_meets_the_readings() -> None:
    """Asked for a pressure that was tried on the line, the what-if gives the reading of that trial, and its beam."""
    job = job_of(WORKED_CASE)
    start = basis(job.session, standards())
    expected = what_if(start, Change(pressure_kPa=25 * PSI))
    trial = job.assessment.stage(("fitted", 2))
    assert trial is not None
    assert trial.lamp is not None
    assert expected.rear_mm == pytest.approx(trial.rear_mm)
    assert expected.shift_mm == pytest.approx(trial.lamp.shift_mm)


# Source: arithmetic: a line through two trials passes through both, so that what must be told is the mean of the rear
# corners as read (708 and 711 mm, unloaded 716 and 718), and midway between the trials that of 703.5 and 707.
@pytest.mark.parametrize(("sides_kPa", "rear_mm"), [(None, -7.5), ((180.0, 150.0), -7.5), ((150.0, 125.0), -11.75)])
def test_what_if_of_separate_lines(sides_kPa: tuple[float, float] | None, rear_mm: float) -> None:
    """With a line to each bag every side goes by its own trials, and the rear is the mean of the two."""
    job = job_of(SEPARATE_LINES)
    expected = what_if(basis(job.session, standards()), Change(sides_kPa=sides_kPa))
    assert expected.rear_mm == pytest.approx(rear_mm, abs=1e-9)
    assert what_if(basis(job_of(WORKED_CASE).session, standards()), Change(sides_kPa=(100.0, 90.0))).needs is not None


# Source: worked case's glovebox table: 300 lb, 1/4 in allowed, 20.610 psi.
def test_what_if_meets_the_table() -> None:
    """The table's pressure for another load, asked back as a what-if, leaves the rear the allowed drop."""
    job = job_of(WORKED_CASE)
    row = job.assessment.pressure_table[0]
    expected = what_if(basis(job.session, standards()), Change(pressure_kPa=row.pressure_kPa, tongue_N=row.load_N))
    assert expected.rear_mm == pytest.approx(-0.25 * IN)
    assert expected.rear_gain_N == pytest.approx(300 * LBF * 165 / 119)
